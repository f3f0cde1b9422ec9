//! One batch made two, and two made one.

use super::{AtBench, pieces_words};
use crate::actions::limits::{self, refuse};
use crate::actions::perform::Done;
use crate::actions::{Added, Refusal};
use crate::book::{Change, batch};
use crate::costing::batch::Standing;
use crate::studio::{Batch, BatchId, BatchState, BenchDeed, Piece, PieceId};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// Makes a batch of its own of some pieces at work.
pub(in crate::actions) fn split(
    change: &Change<'_>,
    from: BatchId,
    pieces: &[PieceId],
    date: NaiveDate,
    name: &str,
) -> Result<Done, Refusal> {
    let mut bench = AtBench::open(change.reader(), from, date)?;
    let given = limits::optional_name("Name", name)?;
    let pieces = bench.at_work(pieces)?;
    let working = bench.now.at_work().len();
    if pieces.len() == working {
        return Err(refuse(
            "Pieces",
            format!("all {working} at work in batch {}", bench.number()),
            "some of them, not all, are accepted",
        ));
    }
    let number = batch::next_number(change.reader())?;
    let old = bench.record.batch.clone();
    let new = Batch {
        number,
        design: old.design,
        name: if given.is_empty() { old.name } else { given },
        started: date,
        plan: old.plan,
        stock: old.stock,
        note: old.note,
        state: BatchState::Open,
    };
    let row = batch::insert(change, &new)?;
    let mut taking = AtBench::find(change.reader(), row)?;
    hand_over(change, &mut bench, &mut taking, &pieces, date)?;
    let words = pieces_words(pieces.len());
    Ok(Done::adding(format!("Split {words} off batch {} as batch {number}", bench.number()), Added::Batch(row)))
}

/// Puts all pieces at work of one batch into another of the same route.
pub(in crate::actions) fn merge(
    change: &Change<'_>,
    from: BatchId,
    into: BatchId,
    date: NaiveDate,
) -> Result<Done, Refusal> {
    let reader = change.reader();
    let mut giving = AtBench::open(reader, from, date)?;
    let mut taking = AtBench::open(reader, into, date)?;
    if from == into {
        return Err(refuse("Into", format!("batch {}", taking.number()), "another batch is accepted"));
    }
    let (old, new) = (&giving.record.batch, &taking.record.batch);
    if old.design != new.design || old.plan.steps != new.plan.steps {
        return Err(refuse(
            "Into",
            format!("batch {}, {}", new.number, new.name),
            format!("a batch of the same design with the same route as batch {} is accepted", old.number),
        ));
    }
    giving.accept_untimed(reader)?;
    let pieces = giving.all_at_work()?;
    hand_over(change, &mut giving, &mut taking, &pieces, date)?;
    giving.settle(change)?;
    taking.settle(change)?;
    let words = pieces_words(pieces.len());
    Ok(Done::named(format!("Merge {words} of batch {} into batch {}", giving.number(), taking.number())))
}

/// Gives pieces of one batch to another, in both their lists.
fn hand_over(
    change: &Change<'_>,
    from: &mut AtBench,
    to: &mut AtBench,
    pieces: &[PieceId],
    date: NaiveDate,
) -> Result<(), Refusal> {
    let past_the_last = from.record.batch.plan.steps.len();
    let mut by_step: BTreeMap<usize, Vec<PieceId>> = BTreeMap::new();
    for piece in pieces {
        let step = match from.now.standing(*piece) {
            Some(Standing::At(step)) => step,
            _ => past_the_last,
        };
        by_step.entry(step).or_default().push(*piece);
    }
    from.write(change, date, BenchDeed::Gave { to: to.record.id, pieces: pieces.to_vec() })?;
    for (step, pieces) in by_step {
        to.write(change, date, BenchDeed::Got { from: from.record.id, step, pieces })?;
    }
    for piece in from.record.pieces.iter().filter(|piece| pieces.contains(&piece.id)) {
        batch::update_piece(change, &Piece { batch: to.record.id, ..piece.clone() })?;
    }
    Ok(())
}
