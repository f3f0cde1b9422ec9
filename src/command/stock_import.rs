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
use crate::exchange::movement_file::{self, Fault, ImportItem, ImportMovement, ImportPlan, Planned, RowProblem};
use crate::exchange::table::{Flow, Heading, ImportKind, Mapping, preview, read};
use crate::exchange::table_plan;
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
    let plan = plan(&book, task, &bytes)?;
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
fn plan(book: &Book, task: &Import, bytes: &[u8]) -> Result<ImportPlan, Failure> {
    let file = task.file.as_path();
    let say = |problems: &[RowProblem]| -> Failure {
        let lines: Vec<String> = problems.iter().map(|problem| format!("{}: {problem}", file.display())).collect();
        if problems.iter().any(|problem| problem.fault == Fault::File) {
            Failure::Invalid(lines)
        } else {
            Failure::No(lines)
        }
    };
    let name = file.file_name().map_or_else(|| "a file".to_owned(), |name| name.to_string_lossy().into_owned());
    let planned = if is_workbook(file, bytes) {
        of_workbook(book, task, bytes, &name)?
    } else if task.sheet.is_some() {
        return Err(Failure::invalid(format!("{}: --sheet is for workbooks; this file is text", file.display())));
    } else {
        let sheet = movement_csv::read(bytes).map_err(|problems| say(&problems))?;
        movement_file::read(&sheet, &name, &actions::shelf(book)?)
    };
    let mut problems = planned.problems.clone();
    // Rows that cannot be read say nothing about what would be short.
    if !is_workbook(file, bytes) || problems.iter().all(|problem| problem.fault == Fault::Book) {
        problems.extend(actions::import_problems(book, &planned)?);
    }
    problems.sort_by_key(|problem| problem.row);
    if problems.is_empty() { Ok(planned.plan) } else { Err(say(&problems)) }
}

/// By its first bytes or its name, a workbook and not text.
fn is_workbook(file: &Path, bytes: &[u8]) -> bool {
    let named = file
        .extension()
        .is_some_and(|ending| ["xlsx", "xlsm", "ods", "xls"].iter().any(|known| ending.eq_ignore_ascii_case(known)));
    named || bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(&[0xd0, 0xcf, 0x11, 0xe0])
}

/// A workbook's sheet of movements, by the headings it has.
fn of_workbook(book: &Book, task: &Import, bytes: &[u8], name: &str) -> Result<Planned, Failure> {
    let invalid = |words: String| Failure::invalid(format!("{}: {words}", task.file.display()));
    let workbook = read(bytes, name, &mut |_| Flow::Go).map_err(|problem| invalid(problem.to_string()))?;
    let sheet = match &task.sheet {
        Some(wanted) => workbook.sheets.iter().find(|sheet| sheet.name == *wanted).ok_or_else(|| {
            let names: Vec<&str> = workbook.sheets.iter().map(|sheet| sheet.name.as_str()).collect();
            invalid(format!("there is no sheet {wanted}; there are {}", names.join(", ")))
        })?,
        None => workbook
            .sheets
            .iter()
            .find(|sheet| Heading::find(sheet).is_some())
            .ok_or_else(|| invalid("no sheet has the headings of a movement file".to_owned()))?,
    };
    let heading = Heading::find(sheet)
        .ok_or_else(|| invalid(format!("sheet {} has no headings of a movement file", sheet.name)))?;
    let mapping = Mapping::guess(ImportKind::Movements, &heading);
    let shelf = actions::shelf(book)?;
    let looked = preview(sheet, &heading, &mapping, shelf.currency, None);
    Ok(table_plan::plan(&looked, &heading, &mapping, name, &shelf).planned)
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
