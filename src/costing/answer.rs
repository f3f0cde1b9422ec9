//! The whole answer about a design, and its JSON form (the `cost` command's answer).

use super::cautions::Caution;
use super::piece::{CostError, PieceCost};
use super::price::{ChannelPrice, CommonTicket};
use crate::studio::Design;

/// Cost, prices and cautions of one design.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Costing {
    /// Cost of a good piece.
    pub cost: PieceCost,
    /// A price per channel, in the design's order.
    pub channels: Vec<ChannelPrice>,
    /// The common ticket of the retail channels.
    pub common: Option<CommonTicket>,
    /// What to be careful of.
    pub cautions: Vec<Caution>,
}

/// Costs, prices and checks a design.
pub fn costing(design: &Design) -> Result<Costing, CostError> {
    let _ = design;
    Err(CostError::NoFiring)
}

/// The answer as the JSON text of the design-file specification.
pub fn to_json(design: &Design, costing: &Costing) -> String {
    let _ = (design, costing);
    String::new()
}
