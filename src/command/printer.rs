//! `printer …`: the book's printers, and what is put right on what they print.

use super::arguments::Format;
use super::failure::Failure;
use super::printer_arguments::{Forget, PrinterSet, PrinterTask, PutRight};
use super::session::Session;
use super::table::{Align, Table};
use crate::actions::{self, Action};
use crate::book::Snapshot;
use crate::exchange::print_queue;
use crate::measure::Decimal;
use crate::studio::{Correction, Printer, PrinterId, SheetId};
use serde_json::{Value, json};

pub(super) fn printer(session: &mut Session<'_>, task: PrinterTask) -> Result<(), Failure> {
    match task {
        PrinterTask::List(form) => list(session, form.format),
        PrinterTask::Set(task) => set(session, task),
        PrinterTask::PutRight(task) => put_right(session, &task),
        PrinterTask::Forget(task) => forget(session, &task),
    }
}

/// JSON: `printers`: list of `name`, `dots_per_inch`, `put_right`: list of `sheet` (`null` for plain paper), `right_mm`,
/// `down_mm`, `wide`, `high`; `system`: the names of this computer's printers, `null` where it has no printing system;
/// `trouble`: why not, else `null`.
fn list(session: &mut Session<'_>, format: Format) -> Result<(), Failure> {
    let (_, snapshot) = session.read()?;
    let system = print_queue::printers();
    if format == Format::Json {
        let printers: Vec<Value> =
            snapshot.printers.iter().map(|(_, printer)| printer_json(&snapshot, printer)).collect();
        return session.json(&json!({
            "printers": printers,
            "system": system.as_ref().ok(),
            "trouble": system.as_ref().err().map(ToString::to_string),
        }));
    }
    if snapshot.printers.is_empty() {
        session.say("The book has no printer yet; `printer set NAME --dots N` writes one down")?;
    } else {
        session.write(table(&snapshot))?;
    }
    match system {
        Ok(names) if names.is_empty() => session.say("This computer has no printer"),
        Ok(names) => session.say(&format!("Printers of this computer: {}", names.join(", "))),
        Err(problem) => session.say(&format!("Printers of this computer are not known: {problem}")),
    }
}

fn table(snapshot: &Snapshot) -> Table {
    let mut table = Table::new(&[
        ("Printer", Align::Left),
        ("Dots per inch", Align::Right),
        ("Paper", Align::Left),
        ("Right mm", Align::Right),
        ("Down mm", Align::Right),
        ("Wide", Align::Right),
        ("High", Align::Right),
    ]);
    for (_, printer) in snapshot.printers.iter() {
        let dots = printer.dots_per_inch.to_string();
        if printer.corrections.is_empty() {
            table.row([printer.name.clone(), dots, "nothing is put right".to_owned()]);
            continue;
        }
        let mut first = Some((printer.name.clone(), dots));
        for correction in &printer.corrections {
            let (name, dots) = first.take().unwrap_or_default();
            let [right, down, wide, high] = figures(correction);
            table.row([name, dots, paper(snapshot, correction.sheet), right, down, wide, high]);
        }
    }
    table
}

fn figures(correction: &Correction) -> [String; 4] {
    [correction.right_mm, correction.down_mm, correction.wide, correction.high]
        .map(|value| value.normalize().to_string())
}

/// The paper something was measured on, in words.
fn paper(snapshot: &Snapshot, sheet: Option<SheetId>) -> String {
    sheet.and_then(|id| sheet_name(snapshot, id)).unwrap_or("plain paper").to_owned()
}

fn sheet_name(snapshot: &Snapshot, id: SheetId) -> Option<&str> {
    snapshot.sheets.iter().find(|(row, _)| *row == id).map(|(_, sheet)| sheet.name.as_str())
}

fn printer_json(snapshot: &Snapshot, printer: &Printer) -> Value {
    let put_right: Vec<Value> = printer
        .corrections
        .iter()
        .map(|correction| {
            let [right, down, wide, high] = figures(correction);
            json!({
                "sheet": correction.sheet.and_then(|id| sheet_name(snapshot, id)),
                "right_mm": right, "down_mm": down, "wide": wide, "high": high,
            })
        })
        .collect();
    json!({ "name": printer.name, "dots_per_inch": printer.dots_per_inch, "put_right": put_right })
}

fn find(snapshot: &Snapshot, name: &str) -> Option<(PrinterId, Printer)> {
    snapshot.printers.iter().find(|(_, printer)| printer.name == name).cloned()
}

fn known(snapshot: &Snapshot, name: &str) -> Result<(PrinterId, Printer), Failure> {
    find(snapshot, name).ok_or_else(|| {
        let known: Vec<&str> = snapshot.printers.iter().map(|(_, printer)| printer.name.as_str()).collect();
        let known = if known.is_empty() { "none".to_owned() } else { known.join(", ") };
        let advice = "`printer set` writes one down";
        Failure::no(format!("the book has no printer {name}; it has {known}; {advice}"))
    })
}

/// The book's sheet of that name; none for plain paper.
fn sheet(snapshot: &Snapshot, name: Option<&str>) -> Result<Option<SheetId>, Failure> {
    let Some(name) = name else { return Ok(None) };
    let found = snapshot.sheets.iter().find(|(_, sheet)| sheet.name == name);
    found.map(|(row, _)| Some(*row)).ok_or_else(|| {
        let names: Vec<&str> = snapshot.sheets.iter().map(|(_, sheet)| sheet.name.as_str()).collect();
        let names = if names.is_empty() { "none".to_owned() } else { names.join(", ") };
        Failure::no(format!("the book has no sheet {name}; it has {names}"))
    })
}

/// JSON of `set`, `put-right` and `forget`: `done`, and `printer` as in `list`, `null` once it was forgotten.
fn answer(session: &mut Session<'_>, format: Format, done: &str, printer: Option<Value>) -> Result<(), Failure> {
    match format {
        Format::Json => session.json(&json!({ "done": done, "printer": printer })),
        Format::Text => session.say(done),
    }
}

fn set(session: &mut Session<'_>, task: PrinterSet) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let (id, printer) = match find(&snapshot, task.name.trim()) {
        Some((id, printer)) => (Some(id), Printer { dots_per_inch: task.dots, ..printer }),
        None => {
            let name = task.name.trim().to_owned();
            (None, Printer { name, dots_per_inch: task.dots, corrections: Vec::new() })
        }
    };
    let outcome = session.perform(&mut book, Action::SavePrinter { id, printer: printer.clone() })?;
    answer(session, task.form.format, &outcome.name, Some(printer_json(&snapshot, &printer)))
}

fn put_right(session: &mut Session<'_>, task: &PutRight) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let (id, mut printer) = known(&snapshot, &task.name)?;
    let sheet = sheet(&snapshot, task.sheet.as_deref())?;
    let was = printer.corrections.iter().find(|correction| correction.sheet == sheet).copied();
    let was = was.unwrap_or(Correction {
        sheet,
        right_mm: Decimal::ZERO,
        down_mm: Decimal::ZERO,
        wide: Decimal::ONE,
        high: Decimal::ONE,
    });
    let correction = Correction {
        sheet,
        right_mm: task.right.unwrap_or(was.right_mm),
        down_mm: task.down.unwrap_or(was.down_mm),
        wide: task.wide.unwrap_or(was.wide),
        high: task.high.unwrap_or(was.high),
    };
    printer.correct(correction);
    let outcome = session.perform(&mut book, Action::SavePrinter { id: Some(id), printer: printer.clone() })?;
    if task.form.format == Format::Json {
        return answer(session, Format::Json, &outcome.name, Some(printer_json(&snapshot, &printer)));
    }
    let [right, down, wide, high] = figures(&correction);
    session.say(&format!(
        "{} on {}: moved {right} mm to the right and {down} mm down, {wide} times as wide, {high} times as high",
        printer.name,
        paper(&snapshot, sheet)
    ))
}

fn forget(session: &mut Session<'_>, task: &Forget) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let (id, mut printer) = known(&snapshot, &task.name)?;
    if task.sheet.is_none() && !task.plain {
        let outcome = session.perform(&mut book, Action::RemovePrinter(id))?;
        return answer(session, task.form.format, &outcome.name, None);
    }
    let sheet = sheet(&snapshot, task.sheet.as_deref())?;
    let before = printer.corrections.len();
    printer.corrections.retain(|correction| correction.sheet != sheet);
    let paper = paper(&snapshot, sheet);
    if printer.corrections.len() == before {
        return Err(Failure::no(format!("nothing was measured of {} on {paper}", printer.name)));
    }
    session.perform(&mut book, Action::SavePrinter { id: Some(id), printer: printer.clone() })?;
    let done = format!("What was measured of {} on {paper} is forgotten", printer.name);
    answer(session, task.form.format, &done, Some(printer_json(&snapshot, &printer)))
}
