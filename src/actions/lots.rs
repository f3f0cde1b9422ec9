//! Lots that are not bought, and lots whose price was not what it seemed.

use super::limits::{self, refuse};
use super::perform::Done;
use super::stock::{accept_cost, book, found, refusal, too_large};
use super::{Refusal, Taking, WashBackCost, period};
use crate::book::movement::{self, NewMovement};
use crate::book::{Change, Reader, correction, cut, document, item as items, reclaimed};
use crate::costing::reclaim::{reclaimed_cost, reclaimed_price};
use crate::costing::stock::{self as valuation, Ledger};
use crate::measure::{Decimal, Money};
use crate::studio::{Item, ItemId, LotId, Movement, MovementId, MovementKind};
use chrono::NaiveDate;

/// Takes reclaimed enamel in as a lot of its own.
pub(super) fn wash_back(change: &Change<'_>, taking: &Taking, cost: WashBackCost) -> Result<Done, Refusal> {
    let (item, _) = take_back(change, taking, cost)?;
    Ok(Done::named(format!("Wash back {} {} into {}", taking.quantity, item.unit, item.name)))
}

/// Takes reclaimed enamel in as a lot of its own, and returns the item with the lot's row.
pub(super) fn take_back(
    change: &Change<'_>,
    taking: &Taking,
    cost: WashBackCost,
) -> Result<(Item, MovementId), Refusal> {
    limits::quantity("Quantity", taking.quantity, limits::Range::AboveZero)?;
    let (cost, from) = match cost {
        WashBackCost::Nothing => (Money::ZERO, None),
        WashBackCost::Stated(cost) => (cost, None),
        WashBackCost::FromItem(from) => {
            let (source, price) = price_of(change, taking, from)?;
            (reclaimed_cost(price, taking.quantity).map_err(too_large)?, Some((from, source)))
        }
    };
    let note = match &from {
        Some((_, source)) if taking.note.trim().is_empty() => format!("Reclaimed from {}", source.name),
        Some((_, source)) => format!("Reclaimed from {}: {}", source.name, taking.note.trim()),
        None => taking.note.clone(),
    };
    let (item, row) = book(
        change,
        &NewMovement {
            item: taking.item,
            date: taking.date,
            kind: MovementKind::WashBack,
            quantity: taking.quantity,
            cost: Some(cost),
            lot: None,
            lot_number: "",
            supplier: "",
            note: &note,
            typed: &taking.typed,
        },
    )?;
    if let Some((from, _)) = from {
        reclaimed::insert(change, row, from)?;
    }
    Ok((item, row))
}

/// The item something was reclaimed from, and what a unit of it costs then.
fn price_of(change: &Change<'_>, taking: &Taking, from: ItemId) -> Result<(Item, Decimal), Refusal> {
    let (into, source) = (found(change, taking.item)?, found(change, from)?);
    if into.unit != source.unit {
        return Err(refuse(
            "Reclaimed from",
            format!("{}, kept in {}", source.name, source.unit),
            format!("an item kept in {}, as {} is, is accepted", into.unit, into.name),
        ));
    }
    let movements = movement::bare_of_item(change.reader(), from)?;
    let method = document::settings(change.reader())?.valuation;
    let ledger = valuation::ledger(&movements, method).map_err(|error| refusal(&source, error))?;
    // The last of its day.
    match reclaimed_price(&movements, &ledger, (taking.date, MovementId(i64::MAX))) {
        Some(price) => Ok((source, price)),
        None => Err(refuse(
            "Reclaimed from",
            &source.name,
            format!("an item with stock or an issue up to {} is accepted", taking.date),
        )),
    }
}

/// Wash-backs taken in at an item's price that would cost something else by its movements as they are, with that cost. One
/// for which there is no price any more stays as it is.
fn astray(
    reader: Reader<'_>,
    from: ItemId,
    movements: &[Movement],
    ledger: &Ledger,
) -> Result<Vec<(Movement, Money)>, Refusal> {
    let mut astray = Vec::new();
    for id in reclaimed::of_item(reader, from)? {
        let lot =
            movement::find(reader, id)?.ok_or_else(|| Refusal::Missing(format!("lot {} of reclaimed enamel", id.0)))?;
        let Some(price) = reclaimed_price(movements, ledger, (lot.date, lot.id)) else { continue };
        let cost = reclaimed_cost(price, lot.quantity).map_err(too_large)?;
        if lot.cost != Some(cost) {
            astray.push((lot, cost));
        }
    }
    Ok(astray)
}

/// Lets what was reclaimed at an item's price follow what the item costs now: lots that would cost something else are
/// corrected.
pub(super) fn follow(
    change: &Change<'_>,
    from: ItemId,
    movements: &[Movement],
    ledger: &Ledger,
) -> Result<(), Refusal> {
    for (lot, cost) in astray(change.reader(), from, movements, ledger)? {
        accept_cost(&found(change, lot.item)?, cost, lot.quantity)?;
        let note = "Follows the item it was reclaimed from";
        correction::insert(change, lot.item, LotId(lot.id.0), lot.date, cost, note)?;
    }
    Ok(())
}

/// Wash-backs that are not at the price of the item they were reclaimed from, a sentence each.
pub(super) fn problems(reader: Reader<'_>) -> Result<Vec<String>, Refusal> {
    let method = document::settings(reader)?.valuation;
    let mut problems = Vec::new();
    for from in reclaimed::sources(reader)? {
        let movements = movement::bare_of_item(reader, from)?;
        // Movements that cannot be valued are told of with their item.
        let Ok(ledger) = valuation::ledger(&movements, method) else { continue };
        for (lot, cost) in astray(reader, from, &movements, &ledger)? {
            let now = lot.cost.unwrap_or_default();
            problems
                .push(format!("lot {}, reclaimed, costs {now}; what it was reclaimed from makes it {cost}", lot.id.0));
        }
    }
    Ok(problems)
}

/// Says what a lot cost after all.
pub(super) fn correct(
    change: &Change<'_>,
    lot: LotId,
    date: NaiveDate,
    cost: Money,
    note: &str,
) -> Result<Done, Refusal> {
    let found_lot = movement::find(change.reader(), MovementId(lot.0))?.filter(|movement| movement.kind.is_lot());
    let Some(receipt) = found_lot else {
        return Err(Refusal::Missing(format!("lot {}", lot.0)));
    };
    let item = found(change, receipt.item)?;
    limits::date("Date", date)?;
    if date < receipt.date {
        return Err(refuse("Date", date, format!("the day the lot came in, {}, or later is accepted", receipt.date)));
    }
    let closed_until = period::closed_until(change.reader())?;
    period::accept(date, closed_until)?;
    if let Some(until) = closed_until.filter(|until| receipt.date <= *until) {
        return Err(Refusal::No(format!(
            "lot {} of {} came in on {}, and the period up to {until} is closed: another price would change what stock \
             was worth in it. Open the period first",
            lot.0, item.name, receipt.date
        )));
    }
    if cut::made(change.reader(), receipt.id)? {
        return Err(Refusal::No(format!(
            "lot {} of {} was cut from sheet, and its cost follows the sheet: correct the sheet's lot",
            lot.0, item.name
        )));
    }
    if let Some(from) = reclaimed::source(change.reader(), receipt.id)? {
        let source = items::find(change.reader(), from)?.map(|source| source.name).unwrap_or_default();
        return Err(Refusal::No(format!(
            "lot {} of {} was reclaimed from {source}, and its cost follows it: correct the lot of {source}",
            lot.0, item.name
        )));
    }
    accept_cost(&item, cost, receipt.quantity)?;
    limits::text("Note", note)?;
    let before = receipt.cost.unwrap_or_default();
    if cost == before {
        return Err(refuse("Cost", cost, "another cost than the lot has is accepted"));
    }
    correction::insert(change, receipt.item, lot, date, cost, note)?;
    Ok(Done::named(format!("Correct lot {} of {} from {before} to {cost}", lot.0, item.name)))
}
