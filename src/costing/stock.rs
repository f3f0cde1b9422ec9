//! What stock is worth (costing method, section 5): one item's ordered movements in, its ledger out.
//!
//! Money is counted in millionths and quantities in billionths as whole numbers, so that every product is exact. An
//! issue costs `value · taken / there`, rounded half-even to a millionth; what the rounding leaves stays with the stock.
//! What empties a lot (FIFO) or the item (average) takes all the value that is left, so that value received is always
//! value on hand, issued, written off and returned, to the last digit.
//!
//! Where the written method leaves a choice:
//!
//! * Stock leaves the oldest lot first under both methods; under the average method lots are followed for their
//!   quantities only. So the same lists of movements are possible under both.
//! * A wash-back is a lot of its own, at what it is taken in at, but it goes back to no supplier.
//! * A return leaves its lot, which must still hold it. FIFO: at that lot's value, as an issue from it would. Average:
//!   at what the lot cost when it came, but never more than all the value on hand; one that empties the item takes all.
//! * Without a lot named, a return leaves the latest receipt that still holds all of it. Stock washed back or found by a
//!   count cannot be returned.
//! * A surplus comes in, under FIFO, at the unit cost of the latest lot, receipt or wash-back, even if that is used up; under the average
//!   method at value / quantity on hand. Where there is no such cost it comes in at nothing.

use crate::measure::money::MONEY_PLACES;
use crate::measure::quantity::QUANTITY_PLACES;
use crate::measure::{Decimal, Money, Quantity, TooLarge};
use crate::studio::{LotId, Movement, MovementId, MovementKind, ValuationMethod};

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
    /// A quantity or a cost below zero, or nothing where something moves.
    #[error("a movement on {date} has no quantity above zero, or a cost below it")]
    NotPositive {
        /// The day.
        date: chrono::NaiveDate,
        /// The movement.
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
    /// Lots with stock left (FIFO), oldest first: receipt or wash-back, quantity, value. For the average method, one line a lot is
    /// kept for quantities only.
    pub layers: Vec<Layer>,
    /// Value of all receipts, wash-backs and count surpluses.
    pub received: Money,
    /// Value of all issues.
    pub issued: Money,
    /// Value of all write-offs and count shortages.
    pub written_off: Money,
    /// Value of all returns.
    pub returned: Money,
}

/// What a ledger ends with, without its lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Closing {
    /// What is there.
    pub on_hand: Quantity,
    /// What it is worth.
    pub value: Money,
    /// Value of all receipts, wash-backs and count surpluses.
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
    let mut account = Account::new(method);
    let mut lines = Vec::with_capacity(movements.len());
    for movement in movements {
        let (quantity, value) = (account.on_hand, account.value);
        account.book(movement)?;
        lines.push(LedgerLine {
            movement: movement.id,
            change: quantity_of(account.on_hand - quantity)?,
            value_change: money_of(account.value - value)?,
            on_hand: quantity_of(account.on_hand)?,
            value: money_of(account.value)?,
        });
    }
    let closing = account.closing()?;
    let layers = account
        .lots
        .iter()
        .filter(|lot| lot.quantity > 0)
        .map(|lot| Ok(Layer { lot: lot.lot, quantity: quantity_of(lot.quantity)?, value: money_of(lot.value)? }))
        .collect::<Result<_, TooLarge>>()?;
    Ok(Ledger {
        lines,
        on_hand: closing.on_hand,
        value: closing.value,
        layers,
        received: closing.received,
        issued: closing.issued,
        written_off: closing.written_off,
        returned: closing.returned,
    })
}

/// Values one item's movements without keeping a line for each: for the value of a whole book.
pub fn closing<'a>(
    movements: impl IntoIterator<Item = &'a Movement>,
    method: ValuationMethod,
) -> Result<Closing, StockError> {
    let mut account = Account::new(method);
    for movement in movements {
        account.book(movement)?;
    }
    Ok(account.closing()?)
}

/// Price of one unit of what is on hand: value / quantity, half-even to 6 places; none when nothing is there.
pub fn book_unit_price(ledger: &Ledger) -> Option<Decimal> {
    unit_price(ledger.value, ledger.on_hand)
}

/// Price of one unit at the latest receipt: its cost / its quantity, half-even to 6 places. What was never bought, such as
/// a jar of mixed wash-backs, has the price of its latest wash-back; none without either.
pub fn replacement_unit_price(movements: &[Movement]) -> Option<Decimal> {
    let latest = |kind| movements.iter().rev().find(|movement| movement.kind == kind);
    let lot = latest(MovementKind::Receipt).or_else(|| latest(MovementKind::WashBack))?;
    unit_price(lot.cost.unwrap_or_default(), lot.quantity)
}

/// `value / quantity`, half-even to 6 places; none when the quantity is not above zero or the result does not fit.
pub fn unit_price(value: Money, quantity: Quantity) -> Option<Decimal> {
    let quantity = billionths(quantity).ok().filter(|quantity| *quantity > 0)?;
    let price = part(millionths(value).ok()?, UNIT, quantity).ok()?;
    money_of(price).ok().map(Money::amount)
}

/// One unit in billionths.
const UNIT: i128 = 1_000_000_000;

/// Stock of one receipt or wash-back, or found by one count.
struct Lot {
    lot: Option<LotId>,
    /// It came from a supplier.
    bought: bool,
    /// Billionths left.
    quantity: i128,
    /// Millionths left; FIFO only.
    value: i128,
    /// Billionths received.
    came: i128,
    /// Millionths it cost.
    cost: i128,
}

/// One item's running account.
struct Account {
    method: ValuationMethod,
    lots: Vec<Lot>,
    /// Every lot before this one is empty.
    oldest: usize,
    on_hand: i128,
    value: i128,
    /// Cost and quantity of the latest lot.
    latest: Option<(i128, i128)>,
    received: i128,
    issued: i128,
    written_off: i128,
    returned: i128,
}

impl Account {
    const fn new(method: ValuationMethod) -> Self {
        Self {
            method,
            lots: Vec::new(),
            oldest: 0,
            on_hand: 0,
            value: 0,
            latest: None,
            received: 0,
            issued: 0,
            written_off: 0,
            returned: 0,
        }
    }

    fn closing(&self) -> Result<Closing, TooLarge> {
        Ok(Closing {
            on_hand: quantity_of(self.on_hand)?,
            value: money_of(self.value)?,
            received: money_of(self.received)?,
            issued: money_of(self.issued)?,
            written_off: money_of(self.written_off)?,
            returned: money_of(self.returned)?,
        })
    }

    fn book(&mut self, movement: &Movement) -> Result<(), StockError> {
        let quantity = billionths(movement.quantity)?;
        let least = i128::from(movement.kind != MovementKind::Count);
        let cost = millionths(movement.cost.unwrap_or_default())?;
        if quantity < least || cost < 0 {
            return Err(StockError::NotPositive { date: movement.date, movement: movement.id });
        }
        match movement.kind {
            MovementKind::Receipt | MovementKind::WashBack => {
                self.latest = Some((cost, quantity));
                self.come(Some(movement), quantity, cost)?;
            }
            MovementKind::Issue => self.issued += self.leave(movement, quantity)?,
            MovementKind::WriteOff => self.written_off += self.leave(movement, quantity)?,
            MovementKind::Return => self.returned += self.go_back(movement, quantity)?,
            MovementKind::Count if quantity > self.on_hand => {
                let surplus = quantity - self.on_hand;
                let worth = match (self.method, self.latest) {
                    (ValuationMethod::Fifo, Some((cost, came))) => part(cost, surplus, came)?,
                    (ValuationMethod::Average, _) if self.on_hand > 0 => part(self.value, surplus, self.on_hand)?,
                    _ => 0,
                };
                self.come(None, surplus, worth)?;
            }
            MovementKind::Count if quantity < self.on_hand => {
                self.written_off += self.leave(movement, self.on_hand - quantity)?;
            }
            MovementKind::Count => {}
        }
        Ok(())
    }

    /// Stock comes in as a lot of its own.
    fn come(&mut self, lot: Option<&Movement>, quantity: i128, cost: i128) -> Result<(), TooLarge> {
        let value = if self.method == ValuationMethod::Fifo { cost } else { 0 };
        let bought = lot.is_some_and(|lot| lot.kind == MovementKind::Receipt);
        let lot = lot.map(|lot| LotId(lot.id.0));
        self.lots.push(Lot { lot, bought, quantity, value, came: quantity, cost });
        self.on_hand = self.on_hand.checked_add(quantity).ok_or(TooLarge)?;
        self.value = self.value.checked_add(cost).ok_or(TooLarge)?;
        self.received = self.received.checked_add(cost).ok_or(TooLarge)?;
        Ok(())
    }

    /// Stock leaves the oldest lots; gives the value that goes with it.
    fn leave(&mut self, movement: &Movement, quantity: i128) -> Result<i128, StockError> {
        self.check_on_hand(movement, quantity)?;
        // Under the average method the lots carry no value, and the whole item is asked for it.
        let mut worth = match self.method {
            ValuationMethod::Average => part(self.value, quantity, self.on_hand)?,
            ValuationMethod::Fifo => 0,
        };
        let mut left = quantity;
        while let Some(lot) = self.lots.get_mut(self.oldest).filter(|_| left > 0) {
            let taken = left.min(lot.quantity);
            if taken > 0 {
                worth += lot.take(taken)?;
                left -= taken;
            }
            if lot.quantity == 0 {
                self.oldest += 1;
            }
        }
        self.on_hand -= quantity;
        self.value -= worth;
        Ok(worth)
    }

    /// Stock goes back from one lot; gives the value that goes with it.
    fn go_back(&mut self, movement: &Movement, quantity: i128) -> Result<i128, StockError> {
        self.check_on_hand(movement, quantity)?;
        let place = match movement.lot {
            Some(named) => self.lots.iter().rposition(|lot| lot.bought && lot.lot == Some(named)),
            None => self.lots.iter().rposition(|lot| lot.bought && lot.quantity >= quantity),
        };
        let largest = || {
            let lots = self.lots.iter().filter(|lot| lot.bought && movement.lot.is_none());
            lots.map(|lot| lot.quantity).max().unwrap_or(0)
        };
        let holds = place.and_then(|place| self.lots.get(place)).map_or_else(largest, |lot| lot.quantity);
        let too_small = StockError::LotTooSmall { left: quantity_of(holds)?, movement: movement.id };
        let (all, on_hand) = (self.value, self.on_hand);
        let Some(lot) = place.and_then(|place| self.lots.get_mut(place)).filter(|lot| lot.quantity >= quantity) else {
            return Err(too_small);
        };
        let worth = match self.method {
            ValuationMethod::Fifo => lot.take(quantity)?,
            ValuationMethod::Average => {
                let at_cost = part(lot.cost, quantity, lot.came)?;
                lot.take(quantity)?;
                if quantity == on_hand { all } else { at_cost.min(all) }
            }
        };
        self.on_hand -= quantity;
        self.value -= worth;
        Ok(worth)
    }

    fn check_on_hand(&self, movement: &Movement, asked: i128) -> Result<(), StockError> {
        if asked <= self.on_hand {
            return Ok(());
        }
        Err(StockError::NotEnough {
            date: movement.date,
            on_hand: quantity_of(self.on_hand)?,
            asked: quantity_of(asked)?,
            movement: movement.id,
        })
    }
}

impl Lot {
    /// Takes `quantity`, at most what is left, and the value that goes with it.
    fn take(&mut self, quantity: i128) -> Result<i128, TooLarge> {
        let worth = part(self.value, quantity, self.quantity)?;
        self.quantity -= quantity;
        self.value -= worth;
        Ok(worth)
    }
}

/// `value · some / whole`, half-even to a whole number; all three are 0 or more, `whole` above 0. Exactly `value` where
/// `some` is `whole`.
fn part(value: i128, some: i128, whole: i128) -> Result<i128, TooLarge> {
    if some == whole {
        return Ok(value);
    }
    let product = value.checked_mul(some).ok_or(TooLarge)?;
    let quotient = product.checked_div(whole).ok_or(TooLarge)?;
    let remainder = product - quotient * whole;
    Ok(match (remainder * 2).cmp(&whole) {
        std::cmp::Ordering::Less => quotient,
        std::cmp::Ordering::Greater => quotient + 1,
        std::cmp::Ordering::Equal => quotient + quotient % 2,
    })
}

fn billionths(quantity: Quantity) -> Result<i128, TooLarge> {
    scaled(quantity.amount(), QUANTITY_PLACES)
}

fn millionths(money: Money) -> Result<i128, TooLarge> {
    scaled(money.amount(), MONEY_PLACES)
}

fn scaled(value: Decimal, places: u32) -> Result<i128, TooLarge> {
    let value = if value.scale() > places { value.normalize() } else { value };
    let shift = places.checked_sub(value.scale()).ok_or(TooLarge)?;
    value.mantissa().checked_mul(10_i128.pow(shift)).ok_or(TooLarge)
}

fn quantity_of(billionths: i128) -> Result<Quantity, TooLarge> {
    Decimal::try_from_i128_with_scale(billionths, QUANTITY_PLACES).ok().and_then(Quantity::new).ok_or(TooLarge)
}

fn money_of(millionths: i128) -> Result<Money, TooLarge> {
    Decimal::try_from_i128_with_scale(millionths, MONEY_PLACES).ok().and_then(Money::new).ok_or(TooLarge)
}
