//! Rows of items.

use super::reading::{Reading, UNITS};
use crate::exchange::table::columns::{Field, measured};
use crate::measure::{Decimal, Preferences, Quantity, Unit, parse};
use crate::studio::{Buying, Pack};
use crate::studio::{EnamelKind, Fusing, Item, ItemDetails, ItemKind, Metal, Thickness, outline_words};
use std::collections::BTreeMap;

/// The swatch of an enamel without a colour: the grey of an unlabelled jar.
const PLAIN_SWATCH: [u8; 3] = [0x9a, 0x9a, 0x96];

/// Longest time from order to shelf and most packs of a smallest order, as a book takes them.
const MOST_LEAD_DAYS: u32 = 3650;
const MOST_PACKS: u32 = 1_000_000;

const KINDS: &str = "enamel, blank, sheet, wire, tube, finding, solder, consumable or packaging";
const METALS: &str = "copper, fine silver, sterling, brass, bronze or steel";

/// References seen, in lower case, with their rows.
#[derive(Debug, Default)]
pub(super) struct Seen {
    references: BTreeMap<String, u32>,
}

/// A row as an item; none where something is wrong with it. Without a kind it is a consumable, without a unit it is
/// kept in the one usual for its kind, without a reference it gets the next free one when it is added.
pub(super) fn item(reading: &mut Reading<'_>, seen: &mut Seen) -> Option<Item> {
    let before = reading.problems.len();
    let reference = reference(reading, seen);
    let name = reading.text(Field::Name);
    if name.is_empty() && reading.problems.len() == before {
        reading.refuse(Field::Name, "nothing stands there; a name is accepted");
    }
    let kind = reading.word(Field::Kind, KINDS, kind).unwrap_or(ItemKind::Consumable);
    let word = reading.text(Field::Unit);
    let unit = if word.is_empty() { Some(kind.listed_unit()) } else { measured(&word) };
    if unit.is_none() {
        reading.refuse(Field::Unit, format!("{word:?} is not a unit known here; {UNITS} are accepted"));
    }
    let unit = unit.unwrap_or(kind.listed_unit());
    if kind == ItemKind::Enamel && unit != Unit::Gram {
        reading.refuse(Field::Unit, format!("{word:?} stands there; g is accepted: enamel is kept by weight"));
    }
    let details = details(reading, kind);
    foreign(reading, kind);
    let reorder_level = in_unit(reading, Field::ReorderLevel, unit, &word);
    let buying = buying(reading, unit, &word);
    let [maker, maker_number, supplier, shelf, note] =
        [Field::Maker, Field::MakerNumber, Field::Supplier, Field::Shelf, Field::Note].map(|field| reading.text(field));
    let (lead_bearing, retired) = (reading.flag(Field::Lead), reading.flag(Field::Retired));
    // All of a row is looked at before it is given up.
    if reading.problems.len() > before {
        return None;
    }
    Some(Item {
        reference,
        name,
        unit,
        details: details?,
        maker,
        maker_number,
        supplier,
        shelf,
        note,
        reorder_level,
        lead_bearing,
        retired,
        buying,
    })
}

fn reference(reading: &mut Reading<'_>, seen: &mut Seen) -> String {
    let reference = reading.text(Field::Reference);
    if reference.chars().count() > 40 {
        reading.refuse(Field::Reference, format!("{reference:?} stands there; 1 to 40 characters are accepted"));
    }
    if !reference.is_empty() {
        let row = reading.number();
        let first = *seen.references.entry(reference.to_lowercase()).or_insert(row);
        if first != row {
            reading
                .refuse(Field::Reference, format!("{reference:?} stands in row {first} too; each item needs its own"));
        }
    }
    reference
}

/// A bare number is in the unit the file writes for the item, as is everything of it.
fn in_unit(reading: &mut Reading<'_>, field: Field, unit: Unit, word: &str) -> Option<Quantity> {
    reading
        .measure(field, |text, preferences| {
            let bare = text.ends_with(|last: char| last.is_numeric());
            let text = if bare && !word.is_empty() { format!("{text} {word}") } else { text.to_owned() };
            parse::parse_quantity(&text, unit, preferences)
        })
        .map(|typed| typed.quantity())
}

/// How it is bought again. A pack with a quantity beside it holds that; without one its words say what it holds.
fn buying(reading: &mut Reading<'_>, unit: Unit, word: &str) -> Buying {
    let holds = in_unit(reading, Field::PackQuantity, unit, word);
    if holds.is_some_and(|holds| holds.is_zero()) {
        reading.refuse(Field::PackQuantity, format!("0 stands there; more than 0 {unit} is accepted"));
    }
    let pack = match holds {
        Some(quantity) => {
            let words = reading.text(Field::Pack);
            let words = if words.is_empty() { format!("{quantity} {unit}") } else { words };
            Some(Pack { words, quantity })
        }
        None => reading.measure(Field::Pack, |text, preferences| Pack::typed(text, unit, preferences)),
    };
    Buying {
        lead_days: reading
            .measure(Field::LeadDays, |text, preferences| parse::parse_count(text, 0..=MOST_LEAD_DAYS, preferences)),
        pack,
        minimum_order_packs: reading
            .measure(Field::LeastPacks, |text, preferences| parse::parse_count(text, 1..=MOST_PACKS, preferences)),
    }
}

/// The words of the trade for each kind (common practice, no source).
fn kind(word: &str) -> Option<ItemKind> {
    ItemKind::from_name(word).or(match word {
        "enamels" | "powder" | "enamel-powder" | "frit" => Some(ItemKind::Enamel),
        "blanks" => Some(ItemKind::Blank),
        "sheets" | "sheet-metal" => Some(ItemKind::Sheet),
        "wires" => Some(ItemKind::Wire),
        "tubes" | "tubing" => Some(ItemKind::Tube),
        "findings" | "chain" | "ear-wires" | "jump-rings" => Some(ItemKind::Finding),
        "solders" => Some(ItemKind::Solder),
        "consumables" | "supplies" | "tools" => Some(ItemKind::Consumable),
        "boxes" | "cards" | "packing" => Some(ItemKind::Packaging),
        _ => None,
    })
}

/// What only that kind has; none where something it needs is missing or wrong, which is then told.
fn details(reading: &mut Reading<'_>, kind: ItemKind) -> Option<ItemDetails> {
    Some(match kind {
        ItemKind::Sheet => {
            let metal = metal(reading).unwrap_or(Metal::Copper);
            let thickness = thickness(reading);
            ItemDetails::Sheet { metal, size_mm: size(reading), thickness: thickness? }
        }
        ItemKind::Wire => {
            let metal = metal(reading).unwrap_or(Metal::Copper);
            ItemDetails::Wire { metal, thickness: thickness(reading)? }
        }
        ItemKind::Tube => {
            let metal = metal(reading).unwrap_or(Metal::Copper);
            let (outer_mm, wall_mm) = (needed(reading, Field::Outer), needed(reading, Field::Wall));
            ItemDetails::Tube { metal, outer_mm: outer_mm?, wall_mm: wall_mm? }
        }
        ItemKind::Blank => {
            let metal = metal(reading).unwrap_or(Metal::Copper);
            let thickness = thickness(reading);
            let outline = outline(reading);
            let dome_height_mm = reading.measure(Field::Dome, parse::parse_length_mm).unwrap_or_default();
            let holes_mm = reading.several(Field::Holes, &[' ', ';'], parse::parse_length_mm).unwrap_or_default();
            let solder_flow_c = reading.measure(Field::SolderFlow, parse::parse_temperature_celsius);
            let (thickness, outline) = (thickness?, outline?);
            ItemDetails::Blank { metal, thickness, outline, dome_height_mm, holes_mm, solder_flow_c }
        }
        ItemKind::Enamel => {
            let accepted = "transparent, opaque, opalescent or clear";
            let kinds = |word: &str| EnamelKind::ALL.into_iter().find(|kind| kind.name() == word);
            let enamel = reading.word(Field::Enamel, accepted, kinds).unwrap_or(EnamelKind::Transparent);
            let classes = |word: &str| Fusing::ALL.into_iter().find(|class| class.name() == word);
            ItemDetails::Enamel {
                enamel,
                swatch: swatch(reading),
                mesh: reading.text(Field::Mesh),
                fusing: reading.word(Field::Fusing, "soft, medium or hard", classes),
                firing_c: firing(reading),
            }
        }
        ItemKind::Finding => ItemDetails::Finding { metal: metal(reading) },
        ItemKind::Solder => {
            let flow = reading.measure(Field::SolderFlow, parse::parse_temperature_celsius);
            if flow.is_none() && fine(reading, Field::SolderFlow) {
                reading.refuse(
                    Field::SolderFlow,
                    "nothing stands there; the temperature it flows at is accepted, e.g. 745 C",
                );
            }
            ItemDetails::Solder { flow_c: flow? }
        }
        ItemKind::Consumable => ItemDetails::Consumable,
        ItemKind::Packaging => ItemDetails::Packaging,
    })
}

/// Nothing has been said about the field in this row.
fn fine(reading: &Reading<'_>, field: Field) -> bool {
    reading.problems.iter().all(|problem| problem.field != Some(field))
}

/// Cells that belong to another kind are told, not dropped in silence.
fn foreign(reading: &mut Reading<'_>, kind: ItemKind) {
    use ItemKind::{Blank, Enamel, Finding, Sheet, Solder, Tube, Wire};
    let fields: [(Field, &[ItemKind]); 14] = [
        (Field::Metal, &[Sheet, Wire, Tube, Blank, Finding]),
        (Field::Thickness, &[Sheet, Wire, Blank]),
        (Field::Size, &[Sheet]),
        (Field::Outer, &[Tube]),
        (Field::Wall, &[Tube]),
        (Field::Outline, &[Blank]),
        (Field::Dome, &[Blank]),
        (Field::Holes, &[Blank]),
        (Field::SolderFlow, &[Blank, Solder]),
        (Field::Enamel, &[Enamel]),
        (Field::Colour, &[Enamel]),
        (Field::Mesh, &[Enamel]),
        (Field::Fusing, &[Enamel]),
        (Field::FiresFrom, &[Enamel]),
    ];
    for (field, kinds) in fields {
        if !kinds.contains(&kind) && reading.stands(field) {
            let kinds: Vec<&str> = kinds.iter().map(|kind| kind.name()).collect();
            reading.remark(field, format!("it is left out: a {} has none, only {}", kind.name(), kinds.join(", ")));
        }
    }
}

fn metal(reading: &mut Reading<'_>) -> Option<Metal> {
    reading.word(Field::Metal, METALS, |word| {
        Metal::from_name(word).or(match word {
            "cu" => Some(Metal::Copper),
            "silver" | "999" | "fine" => Some(Metal::FineSilver),
            "sterling-silver" | "925" => Some(Metal::Sterling),
            "mild-steel" => Some(Metal::Steel),
            _ => None,
        })
    })
}

fn thickness(reading: &mut Reading<'_>) -> Option<Thickness> {
    let thickness = reading.measure(Field::Thickness, parse::parse_thickness).map(Thickness::from);
    if thickness.is_none() && fine(reading, Field::Thickness) {
        reading.refuse(Field::Thickness, "nothing stands there; a gauge or a length is accepted, e.g. 20 ga or 0.8 mm");
    }
    thickness
}

fn needed(reading: &mut Reading<'_>, field: Field) -> Option<Decimal> {
    let length = reading.measure(field, parse::parse_length_mm);
    if length.is_none() && fine(reading, field) {
        reading.refuse(field, "nothing stands there; a length is accepted, e.g. 6 mm");
    }
    length
}

fn size(reading: &mut Reading<'_>) -> Option<[Decimal; 2]> {
    let sides = reading.several(Field::Size, &['x', 'X', '×', ';'], parse::parse_length_mm)?;
    let pair = <[Decimal; 2]>::try_from(sides).ok();
    if pair.is_none() {
        reading.refuse(Field::Size, "two lengths are accepted, e.g. 150 x 300 mm");
    }
    pair
}

fn outline(reading: &mut Reading<'_>) -> Option<crate::studio::Outline> {
    let text = reading.long_text(Field::Outline);
    match outline_words::read(&text) {
        Ok(outline) => Some(outline),
        Err(_) if !fine(reading, Field::Outline) => None,
        Err(words) => {
            reading.refuse(Field::Outline, words);
            None
        }
    }
}

fn swatch(reading: &mut Reading<'_>) -> [u8; 3] {
    let text = reading.text(Field::Colour);
    if text.is_empty() {
        return PLAIN_SWATCH;
    }
    let digits = text.trim_start_matches('#');
    let all = digits.len() == 6 && digits.bytes().all(|byte| byte.is_ascii_hexdigit());
    match u32::from_str_radix(digits, 16) {
        Ok(number) if all => {
            let [_, red, green, blue] = number.to_be_bytes();
            [red, green, blue]
        }
        _ => {
            reading.refuse(
                Field::Colour,
                format!("{text:?} stands there; six hexadecimal figures are accepted, e.g. 3a7d44"),
            );
            PLAIN_SWATCH
        }
    }
}

fn firing(reading: &mut Reading<'_>) -> Option<[Decimal; 2]> {
    let read = |text: &str, preferences: &Preferences| parse::parse_temperature_celsius(text, preferences);
    let (low, high) = (reading.measure(Field::FiresFrom, read), reading.measure(Field::FiresTo, read));
    match (low, high) {
        (Some(low), Some(high)) if low <= high => Some([low, high]),
        (Some(low), Some(high)) => {
            reading.refuse(Field::FiresTo, format!("{high} C stands there; {low} C or more is accepted"));
            None
        }
        (Some(one), None) if fine(reading, Field::FiresTo) => Some([one, one]),
        (None, Some(one)) if fine(reading, Field::FiresFrom) => Some([one, one]),
        _ => None,
    }
}
