//! The lines a cost or price is made of, for opening a figure (costing method, sections 4 and 6).

use super::piece::{CostError, PieceCost, StepCost, piece_cost};
use super::price::Priced;
use crate::measure::exact::{self, Decimal, TooLarge};
use crate::studio::{Channel, Design};

/// The steps of a route as if nothing were lost, and what losses add to each.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Breakdown {
    /// Each step with every piece passing: its labour, overhead, energy and wear add up to the lines of the cost.
    pub without_losses: Vec<StepCost>,
    /// Full less lossless cost of each step, money per good piece; together, less the scrap credit, they are the loss
    /// allowance.
    pub losses: Vec<Decimal>,
    /// Share of the pieces started that is lost on the route, 0 to 1.
    pub lost_share: Decimal,
}

/// Takes a costed design apart.
pub fn breakdown(design: &Design, cost: &PieceCost) -> Result<Breakdown, CostError> {
    let mut lossless = design.clone();
    for step in &mut lossless.steps {
        step.good = Decimal::ONE;
    }
    let without_losses = piece_cost(&lossless)?.steps;
    let losses = cost
        .steps
        .iter()
        .zip(&without_losses)
        .map(|(with, without)| exact::sub(with.total, without.total))
        .collect::<Result<_, _>>()?;
    let pieces = Decimal::from(cost.pieces);
    let lost_share = exact::div(exact::sub(pieces, cost.good)?, pieces)?;
    Ok(Breakdown { without_losses, losses, lost_share })
}

/// From the ticket to what is earned: `net = L − commission − card fees − selling cost`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PriceLines {
    /// What the buyer pays: the price before tax and the tax.
    pub paid: Decimal,
    /// Tax on the price.
    pub tax: Decimal,
    /// Commission.
    pub commission: Decimal,
    /// Card fee by share, of what the buyer pays.
    pub card_fee: Decimal,
    /// Card fee per sale.
    pub card_fee_fixed: Decimal,
    /// Selling cost per piece.
    pub selling_cost: Decimal,
    /// What is left before the cost of the piece.
    pub net: Decimal,
    /// Net less what was spent: earned for the bench hours.
    pub earned: Decimal,
}

/// Takes a price apart.
pub fn price_lines(cost: &PieceCost, channel: &Channel, priced: &Priced) -> Result<PriceLines, TooLarge> {
    let price = priced.price_before_tax;
    let tax = exact::mul(price, channel.tax)?;
    let paid = exact::add(price, tax)?;
    let net = exact::add(priced.profit, cost.full)?;
    Ok(PriceLines {
        paid,
        tax,
        commission: exact::mul(price, channel.commission)?,
        card_fee: exact::mul(paid, channel.card_fee)?,
        card_fee_fixed: channel.card_fee_fixed,
        selling_cost: channel.selling_cost,
        net,
        earned: exact::sub(net, cost.out_of_pocket)?,
    })
}
