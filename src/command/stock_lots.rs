//! `stock wash-back`, `stock correct`, `stock close`.

use super::arguments::Format;
use super::failure::Failure;
use super::session::Session;
use super::stock::{find, tell};
use super::stock_lot_arguments::{Close, Correct, WashBack};
use super::table::{Align, Table};
use super::typed;
use super::words::{fine_money, money, quantity};
use crate::actions::{self, Action, Taking, WashBackCost};
use crate::book::Snapshot;
use crate::costing::correction::{CorrectionEffect, Shift};
use crate::measure::Preferences;
use crate::studio::{DesignId, LotId};
use serde_json::json;

/// JSON: as every movement, see `stock::tell`.
pub(super) fn wash_back(session: &mut Session<'_>, task: WashBack) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let row = find(&snapshot, &task.take.reference)?;
    let quantity = typed::quantity("quantity", &task.take.quantity, row.item.unit, &preferences)?;
    let cost = match (task.cost, task.from) {
        (Some(cost), _) => WashBackCost::Stated(typed::money("cost", &cost, &preferences)?),
        (None, Some(reference)) => WashBackCost::FromItem(find(&snapshot, &reference)?.id),
        (None, None) => WashBackCost::Nothing,
    };
    let date = task.take.date.unwrap_or_else(|| session.today());
    let taking = Taking { item: row.id, date, quantity, typed: task.take.quantity, note: task.take.note };
    let outcome = session.perform(&mut book, Action::WashBack { taking, cost })?;
    tell(session, &book, row.id, &outcome, task.take.form.format)
}

/// JSON: `done` (null for a preview), `lot`, `item` (its reference), `cost`, `value`, `issued`, `written_off`, `returned`
/// (each `before` and `after`), `on_hand`; `movements`: list of `id`, `date`, `kind`, `change`, `before`, `after` (values);
/// `designs`: codes of the designs that take the item.
pub(super) fn correct(session: &mut Session<'_>, task: &Correct) -> Result<(), Failure> {
    let mut book = if task.preview { session.open_to_read()? } else { session.open_to_write()? };
    let snapshot = actions::snapshot(&book)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let cost = typed::money("cost", &task.cost, &preferences)?;
    let lot = LotId(task.lot);
    let missing = || Failure::no(format!("there is no lot {}; `stock show` gives their numbers", task.lot));
    let item = actions::lot(&book, lot)?.ok_or_else(missing)?.item;
    let effect = actions::correction_effect(&book, lot, cost)?.ok_or_else(missing)?;
    let designs = actions::item_designs(&book, item)?;
    let row = snapshot.item(item).ok_or_else(missing)?;
    let done = if task.preview {
        None
    } else {
        let date = task.date.unwrap_or_else(|| session.today());
        let action = Action::CorrectLot { lot, date, cost, note: task.note.clone() };
        Some(session.perform(&mut book, action)?.name)
    };
    let codes = codes(&snapshot, &designs);
    if task.form.format == Format::Json {
        return session.json(&effect_json(&effect, done.as_deref(), &row.item.reference, &codes));
    }
    let preview = format!("Lot {} of {} would be corrected; nothing was changed", task.lot, row.item.name);
    session.say(done.as_deref().unwrap_or(&preview))?;
    let mut table = Table::new(&[
        ("What", Align::Left),
        ("Date", Align::Left),
        ("Quantity", Align::Right),
        ("Before", Align::Right),
        ("After", Align::Right),
    ]);
    for line in &effect.lines {
        table.row([
            format!("{} {}", line.kind.name(), line.movement.0),
            line.date.to_string(),
            quantity(line.change, row.item.unit, &preferences),
            fine_money(line.value.before.amount(), &preferences),
            fine_money(line.value.after.amount(), &preferences),
        ]);
    }
    for (name, shift) in [
        ("issued", effect.issued),
        ("written off", effect.written_off),
        ("returned", effect.returned),
        ("on hand", effect.value),
    ] {
        let held =
            if name == "on hand" { quantity(effect.on_hand, row.item.unit, &preferences) } else { String::new() };
        table.row([
            format!("all {name}"),
            String::new(),
            held,
            fine_money(shift.before.amount(), &preferences),
            fine_money(shift.after.amount(), &preferences),
        ]);
    }
    session.write(table)?;
    session.say(&format!(
        "The lot cost {} and costs {}",
        money(effect.cost.before.amount(), &preferences),
        money(effect.cost.after.amount(), &preferences)
    ))?;
    if codes.is_empty() { Ok(()) } else { session.say(&format!("Designs that take it: {}", codes.join(", "))) }
}

fn codes(snapshot: &Snapshot, designs: &[DesignId]) -> Vec<String> {
    designs.iter().filter_map(|id| snapshot.design(*id)).map(|design| design.design.code.to_string()).collect()
}

fn effect_json(
    effect: &CorrectionEffect,
    done: Option<&str>,
    reference: &str,
    designs: &[String],
) -> serde_json::Value {
    let shift = |shift: Shift| json!({ "before": shift.before.to_string(), "after": shift.after.to_string() });
    let movements: Vec<_> = effect
        .lines
        .iter()
        .map(|line| {
            json!({
                "id": line.movement.0, "date": line.date, "kind": line.kind.name(), "change": line.change.to_string(),
                "before": line.value.before.to_string(), "after": line.value.after.to_string(),
            })
        })
        .collect();
    json!({
        "done": done, "lot": effect.lot.0, "item": reference, "cost": shift(effect.cost), "value": shift(effect.value),
        "issued": shift(effect.issued), "written_off": shift(effect.written_off), "returned": shift(effect.returned),
        "on_hand": effect.on_hand.to_string(), "movements": movements, "designs": designs,
    })
}

/// JSON: `done`, `closed_until`.
pub(super) fn close(session: &mut Session<'_>, task: &Close) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let until = if task.open { None } else { task.until };
    let outcome = session.perform(&mut book, Action::ClosePeriod(until))?;
    if task.form.format == Format::Json {
        return session.json(&json!({ "done": outcome.name, "closed_until": until }));
    }
    session.say(&outcome.name)
}
