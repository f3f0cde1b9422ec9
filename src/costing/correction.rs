//! What correcting a lot's price moves: a pure comparison of two ledgers of one item.

use super::stock::{StockError, book_unit_price, ledger, replacement_unit_price};
use crate::measure::{Decimal, Money, Quantity};
use crate::studio::{LotId, Movement, MovementId, MovementKind, ValuationMethod};
use chrono::NaiveDate;

/// A value before and after.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Shift {
    /// As it was.
    pub before: Money,
    /// As it would be.
    pub after: Money,
}

/// What correcting one lot's price moves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CorrectionEffect {
    /// The lot.
    pub lot: LotId,
    /// Its whole landed cost.
    pub cost: Shift,
    /// What is on hand; a price moves no quantity.
    pub on_hand: Quantity,
    /// Value on hand.
    pub value: Shift,
    /// Value of all issues.
    pub issued: Shift,
    /// Value of all write-offs and count shortages.
    pub written_off: Shift,
    /// Value of all returns.
    pub returned: Shift,
    /// Price of a unit on hand, before and after.
    pub book_price: [Option<Decimal>; 2],
    /// Price of a unit at the latest receipt, before and after.
    pub replacement_price: [Option<Decimal>; 2],
    /// The movements whose cost moves, the lot's own left out, in the ledger's order.
    pub lines: Vec<MovedCost>,
}

/// A movement whose cost moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MovedCost {
    /// The movement.
    pub movement: MovementId,
    /// Its day.
    pub date: NaiveDate,
    /// What it does.
    pub kind: MovementKind,
    /// Its change of quantity, negative for what leaves.
    pub change: Quantity,
    /// Its change of value, negative for what leaves.
    pub value: Shift,
}

/// What it moves to take the lot's whole landed cost for `cost`; none where the movements have no such lot. The movements
/// are one item's, ordered by date then id.
///
/// # Errors
/// [`StockError`] where the movements cannot be valued, before or after.
pub fn correction_effect(
    movements: &[Movement],
    lot: LotId,
    cost: Money,
    method: ValuationMethod,
) -> Result<Option<CorrectionEffect>, StockError> {
    let mut corrected = movements.to_vec();
    let found = corrected.iter_mut().find(|movement| movement.id.0 == lot.0 && movement.kind.is_lot());
    let Some(found) = found else { return Ok(None) };
    let cost = Shift { before: found.cost.unwrap_or_default(), after: cost };
    found.cost = Some(cost.after);
    let (before, after) = (ledger(movements, method)?, ledger(&corrected, method)?);
    let lines = movements
        .iter()
        .zip(before.lines.iter().zip(&after.lines))
        .filter(|(movement, (one, other))| movement.id.0 != lot.0 && one.value_change != other.value_change)
        .map(|(movement, (one, other))| MovedCost {
            movement: movement.id,
            date: movement.date,
            kind: movement.kind,
            change: one.change,
            value: Shift { before: one.value_change, after: other.value_change },
        })
        .collect();
    let shift = |before: Money, after: Money| Shift { before, after };
    Ok(Some(CorrectionEffect {
        lot,
        cost,
        on_hand: after.on_hand,
        value: shift(before.value, after.value),
        issued: shift(before.issued, after.issued),
        written_off: shift(before.written_off, after.written_off),
        returned: shift(before.returned, after.returned),
        book_price: [book_unit_price(&before), book_unit_price(&after)],
        replacement_price: [replacement_unit_price(movements), replacement_unit_price(&corrected)],
        lines,
    }))
}
