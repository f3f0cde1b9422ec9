//! `stock …`: items, lots in, quantities out, counts, value.

use super::arguments::Format;
use super::buying;
use super::cost::dash;
use super::export;
use super::failure::Failure;
use super::session::Session;
use super::stock_add;
use super::stock_arguments::{List, Receive, Return, Show, StockTask, Take, Value};
use super::table::{Align, Table};
use super::typed;
use super::words::{counted, fine_money, money, quantity};
use super::{cutting, orders, stock_import, stock_jars, stock_lots, trace};
use crate::actions::{self, Action, Outcome, Receipt, Taking};
use crate::book::{Book, Snapshot, StockRow};
use crate::costing::stock::ledger;
use crate::measure::Preferences;
use crate::studio::{ItemId, ItemKind, LotId, ValuationMethod};
use serde_json::json;

pub(super) fn stock(session: &mut Session<'_>, task: StockTask) -> Result<(), Failure> {
    match task {
        StockTask::List(task) => list(session, &task),
        StockTask::Add(task) => stock_add::add(session, *task),
        StockTask::Receive(task) => receive(session, task),
        StockTask::Issue(task) => take(session, task, Action::Issue),
        StockTask::WriteOff(task) => take(session, task, Action::WriteOff),
        StockTask::Count(task) => take(session, task, Action::Count),
        StockTask::Return(Return { take: task, lot }) => {
            take(session, task, |taking| Action::Return { taking, lot: lot.map(LotId) })
        }
        StockTask::WashBack(task) => stock_lots::wash_back(session, task),
        StockTask::Correct(task) => stock_lots::correct(session, &task),
        StockTask::Jar(task) => stock_jars::save(session, task),
        StockTask::Weigh(task) => stock_jars::weigh(session, &task),
        StockTask::Order(task) => orders::order(session, task),
        StockTask::Nest(task) => cutting::nest(session, &task),
        StockTask::Cut(task) => cutting::cut(session, task),
        StockTask::Close(task) => stock_lots::close(session, &task),
        StockTask::Import(task) => stock_import::import(session, &task),
        StockTask::Export(task) => export::export(session, &task),
        StockTask::Trace(task) => trace::trace(session, &task),
        StockTask::Show(task) => show(session, &task),
        StockTask::Buy(task) => buying::buy(session, &task),
        StockTask::Value(task) => value(session, &task),
    }
}

/// The item of that reference, upper and lower case alike where only one is meant; none is the program's no.
pub(super) fn find<'a>(snapshot: &'a Snapshot, reference: &str) -> Result<&'a StockRow, Failure> {
    if let Some(row) = snapshot.stock.iter().find(|row| row.item.reference == reference) {
        return Ok(row);
    }
    let folded = reference.to_lowercase();
    let mut near = snapshot.stock.iter().filter(|row| row.item.reference.to_lowercase() == folded);
    match (near.next(), near.next()) {
        (Some(row), None) => Ok(row),
        _ => Err(Failure::no(format!("there is no item {reference}; `stock list` shows the references"))),
    }
}

/// Every field of an item's row.
pub(super) fn row_json(row: &StockRow) -> serde_json::Value {
    let item = &row.item;
    json!({
        "reference": item.reference, "name": item.name, "kind": item.details.kind().name(), "unit": item.unit.name(),
        "on_hand": row.on_hand.to_string(), "value": row.value.to_string(),
        "book_price": row.book_price.map(|price| price.normalize().to_string()),
        "replacement_price": row.replacement_price.map(|price| price.normalize().to_string()),
        "reorder_level": item.reorder_level.map(|level| level.to_string()), "low": row.is_low(),
        "last_moved": row.last_moved, "lead_bearing": item.lead_bearing, "maker": item.maker,
        "maker_number": item.maker_number, "supplier": item.supplier, "shelf": item.shelf, "note": item.note,
        "retired": item.retired, "pack": item.buying.pack.as_ref().map(|pack| &pack.words),
        "pack_quantity": item.buying.pack.as_ref().map(|pack| pack.quantity.to_string()),
        "lead_days": item.buying.lead_days, "least_packs": item.buying.minimum_order_packs,
    })
}

/// JSON: `currency`; `items`: list of `reference`, `name`, `kind`, `unit`, `on_hand`, `value`, `book_price`,
/// `replacement_price`, `reorder_level`, `low`, `last_moved`, `lead_bearing`, `maker`, `maker_number`, `supplier`,
/// `shelf`, `note`, `retired`, `pack`, `pack_quantity`, `lead_days`, `least_packs`.
fn list(session: &mut Session<'_>, task: &List) -> Result<(), Failure> {
    let (_, snapshot) = session.read()?;
    let kind = task.kind.map(ItemKind::from);
    let find = task.find.as_deref().map(str::to_lowercase);
    let rows: Vec<&StockRow> = snapshot
        .stock
        .iter()
        .filter(|row| task.all || !row.item.retired)
        .filter(|row| !task.low || row.is_low())
        .filter(|row| kind.is_none_or(|kind| row.item.details.kind() == kind))
        .filter(|row| find.as_deref().is_none_or(|text| holds(row, text)))
        .collect();
    if task.form.format == Format::Json {
        let items: Vec<_> = rows.iter().map(|row| row_json(row)).collect();
        return session.json(&json!({ "currency": snapshot.settings.currency.code(), "items": items }));
    }
    if rows.is_empty() {
        let sentence = if snapshot.stock.is_empty() {
            "The shelf is empty: `stock add` writes an item down, `stock receive` takes a lot in."
        } else {
            "No item answers that."
        };
        return session.say(sentence);
    }
    let preferences = Preferences::from(&*snapshot.settings);
    let mut table = Table::new(&[
        ("Reference", Align::Left),
        ("Name", Align::Left),
        ("Kind", Align::Left),
        ("On hand", Align::Right),
        ("Value", Align::Right),
        ("Reorder at", Align::Right),
        ("", Align::Left),
    ]);
    for row in &rows {
        let item = &row.item;
        let mut remarks = Vec::new();
        if row.is_low() {
            remarks.push("low");
        }
        if item.lead_bearing {
            remarks.push("bears lead");
        }
        if item.retired {
            remarks.push("set aside");
        }
        table.row([
            item.reference.clone(),
            item.name.clone(),
            item.details.kind().name().to_owned(),
            quantity(row.on_hand, item.unit, &preferences),
            money(row.value.amount(), &preferences),
            item.reorder_level.map_or_else(String::new, |level| quantity(level, item.unit, &preferences)),
            remarks.join(", "),
        ]);
    }
    session.write(table)?;
    session.say(&counted(rows.len(), "item", "items"))
}

fn holds(row: &StockRow, text: &str) -> bool {
    let item = &row.item;
    [&item.reference, &item.name, &item.maker, &item.maker_number, &item.supplier, &item.shelf, &item.note]
        .into_iter()
        .any(|field| field.to_lowercase().contains(text))
}

fn receive(session: &mut Session<'_>, task: Receive) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let row = find(&snapshot, &task.reference)?;
    let quantity = typed::quantity("quantity", &task.quantity, row.item.unit, &preferences)?;
    let cost = typed::money("cost", &task.cost, &preferences)?;
    let receipt = Receipt {
        item: row.id,
        date: task.date.unwrap_or_else(|| session.today()),
        quantity,
        typed: task.quantity,
        cost,
        lot_number: task.lot,
        supplier: task.supplier.unwrap_or_else(|| row.item.supplier.clone()),
        note: task.note,
    };
    let outcome = session.perform(&mut book, Action::Receive(vec![receipt]))?;
    tell(session, &book, row.id, &outcome, task.form.format)
}

fn take(session: &mut Session<'_>, task: Take, action: impl FnOnce(Taking) -> Action) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let row = find(&snapshot, &task.reference)?;
    let quantity = typed::quantity("quantity", &task.quantity, row.item.unit, &preferences)?;
    let date = task.date.unwrap_or_else(|| session.today());
    let taking = Taking { item: row.id, date, quantity, typed: task.quantity, note: task.note };
    let outcome = session.perform(&mut book, action(taking))?;
    tell(session, &book, row.id, &outcome, task.form.format)
}

/// What was done and what is there now. JSON: `done`, `moved_value`, `item` (the fields of `stock list`).
pub(super) fn tell(
    session: &mut Session<'_>,
    book: &Book,
    item: ItemId,
    outcome: &Outcome,
    format: Format,
) -> Result<(), Failure> {
    let snapshot = actions::snapshot(book)?;
    let row = snapshot.item(item);
    if format == Format::Json {
        let moved = outcome.moved_value.map(|value| value.to_string());
        let answer = json!({ "done": outcome.name, "moved_value": moved, "item": row.map(row_json) });
        return session.json(&answer);
    }
    let preferences = Preferences::from(&*snapshot.settings);
    let mut sentence = outcome.name.clone();
    if let Some(value) = outcome.moved_value {
        sentence = format!("{sentence}, {}", money(value.amount(), &preferences));
    }
    session.say(&sentence)?;
    match row {
        Some(row) => session.say(&format!(
            "{}: {} on hand, worth {}{}",
            row.item.name,
            quantity(row.on_hand, row.item.unit, &preferences),
            money(row.value.amount(), &preferences),
            if row.is_low() { "; low" } else { "" }
        )),
        None => Ok(()),
    }
}

/// JSON: `item`, `method`; `movements`: list of `id`, `date`, `kind`, `typed`, `change`, `value_change`, `on_hand`,
/// `value`, `lot_number`, `supplier`, `note`; `received`, `issued`, `written_off`, `returned` (values).
fn show(session: &mut Session<'_>, task: &Show) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let row = find(&snapshot, &task.reference)?;
    let method = task.method.map_or(snapshot.settings.valuation, ValuationMethod::from);
    let movements = actions::movements(&book, row.id)?;
    let ledger = ledger(&movements, method).map_err(|error| Failure::no(format!("{}: {error}", row.item.name)))?;
    if task.form.format == Format::Json {
        let lines: Vec<_> = movements
            .iter()
            .zip(&ledger.lines)
            .map(|(movement, line)| {
                json!({
                    "id": movement.id.0, "date": movement.date, "kind": movement.kind.name(), "typed": movement.typed,
                    "change": line.change.to_string(), "value_change": line.value_change.to_string(),
                    "on_hand": line.on_hand.to_string(), "value": line.value.to_string(),
                    "lot_number": movement.lot_number, "supplier": movement.supplier, "note": movement.note,
                })
            })
            .collect();
        return session.json(&json!({
            "item": row_json(row), "method": method.name(), "movements": lines,
            "received": ledger.received.to_string(), "issued": ledger.issued.to_string(),
            "written_off": ledger.written_off.to_string(), "returned": ledger.returned.to_string(),
        }));
    }
    let preferences = Preferences::from(&*snapshot.settings);
    let mut table = Table::new(&[
        ("No.", Align::Right),
        ("Date", Align::Left),
        ("What", Align::Left),
        ("Change", Align::Right),
        ("Value", Align::Right),
        ("On hand", Align::Right),
        ("Worth", Align::Right),
        ("Lot", Align::Left),
        ("Note", Align::Left),
    ]);
    for (movement, line) in movements.iter().zip(&ledger.lines) {
        table.row([
            movement.id.0.to_string(),
            movement.date.to_string(),
            movement.kind.name().to_owned(),
            quantity(line.change, row.item.unit, &preferences),
            fine_money(line.value_change.amount(), &preferences),
            quantity(line.on_hand, row.item.unit, &preferences),
            fine_money(line.value.amount(), &preferences),
            movement.lot_number.clone(),
            movement.note.clone(),
        ]);
    }
    session.say(&format!("{} {}, {} by {}", row.item.reference, row.item.name, preferences.currency, method.name()))?;
    session.write(table)
}

/// JSON: `on`, `method`, `currency`, `total`; `items`: list of `reference`, `name`, `unit`, `quantity`, `value`.
fn value(session: &mut Session<'_>, task: &Value) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let on = task.on.unwrap_or_else(|| session.today());
    let method = task.method.map_or(snapshot.settings.valuation, ValuationMethod::from);
    let worth = actions::stock_value(&book, on, method)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let lines = worth.lines.iter().map(|(id, amount, value)| (snapshot.item(*id), amount, value));
    if task.form.format == Format::Json {
        let items: Vec<_> = lines
            .map(|(row, amount, value)| {
                json!({
                    "reference": row.map(|row| &row.item.reference), "name": row.map(|row| &row.item.name),
                    "unit": row.map(|row| row.item.unit.name()), "quantity": amount.to_string(),
                    "value": value.to_string(),
                })
            })
            .collect();
        return session.json(&json!({
            "on": on, "method": method.name(), "currency": preferences.currency.code(), "total": worth.total.to_string(),
            "items": items,
        }));
    }
    let mut table = Table::new(&[
        ("Reference", Align::Left),
        ("Name", Align::Left),
        ("On hand", Align::Right),
        ("Value", Align::Right),
    ]);
    for (row, held, value) in lines {
        let (reference, name, amount) = match row {
            Some(row) => {
                (row.item.reference.clone(), row.item.name.clone(), quantity(*held, row.item.unit, &preferences))
            }
            None => (dash(), dash(), held.to_string()),
        };
        table.row([reference, name, amount, money(value.amount(), &preferences)]);
    }
    session.write(table)?;
    session.say(&format!(
        "Stock at the end of {on}, {}: {}",
        match method {
            ValuationMethod::Fifo => "first in, first out",
            ValuationMethod::Average => "moving average",
        },
        money(worth.total.amount(), &preferences)
    ))
}
