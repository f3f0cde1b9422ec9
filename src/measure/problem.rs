//! Why a typed text is not taken, in plain words.

use super::exact::TooLarge;

/// A text that cannot be read. Each says what was given and what would be accepted; the field's name is the face's to
/// add in front.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ParseProblem {
    /// Nothing was typed.
    #[error("nothing is typed: write {accepted}")]
    Empty {
        /// What would be accepted.
        accepted: &'static str,
    },
    /// More than 64 characters.
    #[error("{given:?}… is too long: write {accepted}")]
    TooLong {
        /// Its beginning.
        given: String,
        /// What would be accepted.
        accepted: &'static str,
    },
    /// Not a number where one is needed.
    #[error("{given:?} cannot be read: write {accepted}")]
    NotUnderstood {
        /// As typed.
        given: String,
        /// What would be accepted.
        accepted: &'static str,
    },
    /// A number, but what follows is not a unit that fits.
    #[error("{unit:?} in {given:?} is not a unit that fits here: write {accepted}")]
    UnknownUnit {
        /// As typed.
        given: String,
        /// What follows the number.
        unit: String,
        /// What would be accepted.
        accepted: &'static str,
    },
    /// Below zero.
    #[error("{given:?} is below zero: write {accepted}")]
    Negative {
        /// As typed.
        given: String,
        /// What would be accepted.
        accepted: &'static str,
    },
    /// A power of ten.
    #[error("{given:?} uses an exponent: write the number out, {accepted}")]
    Exponent {
        /// As typed.
        given: String,
        /// What would be accepted.
        accepted: &'static str,
    },
    /// A mark that may part thousands or decimals.
    #[error("{given:?} can mean {large} or {small}: write it in one of these two ways")]
    Ambiguous {
        /// As typed.
        given: String,
        /// Read as thousands.
        large: String,
        /// Read as decimals.
        small: String,
    },
    /// More decimals than are kept.
    #[error("{given:?} has more than {places} decimals: write it with {places} or fewer")]
    TooFine {
        /// As typed.
        given: String,
        /// Decimals kept.
        places: u32,
    },
    /// Above the largest that is kept.
    #[error("{given:?} is too large: write {limit} or less")]
    TooLarge {
        /// As typed.
        given: String,
        /// The largest accepted, with its unit.
        limit: String,
    },
    /// Readable, but not in the range.
    #[error("{given:?} is out of range: write {accepted}")]
    OutOfRange {
        /// As typed.
        given: String,
        /// What would be accepted.
        accepted: String,
    },
    /// Money of another currency.
    #[error("{given:?} is not in {currency}, the currency of this book: write an amount such as 12.50")]
    OtherCurrency {
        /// As typed.
        given: String,
        /// The book's currency.
        currency: super::currency::Currency,
    },
}

/// A conversion that does not fit, before the typed text is known.
pub(super) fn too_large(given: &str, limit: impl Into<String>) -> impl FnOnce(TooLarge) -> ParseProblem {
    let (given, limit) = (given.to_owned(), limit.into());
    |_| ParseProblem::TooLarge { given, limit }
}
