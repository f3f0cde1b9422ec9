//! Words the room shares: packs, amounts in the order's currency, lead.

use crate::measure::{Currency, Decimal, Preferences, Quantity, Unit, display};
use crate::studio::OrderLine;

/// What is said of an order with lead in it.
pub(super) const LEAD: &str = "Something in this order bears lead";

/// What to do about it. Usual cautions of the trade; local rules come first.
pub(super) const LEAD_ADVICE: &str = "Mind its dust when you open, weigh or sift it: wear a mask made for fine dust, \
    wipe up wet, wash hands before eating. Keep it from children and from anyone pregnant. Local rules on lead come \
    first.";

/// The preferences with an order's currency in the place of the book's.
pub(super) fn with_currency(preferences: &Preferences, currency: Currency) -> Preferences {
    Preferences { currency, ..*preferences }
}

/// An amount of a currency.
pub(super) fn money(amount: Decimal, currency: Currency, preferences: &Preferences) -> String {
    display::money(amount, &with_currency(preferences, currency))
}

/// A number of packs.
pub(super) fn count(packs: Quantity, preferences: &Preferences) -> String {
    display::number(packs.amount(), 0, 9, preferences.numbers)
}

/// What a pack is called: as typed, else what it holds.
pub(super) fn pack(line: &OrderLine, unit: Unit, preferences: &Preferences) -> String {
    if line.pack_words.is_empty() {
        display::quantity(line.pack.amount(), unit, preferences)
    } else {
        line.pack_words.clone()
    }
}

/// Packs of a line: `2 × 1 lb jar`.
pub(super) fn packs(packs: Quantity, line: &OrderLine, unit: Unit, preferences: &Preferences) -> String {
    format!("{} × {}", count(packs, preferences), pack(line, unit, preferences))
}

/// “1 line”, “3 lines”.
pub(super) fn counted(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}
