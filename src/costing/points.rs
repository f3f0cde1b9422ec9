//! Price points: raising a price to the next allowed ticket (costing method, section 7).

use crate::measure::{Decimal, TooLarge};
use crate::studio::Band;

/// The ticket for a price to be shown: the price rounded half-even to 8 places chooses its band, and the smallest
/// `i · step − less` not below it is the ticket. No bands means every multiple of the minor unit.
pub fn ticket(price: Decimal, bands: &[Band], minor_digits: u32) -> Result<Decimal, TooLarge> {
    let _ = (price, bands, minor_digits);
    Err(TooLarge)
}
