//! `printer …`: the book's printers, and what is put right on what they print.

use super::arguments::Format;
use super::failure::Failure;
use super::printer_arguments::{CalibrationPage, Forget, Pair, PrinterSet, PrinterTask, PutRight};
use super::session::Session;
use super::table::{Align, Table};
use super::words::plain;
use crate::actions::{self, Action};
use crate::book::Snapshot;
use crate::exchange::print_queue;
use crate::measure::{Decimal, Preferences};
use crate::paper::calibration::{self, Calibration, Measured};
use crate::paper::{Finish, PaperSize, Properties, Shaper, put_right, sheets};
use crate::studio::{Correction, LabelSheet, Language, Printer, PrinterId, SheetId};
use serde_json::{Value, json};

pub(super) fn printer(session: &mut Session<'_>, task: PrinterTask) -> Result<(), Failure> {
    match task {
        PrinterTask::List(form) => list(session, form.format),
        PrinterTask::Set(task) => set(session, task),
        PrinterTask::PutRight(task) => write_put_right(session, &task),
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
fn sheet<'a>(snapshot: &'a Snapshot, name: Option<&str>) -> Result<Option<&'a (SheetId, LabelSheet)>, Failure> {
    let Some(name) = name else { return Ok(None) };
    let found = snapshot.sheets.iter().find(|(_, sheet)| sheet.name == name);
    found.map(Some).ok_or_else(|| {
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

fn write_put_right(session: &mut Session<'_>, task: &PutRight) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let (id, mut printer) = known(&snapshot, &task.name)?;
    let of = sheet(&snapshot, task.sheet.as_deref())?;
    let sheet = of.map(|(row, _)| *row);
    let correction = match (task.cross, task.rulers) {
        (Some(Pair(cross_mm)), Some(Pair(rulers_mm))) => {
            // What is meant on A4 is meant on Letter, too.
            let size = of.map_or_else(|| Ok(PaperSize::A4), |(_, sheet)| page_of(sheet))?;
            calibration::correction_from(sheet, size, &Measured { cross_mm, rulers_mm })
                .map_err(|problem| Failure::invalid(problem.to_string()))?
        }
        _ => outright(task, sheet, &printer),
    };
    printer.correct(correction);
    let outcome = session.perform(&mut book, Action::SavePrinter { id: Some(id), printer: printer.clone() })?;
    if task.form.format == Format::Json {
        return answer(session, Format::Json, &outcome.name, Some(printer_json(&snapshot, &printer)));
    }
    let words = plain(&put_right::words(&correction, &Preferences::from(&*snapshot.settings)));
    session.say(&format!("{} on {}: {words}", printer.name, paper(&snapshot, sheet)))
}

/// What was told outright; what was not stays as it was.
fn outright(task: &PutRight, sheet: Option<SheetId>, printer: &Printer) -> Correction {
    let was = printer.corrections.iter().find(|correction| correction.sheet == sheet);
    let was = |of: fn(&Correction) -> Decimal, else_: Decimal| was.map_or(else_, of);
    Correction {
        sheet,
        right_mm: task.right.unwrap_or_else(|| was(|of| of.right_mm, Decimal::ZERO)),
        down_mm: task.down.unwrap_or_else(|| was(|of| of.down_mm, Decimal::ZERO)),
        wide: task.wide.unwrap_or_else(|| was(|of| of.wide, Decimal::ONE)),
        high: task.high.unwrap_or_else(|| was(|of| of.high, Decimal::ONE)),
    }
}

const fn paper_size(letter: bool) -> PaperSize {
    if letter { PaperSize::LETTER } else { PaperSize::A4 }
}

fn page_of(sheet: &LabelSheet) -> Result<PaperSize, Failure> {
    let grid = sheets::grid(sheet)?;
    Ok(PaperSize { width_mm: grid.page_width_mm, height_mm: grid.page_height_mm })
}

fn forget(session: &mut Session<'_>, task: &Forget) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let (id, mut printer) = known(&snapshot, &task.name)?;
    if task.sheet.is_none() && !task.plain {
        let outcome = session.perform(&mut book, Action::RemovePrinter(id))?;
        return answer(session, task.form.format, &outcome.name, None);
    }
    let sheet = sheet(&snapshot, task.sheet.as_deref())?.map(|(row, _)| *row);
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

/// `print calibration`: nothing is put right on it unless it is asked for.
pub(super) fn calibration(session: &mut Session<'_>, task: &CalibrationPage) -> Result<(), Failure> {
    let (_, snapshot) = session.read()?;
    let of = sheet(&snapshot, task.sheet.as_deref())?;
    let own = task.way.finish(&snapshot, of.map(|(row, _)| *row))?;
    let dots_per_inch = task.dots.or(own.dots_per_inch);
    let document = match of {
        Some((_, sheet)) => calibration::layout_for_sheet(sheet, dots_per_inch, &mut Shaper::new())?,
        None => {
            let asked = Calibration { size: paper_size(task.letter), dots_per_inch };
            calibration::layout(&asked, &mut Shaper::new())?
        }
    };
    let properties = Properties {
        title: calibration::TITLE.to_owned(),
        author: snapshot.settings.studio_name.clone(),
        created: session.now(),
        language: Language::English.tag().to_owned(),
    };
    let finish = if task.put_right { own } else { Finish { correction: None, ..own } };
    let gone = task.way.take(session, &snapshot, &document, &properties, &finish)?;
    task.way.say(session, &gone, "the calibration page")
}
