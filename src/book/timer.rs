//! Timers that run, in the book.

use super::BookError;
use super::change::{Change, Reader};
use super::load::time_to_row;
use crate::studio::{Timer, TimerId};
use std::collections::{BTreeMap, BTreeSet};

/// Every timer that runs, oldest first.
pub(crate) fn all(reader: Reader<'_>) -> Result<Vec<(TimerId, Timer)>, BookError> {
    let mut query = reader.connection().prepare("SELECT id, body FROM timer ORDER BY id")?;
    let mut rows = query.query([])?;
    let mut timers = Vec::new();
    while let Some(row) = rows.next()? {
        let body: String = row.get(1)?;
        timers.push((TimerId(row.get(0)?), serde_json::from_str(&body)?));
    }
    Ok(timers)
}

/// One timer.
pub(crate) fn find(reader: Reader<'_>, id: TimerId) -> Result<Option<Timer>, BookError> {
    Ok(all(reader)?.into_iter().find(|(row, _)| *row == id).map(|(_, timer)| timer))
}

/// Starts a timer.
pub(crate) fn insert(change: &Change<'_>, timer: &Timer) -> Result<TimerId, BookError> {
    let connection = change.connection();
    connection
        .prepare("INSERT INTO timer (since, body) VALUES (?1, ?2)")?
        .execute((time_to_row(timer.since), serde_json::to_string(timer)?))?;
    let id = connection.last_insert_rowid();
    let batches: BTreeSet<i64> = timer.work.iter().map(|work| work.batch.0).collect();
    let mut insert = connection.prepare("INSERT INTO timer_batch (timer_id, batch_id) VALUES (?1, ?2)")?;
    for batch in batches {
        insert.execute((id, batch))?;
    }
    Ok(TimerId(id))
}

/// Takes a timer away.
pub(crate) fn delete(change: &Change<'_>, id: TimerId) -> Result<(), BookError> {
    change.connection().prepare("DELETE FROM timer_batch WHERE timer_id = ?1")?.execute([id.0])?;
    change.connection().prepare("DELETE FROM timer WHERE id = ?1")?.execute([id.0])?;
    Ok(())
}

/// Timers that cannot be read, or whose columns are not what they say, a sentence each.
pub(in crate::book) fn problems(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let timers = match all(reader) {
        Ok(timers) => timers,
        Err(fault) => return Ok(vec![format!("a timer: {fault}")]),
    };
    let mut kept: BTreeMap<i64, (String, BTreeSet<i64>)> = BTreeMap::new();
    let mut query = reader.connection().prepare(
        "SELECT timer.id, timer.since, timer_batch.batch_id FROM timer
         LEFT JOIN timer_batch ON timer_batch.timer_id = timer.id",
    )?;
    let mut rows = query.query([])?;
    while let Some(row) = rows.next()? {
        let known = kept.entry(row.get(0)?).or_insert((row.get(1)?, BTreeSet::new()));
        known.1.extend(row.get::<_, Option<i64>>(2)?);
    }
    let sound = |id: TimerId, timer: &Timer| {
        let batches = timer.work.iter().map(|work| work.batch.0).collect();
        kept.get(&id.0) == Some(&(time_to_row(timer.since), batches))
    };
    let odd = timers.iter().filter(|(id, timer)| !sound(*id, timer));
    Ok(odd.map(|(id, _)| format!("timer {}: its columns are not what it says", id.0)).collect())
}
