//! The laws of batches over a whole book.

use super::state_of;
use crate::actions::Refusal;
use crate::book::bench_entry::{self, NamedMovement};
use crate::book::{BookError, Reader, batch};
use crate::costing::batch::{BatchNow, broken_laws};
use crate::studio::{BatchId, BatchRecord, BenchDeed, MovementId, MovementKind, PieceId};
use std::collections::{BTreeMap, BTreeSet};

/// Batches that break a law, a sentence each, and how many were looked at.
pub(in crate::actions) fn problems(reader: Reader<'_>) -> Result<(usize, Vec<String>), Refusal> {
    let mut problems = Vec::new();
    let mut between = Between::default();
    let mut numbers = BTreeSet::new();
    let named = bench_entry::movements(reader)?;
    let rows = batch::rows(reader)?;
    for id in &rows {
        let record = match batch::find(reader, *id) {
            Ok(Some(record)) => record,
            // Told of with the rows of the book.
            Ok(None) | Err(BookError::Odd(_)) => continue,
            Err(fault) => return Err(fault.into()),
        };
        let number = record.batch.number;
        let mut told = |problem: String| problems.push(format!("batch {number}: {problem}"));
        broken_laws(&record).into_iter().for_each(&mut told);
        let state = state_of(&record, &BatchNow::of(&record));
        if state != record.batch.state {
            told(format!("it is {}, its entries make it {}", record.batch.state.name(), state.name()));
        }
        for held in record.pieces.iter().filter_map(|piece| piece.number.as_ref()) {
            if !numbers.insert(held.clone()) {
                told(format!("the number {held} is another piece's too"));
            }
        }
        moved(&record, &named).into_iter().for_each(&mut told);
        between.note(&record);
    }
    problems.extend(between.problems());
    Ok((rows.len(), problems))
}

/// What a batch's entries say of stock, and the movements do not.
fn moved(record: &BatchRecord, named: &BTreeMap<MovementId, NamedMovement>) -> Vec<String> {
    let mut problems = Vec::new();
    for entry in &record.entries {
        let (material, movement, quantity, kind) = match &entry.deed {
            BenchDeed::Took { material, movement, quantity, .. } => {
                (material, movement, *quantity, MovementKind::Issue)
            }
            BenchDeed::WashedBack { material, movement, quantity, .. } => {
                (material, movement, *quantity, MovementKind::WashBack)
            }
            _ => continue,
        };
        let said = record.batch.stock.get(material).map(|item| NamedMovement {
            item: *item,
            kind: Some(kind),
            quantity,
            date: entry.date,
        });
        if named.get(movement).copied() != said {
            problems.push(format!("entry {}: movement {} is not the {} it says", entry.id.0, movement.0, kind.name()));
        }
    }
    problems
}

/// Pieces given by one batch and got by another: the same, in the same order.
#[derive(Default)]
struct Between {
    gave: BTreeMap<(BatchId, BatchId), Vec<PieceId>>,
    got: BTreeMap<(BatchId, BatchId), Vec<PieceId>>,
}

impl Between {
    fn note(&mut self, record: &BatchRecord) {
        for entry in &record.entries {
            match &entry.deed {
                BenchDeed::Gave { to, pieces } => self.gave.entry((record.id, *to)).or_default().extend(pieces),
                BenchDeed::Got { from, pieces, .. } => self.got.entry((*from, record.id)).or_default().extend(pieces),
                _ => {}
            }
        }
    }

    fn problems(mut self) -> Vec<String> {
        // Those of one step make one entry where they come, so that only which pieces they are can be compared.
        self.gave.values_mut().chain(self.got.values_mut()).for_each(|pieces| pieces.sort_unstable());
        if self.gave == self.got {
            return Vec::new();
        }
        vec!["pieces that one batch gave are not those that another got".to_owned()]
    }
}
