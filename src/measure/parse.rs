//! Reading what a person types: `2 oz`, `1/4 lb`, `45 mm`, `1 3/4 in`, `1350 F`, `2:45`, `12.50`, `12,50`.
//!
//! Every function takes the text of one field and the person's [`Preferences`], and gives the value in the unit that is
//! kept, or a [`ParseProblem`] that says what would be accepted. A number without a unit is in the unit chosen in Setup.
//! The decimal marks and fractions that are read are those of the `number` part of this module. Conversions are
//! exact; a result whose decimal does not end within nine places (`1/3 oz`, `1350 F`, `2:20`) is rounded half-even to
//! nine, the book's grain.

use super::exact::{self, Decimal};
use super::gauge;
use super::money::{MONEY_LIMIT, MONEY_PLACES, Money};
use super::number::{self, Number};
use super::preferences::{LengthUnit, MassUnit, Preferences, TemperatureUnit, ThicknessUnit};
use super::problem::{ParseProblem, too_large};
use super::quantity::{QUANTITY_LIMIT, QUANTITY_PLACES, Quantity, Unit};
use super::units::{self, TimeUnit};
use std::ops::RangeInclusive;

/// A measure as it was typed and what it is in the unit that is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Typed {
    /// The text, with spaces tidied.
    pub text: String,
    /// The value in g, mm, ml or pieces; at most nine decimals.
    pub value: Decimal,
}

impl Typed {
    /// The value as a quantity.
    pub fn quantity(&self) -> Quantity {
        // At most nine decimals by construction.
        Quantity::new(self.value).unwrap_or_default()
    }
}

/// A thickness of sheet or wire as it was typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ThicknessEntry {
    /// Brown & Sharpe gauge number, −3 (0000) to 40.
    Gauge(i8),
    /// Millimetres, above 0.
    Millimetres(Decimal),
}

/// Highest temperature that is read, °C.
pub const TEMPERATURE_LIMIT: i64 = 2000;

/// Longest time that is read, minutes.
pub const MINUTES_LIMIT: i64 = 1_000_000;

/// Thickest sheet that is read without its unit, mm: a larger bare number is surely a gauge.
const THICKEST_BARE_MM: i64 = 12;

const fn accepted_quantity(unit: Unit) -> &'static str {
    match unit {
        Unit::Gram => "a mass such as 12.5 g, 2 oz or 1/4 lb",
        Unit::Each => "a number of pieces such as 12 or 1 dozen",
        Unit::Millimetre => "a length such as 45 mm, 1 3/4 in or 2 m",
        Unit::Millilitre => "a volume such as 250 ml, 1.5 l or 8 fl oz",
    }
}

const TEMPERATURE: &str = "a temperature such as 780 C or 1350 F";
const DIFFERENCE: &str = "a difference of temperature such as 38 C or 70 F";
const MINUTES: &str = "a time such as 2:45 (minutes and seconds), 3.5 or 1 h 20 min";
const MONEY: &str = "an amount such as 12.50";
const SHARE: &str = "a share such as 35 % or 0.35";
const RATIO: &str = "a ratio such as 120 % or 1.2";
const CHANGE: &str = "a change such as +10 % or -5 %";
const THICKNESS: &str = "a thickness such as 20 ga or 0.8 mm";
const NUMBER: &str = "a number such as 12.5";
const COUNT: &str = "a whole number such as 12";

/// A quantity of stock in the unit its item is kept in: g, mm, ml or pieces; 0 to [`QUANTITY_LIMIT`].
pub fn parse_quantity(text: &str, unit: Unit, preferences: &Preferences) -> Result<Typed, ParseProblem> {
    let accepted = accepted_quantity(unit);
    let text = number::tidy(text, accepted)?;
    let (number, rest) = number::leading(&text, preferences.numbers, accepted)?;
    let factor = if rest.is_empty() {
        match (unit, preferences.mass, preferences.length) {
            (Unit::Gram, MassUnit::Ounce, _) => units::ounce(),
            (Unit::Millimetre, _, LengthUnit::Inch) => units::inch(),
            _ => Decimal::ONE,
        }
    } else {
        units::factor(unit, &rest.to_lowercase()).ok_or_else(|| unknown_unit(&text, rest, accepted))?
    };
    let limit = || format!("1 000 000 000 {unit}");
    let value = number.times(factor, QUANTITY_PLACES).map_err(too_large(&text, limit()))?;
    if value > Decimal::from(QUANTITY_LIMIT) {
        return Err(ParseProblem::TooLarge { given: text, limit: limit() });
    }
    Ok(Typed { text, value })
}

/// A length in mm, 0 or more.
pub fn parse_length_mm(text: &str, preferences: &Preferences) -> Result<Decimal, ParseProblem> {
    parse_quantity(text, Unit::Millimetre, preferences).map(|typed| typed.value)
}

/// A thickness of sheet or wire: a Brown & Sharpe gauge (`20 ga`, `20 gauge`, `20 AWG`) or a length above 0. A number
/// without a unit is a gauge or mm as chosen in Setup; one with decimals is always mm, and a whole number above 12 where
/// mm was chosen is refused, since a gauge is meant.
pub fn parse_thickness(text: &str, preferences: &Preferences) -> Result<ThicknessEntry, ParseProblem> {
    let text = number::tidy(text, THICKNESS)?;
    let lower = text.to_lowercase();
    if lower.contains("swg") {
        return Err(ParseProblem::UnknownUnit { given: text, unit: "swg".to_owned(), accepted: THICKNESS });
    }
    let gauge = gauge_words(&lower);
    let bare = lower.bytes().all(|byte| byte.is_ascii_digit());
    if let Some(digits) = gauge.or_else(|| (bare && preferences.thickness == ThicknessUnit::Gauge).then_some(&lower)) {
        return gauge::from_number(digits).map(ThicknessEntry::Gauge).ok_or_else(|| ParseProblem::OutOfRange {
            given: text.clone(),
            accepted: "a gauge from 0000 to 40, such as 20 ga".to_owned(),
        });
    }
    let (number, rest) = number::leading(&text, preferences.numbers, THICKNESS)?;
    let factor = if rest.is_empty() {
        Decimal::ONE
    } else {
        units::factor(Unit::Millimetre, &rest.to_lowercase()).ok_or_else(|| unknown_unit(&text, rest, THICKNESS))?
    };
    let value = number.times(factor, QUANTITY_PLACES).map_err(too_large(&text, "1000 mm"))?;
    if value.is_zero() || (rest.is_empty() && value > Decimal::from(THICKEST_BARE_MM)) {
        return Err(ParseProblem::OutOfRange { given: text, accepted: THICKNESS.to_owned() });
    }
    if value > Decimal::ONE_THOUSAND {
        return Err(ParseProblem::TooLarge { given: text, limit: "1000 mm".to_owned() });
    }
    Ok(ThicknessEntry::Millimetres(value))
}

/// The digits of a lower-case text that names a gauge; none when it names something else.
fn gauge_words(lower: &str) -> Option<&str> {
    const WORDS: [&str; 6] = ["gauge", "gage", "ga.", "ga", "awg", "b&s"];
    WORDS.iter().find_map(|word| {
        let digits = lower.strip_suffix(word).or_else(|| lower.strip_prefix(word))?;
        gauge_words(digits.trim()).or_else(|| Some(digits.trim()))
    })
}

/// A temperature in °C, 0 to [`TEMPERATURE_LIMIT`]: °C = (°F − 32) · 5/9.
pub fn parse_temperature_celsius(text: &str, preferences: &Preferences) -> Result<Decimal, ParseProblem> {
    let (text, number, unit) = temperature(text, preferences, TEMPERATURE)?;
    let limit = || format!("{TEMPERATURE_LIMIT} C");
    let value = match unit {
        TemperatureUnit::Celsius => number.times(Decimal::ONE, QUANTITY_PLACES),
        TemperatureUnit::Fahrenheit => number.times(Decimal::ONE, QUANTITY_PLACES).and_then(fahrenheit_to_celsius),
    }
    .map_err(too_large(&text, limit()))?;
    if value < Decimal::ZERO {
        return Err(ParseProblem::OutOfRange { given: text, accepted: "a temperature from 0 C (32 F) up".to_owned() });
    }
    if value > Decimal::from(TEMPERATURE_LIMIT) {
        return Err(ParseProblem::TooLarge { given: text, limit: limit() });
    }
    Ok(value)
}

/// A difference of temperature in °C: one degree Fahrenheit of difference is 5/9 of a degree Celsius.
pub fn parse_temperature_difference(text: &str, preferences: &Preferences) -> Result<Decimal, ParseProblem> {
    let (text, number, unit) = temperature(text, preferences, DIFFERENCE)?;
    let limit = || format!("{TEMPERATURE_LIMIT} C");
    let value = match unit {
        TemperatureUnit::Celsius => number.times(Decimal::ONE, QUANTITY_PLACES),
        TemperatureUnit::Fahrenheit => number.times(Decimal::ONE, QUANTITY_PLACES).and_then(difference_to_celsius),
    }
    .map_err(too_large(&text, limit()))?;
    if value > Decimal::from(TEMPERATURE_LIMIT) {
        return Err(ParseProblem::TooLarge { given: text, limit: limit() });
    }
    Ok(value)
}

/// (°F − 32) · 5/9, half-even at nine places.
pub(super) fn fahrenheit_to_celsius(fahrenheit: Decimal) -> Result<Decimal, exact::TooLarge> {
    difference_to_celsius(exact::sub(fahrenheit, Decimal::from(32))?)
}

/// °F · 5/9, half-even at nine places.
pub(super) fn difference_to_celsius(fahrenheit: Decimal) -> Result<Decimal, exact::TooLarge> {
    let ninths = exact::mul(fahrenheit, Decimal::from(5))?;
    Ok(exact::round(exact::div(ninths, Decimal::from(9))?, QUANTITY_PLACES).normalize())
}

fn temperature(
    text: &str,
    preferences: &Preferences,
    accepted: &'static str,
) -> Result<(String, Number, TemperatureUnit), ParseProblem> {
    let text = number::tidy(text, accepted)?;
    let (number, rest) = number::leading(&text, preferences.numbers, accepted)?;
    let lower = rest.to_lowercase();
    let name = ["°", "º", "degrees", "degree", "deg.", "deg"]
        .iter()
        .find_map(|sign| lower.strip_prefix(sign))
        .unwrap_or(&lower)
        .trim();
    let unit = match name {
        "" => preferences.temperature,
        "c" | "celsius" => TemperatureUnit::Celsius,
        "f" | "fahrenheit" => TemperatureUnit::Fahrenheit,
        _ => return Err(unknown_unit(&text, rest, accepted)),
    };
    Ok((text, number, unit))
}

/// A time in minutes, 0 to [`MINUTES_LIMIT`]: `2:45` is minutes and seconds, `1:20:00` hours, minutes and seconds;
/// `3.5`, `90 s`, `1 h 20 min`, `2 min 30 s`.
pub fn parse_minutes(text: &str, preferences: &Preferences) -> Result<Decimal, ParseProblem> {
    let text = number::tidy(text, MINUTES)?;
    let limit = || format!("{MINUTES_LIMIT} minutes");
    let value = if text.contains(':') {
        let seconds = clock_seconds(&text)
            .ok_or_else(|| ParseProblem::NotUnderstood { given: text.clone(), accepted: MINUTES })?;
        exact::div(Decimal::from(seconds), Decimal::from(60))
    } else {
        let mut rest = text.as_str();
        let mut total = Ok(Decimal::ZERO);
        let mut first = true;
        while !rest.is_empty() {
            let (number, after) = number::leading(rest, preferences.numbers, MINUTES)?;
            let end = after.find(|letter: char| letter.is_ascii_digit()).unwrap_or(after.len());
            let (name, next) = after.split_at_checked(end).unwrap_or((after, ""));
            let unit = match name.trim() {
                "" if first && next.is_empty() => TimeUnit::Minute,
                "" => return Err(ParseProblem::NotUnderstood { given: text, accepted: MINUTES }),
                name => units::time(&name.to_lowercase()).ok_or_else(|| unknown_unit(&text, after, MINUTES))?,
            };
            let part = match unit {
                // A sixtieth is not exact: the seconds are divided as one fraction.
                TimeUnit::Second => number
                    .times(Decimal::ONE, QUANTITY_PLACES)
                    .and_then(|seconds| exact::div(seconds, Decimal::from(60))),
                TimeUnit::Minute => number.times(Decimal::ONE, QUANTITY_PLACES),
                TimeUnit::Hour => number.times(Decimal::from(60), QUANTITY_PLACES),
            };
            total = total.and_then(|total| exact::add(total, part?));
            rest = next;
            first = false;
        }
        total
    }
    .map_err(too_large(&text, limit()))?;
    let value = exact::round(value, QUANTITY_PLACES).normalize();
    if value > Decimal::from(MINUTES_LIMIT) {
        return Err(ParseProblem::TooLarge { given: text, limit: limit() });
    }
    Ok(value)
}

/// Seconds of `m:ss` or `h:mm:ss`; seconds, and minutes after hours, have two digits and stay below 60.
fn clock_seconds(text: &str) -> Option<i64> {
    let field = |part: &str, least: usize, most: usize| {
        ((least..=most).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit()))
            .then(|| part.parse::<i64>().ok())
            .flatten()
    };
    let sixty = |part: &str| field(part, 2, 2).filter(|value| *value < 60);
    match *text.split(':').map(str::trim).collect::<Vec<_>>() {
        [minutes, seconds] => Some(field(minutes, 1, 7)? * 60 + sixty(seconds)?),
        [hours, minutes, seconds] => Some(field(hours, 1, 5)? * 3600 + sixty(minutes)? * 60 + sixty(seconds)?),
        _ => None,
    }
}

/// Money of the book's currency, 0 to [`MONEY_LIMIT`], at most six decimals; its sign or code may stand before or after.
pub fn parse_money(text: &str, preferences: &Preferences) -> Result<Money, ParseProblem> {
    let text = number::tidy(text, MONEY)?;
    let currency = preferences.currency;
    let bare = without_currency(&text, currency.code(), currency.sign());
    if bare.is_empty() {
        return Err(ParseProblem::NotUnderstood { given: text, accepted: MONEY });
    }
    let other = |text: String| ParseProblem::OtherCurrency { given: text, currency };
    if bare.chars().next().is_some_and(|first| first.is_alphabetic() || "$€£¥₹₩₫₱".contains(first)) {
        return Err(other(text));
    }
    let (number, rest) = number::leading(bare, preferences.numbers, MONEY)?;
    if !rest.is_empty() {
        return Err(other(text));
    }
    if number.fraction {
        return Err(ParseProblem::NotUnderstood { given: text, accepted: MONEY });
    }
    let limit = || format!("{MONEY_LIMIT} {currency}");
    let amount = number.times(Decimal::ONE, QUANTITY_PLACES).map_err(too_large(&text, limit()))?;
    if amount > Decimal::from(MONEY_LIMIT) {
        return Err(ParseProblem::TooLarge { given: text, limit: limit() });
    }
    Money::new(amount).ok_or(ParseProblem::TooFine { given: text, places: MONEY_PLACES })
}

/// The amount without the book's own code or sign, at either end. A currency whose sign ends in `$` may be typed with
/// that alone.
fn without_currency<'a>(text: &'a str, code: &str, sign: &str) -> &'a str {
    let short = sign.chars().last().map(String::from).filter(|last| matches!(last.as_str(), "$" | "¥"));
    for name in [code, sign, short.as_deref().unwrap_or(code)] {
        let before = text.get(..name.len()).filter(|start| start.eq_ignore_ascii_case(name));
        if before.is_some() {
            return text.get(name.len()..).unwrap_or("").trim();
        }
        let start = text.len().saturating_sub(name.len());
        let after = text.get(start..).filter(|end| end.eq_ignore_ascii_case(name));
        if after.is_some() {
            return text.get(..start).unwrap_or("").trim();
        }
    }
    text
}

/// A share from 0 to 1: `35 %` or `0.35`. A number above 1 without `%` is refused, since `35` may mean either.
pub fn parse_share(text: &str, preferences: &Preferences) -> Result<Decimal, ParseProblem> {
    percentage(text, preferences, SHARE, Decimal::ONE, Some(Decimal::ONE))
}

/// A rate such as a tax, 0 or more: `8.25 %` or `0.0825`. A number above 1 without `%` is refused.
pub fn parse_rate(text: &str, preferences: &Preferences) -> Result<Decimal, ParseProblem> {
    percentage(text, preferences, SHARE, Decimal::ONE, None)
}

/// A ratio such as a markup or an overspray, 0 or more: `120 %` or `1.2`. A number above 10 without `%` is refused.
pub fn parse_ratio(text: &str, preferences: &Preferences) -> Result<Decimal, ParseProblem> {
    percentage(text, preferences, RATIO, Decimal::TEN, None)
}

fn percentage(
    text: &str,
    preferences: &Preferences,
    accepted: &'static str,
    most_bare: Decimal,
    most: Option<Decimal>,
) -> Result<Decimal, ParseProblem> {
    let text = number::tidy(text, accepted)?;
    let (number, rest) = number::leading(&text, preferences.numbers, accepted)?;
    let (factor, bare) = match rest {
        "" => (Decimal::ONE, true),
        "%" | "percent" | "per cent" => (Decimal::new(1, 2), false),
        _ => return Err(unknown_unit(&text, rest, accepted)),
    };
    let value = number.times(factor, QUANTITY_PLACES).map_err(too_large(&text, "1 000 000 %"))?;
    if (bare && value > most_bare) || most.is_some_and(|most| value > most) {
        let accepted = match most {
            Some(_) => format!("{accepted}, from 0 to 100 %"),
            None => accepted.to_owned(),
        };
        return Err(ParseProblem::OutOfRange { given: text, accepted });
    }
    if value > Decimal::from(10_000) {
        return Err(ParseProblem::TooLarge { given: text, limit: "1 000 000 %".to_owned() });
    }
    Ok(value)
}

/// A change to suppose, as a share: `+10 %`, `10`, `-5 %` (always a percentage, with or without the sign), −100 % to
/// 1 000 %.
pub fn parse_change(text: &str, preferences: &Preferences) -> Result<Decimal, ParseProblem> {
    let text = number::tidy(text, CHANGE)?;
    let (below, size) = match text.strip_prefix('-') {
        Some(size) => (true, size),
        None => (false, text.strip_prefix('+').unwrap_or(&text)),
    };
    let (number, rest) = number::leading(size.trim_start(), preferences.numbers, CHANGE)?;
    if !matches!(rest, "" | "%" | "percent" | "per cent") {
        return Err(unknown_unit(&text, rest, CHANGE));
    }
    let size = number.times(Decimal::new(1, 2), QUANTITY_PLACES).map_err(too_large(&text, "1000 %"))?;
    if (below && size > Decimal::ONE) || size > Decimal::TEN {
        let accepted = "a change from -100 % to +1000 %".to_owned();
        return Err(ParseProblem::OutOfRange { given: text, accepted });
    }
    Ok(if below && !size.is_zero() { -size } else { size })
}

/// A plain number, 0 or more, at most nine decimals: kWh, mg/cm², hours of a year.
pub fn parse_number(text: &str, preferences: &Preferences) -> Result<Decimal, ParseProblem> {
    let text = number::tidy(text, NUMBER)?;
    let (number, rest) = number::leading(&text, preferences.numbers, NUMBER)?;
    if !rest.is_empty() {
        return Err(unknown_unit(&text, rest, NUMBER));
    }
    let value = number.times(Decimal::ONE, QUANTITY_PLACES).map_err(too_large(&text, "1 000 000 000"))?;
    if value > Decimal::from(QUANTITY_LIMIT) {
        return Err(ParseProblem::TooLarge { given: text, limit: "1 000 000 000".to_owned() });
    }
    Ok(value)
}

/// A whole number in a range: pieces of a batch, pieces per load, copies.
pub fn parse_count(text: &str, range: RangeInclusive<u32>, preferences: &Preferences) -> Result<u32, ParseProblem> {
    let text = number::tidy(text, COUNT)?;
    let (number, rest) = number::leading(&text, preferences.numbers, COUNT)?;
    if !rest.is_empty() {
        return Err(unknown_unit(&text, rest, COUNT));
    }
    if !number.whole {
        return Err(ParseProblem::NotUnderstood { given: text, accepted: COUNT });
    }
    let value = number.times(Decimal::ONE, 0).ok().and_then(|value| u32::try_from(value).ok());
    value.filter(|value| range.contains(value)).ok_or_else(|| ParseProblem::OutOfRange {
        given: text,
        accepted: format!("a whole number from {} to {}", range.start(), range.end()),
    })
}

fn unknown_unit(text: &str, rest: &str, accepted: &'static str) -> ParseProblem {
    ParseProblem::UnknownUnit { given: text.to_owned(), unit: rest.to_owned(), accepted }
}
