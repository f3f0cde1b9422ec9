//! What an item is, in words: one sentence for the page, lines for what only its kind has.

use crate::book::StockRow;
use crate::measure::{Decimal, Preferences, ThicknessEntry, Unit, display};
use crate::studio::design::Thickness;
use crate::studio::{Item, ItemDetails, ItemKind, MovementKind, Outline, ValuationMethod};
use crate::window::widget::Line;

/// What stands beside everything that bears lead.
pub(super) const LEAD: &str = "This item bears lead";

/// What to do about it. Usual cautions of the trade; local rules come first.
pub(super) const LEAD_ADVICE: &str = "Keep its dust out of lungs, mouth and kitchen: wear a mask made for fine dust when \
    sifting, wipe up wet, wash hands before eating. Keep it from children and from anyone pregnant; nothing made with it \
    is for children, or for food or drink. Local rules on lead at work and in what is sold come first.";

/// The same where there is room for a line only.
pub(super) const LEAD_BRIEF: &str = "Mind its dust, keep it from children; local rules on lead come first.";

/// A way of valuing stock, in words.
pub(super) const fn method(method: ValuationMethod) -> &'static str {
    match method {
        ValuationMethod::Fifo => "first in, first out",
        ValuationMethod::Average => "moving average",
    }
}

/// What a movement did, in words.
pub(super) const fn done(kind: MovementKind) -> &'static str {
    match kind {
        MovementKind::Receipt => "received",
        MovementKind::Issue => "issued",
        MovementKind::Return => "returned",
        MovementKind::Count => "counted",
        MovementKind::WriteOff => "written off",
        MovementKind::WashBack => "washed back",
    }
}

/// What a movement does, as a button says it.
pub(super) const fn verb(kind: MovementKind) -> &'static str {
    match kind {
        MovementKind::Receipt => "Receive",
        MovementKind::Issue => "Issue",
        MovementKind::Return => "Return",
        MovementKind::Count => "Count",
        MovementKind::WriteOff => "Write off",
        MovementKind::WashBack => "Wash back",
    }
}

/// The unit items of a kind usually come in.
pub(super) const fn usual_unit(kind: ItemKind) -> Unit {
    match kind {
        ItemKind::Enamel | ItemKind::Solder => Unit::Gram,
        ItemKind::Wire | ItemKind::Tube => Unit::Millimetre,
        ItemKind::Sheet | ItemKind::Blank | ItemKind::Finding | ItemKind::Consumable | ItemKind::Packaging => {
            Unit::Each
        }
    }
}

/// A stated thickness as a typed one.
pub(super) const fn thickness_entry(thickness: Thickness) -> ThicknessEntry {
    match thickness {
        Thickness::Gauge(gauge) => ThicknessEntry::Gauge(gauge),
        Thickness::ThicknessMm(mm) => ThicknessEntry::Millimetres(mm),
    }
}

/// What the selected item is and what there is of it.
pub(super) fn sentence(row: &StockRow, preferences: &Preferences) -> String {
    let item = &row.item;
    let quantity = |amount| display::quantity(amount, item.unit, preferences);
    let what = what(item, preferences);
    let there = if row.on_hand.is_zero() {
        "none on hand".to_owned()
    } else {
        format!("{} on hand, worth {}", quantity(row.on_hand.amount()), display::money(row.value.amount(), preferences))
    };
    let level = match item.reorder_level {
        Some(level) if row.is_low() => format!("; low: order at {}", quantity(level.amount())),
        Some(level) => format!("; order at {}", quantity(level.amount())),
        None => String::new(),
    };
    let moved = row.last_moved.map(|date| format!("; last moved {date}")).unwrap_or_default();
    let aside = if item.retired { "; set aside" } else { "" };
    format!("{what}: {there}{level}{moved}{aside}.")
}

/// What an item is: `opaque enamel, soft, 80 mesh`.
pub(super) fn what(item: &Item, preferences: &Preferences) -> String {
    let length = |mm: Decimal| display::length(mm, preferences);
    let thick = |thickness: Thickness| display::thickness(thickness_entry(thickness), preferences);
    match &item.details {
        ItemDetails::Sheet { metal, thickness, size_mm } => {
            let size = size_mm.map(|[long, wide]| format!(", {} × {}", length(long), length(wide))).unwrap_or_default();
            format!("{} sheet, {}{size}", metal.words(), thick(*thickness))
        }
        ItemDetails::Wire { metal, thickness } => format!("{} wire, {}", metal.words(), thick(*thickness)),
        ItemDetails::Tube { metal, outer_mm, wall_mm } => {
            format!("{} tube, {} across, wall {}", metal.words(), length(*outer_mm), length(*wall_mm))
        }
        ItemDetails::Blank { metal, thickness, outline, dome_height_mm, holes_mm, solder_flow_c } => {
            let dome =
                if dome_height_mm.is_zero() { String::new() } else { format!(", domed {}", length(*dome_height_mm)) };
            let holes = match holes_mm.len() {
                0 => "",
                1 => ", drilled",
                _ => ", drilled more than once",
            };
            let joint = solder_flow_c
                .map(|flow| format!(", soldered bail that flows at {}", display::temperature(flow, preferences)))
                .unwrap_or_default();
            format!(
                "{} blank, {}, {}{dome}{holes}{joint}",
                metal.words(),
                thick(*thickness),
                shape(outline, preferences)
            )
        }
        ItemDetails::Enamel { enamel, mesh, fusing, firing_c, .. } => {
            let fusing = fusing.map(|fusing| format!(", {} fusing", fusing.name())).unwrap_or_default();
            let mesh = if mesh.is_empty() { String::new() } else { format!(", {mesh} mesh") };
            let firing = firing_c
                .map(|[low, high]| {
                    let heat = |celsius| display::temperature(celsius, preferences);
                    format!(", fired at {} to {}", heat(low), heat(high))
                })
                .unwrap_or_default();
            let enamel = match enamel {
                crate::studio::EnamelKind::Clear => "clear flux",
                other => other.name(),
            };
            let lead = if item.lead_bearing { ", bears lead" } else { "" };
            format!("{enamel} enamel{fusing}{mesh}{firing}{lead}")
        }
        ItemDetails::Finding { metal } => match metal {
            Some(metal) => format!("{} finding", metal.words()),
            None => "finding".to_owned(),
        },
        ItemDetails::Solder { flow_c } => {
            format!("solder that flows at {}", display::temperature(*flow_c, preferences))
        }
        ItemDetails::Consumable => "consumable".to_owned(),
        ItemDetails::Packaging => "packaging".to_owned(),
    }
}

/// An outline with its measures.
fn shape(outline: &Outline, preferences: &Preferences) -> String {
    let length = |mm: &Decimal| display::length(*mm, preferences);
    match outline {
        Outline::Disc { diameter_mm } => format!("disc of {}", length(diameter_mm)),
        Outline::Ellipse { length_mm, width_mm } => format!("oval of {} × {}", length(length_mm), length(width_mm)),
        Outline::Rectangle { length_mm, width_mm, .. } => {
            format!("rectangle of {} × {}", length(length_mm), length(width_mm))
        }
        Outline::Drop { height_mm, width_mm } => format!("drop of {} × {}", length(height_mm), length(width_mm)),
        Outline::Polygon { points_mm } => format!("shape of {} corners", points_mm.len()),
        Outline::Path { .. } => "drawn outline".to_owned(),
    }
}

/// Where the item comes from and stands, and what was noted; only what is known.
pub(super) fn facts(item: &Item) -> Vec<Line> {
    [
        ("Maker", &item.maker),
        ("Maker's number", &item.maker_number),
        ("Supplier", &item.supplier),
        ("Shelf", &item.shelf),
        ("Note", &item.note),
    ]
    .into_iter()
    .filter(|(_, text)| !text.trim().is_empty())
    .map(|(label, text)| Line::new(label, text.trim()))
    .collect()
}
