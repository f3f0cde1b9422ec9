//! A place as it is seen by what stands in it: upright, from its own top left corner.

use super::super::page::{Rect, turned};
use crate::studio::{Across, Down, Turn};

/// A turned place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Local {
    pub(super) turn: Turn,
    /// Its own width and height, mm.
    pub(super) width: f64,
    pub(super) height: f64,
    /// Where its own top left corner stands on the paper.
    origin: [f64; 2],
}

impl Local {
    pub(super) fn of(place: &Rect, turn: Turn) -> Self {
        let (left, top, right, bottom) = (place.x_mm, place.y_mm, place.right_mm(), place.bottom_mm());
        let upright = matches!(turn, Turn::None | Turn::Half);
        let (width, height) =
            if upright { (place.width_mm, place.height_mm) } else { (place.height_mm, place.width_mm) };
        let origin = match turn {
            Turn::None => [left, top],
            Turn::Quarter => [right, top],
            Turn::Half => [right, bottom],
            Turn::ThreeQuarters => [left, bottom],
        };
        Self { turn, width, height, origin }
    }

    /// A point of it on the paper.
    pub(super) fn at(&self, point: [f64; 2]) -> [f64; 2] {
        let ([x, y], [dx, dy]) = (self.origin, turned(point, self.turn));
        [x + dx, y + dy]
    }

    /// A rectangle of it on the paper.
    pub(super) fn rect(&self, rect: &Rect) -> Rect {
        let [one_x, one_y] = self.at([rect.x_mm, rect.y_mm]);
        let [other_x, other_y] = self.at([rect.right_mm(), rect.bottom_mm()]);
        Rect {
            x_mm: one_x.min(other_x),
            y_mm: one_y.min(other_y),
            width_mm: (one_x - other_x).abs(),
            height_mm: (one_y - other_y).abs(),
        }
    }

    /// Where a thing of a size stands in it.
    pub(super) fn aligned(&self, [width, height]: [f64; 2], across: Across, down: Down) -> [f64; 2] {
        [(self.width - width) * share_across(across), (self.height - height) * share_down(down)]
    }
}

pub(super) const fn share_across(across: Across) -> f64 {
    match across {
        Across::Left => 0.0,
        Across::Middle => 0.5,
        Across::Right => 1.0,
    }
}

pub(super) const fn share_down(down: Down) -> f64 {
    match down {
        Down::Top => 0.0,
        Down::Middle => 0.5,
        Down::Bottom => 1.0,
    }
}
