//! Shapes in pixels to canonical path text in millimetres.

use super::tree::{Piece, Shape};
use super::{Decimal, Outline, OutlineFileProblem};
use crate::measure::exact;
use rust_decimal::prelude::ToPrimitive;

/// 96 pixels to the inch of 25.4 mm.
pub(super) const MM_PER_PIXEL: f64 = 25.4 / 96.0;

/// Decimal places of a coordinate: thousandths of a millimetre.
const PLACES: u32 = 3;

/// Millimetres a pixel for the longer side of the shapes' extent to be `side_mm`.
pub(super) fn long_side_scale(shapes: &[Shape], side_mm: Decimal) -> Option<f64> {
    let [width, height] = extent(shapes).size()?;
    let scale = side_mm.to_f64()? / width.max(height);
    (scale.is_finite() && scale > 0.0).then_some(scale)
}

/// Width and height of the shapes' extent, mm, to 3 places.
pub(super) fn extent_mm(shapes: &[Shape], mm_per_pixel: f64) -> Option<[Decimal; 2]> {
    let [width, height] = extent(shapes).size()?;
    Some([millimetres(width * mm_per_pixel)?, millimetres(height * mm_per_pixel)?])
}

/// What the curves themselves reach; their control points do not count.
fn extent(shapes: &[Shape]) -> Extent {
    let mut extent = Extent::default();
    let mut at = [0.0, 0.0];
    for piece in shapes.iter().flatten() {
        match *piece {
            Piece::Move(to) | Piece::Line(to) => {
                extent.include(to);
                at = to;
            }
            Piece::Cubic(first, second, to) => {
                extent.include(to);
                let [x0, y0] = at;
                for t in turning(x0, first[0], second[0], to[0]).chain(turning(y0, first[1], second[1], to[1])) {
                    extent
                        .include([cubic(x0, first[0], second[0], to[0], t), cubic(y0, first[1], second[1], to[1], t)]);
                }
                at = to;
            }
            Piece::Close => {}
        }
    }
    extent
}

fn millimetres(value: f64) -> Option<Decimal> {
    let value = exact::round(Decimal::from_f64_retain(value)?, PLACES).normalize();
    // Never `-0`.
    Some(if value.is_zero() { Decimal::ZERO } else { value })
}

/// Left, top, right and bottom of points.
#[derive(Debug, Default)]
pub(super) struct Extent(Option<[f64; 4]>);

impl Extent {
    pub(super) fn include(&mut self, [x, y]: [f64; 2]) {
        self.0 = Some(match self.0 {
            None => [x, y, x, y],
            Some([left, top, right, bottom]) => [left.min(x), top.min(y), right.max(x), bottom.max(y)],
        });
    }

    /// Width and height.
    pub(super) fn size(&self) -> Option<[f64; 2]> {
        self.0.map(|[left, top, right, bottom]| [right - left, bottom - top])
    }

    /// True where the other lies inside.
    pub(super) fn holds(&self, other: &Self) -> bool {
        self.0.zip(other.0).is_some_and(|([left, top, right, bottom], [l, t, r, b])| {
            left <= l && top <= t && right >= r && bottom >= b
        })
    }
}

fn cubic(p0: f64, p1: f64, p2: f64, p3: f64, t: f64) -> f64 {
    let s = 1.0 - t;
    s * s * s * p0 + 3.0 * s * s * t * p1 + 3.0 * s * t * t * p2 + t * t * t * p3
}

/// Where a cubic turns back, inside it: the zeros of its derivative.
fn turning(p0: f64, p1: f64, p2: f64, p3: f64) -> impl Iterator<Item = f64> {
    let (a, b, c) = (p3 - 3.0 * p2 + 3.0 * p1 - p0, 2.0 * (p2 - 2.0 * p1 + p0), p1 - p0);
    let root = (b * b - 4.0 * a * c).max(0.0).sqrt();
    // The forms that do not divide by a small leading figure.
    let sum = -0.5 * (b + if b < 0.0 { -root } else { root });
    [sum / a, c / sum].into_iter().filter(|t| *t > 0.0 && *t < 1.0)
}

/// Every shape as an outline: absolute commands `M`, `L`, `C`, `Z`, one space between words.
pub(super) fn outlines(shapes: &[Shape], mm_per_pixel: f64) -> Result<Vec<Outline>, OutlineFileProblem> {
    let mut outlines = Vec::with_capacity(shapes.len());
    for (index, shape) in shapes.iter().enumerate() {
        let svg = outline(shape, mm_per_pixel).ok_or_else(|| OutlineFileProblem::Shape {
            number: index + 1,
            reason: "a coordinate is absurdly large; accepted are drawings of some metres at most".to_owned(),
        })?;
        outlines.push(Outline::Path { svg });
    }
    Ok(outlines)
}

fn outline(shape: &Shape, mm_per_pixel: f64) -> Option<String> {
    let mut svg = String::new();
    let mut write = |command: char, points: &[[f64; 2]]| -> Option<()> {
        if !svg.is_empty() {
            svg.push(' ');
        }
        svg.push(command);
        for value in points.iter().flatten() {
            svg.push(' ');
            svg.push_str(&millimetres(value * mm_per_pixel)?.to_string());
        }
        Some(())
    };
    for piece in shape {
        match *piece {
            Piece::Move(to) => write('M', &[to])?,
            Piece::Line(to) => write('L', &[to])?,
            Piece::Cubic(first, second, to) => write('C', &[first, second, to])?,
            Piece::Close => write('Z', &[])?,
        }
    }
    Some(svg)
}
