//! Quantities of stock and the four units stock is kept in.

use super::exact::{self, Decimal, TooLarge};
use serde::{Deserialize, Serialize};
use std::fmt;

/// The book's grain for quantities and rates: billionths of the unit.
pub const QUANTITY_PLACES: u32 = 9;

/// The largest quantity a person may enter, in the item's unit.
pub const QUANTITY_LIMIT: i64 = 1_000_000_000;

/// The unit an item of stock is kept and used in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Unit {
    /// Grams: enamels, solder, consumables by weight.
    #[serde(rename = "g")]
    Gram,
    /// Pieces: blanks, sheets, findings, boxes.
    Each,
    /// Millimetres: wire, tube, chain by length.
    #[serde(rename = "mm")]
    Millimetre,
    /// Millilitres: binders, pickle.
    #[serde(rename = "ml")]
    Millilitre,
}

impl Unit {
    /// Every unit, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Each, Self::Gram, Self::Millimetre, Self::Millilitre];

    /// The name used in design files and on the command line: `g`, `each`, `mm`, `ml`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Gram => "g",
            Self::Each => "each",
            Self::Millimetre => "mm",
            Self::Millilitre => "ml",
        }
    }

    /// The unit of that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|unit| unit.name() == name)
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// An exact quantity in its item's unit, at most nine decimals; may be negative (a movement out).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Quantity(Decimal);

impl Quantity {
    /// Nothing.
    pub const ZERO: Self = Self(Decimal::ZERO);

    /// A quantity that already has nine decimals or fewer; `None` when it is finer.
    pub fn new(amount: Decimal) -> Option<Self> {
        let amount = amount.normalize();
        (amount.scale() <= QUANTITY_PLACES).then_some(Self(amount))
    }

    /// Whole billionths of the unit.
    pub fn from_billionths(billionths: i64) -> Self {
        let (whole, places) = exact::without_zeros(billionths, QUANTITY_PLACES);
        Self(Decimal::from_i128_with_scale(i128::from(whole), places))
    }

    /// The exact amount.
    pub const fn amount(self) -> Decimal {
        self.0
    }

    /// True for nothing.
    pub fn is_zero(self) -> bool {
        self.0.is_zero()
    }

    /// True below zero.
    pub fn is_negative(self) -> bool {
        self.0.is_sign_negative() && !self.0.is_zero()
    }

    /// The sum, when it fits.
    pub fn plus(self, other: Self) -> Result<Self, TooLarge> {
        exact::add(self.0, other.0).map(|sum| Self(sum.normalize()))
    }

    /// The difference, when it fits.
    pub fn minus(self, other: Self) -> Result<Self, TooLarge> {
        exact::sub(self.0, other.0).map(|difference| Self(difference.normalize()))
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0.normalize())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whole_billionths_are_the_same_as_the_decimal_normalised() {
        for billionths in [0, 1, -1, 10, 28_349_523_125, 1_000_000_000, 12_340_000, -5_000_000_000, i64::MAX, i64::MIN]
        {
            let quantity = Quantity::from_billionths(billionths);
            let decimal = Decimal::from_i128_with_scale(i128::from(billionths), QUANTITY_PLACES).normalize();
            assert_eq!((quantity.amount(), quantity.amount().scale()), (decimal, decimal.scale()));
        }
    }
}
