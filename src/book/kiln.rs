//! Kilns and the days they were hot, in the book.

use super::BookError;
use super::change::{Change, Reader};
use super::number::date_to_row;
use crate::studio::{BookKiln, BookKilnDay, HeatSource, Kiln, KilnDay, KilnDayId, KilnId};
use chrono::NaiveDate;
use rusqlite::{OptionalExtension, Row};
use serde::{Deserialize, Serialize};

/// What a kiln's `body` holds.
#[derive(Serialize, Deserialize)]
struct Body {
    heat: HeatSource,
    note: String,
}

fn from_row(row: &Row<'_>) -> Result<BookKiln, BookError> {
    let body: String = row.get(2)?;
    let Body { heat, note } = serde_json::from_str(&body)?;
    Ok(BookKiln { id: KilnId(row.get(0)?), kiln: Kiln { name: row.get(1)?, heat, note, retired: row.get(3)? } })
}

/// Every kiln, by name; those set aside too.
pub(crate) fn all(reader: Reader<'_>) -> Result<Vec<BookKiln>, BookError> {
    let mut query = reader.connection().prepare("SELECT id, name, body, retired FROM kiln ORDER BY name, id")?;
    let mut rows = query.query([])?;
    let mut kilns = Vec::new();
    while let Some(row) = rows.next()? {
        kilns.push(from_row(row)?);
    }
    Ok(kilns)
}

/// One kiln.
pub(crate) fn find(reader: Reader<'_>, id: KilnId) -> Result<Option<Kiln>, BookError> {
    let mut query = reader.connection().prepare("SELECT id, name, body, retired FROM kiln WHERE id = ?1")?;
    let mut rows = query.query([id.0])?;
    rows.next()?.map(|row| from_row(row).map(|found| found.kiln)).transpose()
}

/// The kiln of that name; capital and small letters are the same.
pub(crate) fn with_name(reader: Reader<'_>, name: &str) -> Result<Option<KilnId>, BookError> {
    let mut query = reader.connection().prepare("SELECT id FROM kiln WHERE name = ?1")?;
    Ok(query.query_row([name], |row| row.get(0).map(KilnId)).optional()?)
}

fn body(kiln: &Kiln) -> Result<String, BookError> {
    Ok(serde_json::to_string(&Body { heat: kiln.heat.clone(), note: kiln.note.clone() })?)
}

/// Adds a kiln.
pub(crate) fn insert(change: &Change<'_>, kiln: &Kiln) -> Result<KilnId, BookError> {
    change.connection().prepare("INSERT INTO kiln (name, body, retired) VALUES (?1, ?2, ?3)")?.execute((
        &kiln.name,
        body(kiln)?,
        kiln.retired,
    ))?;
    Ok(KilnId(change.connection().last_insert_rowid()))
}

/// Writes a kiln over the one of that row.
pub(crate) fn update(change: &Change<'_>, id: KilnId, kiln: &Kiln) -> Result<(), BookError> {
    change.connection().prepare("UPDATE kiln SET name = ?2, body = ?3, retired = ?4 WHERE id = ?1")?.execute((
        id.0,
        &kiln.name,
        body(kiln)?,
        kiln.retired,
    ))?;
    Ok(())
}

fn day_from_row(row: &Row<'_>) -> Result<BookKilnDay, BookError> {
    let body: String = row.get(1)?;
    Ok(BookKilnDay { id: KilnDayId(row.get(0)?), day: serde_json::from_str(&body)? })
}

/// A kiln's days from one date to another, both included, oldest first.
pub(crate) fn days(
    reader: Reader<'_>,
    kiln: KilnId,
    from: NaiveDate,
    to: NaiveDate,
) -> Result<Vec<BookKilnDay>, BookError> {
    let mut query = reader
        .connection()
        .prepare("SELECT id, body FROM kiln_day WHERE kiln_id = ?1 AND date BETWEEN ?2 AND ?3 ORDER BY date, id")?;
    let mut rows = query.query((kiln.0, date_to_row(from), date_to_row(to)))?;
    let mut days = Vec::new();
    while let Some(row) = rows.next()? {
        days.push(day_from_row(row)?);
    }
    Ok(days)
}

/// Every day with the kiln it is listed with, by kiln and date.
pub(crate) fn every_day(reader: Reader<'_>) -> Result<Vec<(KilnId, BookKilnDay)>, BookError> {
    let mut query = reader.connection().prepare("SELECT id, body, kiln_id FROM kiln_day ORDER BY kiln_id, date, id")?;
    let mut rows = query.query([])?;
    let mut days = Vec::new();
    while let Some(row) = rows.next()? {
        days.push((KilnId(row.get(2)?), day_from_row(row)?));
    }
    Ok(days)
}

/// Whether a day of a kiln was ever written down.
pub(crate) fn any_day(reader: Reader<'_>, kiln: KilnId) -> Result<bool, BookError> {
    let mut query = reader.connection().prepare("SELECT EXISTS (SELECT 1 FROM kiln_day WHERE kiln_id = ?1)")?;
    Ok(query.query_row([kiln.0], |row| row.get(0))?)
}

/// A kiln's day of a date.
pub(crate) fn day_of(reader: Reader<'_>, kiln: KilnId, date: NaiveDate) -> Result<Option<BookKilnDay>, BookError> {
    Ok(days(reader, kiln, date, date)?.pop())
}

/// One day.
pub(crate) fn find_day(reader: Reader<'_>, id: KilnDayId) -> Result<Option<KilnDay>, BookError> {
    let mut query = reader.connection().prepare("SELECT id, body FROM kiln_day WHERE id = ?1")?;
    let mut rows = query.query([id.0])?;
    rows.next()?.map(|row| day_from_row(row).map(|found| found.day)).transpose()
}

/// Adds a day.
pub(crate) fn insert_day(change: &Change<'_>, day: &KilnDay) -> Result<KilnDayId, BookError> {
    change.connection().prepare("INSERT INTO kiln_day (kiln_id, date, body) VALUES (?1, ?2, ?3)")?.execute((
        day.kiln.0,
        date_to_row(day.date),
        serde_json::to_string(day)?,
    ))?;
    Ok(KilnDayId(change.connection().last_insert_rowid()))
}

/// Writes a day over the one of that row.
pub(crate) fn update_day(change: &Change<'_>, id: KilnDayId, day: &KilnDay) -> Result<(), BookError> {
    change.connection().prepare("UPDATE kiln_day SET kiln_id = ?2, date = ?3, body = ?4 WHERE id = ?1")?.execute((
        id.0,
        day.kiln.0,
        date_to_row(day.date),
        serde_json::to_string(day)?,
    ))?;
    Ok(())
}
