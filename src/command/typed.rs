//! What people type on the command line, read with the units and the number style of the book.

use super::failure::Failure;
use crate::measure::{Decimal, Money, ParseProblem, Preferences, Quantity, Unit, parse};
use crate::studio::{Pack, Thickness};

fn named(field: &str) -> impl FnOnce(ParseProblem) -> Failure {
    move |problem| Failure::invalid(format!("{field}: {problem}"))
}

/// A quantity in the item's unit.
pub(super) fn quantity(field: &str, text: &str, unit: Unit, preferences: &Preferences) -> Result<Quantity, Failure> {
    parse::parse_quantity(text, unit, preferences).map(|typed| typed.quantity()).map_err(named(field))
}

/// What is bought at once of an item kept in that unit.
pub(super) fn pack(field: &str, text: &str, unit: Unit, preferences: &Preferences) -> Result<Pack, Failure> {
    Pack::typed(text, unit, preferences).map_err(named(field))
}

/// A share from 0 to 1.
pub(super) fn share(field: &str, text: &str, preferences: &Preferences) -> Result<Decimal, Failure> {
    parse::parse_share(text, preferences).map_err(named(field))
}

/// A number of packs, 0 or more.
pub(super) fn packs(field: &str, text: &str, preferences: &Preferences) -> Result<Quantity, Failure> {
    let number = parse::parse_number(text, preferences).map_err(named(field))?;
    Quantity::new(number).ok_or_else(|| Failure::invalid(format!("{field}: {text:?} has more than nine decimals")))
}

/// An amount of the book's money.
pub(super) fn money(field: &str, text: &str, preferences: &Preferences) -> Result<Money, Failure> {
    parse::parse_money(text, preferences).map_err(named(field))
}

/// A length in mm.
pub(super) fn length(field: &str, text: &str, preferences: &Preferences) -> Result<Decimal, Failure> {
    parse::parse_length_mm(text, preferences).map_err(named(field))
}

/// A thickness of sheet, wire or blank.
pub(super) fn thickness(field: &str, text: &str, preferences: &Preferences) -> Result<Thickness, Failure> {
    parse::parse_thickness(text, preferences).map(Thickness::from).map_err(named(field))
}

/// A temperature in °C.
pub(super) fn temperature(field: &str, text: &str, preferences: &Preferences) -> Result<Decimal, Failure> {
    parse::parse_temperature_celsius(text, preferences).map_err(named(field))
}
