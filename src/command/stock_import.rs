//! `stock import`: a file of movements into the book, all of it or nothing.

use super::arguments::Format;
use super::failure::Failure;
use super::session::Session;
use super::stock_lot_arguments::Import;
use super::table::{Align, Table};
use super::words::{counted, fine_money, quantity};
use crate::actions::{self, Action};
use crate::book::{Book, Snapshot};
use crate::exchange::movement_csv;
use crate::exchange::movement_file::{self, Fault, ImportItem, ImportMovement, ImportPlan, RowProblem};
use crate::measure::{Preferences, Unit};
use crate::studio::MovementKind;
use serde_json::json;
use std::path::Path;

/// Movements the text form of a preview shows.
const SHOWN: usize = 20;

/// JSON: `done` (null for a preview), `preview`; `new_items`: list of `reference`, `name`, `kind`, `unit`; `movements`:
/// list of `row`, `date`, `item` (its reference), `movement`, `quantity`, `unit` (the item's own), `cost`, `typed`, `note`.
pub(super) fn import(session: &mut Session<'_>, task: &Import) -> Result<(), Failure> {
    let bytes =
        std::fs::read(&task.file).map_err(|error| Failure::invalid(format!("{}: {error}", task.file.display())))?;
    let mut book = if task.preview { session.open_to_read()? } else { session.open_to_write()? };
    let snapshot = actions::snapshot(&book)?;
    let plan = plan(&book, &task.file, &bytes)?;
    let shown = Shown { plan: &plan, snapshot: &snapshot };
    let done = if task.preview { None } else { Some(session.perform(&mut book, Action::Import(plan.clone()))?.name) };
    if task.form.format == Format::Json {
        let new_items: Vec<_> = plan
            .new_items
            .iter()
            .map(|item| {
                json!({
                    "reference": item.reference, "name": item.name, "kind": item.details.kind().name(),
                    "unit": item.unit.name(),
                })
            })
            .collect();
        let movements: Vec<_> = plan
            .movements
            .iter()
            .map(|line| {
                let (item, unit) = shown.item(line);
                json!({
                    "row": line.row, "date": line.date, "item": item, "movement": line.kind.name(),
                    "quantity": line.quantity.to_string(), "unit": unit.name(),
                    "cost": line.cost.map(|cost| cost.to_string()), "typed": line.typed, "note": line.note,
                })
            })
            .collect();
        return session.json(&json!({
            "done": done, "preview": task.preview, "new_items": new_items, "movements": movements,
        }));
    }
    if let Some(done) = done {
        session.say(&done)?;
        return shown.new_items(session);
    }
    shown.new_items(session)?;
    shown.movements(session)?;
    session.say("Nothing was changed; without --preview it is brought in.")
}

/// Reads the file against the book. Every problem is a line of the failure.
fn plan(book: &Book, file: &Path, bytes: &[u8]) -> Result<ImportPlan, Failure> {
    let say = |problems: &[RowProblem]| -> Failure {
        let lines: Vec<String> = problems.iter().map(|problem| format!("{}: {problem}", file.display())).collect();
        if problems.iter().any(|problem| problem.fault == Fault::File) {
            Failure::Invalid(lines)
        } else {
            Failure::No(lines)
        }
    };
    let sheet = movement_csv::read(bytes).map_err(|problems| say(&problems))?;
    let name = file.file_name().map_or_else(|| "a file".to_owned(), |name| name.to_string_lossy().into_owned());
    let planned = movement_file::read(&sheet, &name, &actions::shelf(book)?);
    let mut problems = planned.problems.clone();
    problems.extend(actions::import_problems(book, &planned)?);
    problems.sort_by_key(|problem| problem.row);
    if problems.is_empty() { Ok(planned.plan) } else { Err(say(&problems)) }
}

struct Shown<'a> {
    plan: &'a ImportPlan,
    snapshot: &'a Snapshot,
}

impl Shown<'_> {
    /// A movement's item as the answer names it, and its unit.
    fn item(&self, line: &ImportMovement) -> (String, Unit) {
        let known = match line.item {
            ImportItem::Known(id) => self.snapshot.item(id).map(|row| &row.item),
            ImportItem::New(place) => self.plan.new_items.get(place),
        };
        known.map_or_else(
            || (String::new(), Unit::Each),
            |item| {
                let named = if item.reference.is_empty() { &item.name } else { &item.reference };
                (named.clone(), item.unit)
            },
        )
    }

    fn new_items(&self, session: &mut Session<'_>) -> Result<(), Failure> {
        let items = &self.plan.new_items;
        if items.is_empty() {
            return session.say("No new items.");
        }
        let mut table = Table::new(&[("New item", Align::Left), ("Kind", Align::Left), ("Kept in", Align::Left)]);
        for item in items {
            let kind = item.details.kind().name().to_owned();
            table.row([item.name.clone(), kind, item.unit.name().to_owned()]);
        }
        session.write(table)
    }

    fn movements(&self, session: &mut Session<'_>) -> Result<(), Failure> {
        let preferences = Preferences::from(&*self.snapshot.settings);
        let lines = &self.plan.movements;
        let mut table = Table::new(&[
            ("Row", Align::Right),
            ("Date", Align::Left),
            ("Item", Align::Left),
            ("What", Align::Left),
            ("Quantity", Align::Right),
            ("Cost", Align::Right),
            ("Note", Align::Left),
        ]);
        for line in lines.iter().take(SHOWN) {
            let (item, unit) = self.item(line);
            table.row([
                line.row.to_string(),
                line.date.to_string(),
                item,
                line.kind.name().to_owned(),
                quantity(line.quantity, unit, &preferences),
                line.cost.map_or_else(String::new, |cost| fine_money(cost.amount(), &preferences)),
                line.note.clone(),
            ]);
        }
        session.write(table)?;
        if lines.len() > SHOWN {
            session.say(&format!("… and {} more", lines.len() - SHOWN))?;
        }
        let counts: Vec<String> = MovementKind::ALL
            .into_iter()
            .map(|kind| (kind, lines.iter().filter(|line| line.kind == kind).count()))
            .filter(|(_, count)| *count > 0)
            .map(|(kind, count)| format!("{count} {}", kind.name()))
            .collect();
        session.say(&format!("{}: {}", counted(lines.len(), "movement", "movements"), counts.join(", ")))
    }
}
