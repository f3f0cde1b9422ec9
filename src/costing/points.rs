//! Price points: raising a price to the next allowed ticket (costing method, section 7).

use crate::measure::exact::{self, add, div, mul, sub};
use crate::measure::{Decimal, TooLarge};
use crate::studio::Band;

/// The ticket for a price to be shown: the price rounded half-even to 8 places chooses its band, and the smallest
/// `i · step − less` not below it is the ticket. No bands means every multiple of the minor unit.
///
/// # Errors
/// [`TooLarge`] where the ticket does not fit in 28 digits, or the band's step is not above zero.
pub fn ticket(price: Decimal, bands: &[Band], minor_digits: u32) -> Result<Decimal, TooLarge> {
    let price = exact::round(price, 8);
    let band = bands.iter().find(|band| band.up_to.is_none_or(|up_to| up_to >= price)).or(bands.last());
    let (step, less) = match band {
        Some(band) => (band.step, band.less),
        None => (Decimal::try_new(1, minor_digits).map_err(|_| TooLarge)?, Decimal::ZERO),
    };
    if step <= Decimal::ZERO {
        return Err(TooLarge);
    }
    // By remainder: a rounded quotient could name the wrong multiple.
    let raised = add(price, less)?;
    let rest = raised.checked_rem(step).ok_or(TooLarge)?;
    let below = div(sub(raised, rest)?, step)?;
    let multiple = if rest > Decimal::ZERO { add(below, Decimal::ONE)? } else { below };
    Ok(sub(mul(multiple, step)?, less)?.normalize())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn decimal(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    fn band(up_to: &str, step: &str, less: &str) -> Band {
        let up_to = (!up_to.is_empty()).then(|| decimal(up_to));
        Band { up_to, step: decimal(step), less: decimal(less) }
    }

    fn shown(price: &str, bands: &[Band]) -> String {
        ticket(decimal(price), bands, 2).unwrap().to_string()
    }

    #[test]
    fn a_price_is_raised_to_the_next_ticket_of_its_band() {
        let bands = [band("50", "1", "0"), band("200", "5", "1"), band("", "10", "0")];
        assert_eq!(shown("45.01", &bands), "46");
        assert_eq!(shown("46", &bands), "46");
        assert_eq!(shown("50", &bands), "50");
        assert_eq!(shown("50.01", &bands), "54");
        assert_eq!(shown("54.01", &bands), "59");
        assert_eq!(shown("200.01", &bands), "210");
    }

    #[test]
    fn a_ticket_may_lie_above_its_band() {
        assert_eq!(shown("49", &[band("50", "20", "1"), band("", "1", "0")]), "59");
    }

    #[test]
    fn a_repeating_decimal_does_not_push_a_ticket_over_an_edge() {
        assert_eq!(shown("50.000000004", &[band("50", "1", "0"), band("", "100", "0")]), "50");
        assert_eq!(shown("50.000000006", &[band("50", "1", "0"), band("", "100", "0")]), "100");
    }

    #[test]
    fn half_of_the_eighth_place_goes_to_the_even_one() {
        assert_eq!(shown("0.000000005", &[band("", "0.00000001", "0")]), "0");
        assert_eq!(shown("0.000000015", &[band("", "0.00000001", "0")]), "0.00000002");
    }

    #[test]
    fn without_bands_the_minor_unit_of_the_currency_is_the_step() {
        assert_eq!(shown("36.1812", &[]), "36.19");
        assert_eq!(ticket(decimal("36.1812"), &[], 0).unwrap().to_string(), "37");
        assert_eq!(ticket(decimal("36.1812"), &[], 3).unwrap().to_string(), "36.182");
    }

    #[test]
    fn a_step_of_nothing_is_refused_not_divided_by() {
        assert_eq!(ticket(Decimal::ONE, &[band("", "0", "0")], 2), Err(TooLarge));
        assert_eq!(ticket(Decimal::MAX, &[band("", "0.01", "0")], 2), Err(TooLarge));
    }

    proptest! {
        #[test]
        fn a_ticket_is_the_smallest_allowed_price_not_below_the_rounded_one(
            price in 0_i64..100_000_000_000_i64, step in 1_i64..100_000, less in 0_i64..100_000,
        ) {
            let price = Decimal::new(price, 6);
            let step = Decimal::new(step, 2);
            let less = Decimal::new(less, 2) % step;
            let shown = ticket(price, &[Band { up_to: None, step, less }], 2).unwrap();
            prop_assert!(shown >= price);
            prop_assert!(shown - step < price);
            prop_assert!(((shown + less) % step).is_zero());
        }
    }
}
