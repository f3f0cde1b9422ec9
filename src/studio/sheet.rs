//! Label and tag sheets, described in millimetres.

use crate::measure::Decimal;
use serde::{Deserialize, Serialize};

/// A sheet's row in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct SheetId(pub i64);

/// The geometry of a sheet of equal labels, all lengths in millimetres.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LabelSheet {
    /// Her name for it, unique in a book.
    pub name: String,
    /// Page width.
    pub page_width_mm: Decimal,
    /// Page height.
    pub page_height_mm: Decimal,
    /// Left edge of the first label.
    pub left_mm: Decimal,
    /// Top edge of the first label.
    pub top_mm: Decimal,
    /// Label width.
    pub label_width_mm: Decimal,
    /// Label height.
    pub label_height_mm: Decimal,
    /// From the left edge of one label to that of the next.
    pub pitch_x_mm: Decimal,
    /// From the top edge of one label to that of the next.
    pub pitch_y_mm: Decimal,
    /// Labels in a row, from 1.
    pub columns: u32,
    /// Rows on a page, from 1.
    pub rows: u32,
    /// The label is a fold-over tag: its width is two halves, folded at the middle.
    pub folded: bool,
    /// A punched or strung hole at the left (or at the fold) keeps text away.
    pub hole: bool,
    /// Draw the outline and fold of each label, for cutting by hand from plain card.
    pub cut_lines: bool,
    /// The outline of a label.
    #[serde(default)]
    pub shape: LabelShape,
    /// Print short marks outside of the labels, where the rows and columns are cut.
    #[serde(default)]
    pub crop_marks: bool,
}

/// The outline of a label inside of its width and height.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Default)]
#[serde(rename_all = "kebab-case")]
pub enum LabelShape {
    /// Square corners.
    #[default]
    Rectangle,
    /// Rounded corners, with their radius in mm: above 0, at most half the shorter side.
    Rounded(Decimal),
    /// A circle, or an ellipse where width and height differ.
    Round,
    /// A fold-over barbell for jewellery: two flags at the left and right end, and a neck between them that goes around
    /// a chain or a ring. It is folded in the middle of the neck, nothing is printed on it.
    Barbell {
        /// Length of the neck, mm: above 0, and it leaves flags of at least 6 mm.
        neck_length_mm: Decimal,
        /// Height of the neck, mm: above 0, at most the label's height.
        neck_height_mm: Decimal,
    },
}
