//! Items of stock, and what comes and goes of them in ten years.

use crate::generator::{Numbers, tenths};
use chrono::{Days, NaiveDate};
use enamelwright::measure::{Decimal, Unit};
use enamelwright::studio::{
    Buying, EnamelKind, Fusing, Item, ItemDetails, ItemId, Metal, MovementKind, Outline, Thickness,
};

/// Items come in sets of as many as a design takes: a blank, five enamels, three findings, solder, a consumable and a
/// box, in this order.
pub(crate) const OF_A_SET: u32 = 12;

/// Lots of an item, one a year.
const LOTS: u32 = 10;
/// Movements out between one lot and the next.
const MOVEMENTS_OUT: u32 = 9;
const DAYS_OF_A_YEAR: u32 = 365;

/// The day the book begins.
pub(crate) fn first_day() -> NaiveDate {
    NaiveDate::from_ymd_opt(2016, 11, 1).expect("a day")
}

/// An item with what it is bought in.
#[derive(Debug)]
pub(crate) struct Good {
    /// Its row, once it has one.
    pub(crate) id: ItemId,
    /// The item.
    pub(crate) item: Item,
    /// Price of a unit in ten-thousandths of the currency unit.
    pub(crate) price_e4: i64,
    /// A usual lot, in tenths of the unit.
    lot: i64,
}

const COLOURS: [&str; 14] = [
    "Fen", "Slate", "Oat", "Dusk", "Moss", "Rust", "Ember", "Kelp", "Ash", "Plum", "Chalk", "Tarn", "Heath", "Bracken",
];
const ENAMELS: [&str; 6] = ["green", "blue", "red", "grey", "white", "amber"];
const FINDINGS: [&str; 6] = ["jump ring", "bail", "ear wire", "chain", "pin back", "cuff link"];
const SUPPLIERS: [&str; 4] = ["Tidewater supply", "Northfold metals", "Quern and Sons", "The glass shed"];
const SHELVES: [&str; 5] = ["A1", "A2", "B1", "B4", "drawer 3"];
const NOTES: [&str; 6] = ["", "", "", "the fair", "a set of samples", "the gallery's order"];

/// The item of that index.
pub(crate) fn good(index: u32, numbers: &mut Numbers) -> Good {
    let place = index % OF_A_SET;
    let word = numbers.one_of(&COLOURS);
    let (letters, name, unit, details, lot, price_e4) = match place {
        0 => {
            let lot = numbers.between(20, 120) * 10;
            ("BL", format!("{word} blank"), Unit::Each, blank(index), lot, numbers.between(6_000, 40_000))
        }
        1..=5 => {
            let name = format!("{word} {}", numbers.one_of(&ENAMELS));
            let lot = numbers.between(1_000, 10_000);
            ("EN", name, Unit::Gram, enamel(place, numbers), lot, numbers.between(500, 1_600))
        }
        6..=8 => {
            let name = format!("{word} {}", numbers.one_of(&FINDINGS));
            let metal = (place == 6).then_some(Metal::Sterling);
            let lot = numbers.between(20, 200) * 10;
            ("FI", name, Unit::Each, ItemDetails::Finding { metal }, lot, numbers.between(800, 38_000))
        }
        9 => {
            let details = ItemDetails::Solder { flow_c: Decimal::from(numbers.between(700, 780)) };
            let lot = numbers.between(200, 1_000);
            ("SO", format!("{word} solder"), Unit::Gram, details, lot, numbers.between(8_000, 20_000))
        }
        10 => {
            let lot = numbers.between(2_500, 10_000);
            ("CO", format!("{word} binder"), Unit::Millilitre, ItemDetails::Consumable, lot, numbers.between(100, 500))
        }
        _ => {
            let lot = numbers.between(50, 250) * 10;
            ("PA", format!("{word} box"), Unit::Each, ItemDetails::Packaging, lot, numbers.between(3_000, 12_000))
        }
    };
    // One in twenty runs low: what is left of ten lots is seldom two of them.
    let level = if index.is_multiple_of(20) { lot * 2 } else { lot / 5 };
    let item = Item {
        reference: format!("{letters}-{index:04}"),
        name,
        unit,
        details,
        maker: String::new(),
        maker_number: String::new(),
        supplier: numbers.one_of(&SUPPLIERS).to_owned(),
        shelf: numbers.one_of(&SHELVES).to_owned(),
        note: String::new(),
        reorder_level: Some(tenths(level)),
        lead_bearing: false,
        retired: false,
        buying: Buying::default(),
    };
    Good { id: ItemId(0), item, price_e4, lot }
}

fn blank(index: u32) -> ItemDetails {
    ItemDetails::Blank {
        metal: Metal::Copper,
        thickness: Thickness::Gauge(18),
        outline: Outline::Disc { diameter_mm: Decimal::from(20 + index % 25) },
        dome_height_mm: Decimal::ZERO,
        holes_mm: Vec::new(),
        solder_flow_c: None,
    }
}

fn enamel(place: u32, numbers: &mut Numbers) -> ItemDetails {
    ItemDetails::Enamel {
        enamel: if place == 5 { EnamelKind::Clear } else { EnamelKind::Opaque },
        swatch: [tint(numbers), tint(numbers), tint(numbers)],
        mesh: "80".to_owned(),
        // Harder ones are fired first.
        fusing: Some(match place {
            1 => Fusing::Hard,
            5 => Fusing::Soft,
            _ => Fusing::Medium,
        }),
        firing_c: Some([Decimal::from(740), Decimal::from(820)]),
    }
}

fn tint(numbers: &mut Numbers) -> u8 {
    u8::try_from(numbers.below(256)).expect("below 256")
}

/// A movement to be entered.
#[derive(Debug)]
pub(crate) struct Entry {
    pub(crate) day: NaiveDate,
    /// Which of the goods.
    pub(crate) good: usize,
    pub(crate) kind: MovementKind,
    /// What comes, or goes; for a count what is missing. In tenths of the unit.
    pub(crate) tenths: i64,
    /// What a lot cost.
    pub(crate) cents: i64,
    pub(crate) note: &'static str,
}

/// All movements of all goods in order of their days. A lot comes in the first sixty days of a year and nine movements
/// take at most 11 % of it each before the next comes, so that no day ends below zero.
pub(crate) fn entries(goods: &[Good], numbers: &mut Numbers) -> Vec<Entry> {
    let mut entries = Vec::new();
    for (index, good) in goods.iter().enumerate() {
        for year in 0..LOTS {
            let begins = year * DAYS_OF_A_YEAR;
            let lot = whole(good, good.lot * numbers.between(80, 120) / 100);
            // A little dearer each year.
            let price_e4 = good.price_e4 * i64::from(100 + 3 * year) / 100;
            entries.push(Entry {
                day: day(begins + numbers.below(60)),
                good: index,
                kind: MovementKind::Receipt,
                tenths: lot,
                cents: (lot * price_e4 / 1_000).max(1),
                note: "",
            });
            for place in 0..MOVEMENTS_OUT {
                let part = lot * numbers.between(7, 11) / 100;
                entries.push(Entry {
                    day: day(begins + 61 + place * 33 + numbers.below(33)),
                    good: index,
                    kind: kind(place, numbers),
                    tenths: whole(good, part),
                    cents: 0,
                    note: numbers.one_of(&NOTES),
                });
            }
        }
    }
    // Lots of a day before what is taken from them.
    entries.sort_by_key(|entry| (entry.day, entry.kind != MovementKind::Receipt));
    entries
}

/// Mostly issues; the lot that has just come is the one that is sent back.
fn kind(place: u32, numbers: &mut Numbers) -> MovementKind {
    match numbers.below(60) {
        0 => MovementKind::WriteOff,
        1 => MovementKind::Count,
        2..=4 if place == 0 => MovementKind::Return,
        _ => MovementKind::Issue,
    }
}

/// Pieces are not parted; there is always at least the smallest part.
fn whole(good: &Good, tenths: i64) -> i64 {
    if good.item.unit == Unit::Each { (tenths / 10).max(1) * 10 } else { tenths.max(1) }
}

fn day(number: u32) -> NaiveDate {
    first_day() + Days::new(u64::from(number))
}
