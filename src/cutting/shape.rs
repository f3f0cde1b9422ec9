//! An outline made ready for the search: a ring around it that it never leaves, and how it may be turned.

use super::plane::{Bounds, Point, minus, negative, plus, sides, signed_area, sine_and_cosine, surrounds, turned};
use super::{Axis, CutError, Turn, Wanted};
use crate::costing::geometry;
use crate::measure::{Decimal, exact};
use crate::studio::Outline;
use rust_decimal::prelude::ToPrimitive;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// How far the planned ring may lie outside a curve, mm.
const OUTSIDE_MM: f64 = 0.005;

/// How far the rings of a free curve may lie inside it, mm: what [`geometry::rings`] promises.
const INSIDE_MM: f64 = 0.01;

/// Most corners of a planned ring; a free outline with more is smoothed.
const MOST_CORNERS: usize = 96;

/// The turns an outline may have, radians.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Turns {
    /// Any.
    Free,
    /// These.
    Only(Vec<f64>),
}

/// An outline about the middle of its bounds.
#[derive(Debug, Clone)]
pub(super) struct Shape {
    /// Outline and holes as they are drawn, flattened.
    pub(super) drawn: Vec<Vec<Point>>,
    /// The ring kept clear of others, counter-clockwise; the true outline is within `slack` of it or inside.
    pub(super) ring: Vec<Point>,
    /// Added to the kerf and the margin, mm.
    pub(super) slack: f64,
    /// The diameter, where it is a disc.
    pub(super) disc: Option<f64>,
    /// Where the middle is in the outline's own coordinates.
    pub(super) middle: Point,
    /// The turns it may have.
    pub(super) turns: Turns,
    /// Half a turn changes nothing.
    pub(super) symmetric: bool,
    /// Metal in it, mm².
    pub(super) area_mm2: Decimal,
    /// The same for the search.
    pub(super) area: f64,
}

impl Shape {
    /// Makes one ready; `number` is its place in the list, from 0, for the words of an error.
    pub(super) fn new(wanted: &Wanted, number: usize, grain: Option<Axis>) -> Result<Self, CutError> {
        let wrong = |reason: String| CutError::Outline { number: number + 1, reason };
        let area = geometry::outline_area_mm2(&wanted.outline).map_err(wrong)?;
        let drawn = geometry::rings(&wanted.outline).map_err(|error| wrong(error.to_string()))?;
        let outer = outermost(&drawn).map_err(wrong)?;
        let (mut ring, slack) = match analytic(&wanted.outline) {
            Some(ring) => (ring, 0.0),
            None => {
                let (ring, off) = smoothed(outer);
                (ring, off + if is_curved(&wanted.outline) { INSIDE_MM } else { 0.0 })
            }
        };
        if signed_area(&ring) < 0.0 {
            ring.reverse();
        }
        let bounds = Bounds::of(&ring);
        let middle = [(bounds.low[0] + bounds.high[0]) / 2.0, (bounds.low[1] + bounds.high[1]) / 2.0];
        let about = |ring: &[Point]| ring.iter().map(|&point| minus(point, middle)).collect::<Vec<Point>>();
        let ring = about(&ring);
        let disc = match &wanted.outline {
            Outline::Disc { diameter_mm } => diameter_mm.to_f64(),
            Outline::Ellipse { length_mm, width_mm } if length_mm == width_mm => length_mm.to_f64(),
            _ => None,
        };
        Ok(Self {
            drawn: drawn.iter().map(|ring| about(ring)).collect(),
            symmetric: is_symmetric(&ring),
            turns: turns(wanted, number, grain)?,
            ring,
            slack,
            disc,
            middle,
            area_mm2: exact::from_geometry(area).ok_or(crate::measure::TooLarge)?,
            area,
        })
    }

    /// Its rings as drawn, turned and moved so that its middle lies at a point.
    pub(super) fn drawn_at(&self, turn: f64, at: Point) -> Vec<Vec<Point>> {
        self.drawn.iter().map(|ring| super::plane::moved(&turned(ring, turn), at)).collect()
    }

    /// Where the origin of the outline's own coordinates comes to lie.
    pub(super) fn origin_at(&self, turn: f64, at: Point) -> Point {
        let (sine, cosine) = sine_and_cosine(turn);
        let [x, y] = negative(self.middle);
        plus(at, [x * cosine - y * sine, x * sine + y * cosine])
    }

    /// The turns to try, at most `count` of them where it is free.
    pub(super) fn turns_to_try(&self, count: u32) -> Vec<f64> {
        match &self.turns {
            _ if self.disc.is_some() => vec![0.0],
            Turns::Only(turns) => turns.clone(),
            Turns::Free => (0..count).map(|step| TAU * f64::from(step) / f64::from(count.max(1))).collect(),
        }
    }

    /// True where that turn is allowed.
    pub(super) fn may_turn(&self, radians: f64) -> bool {
        match &self.turns {
            Turns::Free => true,
            Turns::Only(_) if self.disc.is_some() => true,
            Turns::Only(turns) => turns.iter().any(|turn| {
                let off = (turn - radians).rem_euclid(TAU);
                !(1e-9..=TAU - 1e-9).contains(&off)
            }),
        }
    }
}

/// The turns that `wanted.turn` allows and the grain leaves.
fn turns(wanted: &Wanted, number: usize, grain: Option<Axis>) -> Result<Turns, CutError> {
    let turns = match wanted.turn {
        Turn::Free => Turns::Free,
        Turn::AsDrawn => Turns::Only(vec![0.0]),
        Turn::HalfTurns => Turns::Only(vec![0.0, PI]),
        Turn::QuarterTurns => Turns::Only(vec![0.0, FRAC_PI_2, PI, PI + FRAC_PI_2]),
    };
    let (Some(sheet), Some(blank)) = (grain, wanted.grain) else { return Ok(turns) };
    let along = if sheet == blank { vec![0.0, PI] } else { vec![FRAC_PI_2, PI + FRAC_PI_2] };
    match turns {
        Turns::Free => Ok(Turns::Only(along)),
        Turns::Only(turns) => {
            let left: Vec<f64> =
                turns.into_iter().filter(|turn| along.iter().any(|other| (turn - other).abs() < 1e-9)).collect();
            if left.is_empty() {
                return Err(CutError::Grain { number: number + 1 });
            }
            Ok(Turns::Only(left))
        }
    }
}

/// The one outer ring; the others are its holes.
fn outermost(rings: &[Vec<Point>]) -> Result<Vec<Point>, String> {
    let mut outer = None;
    for (index, ring) in rings.iter().enumerate() {
        let Some(&inside) = ring.first() else { continue };
        let depth =
            rings.iter().enumerate().filter(|&(other, around)| other != index && surrounds(around, inside)).count();
        if depth > 1 || (depth == 0 && outer.replace(ring).is_some()) {
            return Err("the outline has more than one piece; accepted is one piece, with or without holes".to_owned());
        }
    }
    outer.cloned().ok_or_else(|| "the outline encloses nothing".to_owned())
}

/// A ring of tangents around an arc of a circle about a centre, without its ends.
fn around_arc(ring: &mut Vec<Point>, [cx, cy]: Point, radius: f64, start: f64, sweep: f64) {
    // The corners of a ring of tangents 2α apart lie r (1 / cos α − 1) outside; a multiple of four keeps the quarters.
    let half = (radius / (radius + OUTSIDE_MM)).acos();
    let mut pieces = 4_u32;
    while f64::from(pieces) * 2.0 * half < sweep && pieces < 128 {
        pieces += 4;
    }
    let step = sweep / f64::from(pieces);
    let reach = radius / (step / 2.0).cos();
    for piece in 0..pieces {
        let angle = start + step * (f64::from(piece) + 0.5);
        ring.push([cx + reach * angle.cos(), cy + reach * angle.sin()]);
    }
}

/// A ring around a disc, ellipse, rectangle or drop that it touches and never leaves.
fn analytic(outline: &Outline) -> Option<Vec<Point>> {
    let mut ring = Vec::new();
    match outline {
        Outline::Disc { diameter_mm } => around_arc(&mut ring, [0.0; 2], diameter_mm.to_f64()? / 2.0, 0.0, TAU),
        Outline::Ellipse { length_mm, width_mm } => {
            let (a, b) = (length_mm.to_f64()? / 2.0, width_mm.to_f64()? / 2.0);
            let greater = a.max(b);
            around_arc(&mut ring, [0.0; 2], greater, 0.0, TAU);
            for point in &mut ring {
                *point = [point[0] * a / greater, point[1] * b / greater];
            }
        }
        Outline::Rectangle { length_mm, width_mm, corner_mm } => {
            let (right, top, corner) = (length_mm.to_f64()? / 2.0, width_mm.to_f64()? / 2.0, corner_mm.to_f64()?);
            let signs = [[1.0, 1.0], [-1.0, 1.0], [-1.0, -1.0], [1.0, -1.0]];
            let mut start = 0.0;
            for [x, y] in signs {
                if corner > 0.0 {
                    around_arc(&mut ring, [x * (right - corner), y * (top - corner)], corner, start, FRAC_PI_2);
                } else {
                    ring.push([x * right, y * top]);
                }
                start += FRAC_PI_2;
            }
        }
        Outline::Drop { height_mm, width_mm } => {
            let (height, radius) = (height_mm.to_f64()?, width_mm.to_f64()? / 2.0);
            let distance = height - radius;
            let opening = (radius / distance).clamp(-1.0, 1.0).acos();
            if opening > 1e-6 {
                ring.push([0.0, distance]);
            }
            around_arc(&mut ring, [0.0; 2], radius, FRAC_PI_2 + opening, TAU - 2.0 * opening);
        }
        Outline::Polygon { .. } | Outline::Path { .. } => return None,
    }
    Some(ring)
}

/// True where a path has curves.
fn is_curved(outline: &Outline) -> bool {
    match outline {
        Outline::Path { svg } => svg.chars().any(|letter| "CcSsQqTtAa".contains(letter)),
        _ => false,
    }
}

/// True where half a turn about the middle brings every corner onto one.
fn is_symmetric(ring: &[Point]) -> bool {
    let bounds = Bounds::of(ring);
    let near = 1e-9 * (bounds.width() + bounds.height());
    ring.iter().all(|&point| {
        let [x, y] = negative(point);
        ring.iter().any(|other| (other[0] - x).abs() <= near && (other[1] - y).abs() <= near)
    })
}

/// A ring of few enough corners, and how far it may lie from the first.
fn smoothed(ring: Vec<Point>) -> (Vec<Point>, f64) {
    let mut within = INSIDE_MM;
    let mut fewer = ring;
    let mut off = 0.0;
    while fewer.len() > MOST_CORNERS {
        within *= 2.0;
        off += within;
        fewer = without_small_corners(&fewer, within);
    }
    (fewer, off)
}

/// Leaves out the corners that lie within `within` of the line of those kept (Ramer 1972, Douglas and Peucker 1973).
fn without_small_corners(ring: &[Point], within: f64) -> Vec<Point> {
    let Some(&first) = ring.first() else { return Vec::new() };
    let far = |from: Point| {
        let distance = |point: &Point| super::plane::length(minus(*point, from));
        (0..ring.len()).max_by(|&a, &b| {
            let (a, b) = (ring.get(a).map_or(0.0, distance), ring.get(b).map_or(0.0, distance));
            a.total_cmp(&b)
        })
    };
    let half = far(first).unwrap_or(0);
    let closed: Vec<Point> = ring.iter().copied().chain([first]).collect();
    let mut kept = vec![false; closed.len()];
    let mut open = vec![(0, half), (half, ring.len())];
    for end in [0, half] {
        if let Some(keep) = kept.get_mut(end) {
            *keep = true;
        }
    }
    while let Some((from, to)) = open.pop() {
        let (Some(&start), Some(&end)) = (closed.get(from), closed.get(to)) else { continue };
        let between = closed.iter().enumerate().take(to).skip(from + 1);
        let farthest = between
            .map(|(index, &point)| (index, super::plane::from_side(point, [start, end])))
            .max_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((index, distance)) = farthest
            && distance > within
        {
            if let Some(keep) = kept.get_mut(index) {
                *keep = true;
            }
            open.push((from, index));
            open.push((index, to));
        }
    }
    closed.into_iter().zip(kept).take(ring.len()).filter_map(|(point, keep)| keep.then_some(point)).collect()
}

/// Directions of the sides of a ring, longest first, each once, radians from 0 to below half a turn.
pub(super) fn side_directions(ring: &[Point], most: usize) -> Vec<f64> {
    let mut all: Vec<Point> = sides(ring).map(|(from, to)| minus(to, from)).collect();
    all.sort_by(|a, b| super::plane::length(*b).total_cmp(&super::plane::length(*a)));
    let mut found: Vec<f64> = Vec::new();
    for [x, y] in all {
        let direction = y.atan2(x).rem_euclid(PI);
        if found.iter().all(|other| (other - direction).abs() > 1e-6) && found.len() < most {
            found.push(direction);
        }
    }
    found
}
