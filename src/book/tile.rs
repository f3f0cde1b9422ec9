//! Test tiles in the book.

use super::change::{Change, Reader};
use super::number::date_to_row;
use super::{BookError, photo};
use crate::studio::{BookTile, TestTile, TileId};
use rusqlite::{OptionalExtension, Row};

fn from_row(row: &Row<'_>) -> Result<BookTile, BookError> {
    let body: String = row.get(1)?;
    Ok(BookTile { id: TileId(row.get(0)?), tile: serde_json::from_str(&body)?, has_photo: row.get(2)? })
}

/// Every tile, newest first; those set aside too.
pub(crate) fn all(reader: Reader<'_>) -> Result<Vec<BookTile>, BookError> {
    let mut query =
        reader.connection().prepare("SELECT id, body, photo_id IS NOT NULL FROM tile ORDER BY date DESC, id DESC")?;
    let mut rows = query.query([])?;
    let mut tiles = Vec::new();
    while let Some(row) = rows.next()? {
        tiles.push(from_row(row)?);
    }
    Ok(tiles)
}

/// One tile.
pub(crate) fn find(reader: Reader<'_>, id: TileId) -> Result<Option<TestTile>, BookError> {
    let mut query = reader.connection().prepare("SELECT id, body, photo_id IS NOT NULL FROM tile WHERE id = ?1")?;
    let mut rows = query.query([id.0])?;
    rows.next()?.map(|row| from_row(row).map(|found| found.tile)).transpose()
}

/// Adds a tile with its layers.
pub(crate) fn insert(change: &Change<'_>, tile: &TestTile) -> Result<TileId, BookError> {
    change
        .connection()
        .prepare("INSERT INTO tile (date, body, load_id, retired) VALUES (?1, ?2, ?3, ?4)")?
        .execute((date_to_row(tile.date), serde_json::to_string(tile)?, tile.load.map(|load| load.0), tile.retired))?;
    let id = TileId(change.connection().last_insert_rowid());
    write_layers(change, id, tile)?;
    Ok(id)
}

/// Writes a tile over the one of that row.
pub(crate) fn update(change: &Change<'_>, id: TileId, tile: &TestTile) -> Result<(), BookError> {
    change
        .connection()
        .prepare("UPDATE tile SET date = ?2, body = ?3, load_id = ?4, retired = ?5 WHERE id = ?1")?
        .execute((
            id.0,
            date_to_row(tile.date),
            serde_json::to_string(tile)?,
            tile.load.map(|load| load.0),
            tile.retired,
        ))?;
    change.connection().prepare("DELETE FROM tile_layer WHERE tile_id = ?1")?.execute([id.0])?;
    write_layers(change, id, tile)
}

fn write_layers(change: &Change<'_>, id: TileId, tile: &TestTile) -> Result<(), BookError> {
    let mut insert = change.connection().prepare("INSERT INTO tile_layer (tile_id, item_id) VALUES (?1, ?2)")?;
    for item in &tile.layers {
        insert.execute((id.0, item.0))?;
    }
    Ok(())
}

/// Gives a tile a photo, PNG bytes, or takes it away.
pub(crate) fn set_photo(change: &Change<'_>, id: TileId, png: Option<&[u8]>) -> Result<(), BookError> {
    let photo_row = png.map(|png| photo::insert(change, png)).transpose()?;
    change.connection().prepare("UPDATE tile SET photo_id = ?2 WHERE id = ?1")?.execute((id.0, photo_row))?;
    photo::drop_unused(change)
}

/// A tile's photo.
pub(crate) fn photo_of(reader: Reader<'_>, id: TileId) -> Result<Option<Vec<u8>>, BookError> {
    let mut query = reader.connection().prepare("SELECT photo_id FROM tile WHERE id = ?1")?;
    let row: Option<Option<i64>> = query.query_row([id.0], |row| row.get(0)).optional()?;
    row.flatten().map_or(Ok(None), |row| photo::find(reader, row))
}
