//! The two documents a book has exactly one of: its settings and the studio's rates.

use super::BookError;
use super::change::{Change, Reader};
use crate::studio::{Settings, StudioRates};
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

fn read<T: DeserializeOwned>(reader: Reader<'_>, sql: &str) -> Result<T, BookError> {
    let body: String = reader.connection().prepare(sql)?.query_row([], |row| row.get(0))?;
    Ok(serde_json::from_str(&body)?)
}

fn write<T: Serialize>(change: &Change<'_>, sql: &str, document: &T) -> Result<(), BookError> {
    change.connection().prepare(sql)?.execute([serde_json::to_string(document)?])?;
    Ok(())
}
