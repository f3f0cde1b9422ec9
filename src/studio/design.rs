//! A design: all it takes to cost and price a piece.

use super::channel::{Channel, ChannelId};
use super::code::DesignCode;
use super::item::{Fusing, ItemId};
use super::metal::Metal;
use super::outline::Outline;
use super::step::Step;
use crate::measure::{Currency, Decimal, ThicknessEntry, Unit};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

/// A design's row in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct DesignId(pub i64);

/// A material's id inside its design.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct MaterialId(pub String);

impl fmt::Display for MaterialId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A design with its own prices, rates and channels: what a design file holds. Ranges are those of the design-file
/// specification; [`crate::exchange::design_file`] and the window check them before a `Design` reaches a book.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Design {
    /// The currency of every amount in it.
    pub currency: Currency,
    /// Its code.
    pub code: DesignCode,
    /// Its name.
    pub name: String,
    /// Pieces started in a batch, from 1.
    pub pieces: u32,
    /// Made for children.
    pub for_children: bool,
    /// Labour, overhead, scrap.
    pub rates: Rates,
    /// What a load of the kiln costs.
    pub kiln: KilnRates,
    /// The metal.
    pub blank: Blank,
    /// Materials, at least one; ids unique.
    pub materials: Vec<Material>,
    /// The route, at least one step and one firing.
    pub steps: Vec<Step>,
    /// Where it is sold; may be empty.
    pub channels: Vec<Channel>,
}

/// Rates per hour and per lost piece.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Rates {
    /// Labour, money per hour.
    pub labour_per_hour: Decimal,
    /// Overhead, money per hour.
    pub overhead_per_hour: Decimal,
    /// What a lost piece gives back.
    pub scrap_value: Decimal,
}

/// What a load of the kiln costs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KilnRates {
    /// Energy of one load, kWh.
    pub kwh_per_load: Decimal,
    /// Money per kWh.
    pub price_per_kwh: Decimal,
    /// Minutes the kiln needs to come back to heat after a load.
    pub recovery_minutes: Decimal,
    /// Wear of elements and thermocouple, money per hot hour.
    pub wear_per_hour: Decimal,
    /// How far a firing must stay below a solder's flow point, in °C of difference.
    pub solder_margin_c: Decimal,
}

/// The metal of a piece.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Blank {
    /// The metal.
    pub metal: Metal,
    /// Gauge or thickness.
    pub thickness: Thickness,
    /// Flat outline.
    pub outline: Outline,
    /// Height of the dome, mm; 0 is flat.
    pub dome_height_mm: Decimal,
    /// Diameters of drilled holes, mm.
    pub holes_mm: Vec<Decimal>,
    /// Flow point of the weakest solder joint, °C.
    pub solder_flow_c: Option<Decimal>,
    /// Blanks in one piece, from 1.
    pub count: u32,
}

/// Thickness as it was stated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Thickness {
    /// Brown & Sharpe gauge number, −3 (0000) to 40.
    Gauge(i8),
    /// Millimetres.
    ThicknessMm(Decimal),
}

impl From<ThicknessEntry> for Thickness {
    fn from(entry: ThicknessEntry) -> Self {
        match entry {
            ThicknessEntry::Gauge(gauge) => Self::Gauge(gauge),
            ThicknessEntry::Millimetres(mm) => Self::ThicknessMm(mm),
        }
    }
}

impl From<Thickness> for ThicknessEntry {
    fn from(thickness: Thickness) -> Self {
        match thickness {
            Thickness::Gauge(gauge) => Self::Gauge(gauge),
            Thickness::ThicknessMm(mm) => Self::Millimetres(mm),
        }
    }
}

/// A material of a design.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Material {
    /// Unique in the design.
    pub id: MaterialId,
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: MaterialKind,
    /// The unit it is used in.
    pub unit: Unit,
    /// Price of one unit.
    pub price: Decimal,
    /// Fusing class; enamels only.
    pub fusing: Option<Fusing>,
    /// Bears lead.
    pub lead_bearing: bool,
    /// Made of this metal: a finding, wire or foil.
    pub metal: Option<Metal>,
}

/// What a material is to a design.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum MaterialKind {
    /// A blank, or sheet, wire and tube that become one.
    Blank,
    /// Enamel.
    Enamel,
    /// Finding.
    Finding,
    /// Solder.
    Solder,
    /// Consumable.
    Consumable,
    /// Packaging.
    Packaging,
}

impl MaterialKind {
    /// Every kind, in the order they are offered.
    pub const ALL: [Self; 6] =
        [Self::Blank, Self::Enamel, Self::Finding, Self::Solder, Self::Consumable, Self::Packaging];

    /// The name in design files.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Blank => "blank",
            Self::Enamel => "enamel",
            Self::Finding => "finding",
            Self::Solder => "solder",
            Self::Consumable => "consumable",
            Self::Packaging => "packaging",
        }
    }
}

/// Which figures of a design come from the studio instead of from the design itself. A figure that follows is taken
/// from [`super::StudioRates`] (or the studio's channel, or the linked item's stock) whenever the design is costed;
/// the design's own figure stays as it was written.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Follows {
    /// Labour per hour.
    pub labour: bool,
    /// Overhead per hour.
    pub overhead: bool,
    /// Price of a kWh, kWh a load, recovery minutes and wear.
    pub kiln: bool,
    /// Channels whose terms are the studio's.
    pub channels: BTreeSet<ChannelId>,
    /// Materials taken from stock: their price is the linked item's.
    pub materials: BTreeMap<MaterialId, ItemId>,
}

/// A design as a book keeps it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BookDesign {
    /// Its row.
    pub id: DesignId,
    /// The design with its own figures.
    pub design: Design,
    /// Which of them are replaced by the studio's.
    pub follows: Follows,
    /// Maker's notes on the design; free text.
    pub notes: String,
    /// Set aside: kept, not offered.
    pub retired: bool,
    /// Has a photo or sketch in the book.
    pub has_photo: bool,
}
