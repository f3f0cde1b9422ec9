//! Photos in the book: of designs, loads and test tiles.

use super::BookError;
use super::change::{Change, Reader};
use rusqlite::OptionalExtension;

/// A photo that nothing has.
const UNUSED: &str = "NOT EXISTS (SELECT 1 FROM design WHERE design.photo_id = photo.id)
    AND NOT EXISTS (SELECT 1 FROM firing_load WHERE firing_load.photo_id = photo.id)
    AND NOT EXISTS (SELECT 1 FROM tile WHERE tile.photo_id = photo.id)";

/// Adds a photo, PNG bytes.
pub(in crate::book) fn insert(change: &Change<'_>, png: &[u8]) -> Result<i64, BookError> {
    change.connection().prepare("INSERT INTO photo (png) VALUES (?1)")?.execute([png])?;
    Ok(change.connection().last_insert_rowid())
}

/// Takes photos out that nothing has any more.
pub(in crate::book) fn drop_unused(change: &Change<'_>) -> Result<(), BookError> {
    change.connection().prepare(&format!("DELETE FROM photo WHERE {UNUSED}"))?.execute([])?;
    Ok(())
}

/// A photo by its row.
pub(in crate::book) fn find(reader: Reader<'_>, id: i64) -> Result<Option<Vec<u8>>, BookError> {
    let mut query = reader.connection().prepare("SELECT png FROM photo WHERE id = ?1")?;
    Ok(query.query_row([id], |row| row.get(0)).optional()?)
}

/// Photos that nothing has, a sentence.
pub(in crate::book) fn problems(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let unused: i64 =
        reader.connection().query_row(&format!("SELECT count(*) FROM photo WHERE {UNUSED}"), [], |row| row.get(0))?;
    Ok(if unused > 0 { vec![format!("{unused} photos belong to nothing")] } else { Vec::new() })
}
