//! Square roots and the normal distribution in exact decimals.

use crate::measure::exact::{add, div, mul, round, sub};
use crate::measure::{Decimal, TooLarge};

/// Decimals of a square root.
pub const ROOT_PLACES: u32 = 9;

/// Decimals of a quantile.
pub const QUANTILE_PLACES: u32 = 12;

/// 1 / √(2π), to 28 decimals (elementary; checked in the tests through published quantiles).
const HEIGHT: Decimal = Decimal::from_parts(2_880_526_071, 2_378_455_365, 216_267_043, false, 28);

/// Most steps of a series or an iteration; each ends well before.
const MOST_STEPS: u32 = 200;

/// The square root of a number that is 0 or more and below 10^20, rounded to 9 places; the root of a number of 18
/// places is never half-way between two of 9.
///
/// # Errors
/// [`TooLarge`] where the number is below zero or too large.
pub fn square_root(value: Decimal) -> Result<Decimal, TooLarge> {
    let value = round(value, 2 * ROOT_PLACES).normalize();
    let shift = (2 * ROOT_PLACES).checked_sub(value.scale()).ok_or(TooLarge)?;
    let power = 10_u128.checked_pow(shift).ok_or(TooLarge)?;
    let whole = u128::try_from(value.mantissa()).map_err(|_| TooLarge)?.checked_mul(power).ok_or(TooLarge)?;
    let floor = whole.isqrt();
    // (floor + 1/2)² = floor² + floor + 1/4
    let nearest = if whole - floor * floor > floor { floor + 1 } else { floor };
    let nearest = i128::try_from(nearest).map_err(|_| TooLarge)?;
    Ok(Decimal::try_from_i128_with_scale(nearest, ROOT_PLACES).map_err(|_| TooLarge)?.normalize())
}

/// The standard deviation of a sample, `√(Σ(x − mean)² / (n − 1))`, to 9 places; 0 for fewer than two values.
///
/// # Errors
/// [`TooLarge`] where a number does not fit.
pub fn sample_deviation(values: &[Decimal], mean: Decimal) -> Result<Decimal, TooLarge> {
    let Some(free) = values.len().checked_sub(1).filter(|free| *free > 0) else {
        return Ok(Decimal::ZERO);
    };
    let squares = values.iter().try_fold(Decimal::ZERO, |sum, value| {
        let off = sub(*value, mean)?;
        add(sum, mul(off, off)?)
    })?;
    square_root(div(squares, Decimal::from(free))?)
}

/// The value a standard normal variable stays below with probability `probability`, from 0.0001 to 0.9999; to within
/// 10⁻⁹, rounded half-even to 12 places. None outside of that range.
///
/// Newton's method on `Φ(z) = 1/2 + φ-series` from 0: for z above 0 the curve bends down, so that every step stays below
/// the answer and comes nearer.
///
/// # Errors
/// [`TooLarge`] where a number does not fit, which does not happen in the range.
pub fn normal_quantile(probability: Decimal) -> Result<Option<Decimal>, TooLarge> {
    let least = Decimal::new(1, 4);
    if probability < least || probability > sub(Decimal::ONE, least)? {
        return Ok(None);
    }
    let half = Decimal::new(5, 1);
    let above = sub(probability, half)?;
    let goal = above.abs();
    let enough = Decimal::new(1, QUANTILE_PLACES + 3);
    let mut at = Decimal::ZERO;
    for _ in 0..MOST_STEPS {
        let (area, height) = normal(at)?;
        let step = div(sub(goal, area)?, height)?;
        at = add(at, step)?;
        if step.abs() < enough {
            break;
        }
    }
    let at = round(at, QUANTILE_PLACES).normalize();
    Ok(Some(if above < Decimal::ZERO { -at } else { at }))
}

/// The area under the standard normal curve from 0 to `z`, and its height there, by Taylor's series; for z to 4.
fn normal(z: Decimal) -> Result<(Decimal, Decimal), TooLarge> {
    let half_square = div(mul(z, z)?, Decimal::TWO)?;
    let (mut term, mut height, mut area) = (Decimal::ONE, Decimal::ONE, z);
    let nothing = Decimal::new(1, 26);
    for n in 1..MOST_STEPS {
        term = -div(mul(term, half_square)?, Decimal::from(n))?;
        height = add(height, term)?;
        area = add(area, div(mul(term, z)?, Decimal::from(2 * n + 1))?)?;
        if term.abs() < nothing {
            break;
        }
    }
    Ok((mul(area, HEIGHT)?, mul(height, HEIGHT)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_height_is_that_of_the_curve() {
        assert_eq!(HEIGHT.to_string(), "0.3989422804014326779399460599");
    }

    #[test]
    fn roots_are_rounded_to_nine_places() {
        for (value, root) in [
            ("0", "0"),
            ("2", "1.414213562"),
            ("3", "1.732050808"),
            ("0.000000000000000001", "0.000000001"),
            ("90000", "300"),
            ("100000000000000000000", "10000000000"),
        ] {
            assert_eq!(square_root(value.parse().unwrap()).unwrap().to_string(), root, "{value}");
        }
        assert_eq!(square_root(Decimal::NEGATIVE_ONE), Err(TooLarge));
        assert_eq!(square_root(Decimal::MAX), Err(TooLarge));
    }

    #[test]
    fn quantiles_mirror_and_end_where_the_series_does() {
        let quantile = |text: &str| normal_quantile(text.parse().unwrap()).unwrap();
        assert_eq!(quantile("0.5"), Some(Decimal::ZERO));
        assert_eq!(quantile("0.025").map(|z| -z), quantile("0.975"));
        // From memory: Φ⁻¹(0.95) = 1.6448536269514722…, Φ⁻¹(0.9999) = 3.719016485455709…
        assert_eq!(quantile("0.95").unwrap().to_string(), "1.644853626951");
        assert_eq!(quantile("0.9999").unwrap().to_string(), "3.719016485456");
        assert_eq!((quantile("0.99995"), quantile("0"), quantile("1.5")), (None, None, None));
    }

    // NIST/SEMATECH e-Handbook of Statistical Methods, from memory: the sample deviation divides by n − 1.
    #[test]
    fn a_sample_deviates_from_its_mean() {
        let values = [2, 4, 4, 4, 5, 5, 7, 9].map(Decimal::from);
        assert_eq!(sample_deviation(&values, Decimal::from(5)).unwrap().to_string(), "2.138089935");
        assert_eq!(sample_deviation(&[Decimal::TEN], Decimal::TEN), Ok(Decimal::ZERO));
    }
}
