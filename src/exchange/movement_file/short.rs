//! What a file as read would leave short in the book.

use super::{Column, Fault, ImportItem, ImportMovement, Planned, RowProblem};
use crate::costing::stock::{StockError, ledger};
use crate::studio::{ItemId, Movement, MovementId, ValuationMethod};
use std::collections::BTreeMap;

/// Shortages of one item that are told; a file with more of them is surely of another stock.
const MOST_SHORTAGES: usize = 100;

/// What would be short: the plan's movements after those there are (each item's in order of date then id). Items with
/// rows that could not be read are left out. Call it for a plan of [`read`](super::read).
pub fn shortages(
    planned: &Planned,
    existing: &BTreeMap<ItemId, Vec<Movement>>,
    method: ValuationMethod,
) -> Vec<RowProblem> {
    let mut by_item: BTreeMap<ImportItem, Vec<&ImportMovement>> = BTreeMap::new();
    for movement in &planned.plan.movements {
        by_item.entry(movement.item).or_default().push(movement);
    }
    let mut problems = Vec::new();
    for (item, lines) in by_item {
        if planned.unsure.contains(&item) {
            continue;
        }
        let before = match item {
            ImportItem::Known(id) => existing.get(&id).map_or(&[][..], Vec::as_slice),
            ImportItem::New(_) => &[],
        };
        short_of(before, &lines, method, &mut problems);
    }
    problems.sort_by_key(|problem| problem.row);
    problems
}

fn short_of(before: &[Movement], lines: &[&ImportMovement], method: ValuationMethod, problems: &mut Vec<RowProblem>) {
    // Rows of the book count up from 1; those of the plan come after all of them, in the file's order.
    let first = before.iter().map(|movement| movement.id.0).max().unwrap_or(0).saturating_add(1);
    let mut rows: BTreeMap<MovementId, usize> = BTreeMap::new();
    let mut all = before.to_vec();
    for (id, line) in (first..).zip(lines) {
        rows.insert(MovementId(id), line.row);
        all.push(Movement {
            id: MovementId(id),
            item: ItemId(0),
            date: line.date,
            kind: line.kind,
            quantity: line.quantity,
            cost: line.cost,
            lot: None,
            lot_number: String::new(),
            supplier: String::new(),
            note: String::new(),
            typed: String::new(),
        });
    }
    all.sort_by_key(|movement| (movement.date, movement.id));
    for _ in 0..MOST_SHORTAGES {
        let Err(error) = ledger(&all, method) else { return };
        let (StockError::NotEnough { movement, .. }
        | StockError::LotTooSmall { movement, .. }
        | StockError::NotPositive { movement, .. }) = error
        else {
            let row = lines.first().map_or(0, |line| line.row);
            problems.push(problem_of_book(row, error.to_string()));
            return;
        };
        let Some(at) = all.iter().position(|one| one.id == movement) else { return };
        if let Some(row) = rows.get(&movement) {
            problems.push(problem_of_book(*row, error.to_string()));
            all.remove(at);
        } else {
            // A line dated back leaves a movement of the book short: the latest such line is named.
            let earlier = all.get(..at).unwrap_or_default();
            let line = earlier.iter().rev().find_map(|one| rows.get(&one.id));
            let row = line.copied().or_else(|| lines.first().map(|line| line.row)).unwrap_or(0);
            problems.push(problem_of_book(row, format!("leaves what the book has later short: {error}")));
            return;
        }
    }
}

fn problem_of_book(row: usize, text: String) -> RowProblem {
    RowProblem { row, column: Column::Quantity.name().to_owned(), text, fault: Fault::Book }
}
