//! What the room says of weights.

use crate::measure::{Decimal, Money, Preferences, Quantity, display};

/// What stands beside a jar that bears lead.
pub(super) const LEAD: &str = "What is in this jar bears lead";

/// What to do about it. Usual cautions of the trade; local rules come first.
pub(super) const LEAD_ADVICE: &str = "Weigh it with the lid on. Where it must be opened: a mask made for fine dust, no \
    draught, no sweeping; wipe the pan and the bench wet, and wash your hands before eating. Local rules on lead come first.";

/// A weight.
pub(super) fn grams(weight: Quantity, preferences: &Preferences) -> String {
    display::mass(weight.amount(), preferences)
}

/// A difference, with its sign.
pub(super) fn signed(difference: Quantity, preferences: &Preferences) -> String {
    with_sign(difference.amount(), grams(difference, preferences))
}

/// What a difference is worth, with its sign.
pub(super) fn worth(value: Money, preferences: &Preferences) -> String {
    with_sign(value.amount(), display::money(value.amount(), preferences))
}

fn with_sign(amount: Decimal, words: String) -> String {
    if amount > Decimal::ZERO { format!("+{words}") } else { words }
}

/// “1 jar”, “3 jars”.
pub(super) fn jars(count: usize) -> String {
    if count == 1 { "1 jar".to_owned() } else { format!("{count} jars") }
}
