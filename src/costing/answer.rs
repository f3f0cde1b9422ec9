//! The whole answer about a design, and its JSON form (the `cost` command's answer).

use super::cautions::{Caution, cautions};
use super::geometry::{self, BlankGeometry};
use super::piece::{CostError, PieceCost, piece_cost_with};
use super::price::{ChannelPrice, CommonTicket, channel_price, common_ticket};
use crate::measure::{Decimal, exact};
use crate::studio::{Design, MaterialId};
use serde::ser::{Serialize, SerializeMap, Serializer};

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
///
/// # Errors
/// As [`super::piece_cost`].
pub fn costing(design: &Design) -> Result<Costing, CostError> {
    costing_with(design, &geometry::measure(&design.blank)?)
}

/// Costs, prices and checks a design whose blank has been measured already; for edits that leave the blank alone.
///
/// # Errors
/// As [`super::piece_cost`].
pub fn costing_with(design: &Design, blank: &BlankGeometry) -> Result<Costing, CostError> {
    let cost = piece_cost_with(design, blank)?;
    let digits = design.currency.digits();
    let channels =
        design.channels.iter().map(|channel| channel_price(&cost, channel, digits)).collect::<Result<Vec<_>, _>>()?;
    let common = common_ticket(design, &channels);
    Ok(Costing { cost, channels, common, cautions: cautions(design) })
}

/// The answer as the JSON text of the design-file specification: every amount a text of the exact decimal rounded
/// half-even to 8 places.
pub fn to_json(design: &Design, costing: &Costing) -> String {
    let cost = &costing.cost;
    let answer = Answer {
        design: design.code.as_str(),
        currency: design.currency.code(),
        pieces: cost.pieces.to_string(),
        good: Amount(cost.good),
        firings: cost.firings,
        hours_per_good_piece: Amount(cost.hours_per_good_piece),
        blank: BlankAnswer {
            thickness_mm: Amount(cost.thickness_mm),
            front_cm2: Amount(cost.front_cm2),
            back_cm2: Amount(cost.back_cm2),
            mass_g: Amount(cost.mass_g),
        },
        enamel_g_per_piece: EnamelAnswer(&cost.enamel_g_per_piece),
        per_good_piece: PieceAnswer {
            materials: Amount(cost.materials),
            labour: Amount(cost.labour),
            kiln_energy: Amount(cost.kiln_energy),
            kiln_wear: Amount(cost.kiln_wear),
            overhead: Amount(cost.overhead),
            loss_allowance: Amount(cost.loss_allowance),
            full: Amount(cost.full),
            out_of_pocket: Amount(cost.out_of_pocket),
        },
        channels: costing.channels.iter().map(ChannelAnswer::of).collect(),
        common_ticket: costing
            .common
            .as_ref()
            .map(|common| CommonAnswer { ticket: Amount(common.ticket), channel: &common.channel.0 }),
        cautions: &costing.cautions,
    };
    // Text keys and numbers only: nothing in it can fail to be written.
    serde_json::to_string_pretty(&answer).unwrap_or_default()
}

/// An amount as text.
struct Amount(Decimal);

impl Serialize for Amount {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&exact::answer(self.0))
    }
}

#[derive(serde::Serialize)]
struct Answer<'a> {
    design: &'a str,
    currency: &'a str,
    pieces: String,
    good: Amount,
    firings: u32,
    hours_per_good_piece: Amount,
    blank: BlankAnswer,
    enamel_g_per_piece: EnamelAnswer<'a>,
    per_good_piece: PieceAnswer,
    channels: Vec<ChannelAnswer<'a>>,
    common_ticket: Option<CommonAnswer<'a>>,
    cautions: &'a [Caution],
}

#[derive(serde::Serialize)]
struct BlankAnswer {
    thickness_mm: Amount,
    front_cm2: Amount,
    back_cm2: Amount,
    mass_g: Amount,
}

/// Grams by material, in the design's order.
struct EnamelAnswer<'a>(&'a [(MaterialId, Decimal)]);

impl Serialize for EnamelAnswer<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for (material, grams) in self.0 {
            map.serialize_entry(&material.0, &Amount(*grams))?;
        }
        map.end()
    }
}

#[derive(serde::Serialize)]
struct PieceAnswer {
    materials: Amount,
    labour: Amount,
    kiln_energy: Amount,
    kiln_wear: Amount,
    overhead: Amount,
    loss_allowance: Amount,
    full: Amount,
    out_of_pocket: Amount,
}

#[derive(serde::Serialize)]
struct ChannelAnswer<'a> {
    id: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    floor: Option<Amount>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cash_floor: Option<Amount>,
    #[serde(flatten)]
    outcome: OutcomeAnswer,
}

#[derive(serde::Serialize)]
#[serde(untagged)]
enum OutcomeAnswer {
    Priced {
        exact: Amount,
        ticket: Amount,
        price_before_tax: Amount,
        profit: Amount,
        margin: Option<Amount>,
        earned_per_hour: Option<Amount>,
    },
    Refused {
        error: String,
    },
}

impl<'a> ChannelAnswer<'a> {
    fn of(price: &'a ChannelPrice) -> Self {
        let outcome = match &price.priced {
            Ok(priced) => OutcomeAnswer::Priced {
                exact: Amount(priced.exact),
                ticket: Amount(priced.ticket),
                price_before_tax: Amount(priced.price_before_tax),
                profit: Amount(priced.profit),
                margin: priced.margin.map(Amount),
                earned_per_hour: priced.earned_per_hour.map(Amount),
            },
            Err(error) => OutcomeAnswer::Refused { error: error.to_string() },
        };
        Self { id: &price.id.0, floor: price.floor.map(Amount), cash_floor: price.cash_floor.map(Amount), outcome }
    }
}

#[derive(serde::Serialize)]
struct CommonAnswer<'a> {
    ticket: Amount,
    channel: &'a str,
}

#[cfg(test)]
mod tests;
