//! Label sheets in the book.

use super::BookError;
use super::change::{Change, Reader};
use crate::studio::{LabelSheet, SheetId};
use rusqlite::OptionalExtension;

/// Every sheet, by name.
pub(in crate::book) fn all(reader: Reader<'_>) -> Result<Vec<(SheetId, LabelSheet)>, BookError> {
    let mut query = reader.connection().prepare("SELECT id, body FROM sheet ORDER BY name, id")?;
    let mut rows = query.query([])?;
    let mut sheets = Vec::new();
    while let Some(row) = rows.next()? {
        let body: String = row.get(1)?;
        sheets.push((SheetId(row.get(0)?), serde_json::from_str(&body)?));
    }
    Ok(sheets)
}

/// The sheet of that name; capital and small letters are the same.
pub(crate) fn with_name(reader: Reader<'_>, name: &str) -> Result<Option<SheetId>, BookError> {
    let mut query = reader.connection().prepare("SELECT id FROM sheet WHERE name = ?1")?;
    Ok(query.query_row([name], |row| row.get(0).map(SheetId)).optional()?)
}

/// One sheet.
pub(crate) fn find(reader: Reader<'_>, id: SheetId) -> Result<Option<LabelSheet>, BookError> {
    let mut query = reader.connection().prepare("SELECT body FROM sheet WHERE id = ?1")?;
    let body: Option<String> = query.query_row([id.0], |row| row.get(0)).optional()?;
    Ok(body.map(|body| serde_json::from_str(&body)).transpose()?)
}

/// There is a sheet of that row.
pub(crate) fn exists(reader: Reader<'_>, id: SheetId) -> Result<bool, BookError> {
    let mut query = reader.connection().prepare("SELECT EXISTS (SELECT 1 FROM sheet WHERE id = ?1)")?;
    Ok(query.query_row([id.0], |row| row.get(0))?)
}

/// Adds a sheet.
pub(crate) fn insert(change: &Change<'_>, sheet: &LabelSheet) -> Result<SheetId, BookError> {
    change
        .connection()
        .prepare("INSERT INTO sheet (name, body) VALUES (?1, ?2)")?
        .execute((&sheet.name, serde_json::to_string(sheet)?))?;
    Ok(SheetId(change.connection().last_insert_rowid()))
}

/// Writes a sheet over the one of that row.
pub(crate) fn update(change: &Change<'_>, id: SheetId, sheet: &LabelSheet) -> Result<(), BookError> {
    change.connection().prepare("UPDATE sheet SET name = ?2, body = ?3 WHERE id = ?1")?.execute((
        id.0,
        &sheet.name,
        serde_json::to_string(sheet)?,
    ))?;
    Ok(())
}

/// Sheets that cannot be read or are filed under another name, a sentence each.
pub(crate) fn problems(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let mut query = reader.connection().prepare("SELECT name, body FROM sheet ORDER BY name, id")?;
    let mut rows = query.query([])?;
    let mut problems = Vec::new();
    while let Some(row) = rows.next()? {
        let (name, body): (String, String) = (row.get(0)?, row.get(1)?);
        match serde_json::from_str::<LabelSheet>(&body) {
            Ok(sheet) if sheet.name == name => {}
            Ok(sheet) => problems.push(format!("sheet {} is filed under {name}", sheet.name)),
            Err(error) => problems.push(format!("sheet {name}: {error}")),
        }
    }
    Ok(problems)
}
