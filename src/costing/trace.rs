//! Where stock went: which lots each movement took from, and from a lot everything it went into.
//!
//! Stock leaves the oldest lot first under both methods of valuation, and a return leaves its lot, exactly as in
//! [`super::stock`]; so the trace of an item does not depend on the method. Stock found by a count is a source of its
//! own, which has no lot.

use super::stock::{StockError, closing};
use crate::measure::{Quantity, TooLarge};
use crate::studio::{LotId, Movement, MovementId, MovementKind, ValuationMethod};

/// Where stock came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Source {
    /// A lot that came in.
    Lot(LotId),
    /// Found by this count.
    Found(MovementId),
}

impl Source {
    /// The movement that brought it.
    pub const fn movement(self) -> MovementId {
        match self {
            Self::Lot(lot) => MovementId(lot.0),
            Self::Found(count) => count,
        }
    }

    /// The lot, where it is one.
    pub const fn lot(self) -> Option<LotId> {
        match self {
            Self::Lot(lot) => Some(lot),
            Self::Found(_) => None,
        }
    }
}

/// What one movement took from one source.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Taken {
    /// The movement: an issue, a write-off, a return, or a count that found less.
    pub movement: MovementId,
    /// Where it came from.
    pub source: Source,
    /// How much, above 0.
    pub quantity: Quantity,
}

/// What is left of one source.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Left {
    /// Where it came from.
    pub source: Source,
    /// How much came, above 0.
    pub came: Quantity,
    /// How much is left, 0 or more.
    pub left: Quantity,
}

/// Where one item's stock came from and went.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Trace {
    /// Every source, oldest first, with what is left of it.
    pub sources: Vec<Left>,
    /// What was taken, in order of the movements, of one movement oldest source first.
    pub taken: Vec<Taken>,
}

impl Trace {
    /// What a movement took, oldest source first.
    pub fn taken_by(&self, movement: MovementId) -> impl Iterator<Item = &Taken> {
        self.taken.iter().filter(move |taken| taken.movement == movement)
    }

    /// What was taken from a source, in order of the movements.
    pub fn taken_from(&self, source: Source) -> impl Iterator<Item = &Taken> {
        self.taken.iter().filter(move |taken| taken.source == source)
    }

    /// What is left of a source; none when there is no such source.
    pub fn left_of(&self, source: Source) -> Option<&Left> {
        self.sources.iter().find(|left| left.source == source)
    }

    fn take(&mut self, place: usize, movement: MovementId, most: Quantity) -> Result<Quantity, TooLarge> {
        let Some(from) = self.sources.get_mut(place) else {
            return Ok(Quantity::ZERO);
        };
        let quantity = most.min(from.left);
        if !quantity.is_zero() {
            from.left = from.left.minus(quantity)?;
            self.taken.push(Taken { movement, source: from.source, quantity });
        }
        Ok(quantity)
    }
}

/// Traces one item's movements, already ordered by date, then id.
///
/// # Errors
/// A [`StockError`] where the movements cannot be valued either.
pub fn trace(movements: &[Movement]) -> Result<Trace, StockError> {
    // The ledger's own checks: from here on everything that leaves is there.
    closing(movements, ValuationMethod::Fifo)?;
    let mut trace = Trace::default();
    let mut on_hand = Quantity::ZERO;
    // Every source before this one is empty.
    let mut oldest = 0;
    for movement in movements {
        let quantity = movement.quantity;
        let mut leaves = Quantity::ZERO;
        if movement.kind == MovementKind::Count {
            let found = quantity.minus(on_hand)?;
            if found > Quantity::ZERO {
                trace.sources.push(Left { source: Source::Found(movement.id), came: found, left: found });
            } else {
                leaves = on_hand.minus(quantity)?;
            }
            on_hand = quantity;
        } else if matches!(movement.kind, MovementKind::Issue | MovementKind::WriteOff) {
            leaves = quantity;
            on_hand = on_hand.minus(quantity)?;
        } else if movement.kind == MovementKind::Return {
            let place = trace.sources.iter().rposition(|from| match movement.lot {
                Some(named) => from.source == Source::Lot(named),
                None => from.source.lot().is_some() && from.left >= quantity,
            });
            trace.take(place.unwrap_or(usize::MAX), movement.id, quantity)?;
            on_hand = on_hand.minus(quantity)?;
        } else {
            let source = Source::Lot(LotId(movement.id.0));
            trace.sources.push(Left { source, came: quantity, left: quantity });
            on_hand = on_hand.plus(quantity)?;
        }
        while !leaves.is_zero() && oldest < trace.sources.len() {
            leaves = leaves.minus(trace.take(oldest, movement.id, leaves)?)?;
            if trace.sources.get(oldest).is_some_and(|from| from.left.is_zero()) {
                oldest += 1;
            }
        }
    }
    Ok(trace)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{Decimal, Money};
    use crate::studio::ItemId;

    fn movement(id: i64, kind: MovementKind, quantity: i64, lot: Option<i64>) -> Movement {
        Movement {
            id: MovementId(id),
            item: ItemId(1),
            date: chrono::NaiveDate::from_ymd_opt(2026, 1, 5).unwrap(),
            kind,
            quantity: Quantity::new(Decimal::from(quantity)).unwrap(),
            cost: (kind == MovementKind::Receipt).then_some(Money::ZERO),
            lot: lot.map(LotId),
            lot_number: String::new(),
            supplier: String::new(),
            note: String::new(),
            typed: String::new(),
        }
    }

    #[test]
    fn a_lot_is_followed_to_everything_it_went_into_and_back() {
        let traced = trace(&[
            movement(1, MovementKind::Receipt, 10, None),
            movement(2, MovementKind::Receipt, 10, None),
            movement(3, MovementKind::Issue, 12, None),
            movement(4, MovementKind::Return, 3, Some(2)),
            movement(5, MovementKind::Count, 8, None),
            movement(6, MovementKind::Count, 7, None),
            movement(7, MovementKind::Issue, 6, None),
        ])
        .unwrap();
        let numbers = |taken: &Taken| (taken.movement.0, taken.source.movement().0, taken.quantity.to_string());
        let forward: Vec<_> = traced.taken_from(Source::Lot(LotId(2))).map(numbers).collect();
        let expected = [(3, 2, "2"), (4, 2, "3"), (6, 2, "1"), (7, 2, "4")];
        assert_eq!(forward, expected.map(|(movement, source, quantity)| (movement, source, quantity.to_owned())));
        let back: Vec<_> = traced.taken_by(MovementId(7)).map(numbers).collect();
        assert_eq!(back, [(7, 2, "4".to_owned()), (7, 5, "2".to_owned())]);
        let found = traced.left_of(Source::Found(MovementId(5))).unwrap();
        assert_eq!((found.came.to_string(), found.left.to_string()), ("3".into(), "1".into()));
    }

    #[test]
    fn what_cannot_be_valued_cannot_be_traced() {
        let short = [movement(1, MovementKind::Issue, 1, None)];
        assert!(matches!(trace(&short), Err(StockError::NotEnough { .. })));
    }
}
