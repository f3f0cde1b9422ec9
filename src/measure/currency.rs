//! The currencies of ISO 4217.

use super::currency_table::TABLE;
use super::exact::{self, Decimal};
use serde::{Deserialize, Deserializer, Serialize, de};
use std::fmt;

/// A currency of ISO 4217 with its minor unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Currency {
    code: &'static str,
    digits: u8,
}

/// A text that is not a currency of ISO 4217.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0:?} is not an ISO 4217 currency code such as USD or EUR")]
pub struct UnknownCurrency(pub String);

/// Signs that mean one currency only (the short signs the Unicode locale data gives for English); every other currency
/// is shown by its code.
const SIGNS: &[(&str, &str)] = &[
    ("AUD", "A$"),
    ("BRL", "R$"),
    ("CAD", "CA$"),
    ("CNY", "CN¥"),
    ("EUR", "€"),
    ("GBP", "£"),
    ("HKD", "HK$"),
    ("INR", "₹"),
    ("JPY", "¥"),
    ("KRW", "₩"),
    ("MXN", "MX$"),
    ("NZD", "NZ$"),
    ("PHP", "₱"),
    ("TWD", "NT$"),
    ("USD", "$"),
    ("VND", "₫"),
];

impl Currency {
    /// The US dollar: what a new book starts with.
    pub const USD: Self = Self { code: "USD", digits: 2 };

    /// The currency of that code, upper case.
    pub fn from_code(code: &str) -> Result<Self, UnknownCurrency> {
        TABLE
            .binary_search_by(|(known, _, _)| (*known).cmp(code))
            .ok()
            .and_then(|place| TABLE.get(place))
            .map(|&(code, digits, _)| Self { code, digits })
            .ok_or_else(|| UnknownCurrency(code.to_owned()))
    }

    /// Every currency, in order of code.
    pub fn all() -> impl Iterator<Item = Self> {
        TABLE.iter().map(|&(code, digits, _)| Self { code, digits })
    }

    /// The three-letter code.
    pub const fn code(self) -> &'static str {
        self.code
    }

    /// Decimals of its minor unit.
    pub const fn digits(self) -> u32 {
        self.digits as u32
    }

    /// Its English name in the standard, e.g. `US Dollar`.
    pub fn name(self) -> &'static str {
        TABLE
            .binary_search_by(|(known, _, _)| (*known).cmp(self.code))
            .ok()
            .and_then(|place| TABLE.get(place))
            .map_or(self.code, |&(_, _, name)| name)
    }

    /// Its sign where one means this currency only, else its code.
    pub fn sign(self) -> &'static str {
        SIGNS.iter().find(|(code, _)| *code == self.code).map_or(self.code, |&(_, sign)| sign)
    }

    /// The smallest amount that changes hands: 0.01 for USD, 1 for JPY, 0.001 for KWD.
    pub fn minor_unit(self) -> Decimal {
        Decimal::new(1, self.digits())
    }

    /// Rounds half away from zero to the minor unit, as a document line or a ticket is.
    pub fn round(self, amount: Decimal) -> Decimal {
        exact::round_away(amount, self.digits())
    }
}

/// The code.
impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.code)
    }
}

impl Serialize for Currency {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.code)
    }
}

// Written by hand: the derived one would ask that the text it reads from live as long as the program, for the sake of
// the field `code`.
impl<'de> Deserialize<'de> for Currency {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let code = String::deserialize(deserializer)?;
        Self::from_code(&code).map_err(de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_in_order_of_code_and_has_no_double() {
        assert!(TABLE.windows(2).all(|pair| pair[0].0 < pair[1].0));
        assert!(TABLE.iter().all(|row| row.0.len() == 3 && row.1 <= 4 && !row.2.is_empty()));
        assert_eq!(TABLE.len(), 165);
    }

    #[test]
    fn every_currency_is_found_by_its_code_and_only_by_it() {
        for currency in Currency::all() {
            assert_eq!(Currency::from_code(currency.code()), Ok(currency));
        }
        for wrong in ["", "usd", "US", "USDX", "XAU", "XXX", "€"] {
            assert_eq!(Currency::from_code(wrong), Err(UnknownCurrency(wrong.to_owned())));
        }
    }

    #[test]
    fn no_sign_stands_for_two_currencies() {
        let mut signs: Vec<_> = Currency::all().map(Currency::sign).collect();
        let many = signs.len();
        signs.sort_unstable();
        signs.dedup();
        assert_eq!(signs.len(), many);
        assert!(SIGNS.iter().all(|(code, _)| Currency::from_code(code).is_ok()));
    }
}
