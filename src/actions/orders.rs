//! Orders: placed, changed, received in whole or in part, with the files kept beside them.

use super::limits::{self, Range, refuse};
use super::perform::Done;
use super::stock::{accept_cost, book, found, too_large};
use super::{Added, Delivered, Refusal, period};
use crate::book::movement::NewMovement;
use crate::book::{Change, Reader, correction, document, purchase};
use crate::costing::delivery::{self, delivery_cost};
use crate::costing::landed::{LandedOrder, landed_costs};
use crate::measure::{Currency, Money, Quantity, exact};
use crate::studio::{
    Attachment, AttachmentId, BookOrder, Delivery, LotId, MovementKind, OrderId, OrderLine, PurchaseOrder,
};
use chrono::NaiveDate;

/// Most lines of one order.
const MOST_LINES: usize = 1_000;

/// Largest file kept with an order, bytes.
const MOST_BYTES: usize = 5 * 1024 * 1024;

/// Adds an order, or changes the one of that row. Receipts that came with it cost what it says now.
pub(super) fn save(
    change: &Change<'_>,
    id: Option<OrderId>,
    given: &PurchaseOrder,
    today: NaiveDate,
    action: i64,
) -> Result<Done, Refusal> {
    let before = match id {
        Some(id) => Some(purchase::find(change.reader(), id)?.ok_or_else(|| missing(id))?),
        None => None,
    };
    let mut order = given.clone();
    accept(change, &mut order)?;
    let currency = document::settings(change.reader())?.currency;
    line_costs(&order, currency)?;
    let nothing = Vec::new();
    let (old_lines, old_deliveries) =
        before.as_ref().map_or((&nothing, &[][..]), |before| (&before.order.lines, before.deliveries.as_slice()));
    for line in order.lines.iter().filter_map(|line| line.id) {
        if !old_lines.iter().any(|old| old.id == Some(line)) {
            return Err(Refusal::Missing(format!("line with row {} in this order", line.0)));
        }
    }
    for (old, came) in old_lines.iter().zip(old_deliveries).filter(|(_, came)| !came.is_empty()) {
        keeps_what_came(old, came, &order)?;
    }
    let row = purchase::save(change, id, &order, action)?;
    let saved = purchase::find(change.reader(), row)?.ok_or_else(|| missing(row))?;
    if !saved.order.closed && is_whole(&saved)? {
        purchase::close(change, row, action)?;
    }
    let corrected = match &before {
        Some(before) => cost_again(change, before, &saved, currency, today)?,
        None => 0,
    };
    let name = order.title();
    Ok(match (id, corrected) {
        (None, _) => Done::adding(format!("Order {name}"), Added::Order(row)),
        (Some(_), 0) => Done::named(format!("Change order {name}")),
        (Some(_), 1) => Done::named(format!("Change order {name}: the cost of 1 lot corrected")),
        (Some(_), lots) => Done::named(format!("Change order {name}: the costs of {lots} lots corrected")),
    })
}

fn missing(id: OrderId) -> Refusal {
    Refusal::Missing(format!("order with row {}", id.0))
}

fn accept(change: &Change<'_>, order: &mut PurchaseOrder) -> Result<(), Refusal> {
    order.supplier = limits::optional_name("Supplier", &order.supplier)?;
    order.reference = limits::optional_name("Order number", &order.reference)?;
    limits::date("Date", order.date)?;
    limits::number("Exchange rate", order.rate, Range::AboveZero)?;
    for (field, amount) in [("Freight", order.freight), ("Duty", order.duty), ("Discount", order.discount)] {
        limits::sum(field, amount, Range::ZeroOrMore)?;
    }
    limits::text("Note", &order.note)?;
    if order.lines.is_empty() || order.lines.len() > MOST_LINES {
        return Err(refuse("Lines", order.lines.len(), format!("1 to {MOST_LINES} lines are accepted")));
    }
    for (number, line) in (1..).zip(&mut order.lines) {
        let field = |name: &str| format!("Line {number}, {name}");
        let item = found(change, line.item)?;
        limits::quantity(&field("packs"), line.packs, Range::AboveZero)?;
        limits::quantity(&field("quantity in a pack"), line.pack, Range::AboveZero)?;
        line.pack_words = limits::optional_name(&field("pack"), &line.pack_words)?;
        limits::sum(&field("price"), line.price, Range::ZeroOrMore)?;
        if let Some(weight) = line.weight_g {
            limits::quantity(&field("weight"), weight, Range::ZeroOrMore)?;
        }
        limits::quantity(&field("quantity"), in_units(line, line.packs)?, Range::AboveZero).map_err(|_| {
            refuse(
                &field("quantity"),
                format!("{} packs of {} {}", line.packs, line.pack, item.unit),
                "packs and what they hold that come to at most nine decimals are accepted",
            )
        })?;
    }
    Ok(())
}

/// So many packs of a line in its item's unit.
fn in_units(line: &OrderLine, packs: Quantity) -> Result<Quantity, Refusal> {
    let units = exact::mul(packs.amount(), line.pack.amount()).map_err(too_large)?;
    Quantity::new(units).ok_or_else(|| {
        refuse(
            "Packs",
            format!("{packs} of {}", line.pack),
            "packs and what they hold that come to at most nine decimals are accepted",
        )
    })
}

/// What each line costs landed, in the book's currency.
pub(super) fn line_costs(order: &PurchaseOrder, book_currency: Currency) -> Result<Vec<Money>, Refusal> {
    let landed = landed_costs(&LandedOrder::of(order, book_currency));
    let landed = landed.map_err(|problems| {
        let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
        refuse("Order", order.title(), said.join("; "))
    })?;
    Ok(landed.into_iter().map(|line| line.total).collect())
}

/// A line of which something came keeps its item and its pack, and at least what came.
fn keeps_what_came(old: &OrderLine, came: &[Delivery], order: &PurchaseOrder) -> Result<(), Refusal> {
    let packs = packs_of(came)?;
    let Some((number, line)) = (1..).zip(&order.lines).find(|(_, line)| line.id == old.id) else {
        return Err(refuse("Lines", "a line taken away", format!("the line {packs} packs came of is accepted")));
    };
    if line.item != old.item || line.pack != old.pack {
        return Err(refuse(
            &format!("Line {number}, item and pack"),
            "another",
            format!("those {packs} packs came of are accepted"),
        ));
    }
    if line.packs < packs {
        return Err(refuse(
            &format!("Line {number}, packs"),
            line.packs,
            format!("{packs}, which came already, or more is accepted"),
        ));
    }
    Ok(())
}

fn packs_of(came: &[Delivery]) -> Result<Quantity, Refusal> {
    came.iter().try_fold(Quantity::ZERO, |all, one| Ok(all.plus(one.packs).map_err(too_large)?))
}

/// All of it came.
fn is_whole(order: &BookOrder) -> Result<bool, Refusal> {
    for (line, came) in order.order.lines.iter().zip(&order.deliveries) {
        if packs_of(came)? < line.packs {
            return Ok(false);
        }
    }
    Ok(true)
}

/// What each delivery of each line costs by the order alone.
pub(super) fn delivery_costs(order: &BookOrder, currency: Currency) -> Result<Vec<Vec<Money>>, Refusal> {
    let landed = line_costs(&order.order, currency)?;
    let mut all = Vec::with_capacity(landed.len());
    for ((line, whole), came) in order.order.lines.iter().zip(landed).zip(&order.deliveries) {
        let mut before = delivery::Delivered::default();
        let mut costs = Vec::with_capacity(came.len());
        for one in came {
            let cost = part(line, whole, before, one.packs, currency)?;
            before = after(before, one.packs, cost)?;
            costs.push(cost);
        }
        all.push(costs);
    }
    Ok(all)
}

fn part(
    line: &OrderLine,
    whole: Money,
    before: delivery::Delivered,
    packs: Quantity,
    currency: Currency,
) -> Result<Money, Refusal> {
    delivery_cost(line.packs, whole, before, packs, currency)
        .map_err(|problem| refuse("Packs", packs, problem.to_string()))
}

fn after(before: delivery::Delivered, packs: Quantity, cost: Money) -> Result<delivery::Delivered, Refusal> {
    Ok(delivery::Delivered {
        quantity: before.quantity.plus(packs).map_err(too_large)?,
        cost: before.cost.plus(cost).map_err(too_large)?,
    })
}

/// Corrects the lots whose cost by the order is another than it was; says how many.
fn cost_again(
    change: &Change<'_>,
    before: &BookOrder,
    now: &BookOrder,
    currency: Currency,
    today: NaiveDate,
) -> Result<usize, Refusal> {
    let (was, is) = (delivery_costs(before, currency)?, delivery_costs(now, currency)?);
    let mut corrected = 0;
    let lines = now.order.lines.iter().zip(&now.deliveries).zip(&is);
    for ((line, came), costs) in lines {
        let old = before.order.lines.iter().position(|old| old.id == line.id).and_then(|place| was.get(place));
        for ((one, cost), old) in came.iter().zip(costs).zip(old.into_iter().flatten()) {
            if cost == old || *cost == one.cost {
                continue;
            }
            let closed_until = period::closed_until(change.reader())?;
            period::accept(one.date, closed_until)?;
            let item = found(change, line.item)?;
            accept_cost(&item, *cost, in_units(line, one.packs)?)?;
            let note = format!("Order {} changed", now.order.title());
            correction::insert(change, line.item, LotId(one.movement.0), today.max(one.date), *cost, &note)?;
            corrected += 1;
        }
    }
    Ok(corrected)
}

/// Receives an order, or part of it.
pub(super) fn receive(
    change: &Change<'_>,
    id: OrderId,
    date: NaiveDate,
    came: &[Delivered],
    action: i64,
) -> Result<Done, Refusal> {
    let order = purchase::find(change.reader(), id)?.ok_or_else(|| missing(id))?;
    if came.is_empty() {
        return Err(refuse("Lines", 0, "at least one line is accepted"));
    }
    if date < order.order.date {
        return Err(refuse("Date", date, format!("the day of the order, {}, or later is accepted", order.order.date)));
    }
    let currency = document::settings(change.reader())?.currency;
    let landed = line_costs(&order.order, currency)?;
    let mut costs = delivery_costs(&order, currency)?;
    let mut packs: Vec<Vec<Quantity>> =
        order.deliveries.iter().map(|came| came.iter().map(|one| one.packs).collect()).collect();
    for one in came {
        let place = order.order.lines.iter().position(|line| line.id == Some(one.line));
        let parts = place.and_then(|place| {
            let line = order.order.lines.get(place)?;
            Some((place + 1, line, *landed.get(place)?, costs.get_mut(place)?, packs.get_mut(place)?))
        });
        let Some((number, line, whole, costs, packs)) = parts else {
            return Err(Refusal::Missing(format!("line with row {} in this order", one.line.0)));
        };
        limits::quantity(&format!("Line {number}, packs"), one.packs, Range::AboveZero)?;
        let before = costs
            .iter()
            .zip(packs.iter())
            .try_fold(delivery::Delivered::default(), |before, (cost, packs)| after(before, *packs, *cost))?;
        let cost = part(line, whole, before, one.packs, currency)?;
        let words = if line.pack_words.is_empty() {
            format!("{} × {}", one.packs, line.pack)
        } else {
            format!("{} × {}", one.packs, line.pack_words)
        };
        let (_, row) = book(
            change,
            &NewMovement {
                item: line.item,
                date,
                kind: MovementKind::Receipt,
                quantity: in_units(line, one.packs)?,
                cost: Some(cost),
                lot: None,
                lot_number: &one.lot_number,
                supplier: &order.order.supplier,
                note: &one.note,
                typed: &words,
            },
        )?;
        purchase::deliver(change, one.line, row, one.packs)?;
        costs.push(cost);
        packs.push(one.packs);
    }
    let now = purchase::find(change.reader(), id)?.ok_or_else(|| missing(id))?;
    let whole = is_whole(&now)?;
    if whole && !now.order.closed {
        purchase::close(change, id, action)?;
    }
    let name = order.order.title();
    Ok(Done::named(if whole { format!("Receive order {name}") } else { format!("Receive part of order {name}") }))
}

/// Keeps a file with an order.
pub(super) fn attach(change: &Change<'_>, order: OrderId, file: &Attachment) -> Result<Done, Refusal> {
    let found = purchase::find(change.reader(), order)?.ok_or_else(|| missing(order))?;
    let name = limits::name("File", &file.name)?;
    let media_type = limits::name("Kind of file", &file.media_type)?;
    if file.bytes.is_empty() || file.bytes.len() > MOST_BYTES {
        return Err(refuse("File", format!("{} bytes", file.bytes.len()), "1 byte to 5 MB are accepted"));
    }
    purchase::attach(change, order, &Attachment { name: name.clone(), media_type, bytes: file.bytes.clone() })?;
    Ok(Done::named(format!("Keep {name} with order {}", found.order.title())))
}

/// Takes a file away from its order.
pub(super) fn detach(change: &Change<'_>, id: AttachmentId) -> Result<Done, Refusal> {
    match purchase::detach(change, id)? {
        Some(name) => Ok(Done::named(format!("Take {name} away"))),
        None => Err(Refusal::Missing(format!("file with row {}", id.0))),
    }
}

/// Orders whose lots cost something else than the order says and were not corrected, a sentence each.
pub(super) fn problems(reader: Reader<'_>) -> Result<Vec<String>, Refusal> {
    let currency = document::settings(reader)?.currency;
    let mut problems = Vec::new();
    for order in purchase::list(reader, purchase::Which::All)? {
        let name = order.order.title();
        match delivery_costs(&order, currency) {
            Err(refusal) => problems.push(format!("order {name}: {refusal}")),
            Ok(costs) => {
                for (one, cost) in order.deliveries.iter().flatten().zip(costs.iter().flatten()) {
                    if one.cost != *cost && !correction::is_corrected(reader, LotId(one.movement.0))? {
                        problems.push(format!(
                            "order {name}: lot {} cost {}, the order says {cost}",
                            one.movement.0, one.cost
                        ));
                    }
                }
            }
        }
    }
    Ok(problems)
}
