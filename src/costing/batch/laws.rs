//! The laws every batch keeps.

use super::now::BatchNow;
use super::problem::BenchProblem;
use super::track::Standing;
use crate::studio::{BatchRecord, BatchState};

/// Every law a batch breaks, in words; empty for a sound one. Pieces in = passed + left out + sent back + lost + given +
/// waiting at every step; no piece is in it twice; no entry names a piece that is not there, a step or a material the plan
/// does not have; entries are in order and not before its first day; the pieces kept with it are those that were not
/// given away, numbered exactly when finished; a batch that is over has no piece at work.
pub fn broken_laws(record: &BatchRecord) -> Vec<String> {
    let mut broken = Vec::new();
    let mut now = BatchNow::before(record);
    let mut last = None;
    for entry in &record.entries {
        if last.is_some_and(|last| last >= entry.id) {
            broken.push(BenchProblem::OutOfOrder { entry: entry.id }.to_string());
        }
        last = Some(entry.id);
        if let Err(problem) = now.take(entry) {
            broken.push(format!("entry {}: {problem}", entry.id.0));
        }
    }
    for (before, entry) in record.entries.iter().zip(record.entries.iter().skip(1)) {
        if entry.date < before.date {
            broken.push(format!("entry {}: {} is before {}, the entry before it", entry.id.0, entry.date, before.date));
        }
    }
    if let Some(first) = record.entries.first().filter(|first| first.date < record.batch.started) {
        broken.push(format!("entry {}: {} is before the batch began", first.id.0, first.date));
    }
    for (step, count) in now.all_counts().iter().enumerate() {
        let out = count.passed + count.skipped + count.sent_back + count.lost + count.given + count.waiting;
        if out != count.entered {
            let place = if step < now.steps() { format!("step {}", step + 1) } else { "finishing".to_owned() };
            broken.push(format!("{place}: {} pieces in, {out} accounted for", count.entered));
        }
    }
    let here: Vec<_> = now
        .standings()
        .filter(|(_, standing)| !matches!(standing, Standing::Given(_)))
        .map(|(piece, _)| piece)
        .collect();
    let mut kept: Vec<_> = record.pieces.iter().map(|piece| piece.id).collect();
    kept.sort_unstable();
    if here != kept {
        broken.push(format!("{} pieces are kept with it, its entries leave {}", kept.len(), here.len()));
    }
    for piece in &record.pieces {
        let finished = now.standing(piece.id) == Some(Standing::Finished);
        if finished != piece.number.is_some() {
            let is = if finished { "is finished without a number" } else { "has a number and is not finished" };
            broken.push(format!("piece {} {is}", piece.id.0));
        }
    }
    let at_work = now.at_work().len();
    if record.batch.state != BatchState::Open && at_work > 0 {
        broken.push(format!("it is {} and {at_work} pieces are at work", record.batch.state.name()));
    }
    broken
}
