//! The open share of a stencil: how much of a blank lies below its openings.
//!
//! Both are flattened to rings and cut into level strips at every corner and crossing; inside a strip nothing crosses,
//! so its area is that of trapezia, without error. What is left is the flattening, which is made fine enough: a chord
//! leaves out at most its length times its distance from the curve, so with `tolerance · (openings' length + twice the
//! blank's) ≤ 0.4e-4 · the blank's area` the share is at most 0.4e-4 off before it is rounded to four places, and at
//! most 0.9e-4 after.
#![allow(clippy::float_arithmetic)]

use super::geometry;
use crate::measure::{Decimal, exact};
use crate::studio::Outline;

/// Where the stencil lies on the blank.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Lying {
    /// Both are drawn on one sheet of paper: where they are drawn is where they lie.
    #[default]
    AsDrawn,
    /// The middle of the openings' extent lies on the middle of the blank's, y downwards for both: a drop of a design
    /// has its point at the bottom.
    Centred,
}

/// Why there is no open share.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CoverageError {
    /// The blank is no outline.
    #[error("the blank: {0}")]
    Blank(String),
    /// An opening is no outline.
    #[error("opening {number} of the stencil: {reason}")]
    Opening {
        /// Which, from 1.
        number: usize,
        /// Why not.
        reason: String,
    },
    /// More pieces or crossings than can be followed.
    #[error("the stencil and the blank together are too fine to follow; accepted are simpler drawings")]
    TooFine,
}

/// Largest part of the share that flattening may be wrong by.
const FLATTENING: f64 = 0.4e-4;
/// Coarsest and finest flattening, mm.
const TOLERANCE_MM: [f64; 2] = [1e-6, 0.01];
/// Most straight pieces a ring may have at the finer flattening.
const MOST_PIECES: usize = 200_000;
/// Most comparisons: some seconds of work.
const MOST_WORK: usize = 60_000_000;

/// The share of the blank that lies below an opening, 0 to 1, rounded half-even to 4 places; within 1e-4 of the true
/// one. Openings that overlap count once; what lies inside an opening's own ring is closed by even-odd.
///
/// # Errors
/// [`CoverageError`] where the blank or an opening is no outline, or both together are too fine to follow.
pub fn open_share(openings: &[Outline], blank: &Outline, lying: Lying) -> Result<Decimal, CoverageError> {
    let share = share(openings, blank, lying)?;
    let share = exact::from_geometry(share.clamp(0.0, 1.0)).ok_or(CoverageError::TooFine)?;
    Ok(exact::round(share, 4).normalize())
}

fn share(openings: &[Outline], blank: &Outline, lying: Lying) -> Result<f64, CoverageError> {
    let area = geometry::outline_area_mm2(blank).map_err(CoverageError::Blank)?;
    for (index, opening) in openings.iter().enumerate() {
        geometry::outline_area_mm2(opening).map_err(|reason| CoverageError::Opening { number: index + 1, reason })?;
    }
    let [finest, coarsest] = TOLERANCE_MM;
    let draw = |tolerance_mm: f64| -> Result<(Rings, Vec<Rings>), CoverageError> {
        let follow = |outline: &Outline| {
            geometry::rings_to(outline, tolerance_mm, MOST_PIECES).map_err(|_| CoverageError::TooFine)
        };
        let openings: Result<Vec<Rings>, CoverageError> = openings.iter().map(follow).collect();
        Ok((follow(blank)?, openings?))
    };
    let (coarse_blank, coarse_openings) = draw(coarsest)?;
    let reach = coarse_openings.iter().map(|rings| length(rings)).sum::<f64>() + 2.0 * length(&coarse_blank);
    let (blank, openings) = draw((FLATTENING * area / reach).clamp(finest, coarsest))?;
    let shift = match (lying, middle(&openings), middle(std::slice::from_ref(&blank))) {
        (Lying::Centred, Some([from_x, from_y]), Some([to_x, to_y])) => [to_x - from_x, to_y - from_y],
        _ => [0.0, 0.0],
    };
    let mut edges = Vec::new();
    add_edges(&mut edges, &blank, 0, [0.0, 0.0]);
    for (index, rings) in openings.iter().enumerate() {
        add_edges(&mut edges, rings, index + 1, shift);
    }
    let (whole, open) = areas(edges, openings.len() + 1)?;
    if whole > 0.0 { Ok(open / whole) } else { Err(CoverageError::TooFine) }
}

type Rings = Vec<Vec<[f64; 2]>>;

fn sides(ring: &[[f64; 2]]) -> impl Iterator<Item = ([f64; 2], [f64; 2])> + '_ {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

fn length(rings: &[Vec<[f64; 2]>]) -> f64 {
    rings.iter().flat_map(|ring| sides(ring)).map(|([ax, ay], [bx, by])| (bx - ax).hypot(by - ay)).sum()
}

/// The middle of the extent.
fn middle(shapes: &[Rings]) -> Option<[f64; 2]> {
    let mut points = shapes.iter().flatten().flatten().copied();
    let first = points.next()?;
    let (least, most) = points.fold((first, first), |(least, most), [x, y]| {
        ([least[0].min(x), least[1].min(y)], [most[0].max(x), most[1].max(y)])
    });
    Some([f64::midpoint(least[0], most[0]), f64::midpoint(least[1], most[1])])
}

/// A side that is not level, from its lower to its higher end. `set` 0 is the blank, the others are openings.
#[derive(Debug, Clone, Copy)]
struct Edge {
    low: [f64; 2],
    high: [f64; 2],
    set: usize,
}

impl Edge {
    fn x_at(&self, y: f64) -> f64 {
        let ([x0, y0], [x1, y1]) = (self.low, self.high);
        x0 + (y - y0) / (y1 - y0) * (x1 - x0)
    }
}

fn add_edges(edges: &mut Vec<Edge>, rings: &[Vec<[f64; 2]>], set: usize, [dx, dy]: [f64; 2]) {
    for (from, to) in rings.iter().flat_map(|ring| sides(ring)) {
        let [from, to] = [from, to].map(|[x, y]| [x + dx, y + dy]);
        if from[1] < to[1] {
            edges.push(Edge { low: from, high: to, set });
        } else if to[1] < from[1] {
            edges.push(Edge { low: to, high: from, set });
        }
    }
}

/// Area of the blank, and of what of it lies below an opening.
fn areas(mut edges: Vec<Edge>, sets: usize) -> Result<(f64, f64), CoverageError> {
    edges.sort_by(|a, b| a.low[1].total_cmp(&b.low[1]));
    let mut levels: Vec<f64> = edges.iter().flat_map(|edge| [edge.low[1], edge.high[1]]).collect();
    levels.sort_by(f64::total_cmp);
    levels.dedup();
    let mut coming = edges.iter().peekable();
    let mut standing: Vec<&Edge> = Vec::new();
    let (mut whole, mut open) = (0.0, 0.0);
    let mut work = 0_usize;
    for (&bottom, &top) in levels.iter().zip(levels.iter().skip(1)) {
        standing.retain(|edge| edge.high[1] > bottom);
        while let Some(edge) = coming.next_if(|edge| edge.low[1] <= bottom) {
            standing.push(edge);
        }
        spend(&mut work, standing.len())?;
        let cuts = crossings(&standing, bottom, top, &mut work)?;
        let mut low = bottom;
        for high in cuts.into_iter().chain([top]) {
            let (blank, below) = widths(&standing, f64::midpoint(low, high), sets);
            whole += blank * (high - low);
            open += below * (high - low);
            low = high;
        }
    }
    Ok((whole, open))
}

fn spend(work: &mut usize, more: usize) -> Result<(), CoverageError> {
    *work = work.saturating_add(more);
    if *work > MOST_WORK { Err(CoverageError::TooFine) } else { Ok(()) }
}

/// The levels inside a strip where two of its edges cross, from the bottom up.
fn crossings(standing: &[&Edge], bottom: f64, top: f64, work: &mut usize) -> Result<Vec<f64>, CoverageError> {
    let mut ends: Vec<[f64; 2]> = standing.iter().map(|edge| [edge.x_at(bottom), edge.x_at(top)]).collect();
    ends.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    if ends.is_sorted_by(|a, b| a[1] <= b[1]) {
        return Ok(Vec::new());
    }
    let mut cuts = Vec::new();
    for (index, left) in ends.iter().enumerate() {
        spend(work, ends.len() - index)?;
        for right in ends.iter().skip(index + 1).filter(|right| right[1] < left[1]) {
            // The gap between the two closes evenly from the bottom to the crossing.
            let (below, above) = (right[0] - left[0], left[1] - right[1]);
            let cut = bottom + (top - bottom) * below / (below + above);
            if cut > bottom && cut < top {
                cuts.push(cut);
            }
        }
    }
    cuts.sort_by(f64::total_cmp);
    cuts.dedup();
    spend(work, cuts.len().saturating_mul(standing.len()))?;
    Ok(cuts)
}

/// How wide the blank is at a level, and how much of that lies below an opening.
fn widths(standing: &[&Edge], level: f64, sets: usize) -> (f64, f64) {
    let mut meets: Vec<(f64, usize)> = standing.iter().map(|edge| (edge.x_at(level), edge.set)).collect();
    meets.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut inside = vec![false; sets];
    let mut openings = 0_usize;
    let (mut whole, mut open) = (0.0, 0.0);
    let mut last = 0.0;
    for (x, set) in meets {
        if inside.first().is_some_and(|blank| *blank) {
            whole += x - last;
            if openings > 0 {
                open += x - last;
            }
        }
        last = x;
        if let Some(state) = inside.get_mut(set) {
            *state = !*state;
            if set > 0 {
                openings = if *state { openings + 1 } else { openings.saturating_sub(1) };
            }
        }
    }
    (whole, open)
}

#[cfg(test)]
mod tests;
