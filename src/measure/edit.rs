//! The text of a field that holds a value: exact, in the unit chosen in Setup, and read back by [`super::parse`] as the
//! very same value. A value that has no exact text in the chosen unit is shown in the kept unit, with its name.
//! Numbers here have no thousands spaces.

use super::display::{celsius_to_fahrenheit, difference_to_fahrenheit, display_factor};
use super::exact::{self, Decimal, TooLarge};
use super::gauge;
use super::parse::{ThicknessEntry, difference_to_celsius, fahrenheit_to_celsius};
use super::preferences::{NumberStyle, Preferences, TemperatureUnit, ThicknessUnit};
use super::quantity::{QUANTITY_PLACES, Unit};
use rust_decimal::prelude::ToPrimitive;

/// The exact decimal, in the chosen style.
pub fn edit_number(value: Decimal, preferences: &Preferences) -> String {
    plain(value, 0, preferences.numbers)
}

fn plain(value: Decimal, least: u32, numbers: NumberStyle) -> String {
    let mut value = value.normalize();
    if value.scale() < least {
        value.rescale(least);
    }
    let text = value.to_string();
    match numbers {
        NumberStyle::Point => text,
        NumberStyle::Comma => text.replace('.', ","),
    }
}

/// The shortest number of at most nine decimals near `estimate` that `back` turns into `value`.
fn shortest(
    estimate: Result<Decimal, TooLarge>,
    value: Decimal,
    back: impl Fn(Decimal) -> Result<Decimal, TooLarge>,
) -> Option<Decimal> {
    let estimate = estimate.ok()?;
    (0..=QUANTITY_PLACES).map(|places| exact::round(estimate, places)).find(|near| back(*near) == Ok(value))
}

/// A quantity: the number alone in the chosen unit, or with the kept unit where the chosen one has no exact text.
pub fn edit_quantity(value: Decimal, unit: Unit, preferences: &Preferences) -> String {
    let factor = display_factor(unit, preferences);
    if factor == Decimal::ONE {
        return edit_number(value, preferences);
    }
    let value = value.normalize();
    let back = |near| exact::mul(near, factor).map(|product| exact::round(product, QUANTITY_PLACES).normalize());
    match shortest(exact::div(value, factor), value, back) {
        Some(near) => edit_number(near, preferences),
        None => format!("{} {unit}", edit_number(value, preferences)),
    }
}

/// A length in mm, as [`edit_quantity`].
pub fn edit_length(millimetres: Decimal, preferences: &Preferences) -> String {
    edit_quantity(millimetres, Unit::Millimetre, preferences)
}

/// A temperature in °C: the number alone in the chosen unit, or `… C`.
pub fn edit_temperature(celsius: Decimal, preferences: &Preferences) -> String {
    match preferences.temperature {
        TemperatureUnit::Celsius => edit_number(celsius, preferences),
        TemperatureUnit::Fahrenheit => {
            match shortest(Ok(celsius_to_fahrenheit(celsius)), celsius.normalize(), fahrenheit_to_celsius) {
                Some(near) => edit_number(near, preferences),
                None => format!("{} C", edit_number(celsius, preferences)),
            }
        }
    }
}

/// A difference of temperature in °C: the number alone in the chosen unit, or `… C`.
pub fn edit_temperature_difference(celsius: Decimal, preferences: &Preferences) -> String {
    match preferences.temperature {
        TemperatureUnit::Celsius => edit_number(celsius, preferences),
        TemperatureUnit::Fahrenheit => {
            match shortest(Ok(difference_to_fahrenheit(celsius)), celsius.normalize(), difference_to_celsius) {
                Some(near) => edit_number(near, preferences),
                None => format!("{} C", edit_number(celsius, preferences)),
            }
        }
    }
}

/// Minutes: `5`, `2:45`, or the decimal where the time is not whole seconds.
pub fn edit_minutes(value: Decimal, preferences: &Preferences) -> String {
    let value = value.normalize();
    if value.scale() == 0 {
        return edit_number(value, preferences);
    }
    let seconds = exact::mul(value, Decimal::from(60)).ok().and_then(|seconds| exact::round(seconds, 0).to_i64());
    let back = seconds.and_then(|seconds| exact::div(Decimal::from(seconds), Decimal::from(60)).ok());
    match (seconds, back) {
        (Some(seconds), Some(back)) if exact::round(back, QUANTITY_PLACES).normalize() == value => {
            format!("{}:{:02}", seconds / 60, seconds % 60)
        }
        _ => edit_number(value, preferences),
    }
}

/// Money with all its decimals, at least those of the minor unit, without the currency's sign.
pub fn edit_money(amount: Decimal, preferences: &Preferences) -> String {
    plain(amount, preferences.currency.digits(), preferences.numbers)
}

/// A share, rate or ratio as an exact percentage: `8.25 %`.
pub fn edit_share(value: Decimal, preferences: &Preferences) -> String {
    match exact::mul(value, Decimal::ONE_HUNDRED) {
        Ok(percent) => format!("{} %", edit_number(percent, preferences)),
        Err(TooLarge) => edit_number(value, preferences),
    }
}

/// A thickness as it was stated, always with its unit: `20 ga`, `0.81 mm`.
pub fn edit_thickness(entry: ThicknessEntry, preferences: &Preferences) -> String {
    match entry {
        ThicknessEntry::Gauge(number) => format!("{} ga", gauge::number(number)),
        ThicknessEntry::Millimetres(mm) => format!("{} mm", edit_number(mm, preferences)),
    }
}

/// What a thickness field asks for, as a label: `ga` or `mm`.
pub const fn thickness_label(preferences: &Preferences) -> &'static str {
    match preferences.thickness {
        ThicknessUnit::Gauge => "ga",
        ThicknessUnit::Millimetre => "mm",
    }
}
