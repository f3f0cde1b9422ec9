//! The share of pieces that leave a step good, from counts.

use super::beta;
use crate::measure::exact::{add, div};
use crate::measure::{Decimal, TooLarge, exact};
use rust_decimal::prelude::ToPrimitive;

/// Places of an interval's ends.
const END_PLACES: u32 = 9;

/// A share good learnt from `good` of `of`: posterior Beta(x + ½, n − x + ½) of Jeffreys' prior (Brown, Cai and `DasGupta`,
/// Interval Estimation for a Binomial Proportion, Statistical Science 16, 2001).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ShareGood {
    /// Pieces that left it good, x.
    pub good: u32,
    /// Pieces that were worked on, n.
    pub of: u32,
    /// The posterior's mean, (x + ½) / (n + 1).
    pub mean: Decimal,
    /// Lower end of the central interval, 9 places; 0 where none was good, as they advise.
    pub low: Decimal,
    /// Upper end; 1 where all were good.
    pub high: Decimal,
}

/// The share good from counts, with a central interval of that probability, such as 0.9; the tails are equal.
///
/// # Errors
/// [`TooLarge`] where more are good than there were, or the probability is not between 0 and 1.
pub fn share_good(good: u32, of: u32, probability: Decimal) -> Result<ShareGood, TooLarge> {
    let lost = of.checked_sub(good).ok_or(TooLarge)?;
    if probability <= Decimal::ZERO || probability >= Decimal::ONE {
        return Err(TooLarge);
    }
    let half = Decimal::new(5, 1);
    let tail = div(exact::sub(Decimal::ONE, probability)?, Decimal::TWO)?;
    let end = |probability: Decimal| -> Result<Decimal, TooLarge> {
        let [a, b, p] = [add(Decimal::from(good), half)?, add(Decimal::from(lost), half)?, probability]
            .map(|value| value.to_f64().ok_or(TooLarge));
        let exact = Decimal::from_f64_retain(beta::quantile(a?, b?, p?)).ok_or(TooLarge)?;
        Ok(exact::round(exact, END_PLACES).normalize())
    };
    Ok(ShareGood {
        good,
        of,
        mean: div(add(Decimal::from(good), half)?, add(Decimal::from(of), Decimal::ONE)?)?,
        low: if good == 0 { Decimal::ZERO } else { end(tail)? },
        high: if lost == 0 { Decimal::ONE } else { end(exact::sub(Decimal::ONE, tail)?)? },
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn open_ends_and_refusals() {
        let ninety = Decimal::new(9, 1);
        assert_eq!(share_good(0, 12, ninety).unwrap().low, Decimal::ZERO);
        assert_eq!(share_good(12, 12, ninety).unwrap().high, Decimal::ONE);
        let nothing = share_good(0, 0, ninety).unwrap();
        assert_eq!((nothing.low, nothing.high, nothing.mean), (Decimal::ZERO, Decimal::ONE, Decimal::new(5, 1)));
        assert_eq!(share_good(2, 1, ninety), Err(TooLarge));
        assert_eq!(share_good(1, 1, Decimal::ONE), Err(TooLarge));
    }
}
