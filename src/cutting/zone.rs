//! Where a second blank may not lie beside a first: the sum of the one ring and the other turned about, and the gap
//! around it. Its boundary is among the sides found where a corner of one ring faces a side of the other.

use super::plane::{Bounds, Point, cross, length, minus, negative, plus, sides, turned};

/// Rounding of a line that meets a corner, mm.
const GRAZE_MM: f64 = 1e-9;

/// The steps from the first blank to a second that come too near.
#[derive(Debug, Clone)]
pub(super) struct Zone {
    gap: f64,
    sides: Vec<[Point; 2]>,
    /// Around the zone, its gap included.
    pub(super) bounds: Bounds,
}

/// A corner with the directions before and after it.
struct Corner {
    at: Point,
    before: Point,
    after: Point,
}

fn corners(ring: &[Point]) -> Vec<Corner> {
    let directions: Vec<Point> = sides(ring).map(|(from, to)| minus(to, from)).collect();
    let before = directions.iter().copied().cycle().skip(directions.len().saturating_sub(1));
    ring.iter()
        .zip(before)
        .zip(&directions)
        .map(|((&at, before), &after)| Corner { at, before, after })
        .filter(|corner| cross(corner.before, corner.after) >= 0.0)
        .collect()
}

impl Zone {
    /// Of a ring and a second one (both counter-clockwise about their own origin), kept `gap` apart.
    pub(super) fn of(first: &[Point], second: &[Point], gap: f64) -> Self {
        let about: Vec<Point> = second.iter().copied().map(negative).collect();
        let mut found = Vec::new();
        for (ring, other) in [(first, &about[..]), (&about[..], first)] {
            for corner in corners(ring) {
                for (from, to) in sides(other) {
                    let along = minus(to, from);
                    let slack = 1e-9 * length(along);
                    if cross(corner.before, along) >= -slack * length(corner.before)
                        && cross(along, corner.after) >= -slack * length(corner.after)
                    {
                        found.push([plus(corner.at, from), plus(corner.at, to)]);
                    }
                }
            }
        }
        Self::from_sides(found, gap)
    }

    /// Of two discs whose middles keep that distance.
    pub(super) fn of_disc(distance: f64) -> Self {
        Self::from_sides(vec![[[0.0; 2]; 2]], distance)
    }

    fn from_sides(sides: Vec<[Point; 2]>, gap: f64) -> Self {
        let bounds = Bounds::of(sides.iter().flatten()).grown(gap);
        Self { gap, sides, bounds }
    }

    /// The zone of the same two rings turned together.
    pub(super) fn turned(&self, radians: f64) -> Self {
        let ends: Vec<Point> = self.sides.iter().flatten().copied().collect();
        let ends = turned(&ends, radians);
        let sides = ends
            .chunks_exact(2)
            .filter_map(|pair| match pair {
                &[from, to] => Some([from, to]),
                _ => None,
            })
            .collect();
        Self::from_sides(sides, self.gap)
    }

    /// The least step to the right at that height from which on nothing comes too near; −∞ where nothing does.
    pub(super) fn right(&self, y: f64) -> f64 {
        self.farthest(y, self.bounds.low[1], self.bounds.high[1], |point| point)
    }

    /// The least step up at that x from which on nothing comes too near; −∞ where nothing does.
    pub(super) fn up(&self, x: f64) -> f64 {
        self.farthest(x, self.bounds.low[0], self.bounds.high[0], |[x, y]| [y, x])
    }

    /// The farthest first coordinate of the zone on the line where the second is `at`.
    fn farthest(&self, at: f64, low: f64, high: f64, seen: impl Fn(Point) -> Point) -> f64 {
        let mut farthest = f64::NEG_INFINITY;
        if at <= low + GRAZE_MM || at >= high - GRAZE_MM {
            return farthest;
        }
        let gap = self.gap;
        for &[from, to] in &self.sides {
            let ([fx, fy], [tx, ty]) = (seen(from), seen(to));
            if at < fy.min(ty) - gap || at > fy.max(ty) + gap || fx.max(tx) + gap <= farthest {
                continue;
            }
            for [x, y] in [[fx, fy], [tx, ty]] {
                let off = (at - y).abs();
                if off <= gap + GRAZE_MM {
                    farthest = farthest.max(x + (gap * gap - off * off).max(0.0).sqrt());
                }
            }
            let (dx, dy) = (tx - fx, ty - fy);
            let long = dx.hypot(dy);
            if dy != 0.0 && long > 0.0 {
                // The side moved by the gap away from the zone's far side.
                let (out_x, out_y) = (gap * dy.abs() / long, -gap * dx * dy.signum() / long);
                let share = (at - fy - out_y) / dy;
                if (-GRAZE_MM..=1.0 + GRAZE_MM).contains(&share) {
                    farthest = farthest.max(fx + out_x + share * dx);
                }
            }
        }
        farthest
    }
}
