//! The cost of a good piece (costing method, sections 2 to 4).

use crate::measure::{Decimal, TooLarge};
use crate::studio::{Design, MaterialId};

/// Why a design cannot be costed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CostError {
    /// A number grows past 28 digits.
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
    /// The outline is not one, or its holes leave nothing.
    #[error("blank: {0}")]
    Geometry(String),
    /// The route has no firing.
    #[error("the route has no firing")]
    NoFiring,
    /// No piece, or losses that leave none.
    #[error("no good piece is left at the end of the route")]
    NothingLeft,
    /// A step names a material that the design does not have.
    #[error("step {step}: no material {material}")]
    NoMaterial {
        /// The step, from 1.
        step: usize,
        /// The id it names.
        material: MaterialId,
    },
    /// Fewer firings than the route allows.
    #[error("only {fewest} firings or more: step {step} coats the piece before its last firing")]
    TooFewFirings {
        /// The fewest allowed.
        fewest: u32,
        /// The coat that stands in the way, from 1.
        step: usize,
    },
}

/// What one good piece costs and how it comes about. Money per good piece unless said otherwise.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceCost {
    /// Thickness of the metal, mm, 6 places.
    pub thickness_mm: Decimal,
    /// One blank's front, domed, holes off, cm², 6 places.
    pub front_cm2: Decimal,
    /// One blank's back, cm², 6 places.
    pub back_cm2: Decimal,
    /// One blank's mass, g, 6 places.
    pub mass_g: Decimal,
    /// Pieces started.
    pub pieces: u32,
    /// Good pieces expected.
    pub good: Decimal,
    /// Firings on the route.
    pub firings: u32,
    /// Bench hours per good piece, losses included.
    pub hours_per_good_piece: Decimal,
    /// Materials as if nothing were lost.
    pub materials: Decimal,
    /// Labour as if nothing were lost.
    pub labour: Decimal,
    /// Kiln energy as if nothing were lost.
    pub kiln_energy: Decimal,
    /// Kiln wear as if nothing were lost.
    pub kiln_wear: Decimal,
    /// Overhead as if nothing were lost.
    pub overhead: Decimal,
    /// What losses add: full cost less the five lines above.
    pub loss_allowance: Decimal,
    /// Full cost.
    pub full: Decimal,
    /// Full cost with the labour rate at zero.
    pub out_of_pocket: Decimal,
    /// Scrap credit per good piece.
    pub scrap_credit: Decimal,
    /// Each step's share, in order; with `scrap_credit` taken off they add up to `full`.
    pub steps: Vec<StepCost>,
    /// Enamel one piece that passes every coat uses, g, in the order of the design's materials.
    pub enamel_g_per_piece: Vec<(MaterialId, Decimal)>,
    /// What one piece costs in materials, line by line as if nothing were lost, in route order.
    pub material_lines: Vec<MaterialLine>,
}

/// One step with the pieces that really enter it; money divided by the good pieces of the batch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepCost {
    /// Pieces entering.
    pub entering: Decimal,
    /// Loads of the kiln; 0 for other steps.
    pub loads: Decimal,
    /// Bench hours of the batch.
    pub hours: Decimal,
    /// Materials.
    pub materials: Decimal,
    /// Labour.
    pub labour: Decimal,
    /// Overhead.
    pub overhead: Decimal,
    /// Kiln energy.
    pub kiln_energy: Decimal,
    /// Kiln wear.
    pub kiln_wear: Decimal,
    /// The five together: the width of the step on the route.
    pub total: Decimal,
}

/// One use of a material by a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MaterialLine {
    /// The step, from 1.
    pub step: usize,
    /// The material.
    pub material: MaterialId,
    /// Quantity per piece in the material's unit.
    pub quantity: Decimal,
    /// Price of a unit.
    pub price: Decimal,
    /// Quantity × price.
    pub cost: Decimal,
}

/// Costs a design.
pub fn piece_cost(design: &Design) -> Result<PieceCost, CostError> {
    let _ = design;
    Err(CostError::NoFiring)
}
