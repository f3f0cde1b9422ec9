//! Amounts as the command line's tables show them: as the window does, without the spaces that do not break, so that
//! other programs find them.

use crate::measure::{Decimal, Preferences, Quantity, Unit, display};

/// Money to the currency's minor unit.
pub(super) fn money(amount: Decimal, preferences: &Preferences) -> String {
    plain(&display::money(amount, preferences))
}

/// Money two places finer than the minor unit and without its sign: the lines of a cost, where a tenth of a cent can
/// be a line of its own.
pub(super) fn fine_money(amount: Decimal, preferences: &Preferences) -> String {
    let digits = preferences.currency.digits() + 2;
    plain(&display::number(amount, digits, digits, preferences.numbers))
}

/// A share as a percentage.
pub(super) fn percent(share: Decimal, preferences: &Preferences) -> String {
    plain(&display::share(share, preferences))
}

/// A number with at most two places.
pub(super) fn number(value: Decimal, preferences: &Preferences) -> String {
    plain(&display::number(value, 0, 2, preferences.numbers))
}

/// A quantity of stock in the book's units.
pub(super) fn quantity(quantity: Quantity, unit: Unit, preferences: &Preferences) -> String {
    plain(&display::quantity(quantity.amount(), unit, preferences))
}

/// “1 firing”, “3 firings”.
pub(super) fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// The text with common spaces.
pub(super) fn plain(text: &str) -> String {
    text.replace(['\u{a0}', '\u{202f}', '\u{2009}'], " ")
}
