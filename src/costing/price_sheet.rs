//! All designs × channels: one row a design, each with its whole answer.

use super::accept;
use super::answer::{Costing, costing};
use super::piece::CostError;
use super::price::{ChannelPrice, Priced, at_ticket};
use crate::measure::{Decimal, TooLarge, exact};
use crate::studio::{Channel, ChannelId, Design, DesignId, PriceLine};

/// One design with its answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PriceRow {
    /// Its row in the book.
    pub id: DesignId,
    /// The design as it was costed.
    pub design: Design,
    /// Cost, prices and cautions, or why there are none.
    pub answer: Result<Costing, CostError>,
}

impl PriceRow {
    /// Costs and prices a design.
    pub fn new(id: DesignId, design: Design) -> Self {
        let answer = costing(&design);
        Self { id, design, answer }
    }

    /// The design's channels with their prices, in order; empty where the design cannot be costed.
    pub fn channels(&self) -> impl Iterator<Item = (&Channel, &ChannelPrice)> {
        let prices = self.answer.as_ref().map_or(&[][..], |costing| &costing.channels);
        self.design.channels.iter().zip(prices)
    }

    /// What a channel charges: its own ticket, or for a retail channel the common one, with the figures computed back
    /// from it. None where the channel has no price.
    pub fn offered(&self, channel: &ChannelId, tickets: Tickets) -> Option<Priced> {
        let costing = self.answer.as_ref().ok()?;
        let (terms, price) = self.channels().find(|(terms, _)| terms.id == *channel)?;
        let own = price.priced.as_ref().ok()?;
        match (tickets, &costing.common) {
            (Tickets::Common, Some(common)) if terms.retail => at_ticket(&costing.cost, terms, common.ticket).ok(),
            _ => Some(own.clone()),
        }
    }

    /// The lines a price list takes from this row.
    pub fn lines(&self, tickets: Tickets) -> Vec<PriceLine> {
        let Ok(costing) = &self.answer else { return Vec::new() };
        accept::lines(self.id, &self.design, costing, tickets)
    }
}

/// Which tickets are meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tickets {
    /// Each channel its own.
    Own,
    /// One ticket on all retail channels.
    Common,
}

/// True where a ticket does not bring back full cost.
pub fn is_under_cost(priced: &Priced) -> bool {
    priced.profit < Decimal::ZERO
}

/// What is taken off a sale, per piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Deductions {
    /// Tax on the price.
    pub tax: Decimal,
    /// Commission.
    pub commission: Decimal,
    /// Card fee in proportion to what the buyer pays.
    pub card_fee: Decimal,
}

/// What a channel takes off a price before tax (costing method, section 6): `t·L`, `c·L` and `f·L·(1 + t)`.
pub fn deductions(channel: &Channel, price_before_tax: Decimal) -> Result<Deductions, TooLarge> {
    let tax = exact::mul(price_before_tax, channel.tax)?;
    Ok(Deductions {
        tax,
        commission: exact::mul(price_before_tax, channel.commission)?,
        card_fee: exact::mul(exact::add(price_before_tax, tax)?, channel.card_fee)?,
    })
}
