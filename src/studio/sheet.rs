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
}
