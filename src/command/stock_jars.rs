//! `stock jar`, `stock weigh`: jars and what they weigh.

use super::arguments::Format;
use super::failure::Failure;
use super::session::Session;
use super::stock::find;
use super::stock_lot_arguments::{JarTask, Weigh};
use super::table::{Align, Table};
use super::typed;
use super::words::{fine_money, quantity};
use crate::actions::{self, Action, Reading};
use crate::book::Snapshot;
use crate::costing::weigh::WeighedItem;
use crate::measure::{Preferences, Unit};
use crate::studio::{BookJar, Jar};
use serde_json::json;

fn jar<'a>(snapshot: &'a Snapshot, label: &str) -> Option<&'a BookJar> {
    let folded = label.to_lowercase();
    snapshot.jars.iter().find(|jar| jar.jar.label.to_lowercase() == folded)
}

/// Adds a jar, or changes the one of that label. JSON: `done`, `label`, `item` (its reference), `tare`, `aside`.
pub(super) fn save(session: &mut Session<'_>, task: JarTask) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let row = find(&snapshot, &task.reference)?;
    let tare = typed::quantity("tare", &task.tare, Unit::Gram, &preferences)?;
    let id = jar(&snapshot, &task.label).map(|jar| jar.id);
    let new = Jar { item: row.id, label: task.label, tare, retired: task.aside };
    let label = new.label.clone();
    let outcome = session.perform(&mut book, Action::SaveJar { id, jar: new })?;
    if task.form.format == Format::Json {
        return session.json(&json!({
            "done": outcome.name, "label": label, "item": row.item.reference, "tare": tare.to_string(),
            "aside": task.aside,
        }));
    }
    session.say(&outcome.name)
}

/// JSON: `done` (null for a preview), `moved_value`; `items`: list of `reference`, `name`, `counted`, `expected`,
/// `difference`, `value` (of the difference), `large`, `from_before` (labels of jars not weighed now), `lead_bearing`.
pub(super) fn weigh(session: &mut Session<'_>, task: &Weigh) -> Result<(), Failure> {
    let mut book = if task.preview { session.open_to_read()? } else { session.open_to_write()? };
    let snapshot = actions::snapshot(&book)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let mut readings = Vec::with_capacity(task.readings.len() / 2);
    for pair in task.readings.chunks(2) {
        let [label, weight] = pair else {
            let last = pair.first().map_or("", String::as_str);
            return Err(Failure::invalid(format!("{last:?} has no weight; each jar is followed by what it weighs")));
        };
        let found = jar(&snapshot, label)
            .ok_or_else(|| Failure::no(format!("there is no jar {label}; `stock jar` writes one down")))?;
        let gross = typed::quantity(&format!("weight of {label}"), weight, Unit::Gram, &preferences)?;
        readings.push(Reading { jar: found.id, gross });
    }
    let date = task.date.unwrap_or_else(|| session.today());
    let weighed = actions::weigh_in_preview(&book, date, &readings)?;
    let outcome = if task.preview {
        None
    } else {
        Some(session.perform(&mut book, Action::WeighIn { date, readings, cause: task.cause.clone() })?)
    };
    let done = outcome.as_ref().map(|outcome| outcome.name.as_str());
    if task.form.format == Format::Json {
        let items: Vec<_> = weighed.iter().map(|one| item_json(&snapshot, one)).collect();
        let moved = outcome.as_ref().and_then(|outcome| outcome.moved_value).map(|value| value.to_string());
        return session.json(&json!({ "done": done, "moved_value": moved, "items": items }));
    }
    session.say(done.unwrap_or("Nothing was changed; without --preview it is accepted."))?;
    let mut table = Table::new(&[
        ("Reference", Align::Left),
        ("Name", Align::Left),
        ("In the book", Align::Right),
        ("Weighed", Align::Right),
        ("Difference", Align::Right),
        ("Value", Align::Right),
        ("", Align::Left),
    ]);
    for one in &weighed {
        let row = snapshot.item(one.item);
        let text = |amount| quantity(amount, Unit::Gram, &preferences);
        let mut remarks = Vec::new();
        if one.large {
            remarks.push("large".to_owned());
        }
        if row.is_some_and(|row| row.item.lead_bearing) {
            remarks.push("bears lead".to_owned());
        }
        if !one.from_before.is_empty() {
            remarks.push(format!("{} weighed before", labels(&snapshot, one).join(", ")));
        }
        table.row([
            row.map_or_else(String::new, |row| row.item.reference.clone()),
            row.map_or_else(String::new, |row| row.item.name.clone()),
            text(one.expected),
            text(one.counted),
            text(one.difference),
            fine_money(one.value.amount(), &preferences),
            remarks.join(", "),
        ]);
    }
    session.write(table)
}

fn labels(snapshot: &Snapshot, one: &WeighedItem) -> Vec<String> {
    let jars = snapshot.jars.iter().filter(|jar| one.from_before.contains(&jar.id));
    jars.map(|jar| jar.jar.label.clone()).collect()
}

fn item_json(snapshot: &Snapshot, one: &WeighedItem) -> serde_json::Value {
    let row = snapshot.item(one.item);
    json!({
        "reference": row.map(|row| &row.item.reference), "name": row.map(|row| &row.item.name),
        "counted": one.counted.to_string(), "expected": one.expected.to_string(),
        "difference": one.difference.to_string(), "value": one.value.to_string(), "large": one.large,
        "from_before": labels(snapshot, one), "lead_bearing": row.map(|row| row.item.lead_bearing),
    })
}
