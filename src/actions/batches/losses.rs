//! Pieces lost at the bench.

use super::{AtBench, pieces_words};
use crate::actions::Refusal;
use crate::actions::bench_action::PieceLost;
use crate::actions::limits;
use crate::actions::perform::Done;
use crate::book::Change;
use crate::costing::batch::Standing;
use crate::studio::{BatchId, BenchDeed, LossCause, LossKind, PieceId};
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// Loses pieces that are at work.
pub(in crate::actions) fn lose(
    change: &Change<'_>,
    batch: BatchId,
    lost: &[PieceLost],
    date: NaiveDate,
) -> Result<Done, Refusal> {
    let mut bench = AtBench::open(change.reader(), batch, date)?;
    bench.at_work(&lost.iter().map(|lost| lost.piece).collect::<Vec<_>>())?;
    let lost = accept_lost(&bench, lost)?;
    write_lost(change, &mut bench, &lost, date)?;
    bench.settle(change)?;
    let causes: BTreeSet<LossCause> = lost.iter().map(|lost| lost.cause).collect();
    let causes: Vec<&str> = causes.into_iter().map(LossCause::words).collect();
    let words = pieces_words(lost.len());
    Ok(Done::named(format!("Lose {words} of batch {}: {}", bench.number(), causes.join(", "))))
}

/// Checks pieces said to be lost: each of the batch, each once; in the order of their rows. There may be none.
pub(super) fn accept_lost(bench: &AtBench, lost: &[PieceLost]) -> Result<Vec<PieceLost>, Refusal> {
    if lost.is_empty() {
        return Ok(Vec::new());
    }
    bench.named("Pieces lost", &lost.iter().map(|lost| lost.piece).collect::<Vec<_>>())?;
    for one in lost {
        limits::text("Note", &one.note)?;
    }
    let mut sorted = lost.to_vec();
    sorted.sort_by_key(|lost| lost.piece);
    Ok(sorted)
}

/// Writes losses down: one entry for all that are lost at one step of one cause, kind and note.
pub(super) fn write_lost(
    change: &Change<'_>,
    bench: &mut AtBench,
    lost: &[PieceLost],
    date: NaiveDate,
) -> Result<(), Refusal> {
    type Occasion = (usize, LossCause, LossKind, String);
    let past_the_last = bench.record.batch.plan.steps.len();
    let mut occasions: Vec<(Occasion, Vec<PieceId>)> = Vec::new();
    for one in lost {
        let step = match bench.now.standing(one.piece) {
            Some(Standing::At(step)) => step,
            _ => past_the_last,
        };
        let occasion = (step, one.cause, one.kind, one.note.trim().to_owned());
        match occasions.iter_mut().find(|(known, _)| *known == occasion) {
            Some((_, pieces)) => pieces.push(one.piece),
            None => occasions.push((occasion, vec![one.piece])),
        }
    }
    for ((step, cause, kind, note), pieces) in occasions {
        let deed = BenchDeed::Lost { step, pieces, cause, kind, load: None, note };
        bench.write(change, date, deed)?;
    }
    Ok(())
}
