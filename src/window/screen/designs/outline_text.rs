//! Reading the measures of an outline. They hold together (a drop is higher than wide), so all of them are read again
//! whenever one changes.

use super::draft::{Draft, Typed};
use super::field::{Field, OutlinePart};
use super::show::{self, LIST_MARK};
use crate::costing::geometry;
use crate::measure::parse::parse_length_mm;
use crate::measure::{Decimal, Preferences};
use crate::studio::Outline;

/// The kinds of outline, in the order they are offered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OutlineKind {
    /// A disc.
    Disc,
    /// An ellipse.
    Ellipse,
    /// A rectangle.
    Rectangle,
    /// A drop.
    Drop,
    /// A polygon.
    Polygon,
    /// A drawn path.
    Path,
}

impl OutlineKind {
    /// Every kind with its word.
    pub const ALL: [(Self, &'static str); 6] = [
        (Self::Disc, "Disc"),
        (Self::Ellipse, "Ellipse"),
        (Self::Rectangle, "Rectangle"),
        (Self::Drop, "Drop"),
        (Self::Polygon, "Polygon"),
        (Self::Path, "Drawn path"),
    ];

    /// The kind of an outline.
    pub fn of(outline: &Outline) -> Self {
        match outline {
            Outline::Disc { .. } => Self::Disc,
            Outline::Ellipse { .. } => Self::Ellipse,
            Outline::Rectangle { .. } => Self::Rectangle,
            Outline::Drop { .. } => Self::Drop,
            Outline::Polygon { .. } => Self::Polygon,
            Outline::Path { .. } => Self::Path,
        }
    }

    /// Its fields with their labels.
    pub fn fields(self) -> &'static [(OutlinePart, &'static str)] {
        match self {
            Self::Disc => &[(OutlinePart::Long, "Diameter")],
            Self::Ellipse => &[(OutlinePart::Long, "Length"), (OutlinePart::Wide, "Width")],
            Self::Rectangle => {
                &[(OutlinePart::Long, "Length"), (OutlinePart::Wide, "Width"), (OutlinePart::Corner, "Corner radius")]
            }
            Self::Drop => &[(OutlinePart::Long, "Height"), (OutlinePart::Wide, "Width")],
            Self::Polygon => &[(OutlinePart::Points, "Corners in mm, x y; x y; …")],
            Self::Path => &[(OutlinePart::Points, "SVG path data in mm")],
        }
    }
}

/// The length and width of an outline in mm, as far as it has them.
pub fn extent_mm(outline: &Outline) -> (Decimal, Decimal) {
    let forty = Decimal::from(40);
    match outline {
        Outline::Disc { diameter_mm } => (*diameter_mm, *diameter_mm),
        Outline::Ellipse { length_mm, width_mm } | Outline::Rectangle { length_mm, width_mm, .. } => {
            (*length_mm, *width_mm)
        }
        Outline::Drop { height_mm, width_mm } => (*height_mm, *width_mm),
        Outline::Polygon { .. } | Outline::Path { .. } => (forty, Decimal::from(25)),
    }
}

/// An outline of another kind with much the same size as one.
pub fn changed_to(kind: OutlineKind, outline: &Outline) -> Outline {
    let (long, wide) = extent_mm(outline);
    match kind {
        OutlineKind::Disc => Outline::Disc { diameter_mm: wide },
        OutlineKind::Ellipse => Outline::Ellipse { length_mm: long, width_mm: wide },
        OutlineKind::Rectangle => Outline::Rectangle { length_mm: long, width_mm: wide, corner_mm: Decimal::ZERO },
        OutlineKind::Drop => {
            let height = if long > wide { long } else { wide.saturating_mul(Decimal::new(15, 1)) };
            Outline::Drop { height_mm: height, width_mm: wide }
        }
        OutlineKind::Polygon => {
            let zero = Decimal::ZERO;
            Outline::Polygon { points_mm: vec![[zero, zero], [long, zero], [long, wide], [zero, wide]] }
        }
        OutlineKind::Path => {
            let (long, wide) = (long.normalize(), wide.normalize());
            Outline::Path { svg: format!("M0 0 H{long} V{wide} H0 Z") }
        }
    }
}

/// A person typed a measure of the outline.
pub fn type_in(draft: &mut Draft, part: OutlinePart, text: String, preferences: &Preferences) {
    let field = Field::Outline(part);
    let _ = draft.texts.insert(field, Typed { text, problem: None });
    let kind = OutlineKind::of(&draft.content.design.blank.outline);
    let mut read = Vec::new();
    let mut whole = true;
    for (part, _) in kind.fields() {
        let text = show::text_of(draft, Field::Outline(*part), preferences);
        let outcome = read_part(kind, *part, &text, preferences);
        if let Some(typed) = draft.texts.get_mut(&Field::Outline(*part)) {
            typed.problem = outcome.as_ref().err().cloned();
        }
        match outcome {
            Ok(value) => read.push(value),
            Err(_) => whole = false,
        }
    }
    if !whole {
        return;
    }
    let outcome = built(kind, &read).and_then(|outline| {
        let mut blank = draft.content.design.blank.clone();
        blank.outline = outline;
        geometry::measure(&blank).map_err(|problem| problem.to_string()).map(|_| blank)
    });
    match outcome {
        Ok(blank) => draft.content.design.blank = blank,
        Err(problem) => {
            if let Some(typed) = draft.texts.get_mut(&field) {
                typed.problem = Some(problem);
            }
        }
    }
}

enum Read {
    Length(Decimal),
    Points(Vec<[Decimal; 2]>),
    Svg(String),
}

fn read_part(kind: OutlineKind, part: OutlinePart, text: &str, p: &Preferences) -> Result<Read, String> {
    match (kind, part) {
        (OutlineKind::Path, _) => Ok(Read::Svg(text.trim().to_owned())),
        (OutlineKind::Polygon, _) => read_points(text).map(Read::Points),
        (_, part) => {
            let value = parse_length_mm(text, p).map_err(|problem| problem.to_string())?;
            if value.is_zero() && part != OutlinePart::Corner {
                return Err("0 is too little: write a length such as 45 mm".to_owned());
            }
            Ok(Read::Length(value))
        }
    }
}

/// Corners as pairs of plain numbers in millimetres, parted by semicolons; a minus is taken.
fn read_points(text: &str) -> Result<Vec<[Decimal; 2]>, String> {
    let corners = text.split(LIST_MARK).map(str::trim).filter(|corner| !corner.is_empty());
    let corners = corners.map(|corner| {
        let wrong = || format!("{corner:?} is not a corner: write two numbers such as 30 0, parted by semicolons");
        let mut numbers = corner.split_whitespace().map(|number| {
            number.replace('−', "-").parse::<Decimal>().ok().filter(|value| value.abs() <= Decimal::from(10_000))
        });
        match (numbers.next(), numbers.next(), numbers.next()) {
            (Some(Some(x)), Some(Some(y)), None) if x.scale() <= 9 && y.scale() <= 9 => Ok([x, y]),
            _ => Err(wrong()),
        }
    });
    let corners = corners.collect::<Result<Vec<_>, _>>()?;
    if corners.len() < 3 {
        return Err("a polygon has three corners or more, such as 0 0; 30 0; 15 26".to_owned());
    }
    Ok(corners)
}

fn built(kind: OutlineKind, read: &[Read]) -> Result<Outline, String> {
    let half = Decimal::new(5, 1);
    Ok(match (kind, read) {
        (OutlineKind::Disc, [Read::Length(diameter)]) => Outline::Disc { diameter_mm: *diameter },
        (OutlineKind::Ellipse, [Read::Length(length), Read::Length(width)]) => {
            Outline::Ellipse { length_mm: *length, width_mm: *width }
        }
        (OutlineKind::Rectangle, [Read::Length(length), Read::Length(width), Read::Length(corner)]) => {
            if *corner > length.min(width).saturating_mul(half) {
                return Err("a corner is at most half the shorter side".to_owned());
            }
            Outline::Rectangle { length_mm: *length, width_mm: *width, corner_mm: *corner }
        }
        (OutlineKind::Drop, [Read::Length(height), Read::Length(width)]) => {
            if height <= width {
                return Err("a drop is higher than it is wide".to_owned());
            }
            Outline::Drop { height_mm: *height, width_mm: *width }
        }
        (OutlineKind::Polygon, [Read::Points(points)]) => Outline::Polygon { points_mm: points.clone() },
        (OutlineKind::Path, [Read::Svg(svg)]) => Outline::Path { svg: svg.clone() },
        _ => return Err("the outline cannot be read".to_owned()),
    })
}
