//! The demo studio's items of stock, how they are bought, and their jars.

use super::table::{Row, Tables, decimal, decimals};
use super::{DemoJar, DemoProblem};
use crate::measure::{Decimal, Quantity, Unit};
use crate::studio::{Buying, EnamelKind, Fusing, Item, ItemDetails, ItemKind, Metal, Outline, Pack, Thickness};
use std::collections::BTreeSet;

/// Reads every item, kind by kind, and the jars.
pub(super) fn read() -> Result<(Vec<Item>, Vec<DemoJar>), DemoProblem> {
    let tables = Tables::read("stock.txt", include_str!("../../../assets/demo/stock.txt"))?;
    let mut items = Vec::new();
    let mut references = BTreeSet::new();
    for kind in ItemKind::ALL {
        for row in tables.rows(kind.name())? {
            let item = item(kind, row)?;
            if !references.insert(item.reference.clone()) {
                return Err(row.problem(format!("{} was there before", item.reference)));
            }
            items.push(item);
        }
    }
    for row in tables.rows("buying")? {
        let reference = row.text("reference")?;
        let Some(item) = items.iter_mut().find(|item| item.reference == reference) else {
            return Err(row.problem(format!("no item is {reference}")));
        };
        item.buying = Buying {
            lead_days: Some(row.whole("lead days")?),
            pack: Some(Pack { words: row.text("pack")?.to_owned(), quantity: row.quantity("holds")? }),
            minimum_order_packs: Some(row.whole("fewest packs")?),
        };
    }
    let jar = |row: &Row| {
        let item = row.text("reference")?.to_owned();
        Ok(DemoJar { label: row.text("label")?.to_owned(), item, tare: row.quantity("tare")? })
    };
    let jars = tables.rows("jar")?.iter().map(jar).collect::<Result<_, DemoProblem>>()?;
    Ok((items, jars))
}

fn item(kind: ItemKind, row: &Row) -> Result<Item, DemoProblem> {
    let unit = match kind {
        ItemKind::Enamel => Unit::Gram,
        ItemKind::Blank => Unit::Each,
        _ => row.parsed("unit", "g, each, mm or ml", Unit::from_name)?,
    };
    let lead_bearing = if kind == ItemKind::Enamel { row.yes("lead")? } else { false };
    let maker = row.text("maker")?.to_owned();
    Ok(Item {
        reference: row.text("reference")?.to_owned(),
        name: row.text("name")?.to_owned(),
        unit,
        details: details(kind, row)?,
        supplier: maker.clone(),
        maker,
        maker_number: String::new(),
        shelf: row.text("shelf")?.to_owned(),
        note: row.text("note")?.to_owned(),
        reorder_level: row.optional("reorder", "a quantity", |text| Quantity::new(decimal(text)?))?,
        lead_bearing,
        retired: false,
        buying: Buying::default(),
    })
}

fn details(kind: ItemKind, row: &Row) -> Result<ItemDetails, DemoProblem> {
    let metal = || row.parsed("metal", "a metal", Metal::from_name);
    let gauge = || row.parsed("thickness", "a thickness such as `18 ga` or `0.8 mm`", thickness);
    Ok(match kind {
        ItemKind::Enamel => ItemDetails::Enamel {
            enamel: row.parsed("takes light", "transparent, opaque, opalescent or clear", |text| {
                EnamelKind::ALL.into_iter().find(|kind| kind.name() == text)
            })?,
            swatch: row.parsed("swatch", "a colour such as #2f7f5b", swatch)?,
            mesh: row.text("mesh")?.to_owned(),
            fusing: row.optional("fusing", "soft, medium or hard", |text| {
                Fusing::ALL.into_iter().find(|class| class.name() == text)
            })?,
            firing_c: row.optional("fires at C", "a range such as 760-800", |text| {
                let (low, high) = text.split_once('-')?;
                Some([decimal(low)?, decimal(high)?])
            })?,
        },
        ItemKind::Blank => ItemDetails::Blank {
            metal: metal()?,
            thickness: gauge()?,
            outline: row.parsed("outline", "an outline", outline)?,
            dome_height_mm: row.number("dome")?,
            holes_mm: row.numbers("holes")?,
            solder_flow_c: row.optional("solder flows", "a temperature", decimal)?,
        },
        ItemKind::Sheet => ItemDetails::Sheet {
            metal: metal()?,
            thickness: gauge()?,
            size_mm: row.optional("size", "a length and a width", |text| decimals(text)?.try_into().ok())?,
        },
        ItemKind::Wire => ItemDetails::Wire { metal: metal()?, thickness: gauge()? },
        ItemKind::Tube => {
            ItemDetails::Tube { metal: metal()?, outer_mm: row.number("outer")?, wall_mm: row.number("wall")? }
        }
        ItemKind::Finding => ItemDetails::Finding { metal: row.optional("metal", "a metal", Metal::from_name)? },
        ItemKind::Solder => ItemDetails::Solder { flow_c: row.number("flows at C")? },
        ItemKind::Consumable => ItemDetails::Consumable,
        ItemKind::Packaging => ItemDetails::Packaging,
    })
}

/// `18 ga` or `0.8 mm`.
fn thickness(text: &str) -> Option<Thickness> {
    match text.split_once(' ')? {
        (gauge, "ga") => gauge.parse().ok().map(Thickness::Gauge),
        (millimetres, "mm") => decimal(millimetres).map(Thickness::ThicknessMm),
        _ => None,
    }
}

/// `#rrggbb`.
fn swatch(text: &str) -> Option<[u8; 3]> {
    let digits = text.strip_prefix('#').filter(|digits| digits.len() == 6 && digits.is_ascii())?;
    let part = |from: usize| u8::from_str_radix(digits.get(from..from + 2)?, 16).ok();
    Some([part(0)?, part(2)?, part(4)?])
}

/// A shape and its sizes in mm: `disc 18`, `ellipse 45 28`, `drop 40 25`, `rectangle 38 19 3` (corner radius last),
/// `polygon 0,0 24,0 4,42`, or `path` with SVG path data.
fn outline(text: &str) -> Option<Outline> {
    let (shape, rest) = text.split_once(' ')?;
    let sizes = || decimals(rest);
    match shape {
        "disc" => decimal(rest).map(|diameter_mm| Outline::Disc { diameter_mm }),
        "ellipse" => {
            let [length_mm, width_mm]: [Decimal; 2] = sizes()?.try_into().ok()?;
            Some(Outline::Ellipse { length_mm, width_mm })
        }
        "drop" => {
            let [height_mm, width_mm]: [Decimal; 2] = sizes()?.try_into().ok()?;
            Some(Outline::Drop { height_mm, width_mm })
        }
        "rectangle" => {
            let [length_mm, width_mm, corner_mm]: [Decimal; 3] = sizes()?.try_into().ok()?;
            Some(Outline::Rectangle { length_mm, width_mm, corner_mm })
        }
        "polygon" => {
            let corner = |pair: &str| {
                let (x, y) = pair.split_once(',')?;
                Some([decimal(x)?, decimal(y)?])
            };
            rest.split_whitespace().map(corner).collect::<Option<_>>().map(|points_mm| Outline::Polygon { points_mm })
        }
        "path" => Some(Outline::Path { svg: rest.to_owned() }),
        _ => None,
    }
}
