//! The rows of the list of batches, worded and sorted.

use super::words;
use crate::studio::{BatchHead, BatchId, BatchState};
use crate::window::widget::listing::Order;
use chrono::NaiveDate;

/// The column of the name.
pub(super) const NAME: usize = 0;
/// The column of the day.
pub(super) const DAY: usize = 1;
/// The column of the pieces.
pub(super) const PIECES: usize = 2;

/// A row of the list.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) id: BatchId,
    pub(super) name: String,
    pub(super) code: String,
    pub(super) day: String,
    pub(super) pieces: String,
    pub(super) state: &'static str,
    started: NaiveDate,
    begun: u32,
    open: bool,
    number: u32,
}

/// Batches of a state, or all: those at work first, each part sorted by a column.
pub(super) fn word_all(
    heads: &[BatchHead],
    shown: Option<BatchState>,
    (column, order): (usize, Order),
    today: NaiveDate,
) -> Vec<Row> {
    let heads = heads.iter().filter(|head| shown.is_none_or(|state| head.state == state));
    let mut rows: Vec<Row> = heads.map(|head| word(head, today)).collect();
    rows.sort_by(|a, b| {
        let by = match column {
            NAME => a.name.to_lowercase().cmp(&b.name.to_lowercase()).then(a.number.cmp(&b.number)),
            PIECES => a.begun.cmp(&b.begun).then(a.number.cmp(&b.number)),
            _ => a.started.cmp(&b.started).then(a.number.cmp(&b.number)),
        };
        let by = match order {
            Order::Rising => by,
            Order::Falling => by.reverse(),
        };
        b.open.cmp(&a.open).then(by)
    });
    rows
}

fn word(head: &BatchHead, today: NaiveDate) -> Row {
    let finished = if head.finished > 0 { format!(", {} finished", head.finished) } else { String::new() };
    Row {
        id: head.id,
        name: words::head_title(head),
        code: head.code.clone(),
        day: words::day(head.started, today),
        pieces: format!("{}{finished}", head.pieces),
        state: words::state(head.state),
        started: head.started,
        begun: head.pieces,
        open: head.state == BatchState::Open,
        number: head.number,
    }
}

/// How many batches there are, and how many of them are at work.
pub(super) fn summary(heads: &[BatchHead]) -> String {
    let open = heads.iter().filter(|head| head.state == BatchState::Open).count();
    format!("{}, {open} at work", words::counted(heads.len(), "batch", "batches"))
}
