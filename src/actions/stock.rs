//! Movements of stock. Each is checked against the whole of its item's movements, so that one dated back cannot leave
//! a later day short.

use super::items::missing;
use super::limits::{self, Range, refuse};
use super::perform::Done;
use super::period;
use super::{Counted, Receipt, Refusal, Taking, cuts, lots};
use crate::book::item_state::{self, ItemState};
use crate::book::movement::{self, NewMovement};
use crate::book::{BookError, Change, document, item};
use crate::costing::stock::{self as valuation, Ledger, StockError};
use crate::measure::money::MONEY_LIMIT;
use crate::measure::{Decimal, Money, Quantity, exact};
use crate::studio::{Item, ItemId, LotId, Movement, MovementId, MovementKind, ValuationMethod};
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// Most lots of one action.
const MOST_LOTS: usize = 10_000;

/// Receives lots.
pub(super) fn receive(change: &Change<'_>, receipts: &[Receipt]) -> Result<Done, Refusal> {
    if receipts.is_empty() || receipts.len() > MOST_LOTS {
        return Err(refuse("Lots", receipts.len(), "1 to 10,000 lots are accepted"));
    }
    let mut names = Vec::new();
    for receipt in receipts {
        let item = book(
            change,
            &NewMovement {
                item: receipt.item,
                date: receipt.date,
                kind: MovementKind::Receipt,
                quantity: receipt.quantity,
                cost: Some(receipt.cost),
                lot: None,
                lot_number: &receipt.lot_number,
                supplier: &receipt.supplier,
                note: &receipt.note,
                typed: &receipt.typed,
            },
        )?
        .0;
        names.push(format!("Receive {} {} of {}", receipt.quantity, item.unit, item.name));
    }
    let name = match <[String; 1]>::try_from(names) {
        Ok([name]) => name,
        Err(names) => format!("Receive {} lots", names.len()),
    };
    Ok(Done::named(name))
}

/// Takes stock to the bench.
pub(super) fn issue(change: &Change<'_>, taking: &Taking) -> Result<Done, Refusal> {
    take(change, taking, MovementKind::Issue, None, "Issue")
}

/// Writes stock off.
pub(super) fn write_off(change: &Change<'_>, taking: &Taking) -> Result<Done, Refusal> {
    take(change, taking, MovementKind::WriteOff, None, "Write off")
}

/// Sends stock back to its supplier.
pub(super) fn send_back(change: &Change<'_>, taking: &Taking, lot: Option<LotId>) -> Result<Done, Refusal> {
    if let Some(lot) = lot {
        let receipt = movement::bare_of_item(change.reader(), taking.item)?
            .into_iter()
            .find(|movement| movement.kind == MovementKind::Receipt && movement.id.0 == lot.0);
        match receipt {
            None => return Err(refuse("Lot", lot.0, "a lot of the same item is accepted")),
            Some(receipt) if receipt.date > taking.date => {
                return Err(refuse(
                    "Date",
                    taking.date,
                    format!("the day the lot came in, {}, or later is accepted", receipt.date),
                ));
            }
            Some(_) => {}
        }
    }
    take(change, taking, MovementKind::Return, lot, "Return")
}

/// Says what is there.
pub(super) fn count(change: &Change<'_>, taking: &Taking) -> Result<Done, Refusal> {
    take(change, taking, MovementKind::Count, None, "Count")
}

/// Counts many items at once.
pub(super) fn count_many(change: &Change<'_>, date: NaiveDate, counts: &[Counted]) -> Result<Done, Refusal> {
    if counts.is_empty() || counts.len() > MOST_LOTS {
        return Err(refuse("Counts", counts.len(), "1 to 10,000 items are accepted"));
    }
    let mut seen = BTreeSet::new();
    let mut rows = Vec::with_capacity(counts.len());
    for counted in counts {
        let new = NewMovement {
            item: counted.item,
            date,
            kind: MovementKind::Count,
            quantity: counted.quantity,
            cost: None,
            lot: None,
            lot_number: "",
            supplier: "",
            note: &counted.note,
            typed: &counted.typed,
        };
        let (item, row) = book(change, &new)?;
        if !seen.insert(counted.item) {
            return Err(refuse("Counts", format!("{} twice", item.name), "each item once is accepted"));
        }
        rows.push((counted.item, item, row));
    }
    let method = document::settings(change.reader())?.valuation;
    let mut moved = Money::ZERO;
    for (id, item, row) in &rows {
        let (_, ledger) = valued(change, *id, item, method)?;
        moved = moved.plus(value_out(&ledger, *row)?).map_err(too_large)?;
    }
    let name = match rows.as_slice() {
        [(_, item, _)] => format!("Count {}", item.name),
        many => format!("Count {} items", many.len()),
    };
    Ok(Done { name, added: None, moved_value: Some(moved) })
}

fn take(
    change: &Change<'_>,
    taking: &Taking,
    kind: MovementKind,
    lot: Option<LotId>,
    verb: &str,
) -> Result<Done, Refusal> {
    let supplier = match kind {
        MovementKind::Return => found(change, taking.item)?.supplier,
        _ => String::new(),
    };
    let (item, row) = book(
        change,
        &NewMovement {
            item: taking.item,
            date: taking.date,
            kind,
            quantity: taking.quantity,
            cost: None,
            lot,
            lot_number: "",
            supplier: &supplier,
            note: &taking.note,
            typed: &taking.typed,
        },
    )?;
    let method = document::settings(change.reader())?.valuation;
    let (_, ledger) = valued(change, taking.item, &item, method)?;
    let name = format!("{verb} {} {} of {}", taking.quantity, item.unit, item.name);
    Ok(Done { name, added: None, moved_value: Some(value_out(&ledger, row)?) })
}

/// Checks a movement field by field and adds it; whether there is enough shows when its item is valued.
pub(super) fn book(change: &Change<'_>, new: &NewMovement<'_>) -> Result<(Item, MovementId), Refusal> {
    let item = found(change, new.item)?;
    accept(&item, new, period::closed_until(change.reader())?)?;
    let row = movement::Writer::new(change)?.insert(new)?;
    Ok((item, row))
}

/// Checks a movement field by field.
pub(super) fn accept(item: &Item, new: &NewMovement<'_>, closed_until: Option<NaiveDate>) -> Result<(), Refusal> {
    limits::date("Date", new.date)?;
    period::accept(new.date, closed_until)?;
    let range = if new.kind == MovementKind::Count { Range::ZeroOrMore } else { Range::AboveZero };
    limits::quantity("Quantity", new.quantity, range)?;
    if let Some(cost) = new.cost {
        accept_cost(item, cost, new.quantity)?;
    }
    limits::optional_name("Lot number", new.lot_number)?;
    limits::optional_name("Supplier", new.supplier)?;
    limits::optional_name("Quantity as typed", new.typed)?;
    limits::text("Note", new.note)
}

/// Checks what a lot of that quantity costs.
pub(super) fn accept_cost(item: &Item, cost: Money, quantity: Quantity) -> Result<(), Refusal> {
    limits::sum("Cost", cost, Range::ZeroOrMore)?;
    let price = exact::div(cost.amount(), quantity.amount());
    if price.is_ok_and(|price| price > Decimal::from(MONEY_LIMIT)) || price.is_err() {
        return Err(refuse(
            "Cost",
            format!("{cost} for {quantity} {}", item.unit),
            format!("a price of up to {MONEY_LIMIT} a unit is accepted"),
        ));
    }
    Ok(())
}

/// The value a movement took out; below zero where a count found more.
fn value_out(ledger: &Ledger, row: MovementId) -> Result<Money, Refusal> {
    let line = ledger.lines.iter().find(|line| line.movement == row);
    let change = line.map_or(Money::ZERO, |line| line.value_change);
    Ok(Money::ZERO.minus(change).map_err(too_large)?)
}

pub(super) fn too_large(error: crate::measure::TooLarge) -> BookError {
    BookError::TooLarge(error.to_string())
}

pub(super) fn found(change: &Change<'_>, id: ItemId) -> Result<Item, Refusal> {
    item::find(change.reader(), id)?.ok_or_else(|| missing(id))
}

/// An item's movements and what they come to; refused when they would go below zero on any day.
fn valued(
    change: &Change<'_>,
    id: ItemId,
    item: &Item,
    method: ValuationMethod,
) -> Result<(Vec<Movement>, Ledger), Refusal> {
    let movements = movement::bare_of_item(change.reader(), id)?;
    let ledger = valuation::ledger(&movements, method).map_err(|error| refusal(item, error))?;
    Ok((movements, ledger))
}

/// Why movements cannot be, in the item's own name.
pub(super) fn refusal(item: &Item, error: StockError) -> Refusal {
    match error {
        StockError::NotEnough { date, on_hand, asked, movement: _ } => {
            Refusal::NotEnough { item: item.name.clone(), on_hand, unit: item.unit, date, asked }
        }
        StockError::LotTooSmall { left, movement: _ } => Refusal::No(format!(
            "{}: the lot holds only {left} {} on that day; choose another lot, or return less",
            item.name, item.unit
        )),
        // Refused field by field before a movement is written.
        error @ StockError::NotPositive { .. } => Refusal::No(format!("{}: {error}", item.name)),
        StockError::TooLarge(error) => Refusal::Book(too_large(error)),
    }
}

/// What an item's movements come to.
pub(super) fn state_of(movements: &[Movement], ledger: &Ledger) -> ItemState {
    ItemState {
        on_hand: ledger.on_hand,
        value: ledger.value,
        book_price: valuation::book_unit_price(ledger),
        replacement_price: valuation::replacement_unit_price(movements),
        last_moved: movements.last().map(|movement| movement.date),
    }
}

/// Computes the kept state of every item whose movements changed. What was cut or reclaimed from an item follows it, and is
/// computed in its turn. What a lot follows is earlier than the lot by date, then id, so that this ends: each round settles
/// at least the earliest lot that was not settled yet.
pub(super) fn refresh(change: &Change<'_>) -> Result<(), Refusal> {
    loop {
        let touched = change.take_touched_items()?;
        if touched.is_empty() {
            return Ok(());
        }
        let method = document::settings(change.reader())?.valuation;
        for id in touched {
            // An item that undo took out has no state.
            if let Some(item) = item::find(change.reader(), id)? {
                let (movements, ledger) = valued(change, id, &item, method)?;
                item_state::put(change, id, &state_of(&movements, &ledger))?;
                cuts::follow(change, id, &ledger)?;
                lots::follow(change, id, &movements, &ledger)?;
            }
        }
    }
}
