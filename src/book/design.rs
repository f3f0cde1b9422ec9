//! Designs in the book. A design is edited and priced as one document and is kept as one, with the columns lists and
//! foreign keys need beside it.

use super::change::{Change, Reader};
use super::{BookError, photo};
use crate::studio::{BookDesign, Design, DesignCode, DesignId, Follows, ItemId};
use rusqlite::{OptionalExtension, Row, named_params};

const COLUMNS: &str = "id, body, follows, notes, retired, photo_id IS NOT NULL, revision";

/// A design with the action that wrote it last.
pub(in crate::book) struct DesignRow {
    pub(in crate::book) design: BookDesign,
    pub(in crate::book) revision: i64,
}

fn from_row(row: &Row<'_>) -> Result<DesignRow, BookError> {
    let id: i64 = row.get(0)?;
    let odd = |error: &dyn std::fmt::Display| BookError::Odd(format!("design {id}: {error}"));
    let body = row.get_ref(1)?.as_str().map_err(|error| odd(&error))?;
    let follows = row.get_ref(2)?.as_str().map_err(|error| odd(&error))?;
    Ok(DesignRow {
        design: BookDesign {
            id: DesignId(id),
            design: serde_json::from_str(body).map_err(|error| odd(&error))?,
            follows: serde_json::from_str(follows).map_err(|error| odd(&error))?,
            notes: row.get(3)?,
            retired: row.get(4)?,
            has_photo: row.get(5)?,
        },
        revision: row.get(6)?,
    })
}

/// One design.
pub(crate) fn find(reader: Reader<'_>, id: DesignId) -> Result<Option<BookDesign>, BookError> {
    Ok(find_row(reader, id)?.map(|row| row.design))
}

pub(in crate::book) fn find_row(reader: Reader<'_>, id: DesignId) -> Result<Option<DesignRow>, BookError> {
    let mut query = reader.connection().prepare(&format!("SELECT {COLUMNS} FROM design WHERE id = ?1"))?;
    let mut rows = query.query([id.0])?;
    rows.next()?.map(from_row).transpose()
}

/// Row and revision of every design, by code.
pub(in crate::book) fn revisions(reader: Reader<'_>) -> Result<Vec<(DesignId, i64)>, BookError> {
    let mut query = reader.connection().prepare("SELECT id, revision FROM design ORDER BY code, id")?;
    let rows = query.query_map([], |row| Ok((DesignId(row.get(0)?), row.get(1)?)))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Every design, by code.
pub(in crate::book) fn all(reader: Reader<'_>) -> Result<Vec<DesignRow>, BookError> {
    let mut query = reader.connection().prepare(&format!("SELECT {COLUMNS} FROM design ORDER BY code, id"))?;
    let mut rows = query.query([])?;
    let mut designs = Vec::new();
    while let Some(row) = rows.next()? {
        designs.push(from_row(row)?);
    }
    Ok(designs)
}

/// The design of that code.
pub(crate) fn with_code(reader: Reader<'_>, code: &DesignCode) -> Result<Option<DesignId>, BookError> {
    let mut query = reader.connection().prepare("SELECT id FROM design WHERE code = ?1")?;
    Ok(query.query_row([code.as_str()], |row| row.get(0).map(DesignId)).optional()?)
}

/// There is a design of that row.
pub(crate) fn exists(reader: Reader<'_>, id: DesignId) -> Result<bool, BookError> {
    let mut query = reader.connection().prepare("SELECT EXISTS (SELECT 1 FROM design WHERE id = ?1)")?;
    Ok(query.query_row([id.0], |row| row.get(0))?)
}

/// The book has any design.
pub(crate) fn any(reader: Reader<'_>) -> Result<bool, BookError> {
    Ok(reader.connection().query_row("SELECT EXISTS (SELECT 1 FROM design)", [], |row| row.get(0))?)
}

/// Designs that take a material from that item, by code.
pub(crate) fn of_item(reader: Reader<'_>, item: ItemId) -> Result<Vec<DesignId>, BookError> {
    let mut query = reader.connection().prepare(
        "SELECT DISTINCT design.id, design.code FROM design_material JOIN design ON design.id = design_material.design_id
         WHERE design_material.item_id = ?1 ORDER BY design.code, design.id",
    )?;
    let rows = query.query_map([item.0], |row| row.get(0).map(DesignId))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Adds a design.
pub(crate) fn insert(
    change: &Change<'_>,
    design: &Design,
    follows: &Follows,
    notes: &str,
    action: i64,
) -> Result<DesignId, BookError> {
    change
        .connection()
        .prepare(
            "INSERT INTO design (code, name, body, follows, notes, retired, photo_id, revision)
             VALUES (:code, :name, :body, :follows, :notes, 0, NULL, :revision)",
        )?
        .execute(named_params! {
            ":code": design.code.as_str(),
            ":name": design.name,
            ":body": serde_json::to_string(design)?,
            ":follows": serde_json::to_string(follows)?,
            ":notes": notes,
            ":revision": action,
        })?;
    let id = DesignId(change.connection().last_insert_rowid());
    link(change, id, follows)?;
    Ok(id)
}

/// Writes a design over the one of that row.
pub(crate) fn update(
    change: &Change<'_>,
    id: DesignId,
    design: &Design,
    follows: &Follows,
    notes: &str,
    action: i64,
) -> Result<(), BookError> {
    change
        .connection()
        .prepare(
            "UPDATE design SET code = :code, name = :name, body = :body, follows = :follows, notes = :notes,
                               revision = :revision WHERE id = :id",
        )?
        .execute(named_params! {
            ":id": id.0,
            ":code": design.code.as_str(),
            ":name": design.name,
            ":body": serde_json::to_string(design)?,
            ":follows": serde_json::to_string(follows)?,
            ":notes": notes,
            ":revision": action,
        })?;
    link(change, id, follows)
}

/// Makes the links of a design those it follows; rows that stay the same are left alone.
fn link(change: &Change<'_>, id: DesignId, follows: &Follows) -> Result<(), BookError> {
    let connection = change.connection();
    let linked = links(change.reader(), id)?;
    let wanted: Vec<(String, i64)> =
        follows.materials.iter().map(|(material, item)| (material.0.clone(), item.0)).collect();
    for (material, item) in linked.iter().filter(|link| !wanted.contains(link)) {
        connection
            .prepare("DELETE FROM design_material WHERE design_id = ?1 AND material = ?2 AND item_id = ?3")?
            .execute((id.0, material, item))?;
    }
    for (material, item) in wanted.iter().filter(|link| !linked.contains(link)) {
        connection
            .prepare("INSERT INTO design_material (design_id, material, item_id) VALUES (?1, ?2, ?3)")?
            .execute((id.0, material, item))?;
    }
    Ok(())
}

fn links(reader: Reader<'_>, id: DesignId) -> Result<Vec<(String, i64)>, BookError> {
    let mut query = reader
        .connection()
        .prepare("SELECT material, item_id FROM design_material WHERE design_id = ?1 ORDER BY material")?;
    let rows = query.query_map([id.0], |row| Ok((row.get(0)?, row.get(1)?)))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Sets a design aside, or takes it up again.
pub(crate) fn set_retired(change: &Change<'_>, id: DesignId, retired: bool, action: i64) -> Result<(), BookError> {
    change
        .connection()
        .prepare("UPDATE design SET retired = ?2, revision = ?3 WHERE id = ?1")?
        .execute((id.0, retired, action))?;
    Ok(())
}

/// Gives a design a photo, or takes it away. A photo no design has is taken out.
pub(crate) fn set_photo(change: &Change<'_>, id: DesignId, png: Option<&[u8]>, action: i64) -> Result<(), BookError> {
    let photo_row = png.map(|png| photo::insert(change, png)).transpose()?;
    use_photo(change, id, photo_row, action)?;
    photo::drop_unused(change)
}

/// Gives a design the photo of another.
pub(crate) fn share_photo(change: &Change<'_>, from: DesignId, to: DesignId, action: i64) -> Result<(), BookError> {
    let photo: Option<i64> = change
        .connection()
        .prepare("SELECT photo_id FROM design WHERE id = ?1")?
        .query_row([from.0], |row| row.get(0))?;
    use_photo(change, to, photo, action)
}

fn use_photo(change: &Change<'_>, id: DesignId, photo: Option<i64>, action: i64) -> Result<(), BookError> {
    change
        .connection()
        .prepare("UPDATE design SET photo_id = ?2, revision = ?3 WHERE id = ?1")?
        .execute((id.0, photo, action))?;
    Ok(())
}

/// A design's photo.
pub(crate) fn photo(reader: Reader<'_>, id: DesignId) -> Result<Option<Vec<u8>>, BookError> {
    let mut query = reader
        .connection()
        .prepare("SELECT photo.png FROM design JOIN photo ON photo.id = design.photo_id WHERE design.id = ?1")?;
    Ok(query.query_row([id.0], |row| row.get(0)).optional()?)
}

/// Designs whose columns, links and document disagree, a sentence each.
pub(crate) fn problems(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let mut query =
        reader.connection().prepare(&format!("SELECT {COLUMNS}, code, name FROM design ORDER BY code, id"))?;
    let mut rows = query.query([])?;
    let mut problems = Vec::new();
    while let Some(row) = rows.next()? {
        let (code, name): (String, String) = (row.get(7)?, row.get(8)?);
        let read = match from_row(row) {
            Ok(read) => read.design,
            Err(fault) => {
                problems.push(format!("design {code}: {fault}"));
                continue;
            }
        };
        if read.design.code.as_str() != code || read.design.name != name {
            problems.push(format!("design {code}: its list entry and its document name it differently"));
        }
        let wanted: Vec<(String, i64)> =
            read.follows.materials.iter().map(|(material, item)| (material.0.clone(), item.0)).collect();
        if links(reader, read.id)? != wanted {
            problems.push(format!("design {code}: its links to stock are not those it follows"));
        }
        for (material, item) in &read.follows.materials {
            let item = super::item::find(reader, *item)?;
            let own = read.design.materials.iter().find(|own| own.id == *material);
            match (own, item) {
                (Some(own), Some(item)) if own.unit != item.unit => problems.push(format!(
                    "design {code}: {material} is used in {}, its item {} is kept in {}",
                    own.unit, item.reference, item.unit
                )),
                (None, _) => problems.push(format!("design {code}: follows stock for {material}, which it has not")),
                _ => {}
            }
        }
    }
    problems.extend(photo::problems(reader)?);
    Ok(problems)
}
