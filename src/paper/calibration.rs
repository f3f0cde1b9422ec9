//! The calibration page, and the correction that follows from what is measured on it.
//!
//! A printer puts the point that lies `x` mm from the left edge of a page at `x / s + d`: it prints everything `1 / s` as
//! long, and shifts it by `d`. A ruler of the length `L` then comes out `l = L / s` long, and a cross that lies `c` from
//! the edge comes out at `m = c / s + d`. So `s = L / l`, and a page whose points are first brought to
//! `s · x + (c − s · m)` comes out with every point at `x`: that is the [`Correction`], its stretch `s` and its way
//! `c − s · m`. From top to bottom it is the same. (Derived here; solved for `d` the two lines give `s · d = s · m − c`.)

use super::calibration_page;
use super::cards::PaperSize;
use super::page::Document;
use super::shaper::Shaper;
use super::warning::PaperProblem;
use crate::measure::{Decimal, TooLarge, exact};
use crate::studio::{Correction, LabelSheet, SheetId};

/// The title of the page.
pub const TITLE: &str = "Calibration page";

/// From the edges to the middle of a cross, mm, on a page of at least [`LARGE_MM`].
const CROSS_MM: f64 = 10.0;
/// A side shorter than this has its crosses at a quarter of it, mm.
const LARGE_MM: f64 = 40.0;
/// The longest rulers, level and upright, mm.
const RULERS_MM: [f64; 2] = [150.0, 200.0];
/// Above the upright ruler is the level one: on a usual page, and on a small one, mm.
const LEVEL_BAND_MM: [f64; 2] = [18.0, 6.0];
/// A page with a shorter side is a small one, mm.
const SMALL_MM: f64 = 80.0;

/// A printer that stretches more than this was not printing at actual size.
const STRETCH_MOST: Decimal = Decimal::from_parts(3, 0, 0, false, 2);
/// A printer that shifts more than this took the sheet in askew, or another sheet, mm.
const SHIFT_MOST_MM: Decimal = Decimal::from_parts(8, 0, 0, false, 0);

/// A calibration page to print.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Calibration {
    /// The page.
    pub size: PaperSize,
    /// The printer's dots per inch, where it is known: stripes of whole dots show whether they come out whole.
    pub dots_per_inch: Option<u32>,
}

/// Lengths on the page, as they are meant or as they were measured, mm; across first, then down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Measured {
    /// From the left edge and from the top edge of the paper to the middle of the ringed cross.
    pub cross_mm: [Decimal; 2],
    /// The level and the upright ruler, from their first to their last line.
    pub rulers_mm: [Decimal; 2],
}

/// What a printer does to a page, found in another way; across first, then down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OffsetAndScale {
    /// How far the top left corner of the page comes out to the right of and below that of the paper, mm, −8 to 8.
    pub offset_mm: [Decimal; 2],
    /// How long a length comes out, in parts of what it should be: 1 is as long, 0.971 to 1.03.
    pub scale: [Decimal; 2],
}

/// A length or factor no printer has.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{field}: {value} was given; {accepted}")]
pub struct CalibrationProblem {
    /// What was measured.
    pub field: &'static str,
    /// Its value.
    pub value: String,
    /// What would be accepted.
    pub accepted: String,
}

/// What the lengths on a page of a size are where the printer is exact, mm. Rulers are shorter where the page is smaller;
/// of no length where there is no room for one.
pub fn meant(size: PaperSize) -> Measured {
    let sides = [size.width_mm, size.height_mm];
    let small = size.width_mm.min(size.height_mm) < SMALL_MM;
    let [usual, narrow] = LEVEL_BAND_MM;
    let bands = [0.0, if small { narrow } else { usual }];
    let crosses = sides.map(|side| if side >= LARGE_MM { CROSS_MM } else { (side / 2.0).floor() / 2.0 });
    let ruler = |at: usize| {
        let side = |of: [f64; 2]| of.get(at).copied().unwrap_or_default();
        let room = (side(sides) - 2.0 * side(crosses) - side(bands)).min(side(RULERS_MM)).max(0.0);
        // Whole centimetres, or half of one where not even one fits.
        if room >= 10.0 { (room / 10.0).floor() * 10.0 } else { (room / 5.0).floor() * 5.0 }
    };
    let exactly =
        |lengths: [f64; 2]| lengths.map(|length| exact::from_geometry(length).unwrap_or_default().normalize());
    Measured { cross_mm: exactly(crosses), rulers_mm: exactly([ruler(0), ruler(1)]) }
}

/// Lays out the page: crosses near its corners, a level and an upright ruler, stripes of whole dots, and how to measure
/// where there is room for the words. It is to be printed without a correction.
///
/// # Errors
/// A page too small for rulers: one of at least 20 by 25 mm has room for them.
pub fn layout(asked: &Calibration, shaper: &mut Shaper) -> Result<Document, PaperProblem> {
    calibration_page::layout(asked, None, shaper)
}

/// As [`layout`], on the page of a sheet and with the outlines of its labels: held against a sheet of them, they show
/// whether they lie on the labels.
///
/// # Errors
/// As [`layout`], and where the measures of the sheet do not work.
pub fn layout_for_sheet(
    sheet: &LabelSheet,
    dots_per_inch: Option<u32>,
    shaper: &mut Shaper,
) -> Result<Document, PaperProblem> {
    let grid = super::sheets::grid(sheet)?;
    let size = PaperSize { width_mm: grid.page_width_mm, height_mm: grid.page_height_mm };
    calibration_page::layout(&Calibration { size, dots_per_inch }, Some((&sheet.name, &grid)), shaper)
}

const CROSSES: [&str; 2] = ["left edge to the cross", "top edge to the cross"];
const RULERS: [&str; 2] = ["level ruler", "upright ruler"];
const OFFSETS: [&str; 2] = ["offset across", "offset down"];
const SCALES: [&str; 2] = ["scale across", "scale down"];

/// What puts a printer right that printed the calibration page of a size so. See the module for the formula; stretches
/// have six decimals, ways three.
///
/// # Errors
/// A ruler more than 3 % longer or shorter than meant: whoever printed it scaled the page. A cross, or the page's corner,
/// more than 8 mm off.
pub fn correction_from(
    sheet: Option<SheetId>,
    size: PaperSize,
    measured: &Measured,
) -> Result<Correction, CalibrationProblem> {
    let meant = meant(size);
    let [level, upright] = pairs(meant.rulers_mm, measured.rulers_mm);
    let [left, top] = pairs(meant.cross_mm, measured.cross_mm);
    let [ruler_across, ruler_down] = RULERS;
    let (wide, high) = (stretch(ruler_across, level)?, stretch(ruler_down, upright)?);
    let [cross_across, cross_down] = CROSSES;
    let (right_mm, down_mm) = (way(cross_across, left, wide)?, way(cross_down, top, high)?);
    Ok(Correction { sheet, right_mm, down_mm, wide, high })
}

/// What puts a printer right whose offset and scale are known: the stretch is `1 / scale`, the way `−offset / scale`.
///
/// # Errors
/// A scale beyond 0.971 to 1.03, or an offset beyond 8 mm.
pub fn correction_from_offset_and_scale(
    sheet: Option<SheetId>,
    found: &OffsetAndScale,
) -> Result<Correction, CalibrationProblem> {
    let one = |scale: Decimal, offset: Decimal, [of_scale, of_offset]: [&'static str; 2]| {
        let beyond = || {
            let accepted = "0.971 to 1.03 is accepted: beyond it the page was scaled; print it at actual size";
            problem(of_scale, scale.to_string(), accepted.to_owned())
        };
        if scale <= Decimal::ZERO {
            return Err(beyond());
        }
        let stretch = exact::div(Decimal::ONE, scale).map(|stretch| exact::round(stretch, 6));
        let stretch = stretch.map_err(|TooLarge| beyond())?;
        if (stretch - Decimal::ONE).abs() > STRETCH_MOST {
            return Err(beyond());
        }
        let way = exact::mul(stretch, offset).map(|way| exact::round(-way, 3));
        match way {
            Ok(way) if offset.abs() <= SHIFT_MOST_MM && way.abs() <= SHIFT_MOST_MM => Ok((stretch, way)),
            _ => Err(problem(of_offset, format!("{offset} mm"), "−8 to 8 mm is accepted".to_owned())),
        }
    };
    let ([offset_across, offset_down], [scale_across, scale_down]) = (found.offset_mm, found.scale);
    let ([of_offset, of_offset_down], [of_scale, of_scale_down]) = (OFFSETS, SCALES);
    let (wide, right_mm) = one(scale_across, offset_across, [of_scale, of_offset])?;
    let (high, down_mm) = one(scale_down, offset_down, [of_scale_down, of_offset_down])?;
    Ok(Correction { sheet, right_mm, down_mm, wide, high })
}

fn pairs([meant, meant_down]: [Decimal; 2], [measured, measured_down]: [Decimal; 2]) -> [[Decimal; 2]; 2] {
    [[meant, measured], [meant_down, measured_down]]
}

fn problem(field: &'static str, value: String, accepted: String) -> CalibrationProblem {
    CalibrationProblem { field, value, accepted }
}

/// The stretch that gives a ruler its length.
fn stretch(field: &'static str, [meant, measured]: [Decimal; 2]) -> Result<Decimal, CalibrationProblem> {
    let refused = || {
        // Rounded inwards, to what a rule shows.
        let shown = |factor: Decimal, up: bool| {
            let limit = exact::div(meant, factor).unwrap_or_default();
            let near = exact::round(limit, 1);
            let step = Decimal::new(1, 1);
            match (up && near < limit, !up && near > limit) {
                (true, _) => near + step,
                (_, true) => near - step,
                _ => near,
            }
        };
        let (least, most) = (shown(Decimal::ONE + STRETCH_MOST, true), shown(Decimal::ONE - STRETCH_MOST, false));
        let accepted = format!(
            "{least} to {most} mm is accepted: beyond it the page was scaled; print it at actual size, not fitted"
        );
        problem(field, format!("{measured} mm"), accepted)
    };
    if meant <= Decimal::ZERO {
        return Err(problem(field, format!("{measured} mm"), "the page is too small for this ruler".to_owned()));
    }
    if measured <= Decimal::ZERO {
        return Err(refused());
    }
    let stretch = exact::div(meant, measured).map(|stretch| exact::round(stretch, 6)).map_err(|TooLarge| refused())?;
    let off = exact::sub(stretch, Decimal::ONE).map_err(|TooLarge| refused())?;
    if off.abs() > STRETCH_MOST { Err(refused()) } else { Ok(stretch) }
}

/// The way that brings a cross to its place once it is stretched.
fn way(field: &'static str, [meant, measured]: [Decimal; 2], stretch: Decimal) -> Result<Decimal, CalibrationProblem> {
    let refused = || {
        let least = (meant - SHIFT_MOST_MM).max(Decimal::ZERO).normalize();
        let most = (meant + SHIFT_MOST_MM).normalize();
        let accepted = format!("{least} to {most} mm is accepted: print it again on a sheet that lies straight");
        problem(field, format!("{measured} mm"), accepted)
    };
    let off = exact::sub(measured, meant).map_err(|TooLarge| refused())?;
    let way = exact::mul(stretch, measured).and_then(|come| exact::sub(meant, come)).map_err(|TooLarge| refused())?;
    let way = exact::round(way, 3);
    if measured < Decimal::ZERO || off.abs() > SHIFT_MOST_MM || way.abs() > SHIFT_MOST_MM {
        return Err(refused());
    }
    Ok(way)
}
