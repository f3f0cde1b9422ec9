//! The rows of the list, worded and sorted; the items that can be picked.

use super::words;
use crate::book::{Snapshot, StockRow};
use crate::costing::landed::{LandedOrder, invoice_total};
use crate::measure::{Money, Preferences, display};
use crate::studio::{BookOrder, ItemId, OrderId};
use crate::window::widget::listing::Order;
use chrono::NaiveDate;

/// Most items that are offered at once.
const MOST_FOUND: usize = 6;

/// The column of the supplier.
pub(super) const SUPPLIER: usize = 0;
/// The column of the day.
pub(super) const DATE: usize = 1;
/// The column of what the order costs landed.
pub(super) const LANDED: usize = 2;

/// A row of the list.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) id: OrderId,
    pub(super) open: bool,
    pub(super) name: String,
    pub(super) date: String,
    pub(super) to_come: String,
    pub(super) landed: String,
    pub(super) lead: bool,
    day: NaiveDate,
    cost: Option<Money>,
}

/// Every order worded: those of which more is expected first, each part sorted by a column.
pub(super) fn word_all(
    orders: &[BookOrder],
    snapshot: &Snapshot,
    preferences: &Preferences,
    (column, order): (usize, Order),
) -> Vec<Row> {
    let mut rows: Vec<Row> = orders.iter().map(|of| word(of, snapshot, preferences)).collect();
    rows.sort_by(|a, b| {
        let by = match column {
            SUPPLIER => a.name.to_lowercase().cmp(&b.name.to_lowercase()),
            LANDED => a.cost.cmp(&b.cost),
            _ => a.day.cmp(&b.day).then(a.id.cmp(&b.id)),
        };
        let by = match order {
            Order::Rising => by,
            Order::Falling => by.reverse(),
        };
        b.open.cmp(&a.open).then(by)
    });
    rows
}

fn word(of: &BookOrder, snapshot: &Snapshot, preferences: &Preferences) -> Row {
    let cost = invoice_total(&LandedOrder::of(&of.order, preferences.currency)).ok();
    Row {
        id: of.id,
        open: !of.order.closed,
        name: of.order.title(),
        date: of.order.date.to_string(),
        to_come: to_come(of, snapshot, preferences),
        landed: cost.map(|cost| display::money(cost.amount(), preferences)).unwrap_or_else(|| "–".to_owned()),
        lead: of.order.lines.iter().any(|line| snapshot.item(line.item).is_some_and(|row| row.item.lead_bearing)),
        day: of.order.date,
        cost,
    }
}

/// What is still to come of an order.
fn to_come(of: &BookOrder, snapshot: &Snapshot, preferences: &Preferences) -> String {
    let left = of.to_come();
    let open: Vec<String> = of
        .order
        .lines
        .iter()
        .zip(left)
        .filter(|(_, left)| !left.is_zero())
        .map(|(line, left)| {
            let name = snapshot.item(line.item).map_or("", |row| row.item.name.as_str());
            format!("{} {name}", words::count(left, preferences))
        })
        .collect();
    match (of.order.closed, open.is_empty()) {
        (_, true) => "all of it came".to_owned(),
        (true, false) => "nothing more expected".to_owned(),
        (false, false) => open.join(", "),
    }
}

/// How many orders there are, and how many of them are open.
pub(super) fn summary(rows: &[Row]) -> String {
    let open = rows.iter().filter(|row| row.open).count();
    let all = words::counted(rows.len(), "order", "orders");
    match open {
        0 => format!("{all}, nothing is still to come"),
        open => format!("{all}, {open} open: something is still to come"),
    }
}

/// An item that can be ordered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct ItemOption {
    pub(super) id: ItemId,
    pub(super) words: String,
    folded: String,
}

/// Items that are not set aside.
pub(super) fn options(stock: &[StockRow]) -> Vec<ItemOption> {
    let items = stock.iter().filter(|row| !row.item.retired);
    items
        .map(|row| {
            let item = &row.item;
            let lead = if item.lead_bearing { " · bears lead" } else { "" };
            let words = format!("{} · {}{lead}", item.name, item.reference);
            let folded = format!("{words} {} {} {}", item.maker, item.maker_number, item.supplier).to_lowercase();
            ItemOption { id: row.id, words, folded }
        })
        .collect()
}

/// The first items every word typed is found in; none while nothing is typed.
pub(super) fn found(options: &[ItemOption], text: &str) -> Vec<ItemOption> {
    let folded = text.to_lowercase();
    let typed: Vec<&str> = folded.split_whitespace().collect();
    if typed.is_empty() {
        return Vec::new();
    }
    let fits = |option: &&ItemOption| typed.iter().all(|word| option.folded.contains(word));
    options.iter().filter(fits).take(MOST_FOUND).cloned().collect()
}
