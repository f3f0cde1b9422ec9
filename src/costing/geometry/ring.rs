//! Flattened rings: do they cross, and which lies inside which.

use super::curve::{Point, cross, minus};

/// Points nearer than this are one, mm: far below what a saw can follow, far above what rounding leaves.
const SAME_POINT_MM: f64 = 1e-6;

/// A closed ring of distinct points with the exact area of the curve it follows.
#[derive(Debug)]
pub(super) struct Ring {
    points: Vec<Point>,
    area: f64,
}

/// One straight piece of a ring.
#[derive(Debug, Clone, Copy)]
struct Piece {
    ring: usize,
    index: usize,
    from: Point,
    to: Point,
}

impl Ring {
    /// A ring of flattened points; consecutive points that are one are merged.
    pub(super) fn new(flattened: Vec<Point>, area: f64) -> Result<Self, String> {
        let mut points: Vec<Point> = Vec::with_capacity(flattened.len());
        for point in flattened {
            if points.last().is_none_or(|&last| !same(last, point)) {
                points.push(point);
            }
        }
        while points.len() > 1 && points.first().zip(points.last()).is_some_and(|(&first, &last)| same(first, last)) {
            points.pop();
        }
        if points.len() < 3 {
            return Err("a part of the outline encloses nothing; accepted are closed shapes".to_owned());
        }
        Ok(Self { points, area })
    }

    fn pieces(&self, ring: usize) -> impl Iterator<Item = Piece> + '_ {
        let next = self.points.iter().cycle().skip(1);
        self.points.iter().zip(next).enumerate().map(move |(index, (&from, &to))| Piece { ring, index, from, to })
    }

    /// True where a ray from the point to the right meets the ring an odd number of times.
    fn surrounds(&self, [x, y]: Point) -> bool {
        self.pieces(0)
            .filter(|piece| {
                let ([from_x, from_y], [to_x, to_y]) = (piece.from, piece.to);
                (from_y > y) != (to_y > y) && x < from_x + (y - from_y) / (to_y - from_y) * (to_x - from_x)
            })
            .count()
            % 2
            == 1
    }
}

fn same(a: Point, b: Point) -> bool {
    let [x, y] = minus(a, b);
    x.abs() <= SAME_POINT_MM && y.abs() <= SAME_POINT_MM
}

/// Area of rings that do not cross: a ring inside an odd number of others is a hole.
pub(super) fn even_odd_area(rings: &[Ring]) -> f64 {
    let mut total = 0.0;
    for (index, ring) in rings.iter().enumerate() {
        let Some(&inside) = ring.points.first() else { continue };
        let depth = rings.iter().enumerate().filter(|&(other, ring)| other != index && ring.surrounds(inside)).count();
        total += if depth % 2 == 0 { ring.area } else { -ring.area };
    }
    total
}

/// Refuses rings that cross or touch, each itself or one another.
pub(super) fn refuse_crossings(rings: &[Ring]) -> Result<(), String> {
    let mut pieces: Vec<Piece> = rings.iter().enumerate().flat_map(|(ring, points)| points.pieces(ring)).collect();
    // Swept from left to right: only pieces that share some x are compared.
    pieces.sort_by(|a, b| leftmost(a).total_cmp(&leftmost(b)));
    let mut open: Vec<Piece> = Vec::new();
    for piece in pieces {
        let left = leftmost(&piece);
        open.retain(|other| rightmost(other) >= left);
        for other in &open {
            let count = rings.get(piece.ring).map_or(0, |ring| ring.points.len());
            if let Some([x, y]) = meeting(&piece, other, count) {
                return Err(format!(
                    "the outline crosses or touches itself near ({x:.2}, {y:.2}) mm; accepted are outlines that do not"
                ));
            }
        }
        open.push(piece);
    }
    Ok(())
}

fn leftmost(piece: &Piece) -> f64 {
    piece.from[0].min(piece.to[0])
}

fn rightmost(piece: &Piece) -> f64 {
    piece.from[0].max(piece.to[0])
}

/// A point where two pieces meet though they should not.
fn meeting(a: &Piece, b: &Piece, points_in_ring: usize) -> Option<Point> {
    if a.ring == b.ring {
        if (a.index + 1) % points_in_ring == b.index {
            return folds_back(a, b);
        }
        if (b.index + 1) % points_in_ring == a.index {
            return folds_back(b, a);
        }
    }
    let apart = |a_from: f64, a_to: f64, b_from: f64, b_to: f64| {
        a_from.max(a_to) < b_from.min(b_to) || b_from.max(b_to) < a_from.min(a_to)
    };
    if apart(a.from[1], a.to[1], b.from[1], b.to[1]) || apart(a.from[0], a.to[0], b.from[0], b.to[0]) {
        return None;
    }
    let turn = |from: Point, to: Point, point: Point| {
        let side = cross(minus(to, from), minus(point, from));
        if side > 0.0 {
            1
        } else if side < 0.0 {
            -1
        } else {
            0
        }
    };
    let (a_from, a_to) = (turn(b.from, b.to, a.from), turn(b.from, b.to, a.to));
    let (b_from, b_to) = (turn(a.from, a.to, b.from), turn(a.from, a.to, b.to));
    // Both ends of each on different sides of the other, or on it.
    if a_from * a_to > 0 || b_from * b_to > 0 {
        return None;
    }
    let (along_a, along_b) = (minus(a.to, a.from), minus(b.to, b.from));
    let slant = cross(along_a, along_b);
    let share = if slant == 0.0 { 0.0 } else { cross(minus(b.from, a.from), along_b) / slant };
    Some([a.from[0] + share * along_a[0], a.from[1] + share * along_a[1]])
}

/// Where the second of two pieces in a row runs back over the first.
fn folds_back(a: &Piece, b: &Piece) -> Option<Point> {
    let ([ax, ay], [bx, by]) = (minus(a.to, a.from), minus(b.to, b.from));
    let along = ax * bx + ay * by;
    let across = ax * by - ay * bx;
    (along < 0.0 && across.abs() <= 1e-12 * along.abs()).then_some(a.to)
}
