//! A price per channel (costing method, sections 6 and 7).

use super::piece::PieceCost;
use super::points;
use crate::measure::exact::{add, div, mul, sub, sum};
use crate::measure::{Decimal, TooLarge, exact};
use crate::studio::{Channel, ChannelId, Design, Target};

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
///
/// # Errors
/// [`TooLarge`] where the channel's own terms do not fit in 28 digits; a price that does not is told in
/// [`ChannelPrice::priced`], so that the other channels keep theirs.
pub fn channel_price(cost: &PieceCost, channel: &Channel, minor_digits: u32) -> Result<ChannelPrice, TooLarge> {
    let terms = Terms::of(channel)?;
    let id = channel.id.clone();
    if terms.left <= Decimal::ZERO {
        let nothing = terms.nothing_left(channel)?;
        return Ok(ChannelPrice { id, floor: None, cash_floor: None, priced: Err(nothing) });
    }
    let floor = terms.price_for(cost.full, terms.left).ok();
    let cash_floor = terms.price_for(cost.out_of_pocket, terms.left).ok();
    Ok(ChannelPrice { id, floor, cash_floor, priced: priced(cost, channel, &terms, minor_digits) })
}

/// Why no price of any design reaches a channel's target, where its fees alone, or its fees and its margin, take all of
/// the price before tax.
pub fn obstacle(channel: &Channel) -> Option<PriceError> {
    let look = || -> Result<(), PriceError> {
        let terms = Terms::of(channel)?;
        if terms.left <= Decimal::ZERO {
            return Err(terms.nothing_left(channel)?);
        }
        if let Target::Margin(margin) = channel.target {
            let _ = terms.left_after(margin, channel)?;
        }
        Ok(())
    };
    look().err()
}

/// The figures a given ticket brings on a channel: price before tax, profit, margin, earned per hour (`exact` is the
/// price before tax itself).
///
/// # Errors
/// [`TooLarge`] where a figure does not fit in 28 digits.
pub fn at_ticket(cost: &PieceCost, channel: &Channel, ticket: Decimal) -> Result<Priced, TooLarge> {
    let with_tax = add(Decimal::ONE, channel.tax)?;
    let (before_tax, paid) =
        if channel.tax_in_price { (div(ticket, with_tax)?, ticket) } else { (ticket, mul(ticket, with_tax)?) };
    let fees = sum([
        mul(channel.commission, before_tax)?,
        mul(channel.card_fee, paid)?,
        channel.card_fee_fixed,
        channel.selling_cost,
    ])?;
    let net = sub(before_tax, fees)?;
    let profit = sub(net, cost.full)?;
    let margin = if before_tax.is_zero() { None } else { Some(div(profit, before_tax)?) };
    let earned = sub(net, cost.out_of_pocket)?;
    let hours = cost.hours_per_good_piece;
    let earned_per_hour = if hours.is_zero() { None } else { Some(div(earned, hours)?) };
    Ok(Priced { exact: before_tax, ticket, price_before_tax: before_tax, profit, margin, earned_per_hour })
}

/// The common ticket of a design's retail channels, compared as the tickets show it; on a tie the earlier channel sets
/// it. None without a retail channel that has a price.
pub fn common_ticket(design: &Design, prices: &[ChannelPrice]) -> Option<CommonTicket> {
    let mut common: Option<CommonTicket> = None;
    for (channel, price) in design.channels.iter().zip(prices) {
        let Ok(priced) = &price.priced else { continue };
        if channel.retail && common.as_ref().is_none_or(|highest| priced.ticket > highest.ticket) {
            common = Some(CommonTicket { ticket: priced.ticket, channel: channel.id.clone() });
        }
    }
    common
}

/// What each retail channel of a design brings at the common ticket, whatever its own price points. A channel whose
/// own target cannot be reached takes no part; other channels are none too.
///
/// # Errors
/// [`TooLarge`] where a figure does not fit in 28 digits.
pub fn at_common_ticket(
    design: &Design,
    cost: &PieceCost,
    prices: &[ChannelPrice],
) -> Result<Vec<Option<Priced>>, TooLarge> {
    let Some(common) = common_ticket(design, prices) else {
        return Ok(vec![None; prices.len()]);
    };
    let takes_part = |(channel, price): (&Channel, &ChannelPrice)| channel.retail && price.priced.is_ok();
    design
        .channels
        .iter()
        .zip(prices)
        .map(|pair| if takes_part(pair) { at_ticket(cost, pair.0, common.ticket).map(Some) } else { Ok(None) })
        .collect()
}

/// A channel's fees as shares of the price before tax, and as an amount a piece.
struct Terms {
    /// Card fee on what the buyer pays, as a share of the price before tax.
    card_fee: Decimal,
    /// What commission and card fee leave of the price before tax: `a` of the method.
    left: Decimal,
    /// Fixed fee and selling cost.
    fixed: Decimal,
}

impl Terms {
    fn of(channel: &Channel) -> Result<Self, TooLarge> {
        let card_fee = mul(channel.card_fee, add(Decimal::ONE, channel.tax)?)?;
        let left = sub(sub(Decimal::ONE, channel.commission)?, card_fee)?;
        Ok(Self { card_fee, left, fixed: add(channel.card_fee_fixed, channel.selling_cost)? })
    }

    /// The price before tax whose share `left` pays an amount and the fixed fees.
    fn price_for(&self, amount: Decimal, left: Decimal) -> Result<Decimal, TooLarge> {
        div(add(amount, self.fixed)?, left)
    }

    /// Says that the fees leave nothing.
    fn nothing_left(&self, channel: &Channel) -> Result<PriceError, TooLarge> {
        Ok(PriceError::FeesLeaveNothing(format!(
            "{} take {} of the price before tax, which leaves nothing of any price",
            self.named(channel),
            percent(sub(Decimal::ONE, self.left)?)
        )))
    }

    /// What a margin leaves of the price before tax besides the fees; above 0.
    fn left_after(&self, margin: Decimal, channel: &Channel) -> Result<Decimal, PriceError> {
        let left = sub(self.left, margin)?;
        if left > Decimal::ZERO {
            return Ok(left);
        }
        let fees = self.named(channel);
        let (joint, take) = if fees.is_empty() { ("", "takes") } else { (" and ", "take") };
        Err(PriceError::TargetOutOfReach(format!(
            "{fees}{joint}a margin of {} {take} {} of the price before tax: no price reaches the target",
            percent(margin),
            percent(sub(Decimal::ONE, left)?),
        )))
    }

    /// The fees in words, with what each takes of the price before tax.
    fn named(&self, channel: &Channel) -> String {
        let mut fees = Vec::new();
        if !channel.commission.is_zero() {
            fees.push(format!("commission {}", percent(channel.commission)));
        }
        if !channel.card_fee.is_zero() {
            let on_tax = if channel.tax.is_zero() {
                String::new()
            } else {
                format!(
                    " ({} of what the buyer pays, {} tax included)",
                    percent(channel.card_fee),
                    percent(channel.tax)
                )
            };
            fees.push(format!("card fee {}{on_tax}", percent(self.card_fee)));
        }
        fees.join(" and ")
    }
}

fn priced(cost: &PieceCost, channel: &Channel, terms: &Terms, minor_digits: u32) -> Result<Priced, PriceError> {
    let exact = match channel.target {
        Target::Margin(margin) => terms.price_for(cost.full, terms.left_after(margin, channel)?)?,
        Target::Markup(markup) => terms.price_for(mul(cost.full, add(Decimal::ONE, markup)?)?, terms.left)?,
        Target::Hourly(hourly) => {
            let wanted = mul(hourly, cost.hours_per_good_piece)?;
            terms.price_for(add(cost.out_of_pocket, wanted)?, terms.left)?
        }
    };
    let shown = if channel.tax_in_price { mul(exact, add(Decimal::ONE, channel.tax)?)? } else { exact };
    let ticket = points::ticket(shown, &channel.price_points, minor_digits)?;
    Ok(Priced { exact, ..at_ticket(cost, channel, ticket)? })
}

/// A share as a percentage of at most four decimals.
fn percent(share: Decimal) -> String {
    match mul(share, Decimal::ONE_HUNDRED) {
        Ok(hundredfold) => format!("{} %", exact::round(hundredfold, 4).normalize()),
        Err(TooLarge) => format!("{share} times"),
    }
}

#[cfg(test)]
mod tests;
