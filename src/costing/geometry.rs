//! Areas, thickness and mass (costing method, section 2). The only part of costing that uses binary floats.
#![allow(clippy::float_arithmetic)]

mod curve;
mod path;
mod ring;

use super::piece::CostError;
use crate::measure::{Decimal, TooLarge, exact, gauge};
use crate::studio::{Blank, Outline, Thickness};
use ring::Ring;
use rust_decimal::prelude::ToPrimitive;
use std::f64::consts::PI;

/// What the shape of one blank gives; each rounded half-even to 6 places.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BlankGeometry {
    /// Thickness, mm.
    pub thickness_mm: Decimal,
    /// Flat outline less holes, cm².
    pub flat_cm2: Decimal,
    /// Front, domed, cm².
    pub front_cm2: Decimal,
    /// Back, domed, cm².
    pub back_cm2: Decimal,
    /// Mass of metal, g.
    pub mass_g: Decimal,
}

/// Most straight pieces an outline may be flattened to: far beyond what a saw can follow.
pub const MOST_FLAT_PIECES: usize = 20_000;

/// Measures a blank.
///
/// # Errors
/// [`CostError::Geometry`] where the outline is not one or its holes leave nothing; [`CostError::TooLarge`] where a
/// figure does not fit.
pub fn measure(blank: &Blank) -> Result<BlankGeometry, CostError> {
    let outline_mm2 = outline_area_mm2(&blank.outline).map_err(CostError::Geometry)?;
    let mut holes_mm2 = 0.0;
    for hole in &blank.holes_mm {
        let diameter = float(*hole)?;
        holes_mm2 += PI * diameter * diameter / 4.0;
    }
    let flat_mm2 = outline_mm2 - holes_mm2;
    let flat_cm2 = boundary(flat_mm2 / MM2_PER_CM2)?;
    if flat_cm2 <= Decimal::ZERO {
        return Err(CostError::Geometry(format!(
            "the holes take {holes_mm2:.2} mm² off an outline of {outline_mm2:.2} mm², which leaves nothing; accepted \
             are holes that leave some metal"
        )));
    }
    let dome = float(blank.dome_height_mm)?;
    let domed_cm2 = boundary((flat_mm2 + PI * dome * dome) / MM2_PER_CM2)?;
    let thickness = thickness_mm(blank.thickness);
    let density = float(blank.metal.density())?;
    // g/cm³ is mg/mm³.
    let mass_g = boundary(flat_mm2 * thickness * density / 1000.0)?;
    let thickness_mm = match blank.thickness {
        Thickness::ThicknessMm(stated) => exact::round(stated, 6).normalize(),
        Thickness::Gauge(number) => gauge::thickness_decimal(number),
    };
    Ok(BlankGeometry { thickness_mm, flat_cm2, front_cm2: domed_cm2, back_cm2: domed_cm2, mass_g })
}

/// The outline as closed rings of points in mm, flattened to 0.01 mm, for drawing: outer rings and holes alike.
///
/// # Errors
/// [`CostError::Geometry`] where the outline is not one.
pub fn rings(outline: &Outline) -> Result<Vec<Vec<[f64; 2]>>, CostError> {
    outline_area_mm2(outline).map_err(CostError::Geometry)?;
    rings_to(outline, curve::TOLERANCE_MM, MOST_FLAT_PIECES).map_err(CostError::Geometry)
}

/// Area of the rectangle around a flat outline as it is drawn, cm²: what a piece takes of a shelf, lying square.
///
/// # Errors
/// [`CostError::Geometry`] where the outline is not one; [`CostError::TooLarge`] where the area does not fit.
pub fn around_cm2(outline: &Outline) -> Result<Decimal, CostError> {
    outline_area_mm2(outline).map_err(CostError::Geometry)?;
    let (long, wide) = match outline {
        Outline::Disc { diameter_mm } => (float(*diameter_mm)?, float(*diameter_mm)?),
        Outline::Ellipse { length_mm, width_mm } | Outline::Rectangle { length_mm, width_mm, .. } => {
            (float(*length_mm)?, float(*width_mm)?)
        }
        Outline::Drop { height_mm, width_mm } => (float(*height_mm)?, float(*width_mm)?),
        Outline::Polygon { .. } | Outline::Path { .. } => {
            let rings = rings_to(outline, curve::TOLERANCE_MM, MOST_FLAT_PIECES).map_err(CostError::Geometry)?;
            let (mut least, mut most) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
            for [x, y] in rings.iter().flatten() {
                least = [least[0].min(*x), least[1].min(*y)];
                most = [most[0].max(*x), most[1].max(*y)];
            }
            (most[0] - least[0], most[1] - least[1])
        }
    };
    Ok(boundary(long * wide / MM2_PER_CM2)?)
}

/// Rings of an outline that was found to be one, no piece farther than `tolerance_mm` from it; each of at most `most`
/// pieces.
pub(super) fn rings_to(outline: &Outline, tolerance_mm: f64, most: usize) -> Result<Vec<Vec<[f64; 2]>>, String> {
    let pieces = match outline {
        Outline::Path { svg } => path::read(svg)?,
        Outline::Polygon { points_mm } => vec![polygon(points_mm)?],
        other => vec![curve::outline(other)?],
    };
    pieces.iter().map(|curves| curve::flatten_to(curves, most, tolerance_mm)).collect()
}

/// Thickness in mm at full precision of `f64`: from a gauge number by `0.127 · 92^((36 − n)/39)` (ASTM B258).
pub fn thickness_mm(thickness: Thickness) -> f64 {
    match thickness {
        Thickness::Gauge(number) => gauge::thickness_mm(number),
        Thickness::ThicknessMm(stated) => stated.to_f64().unwrap_or(0.0),
    }
}

const MM2_PER_CM2: f64 = 100.0;

/// Area inside a flat outline, mm², or a sentence that says why it is none.
pub(crate) fn outline_area_mm2(outline: &Outline) -> Result<f64, String> {
    let area = match outline {
        Outline::Disc { diameter_mm } => {
            let diameter = length(*diameter_mm, "diameter")?;
            PI * diameter * diameter / 4.0
        }
        Outline::Ellipse { length_mm, width_mm } => {
            PI * length(*length_mm, "length")? * length(*width_mm, "width")? / 4.0
        }
        Outline::Rectangle { length_mm, width_mm, corner_mm } => {
            let (long, wide) = (length(*length_mm, "length")?, length(*width_mm, "width")?);
            let corner = corner_mm.to_f64().unwrap_or(f64::NAN);
            if !(0.0..=long.min(wide) / 2.0).contains(&corner) {
                return Err(format!("a corner of {corner_mm} mm; accepted is 0 to half the shorter side"));
            }
            long * wide - (4.0 - PI) * corner * corner
        }
        Outline::Drop { height_mm, width_mm } => {
            let (height, width) = (length(*height_mm, "height")?, length(*width_mm, "width")?);
            // Equal height and width is the disc; below it there is no drop.
            if height < width {
                return Err(format!(
                    "a drop {height_mm} mm high on a circle of {width_mm} mm; accepted is a height greater than the width"
                ));
            }
            let radius = width / 2.0;
            let distance = height - radius;
            radius * (distance * distance - radius * radius).sqrt()
                + radius * radius * (PI - (radius / distance).acos())
        }
        Outline::Polygon { points_mm } => enclosed(&[polygon(points_mm)?])?,
        Outline::Path { svg } => enclosed(&path::read(svg)?)?,
    };
    if area.is_finite() && area > 0.0 { Ok(area) } else { Err("the outline encloses nothing".to_owned()) }
}

/// Area of closed curves by even-odd, refused where they cross or touch.
fn enclosed(pieces: &[Vec<curve::Curve>]) -> Result<f64, String> {
    let mut rings = Vec::with_capacity(pieces.len());
    let mut left = MOST_FLAT_PIECES;
    for curves in pieces {
        let points = curve::flatten(curves, left)?;
        left = left.saturating_sub(points.len());
        rings.push(Ring::new(points, curve::signed_area(curves).abs())?);
    }
    ring::refuse_crossings(&rings)?;
    Ok(ring::even_odd_area(&rings))
}

fn polygon(points_mm: &[[Decimal; 2]]) -> Result<Vec<curve::Curve>, String> {
    let mut points = Vec::with_capacity(points_mm.len());
    for [x, y] in points_mm {
        let (Some(x), Some(y)) = (x.to_f64(), y.to_f64()) else {
            return Err("a coordinate is too large".to_owned());
        };
        points.push([x, y]);
    }
    if points.len() < 3 {
        return Err(format!("a polygon of {} points; accepted are 3 points or more", points.len()));
    }
    Ok(curve::closed_lines(&points))
}

/// A length above zero as a float.
fn length(value: Decimal, what: &str) -> Result<f64, String> {
    match value.to_f64() {
        Some(float) if float > 0.0 => Ok(float),
        _ => Err(format!("a {what} of {value} mm; accepted is a length above 0")),
    }
}

fn float(value: Decimal) -> Result<f64, TooLarge> {
    value.to_f64().ok_or(TooLarge)
}

/// The one place where a figure of geometry becomes a decimal.
fn boundary(value: f64) -> Result<Decimal, TooLarge> {
    exact::from_geometry(value).ok_or(TooLarge)
}

#[cfg(test)]
mod tests;
