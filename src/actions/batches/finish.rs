//! Pieces finished and numbered, marked as seconds; batches given up.

use super::{AtBench, pieces_words};
use crate::actions::Refusal;
use crate::actions::limits::{self, refuse};
use crate::actions::perform::Done;
use crate::book::{Change, batch};
use crate::costing::batch::Standing;
use crate::studio::{BatchId, BenchDeed, Piece, PieceId};
use chrono::NaiveDate;

/// Finishes pieces that passed every step: each gets the design's code and the next number of that code in the book.
pub(in crate::actions) fn finish(
    change: &Change<'_>,
    id: BatchId,
    pieces: &[PieceId],
    seconds: &[PieceId],
    date: NaiveDate,
) -> Result<Done, Refusal> {
    let mut bench = AtBench::open(change.reader(), id, date)?;
    let pieces = bench.at_work(pieces)?;
    for piece in &pieces {
        if let Some(Standing::At(at)) = bench.now.standing(*piece) {
            return Err(refuse(
                "Pieces",
                format!("{}, which waits for step {}, {}", bench.piece_words(*piece), at + 1, bench.step(at)?.name),
                "a piece that passed every step is accepted",
            ));
        }
    }
    let seconds = if seconds.is_empty() { Vec::new() } else { bench.named("Seconds", seconds)? };
    if let Some(stray) = seconds.iter().find(|piece| !pieces.contains(piece)) {
        return Err(refuse("Seconds", bench.piece_words(*stray), "one of the pieces that are finished is accepted"));
    }
    let code = bench.record.batch.plan.code.to_string();
    let taken = batch::numbers_of(change.reader(), &code)?;
    let running = |number: &String| number.strip_prefix(code.as_str())?.strip_prefix('-')?.parse::<u64>().ok();
    let mut last = taken.iter().filter_map(running).max().unwrap_or(0);
    let mut numbers = Vec::with_capacity(pieces.len());
    for held in bench.record.pieces.iter().filter(|held| pieces.contains(&held.id)) {
        last = last.saturating_add(1);
        let number = format!("{code}-{last:04}");
        let finished = Piece {
            number: Some(number.clone()),
            finished: Some(date),
            second: seconds.contains(&held.id),
            ..held.clone()
        };
        batch::update_piece(change, &finished)?;
        numbers.push(number);
    }
    bench.write(change, date, BenchDeed::Finished { pieces: pieces.clone() })?;
    bench.settle(change)?;
    let which = match numbers.as_slice() {
        [first, .., last] => format!("{first} to {last}"),
        one => one.concat(),
    };
    Ok(Done::named(format!("Finish {} of batch {}: {which}", pieces_words(pieces.len()), bench.number())))
}

/// Says of a finished piece whether it is a second, with a note.
pub(in crate::actions) fn mark(change: &Change<'_>, id: PieceId, second: bool, note: &str) -> Result<Done, Refusal> {
    limits::text("Note", note)?;
    let held =
        batch::piece(change.reader(), id)?.ok_or_else(|| Refusal::Missing(format!("piece with row {}", id.0)))?;
    let Some(number) = held.number.clone() else {
        return Err(refuse("Piece", format!("piece {}, not finished", held.place), "a finished piece is accepted"));
    };
    let marked = Piece { second, note: note.trim().to_owned(), ..held.clone() };
    if marked == held {
        return Err(Refusal::No(format!("{number} is marked so already")));
    }
    batch::update_piece(change, &marked)?;
    Ok(Done::named(match (held.second, second) {
        (false, true) => format!("Mark {number} as a second"),
        (true, false) => format!("Mark {number} as no second"),
        _ => format!("Change the note of {number}"),
    }))
}

/// Gives a batch up; its pieces at work are lost, which is not a usual loss.
pub(in crate::actions) fn abandon(
    change: &Change<'_>,
    id: BatchId,
    date: NaiveDate,
    why: &str,
) -> Result<Done, Refusal> {
    let mut bench = AtBench::open(change.reader(), id, date)?;
    limits::text("Why", why)?;
    if why.trim().is_empty() {
        return Err(refuse("Why", why, "a few words that say why are accepted"));
    }
    bench.accept_untimed(change.reader())?;
    let pieces = bench.all_at_work()?;
    let count = pieces.len();
    bench.write(change, date, BenchDeed::Abandoned { pieces, why: why.trim().to_owned() })?;
    bench.settle(change)?;
    Ok(Done::named(format!("Give batch {} up: {} lost", bench.number(), pieces_words(count))))
}
