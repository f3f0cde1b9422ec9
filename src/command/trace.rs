//! `stock trace`: from each lot of an item to everything it went into.

use super::arguments::Format;
use super::failure::Failure;
use super::session::Session;
use super::stock::find;
use super::stock_lot_arguments::Trace;
use super::table::{Align, Table};
use super::words::{money, quantity};
use crate::actions::{self, BenchUse};
use crate::costing::trace::{self as traces, Left};
use crate::measure::Preferences;
use crate::paper::batch_words::spans;
use crate::studio::{Movement, MovementId, MovementKind};
use serde_json::json;
use std::collections::BTreeMap;

/// JSON: `item` (its reference), `unit`; `lots`: list, oldest first, of `movement` (the number that names the lot), `lot`
/// (the same, `null` for what a count found), `date`, `kind`, `lot_number`, `supplier`, `note`, `came`, `left`, `cost`
/// (as corrected last, `null` for what a count found), and `taken`: list of `movement`, `date`, `kind`, `quantity`, `note`, and `batch`
/// (null for what went to no batch): `batch` (its number), `name`, `design` (code), `step` (from 1), `step_name`, `pieces`:
/// list of `piece` (its place) and `number` (once it is finished).
pub(super) fn trace(session: &mut Session<'_>, task: &Trace) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let row = find(&snapshot, &task.reference)?;
    let movements = actions::movements(&book, row.id)?;
    let traced = traces::trace(&movements).map_err(|error| Failure::no(format!("{}: {error}", row.item.name)))?;
    let uses: BTreeMap<MovementId, BenchUse> =
        actions::bench_uses(&book, row.id)?.into_iter().map(|used| (used.movement, used)).collect();
    let by_id: BTreeMap<MovementId, &Movement> = movements.iter().map(|movement| (movement.id, movement)).collect();
    let asked = |source: &&Left| task.lot.is_none_or(|lot| source.source.movement().0 == lot);
    let sources: Vec<&Left> = traced.sources.iter().filter(asked).collect();
    if let (Some(lot), true) = (task.lot, sources.is_empty()) {
        return Err(Failure::no(format!(
            "{} has no lot {lot}; `stock show {}` gives their numbers",
            row.item.name, row.item.reference
        )));
    }
    if task.form.format == Format::Json {
        let lots: Vec<_> = sources.iter().filter_map(|source| lot_json(source, &traced, &by_id, &uses)).collect();
        let unit = row.item.unit.name();
        return session.json(&json!({ "item": row.item.reference, "unit": unit, "lots": lots }));
    }
    let preferences = Preferences::from(&*snapshot.settings);
    if sources.is_empty() {
        return session.say(&format!("{} has no lots yet; `stock receive` takes one in.", row.item.name));
    }
    let mut table = Table::new(&[
        ("No.", Align::Right),
        ("Date", Align::Left),
        ("What", Align::Left),
        ("In", Align::Right),
        ("Out", Align::Right),
        ("Cost", Align::Right),
        ("Lot", Align::Left),
        ("Note", Align::Left),
    ]);
    for source in sources {
        let Some(from) = by_id.get(&source.source.movement()) else { continue };
        let cost = source.source.lot().and(from.cost);
        table.row([
            from.id.0.to_string(),
            from.date.to_string(),
            kind(from).to_owned(),
            quantity(source.came, row.item.unit, &preferences),
            String::new(),
            cost.map(|cost| money(cost.amount(), &preferences)).unwrap_or_default(),
            from.lot_number.clone(),
            from.note.clone(),
        ]);
        for taken in traced.taken_from(source.source) {
            let Some(to) = by_id.get(&taken.movement) else { continue };
            table.row([
                to.id.0.to_string(),
                to.date.to_string(),
                format!("  {}", to.kind.name()),
                String::new(),
                quantity(taken.quantity, row.item.unit, &preferences),
                String::new(),
                String::new(),
                uses.get(&to.id).map_or_else(|| to.note.clone(), use_words),
            ]);
        }
        table.row([
            String::new(),
            String::new(),
            "  left".to_owned(),
            String::new(),
            quantity(source.left, row.item.unit, &preferences),
        ]);
    }
    session.say(&format!("{} {}: where its lots went", row.item.reference, row.item.name))?;
    session.write(table)
}

/// `batch 4, step 2 Counter enamel: LN-DROP-0017, pieces 2–5`.
fn use_words(used: &BenchUse) -> String {
    let mut names: Vec<String> = used.pieces.iter().filter_map(|piece| piece.number.clone()).collect();
    let places: Vec<String> =
        used.pieces.iter().filter(|piece| piece.number.is_none()).map(|piece| piece.place.to_string()).collect();
    if !places.is_empty() {
        names.push(format!("pieces {}", spans(places.iter().map(String::as_str))));
    }
    format!("batch {}, step {} {}: {}", used.batch_number, used.step + 1, used.step_name, names.join(", "))
}

fn use_json(used: &BenchUse) -> serde_json::Value {
    let pieces: Vec<_> =
        used.pieces.iter().map(|piece| json!({ "piece": piece.place, "number": piece.number })).collect();
    json!({
        "batch": used.batch_number, "name": used.batch_name, "design": used.code, "step": used.step + 1,
        "step_name": used.step_name, "pieces": pieces,
    })
}

/// What brought the lot.
const fn kind(from: &Movement) -> &'static str {
    match from.kind {
        MovementKind::Count => "found by a count",
        other => other.name(),
    }
}

fn lot_json(
    source: &Left,
    traced: &traces::Trace,
    by_id: &BTreeMap<MovementId, &Movement>,
    uses: &BTreeMap<MovementId, BenchUse>,
) -> Option<serde_json::Value> {
    let from = by_id.get(&source.source.movement())?;
    let taken: Vec<_> = traced
        .taken_from(source.source)
        .filter_map(|taken| {
            let to = by_id.get(&taken.movement)?;
            Some(json!({
                "movement": to.id.0, "date": to.date, "kind": to.kind.name(), "quantity": taken.quantity.to_string(),
                "note": to.note, "batch": uses.get(&to.id).map(use_json),
            }))
        })
        .collect();
    let lot = source.source.lot();
    Some(json!({
        "movement": from.id.0, "lot": lot.map(|lot| lot.0), "date": from.date, "kind": from.kind.name(),
        "lot_number": from.lot_number, "supplier": from.supplier, "note": from.note, "came": source.came.to_string(),
        "left": source.left.to_string(), "cost": lot.and(from.cost).map(|cost| cost.to_string()), "taken": taken,
    }))
}
