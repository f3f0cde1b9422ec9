//! The metals enamel is fired on, with the two figures the method needs of each.

use crate::measure::Decimal;
use serde::{Deserialize, Serialize};

/// A metal blanks, wire and findings are made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Metal {
    /// Copper.
    Copper,
    /// Fine silver (999).
    FineSilver,
    /// Sterling silver (925, copper the rest).
    Sterling,
    /// Brass, 70/30.
    Brass,
    /// Bronze: 90/10 copper and zinc.
    Bronze,
    /// Low-carbon steel.
    Steel,
}

impl Metal {
    /// Every metal, in the order they are offered.
    pub const ALL: [Self; 6] = [Self::Copper, Self::FineSilver, Self::Sterling, Self::Brass, Self::Bronze, Self::Steel];

    /// The name in design files: `copper`, `fine-silver` and so on.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Copper => "copper",
            Self::FineSilver => "fine-silver",
            Self::Sterling => "sterling",
            Self::Brass => "brass",
            Self::Bronze => "bronze",
            Self::Steel => "steel",
        }
    }

    /// The name on screen and paper.
    pub const fn words(self) -> &'static str {
        match self {
            Self::FineSilver => "fine silver",
            Self::Sterling => "sterling silver",
            other => other.name(),
        }
    }

    /// The metal of that design-file name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|metal| metal.name() == name)
    }

    /// Density in g/cm³ (costing method, sections 2 and 9).
    pub fn density(self) -> Decimal {
        let hundredths = match self {
            Self::Copper => 896,
            Self::FineSilver => 1049,
            Self::Sterling => 1036,
            Self::Brass => 853,
            Self::Bronze => 880,
            Self::Steel => 785,
        };
        Decimal::new(hundredths, 2)
    }

    /// Solidus in °C, where it begins to melt (costing method, section 9).
    pub fn solidus_celsius(self) -> Decimal {
        let degrees = match self {
            Self::Copper => 1085,
            Self::FineSilver => 962,
            Self::Sterling => 802,
            Self::Brass => 915,
            Self::Bronze => 1020,
            Self::Steel => 1425,
        };
        Decimal::new(degrees, 0)
    }

    /// True for fine silver and sterling.
    pub const fn is_silver(self) -> bool {
        matches!(self, Self::FineSilver | Self::Sterling)
    }

    /// True for copper, brass and bronze.
    pub const fn is_copper_alloy(self) -> bool {
        matches!(self, Self::Copper | Self::Brass | Self::Bronze)
    }
}
