//! Lots whose price was corrected, in the book: written once, the newest of a lot holds.

use super::BookError;
use super::change::{Change, Reader};
use super::number::{date_from_row, date_to_row, money_from_row, money_to_row};
use crate::measure::Money;
use crate::studio::{CorrectionId, ItemId, LotCorrection, LotId};
use chrono::NaiveDate;
use rusqlite::named_params;
use std::collections::BTreeMap;

/// What corrected lots cost after all.
pub(in crate::book) type Costs = BTreeMap<LotId, Money>;

/// Adds a correction.
pub(crate) fn insert(
    change: &Change<'_>,
    item: ItemId,
    lot: LotId,
    date: NaiveDate,
    cost: Money,
    note: &str,
) -> Result<CorrectionId, BookError> {
    change
        .connection()
        .prepare(
            "INSERT INTO lot_correction (item_id, lot_id, date, cost_e6, note)
             VALUES (:item, :lot, :date, :cost, :note)",
        )?
        .execute(named_params! {
            ":item": item.0,
            ":lot": lot.0,
            ":date": date_to_row(date),
            ":cost": money_to_row(cost)?,
            ":note": note,
        })?;
    Ok(CorrectionId(change.connection().last_insert_rowid()))
}

/// What an item's corrected lots cost after all.
pub(in crate::book) fn costs_of_item(reader: Reader<'_>, item: ItemId) -> Result<Costs, BookError> {
    let mut query = reader.connection().prepare(
        "SELECT lot_id, cost_e6 FROM lot_correction INDEXED BY lot_correction_ledger WHERE item_id = ?1 ORDER BY id",
    )?;
    let rows = query.query_map([item.0], |row| Ok((LotId(row.get(0)?), money_from_row(row.get(1)?))))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// What a lot costs after all, where it was corrected.
pub(in crate::book) fn costs_of_lot(reader: Reader<'_>, lot: LotId) -> Result<Costs, BookError> {
    let mut query =
        reader.connection().prepare("SELECT lot_id, cost_e6 FROM lot_correction WHERE lot_id = ?1 ORDER BY id")?;
    let rows = query.query_map([lot.0], |row| Ok((LotId(row.get(0)?), money_from_row(row.get(1)?))))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// The lot was corrected.
pub(crate) fn is_corrected(reader: Reader<'_>, lot: LotId) -> Result<bool, BookError> {
    let mut query = reader.connection().prepare("SELECT EXISTS (SELECT 1 FROM lot_correction WHERE lot_id = ?1)")?;
    Ok(query.query_row([lot.0], |row| row.get(0))?)
}

/// What every corrected lot costs after all.
pub(in crate::book) fn costs(reader: Reader<'_>) -> Result<Costs, BookError> {
    let mut query = reader.connection().prepare("SELECT lot_id, cost_e6 FROM lot_correction ORDER BY id")?;
    let rows = query.query_map([], |row| Ok((LotId(row.get(0)?), money_from_row(row.get(1)?))))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// An item's corrections, oldest first, each with what the lot was taken to cost before it.
pub(crate) fn of_item(reader: Reader<'_>, item: ItemId) -> Result<Vec<LotCorrection>, BookError> {
    let mut query = reader.connection().prepare(
        "SELECT c.id, c.lot_id, c.date, c.cost_e6, c.note,
                lag(c.cost_e6, 1, lot.cost_e6) OVER (PARTITION BY c.lot_id ORDER BY c.id)
         FROM lot_correction c JOIN movement lot ON lot.id = c.lot_id WHERE c.item_id = ?1 ORDER BY c.id",
    )?;
    let mut rows = query.query([item.0])?;
    let mut corrections = Vec::new();
    while let Some(row) = rows.next()? {
        let date: String = row.get(2)?;
        corrections.push(LotCorrection {
            id: CorrectionId(row.get(0)?),
            item,
            lot: LotId(row.get(1)?),
            date: date_from_row(&date)?,
            before: money_from_row(row.get(5)?),
            cost: money_from_row(row.get(3)?),
            note: row.get(4)?,
        });
    }
    Ok(corrections)
}

/// Corrections that point at something other than a lot of their item, or come before it, a sentence each.
pub(crate) fn problems(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let mut query = reader.connection().prepare(
        "SELECT c.id FROM lot_correction c LEFT JOIN movement lot ON lot.id = c.lot_id
         WHERE lot.id IS NULL OR lot.kind NOT IN ('receipt', 'wash-back') OR lot.item_id <> c.item_id
            OR c.date < lot.date
         ORDER BY c.id",
    )?;
    let rows = query.query_map([], |row| row.get::<_, i64>(0))?;
    let mut problems = Vec::new();
    for id in rows {
        problems.push(format!("correction {} is not one of a lot of its item", id?));
    }
    Ok(problems)
}
