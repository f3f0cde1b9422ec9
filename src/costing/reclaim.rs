//! What reclaimed enamel is worth where it is taken in at the cost of the item it was reclaimed from.
//!
//! It is the price of a unit of that item as it stands just before: value / quantity on hand after the last movement that
//! is earlier by date, then id; where none is on hand, what a unit cost when it was issued last. So the cost of a
//! wash-back depends on earlier movements alone, even where enamel goes from a jar back into the same jar.

use super::stock::{Ledger, unit_price};
use crate::measure::exact::mul;
use crate::measure::{Decimal, Money, Quantity, TooLarge};
use crate::studio::{Movement, MovementId, MovementKind};
use chrono::NaiveDate;

/// The price of a unit just before the place of a movement of that day and row, half-even to 6 places; none where the item
/// has neither stock nor an issue before it. `movements` are one item's, by date then id, and `ledger` is theirs.
pub fn reclaimed_price(movements: &[Movement], ledger: &Ledger, before: (NaiveDate, MovementId)) -> Option<Decimal> {
    let earlier = movements.partition_point(|movement| (movement.date, movement.id) < before);
    let lines = ledger.lines.get(..earlier)?;
    let last = lines.last()?;
    unit_price(last.value, last.on_hand).or_else(|| {
        let issue = movements.get(..earlier)?.iter().rposition(|movement| movement.kind == MovementKind::Issue)?;
        let line = lines.get(issue)?;
        unit_price(Money::ZERO.minus(line.value_change).ok()?, Quantity::ZERO.minus(line.change).ok()?)
    })
}

/// What a quantity reclaimed at the price of a unit is taken in at.
///
/// # Errors
/// [`TooLarge`] where it does not fit.
pub fn reclaimed_cost(price: Decimal, quantity: Quantity) -> Result<Money, TooLarge> {
    Ok(Money::rounded(mul(price, quantity.amount())?))
}
