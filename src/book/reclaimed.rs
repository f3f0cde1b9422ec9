//! Wash-backs whose cost follows the item they were reclaimed from, in the book.

use super::BookError;
use super::change::{Change, Reader};
use crate::studio::{ItemId, MovementId};
use rusqlite::OptionalExtension;

/// Says that a wash-back was taken in at the price of an item.
pub(crate) fn insert(change: &Change<'_>, wash_back: MovementId, from: ItemId) -> Result<(), BookError> {
    change
        .connection()
        .prepare("INSERT INTO reclaimed (movement_id, item_id) VALUES (?1, ?2)")?
        .execute((wash_back.0, from.0))?;
    Ok(())
}

/// The wash-backs taken in at an item's price, oldest first.
pub(crate) fn of_item(reader: Reader<'_>, from: ItemId) -> Result<Vec<MovementId>, BookError> {
    let mut query = reader.connection().prepare("SELECT movement_id FROM reclaimed WHERE item_id = ?1 ORDER BY id")?;
    let rows = query.query_map([from.0], |row| row.get(0).map(MovementId))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// The item a wash-back was taken in at the price of.
pub(crate) fn source(reader: Reader<'_>, wash_back: MovementId) -> Result<Option<ItemId>, BookError> {
    let mut query = reader.connection().prepare("SELECT item_id FROM reclaimed WHERE movement_id = ?1")?;
    Ok(query.query_row([wash_back.0], |row| row.get(0).map(ItemId)).optional()?)
}

/// Every item something was reclaimed from.
pub(crate) fn sources(reader: Reader<'_>) -> Result<Vec<ItemId>, BookError> {
    let mut query = reader.connection().prepare("SELECT DISTINCT item_id FROM reclaimed ORDER BY item_id")?;
    let rows = query.query_map([], |row| row.get(0).map(ItemId))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// What is said to be reclaimed and is no wash-back, a sentence each.
pub(crate) fn problems(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let mut query = reader.connection().prepare(
        "SELECT reclaimed.id FROM reclaimed LEFT JOIN movement lot ON lot.id = reclaimed.movement_id
         WHERE lot.kind IS NOT 'wash-back' ORDER BY reclaimed.id",
    )?;
    let rows = query.query_map([], |row| row.get::<_, i64>(0))?;
    let mut problems = Vec::new();
    for id in rows {
        problems.push(format!("reclaimed enamel {} is not a wash-back", id?));
    }
    Ok(problems)
}
