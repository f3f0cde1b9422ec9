//! Which columns were picked for files of one shape.

use super::BookError;
use super::change::{Change, Reader};
use rusqlite::OptionalExtension;

/// Remembers what was picked; what was picked for that shape before is replaced.
pub(crate) fn put(change: &Change<'_>, fingerprint: &str, body: &str) -> Result<(), BookError> {
    change
        .connection()
        .prepare(
            "INSERT INTO import_shape (fingerprint, body) VALUES (?1, ?2)
             ON CONFLICT (fingerprint) DO UPDATE SET body = excluded.body",
        )?
        .execute([fingerprint, body])?;
    Ok(())
}

/// What was picked for files of that shape.
pub(crate) fn find(reader: Reader<'_>, fingerprint: &str) -> Result<Option<String>, BookError> {
    let mut query = reader.connection().prepare("SELECT body FROM import_shape WHERE fingerprint = ?1")?;
    Ok(query.query_row([fingerprint], |row| row.get(0)).optional()?)
}
