//! Items of stock: adding and changing them.

use super::limits::{self, Range, refuse};
use super::perform::Done;
use super::{Added, Refusal};
use crate::book::{Change, Reader, design, item, movement};
use crate::measure::{Decimal, Unit};
use crate::studio::{Item, ItemDetails, ItemId, ItemKind, Outline, Thickness};

/// Longest time from order to shelf, days.
const MOST_LEAD_DAYS: u32 = 3650;

/// Most packs of a smallest order.
const MOST_PACKS: u32 = 1_000_000;

/// Adds an item, or changes the one of that row.
pub(super) fn save(change: &Change<'_>, id: Option<ItemId>, item: Item, action: i64) -> Result<Done, Refusal> {
    let reader = change.reader();
    match id {
        None => {
            let name = format!("Add {}", item.name.trim());
            Ok(Done::adding(name, Added::Item(add(change, item, action)?)))
        }
        Some(id) => {
            let before = item::find(reader, id)?.ok_or_else(|| missing(id))?;
            let mut item = item;
            if item.reference.trim().is_empty() {
                item.reference.clone_from(&before.reference);
            }
            let item = accept(reader, Some(id), item)?;
            if before.unit != item.unit {
                if movement::any_of_item(reader, id)? {
                    return Err(refuse(
                        "Unit",
                        item.unit,
                        format!("{} is accepted: {} has movements in it", before.unit, before.name),
                    ));
                }
                if !design::of_item(reader, id)?.is_empty() {
                    return Err(refuse(
                        "Unit",
                        item.unit,
                        format!("{} is accepted: designs use {} in it", before.unit, before.name),
                    ));
                }
            }
            item::update(change, id, &item, action)?;
            Ok(Done::named(format!("Change {}", item.name)))
        }
    }
}

/// Adds an item and returns its row.
pub(super) fn add(change: &Change<'_>, item: Item, action: i64) -> Result<ItemId, Refusal> {
    let item = accept(change.reader(), None, item)?;
    Ok(item::insert(change, &item, action)?)
}

/// No such item.
pub(super) fn missing(id: ItemId) -> Refusal {
    Refusal::Missing(format!("item with row {}", id.0))
}

/// Checks an item field by field; gives it a reference where it has none.
fn accept(reader: Reader<'_>, id: Option<ItemId>, given: Item) -> Result<Item, Refusal> {
    let mut item = given;
    item.name = limits::name("Name", &item.name)?;
    item.reference = limits::optional_name("Reference", &item.reference)?;
    if item.reference.is_empty() {
        item.reference = free_reference(reader, item.details.kind())?;
    }
    if item.reference.chars().count() > 40 {
        return Err(refuse("Reference", &item.reference, "1 to 40 characters are accepted, e.g. EN-014"));
    }
    for (field, text) in [
        ("Maker", &mut item.maker),
        ("Maker's number", &mut item.maker_number),
        ("Supplier", &mut item.supplier),
        ("Shelf", &mut item.shelf),
    ] {
        *text = limits::optional_name(field, text)?;
    }
    limits::text("Note", &item.note)?;
    if let Some(level) = item.reorder_level {
        limits::quantity("Reorder level", level, Range::ZeroOrMore)?;
    }
    if let Some(days) = item.buying.lead_days.filter(|days| *days > MOST_LEAD_DAYS) {
        return Err(refuse("Lead time", format!("{days} days"), format!("0 to {MOST_LEAD_DAYS} days are accepted")));
    }
    if let Some(pack) = &mut item.buying.pack {
        pack.words = limits::optional_name("Pack", &pack.words)?;
        limits::quantity("Quantity in a pack", pack.quantity, Range::AboveZero)?;
    }
    if let Some(packs) = item.buying.minimum_order_packs.filter(|packs| !(1..=MOST_PACKS).contains(packs)) {
        return Err(refuse(
            "Smallest order",
            format!("{packs} packs"),
            format!("1 to {MOST_PACKS} packs are accepted"),
        ));
    }
    accept_details(&item)?;
    if let Some(other) = item::with_reference(reader, &item.reference)?
        && Some(other) != id
    {
        return Err(Refusal::Taken { field: "Reference".to_owned(), value: item.reference });
    }
    Ok(item)
}

fn accept_details(item: &Item) -> Result<(), Refusal> {
    match &item.details {
        ItemDetails::Sheet { thickness, size_mm, .. } => {
            accept_thickness(*thickness)?;
            for side in size_mm.iter().flatten() {
                limits::number("Size", *side, Range::AboveZero)?;
            }
        }
        ItemDetails::Wire { thickness, .. } => accept_thickness(*thickness)?,
        ItemDetails::Tube { outer_mm, wall_mm, .. } => {
            limits::number("Outer diameter", *outer_mm, Range::AboveZero)?;
            limits::number("Wall", *wall_mm, Range::AboveZero)?;
            if wall_mm.checked_add(*wall_mm).is_none_or(|both| both >= *outer_mm) {
                return Err(refuse("Wall", wall_mm, "less than half the outer diameter is accepted"));
            }
        }
        ItemDetails::Blank { thickness, outline, dome_height_mm, holes_mm, solder_flow_c, .. } => {
            accept_thickness(*thickness)?;
            accept_outline(outline)?;
            limits::number("Dome height", *dome_height_mm, Range::ZeroOrMore)?;
            for hole in holes_mm {
                limits::number("Hole", *hole, Range::AboveZero)?;
            }
            if let Some(flow) = solder_flow_c {
                accept_heat("Solder flow point", *flow)?;
            }
        }
        ItemDetails::Enamel { mesh, firing_c, .. } => {
            limits::optional_name("Mesh", mesh)?;
            if let Some([low, high]) = firing_c {
                accept_heat("Lowest firing temperature", *low)?;
                accept_heat("Highest firing temperature", *high)?;
                if low > high {
                    return Err(refuse(
                        "Firing temperature",
                        format!("{low} to {high} °C"),
                        "the lower one first is accepted",
                    ));
                }
            }
            if item.unit != Unit::Gram {
                return Err(refuse("Unit", item.unit, "g is accepted: enamel is kept by weight"));
            }
        }
        ItemDetails::Solder { flow_c } => accept_heat("Solder flow point", *flow_c)?,
        ItemDetails::Finding { .. } | ItemDetails::Consumable | ItemDetails::Packaging => {}
    }
    Ok(())
}

fn accept_thickness(thickness: Thickness) -> Result<(), Refusal> {
    match thickness {
        Thickness::Gauge(gauge) if (-3..=40).contains(&gauge) => Ok(()),
        Thickness::Gauge(gauge) => Err(refuse("Gauge", gauge, "a whole number from -3 (0000) to 40 is accepted")),
        Thickness::ThicknessMm(thickness) => limits::number("Thickness", thickness, Range::AboveZero),
    }
}

fn accept_heat(field: &str, celsius: Decimal) -> Result<(), Refusal> {
    if celsius > Decimal::ZERO && celsius <= Decimal::from(2000) {
        limits::number(field, celsius, Range::AboveZero)
    } else {
        Err(refuse(field, format!("{celsius} °C"), "above 0 °C, at most 2000 °C is accepted"))
    }
}

fn accept_outline(outline: &Outline) -> Result<(), Refusal> {
    let above = |field: &str, value: &Decimal| limits::number(field, *value, Range::AboveZero);
    match outline {
        Outline::Disc { diameter_mm } => above("Diameter", diameter_mm),
        Outline::Ellipse { length_mm, width_mm } => above("Length", length_mm).and_then(|()| above("Width", width_mm)),
        Outline::Rectangle { length_mm, width_mm, corner_mm } => {
            above("Length", length_mm)?;
            above("Width", width_mm)?;
            limits::number("Corner radius", *corner_mm, Range::ZeroOrMore)?;
            let shorter = length_mm.min(width_mm);
            if corner_mm.checked_add(*corner_mm).is_none_or(|both| both > *shorter) {
                return Err(refuse("Corner radius", corner_mm, "at most half the shorter side is accepted"));
            }
            Ok(())
        }
        Outline::Drop { height_mm, width_mm } => {
            above("Height", height_mm)?;
            above("Width", width_mm)?;
            if height_mm <= width_mm {
                return Err(refuse("Height", height_mm, "more than the width is accepted"));
            }
            Ok(())
        }
        Outline::Polygon { points_mm } if points_mm.len() >= 3 => Ok(()),
        Outline::Polygon { points_mm } => {
            Err(refuse("Corners", format!("{} corners", points_mm.len()), "three or more are accepted"))
        }
        Outline::Path { svg } => {
            limits::text("Outline", svg)?;
            if svg.trim().is_empty() { Err(refuse("Outline", svg, "an SVG path in mm is accepted")) } else { Ok(()) }
        }
    }
}

/// The letters a kind's references start with.
const fn letters(kind: ItemKind) -> &'static str {
    match kind {
        ItemKind::Sheet => "SH-",
        ItemKind::Wire => "WI-",
        ItemKind::Tube => "TU-",
        ItemKind::Blank => "BL-",
        ItemKind::Enamel => "EN-",
        ItemKind::Finding => "FI-",
        ItemKind::Solder => "SO-",
        ItemKind::Consumable => "CO-",
        ItemKind::Packaging => "PA-",
    }
}

/// The reference after the highest of its kind: `EN-015`.
fn free_reference(reader: Reader<'_>, kind: ItemKind) -> Result<String, Refusal> {
    let letters = letters(kind);
    let highest = item::references_from(reader, letters)?
        .iter()
        .filter_map(|reference| reference.strip_prefix(letters)?.parse::<u32>().ok())
        .max()
        .unwrap_or(0);
    Ok(format!("{letters}{:03}", u64::from(highest) + 1))
}
