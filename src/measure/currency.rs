//! The currencies of ISO 4217.

use serde::{Deserialize, Serialize};
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

/// Code and number of decimals.
const TABLE: &[(&str, u8)] = &[("CHF", 2), ("EUR", 2), ("GBP", 2), ("JPY", 0), ("KWD", 3), ("USD", 2)];

impl Currency {
    /// The currency of that code, upper case.
    pub fn from_code(code: &str) -> Result<Self, UnknownCurrency> {
        TABLE
            .iter()
            .find(|(known, _)| *known == code)
            .map(|&(code, digits)| Self { code, digits })
            .ok_or_else(|| UnknownCurrency(code.to_owned()))
    }

    /// The three-letter code.
    pub const fn code(self) -> &'static str {
        self.code
    }

    /// Decimals of its minor unit.
    pub const fn digits(self) -> u32 {
        self.digits as u32
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code)
    }
}

impl Serialize for Currency {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.code)
    }
}

impl<'de> Deserialize<'de> for Currency {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let code = String::deserialize(deserializer)?;
        Self::from_code(&code).map_err(serde::de::Error::custom)
    }
}
