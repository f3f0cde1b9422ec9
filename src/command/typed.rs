//! What people type on the command line, read with the units and the number style of the book; quantities shown back
//! in them.

use super::failure::Failure;
use crate::measure::{Decimal, Money, Quantity, Unit};
use crate::studio::Settings;

/// A quantity in the item's unit.
pub(super) fn quantity(field: &str, text: &str, unit: Unit, settings: &Settings) -> Result<Quantity, Failure> {
    let _ = (unit, settings);
    super::arguments::decimal(text)
        .ok()
        .and_then(Quantity::new)
        .ok_or_else(|| Failure::invalid(format!("{field}: {text}")))
}

/// An amount of the book's money.
pub(super) fn money(field: &str, text: &str, settings: &Settings) -> Result<Money, Failure> {
    let _ = settings;
    super::arguments::decimal(text)
        .ok()
        .and_then(Money::new)
        .ok_or_else(|| Failure::invalid(format!("{field}: {text}")))
}

/// A length in mm.
pub(super) fn length(field: &str, text: &str, settings: &Settings) -> Result<Decimal, Failure> {
    let _ = settings;
    super::arguments::decimal(text).map_err(|error| Failure::invalid(format!("{field}: {error}")))
}

/// A temperature in °C.
pub(super) fn temperature(field: &str, text: &str, settings: &Settings) -> Result<Decimal, Failure> {
    let _ = settings;
    super::arguments::decimal(text).map_err(|error| Failure::invalid(format!("{field}: {error}")))
}

/// A quantity in the book's units.
pub(super) fn shown(quantity: Quantity, unit: Unit, settings: &Settings) -> String {
    let _ = settings;
    format!("{quantity} {unit}")
}
