//! Loads of the kiln in the book.

use super::change::{Change, Reader};
use super::number::date_to_row;
use super::{BookError, photo};
use crate::studio::{BatchId, BookLoad, KilnId, Load, LoadId, PieceId};
use chrono::{NaiveDate, NaiveDateTime};
use rusqlite::{OptionalExtension, Row, ToSql, named_params};

/// Local date and time as they are kept: `2026-03-14 10:20:05`.
pub(in crate::book) fn time_to_row(time: NaiveDateTime) -> String {
    time.format("%Y-%m-%d %H:%M:%S").to_string()
}

const COLUMNS: &str = "firing_load.id, firing_load.body, firing_load.photo_id IS NOT NULL";

fn from_row(row: &Row<'_>) -> Result<BookLoad, BookError> {
    let body: String = row.get(1)?;
    Ok(BookLoad { id: LoadId(row.get(0)?), load: serde_json::from_str(&body)?, has_photo: row.get(2)? })
}

fn list(reader: Reader<'_>, clause: &str, values: &[&dyn ToSql]) -> Result<Vec<BookLoad>, BookError> {
    let mut query = reader.connection().prepare(&format!("SELECT {COLUMNS} FROM firing_load {clause}"))?;
    let mut rows = query.query(values)?;
    let mut loads = Vec::new();
    while let Some(row) = rows.next()? {
        loads.push(from_row(row)?);
    }
    Ok(loads)
}

/// Loads the door is closed on, oldest first.
pub(crate) fn firing(reader: Reader<'_>) -> Result<Vec<BookLoad>, BookError> {
    list(reader, "WHERE opened_at IS NULL ORDER BY id", &[])
}

/// Loads of all kilns closed from one date to another, both included, in order of time.
pub(crate) fn between(reader: Reader<'_>, from: NaiveDate, to: NaiveDate) -> Result<Vec<BookLoad>, BookError> {
    list(reader, "WHERE date BETWEEN ?1 AND ?2 ORDER BY date, closed_at, id", &[&date_to_row(from), &date_to_row(to)])
}

/// A kiln's loads closed from one date to another, both included, in order of time.
pub(crate) fn of_kiln(
    reader: Reader<'_>,
    kiln: KilnId,
    from: NaiveDate,
    to: NaiveDate,
) -> Result<Vec<BookLoad>, BookError> {
    list(
        reader,
        "WHERE kiln_id = ?1 AND date BETWEEN ?2 AND ?3 ORDER BY date, closed_at, id",
        &[&kiln.0, &date_to_row(from), &date_to_row(to)],
    )
}

/// Whether a kiln ever had a load.
pub(crate) fn any_of_kiln(reader: Reader<'_>, kiln: KilnId) -> Result<bool, BookError> {
    let mut query = reader.connection().prepare("SELECT EXISTS (SELECT 1 FROM firing_load WHERE kiln_id = ?1)")?;
    Ok(query.query_row([kiln.0], |row| row.get(0))?)
}

/// A kiln's loads that are in it at some time between two, ends not included, in order of time; one whose door is still
/// closed is in it from then on.
pub(crate) fn in_kiln(
    reader: Reader<'_>,
    kiln: KilnId,
    from: NaiveDateTime,
    to: NaiveDateTime,
) -> Result<Vec<BookLoad>, BookError> {
    list(
        reader,
        "WHERE kiln_id = ?1 AND closed_at < ?3 AND (opened_at IS NULL OR opened_at > ?2) ORDER BY closed_at, id",
        &[&kiln.0, &time_to_row(from), &time_to_row(to)],
    )
}

/// Every load, kiln by kiln in order of time.
pub(crate) fn by_kiln(reader: Reader<'_>) -> Result<Vec<BookLoad>, BookError> {
    list(reader, "ORDER BY kiln_id, closed_at, id", &[])
}

/// The piece and batch of every place in a load, by load and piece.
pub(crate) fn places(reader: Reader<'_>) -> Result<Vec<(LoadId, PieceId, BatchId)>, BookError> {
    let mut query =
        reader.connection().prepare("SELECT load_id, piece_id, batch_id FROM load_piece ORDER BY load_id, piece_id")?;
    let rows = query.query_map([], |row| Ok((LoadId(row.get(0)?), PieceId(row.get(1)?), BatchId(row.get(2)?))))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Loads a piece was in, in order of time.
pub(crate) fn of_piece(reader: Reader<'_>, piece: PieceId) -> Result<Vec<BookLoad>, BookError> {
    list(
        reader,
        "WHERE id IN (SELECT load_id FROM load_piece WHERE piece_id = ?1) ORDER BY date, closed_at, id",
        &[&piece.0],
    )
}

/// One load.
pub(crate) fn find(reader: Reader<'_>, id: LoadId) -> Result<Option<BookLoad>, BookError> {
    Ok(list(reader, "WHERE id = ?1", &[&id.0])?.pop())
}

/// Adds a load with its pieces.
pub(crate) fn insert(change: &Change<'_>, load: &Load) -> Result<LoadId, BookError> {
    let connection = change.connection();
    connection
        .prepare(
            "INSERT INTO firing_load (kiln_id, date, closed_at, opened_at, body)
             VALUES (:kiln, :date, :closed, :opened, :body)",
        )?
        .execute(named_params! {
            ":kiln": load.kiln.0,
            ":date": date_to_row(load.closed_at.date()),
            ":closed": time_to_row(load.closed_at),
            ":opened": load.opened_at.map(time_to_row),
            ":body": serde_json::to_string(load)?,
        })?;
    let id = connection.last_insert_rowid();
    let mut insert = connection.prepare("INSERT INTO load_piece (load_id, piece_id, batch_id) VALUES (?1, ?2, ?3)")?;
    for charged in &load.charge {
        insert.execute((id, charged.piece.0, charged.batch.0))?;
    }
    Ok(LoadId(id))
}

/// Writes a load over the one of that row; its pieces stay the same.
pub(crate) fn update(change: &Change<'_>, id: LoadId, load: &Load) -> Result<(), BookError> {
    change
        .connection()
        .prepare(
            "UPDATE firing_load SET kiln_id = :kiln, date = :date, closed_at = :closed, opened_at = :opened, body = :body
             WHERE id = :id",
        )?
        .execute(named_params! {
            ":id": id.0,
            ":kiln": load.kiln.0,
            ":date": date_to_row(load.closed_at.date()),
            ":closed": time_to_row(load.closed_at),
            ":opened": load.opened_at.map(time_to_row),
            ":body": serde_json::to_string(load)?,
        })?;
    Ok(())
}

/// Gives a load a photo, PNG bytes, or takes it away.
pub(crate) fn set_photo(change: &Change<'_>, id: LoadId, png: Option<&[u8]>) -> Result<(), BookError> {
    let photo_row = png.map(|png| photo::insert(change, png)).transpose()?;
    change.connection().prepare("UPDATE firing_load SET photo_id = ?2 WHERE id = ?1")?.execute((id.0, photo_row))?;
    photo::drop_unused(change)
}

/// A load's photo.
pub(crate) fn photo_of(reader: Reader<'_>, id: LoadId) -> Result<Option<Vec<u8>>, BookError> {
    let mut query = reader.connection().prepare("SELECT photo_id FROM firing_load WHERE id = ?1")?;
    let row: Option<Option<i64>> = query.query_row([id.0], |row| row.get(0)).optional()?;
    row.flatten().map_or(Ok(None), |row| photo::find(reader, row))
}
