//! What happened to batches, in the book: an append-only list.

use super::BookError;
use super::change::{Change, Reader};
use super::number::{date_from_row, date_to_row};
use crate::studio::{BatchId, BenchDeed, BenchEntry, EntryId, ItemId, LoadId, MovementId};
use chrono::NaiveDate;
use rusqlite::{OptionalExtension, Row, named_params};

const COLUMNS: &str = "id, batch_id, date, body";

fn from_row(row: &Row<'_>) -> Result<BenchEntry, BookError> {
    let (date, body): (String, String) = (row.get(2)?, row.get(3)?);
    Ok(BenchEntry {
        id: EntryId(row.get(0)?),
        batch: BatchId(row.get(1)?),
        date: date_from_row(&date)?,
        deed: serde_json::from_str(&body)?,
    })
}

/// The name of a deed in its column, with what it refers to: load, movement, other batch.
fn references(deed: &BenchDeed) -> (&'static str, Option<LoadId>, Option<MovementId>, Option<BatchId>) {
    match deed {
        BenchDeed::Started { .. } => ("started", None, None, None),
        BenchDeed::Passed { .. } => ("passed", None, None, None),
        BenchDeed::Skipped { .. } => ("skipped", None, None, None),
        BenchDeed::SentBack { .. } => ("sent-back", None, None, None),
        BenchDeed::Took { movement, .. } => ("took", None, Some(*movement), None),
        BenchDeed::Used { .. } => ("used", None, None, None),
        BenchDeed::WashedBack { movement, .. } => ("washed-back", None, Some(*movement), None),
        BenchDeed::Worked { .. } => ("worked", None, None, None),
        BenchDeed::Fired { load, .. } => ("fired", Some(*load), None, None),
        BenchDeed::Lost { load, .. } => ("lost", *load, None, None),
        BenchDeed::Finished { .. } => ("finished", None, None, None),
        BenchDeed::Gave { to, .. } => ("gave", None, None, Some(*to)),
        BenchDeed::Got { from, .. } => ("got", None, None, Some(*from)),
        BenchDeed::Abandoned { .. } => ("abandoned", None, None, None),
    }
}

/// What happened to a batch, in order.
pub(in crate::book) fn of_batch(reader: Reader<'_>, batch: BatchId) -> Result<Vec<BenchEntry>, BookError> {
    let sql = format!("SELECT {COLUMNS} FROM bench_entry WHERE batch_id = ?1 ORDER BY id");
    let mut query = reader.connection().prepare(&sql)?;
    let mut rows = query.query([batch.0])?;
    let mut entries = Vec::new();
    while let Some(row) = rows.next()? {
        entries.push(from_row(row)?);
    }
    Ok(entries)
}

/// Everything lost, oldest first, from one day to another, both included.
pub(crate) fn losses(reader: Reader<'_>, from: NaiveDate, to: NaiveDate) -> Result<Vec<BenchEntry>, BookError> {
    let sql = format!(
        "SELECT {COLUMNS} FROM bench_entry
         WHERE deed IN ('lost', 'abandoned') AND date BETWEEN ?1 AND ?2 ORDER BY date, id"
    );
    let mut query = reader.connection().prepare(&sql)?;
    let mut rows = query.query((date_to_row(from), date_to_row(to)))?;
    let mut entries = Vec::new();
    while let Some(row) = rows.next()? {
        entries.push(from_row(row)?);
    }
    Ok(entries)
}

/// The entry a movement belongs to.
pub(crate) fn of_movement(reader: Reader<'_>, movement: MovementId) -> Result<Option<BenchEntry>, BookError> {
    let sql = format!("SELECT {COLUMNS} FROM bench_entry WHERE movement_id = ?1");
    let mut query = reader.connection().prepare(&sql)?;
    let mut rows = query.query([movement.0])?;
    rows.next()?.map(from_row).transpose()
}

/// What was taken of an item to the bench, and what came back from it, in the order of entry.
pub(crate) fn of_item(reader: Reader<'_>, item: ItemId) -> Result<Vec<BenchEntry>, BookError> {
    let mut query = reader.connection().prepare(
        "SELECT bench_entry.id, bench_entry.batch_id, bench_entry.date, bench_entry.body FROM movement
         JOIN bench_entry ON bench_entry.movement_id = movement.id WHERE movement.item_id = ?1 ORDER BY bench_entry.id",
    )?;
    let mut rows = query.query([item.0])?;
    let mut entries = Vec::new();
    while let Some(row) = rows.next()? {
        entries.push(from_row(row)?);
    }
    Ok(entries)
}

/// Every firing written down, in order.
pub(crate) fn firings(reader: Reader<'_>) -> Result<Vec<BenchEntry>, BookError> {
    let sql = format!("SELECT {COLUMNS} FROM bench_entry WHERE deed = 'fired' ORDER BY id");
    let mut query = reader.connection().prepare(&sql)?;
    let mut rows = query.query([])?;
    let mut entries = Vec::new();
    while let Some(row) = rows.next()? {
        entries.push(from_row(row)?);
    }
    Ok(entries)
}

/// Adds what happened.
pub(crate) fn insert(
    change: &Change<'_>,
    batch: BatchId,
    date: NaiveDate,
    deed: &BenchDeed,
) -> Result<EntryId, BookError> {
    let (name, load, movement, other) = references(deed);
    change
        .connection()
        .prepare(
            "INSERT INTO bench_entry (batch_id, date, deed, body, load_id, movement_id, other_batch_id)
             VALUES (:batch, :date, :deed, :body, :load, :movement, :other)",
        )?
        .execute(named_params! {
            ":batch": batch.0,
            ":date": date_to_row(date),
            ":deed": name,
            ":body": serde_json::to_string(deed)?,
            ":load": load.map(|load| load.0),
            ":movement": movement.map(|movement| movement.0),
            ":other": other.map(|other| other.0),
        })?;
    Ok(EntryId(change.connection().last_insert_rowid()))
}

/// The day something happened to a batch last.
pub(crate) fn last_day(reader: Reader<'_>, batch: BatchId) -> Result<Option<NaiveDate>, BookError> {
    let mut query = reader.connection().prepare("SELECT max(date) FROM bench_entry WHERE batch_id = ?1")?;
    let day: Option<Option<String>> = query.query_row([batch.0], |row| row.get(0)).optional()?;
    day.flatten().map(|text| date_from_row(&text)).transpose()
}
