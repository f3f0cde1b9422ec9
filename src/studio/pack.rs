//! How an item is bought.

use crate::measure::pack::parse_pack;
use crate::measure::{ParseProblem, Preferences, Quantity, Unit};
use serde::{Deserialize, Serialize};

/// What is bought at once.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pack {
    /// As typed, e.g. `1 lb jar`.
    pub words: String,
    /// What it holds, in the item's unit; above 0.
    pub quantity: Quantity,
}

impl Pack {
    /// The pack a person typed for an item kept in `unit`.
    ///
    /// # Errors
    /// As [`parse_pack`].
    pub fn typed(text: &str, unit: Unit, preferences: &Preferences) -> Result<Self, ParseProblem> {
        let typed = parse_pack(text, unit, preferences)?;
        Ok(Self { words: typed.text, quantity: typed.quantity })
    }
}
