//! The parts a cost is made of.

use crate::measure::{Money, TooLarge};

/// What a batch or a piece cost, by what it was spent on. Every amount is stored money (6 places).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct CostParts {
    /// Issues at book cost less wash-backs, and materials not kept in stock at the plan's price.
    pub materials: Money,
    /// Hands-on time at the wages of its days.
    pub labour: Money,
    /// Hands-on time at the overhead of its days.
    pub overhead: Money,
    /// Its loads' energy.
    pub kiln_energy: Money,
    /// Its loads' wear of elements and thermocouple.
    pub kiln_wear: Money,
    /// What came with pieces of other batches.
    pub came: Money,
    /// What lost pieces gave back; taken off.
    pub scrap: Money,
}

impl CostParts {
    /// The sum, scrap taken off.
    ///
    /// # Errors
    /// [`TooLarge`].
    pub fn total(&self) -> Result<Money, TooLarge> {
        self.amounts().into_iter().try_fold(Money::ZERO, Money::plus)
    }

    /// The parts in order, scrap below zero.
    pub(super) fn amounts(&self) -> [Money; 7] {
        // A sign changes nothing about size, so it always fits.
        let scrap = Money::ZERO.minus(self.scrap).unwrap_or_default();
        [self.materials, self.labour, self.overhead, self.kiln_energy, self.kiln_wear, self.came, scrap]
    }

    /// Parts of those amounts, in the same order.
    pub(super) fn of(amounts: [Money; 7]) -> Self {
        let [materials, labour, overhead, kiln_energy, kiln_wear, came, scrap] = amounts;
        let scrap = Money::ZERO.minus(scrap).unwrap_or_default();
        Self { materials, labour, overhead, kiln_energy, kiln_wear, came, scrap }
    }

    /// Part by part.
    pub(super) fn plus(&self, other: &Self) -> Result<Self, TooLarge> {
        self.with(other, Money::plus)
    }

    /// Part by part.
    pub(super) fn minus(&self, other: &Self) -> Result<Self, TooLarge> {
        self.with(other, Money::minus)
    }

    fn with(&self, other: &Self, sum: impl Fn(Money, Money) -> Result<Money, TooLarge>) -> Result<Self, TooLarge> {
        Ok(Self {
            materials: sum(self.materials, other.materials)?,
            labour: sum(self.labour, other.labour)?,
            overhead: sum(self.overhead, other.overhead)?,
            kiln_energy: sum(self.kiln_energy, other.kiln_energy)?,
            kiln_wear: sum(self.kiln_wear, other.kiln_wear)?,
            came: sum(self.came, other.came)?,
            scrap: sum(self.scrap, other.scrap)?,
        })
    }
}

/// Shares parts equally over so many pieces: each part to the last millionth, and the sums of any two pieces differ by at
/// most one millionth, the larger ones first, as largest remainder with equal weights gives. None for no pieces.
pub(super) fn shared_equally(parts: &CostParts, pieces: usize) -> Result<Vec<CostParts>, TooLarge> {
    if pieces == 0 {
        return Ok(Vec::new());
    }
    let count = i128::try_from(pieces).map_err(|_| TooLarge)?;
    let mut shares = vec![[0_i128; 7]; pieces];
    let mut next = 0;
    for (part, amount) in parts.amounts().into_iter().enumerate() {
        let units = millionths(amount)?;
        let (each, rest) = (units.div_euclid(count), units.rem_euclid(count));
        for share in &mut shares {
            if let Some(slot) = share.get_mut(part) {
                *slot = each;
            }
        }
        // What is left over goes on from the piece after the last that got some.
        for _ in 0..rest {
            if let Some(slot) = shares.get_mut(next).and_then(|share| share.get_mut(part)) {
                *slot += 1;
            }
            next = (next + 1) % pieces;
        }
    }
    shares
        .into_iter()
        .map(|share| {
            let mut amounts = [Money::ZERO; 7];
            for (amount, units) in amounts.iter_mut().zip(share) {
                *amount = Money::from_millionths(i64::try_from(units).map_err(|_| TooLarge)?);
            }
            Ok(CostParts::of(amounts))
        })
        .collect()
}

fn millionths(money: Money) -> Result<i128, TooLarge> {
    let amount = money.amount().normalize();
    let shift = crate::measure::money::MONEY_PLACES.checked_sub(amount.scale()).ok_or(TooLarge)?;
    10_i128.checked_pow(shift).and_then(|power| amount.mantissa().checked_mul(power)).ok_or(TooLarge)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::costing::share::split;
    use crate::measure::Decimal;

    #[test]
    fn parts_add_up_and_pieces_differ_by_a_millionth() {
        let parts = CostParts {
            materials: Money::from_millionths(100),
            labour: Money::from_millionths(29),
            overhead: Money::from_millionths(1),
            scrap: Money::from_millionths(11),
            ..CostParts::default()
        };
        let shares = shared_equally(&parts, 7).unwrap();
        let sum = shares.iter().try_fold(CostParts::default(), |sum, share| sum.plus(share)).unwrap();
        assert_eq!(sum, parts);
        let totals: Vec<Decimal> = shares.iter().map(|share| share.total().unwrap().amount()).collect();
        let equal = split(parts.total().unwrap().amount(), &[Decimal::ONE; 7], 6).unwrap();
        assert_eq!(totals, equal);
        assert_eq!(shared_equally(&parts, 0), Ok(Vec::new()));
    }
}
