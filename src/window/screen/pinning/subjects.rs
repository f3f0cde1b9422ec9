//! What a paper can be made of: designs, finished pieces, jars and items of the book.

pub(super) use crate::paper::pinned::subjects::Subject;

use crate::actions::{PaperStore, paper_example, paper_subjects};
use crate::book::{Numbered, Snapshot};
use crate::measure::Money;
use crate::paper::pinned::subjects::DesignMaking;
use crate::studio::{ChannelId, PaperKind};
use crate::window::screen::papers;
use chrono::NaiveDate;
use std::sync::Arc;

/// A channel whose tickets can be shown, with its words; none is the one ticket of the retail channels.
pub(super) type Channels = Vec<(Option<ChannelId>, String)>;

/// Everything in the book a paper of this kind can be made of, an example where there is nothing yet; and the channels
/// whose tickets it can show.
pub(super) fn subjects(
    snapshot: &Snapshot,
    store: &PaperStore,
    kind: PaperKind,
    channel: Option<&ChannelId>,
    today: NaiveDate,
) -> (Vec<Subject>, Channels) {
    let (designs, channels) = match kind {
        PaperKind::Jar | PaperKind::Drawer => (Vec::new(), Vec::new()),
        _ => designs(snapshot, channel),
    };
    let mut all = paper_subjects(snapshot, store, &designs, kind, today);
    if all.is_empty() {
        all.push(paper_example(snapshot, today));
    }
    (all, channels)
}

fn designs(snapshot: &Snapshot, channel: Option<&ChannelId>) -> (Vec<DesignMaking>, Channels) {
    let pieces = papers::pieces(snapshot);
    let channels = papers::channels(snapshot, &pieces);
    let making = |piece: papers::Piece| {
        let ticket = piece.ticket(snapshot, channel);
        DesignMaking {
            id: piece.id,
            ticket: ticket.and_then(|ticket| Some((Money::new(ticket.amount)?, ticket.channel))),
            colour: piece.colour,
            trade_number: snapshot.trade_numbers.get(&Numbered::Design(piece.id)).cloned(),
            stops: piece.stops,
            design: Arc::new(piece.design),
        }
    };
    (pieces.into_iter().map(making).collect(), channels)
}
