//! Designs: adding, changing, copying, setting aside, their photo.

use super::limits::{self, refuse};
use super::perform::Done;
use super::{Added, Refusal};
use crate::book::{Change, design, document, item};
use crate::costing::validate;
use crate::studio::{BookDesign, Design, DesignCode, DesignId, Follows};

/// The first bytes of every PNG picture (PNG specification, section 5.2).
const PNG_SIGNATURE: &[u8] = b"\x89PNG\r\n\x1a\n";

/// Largest photo, in bytes; faces scale pictures down long before that.
const LARGEST_PHOTO: usize = 16 * 1024 * 1024;

/// Adds a design, or changes the one of that row.
pub(super) fn save(
    change: &Change<'_>,
    id: Option<DesignId>,
    given: &Design,
    follows: &Follows,
    notes: &str,
    action: i64,
) -> Result<Done, Refusal> {
    match id {
        None => {
            let row = add(change, given, follows, notes, action)?;
            Ok(Done::adding(format!("Add design {}", given.code), Added::Design(row)))
        }
        Some(id) => {
            accept(change, Some(id), given, follows, notes)?;
            let before = found(change, id)?;
            design::update(change, id, given, follows, notes, action)?;
            let name = if before.design.code == given.code {
                format!("Change design {}", given.code)
            } else {
                format!("Change design {} to {}", before.design.code, given.code)
            };
            Ok(Done::named(name))
        }
    }
}

/// Adds a design and returns its row.
pub(super) fn add(
    change: &Change<'_>,
    given: &Design,
    follows: &Follows,
    notes: &str,
    action: i64,
) -> Result<DesignId, Refusal> {
    accept(change, None, given, follows, notes)?;
    Ok(design::insert(change, given, follows, notes, action)?)
}

/// Copies a design under another code, its photo and what it follows included.
pub(super) fn duplicate(
    change: &Change<'_>,
    id: DesignId,
    code: DesignCode,
    name: String,
    action: i64,
) -> Result<Done, Refusal> {
    let original = found(change, id)?;
    let copy = Design { code, name, ..original.design.clone() };
    let row = add(change, &copy, &original.follows, &original.notes, action)?;
    if original.has_photo {
        design::share_photo(change, id, row, action)?;
    }
    Ok(Done::adding(format!("Duplicate design {} as {}", original.design.code, copy.code), Added::Design(row)))
}

/// Sets a design aside, or takes it up again.
pub(super) fn retire(change: &Change<'_>, id: DesignId, retired: bool, action: i64) -> Result<Done, Refusal> {
    let before = found(change, id)?;
    let code = &before.design.code;
    if before.retired == retired {
        let state = if retired { "set aside already" } else { "not set aside" };
        return Err(Refusal::No(format!("design {code} is {state}")));
    }
    design::set_retired(change, id, retired, action)?;
    Ok(Done::named(if retired { format!("Set design {code} aside") } else { format!("Take design {code} up again") }))
}

/// Gives a design a photo, or takes it away.
pub(super) fn set_photo(change: &Change<'_>, id: DesignId, png: Option<&[u8]>, action: i64) -> Result<Done, Refusal> {
    let before = found(change, id)?;
    let code = &before.design.code;
    match png {
        Some(png) if !png.starts_with(PNG_SIGNATURE) => {
            return Err(refuse(
                "Photo",
                format!("{} bytes that are no picture", png.len()),
                "a PNG picture is accepted",
            ));
        }
        Some(png) if png.len() > LARGEST_PHOTO => {
            return Err(refuse("Photo", format!("{} bytes", png.len()), "a picture of up to 16 MiB is accepted"));
        }
        None if !before.has_photo => return Err(Refusal::No(format!("design {code} has no photo"))),
        _ => {}
    }
    design::set_photo(change, id, png, action)?;
    let name = match png {
        Some(_) => format!("Give design {code} a photo"),
        None => format!("Take the photo of design {code} away"),
    };
    Ok(Done::named(name))
}

fn found(change: &Change<'_>, id: DesignId) -> Result<BookDesign, Refusal> {
    design::find(change.reader(), id)?.ok_or_else(|| missing(id))
}

/// No such design.
pub(super) fn missing(id: DesignId) -> Refusal {
    Refusal::Missing(format!("design with row {}", id.0))
}

fn accept(
    change: &Change<'_>,
    id: Option<DesignId>,
    given: &Design,
    follows: &Follows,
    notes: &str,
) -> Result<(), Refusal> {
    let reader = change.reader();
    limits::text("Notes", notes)?;
    let problems = validate::validate(given);
    if !problems.is_empty() {
        return Err(Refusal::Problems(problems));
    }
    let settings = document::settings(reader)?;
    if given.currency != settings.currency {
        return Err(refuse("Currency", given.currency, format!("{}, the book's, is accepted", settings.currency)));
    }
    if let Some(other) = design::with_code(reader, &given.code)?
        && Some(other) != id
    {
        return Err(Refusal::Taken { field: "Code".to_owned(), value: given.code.to_string() });
    }
    for channel in &follows.channels {
        if !given.channels.iter().any(|own| own.id == *channel) {
            return Err(refuse("Channel", channel, "a channel of the design is accepted"));
        }
    }
    for (material, row) in &follows.materials {
        let Some(own) = given.materials.iter().find(|own| own.id == *material) else {
            return Err(refuse("Material", material, "a material of the design is accepted"));
        };
        let stock = item::find(reader, *row)?.ok_or_else(|| super::items::missing(*row))?;
        if stock.unit != own.unit {
            return Err(refuse(
                &format!("Material {}", own.name),
                format!("{} in {}", stock.name, stock.unit),
                format!("an item kept in {} is accepted", own.unit),
            ));
        }
    }
    Ok(())
}
