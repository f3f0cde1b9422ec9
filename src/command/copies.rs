//! `backup` and `restore`.

use super::arguments::{Backup, Format, Restore};
use super::failure::Failure;
use super::session::{Session, refuse_missing_folder};
use super::table::{Align, Table};
use crate::book::{BookError, backup as copies};
use serde_json::json;
use std::path::Path;

/// JSON: `copy`, the path of the copy.
pub(super) fn backup(session: &mut Session<'_>, task: &Backup) -> Result<(), Failure> {
    if let Some(to) = &task.to {
        refuse_missing_folder(to)?;
    }
    let book = session.open_to_read()?;
    let copy = book.backup(task.to.as_deref(), session.now()).map_err(|error| match error {
        // The book was read; it is the copy that the system did not take.
        BookError::System { .. } => Failure::no(error.to_string()),
        error => Failure::from(error),
    })?;
    match task.form.format {
        Format::Json => session.json(&json!({ "copy": copy.to_string_lossy() })),
        Format::Text => session.say(&format!("Kept a verified copy, {}", copy.display())),
    }
}

/// JSON: with `--list`, `copies`: list of `path`, `at`, `bytes`, `occasion`, newest first; else `restored` and `kept`,
/// the path of the book as it was (null where there was none).
pub(super) fn restore(session: &mut Session<'_>, task: Restore) -> Result<(), Failure> {
    let book = session.path()?;
    match task.file {
        Some(file) => put_back(session, &book, &file, task.form.format),
        None => list(session, &book, task.form.format),
    }
}

fn put_back(session: &mut Session<'_>, book: &Path, file: &Path, format: Format) -> Result<(), Failure> {
    refuse_missing_folder(book)?;
    let kept = copies::restore(book, file, session.now())?;
    match format {
        Format::Json => session.json(&json!({
            "restored": file.to_string_lossy(), "kept": kept.map(|kept| kept.to_string_lossy().into_owned()),
        })),
        Format::Text => {
            session.say(&format!("{} is now what {} holds.", book.display(), file.display()))?;
            match kept {
                Some(kept) => session.say(&format!("The book as it was is kept, {}", kept.display())),
                None => Ok(()),
            }
        }
    }
}

fn list(session: &mut Session<'_>, book: &Path, format: Format) -> Result<(), Failure> {
    let copies = copies::list(book)?;
    if format == Format::Json {
        let list: Vec<_> = copies
            .iter()
            .map(|copy| {
                let at = copy.at.format("%Y-%m-%d %H:%M").to_string();
                json!({
                    "path": copy.path.to_string_lossy(), "at": at, "bytes": copy.bytes, "occasion": copy.occasion,
                })
            })
            .collect();
        return session.json(&json!({ "copies": list }));
    }
    if copies.is_empty() {
        return session.say("No copy is kept beside the book yet: `backup` makes one.");
    }
    let mut table =
        Table::new(&[("When", Align::Left), ("KiB", Align::Right), ("Occasion", Align::Left), ("File", Align::Left)]);
    for copy in &copies {
        table.row([
            copy.at.format("%Y-%m-%d %H:%M").to_string(),
            copy.bytes.div_ceil(1024).to_string(),
            copy.occasion.clone(),
            copy.path.display().to_string(),
        ]);
    }
    session.write(table)
}
