//! What a weigh-in comes to, before it is accepted.

use crate::measure::{Decimal, Money, Quantity, TooLarge};
use crate::studio::{ItemId, JarId};

/// Differences up to this many grams are never large.
const SMALL_GRAMS: i64 = 5;

/// What the jars of one item come to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WeighedItem {
    /// The item.
    pub item: ItemId,
    /// What its jars hold: the newest net weight of each, g.
    pub counted: Quantity,
    /// What the book says is there at the end of the day, g.
    pub expected: Quantity,
    /// Counted less expected, g; below zero where there is less.
    pub difference: Quantity,
    /// What the difference is worth; below zero where there is less.
    pub value: Money,
    /// So large that it needs a cause.
    pub large: bool,
    /// Jars of it that were not weighed now, whose weight from before counts.
    pub from_before: Vec<JarId>,
}

/// A difference of more than 5 g and more than a tenth of what was expected asks for a cause.
///
/// # Errors
/// [`TooLarge`] where the difference does not fit.
pub fn is_large(expected: Quantity, counted: Quantity) -> Result<bool, TooLarge> {
    let difference = counted.minus(expected)?.amount().abs();
    let tenth = expected.amount().abs() / Decimal::TEN;
    Ok(difference > Decimal::from(SMALL_GRAMS).max(tenth))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_difference_is_large_above_five_grams_and_a_tenth() {
        let large = |expected: i64, counted: i64| {
            is_large(Quantity::new(expected.into()).unwrap(), Quantity::new(counted.into()).unwrap()).unwrap()
        };
        assert!(!large(10, 5) && large(10, 4) && !large(100, 90) && large(100, 89) && large(100, 111));
        assert!(!large(0, 5) && large(0, 6));
    }
}
