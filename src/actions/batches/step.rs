//! Doing a step, leaving one out, going back to one.

use super::losses::{accept_lost, write_lost};
use super::materials::Taken;
use super::{AtBench, count, pieces_words};
use crate::actions::Refusal;
use crate::actions::bench_action::{StepDone, StepMinutes};
use crate::actions::bench_time::{self, Hourly};
use crate::actions::limits::{self, refuse};
use crate::actions::perform::Done;
use crate::book::Change;
use crate::costing::batch::{Standing, planned_minutes};
use crate::measure::Decimal;
use crate::studio::{BatchId, BenchDeed, BenchEntry, PieceId, StepKind, Timed};
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// Does a step for some pieces: materials, time, losses, and on.
pub(in crate::actions) fn do_step(change: &Change<'_>, done: &StepDone) -> Result<Done, Refusal> {
    let mut bench = AtBench::open(change.reader(), done.batch, done.date)?;
    let step = bench.step(done.step)?.clone();
    if matches!(step.kind, StepKind::Fire(_)) {
        return Err(refuse("Step", &step.name, "a step that is no firing is accepted: a firing is done by a load"));
    }
    let pieces = bench.waiting_for(done.step, &done.pieces)?;
    let lost = accept_lost(&bench, &done.lost)?;
    if let Some(stray) = lost.iter().find(|lost| !pieces.contains(&lost.piece)) {
        return Err(refuse(
            "Pieces lost",
            bench.piece_words(stray.piece),
            format!("a piece the step was done for, {}, is accepted", step.name),
        ));
    }
    Taken { change, bench: &mut bench, step: done.step, pieces: &pieces, date: done.date }.write(&done.materials)?;
    let minutes = match done.minutes {
        StepMinutes::WrittenDown => None,
        StepMinutes::Typed(minutes) => {
            bench_time::accept_minutes(minutes, limits::Range::ZeroOrMore)?;
            Some((minutes, Timed::Typed))
        }
        StepMinutes::AsPlanned => {
            let minutes =
                planned_minutes(&bench.record.batch.plan, done.step, count(pieces.len()), is_first(&bench, done.step))
                    .map_err(|error| Refusal::No(format!("batch {}: {error}", bench.number())))?;
            (minutes > Decimal::ZERO).then_some((minutes, Timed::Planned))
        }
    };
    if let Some((minutes, how)) = minutes {
        let Hourly { labour_per_hour, overhead_per_hour } = Hourly::of(change.reader(), &bench.record.batch)?;
        let deed = BenchDeed::Worked {
            step: done.step,
            pieces: pieces.clone(),
            minutes,
            labour_per_hour,
            overhead_per_hour,
            how,
        };
        bench.write(change, done.date, deed)?;
    }
    write_lost(change, &mut bench, &lost, done.date)?;
    let gone: BTreeSet<PieceId> = lost.iter().map(|lost| lost.piece).collect();
    let good: Vec<PieceId> = pieces.iter().copied().filter(|piece| !gone.contains(piece)).collect();
    if !good.is_empty() {
        bench.write(change, done.date, BenchDeed::Passed { step: done.step, pieces: good })?;
    }
    bench.settle(change)?;
    let lost_words = if lost.is_empty() { String::new() } else { format!(", {} lost", lost.len()) };
    Ok(Done::named(format!("{}: {} of batch {}{lost_words}", step.name, pieces_words(pieces.len()), bench.number())))
}

/// Nothing was done at the step before, so that its set-up is still to come.
fn is_first(bench: &AtBench, of: usize) -> bool {
    let worked = |entry: &BenchEntry| matches!(entry.deed, BenchDeed::Worked { step, .. } if step == of);
    !bench.now.is_under_way(of) && !bench.record.entries.iter().any(worked)
}

/// Leaves a step out for some pieces that wait for it.
pub(in crate::actions) fn skip(
    change: &Change<'_>,
    batch: BatchId,
    step: usize,
    pieces: &[PieceId],
    date: NaiveDate,
    why: &str,
) -> Result<Done, Refusal> {
    let mut bench = AtBench::open(change.reader(), batch, date)?;
    limits::text("Why", why)?;
    let pieces = bench.waiting_for(step, pieces)?;
    let name =
        format!("Leave out {}: {} of batch {}", bench.step(step)?.name, pieces_words(pieces.len()), bench.number());
    bench.write(change, date, BenchDeed::Skipped { step, pieces, why: why.trim().to_owned() })?;
    Ok(Done::named(name))
}

/// Sends pieces back to an earlier step.
pub(in crate::actions) fn send_back(
    change: &Change<'_>,
    batch: BatchId,
    to: usize,
    pieces: &[PieceId],
    date: NaiveDate,
    why: &str,
) -> Result<Done, Refusal> {
    let mut bench = AtBench::open(change.reader(), batch, date)?;
    limits::text("Why", why)?;
    let step = bench.step(to)?.clone();
    let pieces = bench.at_work(pieces)?;
    for piece in &pieces {
        if let Some(Standing::At(at)) = bench.now.standing(*piece)
            && at <= to
        {
            return Err(refuse(
                "Step",
                format!("{}, {}", to + 1, step.name),
                format!("a step before the one {} waits for, {}, is accepted", bench.piece_words(*piece), at + 1),
            ));
        }
    }
    let name = format!("Send {} of batch {} back to {}", pieces_words(pieces.len()), bench.number(), step.name);
    bench.write(change, date, BenchDeed::SentBack { to, pieces, why: why.trim().to_owned() })?;
    Ok(Done::named(name))
}
