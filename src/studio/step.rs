//! The steps of a route.

use super::design::MaterialId;
use crate::measure::Decimal;
use serde::{Deserialize, Serialize};

/// One step of a route.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Step {
    /// What is done, and what only this kind of step has.
    pub kind: StepKind,
    /// Its name on the route.
    pub name: String,
    /// Minutes once per batch.
    pub setup_minutes: Decimal,
    /// Minutes per piece entering.
    pub minutes_per_piece: Decimal,
    /// Share of the pieces entering that leave it good: above 0, at most 1.
    pub good: Decimal,
    /// Materials per piece entering, besides a coat's enamel.
    pub uses: Vec<Use>,
}

/// A quantity of a material used by each piece entering a step.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Use {
    /// The material, by its id in the design.
    pub material: MaterialId,
    /// Quantity in the material's unit.
    pub quantity: Decimal,
}

/// The kinds of step.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StepKind {
    /// Saw, dome, solder, first cleaning.
    Prepare,
    /// Scrub, pickle or stone.
    Clean,
    /// Sift, stencil or wet-pack a coat of enamel.
    Coat(Coat),
    /// Let the coat dry.
    Dry,
    /// A firing.
    Fire(Firing),
    /// Polish or stone the finished surface.
    Finish,
    /// Findings and chain.
    Assemble,
    /// Box, tag and card.
    Pack,
}

impl StepKind {
    /// The name in design files.
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Prepare => "prepare",
            Self::Clean => "clean",
            Self::Coat(_) => "coat",
            Self::Dry => "dry",
            Self::Fire(_) => "fire",
            Self::Finish => "finish",
            Self::Assemble => "assemble",
            Self::Pack => "pack",
        }
    }
}

/// The side of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Side {
    /// The side that is seen.
    Front,
    /// The side that carries the counter enamel.
    Back,
}

/// A coat of enamel.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Coat {
    /// The side it lies on.
    pub side: Side,
    /// The enamel, by its id in the design; an enamel kept in grams.
    pub material: MaterialId,
    /// Share of the side the enamel lands on: above 0, at most 1.
    pub coverage: Decimal,
    /// Milligrams per cm² where it lands.
    pub coat_mg_per_cm2: Decimal,
    /// Enamel that misses the piece, as a share of what lands on it.
    pub overspray: Decimal,
    /// Share of the overspray that goes clean back into its jar: 0 to 1.
    pub reclaimed: Decimal,
}

/// A firing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Firing {
    /// Kiln temperature, °C.
    pub celsius: Decimal,
    /// Minutes in the heat.
    pub minutes: Decimal,
    /// Pieces that share a load, from 1.
    pub pieces_per_load: u32,
    /// Minutes of attention per load.
    pub attended_minutes_per_load: Decimal,
}
