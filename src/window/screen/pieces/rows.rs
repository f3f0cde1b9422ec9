//! The rows of the list of pieces, worded, searched and sorted.

use crate::measure::{Money, Preferences, display};
use crate::studio::{FinishedPiece, PieceId};
use crate::window::screen::batches::words;
use crate::window::widget::listing::Order;
use chrono::NaiveDate;

/// The column of the number.
pub(super) const NUMBER: usize = 0;
/// The column of the design.
pub(super) const DESIGN: usize = 1;
/// The column of the day.
pub(super) const DAY: usize = 2;
/// The column of the ticket.
pub(super) const TICKET: usize = 3;

/// A row of the list.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) id: PieceId,
    pub(super) number: String,
    /// “Lantern drop, batch 4”.
    pub(super) made: String,
    pub(super) day: String,
    pub(super) ticket: String,
    pub(super) second: bool,
    finished: Option<NaiveDate>,
    price: Option<Money>,
}

/// Pieces every word typed is found in, sorted by a column.
pub(super) fn word_all(
    pieces: &[FinishedPiece],
    text: &str,
    (column, order): (usize, Order),
    preferences: &Preferences,
    today: NaiveDate,
) -> Vec<Row> {
    let folded = text.to_lowercase();
    let typed: Vec<&str> = folded.split_whitespace().collect();
    let mut rows: Vec<Row> = pieces
        .iter()
        .map(|of| word(of, preferences, today))
        .zip(pieces)
        .filter(|(row, of)| {
            let second = if row.second { "second" } else { "" };
            let all = format!("{} {} {} {second} {}", row.number, row.made, of.code, of.piece.note).to_lowercase();
            typed.iter().all(|word| all.contains(word))
        })
        .map(|(row, _)| row)
        .collect();
    rows.sort_by(|a, b| {
        let by = match column {
            NUMBER => a.number.cmp(&b.number),
            DESIGN => a.made.to_lowercase().cmp(&b.made.to_lowercase()),
            TICKET => a.price.cmp(&b.price),
            _ => a.finished.cmp(&b.finished),
        };
        let by = match order {
            Order::Rising => by,
            Order::Falling => by.reverse(),
        };
        by.then(b.id.cmp(&a.id))
    });
    rows
}

fn word(of: &FinishedPiece, preferences: &Preferences, today: NaiveDate) -> Row {
    Row {
        id: of.piece.id,
        number: words::piece(&of.piece),
        made: format!("{}, batch {}", of.name, of.batch_number),
        day: of.piece.finished.map(|day| words::day(day, today)).unwrap_or_default(),
        ticket: of.ticket.map_or_else(|| "–".to_owned(), |ticket| display::money(ticket.amount(), preferences)),
        second: of.piece.second,
        finished: of.piece.finished,
        price: of.ticket,
    }
}

/// How many there are, and how many of them are shown.
pub(super) fn summary(all: usize, shown: usize) -> String {
    let told = words::pieces(all);
    if all == shown { format!("{told} finished") } else { format!("{shown} of {told}") }
}
