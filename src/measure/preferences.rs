//! The units and the number style a person chose in Setup.

use super::currency::Currency;
use serde::{Deserialize, Serialize};

/// How temperatures are shown, and what a number without a unit means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Default)]
#[serde(rename_all = "lowercase")]
pub enum TemperatureUnit {
    /// °C
    #[default]
    Celsius,
    /// °F
    Fahrenheit,
}

/// How lengths are shown, and what a number without a unit means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Default)]
#[serde(rename_all = "lowercase")]
pub enum LengthUnit {
    /// mm
    #[default]
    Millimetre,
    /// in, exactly 25.4 mm
    Inch,
}

/// How masses are shown, and what a number without a unit means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Default)]
#[serde(rename_all = "lowercase")]
pub enum MassUnit {
    /// g
    #[default]
    Gram,
    /// avoirdupois oz, exactly 28.349523125 g
    Ounce,
}

/// How thickness of sheet and wire is shown, and what a number without a unit means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Default)]
#[serde(rename_all = "lowercase")]
pub enum ThicknessUnit {
    /// Brown & Sharpe gauge
    #[default]
    Gauge,
    /// mm
    Millimetre,
}

/// The mark between whole and decimals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum NumberStyle {
    /// `12.50`
    #[default]
    Point,
    /// `12,50`
    Comma,
}

impl NumberStyle {
    /// The decimal mark.
    pub const fn mark(self) -> char {
        match self {
            Self::Point => '.',
            Self::Comma => ',',
        }
    }
}

/// What Setup says about units and numbers: all that parsing and display need to know.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Preferences {
    /// The book's currency.
    pub currency: Currency,
    /// Decimal point or comma.
    pub numbers: NumberStyle,
    /// Temperatures.
    pub temperature: TemperatureUnit,
    /// Lengths.
    pub length: LengthUnit,
    /// Masses.
    pub mass: MassUnit,
    /// Thickness of sheet and wire.
    pub thickness: ThicknessUnit,
}

impl Preferences {
    /// Metric units, gauge, decimal point.
    pub const fn metric(currency: Currency) -> Self {
        Self {
            currency,
            numbers: NumberStyle::Point,
            temperature: TemperatureUnit::Celsius,
            length: LengthUnit::Millimetre,
            mass: MassUnit::Gram,
            thickness: ThicknessUnit::Gauge,
        }
    }
}
