//! Where pieces are sold, and on what terms.

use crate::measure::Decimal;
use serde::{Deserialize, Serialize};
use std::fmt;

/// A channel's id in a design and in a book.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct ChannelId(pub String);

impl fmt::Display for ChannelId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A way to sell with its terms; shares are decimals (0.45 is 45 %).
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Channel {
    /// Unique in its list.
    pub id: ChannelId,
    /// Its name on screen and paper.
    pub name: String,
    /// Takes part in the common ticket.
    pub retail: bool,
    /// Share of the price before tax.
    pub commission: Decimal,
    /// Share of what the buyer pays.
    pub card_fee: Decimal,
    /// Amount per sale.
    pub card_fee_fixed: Decimal,
    /// Sales tax or VAT rate.
    pub tax: Decimal,
    /// The ticket includes the tax.
    pub tax_in_price: bool,
    /// Amount per piece: packaging, share of the booth.
    pub selling_cost: Decimal,
    /// What its price must reach.
    pub target: Target,
    /// Bands of allowed tickets; empty means every multiple of the minor unit.
    pub price_points: Vec<Band>,
}

/// What a price must reach (costing method, section 6).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Target {
    /// Profit as a share of the price before tax: 0 to below 1.
    Margin(Decimal),
    /// Profit as a ratio of full cost: 0 or more.
    Markup(Decimal),
    /// Money earned an hour: 0 or more.
    Hourly(Decimal),
}

/// A band of price points: tickets are `i · step − less`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Band {
    /// The band holds for prices up to this; only the last band has none.
    pub up_to: Option<Decimal>,
    /// Distance between tickets; above 0.
    pub step: Decimal,
    /// Taken off each: 0 to below `step`.
    pub less: Decimal,
}
