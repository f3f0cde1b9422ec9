//! How much to buy at once: the economic order quantity, `√(2 · use a year · cost of an order / cost of holding one unit
//! a year)`, and the whole packs nearest to it that cost least a year.
//!
//! The yearly cost of ordering and holding is `use / quantity · cost of an order + quantity / 2 · holding cost`. It falls
//! to the economic quantity and rises after it, so that of whole packs one of the two neighbours is best; of equal ones
//! the fewer packs, which tie up less.

use super::reason::{Figure, ReasonLine};
use super::statistics::square_root;
use crate::measure::exact::{add, div, mul, round};
use crate::measure::money::MONEY_PLACES;
use crate::measure::quantity::QUANTITY_PLACES;
use crate::measure::{Decimal, Money, Quantity, TooLarge};

/// Use in a year of 365 days: use per week · 365 / 7, half-even to 9 places.
///
/// # Errors
/// [`TooLarge`] where the product does not fit.
pub fn use_per_year(per_week: Decimal) -> Result<Decimal, TooLarge> {
    let year = div(mul(per_week, Decimal::from(365))?, Decimal::from(7))?;
    Ok(round(year, QUANTITY_PLACES).normalize())
}

/// What an order and holding stock cost.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OrderCosts {
    /// Use in a year, in the item's unit, above 0.
    pub use_per_year: Decimal,
    /// Cost of placing one order, above 0: postage, an hour at the desk.
    pub per_order: Money,
    /// Cost of holding one unit for a year, above 0: what the money would earn, the shelf, what spoils.
    pub holding: Decimal,
}

/// Why no economic order quantity can be computed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum OrderProblem {
    /// A figure that is not above zero.
    #[error("the {} {value} is not above zero", figure.words())]
    NotAboveZero {
        /// Which.
        figure: Figure,
        /// The value.
        value: Decimal,
    },
    /// A number grows past 28 digits.
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
}

/// A number of packs and what buying so many at once costs a year.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PackChoice {
    /// Whole packs, from 1.
    pub packs: u64,
    /// Yearly cost of ordering and holding, half-even to 6 places.
    pub yearly_cost: Decimal,
}

/// How much to buy at once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OrderQuantity {
    /// The economic order quantity, to 9 places.
    pub economic: Decimal,
    /// Its yearly cost of ordering and holding, half-even to 6 places.
    pub economic_cost: Decimal,
    /// The whole packs below it, at least as many as the supplier sells.
    pub fewer: PackChoice,
    /// The whole packs above it.
    pub more: PackChoice,
    /// The one of the two that costs less.
    pub chosen: PackChoice,
    /// The figures, in the order a person would compute them.
    pub reason: Vec<ReasonLine>,
}

/// The economic order quantity, to 9 places.
///
/// # Errors
/// [`OrderProblem`] where a figure is not above zero or does not fit.
pub fn economic_quantity(costs: OrderCosts) -> Result<Decimal, OrderProblem> {
    for (figure, value) in [
        (Figure::UsePerYear, costs.use_per_year),
        (Figure::CostPerOrder, costs.per_order.amount()),
        (Figure::HoldingCost, costs.holding),
    ] {
        if value <= Decimal::ZERO {
            return Err(OrderProblem::NotAboveZero { figure, value });
        }
    }
    let twice = mul(mul(Decimal::TWO, costs.use_per_year)?, costs.per_order.amount())?;
    Ok(square_root(div(twice, costs.holding)?)?)
}

/// What ordering and holding cost a year when `quantity`, above 0, is bought at once; to 28 digits.
///
/// # Errors
/// [`TooLarge`] where a number does not fit.
pub fn yearly_cost(costs: OrderCosts, quantity: Decimal) -> Result<Decimal, TooLarge> {
    let ordering = mul(div(costs.use_per_year, quantity)?, costs.per_order.amount())?;
    add(ordering, mul(div(quantity, Decimal::TWO)?, costs.holding)?)
}

/// How many packs of `pack`, above 0, to buy at once, at least `least_packs`.
///
/// # Errors
/// [`OrderProblem`] where a figure is not above zero or does not fit.
pub fn order_quantity(costs: OrderCosts, pack: Quantity, least_packs: u32) -> Result<OrderQuantity, OrderProblem> {
    let economic = economic_quantity(costs)?;
    let holds = pack.amount();
    if holds <= Decimal::ZERO {
        return Err(OrderProblem::NotAboveZero { figure: Figure::PackHolds, value: holds });
    }
    let least = u64::from(least_packs.max(1));
    let below = u64::try_from(div(economic, holds)?.floor()).map_err(|_| TooLarge)?;
    let at_most = |packs: u64| -> Result<(PackChoice, Decimal), TooLarge> {
        let cost = yearly_cost(costs, mul(Decimal::from(packs), holds)?)?;
        Ok((PackChoice { packs, yearly_cost: round(cost, MONEY_PLACES).normalize() }, cost))
    };
    let (fewer, fewer_cost) = at_most(below.max(least))?;
    let (more, more_cost) = at_most(below.checked_add(1).ok_or(TooLarge)?.max(least))?;
    let chosen = if more_cost < fewer_cost { more } else { fewer };
    let economic_cost = round(yearly_cost(costs, economic.max(Decimal::new(1, QUANTITY_PLACES)))?, MONEY_PLACES);
    let reason = [
        (Figure::UsePerYear, costs.use_per_year),
        (Figure::CostPerOrder, costs.per_order.amount()),
        (Figure::HoldingCost, costs.holding),
        (Figure::EconomicQuantity, economic),
        (Figure::PackHolds, holds),
        (Figure::LeastPacks, Decimal::from(least)),
        (Figure::FewerPacks, Decimal::from(fewer.packs)),
        (Figure::FewerCost, fewer.yearly_cost),
        (Figure::MorePacks, Decimal::from(more.packs)),
        (Figure::MoreCost, more.yearly_cost),
        (Figure::Packs, Decimal::from(chosen.packs)),
    ]
    .map(|(figure, value)| ReasonLine { figure, value })
    .to_vec();
    Ok(OrderQuantity { economic, economic_cost: economic_cost.normalize(), fewer, more, chosen, reason })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decimal(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    fn costs() -> OrderCosts {
        OrderCosts {
            use_per_year: decimal("1800"),
            per_order: Money::new(decimal("6.50")).unwrap(),
            holding: decimal("0.03"),
        }
    }

    #[test]
    fn the_cheaper_neighbour_in_whole_packs_is_chosen() {
        let pound = Quantity::new(decimal("453.59237")).unwrap();
        let order = order_quantity(costs(), pound, 0).unwrap();
        assert_eq!((order.fewer.packs, order.more.packs, order.chosen.packs), (1, 2, 2));
        // 1800 / 453.59237 · 6.5 + 453.59237 / 2 · 0.03 and 1800 / 907.18474 · 6.5 + 907.18474 / 2 · 0.03, by pencil.
        assert_eq!(round(order.fewer.yearly_cost, 4).to_string(), "32.5980");
        assert_eq!(round(order.more.yearly_cost, 4).to_string(), "26.5048");
        let many = order_quantity(costs(), pound, 4).unwrap();
        assert_eq!((many.fewer.packs, many.chosen.packs), (4, 4));
    }

    #[test]
    fn equal_cost_takes_fewer_and_nothing_is_refused() {
        // √(2 · 2 · 1 / 2) = √2, and 1 and 2 cost the same: 2 / 1 + 1 = 2 / 2 + 2.
        let even = OrderCosts {
            use_per_year: Decimal::TWO,
            per_order: Money::new(Decimal::ONE).unwrap(),
            holding: Decimal::TWO,
        };
        let order = order_quantity(even, Quantity::new(Decimal::ONE).unwrap(), 1).unwrap();
        assert_eq!(order.fewer.yearly_cost, order.more.yearly_cost);
        assert_eq!(order.chosen.packs, 1);
        let free = OrderCosts { holding: Decimal::ZERO, ..costs() };
        assert_eq!(
            economic_quantity(free).unwrap_err().to_string(),
            "the cost of holding one unit for a year 0 is not above zero"
        );
        assert_eq!(use_per_year(decimal("7")).unwrap(), decimal("365"));
    }
}
