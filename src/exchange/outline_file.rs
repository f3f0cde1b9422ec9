//! Outlines out of an SVG file (W3C SVG 1.1): transforms, `use`, basic shapes, units and view boxes followed, sizes in
//! millimetres, every coordinate an exact decimal rounded to 0.001 mm.
//!
//! The file is first checked and written anew with nothing in it but shapes and what places them (`plain`); what
//! could make a reader work without end (entities, nested `use`, markers, patterns, masks) is refused or left behind
//! there. A shape's line has no width here: the outline is the middle of the line.
#![allow(clippy::float_arithmetic)]

mod nesting;
mod plain;
mod text;
mod tree;

use crate::costing::geometry::MOST_FLAT_PIECES;
use crate::measure::Decimal;
use crate::studio::Outline;
use std::collections::HashSet;
use std::fmt;

/// Most bytes an outline file may have.
pub const MOST_BYTES: usize = 5_000_000;

/// How large what is drawn is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Scale {
    /// As the file's width and height say: in mm, cm, in, pt or pc; without a unit, or in px, at 96 to the inch
    /// (CSS Values and Units, section 6.2).
    #[default]
    AsWritten,
    /// The longer side of the extent of all its shapes is this long, in mm, above zero.
    LongSideMm(Decimal),
}

/// What an SVG file draws.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutlineFile {
    /// Its shapes in the order drawn, each an [`Outline::Path`] where the file has it on its page, y downwards.
    pub shapes: Vec<Outline>,
    /// Width of the extent of all shapes, mm.
    pub width_mm: Decimal,
    /// Height of the extent of all shapes, mm.
    pub height_mm: Decimal,
    /// What of the file was not followed.
    pub remarks: Vec<Remark>,
}

/// A stencil as a drawing shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stencil {
    /// The stencil's own edges: shapes that hold others. Empty where the drawing shows openings alone.
    pub edges: Vec<Outline>,
    /// Its openings.
    pub openings: Vec<Outline>,
}

/// Something of the file that was not followed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Remark {
    /// Shapes are drawn with a line; its width counts for nothing.
    LinesHaveNoWidth(usize),
    /// Texts are left out.
    Texts(usize),
    /// Pictures and foreign content are left out.
    Pictures(usize),
    /// Shapes with neither fill nor line are left out.
    NotDrawn(usize),
    /// Shapes that enclose nothing, such as single lines, are left out.
    EncloseNothing(usize),
    /// Open shapes were closed with a straight line.
    Closed(usize),
    /// Shapes that are drawn once more in the very same place are taken once.
    DrawnAgain(usize),
    /// Clip paths, masks and filters are not followed.
    Effects(usize),
    /// The style sheet moves shapes; only the attribute `transform` is followed.
    StyledTransforms,
    /// The size has no unit: it was read at 96 pixels to the inch.
    Pixels,
}

impl fmt::Display for Remark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let shapes = |count: usize| format!("{count} {}", if count == 1 { "shape" } else { "shapes" });
        match *self {
            Self::LinesHaveNoWidth(count) => {
                write!(
                    f,
                    "{} drawn with a line: the middle of the line is the outline, its width is left out",
                    shapes(count)
                )
            }
            Self::Texts(count) => write!(
                f,
                "{count} {} left out: turn letters into paths in the drawing program to have them cut",
                if count == 1 { "text" } else { "texts" }
            ),
            Self::Pictures(count) => {
                write!(
                    f,
                    "{count} {} left out: a picture has no outline",
                    if count == 1 { "picture" } else { "pictures" }
                )
            }
            Self::NotDrawn(count) => write!(f, "{} with neither fill nor line left out", shapes(count)),
            Self::EncloseNothing(count) => write!(f, "{} left out: nothing is enclosed", shapes(count)),
            Self::Closed(count) => write!(f, "{} open: closed with a straight line", shapes(count)),
            Self::DrawnAgain(count) => write!(f, "{} drawn again in the same place: taken once", shapes(count)),
            Self::Effects(count) => {
                write!(f, "{count} clip paths, masks or filters not followed: the whole shapes were taken")
            }
            Self::StyledTransforms => {
                f.write_str("transforms in a style sheet are not followed; accepted is the attribute transform")
            }
            Self::Pixels => f.write_str("the size has no unit of length: read as pixels, 96 to the inch"),
        }
    }
}

/// Why a file gives no outlines.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum OutlineFileProblem {
    /// More than [`MOST_BYTES`].
    #[error("the file has {0} bytes; accepted are SVG files of 5 MB or less")]
    TooLarge(usize),
    /// Not text.
    #[error("the file is not UTF-8 text; accepted is an SVG file that is not compressed")]
    NotText,
    /// XML that cannot be read, or no SVG.
    #[error("the file is no SVG: {0}")]
    NotSvg(String),
    /// Entities, nesting, elements or style beyond the limits.
    #[error("the file is refused: {what}; accepted {accepted}")]
    Refused {
        /// What was found.
        what: String,
        /// What would be accepted.
        accepted: &'static str,
    },
    /// Neither width nor height says how large it is.
    #[error(
        "the file does not say how large it is: neither width nor height in mm, cm, in, pt or px; say how long its longer side is"
    )]
    NoSize,
    /// The long side that was asked for.
    #[error("a long side of {0} mm; accepted is a length above 0 and up to 10000 mm")]
    LongSide(Decimal),
    /// No shape encloses anything.
    #[error("the file has no shape that encloses something{0}")]
    NoShape(String),
    /// More pieces than can be followed.
    #[error("the shapes are too fine: more than {MOST_FLAT_PIECES} straight pieces when followed to 0.01 mm")]
    TooFine,
    /// A shape that is no outline.
    #[error("shape {number}: {reason}")]
    Shape {
        /// Which, from 1 in the order drawn.
        number: usize,
        /// Why not.
        reason: String,
    },
}

/// Reads the outlines of an SVG file.
///
/// # Errors
/// [`OutlineFileProblem`]: not an SVG, beyond the limits, without a size where [`Scale::AsWritten`] needs one, nothing
/// enclosed, or shapes that cross themselves or are too fine.
pub fn read(bytes: &[u8], scale: Scale) -> Result<OutlineFile, OutlineFileProblem> {
    if bytes.len() > MOST_BYTES {
        return Err(OutlineFileProblem::TooLarge(bytes.len()));
    }
    if let Scale::LongSideMm(side) = scale
        && (side <= Decimal::ZERO || side > Decimal::from(MOST_SIDE_MM))
    {
        return Err(OutlineFileProblem::LongSide(side));
    }
    let text = std::str::from_utf8(bytes).map_err(|_| OutlineFileProblem::NotText)?;
    let plain = plain::plain(text.trim_start_matches('\u{feff}'))?;
    if scale == Scale::AsWritten && plain.size == plain::Size::None {
        return Err(OutlineFileProblem::NoSize);
    }
    let mut remarks = plain.remarks.clone();
    if scale == Scale::AsWritten && plain.size == plain::Size::Pixels {
        remarks.push(Remark::Pixels);
    }
    let drawn = tree::shapes(&plain.svg)?;
    remarks.extend(drawn.remarks);
    if drawn.shapes.is_empty() {
        let why: Vec<String> = remarks.iter().map(ToString::to_string).collect();
        return Err(OutlineFileProblem::NoShape(why.iter().map(|why| format!("; {why}")).collect()));
    }
    let millimetres = match scale {
        Scale::AsWritten => text::MM_PER_PIXEL,
        Scale::LongSideMm(side) => {
            text::long_side_scale(&drawn.shapes, side).ok_or(OutlineFileProblem::LongSide(side))?
        }
    };
    let drawn_shapes = text::outlines(&drawn.shapes, millimetres)?;
    let mut shapes: Vec<Outline> = Vec::with_capacity(drawn_shapes.len());
    let mut seen = HashSet::new();
    for shape in &drawn_shapes {
        if let Outline::Path { svg } = shape
            && seen.insert(svg.as_str())
        {
            shapes.push(shape.clone());
        }
    }
    if shapes.len() < drawn_shapes.len() {
        remarks.push(Remark::DrawnAgain(drawn_shapes.len() - shapes.len()));
    }
    nesting::check(&shapes)?;
    let [width_mm, height_mm] = text::extent_mm(&drawn.shapes, millimetres).ok_or(OutlineFileProblem::TooFine)?;
    Ok(OutlineFile { shapes, width_mm, height_mm, remarks })
}

/// Longest side a drawing may be asked to have, mm.
const MOST_SIDE_MM: u32 = 10_000;

impl OutlineFile {
    /// The blanks: every outermost shape with the shapes inside it as its holes.
    ///
    /// # Errors
    /// [`OutlineFileProblem::Shape`] where shapes cross or touch one another.
    pub fn blanks(&self) -> Result<Vec<Outline>, OutlineFileProblem> {
        nesting::blanks(&self.shapes)
    }

    /// All shapes as one outline by even-odd.
    pub fn whole(&self) -> Outline {
        nesting::joined(&self.shapes)
    }

    /// The stencil. An opening holds no loose island, so a shape with others inside is taken for the stencil's own
    /// edge and what lies in it for its openings; where no shape holds another, every shape is an opening.
    ///
    /// # Errors
    /// [`OutlineFileProblem::Shape`] where shapes inside an edge cross or touch one another.
    pub fn stencil(&self) -> Result<Stencil, OutlineFileProblem> {
        nesting::stencil(&self.shapes)
    }
}

#[cfg(test)]
mod tests;
