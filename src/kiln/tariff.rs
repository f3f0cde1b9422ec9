//! What energy costs by time of day (kiln and batch method, section 1): priced minute by minute, parts of a minute at
//! both ends by the second, exact in decimals.

use crate::measure::{Decimal, Money};
use chrono::NaiveTime;

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
