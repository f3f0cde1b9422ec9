//! What a count would change, before it is accepted.

use super::items::missing;
use super::limits::{self, Range};
use super::stock::{refusal, too_large};
use super::{Counted, Refusal};
use crate::book::{Reader, document, item, movement};
use crate::costing::counting::CountedItem;
use crate::costing::stock as valuation;
use crate::measure::{Money, Quantity};
use crate::studio::{Item, ItemId, Movement, MovementId, MovementKind, ValuationMethod};
use chrono::NaiveDate;

/// What counts would change, in their order.
pub(super) fn counted(reader: Reader<'_>, date: NaiveDate, counts: &[Counted]) -> Result<Vec<CountedItem>, Refusal> {
    limits::date("Date", date)?;
    let method = document::settings(reader)?.valuation;
    counts
        .iter()
        .map(|one| {
            let held = item::find(reader, one.item)?.ok_or_else(|| missing(one.item))?;
            limits::quantity(&format!("Count of {}", held.name), one.quantity, Range::ZeroOrMore)?;
            compare(reader, one.item, &held, date, one.quantity, method)
        })
        .collect()
}

/// What counting so much of an item at the end of a day would change.
pub(super) fn compare(
    reader: Reader<'_>,
    id: ItemId,
    held: &Item,
    date: NaiveDate,
    counted: Quantity,
    method: ValuationMethod,
) -> Result<CountedItem, Refusal> {
    let mut movements = movement::bare_of_item(reader, id)?;
    movements.retain(|movement| movement.date <= date);
    movements.push(Movement {
        id: MovementId(i64::MAX),
        item: id,
        date,
        kind: MovementKind::Count,
        quantity: counted,
        cost: None,
        lot: None,
        lot_number: String::new(),
        supplier: String::new(),
        note: String::new(),
        typed: String::new(),
    });
    let ledger = valuation::ledger(&movements, method).map_err(|error| refusal(held, error))?;
    let line = ledger.lines.last();
    let difference = line.map_or(Quantity::ZERO, |line| line.change);
    let expected = counted.minus(difference).map_err(too_large)?;
    let value = line.map_or(Money::ZERO, |line| line.value_change);
    Ok(CountedItem { item: id, counted, expected, difference, value })
}
