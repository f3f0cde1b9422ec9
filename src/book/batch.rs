//! Batches and their pieces in the book; what happened to them is `bench_entry`'s.

use super::change::{Change, Reader};
use super::number::{date_from_row, date_to_row};
use super::{BookError, bench_entry};
use crate::studio::{
    Batch, BatchHead, BatchId, BatchRecord, BatchState, Design, DesignId, ItemId, MaterialId, Piece, PieceId,
};
use chrono::NaiveDate;
use rusqlite::{OptionalExtension, Row, ToSql, named_params};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What a batch's `body` holds.
#[derive(Serialize, Deserialize)]
struct Body {
    plan: Design,
    stock: BTreeMap<MaterialId, ItemId>,
    note: String,
}

/// Design and plan of batches.
pub(crate) type Plans = BTreeMap<BatchId, (DesignId, Arc<Design>)>;

const COLUMNS: &str = "id, number, design_id, name, started, state, body";

fn state_of(text: &str) -> Result<BatchState, BookError> {
    BatchState::from_name(text).ok_or_else(|| BookError::Odd(format!("a batch that is {text:?}")))
}

fn from_row(row: &Row<'_>) -> Result<(BatchId, Batch), BookError> {
    let (started, state, body): (String, String, String) = (row.get(4)?, row.get(5)?, row.get(6)?);
    let Body { plan, stock, note } = serde_json::from_str(&body)?;
    let batch = Batch {
        number: row.get(1)?,
        design: DesignId(row.get(2)?),
        name: row.get(3)?,
        started: date_from_row(&started)?,
        plan,
        stock,
        note,
        state: state_of(&state)?,
    };
    Ok((BatchId(row.get(0)?), batch))
}

fn record(reader: Reader<'_>, id: BatchId, batch: Batch) -> Result<BatchRecord, BookError> {
    Ok(BatchRecord { id, batch, pieces: pieces(reader, id)?, entries: bench_entry::of_batch(reader, id)? })
}

/// One batch with its pieces and all that happened to it.
pub(crate) fn find(reader: Reader<'_>, id: BatchId) -> Result<Option<BatchRecord>, BookError> {
    let mut query = reader.connection().prepare(&format!("SELECT {COLUMNS} FROM batch WHERE id = ?1"))?;
    let mut rows = query.query([id.0])?;
    let Some(row) = rows.next()? else { return Ok(None) };
    let (id, batch) = from_row(row)?;
    record(reader, id, batch).map(Some)
}

/// The batch of that number.
pub(crate) fn with_number(reader: Reader<'_>, number: u32) -> Result<Option<BatchId>, BookError> {
    let mut query = reader.connection().prepare("SELECT id FROM batch WHERE number = ?1")?;
    Ok(query.query_row([number], |row| row.get(0).map(BatchId)).optional()?)
}

/// Batches with pieces at work, oldest first, with all that happened to them.
pub(crate) fn open(reader: Reader<'_>) -> Result<Vec<BatchRecord>, BookError> {
    let sql = format!("SELECT {COLUMNS} FROM batch WHERE state = 'open' ORDER BY started, id");
    let mut query = reader.connection().prepare(&sql)?;
    let mut rows = query.query([])?;
    let mut found = Vec::new();
    while let Some(row) = rows.next()? {
        let (id, batch) = from_row(row)?;
        found.push(record(reader, id, batch)?);
    }
    Ok(found)
}

/// A design's batches begun last, newest first, at most so many, with all that happened to them.
pub(crate) fn of_design(reader: Reader<'_>, design: DesignId, most: u32) -> Result<Vec<BatchRecord>, BookError> {
    let sql = format!("SELECT {COLUMNS} FROM batch WHERE design_id = ?1 ORDER BY started DESC, id DESC LIMIT ?2");
    let mut query = reader.connection().prepare(&sql)?;
    let mut rows = query.query((design.0, most))?;
    let mut found = Vec::new();
    while let Some(row) = rows.next()? {
        let (id, batch) = from_row(row)?;
        found.push(record(reader, id, batch)?);
    }
    Ok(found)
}

const HEAD: &str = "SELECT id, number, design_id, code, name, started, state,
        (SELECT count(*) FROM piece WHERE piece.batch_id = batch.id),
        (SELECT count(*) FROM piece WHERE piece.batch_id = batch.id AND piece.number IS NOT NULL)
    FROM batch";

fn head_from_row(row: &Row<'_>) -> Result<BatchHead, BookError> {
    let (started, state): (String, String) = (row.get(5)?, row.get(6)?);
    Ok(BatchHead {
        id: BatchId(row.get(0)?),
        number: row.get(1)?,
        design: DesignId(row.get(2)?),
        code: row.get(3)?,
        name: row.get(4)?,
        started: date_from_row(&started)?,
        state: state_of(&state)?,
        pieces: row.get(7)?,
        finished: row.get(8)?,
    })
}

/// Every batch as a line of a list, newest first; of one state where one is given.
pub(crate) fn heads(reader: Reader<'_>, state: Option<BatchState>) -> Result<Vec<BatchHead>, BookError> {
    let clause = if state.is_some() { "WHERE state = ?1" } else { "" };
    let mut query = reader.connection().prepare(&format!("{HEAD} {clause} ORDER BY started DESC, id DESC"))?;
    let name = state.map(BatchState::name);
    let values: Vec<&dyn ToSql> = name.iter().map(|name| name as &dyn ToSql).collect();
    let mut rows = query.query(values.as_slice())?;
    let mut heads = Vec::new();
    while let Some(row) = rows.next()? {
        heads.push(head_from_row(row)?);
    }
    Ok(heads)
}

/// One batch as a line of a list.
pub(crate) fn head(reader: Reader<'_>, id: BatchId) -> Result<Option<BatchHead>, BookError> {
    let mut query = reader.connection().prepare(&format!("{HEAD} WHERE id = ?1"))?;
    let mut rows = query.query([id.0])?;
    rows.next()?.map(head_from_row).transpose()
}

/// The rows of every batch, oldest first.
pub(crate) fn rows(reader: Reader<'_>) -> Result<Vec<BatchId>, BookError> {
    let mut query = reader.connection().prepare("SELECT id FROM batch ORDER BY id")?;
    let rows = query.query_map([], |row| row.get(0).map(BatchId))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// The number the next batch gets: one more than the highest there is.
pub(crate) fn next_number(reader: Reader<'_>) -> Result<u32, BookError> {
    Ok(reader
        .connection()
        .prepare("SELECT coalesce(max(number), 0) + 1 FROM batch")?
        .query_row([], |row| row.get(0))?)
}

/// Adds a batch, without pieces.
pub(crate) fn insert(change: &Change<'_>, batch: &Batch) -> Result<BatchId, BookError> {
    let body = Body { plan: batch.plan.clone(), stock: batch.stock.clone(), note: batch.note.clone() };
    change
        .connection()
        .prepare(
            "INSERT INTO batch (number, design_id, name, code, started, state, body)
             VALUES (:number, :design, :name, :code, :started, :state, :body)",
        )?
        .execute(named_params! {
            ":number": batch.number,
            ":design": batch.design.0,
            ":name": batch.name,
            ":code": batch.plan.code.as_str(),
            ":started": date_to_row(batch.started),
            ":state": batch.state.name(),
            ":body": serde_json::to_string(&body)?,
        })?;
    Ok(BatchId(change.connection().last_insert_rowid()))
}

/// Says where a batch is.
pub(crate) fn set_state(change: &Change<'_>, id: BatchId, state: BatchState) -> Result<(), BookError> {
    change.connection().prepare("UPDATE batch SET state = ?2 WHERE id = ?1")?.execute((id.0, state.name()))?;
    Ok(())
}

const PIECE_COLUMNS: &str = "id, batch_id, place, number, finished, second, note";

fn piece_from_row(row: &Row<'_>) -> Result<Piece, BookError> {
    let finished: Option<String> = row.get(4)?;
    Ok(Piece {
        id: PieceId(row.get(0)?),
        batch: BatchId(row.get(1)?),
        place: row.get(2)?,
        number: row.get(3)?,
        finished: finished.map(|text| date_from_row(&text)).transpose()?,
        second: row.get(5)?,
        note: row.get(6)?,
    })
}

/// The pieces in a batch, by row.
pub(crate) fn pieces(reader: Reader<'_>, batch: BatchId) -> Result<Vec<Piece>, BookError> {
    let sql = format!("SELECT {PIECE_COLUMNS} FROM piece WHERE batch_id = ?1 ORDER BY id");
    let mut query = reader.connection().prepare(&sql)?;
    let mut rows = query.query([batch.0])?;
    let mut found = Vec::new();
    while let Some(row) = rows.next()? {
        found.push(piece_from_row(row)?);
    }
    Ok(found)
}

/// One piece.
pub(crate) fn piece(reader: Reader<'_>, id: PieceId) -> Result<Option<Piece>, BookError> {
    let mut query = reader.connection().prepare(&format!("SELECT {PIECE_COLUMNS} FROM piece WHERE id = ?1"))?;
    let mut rows = query.query([id.0])?;
    rows.next()?.map(piece_from_row).transpose()
}

/// The piece of that number.
pub(crate) fn piece_with_number(reader: Reader<'_>, number: &str) -> Result<Option<PieceId>, BookError> {
    let mut query = reader.connection().prepare("SELECT id FROM piece WHERE number = ?1")?;
    Ok(query.query_row([number], |row| row.get(0).map(PieceId)).optional()?)
}

/// Finished pieces with their batch, newest first, from one day to another, both included.
pub(crate) fn finished_pieces(
    reader: Reader<'_>,
    from: NaiveDate,
    to: NaiveDate,
) -> Result<Vec<(Piece, BatchHead)>, BookError> {
    let heads: BTreeMap<BatchId, BatchHead> = heads(reader, None)?.into_iter().map(|head| (head.id, head)).collect();
    let sql =
        format!("SELECT {PIECE_COLUMNS} FROM piece WHERE finished BETWEEN ?1 AND ?2 ORDER BY finished DESC, id DESC");
    let mut query = reader.connection().prepare(&sql)?;
    let mut rows = query.query((date_to_row(from), date_to_row(to)))?;
    let mut found = Vec::new();
    while let Some(row) = rows.next()? {
        let piece = piece_from_row(row)?;
        if let Some(head) = heads.get(&piece.batch) {
            found.push((piece, head.clone()));
        }
    }
    Ok(found)
}

/// Numbered pieces of every batch, newest first, with design and plan of each of their batches.
pub(crate) fn finished_with_plans(reader: Reader<'_>) -> Result<(Vec<Piece>, Plans), BookError> {
    let sql = format!("SELECT {PIECE_COLUMNS} FROM piece WHERE number IS NOT NULL ORDER BY finished DESC, id DESC");
    let mut query = reader.connection().prepare(&sql)?;
    let mut rows = query.query([])?;
    let mut pieces = Vec::new();
    while let Some(row) = rows.next()? {
        pieces.push(piece_from_row(row)?);
    }
    let sql = format!(
        "SELECT {COLUMNS} FROM batch WHERE id IN (SELECT batch_id FROM piece WHERE number IS NOT NULL) ORDER BY id"
    );
    let mut query = reader.connection().prepare(&sql)?;
    let mut rows = query.query([])?;
    let mut plans = Plans::new();
    while let Some(row) = rows.next()? {
        let (id, batch) = from_row(row)?;
        let _ = plans.insert(id, (batch.design, Arc::new(batch.plan)));
    }
    Ok((pieces, plans))
}

/// Numbers of pieces that begin with a design's code and a hyphen.
pub(crate) fn numbers_of(reader: Reader<'_>, code: &str) -> Result<Vec<String>, BookError> {
    let mut query = reader
        .connection()
        .prepare("SELECT number FROM piece WHERE substr(number, 1, length(?1) + 1) = ?1 || '-' ORDER BY number")?;
    let rows = query.query_map([code], |row| row.get(0))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Adds a piece at the beginning of its way.
pub(crate) fn insert_piece(change: &Change<'_>, batch: BatchId, place: u32) -> Result<PieceId, BookError> {
    change
        .connection()
        .prepare("INSERT INTO piece (batch_id, place, second, note) VALUES (?1, ?2, 0, '')")?
        .execute((batch.0, place))?;
    Ok(PieceId(change.connection().last_insert_rowid()))
}

/// Writes a piece over the one of its row.
pub(crate) fn update_piece(change: &Change<'_>, piece: &Piece) -> Result<(), BookError> {
    change
        .connection()
        .prepare(
            "UPDATE piece SET batch_id = :batch, place = :place, number = :number, finished = :finished,
                    second = :second, note = :note
             WHERE id = :id",
        )?
        .execute(named_params! {
            ":id": piece.id.0,
            ":batch": piece.batch.0,
            ":place": piece.place,
            ":number": piece.number,
            ":finished": piece.finished.map(date_to_row),
            ":second": piece.second,
            ":note": piece.note,
        })?;
    Ok(())
}

/// One batch by itself, without its pieces and what happened to them.
pub(crate) fn bare(reader: Reader<'_>, id: BatchId) -> Result<Option<Batch>, BookError> {
    let mut query = reader.connection().prepare(&format!("SELECT {COLUMNS} FROM batch WHERE id = ?1"))?;
    let mut rows = query.query([id.0])?;
    rows.next()?.map(|row| from_row(row).map(|(_, batch)| batch)).transpose()
}

/// Batches that cannot be read, a sentence each.
pub(in crate::book) fn problems(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let mut query = reader.connection().prepare(&format!("SELECT {COLUMNS}, code FROM batch ORDER BY id"))?;
    let mut rows = query.query([])?;
    let mut problems = Vec::new();
    while let Some(row) = rows.next()? {
        let (id, code): (i64, String) = (row.get(0)?, row.get(7)?);
        match from_row(row) {
            Ok((_, batch)) if batch.plan.code.as_str() == code => {}
            Ok(_) => problems.push(format!("batch row {id}: its code is not that of its plan")),
            Err(fault) => problems.push(format!("batch row {id}: {fault}")),
        }
    }
    Ok(problems)
}
