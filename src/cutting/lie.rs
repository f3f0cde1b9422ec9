//! Blanks on a sheet while a layout is made, measured at full precision.

use super::plane::{Bounds, Point, ROUNDING_MM, apart, length, minus, moved, turned};
use super::shape::Shape;

/// A blank on the sheet: its middle, turned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spot {
    /// Which of the outlines.
    pub(super) which: usize,
    /// How far it is turned, radians.
    pub(super) turn: f64,
    /// Where its middle lies.
    pub(super) at: Point,
}

/// The sheet and the outlines.
#[derive(Debug)]
pub(super) struct Sheet {
    /// The outlines made ready.
    pub(super) shapes: Vec<Shape>,
    /// Its sides.
    pub(super) size: Point,
    /// The kerf.
    pub(super) kerf: f64,
    /// The margin.
    pub(super) margin: f64,
}

impl Sheet {
    /// The least gap between two blanks of those outlines.
    pub(super) fn gap(&self, one: usize, other: usize) -> f64 {
        self.kerf + self.slack(one) + self.slack(other)
    }

    fn slack(&self, which: usize) -> f64 {
        self.shapes.get(which).map_or(0.0, |shape| shape.slack)
    }

    /// Where a blank of that outline may lie.
    pub(super) fn region(&self, which: usize) -> Bounds {
        let margin = self.margin + self.slack(which);
        Bounds { low: [margin, margin], high: minus(self.size, [margin, margin]) }
    }
}

/// Blanks that lie on a sheet.
#[derive(Debug, Clone)]
pub(super) struct Lie<'a> {
    sheet: &'a Sheet,
    blanks: Vec<(Spot, Vec<Point>, Bounds)>,
}

impl<'a> Lie<'a> {
    /// An empty sheet.
    pub(super) fn new(sheet: &'a Sheet) -> Self {
        Self { sheet, blanks: Vec::new() }
    }

    /// A sheet with those of the blanks that clear each other, in order.
    pub(super) fn with(sheet: &'a Sheet, spots: &[Spot]) -> Self {
        let mut lie = Self::new(sheet);
        for &spot in spots {
            lie.put(spot);
        }
        lie
    }

    /// Puts a blank down where it is clear of margins and blanks; false where it is not.
    pub(super) fn put(&mut self, spot: Spot) -> bool {
        let Some(shape) = self.sheet.shapes.get(spot.which) else { return false };
        let ring = moved(&turned(&shape.ring, spot.turn), spot.at);
        let bounds = match shape.disc {
            Some(diameter) => Bounds { low: spot.at, high: spot.at }.grown(diameter / 2.0),
            None => Bounds::of(&ring),
        };
        let clear = self.clear(spot, shape, &ring, &bounds);
        if clear {
            self.blanks.push((spot, ring, bounds));
        }
        clear
    }

    fn clear(&self, spot: Spot, shape: &Shape, ring: &[Point], bounds: &Bounds) -> bool {
        self.sheet.region(spot.which).holds(bounds)
            && self.blanks.iter().all(|(other, other_ring, other_bounds)| {
                let gap = self.sheet.gap(spot.which, other.which);
                if !bounds.grown(gap).meets(other_bounds) {
                    return true;
                }
                let disc = self.sheet.shapes.get(other.which).and_then(|shape| shape.disc);
                match shape.disc.zip(disc) {
                    Some((one, other_one)) => {
                        length(minus(spot.at, other.at)) >= (one + other_one) / 2.0 + gap - ROUNDING_MM
                    }
                    None => apart(ring, other_ring, gap),
                }
            })
    }

    /// The blanks.
    pub(super) fn spots(&self) -> impl Iterator<Item = Spot> + '_ {
        self.blanks.iter().map(|(spot, _, _)| *spot)
    }

    /// Each blank with its ring and what is around it.
    pub(super) fn blanks(&self) -> &[(Spot, Vec<Point>, Bounds)] {
        &self.blanks
    }

    /// How many of each outline.
    pub(super) fn counts(&self) -> Vec<u32> {
        let mut counts = vec![0; self.sheet.shapes.len()];
        for spot in self.spots() {
            if let Some(count) = counts.get_mut(spot.which) {
                *count += 1;
            }
        }
        counts
    }

    /// How many in all.
    pub(super) fn len(&self) -> usize {
        self.blanks.len()
    }

    /// The sheet.
    pub(super) fn sheet(&self) -> &'a Sheet {
        self.sheet
    }
}
