//! `new`, `demo`, `check`, `undo`, `redo` and `history`: what concerns a book as a whole.

use super::arguments::{Demo, Format, New};
use super::failure::Failure;
use super::session::{Session, prepare_folder};
use super::table::{Align, Table};
use super::words::counted;
use crate::actions::{self, Action, Outcome};
use crate::book::Book;
use crate::measure::Currency;
use serde_json::json;
use std::path::PathBuf;

pub(super) fn new(session: &mut Session<'_>, task: New) -> Result<(), Failure> {
    let currency = task
        .currency
        .map(|code| Currency::from_code(&code.to_ascii_uppercase()))
        .transpose()
        .map_err(|error| Failure::invalid(format!("currency: {error}")))?;
    let path = place(session, task.file)?;
    let mut book = Book::create(&path)?;
    if currency.is_some() || task.studio.is_some() {
        let mut settings = actions::snapshot(&book)?.settings.as_ref().clone();
        settings.currency = currency.unwrap_or(settings.currency);
        settings.studio_name = task.studio.unwrap_or(settings.studio_name);
        session.perform(&mut book, Action::SaveSettings(settings))?;
    }
    session.say(&format!("Made an empty book, {}", path.display()))
}

pub(super) fn demo(session: &mut Session<'_>, task: Demo) -> Result<(), Failure> {
    let path = place(session, task.file)?;
    let mut book = Book::create(&path)?;
    if let Err(failure) = session.perform(&mut book, Action::LoadDemo) {
        // Made a moment ago and still empty: nothing of hers is in it, and it would stand in the way of the next try.
        drop(book);
        let _ = std::fs::remove_file(&path);
        return Err(failure);
    }
    let snapshot = actions::snapshot(&book)?;
    session.say(&format!(
        "Made {} with the demo studio: {} and {}. Every name and price in it is invented.",
        path.display(),
        counted(snapshot.stock.len(), "item of stock", "items of stock"),
        counted(snapshot.designs.len(), "design", "designs")
    ))
}

/// Where the new book goes: the file named, else `--book`, else the platform's data folder.
fn place(session: &Session<'_>, file: Option<PathBuf>) -> Result<PathBuf, Failure> {
    let path = match file {
        Some(file) => file,
        None => session.path()?,
    };
    prepare_folder(&path)?;
    Ok(path)
}

/// JSON: `sound`, `checked` and `problems` (sentences). Problems are the program's no.
pub(super) fn check(session: &mut Session<'_>, format: Format) -> Result<(), Failure> {
    let book = session.open_to_read()?;
    let report = actions::check(&book)?;
    let sound = report.problems.is_empty();
    match format {
        Format::Json => {
            session.json(&json!({ "sound": sound, "checked": report.checked, "problems": report.problems }))?
        }
        Format::Text => {
            for sentence in &report.checked {
                session.say(&format!("Checked {sentence}"))?;
            }
            if sound {
                session.say("The book is sound.")?;
            }
        }
    }
    if sound { Ok(()) } else { Err(Failure::No(report.problems)) }
}

/// JSON: `done`, the name of the action taken back.
pub(super) fn undo(session: &mut Session<'_>, format: Format) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let outcome = actions::undo(&mut book, session.order())?;
    told(session, "Undone", &outcome, format)
}

/// JSON: `done`, the name of the action done again.
pub(super) fn redo(session: &mut Session<'_>, format: Format) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let outcome = actions::redo(&mut book, session.order())?;
    told(session, "Done again", &outcome, format)
}

fn told(session: &mut Session<'_>, word: &str, outcome: &Outcome, format: Format) -> Result<(), Failure> {
    match format {
        Format::Json => session.json(&json!({ "done": outcome.name })),
        Format::Text => session.say(&format!("{word}: {}", outcome.name)),
    }
}

/// JSON: `history`: list of `at`, `name`, `undone`, newest first; `undo` and `redo`: what they would do, or null.
pub(super) fn history(session: &mut Session<'_>, format: Format) -> Result<(), Failure> {
    let (_, snapshot) = session.read()?;
    match format {
        Format::Json => {
            let list: Vec<_> = snapshot
                .history
                .iter()
                .map(|entry| json!({ "at": entry.at, "name": entry.name, "undone": entry.undone }))
                .collect();
            session.json(&json!({ "history": list, "undo": snapshot.undo, "redo": snapshot.redo }))
        }
        Format::Text if snapshot.history.is_empty() => session.say("Nothing was done in this book yet."),
        Format::Text => {
            let mut table = Table::new(&[("When", Align::Left), ("What", Align::Left), ("", Align::Left)]);
            for entry in snapshot.history.iter() {
                let mark = if entry.undone { "undone" } else { "" };
                table.row([entry.at.clone(), entry.name.clone(), mark.to_owned()]);
            }
            session.write(table)
        }
    }
}
