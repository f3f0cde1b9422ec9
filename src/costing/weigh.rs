//! Jars on the scale: what is in a jar, how far that is from what was expected, and whether it needs a cause.
//!
//! `net = gross − tare`. A difference of more than 5 g and of more than a tenth of what was expected needs a cause: the
//! larger of the two is allowed (this project's own rule).

use crate::measure::exact::{div, mul};
use crate::measure::{Decimal, Money, Quantity, TooLarge};
use crate::studio::{ItemId, JarId};

/// The largest difference that needs no cause however little is in the jar, g.
pub const ALLOWED_GRAMS: i64 = 5;

/// The largest share of what was expected that needs no cause.
pub fn allowed_share() -> Decimal {
    Decimal::new(1, 1)
}

/// The heaviest jar that is taken, g: 100 kg.
pub const HEAVIEST_GRAMS: i64 = 100_000;

/// Why a weight is not taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum WeighProblem {
    /// Less than the empty jar.
    #[error("{gross} g is less than the empty jar, {tare} g: weigh it again, or mend its tare")]
    BelowTare {
        /// The weight.
        gross: Quantity,
        /// The empty jar.
        tare: Quantity,
    },
    /// A tare below zero.
    #[error("the tare {tare} g is below zero: write what the empty jar weighs, 0 g or more")]
    TareBelowZero {
        /// The tare.
        tare: Quantity,
    },
    /// More than a jar can weigh.
    #[error("{gross} g is too heavy: write {HEAVIEST_GRAMS} g or less")]
    TooHeavy {
        /// The weight.
        gross: Quantity,
    },
    /// A number grows past 28 digits.
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
}

/// What the scale says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Weighed {
    /// What is in it, g, 0 or more.
    pub net: Quantity,
    /// What was expected, g.
    pub expected: Quantity,
    /// Net less expected, g; below zero where some is missing.
    pub difference: Quantity,
    /// Difference / expected; none where nothing was expected.
    pub share: Option<Decimal>,
    /// The difference is larger than allowed and needs a cause.
    pub needs_cause: bool,
}

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

/// A jar on the scale: its `tare` and `gross` weight in g, and the net weight that is `expected` in it: of the last
/// weighing, or what is on hand. None expected means a jar that is weighed for the first time, where no cause is asked.
///
/// # Errors
/// [`WeighProblem`] where the weight cannot be that of this jar.
pub fn weigh(tare: Quantity, gross: Quantity, expected: Option<Quantity>) -> Result<Weighed, WeighProblem> {
    if tare < Quantity::ZERO {
        return Err(WeighProblem::TareBelowZero { tare });
    }
    if gross < tare {
        return Err(WeighProblem::BelowTare { gross, tare });
    }
    if gross.amount() > Decimal::from(HEAVIEST_GRAMS) {
        return Err(WeighProblem::TooHeavy { gross });
    }
    let net = gross.minus(tare)?;
    Ok(compare(net, expected.unwrap_or(net))?)
}

/// What was found against what was `expected`, both in g: for a jar, or for all jars of one item together.
///
/// # Errors
/// [`TooLarge`] where a number does not fit.
pub fn compare(net: Quantity, expected: Quantity) -> Result<Weighed, TooLarge> {
    let difference = net.minus(expected)?;
    let size = difference.amount().abs();
    let allowed = mul(expected.amount().abs(), allowed_share())?.max(Decimal::from(ALLOWED_GRAMS));
    let share = if expected.is_zero() { None } else { Some(div(difference.amount(), expected.amount())?) };
    Ok(Weighed { net, expected, difference, share, needs_cause: size > allowed })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grams(text: &str) -> Quantity {
        Quantity::new(text.parse().unwrap()).unwrap()
    }

    fn cause(net: &str, expected: &str) -> bool {
        let gross = grams(net).plus(grams("212.5")).unwrap();
        weigh(grams("212.5"), gross, Some(grams(expected))).unwrap().needs_cause
    }

    #[test]
    fn a_difference_above_five_grams_and_a_tenth_needs_a_cause() {
        assert!(!cause("15", "20"));
        assert!(cause("14.9", "20"));
        assert!(!cause("180", "200"));
        assert!(cause("179.9", "200"));
        assert!(cause("220.1", "200"));
        assert!(!cause("5", "0"));
        assert!(cause("5.1", "0"));
    }

    #[test]
    fn net_is_gross_less_tare() {
        let weighed = weigh(grams("212.5"), grams("300"), Some(grams("100"))).unwrap();
        assert_eq!((weighed.net, weighed.difference), (grams("87.5"), grams("-12.5")));
        assert_eq!(weighed.share, Some(Decimal::new(-125, 3)));
        assert!(weighed.needs_cause);
        let first = weigh(grams("212.5"), grams("300"), None).unwrap();
        assert!(first.difference.is_zero() && !first.needs_cause);
    }

    #[test]
    fn a_weight_that_cannot_be_is_refused() {
        let sentence = |tare, gross| weigh(grams(tare), grams(gross), None).unwrap_err().to_string();
        assert_eq!(
            sentence("212.5", "200"),
            "200 g is less than the empty jar, 212.5 g: weigh it again, or mend its tare"
        );
        assert_eq!(sentence("-1", "5"), "the tare -1 g is below zero: write what the empty jar weighs, 0 g or more");
        assert_eq!(sentence("1", "100000.1"), "100000.1 g is too heavy: write 100000 g or less");
    }
}
