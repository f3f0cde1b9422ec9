//! The rates designs use, from what the studio knows (costing method, section 4).

use crate::measure::exact::{add, div, mul, round};
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
    let parts = wear_parts(rates)?;
    Ok(round(add(parts.elements, parts.thermocouple)?, MONEY_PLACES).normalize())
}

/// The two parts of wear per hot hour, unrounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WearParts {
    /// Elements / their hours.
    pub elements: Decimal,
    /// Thermocouple / its hours.
    pub thermocouple: Decimal,
}

/// What wear per hot hour is made of.
///
/// # Errors
/// [`TooLarge`] where the hours are zero or a part does not fit.
pub fn wear_parts(rates: &StudioRates) -> Result<WearParts, TooLarge> {
    Ok(WearParts {
        elements: div(rates.elements_cost.amount(), rates.elements_hours)?,
        thermocouple: div(rates.thermocouple_cost.amount(), rates.thermocouple_hours)?,
    })
}

/// What one load of the kiln costs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LoadCost {
    /// kWh per load × price per kWh.
    pub energy: Decimal,
    /// Minutes in the heat + recovery minutes.
    pub kiln_minutes: Decimal,
    /// Kiln minutes / 60 × wear per hour.
    pub wear: Decimal,
    /// The two together.
    pub total: Decimal,
}

/// What one load costs that is `minutes` in the heat (costing method, section 4, with one load).
///
/// # Errors
/// [`TooLarge`] where the rates cannot be computed or the cost does not fit.
pub fn load_cost(rates: &StudioRates, minutes: Decimal) -> Result<LoadCost, TooLarge> {
    let energy = mul(rates.kwh_per_load, rates.price_per_kwh.amount())?;
    let kiln_minutes = add(minutes, rates.recovery_minutes)?;
    let wear = div(mul(kiln_minutes, wear_per_hour(rates)?)?, Decimal::from(60))?;
    Ok(LoadCost { energy, kiln_minutes, wear, total: add(energy, wear)? })
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
            tariff: Vec::new(),
            heat_tolerance_c: Decimal::TEN,
            minutes_tolerance: Decimal::new(5, 1),
        }
    }

    #[test]
    fn overhead_is_a_year_over_the_normal_hours() {
        // 4,020.50 / 700 = 5.743571428…
        assert_eq!(overhead_per_year(&studio()).unwrap().to_string(), "4020.5");
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

    #[test]
    fn a_load_pays_for_its_energy_and_its_hot_minutes() {
        let load = load_cost(&studio(), Decimal::from(3)).unwrap();
        let wear = wear_parts(&studio()).unwrap();
        assert_eq!(load.energy, studio().kwh_per_load * studio().price_per_kwh.amount());
        assert_eq!(load.kiln_minutes, Decimal::from(8));
        // 8 / 60 × 0.508889 = 0.0678518666…
        assert_eq!(round(load.wear, 7).to_string(), "0.0678519");
        assert_eq!(load.total, load.energy + load.wear);
        assert_eq!(round(wear.elements + wear.thermocouple, 6).to_string(), "0.508889");
    }
}
