//! What energy costs by time of day (kiln and batch method, section 1): priced minute by minute, parts of a minute at
//! both ends by the second, exact in decimals.

use crate::measure::exact::{div, mul, sum};
use crate::measure::{Decimal, Money, TooLarge};
use crate::studio::{StudioRates, TariffBand};
use chrono::{Datelike, NaiveDateTime, NaiveTime, Timelike};
use std::collections::BTreeMap;

/// Energy that fell in one band.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BandPart {
    /// Which band of the list, from 0; none is the usual price.
    pub band: Option<usize>,
    /// Seconds in it.
    pub seconds: i64,
    /// Its price, money per kWh.
    pub price_per_kwh: Money,
}

/// What is wrong with a band of a tariff. Bands count from 0 here, from 1 for people.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum TariffProblem {
    /// It has no name.
    #[error("band {} has no name: accepted is one such as “night”", band + 1)]
    NoName {
        /// The band.
        band: usize,
    },
    /// Two bands of one name.
    #[error("band {} is called {name}, as another is: accepted is a name of its own", band + 1)]
    SameName {
        /// The later band.
        band: usize,
        /// Its name.
        name: String,
    },
    /// It holds on no day.
    #[error("band {} holds on no day: accepted is at least one day of the week", band + 1)]
    NoDays {
        /// The band.
        band: usize,
    },
    /// A day is named twice.
    #[error("band {} names {day} twice: accepted is each day once", band + 1)]
    SameDay {
        /// The band.
        band: usize,
        /// The day.
        day: chrono::Weekday,
    },
    /// A time is not of whole minutes.
    #[error("band {} runs {end} {value}: accepted is a time in whole minutes", band + 1)]
    NotWholeMinutes {
        /// The band.
        band: usize,
        /// “from” or “to”.
        end: &'static str,
        /// What it says.
        value: NaiveTime,
    },
    /// Its price is below zero.
    #[error("band {} costs {value} per kWh: accepted is 0 or more", band + 1)]
    PriceBelowZero {
        /// The band.
        band: usize,
        /// What it says.
        value: Decimal,
    },
}

/// The band a moment falls in: the first of the list that holds then; none where the usual price holds.
pub fn band_at(bands: &[TariffBand], at: NaiveDateTime) -> Option<usize> {
    let time = at.time();
    bands.iter().position(|band| {
        let in_time = if band.from < band.to {
            (band.from..band.to).contains(&time)
        } else {
            time >= band.from || time < band.to
        };
        in_time && band.days.contains(&at.weekday())
    })
}

/// The time from one moment to another by bands, the usual price first, then in the order of the list; bands with no time in
/// them are left out. Empty where the other moment is not later. Local time: an hour that a change of clocks takes or
/// gives is not known.
pub fn parts(rates: &StudioRates, from: NaiveDateTime, to: NaiveDateTime) -> Vec<BandPart> {
    let mut seconds: BTreeMap<Option<usize>, i64> = BTreeMap::new();
    let mut at = from;
    while at < to {
        let next = next_change(&rates.tariff, at).unwrap_or(to).min(to);
        *seconds.entry(band_at(&rates.tariff, at)).or_default() += (next - at).num_seconds();
        at = next;
    }
    let part = |(band, seconds)| BandPart { band, seconds, price_per_kwh: price_of(rates, band) };
    seconds.into_iter().map(part).collect()
}

/// The price of energy used evenly from one moment to another, unrounded; at one moment, at that moment's price.
///
/// # Errors
/// [`TooLarge`] where it does not fit.
pub fn price(rates: &StudioRates, from: NaiveDateTime, to: NaiveDateTime, kwh: Decimal) -> Result<Decimal, TooLarge> {
    let parts = parts(rates, from, to);
    let whole: i64 = parts.iter().map(|part| part.seconds).sum();
    if whole == 0 {
        return mul(kwh, price_of(rates, band_at(&rates.tariff, from)).amount());
    }
    let weighted = parts
        .iter()
        .map(|part| mul(part.price_per_kwh.amount(), Decimal::from(part.seconds)))
        .collect::<Result<Vec<Decimal>, TooLarge>>()?;
    div(mul(kwh, sum(weighted)?)?, Decimal::from(whole))
}

/// Everything that is wrong with a tariff; empty where it can be used. Bands may overlap: the first of the list wins.
pub fn problems(bands: &[TariffBand]) -> Vec<TariffProblem> {
    let mut found = Vec::new();
    for (index, band) in bands.iter().enumerate() {
        let name = band.name.trim();
        if name.is_empty() {
            found.push(TariffProblem::NoName { band: index });
        } else if bands.iter().take(index).any(|other| other.name.trim() == name) {
            found.push(TariffProblem::SameName { band: index, name: name.to_owned() });
        }
        if band.days.is_empty() {
            found.push(TariffProblem::NoDays { band: index });
        }
        for (place, day) in band.days.iter().enumerate() {
            if band.days.iter().take(place).any(|earlier| earlier == day) {
                found.push(TariffProblem::SameDay { band: index, day: *day });
            }
        }
        for (end, value) in [("from", band.from), ("to", band.to)] {
            if value.second() != 0 || value.nanosecond() != 0 {
                found.push(TariffProblem::NotWholeMinutes { band: index, end, value });
            }
        }
        let value = band.price_per_kwh.amount();
        if value < Decimal::ZERO {
            found.push(TariffProblem::PriceBelowZero { band: index, value });
        }
    }
    found
}

/// The usual price or that of a band.
fn price_of(rates: &StudioRates, band: Option<usize>) -> Money {
    band.and_then(|index| rates.tariff.get(index)).map_or(rates.price_per_kwh, |band| band.price_per_kwh)
}

/// The next moment after `at` at which another band may hold: a beginning or an end of one, or midnight.
fn next_change(bands: &[TariffBand], at: NaiveDateTime) -> Option<NaiveDateTime> {
    let later = bands.iter().flat_map(|band| [band.from, band.to]).filter(|time| *time > at.time()).min();
    match later {
        Some(time) => Some(at.date().and_time(time)),
        None => Some(at.date().succ_opt()?.and_time(NaiveTime::MIN)),
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples::{at, decimal, money, rates};
    use super::*;
    use chrono::Weekday;

    const WORK: [Weekday; 5] = [Weekday::Mon, Weekday::Tue, Weekday::Wed, Weekday::Thu, Weekday::Fri];

    fn band(name: &str, days: &[Weekday], from: &str, to: &str, price: &str) -> TariffBand {
        TariffBand {
            name: name.to_owned(),
            days: days.to_vec(),
            from: from.parse().unwrap(),
            to: to.parse().unwrap(),
            price_per_kwh: money(price),
        }
    }

    fn with(tariff: Vec<TariffBand>) -> StudioRates {
        StudioRates { tariff, ..rates() }
    }

    #[test]
    fn a_band_past_midnight_goes_by_the_day_of_each_minute() {
        // Friday 6 March: cheap from 22:00, but Saturday's early hours are no working day.
        let night = with(vec![band("night", &WORK, "22:00:00", "06:00:00", "0.1")]);
        assert_eq!(band_at(&night.tariff, at(6, "23:59:59")), Some(0));
        assert_eq!(band_at(&night.tariff, at(7, "00:00:00")), None);
        assert_eq!(band_at(&night.tariff, at(2, "05:59:00")), Some(0));
        assert_eq!(band_at(&night.tariff, at(2, "06:00:00")), None);
        // Two hours cheap, one at the usual 0.20: (2 · 0.1 + 0.2) / 3 of 3 kWh.
        assert_eq!(price(&night, at(6, "22:00:00"), at(7, "01:00:00"), Decimal::from(3)), Ok(decimal("0.4")));
    }

    #[test]
    fn parts_of_a_minute_count_by_the_second() {
        let day = with(vec![band("day", &WORK, "09:00:00", "17:00:00", "0.5")]);
        let found = parts(&day, at(2, "08:59:30"), at(2, "09:00:45"));
        let usual = BandPart { band: None, seconds: 30, price_per_kwh: money("0.2") };
        assert_eq!(found, vec![usual, BandPart { band: Some(0), seconds: 45, price_per_kwh: money("0.5") }]);
        // 75 kWh, one a second: 30 · 0.2 + 45 · 0.5.
        assert_eq!(
            price(&day, at(2, "08:59:30"), at(2, "09:00:45"), Decimal::from(75)).map(|price| price.normalize()),
            Ok(decimal("28.5"))
        );
        assert_eq!(price(&day, at(2, "09:00:00"), at(2, "09:00:00"), Decimal::TWO), Ok(Decimal::ONE));
    }

    #[test]
    fn of_two_bands_the_first_wins_and_one_of_equal_ends_holds_all_day() {
        let both =
            [band("noon", &WORK, "12:00:00", "13:00:00", "0.9"), band("all", &WORK, "07:00:00", "07:00:00", "0.3")];
        assert_eq!(band_at(&both, at(3, "12:30:00")), Some(0));
        assert_eq!(band_at(&both, at(3, "13:00:00")), Some(1));
        assert_eq!(band_at(&both, at(3, "06:00:00")), Some(1));
        assert_eq!(band_at(&both, at(8, "12:30:00")), None);
        assert_eq!(problems(&both), Vec::new());
    }

    #[test]
    fn each_problem_of_a_band_is_named() {
        let bands = [
            band("day", &[Weekday::Mon, Weekday::Mon], "07:00:30", "09:00:00", "0.2"),
            band(" day", &[], "07:00:00", "09:00:00", "-0.2"),
            band(" ", &WORK, "07:00:00", "09:00:00", "0"),
        ];
        let told: Vec<String> = problems(&bands).iter().map(ToString::to_string).collect();
        let expected = [
            "band 1 names Mon twice: accepted is each day once",
            "band 1 runs from 07:00:30: accepted is a time in whole minutes",
            "band 2 is called day, as another is: accepted is a name of its own",
            "band 2 holds on no day: accepted is at least one day of the week",
            "band 2 costs -0.2 per kWh: accepted is 0 or more",
            "band 3 has no name: accepted is one such as “night”",
        ];
        assert_eq!(told, expected);
    }
}
