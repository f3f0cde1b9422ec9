//! Movements of stock in the book: written once, read in order.

use super::BookError;
use super::change::{Change, Reader};
use super::correction::{self, Costs};
use super::number::{date_from_row, date_to_row, money_from_row, money_to_row, quantity_from_row, quantity_to_row};
use crate::measure::{Money, Quantity};
use crate::studio::{ItemId, LotId, Movement, MovementId, MovementKind};
use chrono::NaiveDate;
use rusqlite::{Row, Statement, named_params};

/// A movement before it has a row.
pub(crate) struct NewMovement<'a> {
    /// The item.
    pub(crate) item: ItemId,
    /// The day.
    pub(crate) date: NaiveDate,
    /// What it does.
    pub(crate) kind: MovementKind,
    /// In the item's unit.
    pub(crate) quantity: Quantity,
    /// Receipts and wash-backs.
    pub(crate) cost: Option<Money>,
    /// Returns only.
    pub(crate) lot: Option<LotId>,
    /// Receipts only.
    pub(crate) lot_number: &'a str,
    /// Receipts and returns.
    pub(crate) supplier: &'a str,
    /// Free text.
    pub(crate) note: &'a str,
    /// As typed.
    pub(crate) typed: &'a str,
}

/// Adds movements to the list, one after the other.
pub(crate) struct Writer<'change> {
    change: &'change Change<'change>,
    insert: Statement<'change>,
}

impl<'change> Writer<'change> {
    /// Ready to write.
    pub(crate) fn new(change: &'change Change<'change>) -> Result<Self, BookError> {
        let insert = change.connection().prepare(
            "INSERT INTO movement (item_id, date, kind, quantity_e9, cost_e6, lot_id, lot_number, supplier, note, typed)
             VALUES (:item, :date, :kind, :quantity, :cost, :lot, :lot_number, :supplier, :note, :typed)",
        )?;
        Ok(Self { change, insert })
    }

    /// Adds a movement to the list.
    pub(crate) fn insert(&mut self, new: &NewMovement<'_>) -> Result<MovementId, BookError> {
        self.insert.execute(named_params! {
            ":item": new.item.0,
            ":date": date_to_row(new.date),
            ":kind": new.kind.name(),
            ":quantity": quantity_to_row(new.quantity)?,
            ":cost": new.cost.map(money_to_row).transpose()?,
            ":lot": new.lot.map(|lot| lot.0),
            ":lot_number": new.lot_number,
            ":supplier": new.supplier,
            ":note": new.note,
            ":typed": new.typed,
        })?;
        Ok(MovementId(self.change.connection().last_insert_rowid()))
    }
}

/// The movement of that row, at its cost after all; the texts are left empty.
pub(crate) fn find(reader: Reader<'_>, id: MovementId) -> Result<Option<Movement>, BookError> {
    let mut query = reader
        .connection()
        .prepare("SELECT item_id, date, id, kind, quantity_e9, cost_e6, lot_id FROM movement WHERE id = ?1")?;
    let corrected = correction::costs_of_lot(reader, LotId(id.0))?;
    let mut rows = query.query([id.0])?;
    rows.next()?.map(|row| bare(row, &corrected)).transpose()
}

/// What valuation needs of a movement, read from its index alone, a lot at what it cost after all; the texts are left
/// empty.
fn bare(row: &Row<'_>, corrected: &Costs) -> Result<Movement, BookError> {
    let id: i64 = row.get(2)?;
    let odd = |error: rusqlite::types::FromSqlError| BookError::Odd(error.to_string());
    let kind = row.get_ref(3)?.as_str().map_err(odd)?;
    Ok(Movement {
        item: ItemId(row.get(0)?),
        date: date_from_row(row.get_ref(1)?.as_str().map_err(odd)?)?,
        id: MovementId(id),
        kind: MovementKind::from_name(kind).ok_or_else(|| BookError::Odd(format!("a movement of kind {kind:?}")))?,
        quantity: quantity_from_row(row.get(4)?),
        cost: corrected.get(&LotId(id)).copied().or(row.get::<_, Option<i64>>(5)?.map(money_from_row)),
        lot: row.get::<_, Option<i64>>(6)?.map(LotId),
        lot_number: String::new(),
        supplier: String::new(),
        note: String::new(),
        typed: String::new(),
    })
}

/// An item's movements without their texts, in order of date then id.
pub(crate) fn bare_of_item(reader: Reader<'_>, item: ItemId) -> Result<Vec<Movement>, BookError> {
    let mut query = reader.connection().prepare(
        "SELECT item_id, date, id, kind, quantity_e9, cost_e6, lot_id FROM movement INDEXED BY movement_ledger
         WHERE item_id = ?1 ORDER BY item_id, date, id",
    )?;
    let corrected = correction::costs_of_item(reader, item)?;
    let mut rows = query.query([item.0])?;
    let mut movements = Vec::new();
    while let Some(row) = rows.next()? {
        movements.push(bare(row, &corrected)?);
    }
    Ok(movements)
}

/// Hands over each item's movements up to the end of a day (all when none), without their texts, in one ordered pass.
pub(crate) fn for_each_item<E: From<BookError>>(
    reader: Reader<'_>,
    until: Option<NaiveDate>,
    mut hand_over: impl FnMut(ItemId, &[Movement]) -> Result<(), E>,
) -> Result<(), E> {
    let mut query = reader
        .connection()
        .prepare(
            "SELECT item_id, date, id, kind, quantity_e9, cost_e6, lot_id FROM movement INDEXED BY movement_ledger
             ORDER BY item_id, date, id",
        )
        .map_err(BookError::from)?;
    let corrected = correction::costs(reader)?;
    let mut rows = query.query([]).map_err(BookError::from)?;
    let mut movements: Vec<Movement> = Vec::new();
    while let Some(row) = rows.next().map_err(BookError::from)? {
        let movement = bare(row, &corrected)?;
        if movements.first().is_some_and(|first| first.item != movement.item) {
            if let Some(first) = movements.first() {
                hand_over(first.item, &movements)?;
            }
            movements.clear();
        }
        if until.is_none_or(|until| movement.date <= until) {
            movements.push(movement);
        }
    }
    if let Some(first) = movements.first() {
        hand_over(first.item, &movements)?;
    }
    Ok(())
}

/// An item's movements whole, in order of date then id.
pub(crate) fn of_item(reader: Reader<'_>, item: ItemId) -> Result<Vec<Movement>, BookError> {
    let mut query = reader.connection().prepare(
        "SELECT item_id, date, id, kind, quantity_e9, cost_e6, lot_id, lot_number, supplier, note, typed FROM movement
         WHERE item_id = ?1 ORDER BY item_id, date, id",
    )?;
    let corrected = correction::costs_of_item(reader, item)?;
    let mut rows = query.query([item.0])?;
    let mut movements = Vec::new();
    while let Some(row) = rows.next()? {
        movements.push(Movement {
            lot_number: row.get(7)?,
            supplier: row.get(8)?,
            note: row.get(9)?,
            typed: row.get(10)?,
            ..bare(row, &corrected)?
        });
    }
    Ok(movements)
}

/// The item has moved.
pub(crate) fn any_of_item(reader: Reader<'_>, item: ItemId) -> Result<bool, BookError> {
    let mut query = reader.connection().prepare("SELECT EXISTS (SELECT 1 FROM movement WHERE item_id = ?1)")?;
    Ok(query.query_row([item.0], |row| row.get(0))?)
}

/// Anything has moved.
pub(crate) fn any(reader: Reader<'_>) -> Result<bool, BookError> {
    Ok(reader.connection().query_row("SELECT EXISTS (SELECT 1 FROM movement)", [], |row| row.get(0))?)
}

/// Returns that point at something other than a receipt of the same item, a sentence each.
pub(crate) fn problems(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let mut query = reader.connection().prepare(
        "SELECT r.id FROM movement r LEFT JOIN movement lot ON lot.id = r.lot_id
         WHERE r.lot_id IS NOT NULL AND (lot.id IS NULL OR lot.kind <> 'receipt' OR lot.item_id <> r.item_id)
         ORDER BY r.id",
    )?;
    let rows = query.query_map([], |row| row.get::<_, i64>(0))?;
    let mut problems = Vec::new();
    for id in rows {
        problems.push(format!("movement {} goes back to a lot that is not one of its item", id?));
    }
    Ok(problems)
}
