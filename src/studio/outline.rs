//! The outline of a blank, flat, before it is domed or drilled.

use crate::measure::Decimal;
use serde::{Deserialize, Serialize};

/// An outline; all lengths are millimetres and above zero unless said otherwise.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "shape", rename_all = "kebab-case")]
pub enum Outline {
    /// A disc.
    Disc {
        /// Diameter.
        diameter_mm: Decimal,
    },
    /// An ellipse by its full length and width.
    Ellipse {
        /// Full length.
        length_mm: Decimal,
        /// Full width.
        width_mm: Decimal,
    },
    /// A rectangle with rounded corners.
    Rectangle {
        /// Length.
        length_mm: Decimal,
        /// Width.
        width_mm: Decimal,
        /// Corner radius, 0 to half the shorter side.
        corner_mm: Decimal,
    },
    /// A circle of diameter `width_mm` with two tangents meeting in a point `height_mm` above its far side.
    Drop {
        /// Point to the far side of the circle; greater than the width.
        height_mm: Decimal,
        /// Diameter of the circle.
        width_mm: Decimal,
    },
    /// A polygon by its corners, in order; it does not cross itself.
    Polygon {
        /// The corners, millimetres; coordinates may be negative.
        points_mm: Vec<[Decimal; 2]>,
    },
    /// An SVG 1.1 path in millimetres; sub-paths inside another are holes by even-odd.
    Path {
        /// The path data.
        svg: String,
    },
}
