//! Lists to pick from: stock, enamels, materials.

use crate::book::Snapshot;
use crate::measure::{Preferences, Unit, display};
use crate::studio::{Design, ItemId, MaterialId, MaterialKind};
use std::fmt;

/// An item of stock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StockOption {
    /// The item.
    pub id: ItemId,
    words: String,
}

impl fmt::Display for StockOption {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.words)
    }
}

/// A material of the design.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MaterialOption {
    /// The material.
    pub id: MaterialId,
    words: String,
}

impl fmt::Display for MaterialOption {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.words)
    }
}

/// Items that are not set aside, by name, with their price.
pub fn stock_options(snapshot: &Snapshot) -> Vec<StockOption> {
    let preferences = Preferences::from(&*snapshot.settings);
    let items = snapshot.stock.iter().filter(|row| !row.item.retired);
    items
        .map(|row| {
            let price = snapshot
                .unit_price(row.id)
                .map(|price| display::unit_price(price, row.item.unit, &preferences))
                .unwrap_or_else(|| "no price yet".to_owned());
            StockOption { id: row.id, words: format!("{} · {} · {price}", row.item.name, row.item.reference) }
        })
        .collect()
}

/// Materials a coat can be made of.
pub fn enamel_options(design: &Design) -> Vec<MaterialOption> {
    let enamels = design.materials.iter();
    enamels
        .filter(|material| material.kind == MaterialKind::Enamel && material.unit == Unit::Gram)
        .map(|material| MaterialOption { id: material.id.clone(), words: material.name.clone() })
        .collect()
}

/// All materials.
pub fn material_options(design: &Design) -> Vec<MaterialOption> {
    let materials = design.materials.iter();
    materials.map(|material| MaterialOption { id: material.id.clone(), words: material.name.clone() }).collect()
}
