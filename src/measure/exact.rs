//! Checked exact arithmetic. The operators of [`Decimal`] panic when a result does not fit; these do not.

pub use rust_decimal::Decimal;
use rust_decimal::RoundingStrategy;

/// A result does not fit in 28 digits: the amounts typed are absurd, and are refused rather than cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("a number grows too large to compute exactly")]
pub struct TooLarge;

/// `a + b`.
pub fn add(a: Decimal, b: Decimal) -> Result<Decimal, TooLarge> {
    a.checked_add(b).ok_or(TooLarge)
}

/// `a - b`.
pub fn sub(a: Decimal, b: Decimal) -> Result<Decimal, TooLarge> {
    a.checked_sub(b).ok_or(TooLarge)
}

/// `a · b`, to 28 digits.
pub fn mul(a: Decimal, b: Decimal) -> Result<Decimal, TooLarge> {
    a.checked_mul(b).ok_or(TooLarge)
}

/// `a / b`, to 28 digits. A zero divisor is [`TooLarge`] too: callers rule it out first where it has a meaning.
pub fn div(a: Decimal, b: Decimal) -> Result<Decimal, TooLarge> {
    a.checked_div(b).ok_or(TooLarge)
}

/// The sum of many amounts.
pub fn sum(amounts: impl IntoIterator<Item = Decimal>) -> Result<Decimal, TooLarge> {
    amounts.into_iter().try_fold(Decimal::ZERO, add)
}

/// Rounds half-even to `places` decimals: the rounding of geometry, of the cost of an issue and of a computed answer.
pub fn round(value: Decimal, places: u32) -> Decimal {
    value.round_dp_with_strategy(places, RoundingStrategy::MidpointNearestEven)
}

/// Rounds half away from zero to `places` decimals: the rounding of money that changes hands.
pub fn round_away(value: Decimal, places: u32) -> Decimal {
    value.round_dp_with_strategy(places, RoundingStrategy::MidpointAwayFromZero)
}

/// Rounds half away from zero to a multiple of `step`, above 0: the rounding of a total paid in cash.
pub fn round_to_step(value: Decimal, step: Decimal) -> Result<Decimal, TooLarge> {
    mul(round_away(div(value, step)?, 0), step)
}

/// An answer as text: rounded half-even to 8 places, no trailing zeros, never `-0`.
pub fn answer(value: Decimal) -> String {
    let rounded = round(value, 8).normalize();
    if rounded.is_zero() { "0".to_owned() } else { rounded.to_string() }
}

/// A finite `f64` of geometry or heat as a decimal, rounded half-even to 6 places. `None` when it is not finite or
/// does not fit.
pub fn from_geometry(value: f64) -> Option<Decimal> {
    Decimal::from_f64_retain(value).map(|exact| round(exact, 6).normalize())
}

/// A number of `places` decimals, given without its point, less the zeros at its end: `(1200, 3)` is `(12, 1)`. The same
/// as normalising the decimal, in the processor's own integers: a whole book reads hundreds of thousands.
pub(super) const fn without_zeros(mut whole: i64, mut places: u32) -> (i64, u32) {
    while places >= 3 && whole % 1000 == 0 {
        whole /= 1000;
        places -= 3;
    }
    while places > 0 && whole % 10 == 0 {
        whole /= 10;
        places -= 1;
    }
    (whole, places)
}
