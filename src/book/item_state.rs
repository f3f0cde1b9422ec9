//! What each item's movements come to, kept for lists.

use super::BookError;
use super::change::{Change, Reader};
use super::number::{
    date_from_row, date_to_row, money_from_row, money_to_row, price_from_row, price_to_row, quantity_from_row,
    quantity_to_row,
};
use crate::measure::{Decimal, Money, Quantity};
use crate::studio::ItemId;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// What an item's movements come to by the book's method.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct ItemState {
    /// On hand.
    pub(crate) on_hand: Quantity,
    /// Its value.
    pub(crate) value: Money,
    /// Price of a unit on hand.
    pub(crate) book_price: Option<Decimal>,
    /// Price of a unit at the latest receipt.
    pub(crate) replacement_price: Option<Decimal>,
    /// The day of the latest movement.
    pub(crate) last_moved: Option<NaiveDate>,
}

/// Keeps an item's state, when there is such an item.
pub(crate) fn put(change: &Change<'_>, item: ItemId, state: &ItemState) -> Result<(), BookError> {
    change
        .connection()
        .prepare(
            "INSERT INTO item_state (item_id, on_hand_e9, value_e6, book_price_e6, replacement_price_e6, last_moved)
             SELECT id, ?2, ?3, ?4, ?5, ?6 FROM item WHERE id = ?1
             ON CONFLICT (item_id) DO UPDATE SET on_hand_e9 = excluded.on_hand_e9, value_e6 = excluded.value_e6,
                 book_price_e6 = excluded.book_price_e6, replacement_price_e6 = excluded.replacement_price_e6,
                 last_moved = excluded.last_moved",
        )?
        .execute((
            item.0,
            quantity_to_row(state.on_hand)?,
            money_to_row(state.value)?,
            state.book_price.map(price_to_row).transpose()?,
            state.replacement_price.map(price_to_row).transpose()?,
            state.last_moved.map(date_to_row),
        ))?;
    Ok(())
}

/// The state of every item.
pub(crate) fn all(reader: Reader<'_>) -> Result<BTreeMap<ItemId, ItemState>, BookError> {
    let mut query = reader.connection().prepare(
        "SELECT item_id, on_hand_e9, value_e6, book_price_e6, replacement_price_e6, last_moved FROM item_state
         ORDER BY item_id",
    )?;
    let mut rows = query.query([])?;
    let mut states = BTreeMap::new();
    while let Some(row) = rows.next()? {
        let day: Option<String> = row.get(5)?;
        states.insert(
            ItemId(row.get(0)?),
            ItemState {
                on_hand: quantity_from_row(row.get(1)?),
                value: money_from_row(row.get(2)?),
                book_price: row.get::<_, Option<i64>>(3)?.map(price_from_row),
                replacement_price: row.get::<_, Option<i64>>(4)?.map(price_from_row),
                last_moved: day.as_deref().map(date_from_row).transpose()?,
            },
        );
    }
    Ok(states)
}
