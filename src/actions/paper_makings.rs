//! What papers are made of, gathered from a book for every face.

use crate::book::{Book, BookError, Numbered, Snapshot, on_paper};
use crate::measure::Money;
use crate::paper::cards;
use crate::paper::pinned::subjects::{DesignMaking, Finished, ItemMaking, Makings, Subject};
use crate::paper::pinned::{StudioWords, subjects};
use crate::paper::ticket;
use crate::studio::{BookDesign, ChannelId, ItemDetails, ItemId, PaperKind, PriceLine};
use chrono::NaiveDate;
use std::collections::BTreeMap;
use std::sync::Arc;

/// What a snapshot does not hold of what papers are made of.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PaperStore {
    /// Finished pieces of every batch.
    pub finished: Finished,
    /// The number of the lot of each item that came last, where it has one.
    pub lots: BTreeMap<ItemId, String>,
}

/// Finished pieces with the plans of their batches, and the lots that came last.
///
/// # Errors
/// When the book cannot be read.
pub fn paper_store(book: &Book) -> Result<PaperStore, BookError> {
    let read = || {
        let reader = book.reader();
        Ok(PaperStore { finished: on_paper::finished(reader)?, lots: on_paper::latest_lots(reader)? })
    };
    read().map_err(|fault: BookError| fault.of_book(book.path()))
}

/// The colour of the enamel that shows most of a design, from the linked stock.
fn colour_of(snapshot: &Snapshot, book: &BookDesign) -> [u8; 3] {
    cards::band(&book.design, |material| {
        let item = book.follows.materials.get(material)?;
        match &snapshot.item(*item)?.item.details {
            ItemDetails::Enamel { enamel, swatch, .. } => Some((*enamel, *swatch)),
            _ => None,
        }
    })
}

/// A design of the book as papers see it. `ready` are the tickets that stand ready to be accepted (none where it cannot be
/// costed); without a channel its ticket is that of the retail channels. `stops` are sentences about its route.
pub fn design_making(
    snapshot: &Snapshot,
    book: &BookDesign,
    ready: &[PriceLine],
    channel: Option<&ChannelId>,
    stops: Vec<String>,
) -> DesignMaking {
    let accepted = |id: &ChannelId| snapshot.accepted(book.id, id).map(|(_, line)| line.ticket);
    let ticket = ticket::chosen(&book.design, ready, channel, accepted);
    DesignMaking {
        id: book.id,
        design: Arc::new(book.design.clone()),
        colour: colour_of(snapshot, book),
        ticket: ticket.and_then(|ticket| Some((Money::new(ticket.amount)?, ticket.channel))),
        trade_number: snapshot.trade_numbers.get(&Numbered::Design(book.id)).cloned(),
        stops,
    }
}

/// Everything of the book a paper of a kind can be made of; empty where there is nothing yet. Items and jars that are set
/// aside are left out.
pub fn paper_subjects(
    snapshot: &Snapshot,
    store: &PaperStore,
    designs: &[DesignMaking],
    kind: PaperKind,
    today: NaiveDate,
) -> Vec<Subject> {
    let studio = Arc::new(StudioWords::from(&*snapshot.settings));
    let items: Vec<ItemMaking<'_>> = match kind {
        PaperKind::Jar | PaperKind::Drawer => items(snapshot, store),
        _ => Vec::new(),
    };
    subjects::subjects(kind, &Makings { designs, finished: &store.finished, items: &items, studio: &studio, today })
}

/// What stands in while there is nothing in the book.
pub fn paper_example(snapshot: &Snapshot, today: NaiveDate) -> Subject {
    subjects::example(&Arc::new(StudioWords::from(&*snapshot.settings)), today)
}

fn items<'a>(snapshot: &'a Snapshot, store: &PaperStore) -> Vec<ItemMaking<'a>> {
    let mut jars: BTreeMap<ItemId, Vec<_>> = BTreeMap::new();
    for jar in snapshot.jars.iter().filter(|jar| !jar.jar.retired) {
        jars.entry(jar.jar.item).or_default().push(jar);
    }
    snapshot
        .stock
        .iter()
        .filter(|row| !row.item.retired)
        .map(|row| ItemMaking {
            id: row.id,
            item: &row.item,
            jars: jars.remove(&row.id).unwrap_or_default(),
            lot: store.lots.get(&row.id).cloned(),
            trade_number: snapshot.trade_numbers.get(&Numbered::Item(row.id)).cloned(),
        })
        .collect()
}
