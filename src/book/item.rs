//! Items of stock in the book.

use super::BookError;
use super::change::{Change, Reader};
use super::number::{quantity_from_row, quantity_to_row};
use crate::measure::Unit;
use crate::studio::{Buying, Item, ItemDetails, ItemId, ItemKind};
use rusqlite::{OptionalExtension, Row, named_params};

const COLUMNS: &str = "id, reference, name, unit, details, maker, maker_number, supplier, shelf, note, \
                       reorder_level_e9, lead_bearing, retired, revision, buying";

/// An item with its row and the action that wrote it last.
pub(in crate::book) struct ItemRow {
    pub(in crate::book) id: ItemId,
    pub(in crate::book) item: Item,
    pub(in crate::book) revision: i64,
}

fn from_row(row: &Row<'_>) -> Result<ItemRow, BookError> {
    let id: i64 = row.get(0)?;
    let unit: String = row.get(3)?;
    let unit = Unit::from_name(&unit).ok_or_else(|| BookError::Odd(format!("item {id} is kept in {unit:?}")))?;
    let details = row.get_ref(4)?.as_str().map_err(|error| BookError::Odd(error.to_string()))?;
    let details: ItemDetails =
        serde_json::from_str(details).map_err(|error| BookError::Odd(format!("item {id}: {error}")))?;
    let buying = row.get_ref(14)?.as_str().map_err(|error| BookError::Odd(error.to_string()))?;
    let buying: Buying = serde_json::from_str(buying).map_err(|error| BookError::Odd(format!("item {id}: {error}")))?;
    Ok(ItemRow {
        id: ItemId(id),
        item: Item {
            reference: row.get(1)?,
            name: row.get(2)?,
            unit,
            details,
            maker: row.get(5)?,
            maker_number: row.get(6)?,
            supplier: row.get(7)?,
            shelf: row.get(8)?,
            note: row.get(9)?,
            reorder_level: row.get::<_, Option<i64>>(10)?.map(quantity_from_row),
            lead_bearing: row.get(11)?,
            retired: row.get(12)?,
            buying,
        },
        revision: row.get(13)?,
    })
}

/// One item.
pub(crate) fn find(reader: Reader<'_>, id: ItemId) -> Result<Option<Item>, BookError> {
    Ok(find_row(reader, id)?.map(|row| row.item))
}

pub(in crate::book) fn find_row(reader: Reader<'_>, id: ItemId) -> Result<Option<ItemRow>, BookError> {
    let mut query = reader.connection().prepare(&format!("SELECT {COLUMNS} FROM item WHERE id = ?1"))?;
    let mut rows = query.query([id.0])?;
    rows.next()?.map(from_row).transpose()
}

/// Every item, by id.
pub(in crate::book) fn all(reader: Reader<'_>) -> Result<Vec<ItemRow>, BookError> {
    let mut query = reader.connection().prepare(&format!("SELECT {COLUMNS} FROM item ORDER BY id"))?;
    let mut rows = query.query([])?;
    let mut items = Vec::new();
    while let Some(row) = rows.next()? {
        items.push(from_row(row)?);
    }
    Ok(items)
}

/// Row and revision of every item, by id.
pub(in crate::book) fn revisions(reader: Reader<'_>) -> Result<Vec<(ItemId, i64)>, BookError> {
    let mut query = reader.connection().prepare("SELECT id, revision FROM item ORDER BY id")?;
    let rows = query.query_map([], |row| Ok((ItemId(row.get(0)?), row.get(1)?)))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Row and name of every item, by name.
pub(crate) fn names(reader: Reader<'_>) -> Result<Vec<(ItemId, String)>, BookError> {
    let mut query = reader.connection().prepare("SELECT id, name FROM item ORDER BY name, id")?;
    let rows = query.query_map([], |row| Ok((ItemId(row.get(0)?), row.get(1)?)))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Row, reference, name and unit of every item, by row.
pub(crate) fn shelf(reader: Reader<'_>) -> Result<Vec<(ItemId, String, String, Unit)>, BookError> {
    let mut query = reader.connection().prepare("SELECT id, reference, name, unit FROM item ORDER BY id")?;
    let mut rows = query.query([])?;
    let mut items = Vec::new();
    while let Some(row) = rows.next()? {
        let unit: String = row.get(3)?;
        let unit = Unit::from_name(&unit).ok_or_else(|| BookError::Odd(format!("an item kept in {unit:?}")))?;
        items.push((ItemId(row.get(0)?), row.get(1)?, row.get(2)?, unit));
    }
    Ok(items)
}

/// The item of that reference; capital and small letters are the same.
pub(crate) fn with_reference(reader: Reader<'_>, reference: &str) -> Result<Option<ItemId>, BookError> {
    let mut query = reader.connection().prepare("SELECT id FROM item WHERE reference = ?1")?;
    Ok(query.query_row([reference], |row| row.get(0).map(ItemId)).optional()?)
}

/// Every reference that starts so.
pub(crate) fn references_from(reader: Reader<'_>, start: &str) -> Result<Vec<String>, BookError> {
    let mut query = reader
        .connection()
        .prepare("SELECT reference FROM item WHERE substr(reference, 1, length(?1)) = ?1 ORDER BY reference")?;
    let rows = query.query_map([start], |row| row.get(0))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// The book has any item.
pub(crate) fn any(reader: Reader<'_>) -> Result<bool, BookError> {
    Ok(reader.connection().query_row("SELECT EXISTS (SELECT 1 FROM item)", [], |row| row.get(0))?)
}

/// Adds an item.
pub(crate) fn insert(change: &Change<'_>, item: &Item, action: i64) -> Result<ItemId, BookError> {
    write(
        change,
        "INSERT INTO item (id, reference, name, kind, unit, details, maker, maker_number, supplier, shelf, note,
                           reorder_level_e9, lead_bearing, retired, revision, buying)
         VALUES (:id, :reference, :name, :kind, :unit, :details, :maker, :maker_number, :supplier, :shelf, :note,
                 :reorder_level, :lead_bearing, :retired, :revision, :buying)",
        None,
        item,
        action,
    )?;
    Ok(ItemId(change.connection().last_insert_rowid()))
}

/// Writes an item over the one of that row.
pub(crate) fn update(change: &Change<'_>, id: ItemId, item: &Item, action: i64) -> Result<(), BookError> {
    write(
        change,
        "UPDATE item SET reference = :reference, name = :name, kind = :kind, unit = :unit, details = :details,
                         maker = :maker, maker_number = :maker_number, supplier = :supplier, shelf = :shelf,
                         note = :note, reorder_level_e9 = :reorder_level, lead_bearing = :lead_bearing,
                         retired = :retired, revision = :revision, buying = :buying
         WHERE id = :id",
        Some(id),
        item,
        action,
    )
}

fn write(change: &Change<'_>, sql: &str, id: Option<ItemId>, item: &Item, action: i64) -> Result<(), BookError> {
    change.connection().prepare(sql)?.execute(named_params! {
        ":id": id.map(|id| id.0),
        ":reference": item.reference,
        ":name": item.name,
        ":kind": item.details.kind().name(),
        ":unit": item.unit.name(),
        ":details": serde_json::to_string(&item.details)?,
        ":maker": item.maker,
        ":maker_number": item.maker_number,
        ":supplier": item.supplier,
        ":shelf": item.shelf,
        ":note": item.note,
        ":reorder_level": item.reorder_level.map(quantity_to_row).transpose()?,
        ":lead_bearing": item.lead_bearing,
        ":retired": item.retired,
        ":revision": action,
        ":buying": serde_json::to_string(&item.buying)?,
    })?;
    Ok(())
}

/// Items whose columns and document disagree, a sentence each.
pub(crate) fn problems(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let mut query = reader.connection().prepare(&format!("SELECT {COLUMNS}, kind FROM item ORDER BY id"))?;
    let mut rows = query.query([])?;
    let mut problems = Vec::new();
    while let Some(row) = rows.next()? {
        let id: i64 = row.get(0)?;
        match from_row(row) {
            Ok(read) => {
                let kind: String = row.get(15)?;
                if ItemKind::from_name(&kind) != Some(read.item.details.kind()) {
                    problems.push(format!("item {} is filed under {kind}", read.item.reference));
                }
            }
            Err(fault) => problems.push(format!("item row {id}: {fault}")),
        }
    }
    Ok(problems)
}
