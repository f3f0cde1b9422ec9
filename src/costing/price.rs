//! A price per channel (costing method, sections 6 and 7).

use super::piece::PieceCost;
use crate::measure::{Decimal, TooLarge};
use crate::studio::{Channel, ChannelId, Design};

/// Why a channel has no price.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PriceError {
    /// Fees alone leave nothing of any price. The text names the fees.
    #[error("{0}")]
    FeesLeaveNothing(String),
    /// The target asks for more than the fees leave. The text names both.
    #[error("{0}")]
    TargetOutOfReach(String),
    /// A number grows past 28 digits.
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
}

/// A channel's prices for one design.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChannelPrice {
    /// The channel.
    pub id: ChannelId,
    /// Price before tax with no profit; none where fees leave nothing.
    pub floor: Option<Decimal>,
    /// Price before tax that returns the money spent; none where fees leave nothing.
    pub cash_floor: Option<Decimal>,
    /// The ticket and what it brings, or why there is none.
    pub priced: Result<Priced, PriceError>,
}

/// A ticket and the figures computed back from it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Priced {
    /// The price before tax that just reaches the target.
    pub exact: Decimal,
    /// What the ticket shows.
    pub ticket: Decimal,
    /// The ticket without tax.
    pub price_before_tax: Decimal,
    /// Profit per piece.
    pub profit: Decimal,
    /// Profit as a share of the price before tax; none where that is zero.
    pub margin: Option<Decimal>,
    /// Money earned an hour; none where the hours are zero.
    pub earned_per_hour: Option<Decimal>,
}

/// The one ticket of all retail channels.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CommonTicket {
    /// The highest retail ticket.
    pub ticket: Decimal,
    /// The channel that sets it.
    pub channel: ChannelId,
}

/// Prices one channel of a costed design.
pub fn channel_price(cost: &PieceCost, channel: &Channel, minor_digits: u32) -> Result<ChannelPrice, TooLarge> {
    let _ = (cost, channel, minor_digits);
    Err(TooLarge)
}

/// The figures a given ticket brings on a channel: price before tax, profit, margin, earned per hour (`exact` is the
/// price before tax itself).
pub fn at_ticket(cost: &PieceCost, channel: &Channel, ticket: Decimal) -> Result<Priced, TooLarge> {
    let _ = (cost, channel, ticket);
    Err(TooLarge)
}

/// The common ticket of a design's retail channels; none without one that has a price.
pub fn common_ticket(design: &Design, prices: &[ChannelPrice]) -> Option<CommonTicket> {
    let _ = (design, prices);
    None
}
