//! Amounts as the command line's tables show them.

use crate::measure::{Currency, Decimal, exact};

/// Money to the currency's minor unit.
pub(super) fn money(amount: Decimal, currency: Currency) -> String {
    places(amount, currency.digits())
}

/// Money two places finer than the minor unit: the lines of a cost, where a tenth of a cent can be a line of its own.
pub(super) fn fine_money(amount: Decimal, currency: Currency) -> String {
    places(amount, currency.digits() + 2)
}

/// A share as a percentage with one place.
pub(super) fn percent(share: Decimal) -> String {
    exact::mul(share, Decimal::ONE_HUNDRED)
        .map_or_else(|_| share.to_string(), |hundredths| places(hundredths, 1) + " %")
}

/// A number with so many places.
pub(super) fn places(amount: Decimal, digits: u32) -> String {
    let rounded = exact::round_away(amount, digits);
    let shown = if rounded.is_zero() { Decimal::ZERO } else { rounded };
    format!("{shown:.width$}", width = usize::try_from(digits).unwrap_or(0))
}

/// “1 firing”, “3 firings”.
pub(super) fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}
