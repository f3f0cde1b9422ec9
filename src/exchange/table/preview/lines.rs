//! Rows of movements, receipts and counts.

use super::Line;
use super::reading::Reading;
use crate::exchange::table::columns::{Field, ImportKind};
use crate::measure::{Money, Preferences, exact, parse};
use crate::studio::MovementKind;
use chrono::NaiveDate;

const KINDS: &str = "receipt, issue, return, count, write-off or wash-back";

/// A row as a movement; none where something is wrong with it.
pub(super) fn line(reading: &mut Reading<'_>, day: Option<NaiveDate>) -> Option<Line> {
    let before = reading.problems.len();
    let date = if reading.has(Field::Date) {
        reading.day(Field::Date)
    } else {
        if day.is_none() {
            reading.refuse(Field::Date, "the file has no column of days; choose the day its rows are of");
        }
        day
    };
    let item = reading.text(Field::Item);
    if item.is_empty() && reading.problems.iter().all(|problem| problem.field != Some(Field::Item)) {
        reading.refuse(Field::Item, "nothing stands there; the item's reference is accepted, e.g. EN-041");
    }
    let kind = match reading.kind() {
        ImportKind::Counts => Some(MovementKind::Count),
        ImportKind::Receipts => Some(MovementKind::Receipt),
        ImportKind::Movements | ImportKind::Items => movement(reading),
    };
    let amount = reading.amount(Field::Quantity);
    let cost = reading.money(Field::Cost);
    let price = reading.money(Field::Price);
    let (lot_number, supplier, note) =
        (reading.text(Field::Lot), reading.text(Field::Supplier), reading.text(Field::Note));
    let (date, kind, amount) = (date?, kind?, amount?);
    // The price of one is that of one unit as written.
    let cost = match (cost, price) {
        (None, Some(price)) => whole(reading, price, &amount.number),
        (cost, _) => cost,
    };
    (reading.problems.len() == before).then(|| Line {
        row: reading.number(),
        date,
        item,
        kind,
        quantity: amount.number,
        unit: amount.unit,
        cost,
        note,
        lot_number,
        supplier,
    })
}

fn whole(reading: &mut Reading<'_>, price: Money, number: &str) -> Option<Money> {
    let metric = Preferences::metric(crate::measure::Currency::USD);
    let product = parse::parse_number(number, &metric).ok().and_then(|many| exact::mul(price.amount(), many).ok());
    if product.is_none() {
        reading.refuse(Field::Price, format!("{price} for each of {number} is too large to compute"));
    }
    product.map(Money::rounded)
}

/// What a row's word says it does.
fn movement(reading: &mut Reading<'_>) -> Option<MovementKind> {
    let found = reading.word(Field::Movement, KINDS, |word| {
        // Words of the trade (common practice, no source).
        let name = match word {
            "receipt" | "received" | "receive" | "purchase" | "purchased" | "bought" | "delivery" | "in" => "receipt",
            "issue" | "issued" | "used" | "use" | "out" | "to-bench" => "issue",
            "return" | "returned" | "sent-back" | "return-to-supplier" => "return",
            "count" | "counted" | "stocktake" | "stock-take" | "weighed" | "on-hand" => "count",
            "write-off" | "writeoff" | "written-off" | "spilled" | "spoiled" | "lost" | "broken" => "write-off",
            "wash-back" | "washback" | "washed-back" | "reclaimed" => "wash-back",
            other => other,
        };
        MovementKind::from_name(name)
    });
    match found {
        Some(kind) => reading.keep(Field::Movement, kind.name()),
        None if reading.problems.iter().all(|problem| problem.field != Some(Field::Movement)) => {
            reading.refuse(Field::Movement, format!("nothing stands there; {KINDS} is accepted"));
        }
        None => {}
    }
    found
}
