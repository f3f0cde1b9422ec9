//! More and fewer firings (costing method, section 8).

use super::answer::Costing;
use super::piece::CostError;
use crate::studio::Design;

/// The design with that many firings.
pub fn with_firings(design: &Design, firings: u32) -> Result<Design, CostError> {
    let _ = firings;
    Ok(design.clone())
}

/// The fewest firings the route allows.
pub fn fewest_firings(design: &Design) -> u32 {
    let _ = design;
    1
}

/// One point of the curve.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RefirePoint {
    /// Firings.
    pub firings: u32,
    /// The whole answer at that count.
    pub costing: Costing,
}

/// Cost and tickets from the fewest firings allowed to `most`.
pub fn refire_curve(design: &Design, most: u32) -> Result<Vec<RefirePoint>, CostError> {
    let _ = (design, most);
    Ok(Vec::new())
}
