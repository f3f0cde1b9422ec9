//! What the deliveries of one line of an order cost, where it comes in parts.

use crate::measure::exact::{div, mul, round};
use crate::measure::{Currency, Money, Quantity, TooLarge};

/// What has come of a line, or of a part of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Delivered {
    /// How much, in the unit the line is ordered in: packs, or the item's unit.
    pub quantity: Quantity,
    /// What it cost, in the book's currency.
    pub cost: Money,
}

/// Why a delivery cannot be costed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum DeliveryProblem {
    /// Nothing, or less, came.
    #[error("{came} came: write a quantity above zero")]
    NothingCame {
        /// What was written.
        came: Quantity,
    },
    /// More came than is still to come.
    #[error("{came} came, but only {left} is still to come: change the order first")]
    MoreThanOrdered {
        /// What was written.
        came: Quantity,
        /// What is still to come.
        left: Quantity,
    },
    /// Earlier deliveries cost more than the whole line.
    #[error("what came before cost {before}, more than the {whole} of the whole line: mend the order first")]
    CostedBefore {
        /// What came before cost.
        before: Money,
        /// The whole line.
        whole: Money,
    },
    /// A number grows past 28 digits.
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
}

/// What a delivery of part of a line costs: of what the line has left in money, the part that came of what it has left
/// in quantity, half-even to the minor unit of `currency`, the book's. The delivery that brings the last of the line
/// takes all that is left, so that the deliveries of a line always add up to it.
///
/// `ordered` and `whole` are the quantity and landed cost of the whole line, `before` is what came of it before.
///
/// # Errors
/// [`DeliveryProblem`] where nothing came, more came than is to come, or a number does not fit.
pub fn delivery_cost(
    ordered: Quantity,
    whole: Money,
    before: Delivered,
    came: Quantity,
    currency: Currency,
) -> Result<Money, DeliveryProblem> {
    if came <= Quantity::ZERO {
        return Err(DeliveryProblem::NothingCame { came });
    }
    let left = ordered.minus(before.quantity)?;
    if came > left {
        return Err(DeliveryProblem::MoreThanOrdered { came, left: left.max(Quantity::ZERO) });
    }
    let cost_left = whole.minus(before.cost)?;
    if cost_left < Money::ZERO {
        return Err(DeliveryProblem::CostedBefore { before: before.cost, whole });
    }
    if came == left {
        return Ok(cost_left);
    }
    let part = div(mul(cost_left.amount(), came.amount())?, left.amount())?;
    let part = Money::new(round(part, currency.digits())).ok_or(TooLarge)?;
    Ok(part.min(cost_left))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn money(text: &str) -> Money {
        Money::new(text.parse().unwrap()).unwrap()
    }

    fn quantity(text: &str) -> Quantity {
        Quantity::new(text.parse().unwrap()).unwrap()
    }

    #[test]
    fn the_last_delivery_takes_what_is_left() {
        let (ordered, whole) = (quantity("3"), money("10"));
        let mut before = Delivered::default();
        let mut costs = Vec::new();
        for _ in 0..3 {
            let cost = delivery_cost(ordered, whole, before, quantity("1"), Currency::USD).unwrap();
            costs.push(cost.to_string());
            before.quantity = before.quantity.plus(quantity("1")).unwrap();
            before.cost = before.cost.plus(cost).unwrap();
        }
        assert_eq!(costs, ["3.33", "3.34", "3.33"]);
        assert_eq!(before.cost, whole);
        let more = delivery_cost(ordered, whole, before, quantity("1"), Currency::USD).unwrap_err();
        assert_eq!(more.to_string(), "1 came, but only 0 is still to come: change the order first");
    }

    #[test]
    fn nothing_cannot_come_and_earlier_costs_fit_the_line() {
        let cost = |before: &str, came: &str| {
            let before = Delivered { quantity: quantity("1"), cost: money(before) };
            delivery_cost(quantity("3"), money("10"), before, quantity(came), Currency::USD)
        };
        assert_eq!(cost("1", "0"), Err(DeliveryProblem::NothingCame { came: Quantity::ZERO }));
        assert_eq!(cost("11", "1"), Err(DeliveryProblem::CostedBefore { before: money("11"), whole: money("10") }));
        assert_eq!(cost("9.99", "1"), Ok(Money::ZERO));
        assert_eq!(cost("9.99", "2"), Ok(money("0.01")));
    }
}
