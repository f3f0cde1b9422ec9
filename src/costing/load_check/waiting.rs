//! Pieces that wait for a firing, with what was really done to each.

use super::LoadPiece;
use crate::costing::batch::{BatchNow, Standing};
use crate::studio::{BatchRecord, BenchDeed, BenchEntry, BookLoad, PieceId, StepKind};
use std::collections::{BTreeMap, BTreeSet};

/// What was done to a piece so far.
#[derive(Debug, Clone, Default)]
struct Way {
    /// The steps done.
    done: Vec<usize>,
    /// The last of them is a firing that was written down, and that its passing must not count again.
    fired: bool,
}

/// The steps that were really done to each piece, in order, one named again where it was done again: steps left out are
/// not named, firings once each time in the heat. Of a piece that came from a batch which is not among `records` all
/// steps before the one it came at are taken as done.
pub fn done_steps<'a>(records: impl IntoIterator<Item = &'a BatchRecord>) -> BTreeMap<PieceId, Vec<usize>> {
    ways(records).into_iter().map(|(piece, way)| (piece, way.done)).collect()
}

fn ways<'a>(records: impl IntoIterator<Item = &'a BatchRecord>) -> BTreeMap<PieceId, Way> {
    let mut entries: Vec<&BenchEntry> = records.into_iter().flat_map(|record| &record.entries).collect();
    entries.sort_by_key(|entry| entry.id);
    let mut ways: BTreeMap<PieceId, Way> = BTreeMap::new();
    for entry in entries {
        match &entry.deed {
            BenchDeed::Started { pieces } => {
                for piece in pieces {
                    ways.insert(*piece, Way::default());
                }
            }
            BenchDeed::Got { pieces, step, .. } => {
                for piece in pieces {
                    ways.entry(*piece).or_insert_with(|| Way { done: (0..*step).collect(), fired: false });
                }
            }
            BenchDeed::Fired { step, pieces, .. } => {
                for way in named(&mut ways, pieces) {
                    way.done.push(*step);
                    way.fired = true;
                }
            }
            BenchDeed::Passed { step, pieces } => {
                for way in named(&mut ways, pieces) {
                    if !(std::mem::take(&mut way.fired) && way.done.last() == Some(step)) {
                        way.done.push(*step);
                    }
                }
            }
            BenchDeed::Skipped { pieces, .. } | BenchDeed::SentBack { pieces, .. } => {
                for way in named(&mut ways, pieces) {
                    way.fired = false;
                }
            }
            _ => {}
        }
    }
    ways
}

fn named<'a>(ways: &'a mut BTreeMap<PieceId, Way>, pieces: &'a [PieceId]) -> impl Iterator<Item = &'a mut Way> {
    let pieces: BTreeSet<PieceId> = pieces.iter().copied().collect();
    ways.iter_mut().filter(move |(piece, _)| pieces.contains(piece)).map(|(_, way)| way)
}

/// The pieces of `open` batches that wait for a firing and are in no load of `firing`, by batch and piece. `before` are
/// records of batches that are no longer open, from which pieces came.
pub fn waiting<'a>(open: &'a [BatchRecord], before: &[BatchRecord], firing: &[BookLoad]) -> Vec<LoadPiece<'a>> {
    let in_kiln: BTreeSet<PieceId> =
        firing.iter().flat_map(|load| load.load.charge.iter().map(|charged| charged.piece)).collect();
    let mut ways = ways(open.iter().chain(before));
    let mut found = Vec::new();
    for record in open {
        let now = BatchNow::of(record);
        let plan = &record.batch.plan;
        for piece in &record.pieces {
            let Some(Standing::At(step)) = now.standing(piece.id) else { continue };
            let fires = plan.steps.get(step).is_some_and(|step| matches!(step.kind, StepKind::Fire(_)));
            if !fires || in_kiln.contains(&piece.id) {
                continue;
            }
            let way = ways.remove(&piece.id).unwrap_or_default();
            found.push(LoadPiece {
                piece: piece.id,
                batch: record.id,
                words: format!("piece {} of batch {}", piece.place, record.batch.number),
                plan,
                step,
                done: way.done,
            });
        }
    }
    found.sort_by_key(|one| (one.batch, one.piece));
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::costing::samples::lantern_drop;
    use crate::studio::{Batch, BatchId, BatchState, DesignId, EntryId, LoadId};
    use chrono::NaiveDate;

    /// A batch of the lantern drop to which these things happened; entries are numbered from `first`.
    fn record(id: i64, first: i64, deeds: Vec<BenchDeed>) -> BatchRecord {
        let date = NaiveDate::from_ymd_opt(2026, 10, 14).unwrap();
        let plan = lantern_drop();
        let batch = Batch {
            number: 4,
            design: DesignId(1),
            name: plan.name.clone(),
            started: date,
            plan,
            stock: BTreeMap::new(),
            note: String::new(),
            state: BatchState::Open,
        };
        let entry = |(place, deed)| BenchEntry { id: EntryId(place), batch: BatchId(id), date, deed };
        let entries = (first..).zip(deeds).map(entry).collect();
        BatchRecord { id: BatchId(id), batch, pieces: Vec::new(), entries }
    }

    #[test]
    fn what_was_done_counts_each_firing_once_and_leaves_out_what_was_skipped() {
        let pieces = vec![PieceId(1)];
        let passed = |step| BenchDeed::Passed { step, pieces: pieces.clone() };
        let fired = |step| BenchDeed::Fired { step, pieces: pieces.clone(), load: LoadId(1) };
        let why = String::new();
        let one = record(
            1,
            1,
            vec![
                BenchDeed::Started { pieces: vec![PieceId(1), PieceId(2)] },
                passed(0),
                BenchDeed::Skipped { step: 1, pieces: pieces.clone(), why: why.clone() },
                fired(2),
                fired(2),
                passed(2),
                BenchDeed::SentBack { to: 1, pieces: pieces.clone(), why },
                passed(1),
                fired(2),
                passed(2),
                BenchDeed::Gave { to: BatchId(2), pieces: pieces.clone() },
            ],
        );
        let two = record(2, 20, vec![BenchDeed::Got { from: BatchId(1), step: 3, pieces: pieces.clone() }, passed(3)]);
        let done = done_steps([&two, &one]);
        assert_eq!(done[&PieceId(1)], [0, 2, 2, 1, 2, 3]);
        assert_eq!(done[&PieceId(2)], [0_usize; 0]);
        // Where the batch it came from is not at hand, all steps before are taken as done.
        assert_eq!(done_steps([&two])[&PieceId(1)], [0, 1, 2, 3]);
    }
}
