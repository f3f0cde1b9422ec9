//! What a count comes to, before it is accepted.

use crate::measure::{Money, Quantity, TooLarge};
use crate::studio::ItemId;

/// What counting an item comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CountedItem {
    /// The item.
    pub item: ItemId,
    /// What was counted, in its unit, 0 or more.
    pub counted: Quantity,
    /// What the book says is there at the end of the day.
    pub expected: Quantity,
    /// Counted less expected; below zero where there is less.
    pub difference: Quantity,
    /// What the difference is worth; below zero where there is less.
    pub value: Money,
}

/// What differences are worth together; below zero where more is missing than was found.
///
/// # Errors
/// [`TooLarge`] where the sum does not fit.
pub fn together(values: impl IntoIterator<Item = Money>) -> Result<Money, TooLarge> {
    values.into_iter().try_fold(Money::ZERO, Money::plus)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_found_makes_up_for_what_is_missing() {
        let money = |text: &str| Money::new(text.parse().unwrap()).unwrap();
        assert_eq!(together([money("-3.25"), money("1.10")]), Ok(money("-2.15")));
        assert_eq!(together([]), Ok(Money::ZERO));
    }
}
