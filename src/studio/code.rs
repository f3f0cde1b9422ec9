//! The short code that names a design on screen, in files and in the symbol on a tag.

use serde::{Deserialize, Serialize};
use std::fmt;

/// Why a text cannot be a design's code.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum CodeError {
    /// Empty, or longer than eight characters.
    #[error("a code has 1 to 8 characters")]
    Length,
    /// A character other than A to Z, 0 to 9 and the hyphen.
    #[error("a code is made of A to Z, 0 to 9 and -")]
    Character,
}

/// A design's code: 1 to 8 of `A`–`Z`, `0`–`9` and `-`; unique in a book.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct DesignCode(String);

impl DesignCode {
    /// Most characters a code may have: what a tag can carry beside its symbol.
    pub const MAX_LENGTH: usize = 8;

    /// Checks a text; nothing is changed, lower case is refused.
    pub fn new(text: &str) -> Result<Self, CodeError> {
        if text.is_empty() || text.chars().count() > Self::MAX_LENGTH {
            return Err(CodeError::Length);
        }
        if text.bytes().all(|byte| byte.is_ascii_uppercase() || byte.is_ascii_digit() || byte == b'-') {
            Ok(Self(text.to_owned()))
        } else {
            Err(CodeError::Character)
        }
    }

    /// The code as text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for DesignCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl TryFrom<String> for DesignCode {
    type Error = CodeError;

    fn try_from(text: String) -> Result<Self, CodeError> {
        Self::new(&text)
    }
}

impl From<DesignCode> for String {
    fn from(code: DesignCode) -> Self {
        code.0
    }
}
