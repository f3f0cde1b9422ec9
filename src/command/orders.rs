//! `stock order …`: orders, what came of them and what is still to come.

use super::arguments::Format;
use super::failure::Failure;
use super::order_arguments::{OrderList, OrderReceive, OrderShow, OrderTask};
use super::session::Session;
use super::table::{Align, Table};
use super::typed;
use super::words::{counted, money, number, quantity};
use crate::actions::{self, Action, Delivered};
use crate::book::{Book, Snapshot};
use crate::costing::landed::{LandedOrder, invoice_total};
use crate::measure::{Money, Preferences, Quantity};
use crate::studio::{BookOrder, OrderId, OrderLine};
use serde_json::{Value, json};

pub(super) fn order(session: &mut Session<'_>, task: OrderTask) -> Result<(), Failure> {
    match task {
        OrderTask::List(task) => list(session, &task),
        OrderTask::Show(task) => show(session, &task),
        OrderTask::Receive(task) => receive(session, task),
    }
}

fn find(book: &Book, number: i64) -> Result<BookOrder, Failure> {
    actions::order(book, OrderId(number))?
        .ok_or_else(|| Failure::no(format!("there is no order {number}; `stock order list` shows them")))
}

/// What all of an order comes to, in the book's currency.
fn total(order: &BookOrder, preferences: &Preferences) -> Result<Money, Failure> {
    Ok(invoice_total(&LandedOrder::of(&order.order, preferences.currency))?)
}

/// JSON: `currency`; `orders`: list of `order` (its number), `supplier`, `reference`, `date`, `open`, `lines`,
/// `lines_to_come`, `landed`.
fn list(session: &mut Session<'_>, task: &OrderList) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let preferences = Preferences::from(&*snapshot.settings);
    let mut orders = actions::orders(&book)?;
    // Those of which more is expected first, each part as the book has it: newest first.
    orders.sort_by_key(|order| order.order.closed);
    if task.open {
        orders.retain(|order| !order.order.closed);
    }
    let to_come = |order: &BookOrder| order.to_come().iter().filter(|left| !left.is_zero()).count();
    if task.form.format == Format::Json {
        let mut rows = Vec::with_capacity(orders.len());
        for order in &orders {
            rows.push(json!({
                "order": order.id.0, "supplier": order.order.supplier, "reference": order.order.reference,
                "date": order.order.date, "open": !order.order.closed, "lines": order.order.lines.len(),
                "lines_to_come": to_come(order), "landed": total(order, &preferences)?.to_string(),
            }));
        }
        return session.json(&json!({ "currency": preferences.currency.code(), "orders": rows }));
    }
    if orders.is_empty() {
        return session.say(if task.open { "Nothing is still to come." } else { "There are no orders." });
    }
    let mut table = Table::new(&[
        ("Order", Align::Right),
        ("From", Align::Left),
        ("Date", Align::Left),
        ("Landed", Align::Right),
        ("Still to come", Align::Left),
    ]);
    for order in &orders {
        let state = match (order.order.closed, to_come(order)) {
            (_, 0) => "all of it came".to_owned(),
            (true, _) => "nothing more expected".to_owned(),
            (false, lines) => format!("{lines} of {}", counted(order.order.lines.len(), "line", "lines")),
        };
        table.row([
            order.id.0.to_string(),
            order.order.title(),
            order.order.date.to_string(),
            money(total(order, &preferences)?.amount(), &preferences),
            state,
        ]);
    }
    session.write(table)
}

fn show(session: &mut Session<'_>, task: &OrderShow) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let order = find(&book, task.order)?;
    tell(session, &book, &snapshot, &order, None, task.form.format)
}

fn receive(session: &mut Session<'_>, task: OrderReceive) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let order = find(&book, task.order)?;
    let line = task.line.checked_sub(1).and_then(|place| order.order.lines.get(place)).and_then(|line| line.id);
    let line = line.ok_or_else(|| {
        let lines = counted(order.order.lines.len(), "line", "lines");
        Failure::no(format!("there is no line {} in order {}; it has {lines}", task.line, task.order))
    })?;
    let packs = typed::packs("packs", &task.packs, &preferences)?;
    let came = Delivered { line, packs, lot_number: task.lot, note: task.note };
    let date = task.date.unwrap_or_else(|| session.today());
    let action = Action::ReceiveOrder { order: order.id, date, lines: vec![came] };
    let outcome = session.perform(&mut book, action)?;
    let order = find(&book, task.order)?;
    tell(session, &book, &snapshot, &order, Some(&outcome.name), task.form.format)
}

/// JSON: `done` (null for `show`), `order`, `supplier`, `reference`, `date`, `currency` (the order's), `rate`, `freight`,
/// `duty`, `discount` (in it), `spread`, `note`, `open`, `landed`, `landed_currency`; `lines`: list of `line`, `item` (its
/// reference), `name`, `lead_bearing`, `packs`, `pack` (what one holds), `pack_words`, `price` (in the order's currency),
/// `weight_g`, `landed`, `to_come` (packs), `came`: list of `lot`, `date`, `packs`, `cost`; `files`: list of `name`,
/// `media_type`, `size`.
fn tell(
    session: &mut Session<'_>,
    book: &Book,
    snapshot: &Snapshot,
    order: &BookOrder,
    done: Option<&str>,
    format: Format,
) -> Result<(), Failure> {
    let preferences = Preferences::from(&*snapshot.settings);
    let landed = actions::landed(book, &order.order)?;
    let left = order.to_come();
    if format == Format::Json {
        return session.json(&order_json(order, snapshot, &landed, &left, done, &preferences)?);
    }
    let placed = &order.order;
    session.say(done.unwrap_or(&format!("Order {}", placed.title())))?;
    let mut table = Table::new(&[
        ("Line", Align::Right),
        ("Reference", Align::Left),
        ("Name", Align::Left),
        ("Ordered", Align::Left),
        ("Landed", Align::Right),
        ("To come", Align::Right),
        ("", Align::Left),
    ]);
    for (place, ((line, landed), left)) in placed.lines.iter().zip(&landed).zip(&left).enumerate() {
        let row = snapshot.item(line.item);
        let lead = row.is_some_and(|row| row.item.lead_bearing);
        table.row([
            (place + 1).to_string(),
            row.map_or_else(String::new, |row| row.item.reference.clone()),
            row.map_or_else(String::new, |row| row.item.name.clone()),
            ordered(line, snapshot, &preferences),
            money(landed.amount(), &preferences),
            number(left.amount(), &preferences),
            if lead { "bears lead".to_owned() } else { String::new() },
        ]);
    }
    session.write(table)?;
    session.say(&format!("Landed {} in all", money(total(order, &preferences)?.amount(), &preferences)))
}

/// `2 × 1 lb jar`.
fn ordered(line: &OrderLine, snapshot: &Snapshot, preferences: &Preferences) -> String {
    let pack = match snapshot.item(line.item) {
        Some(row) if line.pack_words.is_empty() => quantity(line.pack, row.item.unit, preferences),
        _ => line.pack_words.clone(),
    };
    format!("{} × {pack}", number(line.packs.amount(), preferences))
}

fn order_json(
    order: &BookOrder,
    snapshot: &Snapshot,
    landed: &[Money],
    left: &[Quantity],
    done: Option<&str>,
    preferences: &Preferences,
) -> Result<Value, Failure> {
    let placed = &order.order;
    let lines: Vec<Value> = (1..)
        .zip(&placed.lines)
        .zip(&order.deliveries)
        .zip(landed.iter().zip(left))
        .map(|(((place, line), came), (landed, left)): (((usize, _), _), _)| {
            let row = snapshot.item(line.item);
            let came: Vec<Value> = came
                .iter()
                .map(|one| {
                    json!({
                        "lot": one.movement.0, "date": one.date, "packs": one.packs.to_string(),
                        "cost": one.cost.to_string(),
                    })
                })
                .collect();
            json!({
                "line": place, "item": row.map(|row| &row.item.reference), "name": row.map(|row| &row.item.name),
                "lead_bearing": row.map(|row| row.item.lead_bearing), "packs": line.packs.to_string(),
                "pack": line.pack.to_string(), "pack_words": line.pack_words, "price": line.price.to_string(),
                "weight_g": line.weight_g.map(|weight| weight.to_string()), "landed": landed.to_string(),
                "to_come": left.to_string(), "came": came,
            })
        })
        .collect();
    let files: Vec<Value> = order
        .attachments
        .iter()
        .map(|file| json!({ "name": file.name, "media_type": file.media_type, "size": file.size }))
        .collect();
    Ok(json!({
        "done": done, "order": order.id.0, "supplier": placed.supplier, "reference": placed.reference,
        "date": placed.date, "currency": placed.currency.code(), "rate": placed.rate.normalize().to_string(),
        "freight": placed.freight.to_string(), "duty": placed.duty.to_string(), "discount": placed.discount.to_string(),
        "spread": placed.spread.name(), "note": placed.note, "open": !placed.closed,
        "landed": total(order, preferences)?.to_string(), "landed_currency": preferences.currency.code(),
        "lines": lines, "files": files,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::actions::{ActionKey, Added, Order};
    use crate::costing::landed::SpreadBy;
    use crate::measure::{Currency, Decimal};
    use crate::studio::PurchaseOrder;
    use chrono::{NaiveDate, NaiveDateTime};
    use std::path::Path;

    fn now() -> NaiveDateTime {
        NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(9, 30, 0).unwrap()
    }

    /// Runs the program on a book: the answer, and what was said on standard error.
    fn run(book: &Path, arguments: &[&str]) -> (String, String) {
        let all = ["enamelwright", "--book", book.to_str().unwrap()].into_iter().chain(arguments.iter().copied());
        let (mut out, mut errors) = (Vec::new(), Vec::new());
        let _ = crate::command::run(all.map(Into::into), now(), |_| Ok(()), &mut out, &mut errors);
        (String::from_utf8(out).unwrap(), String::from_utf8(errors).unwrap())
    }

    /// A book with an order of three jars of an enamel for 30, 10 freight.
    fn with_order(book: &Path) {
        run(book, &["new"]);
        run(book, &["stock", "add", "EN-1", "Fen green", "--kind", "enamel", "--lead"]);
        let money = |text: &str| Money::new(text.parse().unwrap()).unwrap();
        let quantity = |text: &str| Quantity::new(text.parse().unwrap()).unwrap();
        let mut opened = Book::open(book, crate::book::Access::Write, now().date()).unwrap();
        let item = actions::snapshot(&opened).unwrap().stock[0].id;
        let line = OrderLine {
            id: None,
            item,
            packs: quantity("3"),
            pack: quantity("100"),
            pack_words: "100 g jar".to_owned(),
            price: money("30"),
            weight_g: None,
        };
        let order = PurchaseOrder {
            supplier: "Kiln & Co".to_owned(),
            reference: "K-7".to_owned(),
            date: now().date(),
            currency: Currency::USD,
            rate: Decimal::ONE,
            freight: money("10"),
            duty: Money::ZERO,
            discount: Money::ZERO,
            spread: SpreadBy::Value,
            note: String::new(),
            closed: false,
            lines: vec![line],
        };
        let action = Action::SaveOrder { id: None, order };
        let done = actions::perform(&mut opened, action, Order { key: ActionKey::fresh(), at: now() }).unwrap();
        assert_eq!(done.added, Some(Added::Order(OrderId(1))));
    }

    #[test]
    fn an_order_is_listed_shown_and_received_in_parts() {
        let folder = tempfile::tempdir().unwrap();
        let book = folder.path().join("studio.studiobook");
        with_order(&book);
        let json = |arguments: &[&str]| -> Value {
            let (out, errors) = run(&book, &[arguments, &["--format", "json"]].concat());
            serde_json::from_str(&out).unwrap_or_else(|_| panic!("{out}{errors}"))
        };
        let listed = json(&["stock", "order", "list", "--open"]);
        assert_eq!(listed["orders"][0]["landed"], "40");
        let part = json(&["stock", "order", "receive", "1", "1", "1", "--lot", "2231"]);
        // A third of 40 to the cent, by hand.
        assert_eq!(part["lines"][0]["came"][0]["cost"], "13.33");
        assert_eq!(part["lines"][0]["to_come"], "2");
        let rest = json(&["stock", "order", "receive", "1", "1", "2"]);
        assert_eq!(rest["lines"][0]["came"][1]["cost"], "26.67");
        assert_eq!(rest["open"], false);
        assert_eq!(json(&["stock", "order", "list", "--open"])["orders"], json!([]));
        let (text, _) = run(&book, &["stock", "order", "show", "1"]);
        assert!(
            text.contains("3 × 100 g jar") && text.contains("bears lead") && text.contains("Landed $40.00"),
            "{text}"
        );
    }

    #[test]
    fn what_is_not_there_or_too_much_is_refused_by_name() {
        let folder = tempfile::tempdir().unwrap();
        let book = folder.path().join("studio.studiobook");
        with_order(&book);
        assert!(run(&book, &["stock", "order", "show", "2"]).1.contains("there is no order 2"));
        assert!(run(&book, &["stock", "order", "receive", "1", "2", "1"]).1.contains("there is no line 2 in order 1"));
        assert!(run(&book, &["stock", "order", "receive", "1", "1", "4"]).1.contains("only 3 is still to come"));
        assert!(run(&book, &["stock", "order", "receive", "1", "1", "jar"]).1.contains("\"jar\""));
        for task in ["list", "show", "receive"] {
            assert!(run(&book, &["stock", "order", task, "--help"]).0.contains("Example: enamelwright stock order"));
        }
    }
}
