//! How an item is bought again: what running out and the shopping list go by.

use super::pack::Pack;
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
