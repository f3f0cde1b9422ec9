//! Areas, thickness and mass (costing method, section 2). The only part of costing that uses binary floats.
#![allow(clippy::float_arithmetic)]

use super::piece::CostError;
use crate::measure::Decimal;
use crate::studio::{Blank, Outline, Thickness};

/// What the shape of one blank gives; each rounded half-even to 6 places.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BlankGeometry {
    /// Thickness, mm.
    pub thickness_mm: Decimal,
    /// Flat outline less holes, cm².
    pub flat_cm2: Decimal,
    /// Front, domed, cm².
    pub front_cm2: Decimal,
    /// Back, domed, cm².
    pub back_cm2: Decimal,
    /// Mass of metal, g.
    pub mass_g: Decimal,
}

/// Measures a blank.
pub fn measure(blank: &Blank) -> Result<BlankGeometry, CostError> {
    let _ = blank;
    Err(CostError::Geometry(String::new()))
}

/// The outline as closed rings of points in mm, flattened to 0.01 mm, for drawing: outer rings and holes alike.
pub fn rings(outline: &Outline) -> Result<Vec<Vec<[f64; 2]>>, CostError> {
    let _ = outline;
    Ok(Vec::new())
}

/// Thickness in mm at full precision of `f64`.
pub fn thickness_mm(thickness: Thickness) -> f64 {
    let _ = thickness;
    0.0
}
