//! Median and quartiles, exact.

use crate::measure::exact::{add, div, mul, sub};
use crate::measure::{Decimal, TooLarge};

/// The quartiles of a sample: type 7 of Hyndman and Fan (Sample Quantiles in Statistical Packages, The American
/// Statistician 50, 1996), linear between order statistics.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Quartiles {
    /// A quarter of the sample is below.
    pub first: Decimal,
    /// The middle.
    pub median: Decimal,
    /// A quarter of the sample is above.
    pub third: Decimal,
}

/// The quartiles of values in any order; none of no values.
///
/// # Errors
/// [`TooLarge`] where a number does not fit.
pub fn quartiles(values: &[Decimal]) -> Result<Option<Quartiles>, TooLarge> {
    let mut sorted = values.to_vec();
    sorted.sort_unstable();
    let Some(last) = sorted.len().checked_sub(1) else { return Ok(None) };
    let at = |quarters: usize| -> Result<Decimal, TooLarge> {
        // h = (n − 1) · quarters / 4, from 0: between the order statistics at its whole part and the next.
        let (whole, rest) = (last * quarters / 4, last * quarters % 4);
        let below = sorted.get(whole).copied().ok_or(TooLarge)?;
        let above = sorted.get(whole + 1).copied().unwrap_or(below);
        Ok(add(below, div(mul(sub(above, below)?, Decimal::from(rest))?, Decimal::from(4))?)?.normalize())
    };
    Ok(Some(Quartiles { first: at(1)?, median: at(2)?, third: at(3)? }))
}
