//! Splitting an amount by largest remainder (costing method, section 1).

use crate::measure::{Decimal, TooLarge};

/// Splits `amount` in proportion to `weights` into parts of at most `places` decimals that add up to it; ties go to
/// the earlier line. `amount` itself has at most `places` decimals (a finer one is [`TooLarge`]) and may be negative, a
/// discount. All weights zero means equal parts; a weight below zero counts as zero. Nothing but an amount of zero can
/// be split over no lines.
pub fn split(amount: Decimal, weights: &[Decimal], places: u32) -> Result<Vec<Decimal>, TooLarge> {
    let units = scaled(amount.normalize(), places)?;
    let scale = weights.iter().map(|weight| weight.normalize().scale()).max().unwrap_or(0);
    let mut shares = weights
        .iter()
        .map(|weight| scaled(weight.normalize(), scale).map(|weight| weight.max(0)))
        .collect::<Result<Vec<i128>, TooLarge>>()?;
    let mut total = shares.iter().try_fold(0_i128, |sum, share| sum.checked_add(*share)).ok_or(TooLarge)?;
    if total == 0 {
        shares.fill(1);
        total = i128::try_from(shares.len()).map_err(|_| TooLarge)?;
    }
    if total == 0 {
        return if units == 0 { Ok(Vec::new()) } else { Err(TooLarge) };
    }
    let (sign, size) = (units.signum(), units.abs());
    let mut parts = Vec::with_capacity(shares.len());
    let mut remainders = Vec::with_capacity(shares.len());
    let mut left = size;
    for (line, share) in shares.iter().enumerate() {
        let quota = size.checked_mul(*share).ok_or(TooLarge)?;
        parts.push(quota / total);
        remainders.push((quota % total, line));
        left -= quota / total;
    }
    // Largest remainder first; of equal ones the earlier line. Fewer units are left than there are remainders above 0.
    remainders.sort_by(|one, other| other.0.cmp(&one.0).then(one.1.cmp(&other.1)));
    for (_, line) in remainders {
        if left == 0 {
            break;
        }
        if let Some(part) = parts.get_mut(line) {
            *part += 1;
            left -= 1;
        }
    }
    parts.into_iter().map(|part| Decimal::try_from_i128_with_scale(sign * part, places).map_err(|_| TooLarge)).collect()
}

/// The number of 10^-places in a normalised decimal.
fn scaled(value: Decimal, places: u32) -> Result<i128, TooLarge> {
    let shift = places.checked_sub(value.scale()).ok_or(TooLarge)?;
    10_i128.checked_pow(shift).and_then(|power| value.mantissa().checked_mul(power)).ok_or(TooLarge)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_discount_splits_like_an_amount() {
        let parts = split(Decimal::new(-100, 2), &[Decimal::ONE; 3], 2);
        assert_eq!(parts, Ok(vec![Decimal::new(-34, 2), Decimal::new(-33, 2), Decimal::new(-33, 2)]));
    }

    #[test]
    fn lines_without_weight_share_equally_and_no_lines_take_nothing() {
        assert_eq!(split(Decimal::TWO, &[Decimal::ZERO; 2], 0), Ok(vec![Decimal::ONE; 2]));
        assert_eq!(split(Decimal::ZERO, &[], 2), Ok(Vec::new()));
        assert_eq!(split(Decimal::ONE, &[], 2), Err(TooLarge));
        assert_eq!(split(Decimal::new(1, 3), &[Decimal::ONE], 2), Err(TooLarge));
    }
}
