//! What the fields of kilns, loads and test tiles may hold.

use super::Refusal;
use super::limits::refuse;
use crate::measure::Decimal;
use crate::measure::quantity::QUANTITY_PLACES;
use chrono::{NaiveDate, NaiveDateTime};

/// Hottest temperature anything here can have, °C: above what steel is enamelled at, and below its solidus.
const HOTTEST: i64 = 1_400;

/// Coolest temperature of a firing, °C: below it no enamel moves.
const COOLEST_FIRING: i64 = 100;

/// Longest a load may be in the heat, minutes: a day.
const MOST_MINUTES: i64 = 1_440;

/// An end of a range.
#[derive(Debug, Clone, Copy)]
pub(super) enum End {
    /// The number itself is accepted.
    With(Decimal),
    /// Only what is inside of it.
    Without(Decimal),
}

/// A number between two ends, at most nine decimals.
pub(super) fn between(field: &str, value: Decimal, unit: &str, low: End, high: End) -> Result<(), Refusal> {
    let above = match low {
        End::With(low) => value >= low,
        End::Without(low) => value > low,
    };
    let below = match high {
        End::With(high) => value <= high,
        End::Without(high) => value < high,
    };
    if above && below && value.normalize().scale() <= QUANTITY_PLACES {
        return Ok(());
    }
    let space = if unit.is_empty() { "" } else { " " };
    let low = match low {
        End::With(low) => format!("{}", low.normalize()),
        End::Without(low) => format!("above {}", low.normalize()),
    };
    let high = match high {
        End::With(high) => format!("to {}", high.normalize()),
        End::Without(high) => format!("and below {}", high.normalize()),
    };
    let accepted = format!("a number {low} {high}{space}{unit} is accepted, with at most nine decimals");
    Err(refuse(field, format!("{}{space}{unit}", value.normalize()), accepted))
}

/// A whole number as an end.
pub(super) fn whole(value: i64) -> Decimal {
    Decimal::from(value)
}

/// The temperature of a firing, °C: 100 to 1,400.
pub(super) fn firing_celsius(field: &str, celsius: Decimal) -> Result<(), Refusal> {
    between(field, celsius, "°C", End::With(whole(COOLEST_FIRING)), End::With(whole(HOTTEST)))
}

/// Any other temperature of a kiln, °C: 0 to 1,400.
pub(super) fn celsius(field: &str, celsius: Decimal) -> Result<(), Refusal> {
    between(field, celsius, "°C", End::With(Decimal::ZERO), End::With(whole(HOTTEST)))
}

/// Minutes in the heat: above 0, up to a day.
pub(super) fn minutes(field: &str, minutes: Decimal) -> Result<(), Refusal> {
    between(field, minutes, "min", End::Without(Decimal::ZERO), End::With(whole(MOST_MINUTES)))
}

/// Hands-on minutes: 0 up to a day, at most six decimals.
pub(super) fn attended(field: &str, minutes: Decimal) -> Result<(), Refusal> {
    between(field, minutes, "min", End::With(Decimal::ZERO), End::With(whole(MOST_MINUTES)))?;
    if minutes.normalize().scale() > 6 {
        return Err(refuse(field, format!("{minutes} min"), "minutes with at most six decimals are accepted"));
    }
    Ok(())
}

/// A time that does not come before another.
pub(super) fn not_before(field: &str, time: NaiveDateTime, than: NaiveDateTime, what: &str) -> Result<(), Refusal> {
    if time >= than {
        return Ok(());
    }
    Err(refuse(field, clock(time), format!("{} or later is accepted: {what}", clock(than))))
}

/// A local date and time as a refusal shows it.
pub(super) fn clock(time: NaiveDateTime) -> String {
    time.format("%Y-%m-%d %H:%M:%S").to_string()
}

/// A day in words, as in “14 October”.
pub(super) fn day_words(date: NaiveDate) -> String {
    date.format("%-d %B").to_string()
}
