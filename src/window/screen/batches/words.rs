//! Words about batches and their pieces, shared by the bench, the batches and the pieces.

use crate::measure::{Decimal, Preferences, display};
use crate::studio::{Batch, BatchHead, BatchRecord, BatchState, Design, Piece, PieceId, StepKind};
use chrono::NaiveDate;

/// “1 piece”, “3 pieces”.
pub fn counted(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// “1 piece”, “3 pieces”.
pub fn pieces(number: usize) -> String {
    counted(number, "piece", "pieces")
}

/// “batch 14”.
pub fn numbered(batch: &Batch) -> String {
    format!("batch {}", batch.number)
}

/// “Lantern drop, batch 14”.
pub fn title(batch: &Batch) -> String {
    format!("{}, batch {}", batch.name, batch.number)
}

/// “Lantern drop, batch 14” of a line of a list.
pub fn head_title(head: &BatchHead) -> String {
    format!("{}, batch {}", head.name, head.number)
}

/// The word for a state.
pub const fn state(state: BatchState) -> &'static str {
    match state {
        BatchState::Open => "at work",
        BatchState::Finished => "finished",
        BatchState::Abandoned => "abandoned",
    }
}

/// A piece as she says it: its number once it has one, else its place.
pub fn piece(piece: &Piece) -> String {
    piece.number.clone().unwrap_or_else(|| format!("piece {}", piece.place))
}

/// “pieces 1, 2 and 5”, “piece 3”, “12 pieces” where they are many.
pub fn named(record: &BatchRecord, ids: &[PieceId]) -> String {
    const MOST: usize = 6;
    let places: Vec<String> =
        record.pieces.iter().filter(|piece| ids.contains(&piece.id)).map(|piece| piece.place.to_string()).collect();
    if places.len() != ids.len() || places.len() > MOST {
        return pieces(ids.len());
    }
    match places.split_last() {
        None => "no piece".to_owned(),
        Some((only, [])) => format!("piece {only}"),
        Some((last, rest)) => format!("pieces {} and {last}", rest.join(", ")),
    }
}

/// A step as she says it in a sentence: “the second firing”, else its name.
pub fn place(plan: &Design, step: usize) -> String {
    let Some(here) = plan.steps.get(step) else { return "the end of the route".to_owned() };
    if !matches!(here.kind, StepKind::Fire(_)) {
        return here.name.clone();
    }
    let before = plan.steps.iter().take(step).filter(|step| matches!(step.kind, StepKind::Fire(_))).count();
    format!("the {} firing", ordinal(before))
}

/// First, second … of a place counted from 0.
fn ordinal(place: usize) -> String {
    const WORDS: [&str; 12] = [
        "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh",
        "twelfth",
    ];
    WORDS.get(place).map_or_else(|| format!("{}th", place.saturating_add(1)), |word| (*word).to_owned())
}

/// Minutes as she would say them: “about 40 min”.
pub fn about(minutes: Decimal, preferences: &Preferences) -> String {
    format!("about {}\u{a0}min", display::number(minutes, 0, 0, preferences.numbers))
}

/// Minutes in a sentence: `12.5 min`.
pub fn minutes(minutes: Decimal, preferences: &Preferences) -> String {
    format!("{}\u{a0}min", display::number(minutes, 0, 1, preferences.numbers))
}

/// A day: `2 October`, with its year where it is another one.
pub fn day(date: NaiveDate, today: NaiveDate) -> String {
    use chrono::Datelike;
    if date.year() == today.year() { date.format("%-d %B").to_string() } else { date.format("%-d %B %Y").to_string() }
}
