//! Exact numbers in and out of the book: money as whole millionths, quantities as whole billionths. The one place
//! where a [`Decimal`] becomes an integer; what does not fit is refused, never cut.

use super::BookError;
use crate::measure::money::MONEY_PLACES;
use crate::measure::quantity::QUANTITY_PLACES;
use crate::measure::{Decimal, Money, Quantity};
use chrono::NaiveDate;

/// An amount of money as whole millionths.
pub(in crate::book) fn money_to_row(money: Money) -> Result<i64, BookError> {
    to_row(money.amount(), MONEY_PLACES)
}

/// Whole millionths as money.
pub(in crate::book) fn money_from_row(millionths: i64) -> Money {
    Money::from_millionths(millionths)
}

/// A price or ticket as whole millionths; refused when it has more than six decimals.
pub(in crate::book) fn price_to_row(price: Decimal) -> Result<i64, BookError> {
    to_row(price, MONEY_PLACES)
}

/// Whole millionths as a price or ticket.
pub(in crate::book) fn price_from_row(millionths: i64) -> Decimal {
    Decimal::from_i128_with_scale(i128::from(millionths), MONEY_PLACES).normalize()
}

/// A quantity as whole billionths.
pub(in crate::book) fn quantity_to_row(quantity: Quantity) -> Result<i64, BookError> {
    to_row(quantity.amount(), QUANTITY_PLACES)
}

/// Whole billionths as a quantity.
pub(in crate::book) fn quantity_from_row(billionths: i64) -> Quantity {
    Quantity::from_billionths(billionths)
}

/// A day as it is kept: `2026-03-14`.
pub(in crate::book) fn date_to_row(date: NaiveDate) -> String {
    date.format("%Y-%m-%d").to_string()
}

/// A day from its row.
pub(in crate::book) fn date_from_row(text: &str) -> Result<NaiveDate, BookError> {
    let odd = || BookError::Odd(format!("{text:?} is not a day"));
    // Read by hand: a whole book's valuation reads hundreds of thousands.
    let [y1, y2, y3, y4, b'-', m1, m2, b'-', d1, d2] = text.as_bytes() else { return Err(odd()) };
    let mut parts = [0_u32; 3];
    for (part, digits) in parts.iter_mut().zip([&[*y1, *y2, *y3, *y4][..], &[*m1, *m2][..], &[*d1, *d2][..]]) {
        for digit in digits {
            if !digit.is_ascii_digit() {
                return Err(odd());
            }
            *part = *part * 10 + u32::from(*digit - b'0');
        }
    }
    let [year, month, day] = parts;
    i32::try_from(year).ok().and_then(|year| NaiveDate::from_ymd_opt(year, month, day)).ok_or_else(odd)
}

fn to_row(amount: Decimal, places: u32) -> Result<i64, BookError> {
    let amount = amount.normalize();
    let finer = amount.scale() > places;
    let shift = 10_i128.pow(places.saturating_sub(amount.scale()));
    let whole = amount.mantissa().checked_mul(shift).and_then(|whole| i64::try_from(whole).ok());
    match whole {
        Some(whole) if !finer => Ok(whole),
        _ => Err(BookError::TooLarge(amount.to_string())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::str::FromStr;

    #[test]
    fn an_avoirdupois_ounce_keeps_all_its_digits() {
        // 28.349523125 g exactly: the international pound of 1959 (0.45359237 kg) / 16.
        let ounce = Quantity::new(Decimal::from_str("28.349523125").unwrap()).unwrap();
        assert_eq!(quantity_to_row(ounce).unwrap(), 28_349_523_125);
        assert_eq!(quantity_from_row(28_349_523_125), ounce);
    }

    #[test]
    fn what_does_not_fit_is_refused() {
        assert!(price_to_row(Decimal::from_str("0.0000001").unwrap()).is_err());
        assert!(price_to_row(Decimal::from_str("9223372036855").unwrap()).is_err());
        assert!(price_to_row(Decimal::MAX).is_err());
        assert_eq!(price_to_row(Decimal::from_str("-9223372036854.775808").unwrap()).unwrap(), i64::MIN);
        assert_eq!(price_from_row(i64::MIN).to_string(), "-9223372036854.775808");
    }

    #[test]
    fn a_day_is_read_strictly() {
        assert_eq!(date_from_row("2026-03-14").unwrap(), NaiveDate::from_ymd_opt(2026, 3, 14).unwrap());
        for odd in ["2026-3-14", "2026-02-30", "2026-13-01", "x026-03-14", "", "2026-03-14 "] {
            assert!(date_from_row(odd).is_err(), "{odd}");
        }
    }
}
