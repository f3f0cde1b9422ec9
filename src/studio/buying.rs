//! How an item is bought again: what running out and the shopping list go by.

use crate::measure::Quantity;
use serde::{Deserialize, Serialize};

/// How an item is bought again.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Buying {
    /// Days from ordering to having it on the shelf, up to 3,650.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lead_days: Option<u32>,
    /// The pack it is sold in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pack: Option<Pack>,
    /// Fewest packs a supplier sends, 1 to 1,000,000.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minimum_order_packs: Option<u32>,
}

/// A pack as it is sold.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pack {
    /// As the supplier says it, e.g. `1 lb jar`, `pack of 50`.
    pub words: String,
    /// What one holds, in the item's unit, above 0.
    pub quantity: Quantity,
}
