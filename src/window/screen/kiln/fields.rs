//! What is typed into a form of the kiln's rooms, field by field, and how a day and a time of day are read.

use crate::measure::{Decimal, Preferences, parse};
use crate::window::widget::Entry;
use chrono::{NaiveDate, NaiveTime};
use std::collections::BTreeMap;

/// What stands in a field, or what is wrong with it.
pub(in crate::window::screen) type Reading<T> = Result<T, String>;

/// The fields of a form.
#[derive(Debug, Clone)]
pub(in crate::window::screen) struct Fields<Name: Ord> {
    entries: BTreeMap<Name, Entry>,
}

impl<Name: Ord> Default for Fields<Name> {
    fn default() -> Self {
        Self { entries: BTreeMap::new() }
    }
}

impl<Name: Ord + Copy> Fields<Name> {
    /// The program fills a field in.
    pub(in crate::window::screen) fn set(&mut self, field: Name, text: impl Into<String>) {
        self.entries.entry(field).or_default().set(text);
    }

    /// A person typed.
    pub(in crate::window::screen) fn type_in(&mut self, field: Name, text: String) {
        self.entries.entry(field).or_default().type_in(text);
    }

    /// What a field holds, as typed.
    pub(in crate::window::screen) fn text(&self, field: Name) -> &str {
        self.entries.get(&field).map_or("", Entry::text)
    }

    /// The same without blanks at its ends.
    pub(in crate::window::screen) fn trimmed(&self, field: Name) -> &str {
        self.text(field).trim()
    }

    /// Gives every field its former text back; true when that changed something.
    #[allow(clippy::unnecessary_fold)] // `any` would stop at the first; every field goes back
    pub(in crate::window::screen) fn revert(&mut self) -> bool {
        self.entries.values_mut().fold(false, |reverted, entry| entry.revert() || reverted)
    }
}

/// A day as typed.
pub(in crate::window::screen) fn day(text: &str) -> Reading<NaiveDate> {
    let text = text.trim();
    text.parse().map_err(|_| format!("{text:?} cannot be read: write the day as year-month-day, e.g. 2026-03-14"))
}

/// A time of day as typed: `9:05`, `09:05`, `14:08:30`.
pub(in crate::window::screen) fn time(text: &str) -> Reading<NaiveTime> {
    let text = text.trim();
    ["%H:%M:%S", "%H:%M"]
        .into_iter()
        .find_map(|shape| NaiveTime::parse_from_str(text, shape).ok())
        .ok_or_else(|| format!("{text:?} cannot be read: write the time as hours and minutes of 24, e.g. 14:08"))
}

/// A number above 0.
pub(in crate::window::screen) fn above_zero(text: &str, preferences: &Preferences) -> Reading<Decimal> {
    let number = parse::parse_number(text, preferences).map_err(|problem| problem.to_string())?;
    if number.is_zero() { Err(format!("{:?} is nothing: write a number above 0", text.trim())) } else { Ok(number) }
}

/// Minutes above 0.
pub(in crate::window::screen) fn minutes(text: &str, preferences: &Preferences) -> Reading<Decimal> {
    let minutes = parse::parse_minutes(text, preferences).map_err(|problem| problem.to_string())?;
    if minutes.is_zero() {
        Err(format!("{:?} is no time: write minutes and seconds above 0, e.g. 2:15", text.trim()))
    } else {
        Ok(minutes)
    }
}

/// A temperature, °C.
pub(in crate::window::screen) fn temperature(text: &str, preferences: &Preferences) -> Reading<Decimal> {
    parse::parse_temperature_celsius(text, preferences).map_err(|problem| problem.to_string())
}

/// A number from 0.
pub(in crate::window::screen) fn number(text: &str, preferences: &Preferences) -> Reading<Decimal> {
    parse::parse_number(text, preferences).map_err(|problem| problem.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_read_with_and_without_seconds() {
        assert_eq!(time("9:05"), Ok(NaiveTime::from_hms_opt(9, 5, 0).unwrap()));
        assert_eq!(time(" 14:08:30 "), Ok(NaiveTime::from_hms_opt(14, 8, 30).unwrap()));
        assert!(time("25:00").is_err() && time("nine").is_err());
    }
}
