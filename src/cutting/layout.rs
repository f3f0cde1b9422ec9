//! The answer: where each blank lies, what is used and what is left.

use super::lie::Lie;
use super::mass::grams;
use super::plane::{Bounds, Point};
use super::share::Areas;
use super::{CutError, SheetPlan, rest};
use crate::measure::{Decimal, TooLarge, exact};
use rust_decimal::prelude::ToPrimitive;

/// A blank on the sheet, to be drawn or sawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    /// Which of the outlines wanted, from 0.
    pub which: usize,
    /// Outline and holes as closed rings of points, mm from the sheet's low corner; curves within 0.01 mm.
    pub rings_mm: Vec<Vec<[f64; 2]>>,
    /// How far it is turned, degrees counter-clockwise where y goes up, 0 to below 360.
    pub turned_degrees: f64,
    /// Where the origin of the outline's own coordinates lies, mm.
    pub origin_mm: [f64; 2],
}

/// A rectangle that is left and worth keeping; it may reach the edges of the sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OffCut {
    /// Its low corner, mm, to 0.01 mm.
    pub low_mm: [Decimal; 2],
    /// Its sides along x and y, mm, to 0.01 mm.
    pub size_mm: [Decimal; 2],
}

/// Metal of the parts of the sheet, g, each rounded on its own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Masses {
    /// The whole sheet.
    pub sheet: Decimal,
    /// All blanks.
    pub blanks: Decimal,
    /// All off-cuts.
    pub off_cuts: Decimal,
    /// Scrap, saw dust included.
    pub scrap: Decimal,
}

/// Blanks laid out on a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// Sides of the sheet along x and y, mm.
    pub size_mm: [f64; 2],
    /// The blanks, those farther left first.
    pub placed: Vec<Placed>,
    /// How many of each outline.
    pub counts: Vec<u32>,
    /// How many of each outline are wanted and found no room.
    pub missing: Vec<u32>,
    /// Metal of one blank of each outline, mm², to 6 places.
    pub blank_mm2: Vec<Decimal>,
    /// The parts of the sheet, mm²; they add up.
    pub areas: Areas,
    /// Their metal, g.
    pub grams: Masses,
    /// Share of the sheet that becomes blanks, 0 to 1, to 6 places.
    pub used_share: Decimal,
    /// The rectangles worth keeping, largest first.
    pub off_cuts: Vec<OffCut>,
}

impl Layout {
    /// Reads a finished sheet.
    pub(super) fn new(plan: &SheetPlan, lie: &Lie<'_>) -> Result<Self, CutError> {
        let sheet = lie.sheet();
        let mut spots: Vec<_> = lie.spots().collect();
        spots.sort_by(|a, b| a.at[0].total_cmp(&b.at[0]).then(a.at[1].total_cmp(&b.at[1])));
        let mut placed = Vec::with_capacity(spots.len());
        for spot in spots {
            let Some(shape) = sheet.shapes.get(spot.which) else { continue };
            let degrees = spot.turn.to_degrees().rem_euclid(360.0);
            placed.push(Placed {
                which: spot.which,
                rings_mm: shape.drawn_at(spot.turn, spot.at),
                turned_degrees: if degrees < 360.0 { degrees } else { 0.0 },
                origin_mm: shape.origin_at(spot.turn, spot.at),
            });
        }
        let counts = lie.counts();
        let wanted = plan.wanted.iter().map(|wanted| wanted.quantity);
        let missing = counts.iter().zip(wanted).map(|(count, want)| want.unwrap_or(0).saturating_sub(*count)).collect();
        let off_cuts = off_cuts(plan, lie)?;
        let blank_mm2: Vec<Decimal> = sheet.shapes.iter().map(|shape| shape.area_mm2).collect();
        let [along, across] = plan.size_mm;
        let blank_areas = blank_mm2.iter().zip(&counts).map(|(area, count)| exact::mul(*area, Decimal::from(*count)));
        let areas = Areas::new(
            exact::mul(along, across)?,
            blank_areas.collect::<Result<_, TooLarge>>()?,
            off_cuts.iter().map(|cut| exact::mul(cut.size_mm[0], cut.size_mm[1])).collect::<Result<_, TooLarge>>()?,
        )?;
        let blanks = areas.all_blanks()?;
        let kept = exact::sum(areas.off_cuts.iter().copied())?;
        let metal = |area: Decimal| grams(area, plan.thickness, plan.metal);
        Ok(Self {
            size_mm: sheet.size,
            placed,
            counts,
            missing,
            blank_mm2,
            grams: Masses {
                sheet: metal(areas.sheet)?,
                blanks: metal(blanks)?,
                off_cuts: metal(kept)?,
                scrap: metal(areas.scrap)?,
            },
            used_share: exact::round(exact::div(blanks, areas.sheet)?, 6).normalize(),
            areas,
            off_cuts,
        })
    }
}

/// The rectangles left, drawn in to whole hundredths of a millimetre.
fn off_cuts(plan: &SheetPlan, lie: &Lie<'_>) -> Result<Vec<OffCut>, CutError> {
    let sheet = lie.sheet();
    let least = plan.off_cut_mm.to_f64().ok_or(TooLarge)?;
    let mut in_the_way: Vec<Bounds> = Vec::new();
    for (spot, _, bounds) in lie.blanks() {
        let slack = sheet.shapes.get(spot.which).map_or(0.0, |shape| shape.slack);
        in_the_way.push(bounds.grown(sheet.kerf + slack));
    }
    let whole = Bounds { low: [0.0; 2], high: sheet.size };
    let mut found = Vec::new();
    for free in rest::rectangles(&whole, &in_the_way, least, sheet.kerf) {
        let low = inwards(free.low, f64::ceil)?;
        let high = inwards(free.high, f64::floor)?;
        let size_mm = [exact::sub(high[0], low[0])?, exact::sub(high[1], low[1])?];
        if size_mm.iter().all(|side| *side >= plan.off_cut_mm) {
            found.push(OffCut { low_mm: low, size_mm });
        }
    }
    Ok(found)
}

fn inwards(point: Point, rounded: fn(f64) -> f64) -> Result<[Decimal; 2], CutError> {
    // A hair of rounding does not cost a hundredth.
    let toward = if rounded(0.5) > 0.0 { -1e-6 } else { 1e-6 };
    let [x, y] = point.map(|value| exact::from_geometry(rounded(value * 100.0 + toward) / 100.0));
    Ok([x.ok_or(TooLarge)?, y.ok_or(TooLarge)?])
}
