//! The tickets of a design that stand ready to be accepted (costing method, section 7).

use super::answer::Costing;
use super::price_sheet::Tickets;
use crate::measure::Money;
use crate::studio::{Design, DesignId, PriceLine};

/// One line a channel that has a price, in the design's order: its own ticket, or with [`Tickets::Common`] the common
/// ticket on the retail channels. `design` is the design as it was costed.
pub fn lines(id: DesignId, design: &Design, costing: &Costing, tickets: Tickets) -> Vec<PriceLine> {
    design
        .channels
        .iter()
        .zip(&costing.channels)
        .filter_map(|(channel, price)| {
            let own = price.priced.as_ref().ok()?;
            let common = costing.common.as_ref().filter(|_| channel.retail && tickets == Tickets::Common);
            Some(PriceLine {
                design: id,
                code: design.code.clone(),
                name: design.name.clone(),
                channel: channel.id.clone(),
                channel_name: channel.name.clone(),
                ticket: common.map_or(own.ticket, |common| common.ticket),
                full_cost: Money::rounded(costing.cost.full),
                common: common.is_some(),
            })
        })
        .collect()
}
