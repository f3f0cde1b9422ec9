//! What was done, what can be undone and done again, and which orders were carried out.

use super::change::{Change, Reader};
use super::number::{money_from_row, money_to_row};
use super::{BookError, HistoryEntry};
use crate::measure::Money;
use chrono::NaiveDateTime;
use rusqlite::{OptionalExtension, named_params};
use std::collections::{BTreeMap, BTreeSet};

/// The tables whose every change can be undone.
pub(in crate::book) const NOUNS: &[&str] = &[
    "settings",
    "studio_rates",
    "item",
    "movement",
    "photo",
    "design",
    "design_material",
    "price_list",
    "price_line",
    "sheet",
    "lot_correction",
    "purchase_order",
    "purchase_line",
    "delivery_line",
    "attachment",
    "jar",
    "weighing",
    "cut",
    "cut_line",
    "import_shape",
    "reclaimed",
    "kiln",
    "past_rates",
    "kiln_day",
    "firing_load",
    "batch",
    "piece",
    "load_piece",
    "bench_entry",
    "timer",
    "timer_batch",
    "tile",
    "tile_layer",
    "paper_design",
    "picture",
    "printer",
    "sheet_use",
    "printed_tag",
    "own_words",
    "numbered_paper",
    "trade_number",
];

/// How many actions back undo reaches. What it takes to undo a design is about the size of the design, so that a limit
/// keeps the book from growing for ever.
pub const UNDO_REACH: i64 = 1000;

/// What an order does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Deed {
    /// Something new.
    Do,
    /// Takes an action back.
    Undo,
    /// Does it again.
    Redo,
}

impl Deed {
    const fn name(self) -> &'static str {
        match self {
            Self::Do => "do",
            Self::Undo => "undo",
            Self::Redo => "redo",
        }
    }
}

/// What is kept of an order carried out, so that repeating it can answer the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Record {
    /// The action's sentence.
    pub(crate) name: String,
    /// Noun and row of what it added.
    pub(crate) added: Option<(String, i64)>,
    /// Cost of what left.
    pub(crate) moved_value: Option<Money>,
}

/// An order as the book keeps it.
pub(crate) struct Entry<'a> {
    /// Its key.
    pub(crate) key: u128,
    /// Local date and time.
    pub(crate) at: NaiveDateTime,
    /// What it does.
    pub(crate) deed: Deed,
    /// What it brought about.
    pub(crate) record: &'a Record,
}

fn key_text(key: u128) -> String {
    format!("{key:032x}")
}

fn time_text(at: NaiveDateTime) -> String {
    at.format("%Y-%m-%d %H:%M").to_string()
}

/// What an order with that key brought about, when it was carried out before.
pub(crate) fn carried_out(reader: Reader<'_>, key: u128) -> Result<Option<Record>, BookError> {
    let mut query = reader.connection().prepare(
        "SELECT action.name, action_key.added_noun, action_key.added_id, action_key.moved_value_e6
         FROM action_key JOIN action ON action.id = action_key.action_id WHERE action_key.key = ?1",
    )?;
    let found = query
        .query_row([key_text(key)], |row| {
            let noun: Option<String> = row.get(1)?;
            let id: Option<i64> = row.get(2)?;
            Ok(Record {
                name: row.get(0)?,
                added: noun.zip(id),
                moved_value: row.get::<_, Option<i64>>(3)?.map(money_from_row),
            })
        })
        .optional()?;
    Ok(found)
}

/// Begins a new action: what was undone can no longer be done again, and the triggers record from here on.
pub(crate) fn begin(change: &Change<'_>, at: NaiveDateTime) -> Result<i64, BookError> {
    let connection = change.connection();
    connection
        .prepare("DELETE FROM inverse WHERE action_id IN (SELECT id FROM action WHERE state = 'undone')")?
        .execute([])?;
    connection.prepare("UPDATE action SET state = 'dropped' WHERE state = 'undone'")?.execute([])?;
    connection.prepare("INSERT INTO action (at, name, state) VALUES (?1, '', 'done')")?.execute([time_text(at)])?;
    let action = connection.last_insert_rowid();
    record_under(change, Some(action), false)?;
    Ok(action)
}

/// Ends an action or a step of undo: stops recording, counts which nouns changed, keeps the order.
pub(crate) fn end(change: &Change<'_>, action: i64, entry: &Entry<'_>) -> Result<(), BookError> {
    record_under(change, None, false)?;
    let connection = change.connection();
    connection
        .prepare(
            "INSERT INTO change_count (noun, count)
             SELECT DISTINCT noun, 1 FROM inverse WHERE action_id = ?1
             ON CONFLICT (noun) DO UPDATE SET count = count + 1",
        )?
        .execute([action])?;
    if entry.deed == Deed::Do {
        connection.prepare("UPDATE action SET name = ?2 WHERE id = ?1")?.execute((action, &entry.record.name))?;
        settle(change, action)?;
    }
    let (noun, id) = match &entry.record.added {
        Some((noun, id)) => (Some(noun), Some(id)),
        None => (None, None),
    };
    connection
        .prepare(
            "INSERT INTO action_key (key, action_id, deed, at, added_noun, added_id, moved_value_e6)
             VALUES (:key, :action, :deed, :at, :noun, :id, :value)",
        )?
        .execute(named_params! {
            ":key": key_text(entry.key),
            ":action": action,
            ":deed": entry.deed.name(),
            ":at": time_text(entry.at),
            ":noun": noun,
            ":id": id,
            ":value": entry.record.moved_value.map(money_to_row).transpose()?,
        })?;
    Ok(())
}

/// Lets go of what it takes to undo actions far back.
fn settle(change: &Change<'_>, newest: i64) -> Result<(), BookError> {
    let connection = change.connection();
    let reach = newest.saturating_sub(UNDO_REACH);
    let settled = connection
        .prepare("UPDATE action SET state = 'settled' WHERE state = 'done' AND id <= ?1")?
        .execute([reach])?;
    if settled > 0 {
        connection.prepare("DELETE FROM inverse WHERE action_id <= ?1")?.execute([reach])?;
    }
    Ok(())
}

fn record_under(change: &Change<'_>, action: Option<i64>, replaying: bool) -> Result<(), BookError> {
    change
        .connection()
        .prepare("UPDATE recording SET action_id = ?1, replaying = ?2 WHERE id = 1")?
        .execute((action, replaying))?;
    Ok(())
}

/// The action undo would take back.
pub(crate) fn next_to_undo(reader: Reader<'_>) -> Result<Option<(i64, String)>, BookError> {
    next(reader, "SELECT id, name FROM action WHERE state = 'done' ORDER BY id DESC LIMIT 1")
}

/// The action redo would do again.
pub(crate) fn next_to_redo(reader: Reader<'_>) -> Result<Option<(i64, String)>, BookError> {
    next(reader, "SELECT id, name FROM action WHERE state = 'undone' ORDER BY id LIMIT 1")
}

fn next(reader: Reader<'_>, sql: &str) -> Result<Option<(i64, String)>, BookError> {
    let mut query = reader.connection().prepare(sql)?;
    Ok(query.query_row([], |row| Ok((row.get(0)?, row.get(1)?))).optional()?)
}

/// Runs the statements of an action from last to first. The triggers leave the statements that do the opposite.
pub(crate) fn replay(change: &Change<'_>, action: i64, deed: Deed) -> Result<(), BookError> {
    let connection = change.connection();
    let statements: Vec<(String, String)> = {
        let mut query =
            connection.prepare("SELECT noun, statement FROM inverse WHERE action_id = ?1 ORDER BY id DESC")?;
        let rows = query.query_map([action], |row| Ok((row.get(0)?, row.get(1)?)))?;
        rows.collect::<Result<_, _>>()?
    };
    connection.prepare("DELETE FROM inverse WHERE action_id = ?1")?.execute([action])?;
    record_under(change, Some(action), true)?;
    for (noun, statement) in &statements {
        if !is_inverse(noun, statement) {
            return Err(BookError::Odd("an undo step that is not one".to_owned()));
        }
        // `execute` refuses a text that holds more than one statement.
        connection.execute(statement, [])?;
    }
    let state = if deed == Deed::Undo { "undone" } else { "done" };
    connection.prepare("UPDATE action SET state = ?2 WHERE id = ?1")?.execute((action, state))?;
    Ok(())
}

/// A statement of the three forms the triggers write.
fn is_inverse(noun: &str, statement: &str) -> bool {
    NOUNS.contains(&noun)
        && [
            format!("DELETE FROM {noun} WHERE id = "),
            format!("UPDATE {noun} SET id = "),
            format!("INSERT INTO {noun} (id, "),
        ]
        .iter()
        .any(|start| statement.starts_with(start))
}

/// The latest actions, newest first.
pub(in crate::book) fn latest(reader: Reader<'_>, most: u32) -> Result<Vec<HistoryEntry>, BookError> {
    let mut query = reader
        .connection()
        .prepare("SELECT id, at, name, state IN ('undone', 'dropped') FROM action ORDER BY id DESC LIMIT ?1")?;
    let rows = query.query_map([most], |row| {
        Ok(HistoryEntry { id: row.get(0)?, at: row.get(1)?, name: row.get(2)?, undone: row.get(3)? })
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// How often each noun was changed.
pub(in crate::book) fn change_counts(reader: Reader<'_>) -> Result<BTreeMap<String, i64>, BookError> {
    let mut query = reader.connection().prepare("SELECT noun, count FROM change_count ORDER BY noun")?;
    let rows = query.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// What is wrong with the history, a sentence each.
pub(crate) fn problems(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let connection = reader.connection();
    let mut problems = Vec::new();
    let open: i64 = connection.query_row(
        "SELECT (SELECT count(*) FROM recording WHERE action_id IS NOT NULL OR replaying <> 0)
              + (SELECT count(*) FROM item_touched) + (SELECT count(*) <> 1 FROM recording)",
        [],
        |row| row.get(0),
    )?;
    if open > 0 {
        problems.push("the history was left in the middle of an action".to_owned());
    }
    let keyless: i64 = connection.query_row(
        "SELECT count(*) FROM action WHERE NOT EXISTS
         (SELECT 1 FROM action_key WHERE action_key.action_id = action.id AND action_key.deed = 'do')",
        [],
        |row| row.get(0),
    )?;
    if keyless > 0 {
        problems.push(format!("{keyless} actions of the history have no key"));
    }
    let order: bool = connection.query_row(
        "SELECT coalesce((SELECT max(id) FROM action WHERE state = 'done')
                       > (SELECT min(id) FROM action WHERE state = 'undone'), 0)",
        [],
        |row| row.get(0),
    )?;
    if order {
        problems.push("an undone action lies before one that is not undone".to_owned());
    }
    let mut query = connection.prepare(
        "SELECT inverse.noun, substr(inverse.statement, 1, 80), action.state
         FROM inverse JOIN action ON action.id = inverse.action_id ORDER BY inverse.id",
    )?;
    let mut odd = BTreeSet::new();
    let mut rows = query.query([])?;
    while let Some(row) = rows.next()? {
        let (noun, start, state): (String, String, String) = (row.get(0)?, row.get(1)?, row.get(2)?);
        if !is_inverse(&noun, &start) {
            odd.insert("the undo log holds a step that is not one".to_owned());
        }
        if state != "done" && state != "undone" {
            odd.insert("the undo log holds steps of an action that cannot be undone".to_owned());
        }
    }
    problems.extend(odd);
    Ok(problems)
}

/// The action wrote rows of that noun.
pub(crate) fn wrote(reader: Reader<'_>, action: i64, noun: &str) -> Result<bool, BookError> {
    let mut query =
        reader.connection().prepare("SELECT EXISTS (SELECT 1 FROM inverse WHERE action_id = ?1 AND noun = ?2)")?;
    Ok(query.query_row((action, noun), |row| row.get(0))?)
}
