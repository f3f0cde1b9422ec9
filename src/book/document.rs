//! The two documents a book has exactly one of: its settings and the studio's rates.

use super::BookError;
use super::change::{Change, Reader};
use super::number::date_to_row;
use crate::studio::{Settings, StudioRates};
use chrono::NaiveDate;
use rusqlite::OptionalExtension;
use serde::Serialize;
use serde::de::DeserializeOwned;

/// The settings.
pub(crate) fn settings(reader: Reader<'_>) -> Result<Settings, BookError> {
    read(reader, "SELECT body FROM settings WHERE id = 1")
}

/// The studio's rates and channels.
pub(crate) fn rates(reader: Reader<'_>) -> Result<StudioRates, BookError> {
    read(reader, "SELECT body FROM studio_rates WHERE id = 1")
}

/// Writes the settings.
pub(crate) fn set_settings(change: &Change<'_>, settings: &Settings) -> Result<(), BookError> {
    write(
        change,
        "INSERT INTO settings (id, body) VALUES (1, ?1) ON CONFLICT (id) DO UPDATE SET body = excluded.body",
        settings,
    )
}

/// Writes the studio's rates and channels.
pub(crate) fn set_rates(change: &Change<'_>, rates: &StudioRates) -> Result<(), BookError> {
    write(
        change,
        "INSERT INTO studio_rates (id, body) VALUES (1, ?1) ON CONFLICT (id) DO UPDATE SET body = excluded.body",
        rates,
    )
}

/// The rates that held on a day: those of today where no change was written down after it.
pub(crate) fn rates_on(reader: Reader<'_>, day: NaiveDate) -> Result<StudioRates, BookError> {
    let mut query =
        reader.connection().prepare("SELECT body FROM past_rates WHERE until > ?1 ORDER BY until LIMIT 1")?;
    let body: Option<String> = query.query_row([date_to_row(day)], |row| row.get(0)).optional()?;
    body.map_or_else(|| rates(reader), |body| Ok(serde_json::from_str(&body)?))
}

/// Keeps the rates as they are for the days before one; rates changed twice a day are kept as they were before it.
pub(crate) fn keep_rates_before(change: &Change<'_>, day: NaiveDate) -> Result<(), BookError> {
    let before = rates(change.reader())?;
    change
        .connection()
        .prepare("INSERT INTO past_rates (until, body) VALUES (?1, ?2) ON CONFLICT (until) DO NOTHING")?
        .execute((date_to_row(day), serde_json::to_string(&before)?))?;
    Ok(())
}

fn read<T: DeserializeOwned>(reader: Reader<'_>, sql: &str) -> Result<T, BookError> {
    let body: String = reader.connection().prepare(sql)?.query_row([], |row| row.get(0))?;
    Ok(serde_json::from_str(&body)?)
}

fn write<T: Serialize>(change: &Change<'_>, sql: &str, document: &T) -> Result<(), BookError> {
    change.connection().prepare(sql)?.execute([serde_json::to_string(document)?])?;
    Ok(())
}
