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
