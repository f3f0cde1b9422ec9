//! Whether an accepted ticket still holds: against today's cost and today's ticket (costing method, sections 6 and 7).

use super::answer::Costing;
use super::price::at_ticket;
use crate::measure::{Decimal, TooLarge};
use crate::studio::{Design, PriceLine};

/// How an accepted ticket stands today.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// It is today's ticket.
    Holds,
    /// Today's ticket is another.
    OutOfDate {
        /// Today's ticket.
        ticket: Decimal,
    },
    /// At the accepted ticket a piece brings less than its full cost.
    UnderCost {
        /// What is missing on each piece, money; above 0.
        short: Decimal,
    },
}

/// How an accepted ticket of a design stands; `None` where the design has no such channel, or the channel no price
/// today. `design` is the design as it is costed today, `costing` its answer.
pub fn standing(design: &Design, costing: &Costing, line: &PriceLine) -> Result<Option<Standing>, TooLarge> {
    let Some(channel) = design.channels.iter().find(|channel| channel.id == line.channel) else { return Ok(None) };
    let then = at_ticket(&costing.cost, channel, line.ticket)?;
    if then.profit.is_sign_negative() && !then.profit.is_zero() {
        return Ok(Some(Standing::UnderCost { short: -then.profit }));
    }
    let own = costing
        .channels
        .iter()
        .find(|price| price.id == line.channel)
        .and_then(|price| price.priced.as_ref().ok())
        .map(|priced| priced.ticket);
    let common = costing.common.as_ref().filter(|_| line.common).map(|common| common.ticket);
    Ok(common.or(own).map(
        |ticket| {
            if ticket == line.ticket { Standing::Holds } else { Standing::OutOfDate { ticket } }
        },
    ))
}
