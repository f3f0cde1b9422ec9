//! The laws of batches over a whole book.

use super::state_of;
use crate::actions::Refusal;
use crate::book::{Reader, batch, movement};
use crate::costing::batch::{BatchNow, broken_laws};
use crate::studio::{BatchId, BatchRecord, BenchDeed, MovementId, MovementKind, PieceId};
use std::collections::{BTreeMap, BTreeSet};

/// Batches that break a law, a sentence each, and how many were looked at.
pub(in crate::actions) fn problems(reader: Reader<'_>) -> Result<(usize, Vec<String>), Refusal> {
    let mut problems = Vec::new();
    let mut between = Between::default();
    let mut numbers = BTreeSet::new();
    let rows = batch::rows(reader)?;
    for id in &rows {
        let Some(record) = batch::find(reader, *id)? else { continue };
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
        moved(reader, &record)?.into_iter().for_each(&mut told);
        between.note(&record);
    }
    problems.extend(between.problems());
    Ok((rows.len(), problems))
}

/// What a batch's entries say of stock, and the movements do not.
fn moved(reader: Reader<'_>, record: &BatchRecord) -> Result<Vec<String>, Refusal> {
    let mut problems = Vec::new();
    for entry in &record.entries {
        let (material, movement, quantity, kind): (_, MovementId, _, _) = match &entry.deed {
            BenchDeed::Took { material, movement, quantity, .. } => {
                (material, *movement, *quantity, MovementKind::Issue)
            }
            BenchDeed::WashedBack { material, movement, quantity, .. } => {
                (material, *movement, *quantity, MovementKind::WashBack)
            }
            _ => continue,
        };
        let item = record.batch.stock.get(material).copied();
        let fits = movement::find(reader, movement)?.is_some_and(|found| {
            Some(found.item) == item && found.kind == kind && found.quantity == quantity && found.date == entry.date
        });
        if !fits {
            problems.push(format!("entry {}: movement {} is not the {} it says", entry.id.0, movement.0, kind.name()));
        }
    }
    Ok(problems)
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
