//! Hot hours of elements and thermocouple since they were renewed, and a reminder before they are due.

use crate::measure::Decimal;
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
