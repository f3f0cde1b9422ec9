//! Lots that are not bought, and lots whose price was not what it seemed.

use super::limits::{self, refuse};
use super::perform::Done;
use super::stock::{accept_cost, book, found, refusal, too_large};
use super::{Refusal, Taking, WashBackCost, period};
use crate::book::movement::{self, NewMovement};
use crate::book::{Change, correction, cut, document};
use crate::costing::stock::{self as valuation};
use crate::measure::{Decimal, Money, exact};
use crate::studio::{Item, ItemId, LotId, MovementId, MovementKind};
use chrono::NaiveDate;

/// Takes reclaimed enamel in as a lot of its own.
pub(super) fn wash_back(change: &Change<'_>, taking: &Taking, cost: WashBackCost) -> Result<Done, Refusal> {
    limits::quantity("Quantity", taking.quantity, limits::Range::AboveZero)?;
    let cost = match cost {
        WashBackCost::Nothing => Money::ZERO,
        WashBackCost::Stated(cost) => cost,
        WashBackCost::FromItem(from) => {
            let price = reclaimed_price(change, taking, from)?;
            Money::rounded(exact::mul(price, taking.quantity.amount()).map_err(too_large)?)
        }
    };
    let item = book(
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
            note: &taking.note,
            typed: &taking.typed,
        },
    )?
    .0;
    Ok(Done::named(format!("Wash back {} {} into {}", taking.quantity, item.unit, item.name)))
}

/// What a unit of what was reclaimed cost: the price of a unit of that item on hand at the end of the day, or, where none
/// was left, what a unit cost when it was issued last.
fn reclaimed_price(change: &Change<'_>, taking: &Taking, from: ItemId) -> Result<Decimal, Refusal> {
    let (into, source) = (found(change, taking.item)?, found(change, from)?);
    if into.unit != source.unit {
        return Err(refuse(
            "Reclaimed from",
            format!("{}, kept in {}", source.name, source.unit),
            format!("an item kept in {}, as {} is, is accepted", into.unit, into.name),
        ));
    }
    let mut movements = movement::bare_of_item(change.reader(), from)?;
    movements.retain(|movement| movement.date <= taking.date);
    let method = document::settings(change.reader())?.valuation;
    let ledger = valuation::ledger(&movements, method).map_err(|error| refusal(&source, error))?;
    let issued = || {
        let issue = movements.iter().rposition(|movement| movement.kind == MovementKind::Issue)?;
        let line = ledger.lines.get(issue)?;
        let cost = Money::ZERO.minus(line.value_change).ok()?;
        let quantity = crate::measure::Quantity::ZERO.minus(line.change).ok()?;
        valuation::unit_price(cost, quantity)
    };
    valuation::book_unit_price(&ledger).or_else(issued).ok_or_else(|| {
        refuse(
            "Reclaimed from",
            &source.name,
            format!("an item with stock or an issue up to {} is accepted", taking.date),
        )
    })
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
    let item: Item = found(change, receipt.item)?;
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
    accept_cost(&item, cost, receipt.quantity)?;
    limits::text("Note", note)?;
    let before = receipt.cost.unwrap_or_default();
    if cost == before {
        return Err(refuse("Cost", cost, "another cost than the lot has is accepted"));
    }
    correction::insert(change, receipt.item, lot, date, cost, note)?;
    Ok(Done::named(format!("Correct lot {} of {} from {before} to {cost}", lot.0, item.name)))
}
