//! Closed curves of lines, cubic Béziers and elliptic arcs: exact area, flattening.

use crate::studio::Outline;
use rust_decimal::prelude::ToPrimitive;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// A point, mm.
pub(super) type Point = [f64; 2];

/// How far a flattened curve may lie from the true one, mm, where nothing finer is asked for.
pub(super) const TOLERANCE_MM: f64 = 0.01;

/// One piece of a closed curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Curve {
    /// A straight line.
    Line { from: Point, to: Point },
    /// A cubic Bézier.
    Cubic { from: Point, first: Point, second: Point, to: Point },
    /// An elliptic arc: the point at angle θ is `centre + R(turn)·(a cos θ, b sin θ)`.
    Arc { from: Point, to: Point, centre: Point, radii: [f64; 2], turn: f64, start: f64, sweep: f64 },
}

/// Closed straight lines through points.
pub(super) fn closed_lines(points: &[Point]) -> Vec<Curve> {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(&from, &to)| Curve::Line { from, to }).collect()
}

/// A disc, ellipse, rectangle or drop as a closed curve around the origin, for drawing.
pub(super) fn outline(outline: &Outline) -> Result<Vec<Curve>, String> {
    let float = |value: &crate::measure::Decimal| value.to_f64().ok_or_else(|| "a length is too large".to_owned());
    Ok(match outline {
        Outline::Disc { diameter_mm } => {
            let radius = float(diameter_mm)? / 2.0;
            vec![arc([0.0, 0.0], [radius, radius], 0.0, TAU)]
        }
        Outline::Ellipse { length_mm, width_mm } => {
            vec![arc([0.0, 0.0], [float(length_mm)? / 2.0, float(width_mm)? / 2.0], 0.0, TAU)]
        }
        Outline::Rectangle { length_mm, width_mm, corner_mm } => {
            let (right, top) = (float(length_mm)? / 2.0, float(width_mm)? / 2.0);
            let corner = float(corner_mm)?;
            if corner <= 0.0 {
                return Ok(closed_lines(&[[right, top], [-right, top], [-right, -top], [right, -top]]));
            }
            let (inner_x, inner_y) = (right - corner, top - corner);
            let centres = [[inner_x, inner_y], [-inner_x, inner_y], [-inner_x, -inner_y], [inner_x, -inner_y]];
            let mut start = 0.0;
            let corners: Vec<Curve> = centres
                .iter()
                .map(|&centre| {
                    let curve = arc(centre, [corner, corner], start, FRAC_PI_2);
                    start += FRAC_PI_2;
                    curve
                })
                .collect();
            joined(&corners)
        }
        Outline::Drop { height_mm, width_mm } => {
            let (height, radius) = (float(height_mm)?, float(width_mm)? / 2.0);
            let distance = height - radius;
            // The point stands above the circle; the tangents touch it at this angle from the upright.
            let opening = (radius / distance).clamp(-1.0, 1.0).acos();
            let round = arc([0.0, 0.0], [radius, radius], FRAC_PI_2 + opening, TAU - 2.0 * opening);
            let point = [0.0, distance];
            vec![round, Curve::Line { from: round.end(), to: point }, Curve::Line { from: point, to: round.start() }]
        }
        Outline::Polygon { .. } | Outline::Path { .. } => Vec::new(),
    })
}

fn arc(centre: Point, radii: [f64; 2], start: f64, sweep: f64) -> Curve {
    let at = |angle: f64| on_ellipse(centre, radii, 0.0, angle);
    let whole = sweep >= TAU;
    let to = if whole { at(start) } else { at(start + sweep) };
    Curve::Arc { from: at(start), to, centre, radii, turn: 0.0, start, sweep }
}

/// Curves with straight lines between them, closed.
fn joined(curves: &[Curve]) -> Vec<Curve> {
    let next = curves.iter().cycle().skip(1);
    curves.iter().zip(next).flat_map(|(a, b)| [*a, Curve::Line { from: a.end(), to: b.start() }]).collect()
}

fn on_ellipse(centre: Point, [a, b]: [f64; 2], turn: f64, angle: f64) -> Point {
    let (x, y) = (a * angle.cos(), b * angle.sin());
    let [cx, cy] = centre;
    [cx + x * turn.cos() - y * turn.sin(), cy + x * turn.sin() + y * turn.cos()]
}

impl Curve {
    /// Where it starts.
    pub(super) fn start(&self) -> Point {
        match *self {
            Self::Line { from, .. } | Self::Cubic { from, .. } | Self::Arc { from, .. } => from,
        }
    }

    /// Where it ends.
    pub(super) fn end(&self) -> Point {
        match *self {
            Self::Line { to, .. } | Self::Cubic { to, .. } | Self::Arc { to, .. } => to,
        }
    }

    /// Half the integral of `x dy − y dx` along it, seen from `origin` (Green's theorem), exact for each kind.
    fn swept_area(&self, origin: Point) -> f64 {
        match *self {
            Self::Line { from, to } => cross(minus(from, origin), minus(to, origin)) / 2.0,
            Self::Cubic { from, first, second, to } => {
                let [p0, p1, p2, p3] = [from, first, second, to].map(|point| minus(point, origin));
                (6.0 * (cross(p0, p1) + cross(p2, p3))
                    + 3.0 * (cross(p0, p2) + cross(p1, p2) + cross(p1, p3))
                    + cross(p0, p3))
                    / 20.0
            }
            Self::Arc { from, to, centre, radii: [a, b], sweep, .. } => {
                (a * b * sweep + cross(minus(centre, origin), minus(to, from))) / 2.0
            }
        }
    }

    /// Appends points along it, without its start and with its end, none farther than the tolerance from it.
    fn flatten_into(&self, points: &mut Vec<Point>, most: usize, tolerance_mm: f64) -> Result<(), String> {
        match *self {
            Self::Line { to, .. } => points.push(to),
            Self::Cubic { from, first, second, to } => {
                // The chord error of equal steps is at most 1/8 of the second derivative over the square of the count.
                let bend = |a: Point, b: Point, c: Point| {
                    let [x, y] = [0, 1].map(|axis| axis_of(a, axis) - 2.0 * axis_of(b, axis) + axis_of(c, axis));
                    x.hypot(y)
                };
                let second_derivative = 6.0 * bend(from, first, second).max(bend(first, second, to));
                let count =
                    whole((second_derivative / (8.0 * tolerance_mm)).sqrt(), most.saturating_sub(points.len()))?;
                for step in 1..count {
                    let t = f64::from(step) / f64::from(count);
                    let s = 1.0 - t;
                    points.push([0, 1].map(|axis| {
                        s * s * s * axis_of(from, axis)
                            + 3.0 * s * s * t * axis_of(first, axis)
                            + 3.0 * s * t * t * axis_of(second, axis)
                            + t * t * t * axis_of(to, axis)
                    }));
                }
                points.push(to);
            }
            Self::Arc { to, centre, radii, turn, start, sweep, .. } => {
                let radius = radii[0].max(radii[1]);
                // The chord of an angle 2α lies r (1 − cos α) inside its arc.
                let half_step = (1.0 - tolerance_mm / radius).clamp(-1.0, 1.0).acos();
                let needed = (sweep.abs() / (2.0 * half_step)).max(sweep.abs() / (PI / 4.0));
                let count = whole(needed, most.saturating_sub(points.len()))?;
                for step in 1..count {
                    points.push(on_ellipse(centre, radii, turn, start + sweep * f64::from(step) / f64::from(count)));
                }
                points.push(to);
            }
        }
        if points.len() > most { Err(too_fine()) } else { Ok(()) }
    }
}

/// A count of pieces from 1 to `most`.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // the value was compared with its bounds
fn whole(needed: f64, most: usize) -> Result<u32, String> {
    let most = u32::try_from(most).unwrap_or(u32::MAX);
    if needed.is_nan() || needed > f64::from(most) { Err(too_fine()) } else { Ok((needed.ceil() as u32).max(1)) }
}

fn too_fine() -> String {
    format!(
        "the outline is too large or too fine: it has more than {} straight pieces when followed to 0.01 mm",
        super::MOST_FLAT_PIECES
    )
}

/// Area inside closed curves, positive when they run from the x axis to the y axis.
pub(super) fn signed_area(curves: &[Curve]) -> f64 {
    let origin = curves.first().map_or([0.0, 0.0], Curve::start);
    curves.iter().map(|curve| curve.swept_area(origin)).sum()
}

/// The points of closed curves, each once.
pub(super) fn flatten(curves: &[Curve], most: usize) -> Result<Vec<Point>, String> {
    flatten_to(curves, most, TOLERANCE_MM)
}

/// The same, none of the pieces farther than `tolerance_mm` from the curve.
pub(super) fn flatten_to(curves: &[Curve], most: usize, tolerance_mm: f64) -> Result<Vec<Point>, String> {
    let mut points = Vec::new();
    for curve in curves {
        curve.flatten_into(&mut points, most, tolerance_mm)?;
    }
    Ok(points)
}

pub(super) fn minus([ax, ay]: Point, [bx, by]: Point) -> Point {
    [ax - bx, ay - by]
}

pub(super) fn cross([ax, ay]: Point, [bx, by]: Point) -> f64 {
    ax * by - ay * bx
}

fn axis_of([x, y]: Point, axis: usize) -> f64 {
    if axis == 0 { x } else { y }
}
