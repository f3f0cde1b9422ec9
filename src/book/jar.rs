//! Jars and what they weighed, in the book.

use super::BookError;
use super::change::{Change, Reader};
use super::number::{date_from_row, date_to_row, quantity_from_row, quantity_to_row};
use crate::measure::Quantity;
use crate::studio::{BookJar, ItemId, Jar, JarId, MovementId, Weighing};
use chrono::NaiveDate;
use rusqlite::{OptionalExtension, Row, named_params};

const COLUMNS: &str = "jar.id, jar.item_id, jar.label, jar.tare_e9, jar.retired";

/// The newest weighing of a jar, up to a day where one is given.
const LATEST: &str = "SELECT date, gross_e9, movement_id FROM weighing
                      WHERE jar_id = ?1 AND date <= ?2 ORDER BY date DESC, id DESC LIMIT 1";

fn from_row(row: &Row<'_>) -> Result<(JarId, Jar), rusqlite::Error> {
    let jar = Jar {
        item: ItemId(row.get(1)?),
        label: row.get(2)?,
        tare: quantity_from_row(row.get(3)?),
        retired: row.get(4)?,
    };
    Ok((JarId(row.get(0)?), jar))
}

fn with_latest(
    reader: Reader<'_>,
    jars: Vec<(JarId, Jar)>,
    until: Option<NaiveDate>,
) -> Result<Vec<BookJar>, BookError> {
    let until = until.map_or_else(|| "9999-12-31".to_owned(), date_to_row);
    let mut query = reader.connection().prepare(LATEST)?;
    let mut found = Vec::with_capacity(jars.len());
    for (id, jar) in jars {
        let mut rows = query.query((id.0, &until))?;
        let latest = match rows.next()? {
            Some(row) => {
                let date: String = row.get(0)?;
                Some(Weighing {
                    date: date_from_row(&date)?,
                    gross: quantity_from_row(row.get(1)?),
                    movement: row.get::<_, Option<i64>>(2)?.map(MovementId),
                })
            }
            None => None,
        };
        found.push(BookJar { id, jar, latest });
    }
    Ok(found)
}

/// Every jar with what it weighed last, by label; those set aside too.
pub(in crate::book) fn all(reader: Reader<'_>) -> Result<Vec<BookJar>, BookError> {
    let mut query = reader.connection().prepare(&format!("SELECT {COLUMNS} FROM jar ORDER BY label, id"))?;
    let jars = query.query_map([], from_row)?.collect::<Result<_, _>>()?;
    with_latest(reader, jars, None)
}

/// An item's jars that are not set aside, by label, with what they weighed last up to the end of a day.
pub(crate) fn of_item(reader: Reader<'_>, item: ItemId, until: NaiveDate) -> Result<Vec<BookJar>, BookError> {
    let sql = format!("SELECT {COLUMNS} FROM jar WHERE item_id = ?1 AND retired = 0 ORDER BY label, id");
    let mut query = reader.connection().prepare(&sql)?;
    let jars = query.query_map([item.0], from_row)?.collect::<Result<_, _>>()?;
    with_latest(reader, jars, Some(until))
}

/// One jar.
pub(crate) fn find(reader: Reader<'_>, id: JarId) -> Result<Option<Jar>, BookError> {
    let mut query = reader.connection().prepare(&format!("SELECT {COLUMNS} FROM jar WHERE id = ?1"))?;
    Ok(query.query_row([id.0], from_row).optional()?.map(|(_, jar)| jar))
}

/// The jar of that label; capital and small letters are the same.
pub(crate) fn with_label(reader: Reader<'_>, label: &str) -> Result<Option<JarId>, BookError> {
    let mut query = reader.connection().prepare("SELECT id FROM jar WHERE label = ?1")?;
    Ok(query.query_row([label], |row| row.get(0).map(JarId)).optional()?)
}

/// The jar was weighed.
pub(crate) fn was_weighed(reader: Reader<'_>, id: JarId) -> Result<bool, BookError> {
    let mut query = reader.connection().prepare("SELECT EXISTS (SELECT 1 FROM weighing WHERE jar_id = ?1)")?;
    Ok(query.query_row([id.0], |row| row.get(0))?)
}

/// Adds a jar.
pub(crate) fn insert(change: &Change<'_>, jar: &Jar) -> Result<JarId, BookError> {
    write(
        change,
        "INSERT INTO jar (id, item_id, label, tare_e9, retired) VALUES (:id, :item, :label, :tare, :retired)",
        None,
        jar,
    )?;
    Ok(JarId(change.connection().last_insert_rowid()))
}

/// Writes a jar over the one of that row.
pub(crate) fn update(change: &Change<'_>, id: JarId, jar: &Jar) -> Result<(), BookError> {
    write(
        change,
        "UPDATE jar SET item_id = :item, label = :label, tare_e9 = :tare, retired = :retired WHERE id = :id",
        Some(id),
        jar,
    )
}

fn write(change: &Change<'_>, sql: &str, id: Option<JarId>, jar: &Jar) -> Result<(), BookError> {
    change.connection().prepare(sql)?.execute(named_params! {
        ":id": id.map(|id| id.0),
        ":item": jar.item.0,
        ":label": jar.label,
        ":tare": quantity_to_row(jar.tare)?,
        ":retired": jar.retired,
    })?;
    Ok(())
}

/// Keeps what the scale showed.
pub(crate) fn weigh(
    change: &Change<'_>,
    jar: JarId,
    date: NaiveDate,
    gross: Quantity,
    movement: MovementId,
) -> Result<(), BookError> {
    change
        .connection()
        .prepare("INSERT INTO weighing (jar_id, date, gross_e9, movement_id) VALUES (?1, ?2, ?3, ?4)")?
        .execute((jar.0, date_to_row(date), quantity_to_row(gross)?, movement.0))?;
    Ok(())
}

/// Weighings that led to something other than a count of what is in the jar, a sentence each.
pub(crate) fn problems(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let mut query = reader.connection().prepare(
        "SELECT w.id FROM weighing w JOIN jar ON jar.id = w.jar_id LEFT JOIN movement m ON m.id = w.movement_id
         WHERE w.movement_id IS NOT NULL AND (m.id IS NULL OR m.kind <> 'count' OR m.item_id <> jar.item_id
               OR m.date <> w.date)
         ORDER BY w.id",
    )?;
    let rows = query.query_map([], |row| row.get::<_, i64>(0))?;
    let mut problems = Vec::new();
    for id in rows {
        problems.push(format!("weighing {} did not lead to a count of what is in its jar", id?));
    }
    Ok(problems)
}
