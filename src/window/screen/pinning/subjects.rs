//! What a paper can be made of: designs, numbered pieces, jars and items of the book.

use crate::book::{Numbered, Snapshot};
use crate::measure::Money;
use crate::paper::pinned::{Facts, StudioWords, facts_of_design, facts_of_item, facts_of_piece};
use crate::studio::{ChannelId, DesignId, ItemDetails, PaperKind, PieceId};
use crate::window::screen::papers;
use chrono::NaiveDate;
use std::sync::Arc;

/// One of them.
#[derive(Debug, Clone)]
pub(super) struct Subject {
    /// What it is called in lists: name and code or number.
    pub(super) words: String,
    pub(super) facts: Facts,
    /// The design whose photo it is shown with.
    pub(super) design: Option<DesignId>,
    pub(super) piece: Option<PieceId>,
    /// The channel its ticket is of.
    pub(super) channel: Option<ChannelId>,
    /// Stops of its route, each a sentence.
    pub(super) stops: Vec<String>,
}

/// Everything in the book a paper of this kind can be made of; an example where there is nothing yet.
pub(super) fn subjects(snapshot: &Snapshot, kind: PaperKind, today: NaiveDate) -> Vec<Subject> {
    let studio = Arc::new(StudioWords::from(&*snapshot.settings));
    let mut all = match kind {
        PaperKind::Jar => jars(snapshot, &studio, today),
        PaperKind::Drawer => drawers(snapshot, &studio, today),
        _ => pieces(snapshot, &studio, today),
    };
    if all.is_empty() {
        all.push(example(studio, today));
    }
    all
}

fn pieces(snapshot: &Snapshot, studio: &Arc<StudioWords>, today: NaiveDate) -> Vec<Subject> {
    let mut all = Vec::new();
    for piece in papers::pieces(snapshot) {
        let design = Arc::new(piece.design.clone());
        let ticket = piece.ticket(snapshot, None);
        let channel = ticket.as_ref().map(|ticket| ticket.channel.clone());
        let facts = Facts {
            ticket: ticket.and_then(|ticket| Money::new(ticket.amount)),
            trade_number: snapshot.trade_numbers.get(&Numbered::Design(piece.id)).cloned(),
            date: Some(today),
            ..facts_of_design(&design, piece.colour, studio)
        };
        all.push(Subject {
            words: format!("{} · {}", facts.name, facts.code),
            facts: facts.clone(),
            design: Some(piece.id),
            piece: None,
            channel: channel.clone(),
            stops: piece.stops.clone(),
        });
        let records = snapshot.batches.iter().filter(|record| record.batch.design == piece.id);
        for (plan, one) in records.flat_map(|record| record.pieces.iter().map(move |one| (&record.batch.plan, one))) {
            let Some(number) = &one.number else { continue };
            let own = facts_of_piece(one, &Arc::new(plan.clone()), piece.colour, studio);
            all.push(Subject {
                words: format!("{} · {number}", facts.name),
                facts: Facts { ticket: facts.ticket, trade_number: facts.trade_number.clone(), ..own },
                design: Some(piece.id),
                piece: Some(one.id),
                channel: channel.clone(),
                stops: piece.stops.clone(),
            });
        }
    }
    all
}

fn jars(snapshot: &Snapshot, studio: &Arc<StudioWords>, today: NaiveDate) -> Vec<Subject> {
    let mut all = Vec::new();
    let enamels =
        snapshot.stock.iter().filter(|row| !row.item.retired && matches!(row.item.details, ItemDetails::Enamel { .. }));
    for row in enamels {
        let jars: Vec<_> = snapshot.jars.iter().filter(|jar| jar.jar.item == row.id && !jar.jar.retired).collect();
        let of = |jar: Option<&crate::studio::Jar>| {
            let facts = facts_of_item(&row.item, jar, None, studio);
            item(snapshot, row.id, facts, today, jar.map(|jar| jar.label.as_str()))
        };
        if jars.is_empty() {
            all.push(of(None));
        }
        all.extend(jars.into_iter().map(|jar| of(Some(&jar.jar))));
    }
    all
}

fn drawers(snapshot: &Snapshot, studio: &Arc<StudioWords>, today: NaiveDate) -> Vec<Subject> {
    let kept = snapshot
        .stock
        .iter()
        .filter(|row| !row.item.retired && !matches!(row.item.details, ItemDetails::Enamel { .. }));
    kept.map(|row| item(snapshot, row.id, facts_of_item(&row.item, None, None, studio), today, None)).collect()
}

fn item(snapshot: &Snapshot, id: crate::studio::ItemId, facts: Facts, today: NaiveDate, jar: Option<&str>) -> Subject {
    let facts =
        Facts { trade_number: snapshot.trade_numbers.get(&Numbered::Item(id)).cloned(), date: Some(today), ..facts };
    let of = jar.unwrap_or(&facts.code);
    Subject {
        words: format!("{} · {of}", facts.name),
        facts,
        design: None,
        piece: None,
        channel: None,
        stops: Vec::new(),
    }
}

/// Stands in while there is nothing in the book.
fn example(studio: Arc<StudioWords>, today: NaiveDate) -> Subject {
    let facts = Facts {
        name: "Example".to_owned(),
        code: "EXAMPLE-1".to_owned(),
        piece_number: None,
        trade_number: None,
        ticket: None,
        design: None,
        item: None,
        photo: None,
        colour: crate::paper::cards::PLAIN_BAND,
        date: Some(today),
        studio,
    };
    Subject {
        words: "An example, as there is nothing in the book yet".to_owned(),
        facts,
        design: None,
        piece: None,
        channel: None,
        stops: Vec::new(),
    }
}
