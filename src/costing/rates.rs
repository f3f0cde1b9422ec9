//! The rates designs use, from what the studio knows (costing method, section 4).

use crate::measure::{Decimal, TooLarge};
use crate::studio::StudioRates;

/// The year's overhead: the sum of its lines.
pub fn overhead_per_year(rates: &StudioRates) -> Result<Decimal, TooLarge> {
    crate::measure::exact::sum(rates.overhead.iter().map(|item| item.per_year.amount()))
}

/// Overhead per hour: a year's overhead / normal bench hours, 6 places half-even (IAS 2, paragraph 13).
pub fn overhead_per_hour(rates: &StudioRates) -> Result<Decimal, TooLarge> {
    let _ = rates;
    Err(TooLarge)
}

/// Wear per hot hour: elements / their hours + thermocouple / its hours, 6 places half-even.
pub fn wear_per_hour(rates: &StudioRates) -> Result<Decimal, TooLarge> {
    let _ = rates;
    Err(TooLarge)
}
