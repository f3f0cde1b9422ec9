//! What a batch and its pieces cost, from stock and kiln. Nothing here changes the book.

use super::bench_answer::CostOfPiece;
use super::kiln_days;
use crate::book::{Book, BookError, Reader, batch, document, movement};
use crate::costing::batch::{AccountAsk, AccountError, BatchAccount, Standing, account};
use crate::costing::stock::ledger;
use crate::measure::{Money, TooLarge};
use crate::studio::{BatchId, BatchRecord, BenchDeed, ItemId, LoadId, MovementId, PieceId};
use std::collections::{BTreeMap, BTreeSet};

/// What a batch cost so far, or, where no piece of it is at work, altogether and against its plan; none where there is no
/// such batch. Refused where an entry cannot have happened, which checking the book tells of too.
pub fn batch_account(book: &Book, id: BatchId) -> Result<Option<BatchAccount>, BookError> {
    read_account(book.reader(), id).map_err(|fault| fault.of_book(book.path()))
}

fn read_account(reader: Reader<'_>, id: BatchId) -> Result<Option<BatchAccount>, BookError> {
    let Some(ask) = ask(reader, id)? else { return Ok(None) };
    account(&ask).map(Some).map_err(|error| match error {
        AccountError::TooLarge(error) => BookError::TooLarge(error.to_string()),
        other => BookError::Odd(format!("a batch whose cost cannot be said: {other}")),
    })
}

/// What a finished piece cost, with its parts, which add up to it; none while it is not finished.
pub(super) fn cost_of_piece(
    reader: Reader<'_>,
    batch: BatchId,
    piece: PieceId,
) -> Result<Option<(Money, Vec<CostOfPiece>)>, BookError> {
    let Some(found) = read_account(reader, batch)? else { return Ok(None) };
    let Some(of) = found.pieces.iter().find(|of| of.piece == piece && of.standing == Standing::Finished) else {
        return Ok(None);
    };
    let (shared, own) = (&of.shared, &of.own);
    let lines = [
        ("Materials", shared.materials, own.materials),
        ("Labour", shared.labour, own.labour),
        ("Overhead", shared.overhead, own.overhead),
        ("Kiln energy", shared.kiln_energy, own.kiln_energy),
        ("Kiln wear", shared.kiln_wear, own.kiln_wear),
        ("From another batch", shared.came, own.came),
    ];
    let mut parts = Vec::with_capacity(lines.len() + 1);
    for (words, shared, own) in lines {
        parts.push(CostOfPiece { words, cost: shared.plus(own).map_err(too_large)? });
    }
    let scrap = shared.scrap.plus(own.scrap).map_err(too_large)?;
    parts.push(CostOfPiece { words: "Scrap", cost: Money::ZERO.minus(scrap).map_err(too_large)? });
    parts.retain(|part| !part.cost.is_zero());
    Ok(Some((of.cost, parts)))
}

/// All that the account of a batch is reckoned from: the batches its pieces came through, what was issued to them at book
/// cost, and what their loads cost.
fn ask(reader: Reader<'_>, id: BatchId) -> Result<Option<AccountAsk>, BookError> {
    let mut ask =
        AccountAsk { batch: id, records: BTreeMap::new(), issue_costs: BTreeMap::new(), load_shares: BTreeMap::new() };
    let mut to_read = vec![id];
    while let Some(next) = to_read.pop() {
        if ask.records.contains_key(&next) {
            continue;
        }
        let Some(record) = batch::find(reader, next)? else { continue };
        to_read.extend(record.entries.iter().filter_map(|entry| match &entry.deed {
            BenchDeed::Got { from, .. } => Some(*from),
            _ => None,
        }));
        ask.records.insert(next, record);
    }
    if ask.records.is_empty() {
        return Ok(None);
    }
    let (mut moved, mut loads) = (BTreeMap::new(), BTreeSet::new());
    for record in ask.records.values() {
        used(record, &mut moved, &mut loads);
    }
    ask.issue_costs = issue_costs(reader, &moved)?;
    ask.load_shares = kiln_days::load_shares(reader, &loads.into_iter().collect::<Vec<_>>())?;
    Ok(Some(ask))
}

/// The movements and loads of a batch; movements by the item they are of.
fn used(record: &BatchRecord, moved: &mut BTreeMap<ItemId, BTreeSet<MovementId>>, loads: &mut BTreeSet<LoadId>) {
    for entry in &record.entries {
        match &entry.deed {
            BenchDeed::Took { material, movement, .. } | BenchDeed::WashedBack { material, movement, .. } => {
                if let Some(item) = record.batch.stock.get(material) {
                    moved.entry(*item).or_default().insert(*movement);
                }
            }
            BenchDeed::Fired { load, .. } => {
                loads.insert(*load);
            }
            _ => {}
        }
    }
}

/// What movements moved in value by the book's method, without a sign.
fn issue_costs(
    reader: Reader<'_>,
    moved: &BTreeMap<ItemId, BTreeSet<MovementId>>,
) -> Result<BTreeMap<MovementId, Money>, BookError> {
    let method = document::settings(reader)?.valuation;
    let mut costs = BTreeMap::new();
    for (item, rows) in moved {
        let movements = movement::bare_of_item(reader, *item)?;
        let ledger =
            ledger(&movements, method).map_err(|error| BookError::Odd(format!("movements that cannot be: {error}")))?;
        for line in ledger.lines.iter().filter(|line| rows.contains(&line.movement)) {
            costs.insert(line.movement, Money::rounded(line.value_change.amount().abs()));
        }
    }
    Ok(costs)
}

fn too_large(error: TooLarge) -> BookError {
    BookError::TooLarge(error.to_string())
}
