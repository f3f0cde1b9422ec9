//! Showing values to people, in the units chosen in Setup. What is shown is rounded (half away from zero) and never
//! stored back; [`super::edit`] gives the exact text for a field.
//!
//! Numbers of 10 000 and more have a thin space that does not break between thousands; a value below zero has a minus
//! sign (U+2212); a number and its unit are parted by a space that does not break.

use super::exact::{self, Decimal};
use super::gauge;
use super::parse::ThicknessEntry;
use super::preferences::{LengthUnit, MassUnit, NumberStyle, Preferences, TemperatureUnit, ThicknessUnit};
use super::quantity::Unit;
use super::units;
use rust_decimal::prelude::ToPrimitive;

/// Parts thousands: the narrow space that does not break.
pub const THIN_SPACE: char = '\u{202f}';

/// Parts a number from its unit.
pub const FIXED_SPACE: char = '\u{a0}';

/// The minus sign.
pub const MINUS: char = '\u{2212}';

/// A number with at least `least` and at most `most` decimals.
pub fn number(value: Decimal, least: u32, most: u32, numbers: NumberStyle) -> String {
    let mut text = String::with_capacity(24);
    push_number(&mut text, value, least, most, numbers);
    text
}

pub(super) fn push_number(text: &mut String, value: Decimal, least: u32, most: u32, numbers: NumberStyle) {
    let rounded = exact::round_away(value, most).normalize();
    if rounded.is_sign_negative() && !rounded.is_zero() {
        text.push(MINUS);
    }
    let plain = rounded.abs().to_string();
    let (whole, decimals) = plain.split_once('.').unwrap_or((&plain, ""));
    let many = whole.len();
    for (place, digit) in whole.chars().enumerate() {
        if many > 4 && place > 0 && (many - place).is_multiple_of(3) {
            text.push(THIN_SPACE);
        }
        text.push(digit);
    }
    if !decimals.is_empty() || least > 0 {
        text.push(numbers.mark());
        text.push_str(decimals);
        for _ in decimals.len()..least as usize {
            text.push('0');
        }
    }
}

/// Decimals that show about four figures: 3 below 1, 2 below 100, 1 from there on. A value that would vanish is given
/// as many as it needs.
fn places(value: Decimal) -> u32 {
    let size = value.abs();
    if size >= Decimal::ONE_HUNDRED {
        1
    } else if size >= Decimal::ONE {
        2
    } else if size.is_zero() || size >= Decimal::new(1, 3) {
        3
    } else {
        9
    }
}

fn with_unit(value: Decimal, most: u32, unit: &str, preferences: &Preferences) -> String {
    let mut text = String::with_capacity(24);
    push_number(&mut text, value, 0, most, preferences.numbers);
    text.push(FIXED_SPACE);
    text.push_str(unit);
    text
}

/// Money to the currency's minor unit: `$12.50`, `12,50 €`, `CHF 12.50`. With a decimal comma the sign stands behind.
pub fn money(amount: Decimal, preferences: &Preferences) -> String {
    let digits = preferences.currency.digits();
    money_places(amount, digits, digits, preferences)
}

/// Money with up to six decimals, at least those of the minor unit: unit prices.
pub fn money_fine(amount: Decimal, preferences: &Preferences) -> String {
    let digits = preferences.currency.digits();
    money_places(amount, digits, digits.max(6), preferences)
}

fn money_places(amount: Decimal, least: u32, most: u32, preferences: &Preferences) -> String {
    let sign = preferences.currency.sign();
    let mut text = String::with_capacity(24);
    match preferences.numbers {
        NumberStyle::Point => {
            let rounded = exact::round_away(amount, most);
            if rounded.is_sign_negative() && !rounded.is_zero() {
                text.push(MINUS);
            }
            text.push_str(sign);
            if sign.chars().all(char::is_alphabetic) {
                text.push(FIXED_SPACE);
            }
            push_number(&mut text, rounded.abs(), least, most, preferences.numbers);
        }
        NumberStyle::Comma => {
            push_number(&mut text, amount, least, most, preferences.numbers);
            text.push(FIXED_SPACE);
            text.push_str(sign);
        }
    }
    text
}

/// Money per hour: `$24.00/h`.
pub fn money_per_hour(amount: Decimal, preferences: &Preferences) -> String {
    let mut text = money(amount, preferences);
    text.push_str("/h");
    text
}

/// The price of one unit as it is chosen in Setup: `$0.112/g`, `$3.18/oz`, `$1.35 each`. The price given is for one g,
/// mm, ml or piece; it is shown with up to four decimals.
pub fn unit_price(price: Decimal, unit: Unit, preferences: &Preferences) -> String {
    let digits = preferences.currency.digits();
    let factor = display_factor(unit, preferences);
    let shown = exact::mul(price, factor).unwrap_or(price);
    let mut text = money_places(shown, digits, digits.max(4), preferences);
    if unit == Unit::Each {
        text.push(FIXED_SPACE);
    } else {
        text.push('/');
    }
    text.push_str(unit_label(unit, preferences));
    text
}

/// The unit chosen in Setup for stock of that unit: `g` or `oz`, `mm` or `in`, `ml`, `each`.
pub const fn unit_label(unit: Unit, preferences: &Preferences) -> &'static str {
    match (unit, preferences.mass, preferences.length) {
        (Unit::Gram, MassUnit::Gram, _) => "g",
        (Unit::Gram, MassUnit::Ounce, _) => "oz",
        (Unit::Millimetre, _, LengthUnit::Millimetre) => "mm",
        (Unit::Millimetre, _, LengthUnit::Inch) => "in",
        (Unit::Millilitre, ..) => "ml",
        (Unit::Each, ..) => "each",
    }
}

/// The length unit chosen in Setup.
pub const fn length_label(preferences: &Preferences) -> &'static str {
    unit_label(Unit::Millimetre, preferences)
}

/// The temperature unit chosen in Setup.
pub const fn temperature_label(preferences: &Preferences) -> &'static str {
    match preferences.temperature {
        TemperatureUnit::Celsius => "°C",
        TemperatureUnit::Fahrenheit => "°F",
    }
}

/// What one of the shown unit is in the kept one.
pub(super) fn display_factor(unit: Unit, preferences: &Preferences) -> Decimal {
    match (unit, preferences.mass, preferences.length) {
        (Unit::Gram, MassUnit::Ounce, _) => units::ounce(),
        (Unit::Millimetre, _, LengthUnit::Inch) => units::inch(),
        _ => Decimal::ONE,
    }
}

/// A quantity of stock: `56.7 g`, `2 oz`, `45 mm`, `12`. Pieces carry no unit.
pub fn quantity(value: Decimal, unit: Unit, preferences: &Preferences) -> String {
    let shown = exact::div(value, display_factor(unit, preferences)).unwrap_or(value);
    match (unit, preferences.length) {
        (Unit::Each, _) => number(shown, 0, places(shown).min(2).max(small(shown)), preferences.numbers),
        (Unit::Millimetre, LengthUnit::Inch) => with_unit(shown, 3, "in", preferences),
        _ => with_unit(shown, places(shown), unit_label(unit, preferences), preferences),
    }
}

/// Places for a number of pieces that would vanish at two.
fn small(value: Decimal) -> u32 {
    if value.abs() < Decimal::new(1, 2) { places(value) } else { 0 }
}

/// A length: `45 mm`, `1.772 in`.
pub fn length(millimetres: Decimal, preferences: &Preferences) -> String {
    quantity(millimetres, Unit::Millimetre, preferences)
}

/// A mass: `7.2 g`, `0.254 oz`.
pub fn mass(grams: Decimal, preferences: &Preferences) -> String {
    quantity(grams, Unit::Gram, preferences)
}

/// An area in cm² with two decimals: `9.90 cm²`.
pub fn area(square_centimetres: Decimal, preferences: &Preferences) -> String {
    let mut text = number(square_centimetres, 2, 2, preferences.numbers);
    text.push(FIXED_SPACE);
    text.push_str("cm²");
    text
}

/// A temperature in whole degrees: `780 °C`, `1436 °F`.
pub fn temperature(celsius: Decimal, preferences: &Preferences) -> String {
    let shown = match preferences.temperature {
        TemperatureUnit::Celsius => celsius,
        TemperatureUnit::Fahrenheit => celsius_to_fahrenheit(celsius),
    };
    with_unit(shown, 0, temperature_label(preferences), preferences)
}

/// A difference of temperature in whole degrees.
pub fn temperature_difference(celsius: Decimal, preferences: &Preferences) -> String {
    let shown = match preferences.temperature {
        TemperatureUnit::Celsius => celsius,
        TemperatureUnit::Fahrenheit => difference_to_fahrenheit(celsius),
    };
    with_unit(shown, 0, temperature_label(preferences), preferences)
}

/// °C · 9/5 + 32; exact for any temperature that can be typed.
pub fn celsius_to_fahrenheit(celsius: Decimal) -> Decimal {
    exact::add(difference_to_fahrenheit(celsius), Decimal::from(32)).unwrap_or(celsius)
}

/// °C of difference · 9/5.
pub fn difference_to_fahrenheit(celsius: Decimal) -> Decimal {
    exact::mul(celsius, Decimal::new(18, 1)).unwrap_or(celsius)
}

/// A time as minutes and seconds to the nearest second: `2:45`, `75:00`.
pub fn minutes(value: Decimal, preferences: &Preferences) -> String {
    let seconds = exact::mul(value, Decimal::from(60))
        .ok()
        .and_then(|seconds| exact::round_away(seconds, 0).to_i64())
        .filter(|seconds| *seconds >= 0);
    match seconds {
        Some(seconds) => format!("{}:{:02}", seconds / 60, seconds % 60),
        None => with_unit(value, 2, "min", preferences),
    }
}

/// Hours with two decimals: `0.41 h`.
pub fn hours(value: Decimal, preferences: &Preferences) -> String {
    let mut text = number(value, 2, 2, preferences.numbers);
    text.push(FIXED_SPACE);
    text.push('h');
    text
}

/// A share or ratio as a percentage with at most one decimal: `35 %`, `97.5 %`. Two where one would show nothing.
pub fn share(value: Decimal, preferences: &Preferences) -> String {
    let shown = exact::mul(value, Decimal::ONE_HUNDRED).unwrap_or(value);
    let most = if shown.abs() < Decimal::ONE { 2 } else { 1 };
    with_unit(shown, most, "%", preferences)
}

/// A rate as a percentage with as many decimals as it has, at most three: `8.25 %`, `8.875 %`.
pub fn rate(value: Decimal, preferences: &Preferences) -> String {
    with_unit(exact::mul(value, Decimal::ONE_HUNDRED).unwrap_or(value), 3, "%", preferences)
}

/// A thickness as it was stated, with the other way of saying it where that fits within 2 %: `20 ga` where gauge was
/// chosen and stated; `0.81 mm (20 ga)` otherwise; `1 mm` alone when no gauge is near.
pub fn thickness(entry: ThicknessEntry, preferences: &Preferences) -> String {
    match (entry, preferences.thickness) {
        (ThicknessEntry::Gauge(gauge), ThicknessUnit::Gauge) => gauge::label(gauge),
        (ThicknessEntry::Gauge(gauge), ThicknessUnit::Millimetre) => {
            let shown = with_unit(gauge::thickness_decimal(gauge), 3, "mm", preferences);
            format!("{shown} ({})", gauge::label(gauge))
        }
        (ThicknessEntry::Millimetres(mm), _) => {
            let shown = with_unit(mm, 3, "mm", preferences);
            let size = mm.to_f64().unwrap_or_default();
            match gauge::nearest(size).filter(|&near| (gauge::thickness_mm(near) / size - 1.0).abs() <= 0.02) {
                Some(near) => format!("{shown} ({})", gauge::label(near)),
                None => shown,
            }
        }
    }
}
