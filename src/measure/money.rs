//! Money: exact amounts of the book's one currency.

use super::exact::{self, Decimal, TooLarge};
use serde::{Deserialize, Serialize};
use std::fmt;

/// The book's grain for money: millionths of the currency unit.
pub const MONEY_PLACES: u32 = 6;

/// The largest amount a person may enter, in currency units. Sums and products of amounts stay well inside
/// [`Decimal`].
pub const MONEY_LIMIT: i64 = 1_000_000_000_000;

/// An exact amount in the book's currency, at most six decimals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Money(Decimal);

impl Money {
    /// No money.
    pub const ZERO: Self = Self(Decimal::ZERO);

    /// An amount that already has six decimals or fewer; `None` when it is finer.
    pub fn new(amount: Decimal) -> Option<Self> {
        let amount = amount.normalize();
        (amount.scale() <= MONEY_PLACES).then_some(Self(amount))
    }

    /// Whole millionths of the currency unit.
    pub fn from_millionths(millionths: i64) -> Self {
        let (whole, places) = exact::without_zeros(millionths, MONEY_PLACES);
        Self(Decimal::from_i128_with_scale(i128::from(whole), places))
    }

    /// An amount rounded half-even to the book's grain.
    pub fn rounded(amount: Decimal) -> Self {
        Self(exact::round(amount, MONEY_PLACES).normalize())
    }

    /// The exact amount.
    pub const fn amount(self) -> Decimal {
        self.0
    }

    /// True for an amount of nothing.
    pub fn is_zero(self) -> bool {
        self.0.is_zero()
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

/// The exact amount with all its digits and no more; screens use a [`Currency`](super::Currency) to show it.
impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0.normalize())
    }
}
