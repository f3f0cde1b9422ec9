//! The rates designs use, from what the studio knows (costing method, section 4).

use crate::measure::exact::{add, div, round};
use crate::measure::money::MONEY_PLACES;
use crate::measure::{Decimal, TooLarge};
use crate::studio::StudioRates;

/// The year's overhead: the sum of its lines.
///
/// # Errors
/// [`TooLarge`] where the sum does not fit.
pub fn overhead_per_year(rates: &StudioRates) -> Result<Decimal, TooLarge> {
    crate::measure::exact::sum(rates.overhead.iter().map(|item| item.per_year.amount()))
}

/// Overhead per hour: a year's overhead / normal bench hours, 6 places half-even (IAS 2, paragraph 13).
///
/// # Errors
/// [`TooLarge`] where the hours are zero or the rate does not fit.
pub fn overhead_per_hour(rates: &StudioRates) -> Result<Decimal, TooLarge> {
    let per_hour = div(overhead_per_year(rates)?, rates.normal_hours_per_year)?;
    Ok(round(per_hour, MONEY_PLACES).normalize())
}

/// Wear per hot hour: elements / their hours + thermocouple / its hours, 6 places half-even.
///
/// # Errors
/// [`TooLarge`] where the hours are zero or the rate does not fit.
pub fn wear_per_hour(rates: &StudioRates) -> Result<Decimal, TooLarge> {
    let elements = div(rates.elements_cost.amount(), rates.elements_hours)?;
    let thermocouple = div(rates.thermocouple_cost.amount(), rates.thermocouple_hours)?;
    Ok(round(add(elements, thermocouple)?, MONEY_PLACES).normalize())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Money;
    use crate::studio::OverheadItem;

    fn money(text: &str) -> Money {
        Money::new(text.parse().unwrap()).unwrap()
    }

    fn studio() -> StudioRates {
        let line = |name: &str, per_year: &str| OverheadItem { name: name.to_owned(), per_year: money(per_year) };
        StudioRates {
            overhead: vec![line("Rent", "3600"), line("Insurance", "420.50")],
            normal_hours_per_year: Decimal::from(700),
            labour_per_hour: money("26"),
            elements_cost: money("210"),
            elements_hours: Decimal::from(450),
            thermocouple_cost: money("38"),
            thermocouple_hours: Decimal::from(900),
            price_per_kwh: money("0.22"),
            kwh_per_load: Decimal::new(31, 2),
            recovery_minutes: Decimal::from(5),
            solder_margin_c: Decimal::from(38),
            channels: Vec::new(),
        }
    }

    #[test]
    fn overhead_is_a_year_over_the_normal_hours() {
        // 4,020.50 / 700 = 5.743571428…
        assert_eq!(overhead_per_year(&studio()).unwrap().to_string(), "4020.50");
        assert_eq!(overhead_per_hour(&studio()).unwrap().to_string(), "5.743571");
    }

    #[test]
    fn wear_is_rounded_once() {
        // 210/450 + 38/900 = 0.466666… + 0.042222… = 0.508888…
        assert_eq!(wear_per_hour(&studio()).unwrap().to_string(), "0.508889");
    }

    #[test]
    fn no_hours_are_an_error_not_a_panic() {
        let idle = StudioRates { normal_hours_per_year: Decimal::ZERO, ..studio() };
        assert_eq!(overhead_per_hour(&idle), Err(TooLarge));
    }
}
