//! Papers of her own and stored pictures in the book.

use super::BookError;
use super::change::{Change, Reader};
use crate::studio::{BookPaperDesign, PaperDesign, PaperDesignId, PictureId};
use rusqlite::{OptionalExtension, Row};

fn from_row(row: &Row<'_>) -> Result<BookPaperDesign, BookError> {
    let body: String = row.get(1)?;
    Ok(BookPaperDesign { id: PaperDesignId(row.get(0)?), design: serde_json::from_str(&body)?, retired: row.get(2)? })
}

/// Every paper design, by name; those set aside too.
pub(crate) fn all(reader: Reader<'_>) -> Result<Vec<BookPaperDesign>, BookError> {
    let mut query = reader.connection().prepare("SELECT id, body, retired FROM paper_design ORDER BY name, id")?;
    let mut rows = query.query([])?;
    let mut designs = Vec::new();
    while let Some(row) = rows.next()? {
        designs.push(from_row(row)?);
    }
    Ok(designs)
}

/// One paper design.
pub(crate) fn find(reader: Reader<'_>, id: PaperDesignId) -> Result<Option<BookPaperDesign>, BookError> {
    let mut query = reader.connection().prepare("SELECT id, body, retired FROM paper_design WHERE id = ?1")?;
    let mut rows = query.query([id.0])?;
    rows.next()?.map(from_row).transpose()
}

/// The paper design of that name; capital and small letters are the same.
pub(crate) fn with_name(reader: Reader<'_>, name: &str) -> Result<Option<PaperDesignId>, BookError> {
    let mut query = reader.connection().prepare("SELECT id FROM paper_design WHERE name = ?1")?;
    Ok(query.query_row([name], |row| row.get(0).map(PaperDesignId)).optional()?)
}

/// Adds a paper design.
pub(crate) fn insert(change: &Change<'_>, design: &PaperDesign) -> Result<PaperDesignId, BookError> {
    change
        .connection()
        .prepare("INSERT INTO paper_design (name, kind, body, retired) VALUES (?1, ?2, ?3, 0)")?
        .execute((&design.name, design.kind.name(), serde_json::to_string(design)?))?;
    Ok(PaperDesignId(change.connection().last_insert_rowid()))
}

/// Writes a paper design over the one of that row.
pub(crate) fn update(
    change: &Change<'_>,
    id: PaperDesignId,
    design: &PaperDesign,
    retired: bool,
) -> Result<(), BookError> {
    change
        .connection()
        .prepare("UPDATE paper_design SET name = ?2, kind = ?3, body = ?4, retired = ?5 WHERE id = ?1")?
        .execute((id.0, &design.name, design.kind.name(), serde_json::to_string(design)?, retired))?;
    Ok(())
}

/// Every stored picture by name, without its bytes.
pub(crate) fn pictures(reader: Reader<'_>) -> Result<Vec<(PictureId, String)>, BookError> {
    let mut query = reader.connection().prepare("SELECT id, name FROM picture ORDER BY name, id")?;
    let rows = query.query_map([], |row| Ok((PictureId(row.get(0)?), row.get(1)?)))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// A stored picture, PNG bytes.
pub(crate) fn picture(reader: Reader<'_>, id: PictureId) -> Result<Option<Vec<u8>>, BookError> {
    let mut query = reader.connection().prepare("SELECT png FROM picture WHERE id = ?1")?;
    Ok(query.query_row([id.0], |row| row.get(0)).optional()?)
}

/// Stores a picture, in the place of the one of that name where there is one.
pub(crate) fn save_picture(change: &Change<'_>, name: &str, png: &[u8]) -> Result<PictureId, BookError> {
    let connection = change.connection();
    let known: Option<i64> =
        connection.prepare("SELECT id FROM picture WHERE name = ?1")?.query_row([name], |row| row.get(0)).optional()?;
    if let Some(id) = known {
        connection.prepare("UPDATE picture SET name = ?2, png = ?3 WHERE id = ?1")?.execute((id, name, png))?;
        return Ok(PictureId(id));
    }
    connection.prepare("INSERT INTO picture (name, png) VALUES (?1, ?2)")?.execute((name, png))?;
    Ok(PictureId(connection.last_insert_rowid()))
}

/// Takes a stored picture out.
pub(crate) fn delete_picture(change: &Change<'_>, id: PictureId) -> Result<(), BookError> {
    change.connection().prepare("DELETE FROM picture WHERE id = ?1")?.execute([id.0])?;
    Ok(())
}
