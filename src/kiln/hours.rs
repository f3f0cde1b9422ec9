//! Hot hours of elements and thermocouple since they were renewed, and a reminder before they are due.

use super::day::rated_seconds;
use super::heat::HEAT_PLACES;
use super::span::{DayLoads, InHeat, days_of, end_of, finished, seconds};
use crate::measure::exact::{div, mul, round, sub, sum};
use crate::measure::{Decimal, TooLarge};
use crate::studio::{BookKilnDay, BookLoad, ElectricKiln, StudioRates};
use chrono::NaiveDate;

/// How near renewal a part is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wearing {
    /// Below nine tenths of its hours.
    Fine,
    /// From nine tenths: have the next one ready.
    Soon,
    /// Its hours are used up.
    Due,
}

/// The hours of one part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PartHours {
    /// Renewed on; hours count from that day.
    pub since: NaiveDate,
    /// Hot hours since, 6 places.
    pub used: Decimal,
    /// Hours one lasts.
    pub lasts: Decimal,
    /// Hours left; below 0 where it is overdue.
    pub left: Decimal,
    /// How near renewal it is.
    pub wearing: Wearing,
}

/// The hours of a kiln's parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HotHours {
    /// Elements.
    pub elements: PartHours,
    /// Thermocouple.
    pub thermocouple: PartHours,
}

/// Hot hours of a kiln's parts since each was renewed: of its days, switched on to switched off (to the last load's end
/// where that is not noted); of loads outside every day, their minutes in the heat and the studio's recovery minutes.
/// `days` and `loads` are this kiln's.
///
/// # Errors
/// [`TooLarge`] where a figure does not fit.
pub fn hot_hours(
    kiln: &ElectricKiln,
    days: &[BookKilnDay],
    loads: &[BookLoad],
    rates: &StudioRates,
) -> Result<HotHours, TooLarge> {
    let mut hours = Vec::new();
    for day in days_of(days, loads) {
        hours.push((day.date, hot_seconds(&day, rates)?));
    }
    let part = |since: NaiveDate, lasts: Decimal| {
        let counted = hours.iter().filter(|(date, _)| *date >= since).map(|(_, seconds)| *seconds);
        let used = round(div(sum(counted)?, Decimal::from(3600))?, HEAT_PLACES).normalize();
        let wearing = if used >= lasts {
            Wearing::Due
        } else if used >= mul(lasts, remind_from())? {
            Wearing::Soon
        } else {
            Wearing::Fine
        };
        Ok::<_, TooLarge>(PartHours { since, used, lasts, left: sub(lasts, used)?.normalize(), wearing })
    };
    Ok(HotHours {
        elements: part(kiln.elements_since, rates.elements_hours)?,
        thermocouple: part(kiln.thermocouple_since, rates.thermocouple_hours)?,
    })
}

/// The share of its hours from which a part is brought to mind (common practice, no source).
fn remind_from() -> Decimal {
    Decimal::new(9, 1)
}

/// Seconds a day wears the elements.
fn hot_seconds(day: &DayLoads<'_>, rates: &StudioRates) -> Result<Decimal, TooLarge> {
    // A load that ends before it begins adds nothing here; the day's account names it.
    let loads: Vec<InHeat<'_>> = day.loads.iter().filter_map(|load| finished([*load]).ok()).flatten().collect();
    match day.day {
        Some(written) => Ok(Decimal::from(seconds(written.day.on_at, end_of(&written.day, &loads)))),
        None => sum(loads.iter().map(|load| rated_seconds(load, rates)).collect::<Result<Vec<Decimal>, TooLarge>>()?),
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples::{at, day, decimal, electric, load, rates};
    use super::*;

    #[test]
    fn hours_count_from_the_renewal_by_days_and_by_loads_outside_them() {
        // 2 March: 4 h noted. 5 March: on at 09:00, no end noted, last load out at 10:30. 7 March: no day, 10 + 5 min.
        let days = [day(2, "08:00:00", Some("12:00:00")), day(5, "09:00:00", None)];
        let loads = [
            load(1, at(5, "10:00:00"), Some(at(5, "10:30:00")), 790, &["1"]),
            load(2, at(7, "14:00:00"), Some(at(7, "14:10:00")), 790, &["1"]),
            load(3, at(7, "15:00:00"), None, 790, &["1"]),
        ];
        let found = hot_hours(&electric(), &days, &loads, &rates()).unwrap();
        assert_eq!((found.elements.used, found.elements.left), (decimal("5.75"), decimal("444.25")));
        assert_eq!((found.thermocouple.used, found.thermocouple.lasts), (decimal("1.75"), Decimal::from(900)));
    }

    #[test]
    fn the_reminder_comes_at_nine_tenths() {
        let days = [day(2, "08:00:00", Some("17:00:00"))];
        let wearing = |hours: i64| {
            let rates = StudioRates { elements_hours: Decimal::from(hours), ..rates() };
            hot_hours(&electric(), &days, &[], &rates).unwrap().elements.wearing
        };
        assert_eq!([11, 10, 9, 8].map(wearing), [Wearing::Fine, Wearing::Soon, Wearing::Due, Wearing::Due]);
    }
}
