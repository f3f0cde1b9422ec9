//! Looking at a file before it is trusted: is it a book, is it whole, can this program read it.

use super::connection::{APPLICATION_ID, log_exists, reading, still};
use super::migration::KNOWN_VERSION;
use super::{BookError, Reader};
use rusqlite::Connection;
use std::path::Path;

/// How much of a file is read before it is trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::book) enum Depth {
    /// Size and layout only.
    Header,
    /// Every page.
    Pages,
}

/// Checks a file without changing a byte of it and returns its layout's version.
///
/// The file is only ever opened by SQLite: on POSIX systems, closing a file opened by other means would let go of the
/// locks a connection of this same program holds on it.
pub(in crate::book) fn inspect(path: &Path, depth: Depth) -> Result<i64, BookError> {
    let found = std::fs::metadata(path).map_err(|error| BookError::system(path, &error))?;
    if !found.is_file() || found.len() == 0 {
        return Err(BookError::NotABook(path.to_owned()));
    }
    let looked = || -> Result<i64, BookError> {
        // Where no log lies beside it nobody writes to it: the file is whole by itself, and nothing is made beside it.
        let connection = if log_exists(path) { reading(path)? } else { still(path)? };
        let version = layout(&connection, path)?;
        if depth == Depth::Pages {
            let said = quick_check(Reader::new(&connection))?;
            if let Some(detail) = said.into_iter().next() {
                return Err(BookError::Damaged { path: path.to_owned(), detail });
            }
        }
        Ok(version)
    };
    looked().map_err(|fault| fault.of_book(path))
}

/// Application id and version as SQLite sees them, which may lie in the log.
fn layout(connection: &Connection, path: &Path) -> Result<i64, BookError> {
    let application: i32 = connection.pragma_query_value(None, "application_id", |row| row.get(0))?;
    if application != APPLICATION_ID {
        return Err(BookError::NotABook(path.to_owned()));
    }
    let version: i64 = connection.pragma_query_value(None, "user_version", |row| row.get(0))?;
    newer(path, version)?;
    if version < 1 {
        return Err(BookError::NotABook(path.to_owned()));
    }
    Ok(version)
}

fn newer(path: &Path, found: i64) -> Result<(), BookError> {
    if found > KNOWN_VERSION {
        return Err(BookError::Newer { path: path.to_owned(), found, known: KNOWN_VERSION });
    }
    Ok(())
}

/// SQLite's check of every page; empty when all is well.
fn quick_check(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    said(reader, "PRAGMA quick_check(20)")
}

/// SQLite's check of every page, index and constraint; empty when all is well.
pub(in crate::book) fn integrity_check(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    said(reader, "PRAGMA integrity_check(100)")
}

fn said(reader: Reader<'_>, sql: &str) -> Result<Vec<String>, BookError> {
    let mut query = reader.connection().prepare(sql)?;
    let rows = query.query_map([], |row| row.get::<_, String>(0))?;
    let mut lines = Vec::new();
    for line in rows {
        let line = line?;
        if line != "ok" {
            lines.push(line.replace('\n', " "));
        }
    }
    Ok(lines)
}

/// Rows that point at a row that is not there, a sentence each.
pub(in crate::book) fn foreign_key_check(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let mut query = reader.connection().prepare("PRAGMA foreign_key_check")?;
    let rows = query.query_map([], |row| {
        Ok(format!(
            "row {} of {} points at a row of {} that is not there",
            row.get::<_, Option<i64>>(1)?.unwrap_or_default(),
            row.get::<_, String>(0)?,
            row.get::<_, String>(2)?
        ))
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}
