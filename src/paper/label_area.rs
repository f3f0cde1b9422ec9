//! The areas of a label that are printed on, in millimetres: all of one with square corners, the two flags of a barbell,
//! what lies inside any other outline.

use super::label_shape::Figure;
use super::page::Rect;
use super::stack::{Field, INK_INSET_MM};

/// Between a hole and text, mm.
pub(super) const HOLE_CLEAR_MM: f64 = 1.2;
/// Least margin of an area that lies inside an outline already, mm.
const MARGIN_LEAST_MM: f64 = 0.8;

/// The label without its place on the page.
#[derive(Debug, Clone, Copy)]
pub(super) struct Frame {
    pub(super) width_mm: f64,
    pub(super) height_mm: f64,
    pub(super) figure: Figure,
    pub(super) folded: bool,
    pub(super) hole: bool,
    pub(super) cut_lines: bool,
    /// How large the printer's dots are.
    pub(super) dot_mm: f64,
}

impl Frame {
    pub(super) fn size(&self) -> [f64; 2] {
        [self.width_mm, self.height_mm]
    }

    pub(super) fn margin(&self) -> f64 {
        (self.width_mm.min(self.height_mm) * 0.1).clamp(1.2, 2.5)
    }

    pub(super) fn hole_radius(&self) -> f64 {
        if self.height_mm >= 14.0 { 1.5 } else { 1.1 }
    }

    /// From the edge or fold to the hole's centre.
    pub(super) fn hole_inset(&self) -> f64 {
        let asked = self.margin() * 0.75 + self.hole_radius();
        self.figure.hole_inset(self.size(), asked, self.hole_radius(), self.margin() * 0.5)
    }

    /// From the edge or fold to where text may begin.
    pub(super) fn hole_zone(&self) -> f64 {
        if self.hole { self.hole_inset() + self.hole_radius() + HOLE_CLEAR_MM } else { self.margin() }
    }

    /// The part of the label that is printed on: all of a label with square corners, what lies inside the outline of
    /// another.
    pub(super) fn area(&self) -> Area {
        let kept = self.figure.keep_in(self.size());
        let margin = (self.margin() - kept.x_mm.min(kept.y_mm)).max(MARGIN_LEAST_MM);
        // A fold is in the middle of both; a hole at the left is as far from the label's edge.
        let zone = self.hole_zone() - if self.folded { 0.0 } else { kept.x_mm };
        Area {
            at: [kept.x_mm, kept.y_mm],
            width_mm: kept.width_mm,
            height_mm: kept.height_mm,
            margin,
            hole: self.hole && zone > margin,
            zone: if self.hole { zone.max(margin) } else { margin },
            centred: self.figure == Figure::Round,
            dot_mm: self.dot_mm,
        }
    }
}

/// A rectangle of the label that is printed on for itself; all that is laid out in it counts from its top left corner.
#[derive(Debug, Clone, Copy)]
pub(super) struct Area {
    /// Where it stands in the label.
    pub(super) at: [f64; 2],
    pub(super) width_mm: f64,
    pub(super) height_mm: f64,
    pub(super) margin: f64,
    /// A hole takes room at the left, or at the fold.
    pub(super) hole: bool,
    /// From the left, or from the fold, to where text may begin.
    pub(super) zone: f64,
    /// Lines stand in the middle.
    pub(super) centred: bool,
    /// How large the printer's dots are.
    pub(super) dot_mm: f64,
}

impl Area {
    /// A flag of a barbell.
    pub(super) fn flag(rect: &Rect, dot_mm: f64) -> Self {
        let margin = (rect.width_mm.min(rect.height_mm) * 0.1).clamp(1.2, 2.5);
        let Rect { x_mm, y_mm, width_mm, height_mm } = *rect;
        Self { at: [x_mm, y_mm], width_mm, height_mm, margin, hole: false, zone: margin, centred: false, dot_mm }
    }

    /// From so far from the left up to so far, and as high as the margins allow.
    pub(super) fn field(&self, left: f64, right: f64) -> Field {
        let bottom = self.height_mm - self.margin;
        Field { left, top: self.margin, right, bottom, floor: self.height_mm - INK_INSET_MM }
    }
}
