//! What stock is worth (costing method, section 5): one item's ordered movements in, its ledger out.

use crate::measure::{Decimal, Money, Quantity, TooLarge};
use crate::studio::{LotId, Movement, MovementId, ValuationMethod};

/// Why a list of movements cannot be valued.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum StockError {
    /// More goes out than is there.
    #[error("only {on_hand} on hand on {date}, {asked} asked for")]
    NotEnough {
        /// The day.
        date: chrono::NaiveDate,
        /// What is there.
        on_hand: Quantity,
        /// What was asked for.
        asked: Quantity,
        /// The movement that asks.
        movement: MovementId,
    },
    /// A return of more than its lot holds.
    #[error("the lot holds only {left}")]
    LotTooSmall {
        /// What is left of the lot.
        left: Quantity,
        /// The movement that asks.
        movement: MovementId,
    },
    /// A number grows past 28 digits.
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
}

/// An item's movements with what each cost and what was there after it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Ledger {
    /// One line a movement, in order of date then id.
    pub lines: Vec<LedgerLine>,
    /// What is there at the end.
    pub on_hand: Quantity,
    /// What it is worth.
    pub value: Money,
    /// Lots with stock left (FIFO), oldest first: receipt, quantity, value. For the average method, one line a lot is
    /// kept for quantities only.
    pub layers: Vec<Layer>,
    /// Value of all receipts and count surpluses.
    pub received: Money,
    /// Value of all issues.
    pub issued: Money,
    /// Value of all write-offs and count shortages.
    pub written_off: Money,
    /// Value of all returns.
    pub returned: Money,
}

/// A movement, valued.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LedgerLine {
    /// The movement.
    pub movement: MovementId,
    /// Change of quantity, negative for what leaves.
    pub change: Quantity,
    /// Change of value, negative for what leaves.
    pub value_change: Money,
    /// On hand after it.
    pub on_hand: Quantity,
    /// Value after it.
    pub value: Money,
}

/// Stock left of one lot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Layer {
    /// The lot; none for a surplus found by a count.
    pub lot: Option<LotId>,
    /// Quantity left.
    pub quantity: Quantity,
    /// Value left.
    pub value: Money,
}

/// Values one item's movements, already ordered by date, then id.
pub fn ledger(movements: &[Movement], method: ValuationMethod) -> Result<Ledger, StockError> {
    let _ = (movements, method);
    Ok(Ledger::default())
}

/// Price of one unit of what is on hand: value / quantity, half-even to 6 places; none when nothing is there.
pub fn book_unit_price(ledger: &Ledger) -> Option<Decimal> {
    let _ = ledger;
    None
}

/// Price of one unit at the latest receipt: its cost / its quantity, half-even to 6 places; none without a receipt.
pub fn replacement_unit_price(movements: &[Movement]) -> Option<Decimal> {
    let _ = movements;
    None
}
