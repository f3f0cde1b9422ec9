//! An item of stock.

use super::buying::Buying;
use super::metal::Metal;
use super::outline::Outline;
use crate::measure::{Decimal, Quantity, Unit};
use crate::studio::design::Thickness;
use serde::{Deserialize, Serialize};

/// An item's row in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct ItemId(pub i64);

/// An item of stock as described by its owner; what is on hand is computed from its movements.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Item {
    /// Her short reference, unique in a book, e.g. `EN-014`; what the command line and files use.
    pub reference: String,
    /// Its name.
    pub name: String,
    /// The unit it is kept in; fixed once it has movements.
    pub unit: Unit,
    /// What it is, and what only that kind has.
    pub details: ItemDetails,
    /// Maker, free text.
    pub maker: String,
    /// The maker's own number, free text.
    pub maker_number: String,
    /// Where it is bought, free text.
    pub supplier: String,
    /// Where it stands, free text.
    pub shelf: String,
    /// Anything else.
    pub note: String,
    /// At or below this much on hand the item is low; none means never.
    pub reorder_level: Option<Quantity>,
    /// Bears lead.
    pub lead_bearing: bool,
    /// Set aside: kept, not offered.
    pub retired: bool,
    /// How it is bought again.
    #[serde(default)]
    pub buying: Buying,
}

/// The kinds of stock.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum ItemKind {
    /// Sheet metal.
    Sheet,
    /// Wire.
    Wire,
    /// Tube.
    Tube,
    /// Blanks ready to coat.
    Blank,
    /// Enamel.
    Enamel,
    /// Findings: jump rings, bails, chain, ear wires.
    Finding,
    /// Solder.
    Solder,
    /// Binder, pickle, paper, abrasives.
    Consumable,
    /// Boxes, cards, cord.
    Packaging,
}

impl ItemKind {
    /// Every kind, in the order they are offered.
    pub const ALL: [Self; 9] = [
        Self::Enamel,
        Self::Blank,
        Self::Sheet,
        Self::Wire,
        Self::Tube,
        Self::Finding,
        Self::Solder,
        Self::Consumable,
        Self::Packaging,
    ];

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Sheet => "sheet",
            Self::Wire => "wire",
            Self::Tube => "tube",
            Self::Blank => "blank",
            Self::Enamel => "enamel",
            Self::Finding => "finding",
            Self::Solder => "solder",
            Self::Consumable => "consumable",
            Self::Packaging => "packaging",
        }
    }

    /// The kind of that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }

    /// The unit a kind is kept in where a list or the command line names none (common practice, no source).
    pub const fn listed_unit(self) -> Unit {
        match self {
            Self::Enamel | Self::Sheet | Self::Solder => Unit::Gram,
            Self::Wire | Self::Tube => Unit::Millimetre,
            Self::Blank | Self::Finding | Self::Consumable | Self::Packaging => Unit::Each,
        }
    }
}

/// What only one kind of item has.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub enum ItemDetails {
    /// Sheet metal, kept by the piece or in grams.
    Sheet {
        /// The metal.
        metal: Metal,
        /// Gauge or thickness.
        thickness: Thickness,
        /// Length and width of one sheet, mm, where it is kept by the piece.
        size_mm: Option<[Decimal; 2]>,
    },
    /// Wire.
    Wire {
        /// The metal.
        metal: Metal,
        /// Gauge or diameter.
        thickness: Thickness,
    },
    /// Tube.
    Tube {
        /// The metal.
        metal: Metal,
        /// Outer diameter, mm.
        outer_mm: Decimal,
        /// Wall, mm.
        wall_mm: Decimal,
    },
    /// A blank.
    Blank {
        /// The metal.
        metal: Metal,
        /// Gauge or thickness.
        thickness: Thickness,
        /// Flat outline.
        outline: Outline,
        /// Height of the dome, mm.
        dome_height_mm: Decimal,
        /// Diameters of drilled holes, mm.
        holes_mm: Vec<Decimal>,
        /// Flow point of a soldered bail's joint, °C; none means no joint.
        solder_flow_c: Option<Decimal>,
    },
    /// Enamel.
    Enamel {
        /// Transparent, opaque, opalescent or clear.
        enamel: EnamelKind,
        /// Its colour as red, green, blue, for the swatch.
        swatch: [u8; 3],
        /// Mesh as sold, e.g. `80` or `80/325`; free text.
        mesh: String,
        /// Fusing class.
        fusing: Option<Fusing>,
        /// Lowest and highest firing temperature, °C.
        firing_c: Option<[Decimal; 2]>,
    },
    /// A finding.
    Finding {
        /// The metal, where it is one of the metals known here.
        metal: Option<Metal>,
    },
    /// Solder.
    Solder {
        /// The temperature it flows at, °C.
        flow_c: Decimal,
    },
    /// A consumable.
    Consumable,
    /// Packaging.
    Packaging,
}

impl ItemDetails {
    /// Which kind this is.
    pub const fn kind(&self) -> ItemKind {
        match self {
            Self::Sheet { .. } => ItemKind::Sheet,
            Self::Wire { .. } => ItemKind::Wire,
            Self::Tube { .. } => ItemKind::Tube,
            Self::Blank { .. } => ItemKind::Blank,
            Self::Enamel { .. } => ItemKind::Enamel,
            Self::Finding { .. } => ItemKind::Finding,
            Self::Solder { .. } => ItemKind::Solder,
            Self::Consumable => ItemKind::Consumable,
            Self::Packaging => ItemKind::Packaging,
        }
    }
}

/// How an enamel takes light.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum EnamelKind {
    /// Coloured, lets the metal through.
    Transparent,
    /// Covers.
    Opaque,
    /// Milky.
    Opalescent,
    /// Colourless flux.
    Clear,
}

impl EnamelKind {
    /// Every kind, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Transparent, Self::Opaque, Self::Opalescent, Self::Clear];

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Transparent => "transparent",
            Self::Opaque => "opaque",
            Self::Opalescent => "opalescent",
            Self::Clear => "clear",
        }
    }
}

/// How much heat an enamel needs; softer first, so that classes order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Fusing {
    /// Fuses low.
    Soft,
    /// In between.
    Medium,
    /// Fuses high.
    Hard,
}

impl Fusing {
    /// Every class, softest first.
    pub const ALL: [Self; 3] = [Self::Soft, Self::Medium, Self::Hard];

    /// The name in design files.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Soft => "soft",
            Self::Medium => "medium",
            Self::Hard => "hard",
        }
    }
}
