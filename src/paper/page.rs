//! A laid-out document: pages of placed items in millimetres, origin at the top left, y downwards.
//!
//! The PDF and the preview on screen are both drawn from this, so the preview is the page.

use super::fonts;
use super::picture::Image;
use super::symbol::SymbolArt;
use super::warning::Warning;
use crate::studio::Turn;
use std::ops::Range;
use std::sync::Arc;

/// Millimetres in a point (1/72 inch; ISO 32000-1, 8.3.2.3).
pub const MM_PER_POINT: f64 = 25.4 / 72.0;

/// A dot of a 300 dpi printer in millimetres; symbols begin on whole dots.
pub const DOT_MM: f64 = 25.4 / 300.0;

/// A face of type.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// Weight 400.
    Regular,
    /// Weight 600.
    Semibold,
    /// Weight 700.
    Bold,
    /// Italic, weight 400.
    Italic,
    /// Japanese, weight 400: for what the others have no glyph for.
    Japanese,
    /// Japanese, weight 700.
    JapaneseBold,
}

impl Face {
    /// Every built-in face, in the order of [`fonts::ALL`].
    pub const ALL: [Self; 4] = [Self::Regular, Self::Semibold, Self::Bold, Self::Italic];

    /// The two Japanese faces.
    pub(super) const JAPANESE: [Self; 2] = [Self::Japanese, Self::JapaneseBold];

    /// The font file; nothing for a Japanese face that was not handed over.
    pub fn bytes(self) -> &'static [u8] {
        match self {
            Self::Regular => fonts::REGULAR,
            Self::Semibold => fonts::SEMIBOLD,
            Self::Bold => fonts::BOLD,
            Self::Italic => fonts::ITALIC,
            Self::Japanese => fonts::japanese(false),
            Self::JapaneseBold => fonts::japanese(true),
        }
    }

    /// The PostScript name, as the font file gives it.
    pub const fn postscript_name(self) -> &'static str {
        match self {
            Self::Regular => "SourceSans3-Regular",
            Self::Semibold => "SourceSans3-Semibold",
            Self::Bold => "SourceSans3-Bold",
            Self::Italic => "SourceSans3-It",
            Self::Japanese => "MPLUS1p-Regular",
            Self::JapaneseBold => "MPLUS1p-Bold",
        }
    }
}

/// Red, green and blue, 0 to 255.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Colour(pub [u8; 3]);

impl Colour {
    /// Text, bars and modules: plain black, so that a one-bit printer need not dither it.
    pub const BLACK: Self = Self([0, 0, 0]);
    /// Quieter text on cards.
    pub const GREY: Self = Self([90, 90, 90]);
    /// Lines to cut and fold along.
    pub const CUT: Self = Self([165, 165, 165]);
}

/// A rectangle in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rect {
    /// Left edge.
    pub x_mm: f64,
    /// Top edge.
    pub y_mm: f64,
    /// Width.
    pub width_mm: f64,
    /// Height.
    pub height_mm: f64,
}

impl Rect {
    /// Right edge.
    pub fn right_mm(&self) -> f64 {
        self.x_mm + self.width_mm
    }

    /// Bottom edge.
    pub fn bottom_mm(&self) -> f64 {
        self.y_mm + self.height_mm
    }

    /// True when `other` lies inside, to a thousandth of a millimetre.
    pub fn holds(&self, other: &Self) -> bool {
        const SLACK: f64 = 0.001;
        other.x_mm >= self.x_mm - SLACK
            && other.y_mm >= self.y_mm - SLACK
            && other.right_mm() <= self.right_mm() + SLACK
            && other.bottom_mm() <= self.bottom_mm() + SLACK
    }
}

/// A shaped glyph of a run.
#[derive(Debug, Clone, PartialEq)]
pub struct Glyph {
    /// The face it is from.
    pub face: Face,
    /// Its number in that face.
    pub id: u16,
    /// From the run's origin to the glyph's, to the right.
    pub x_mm: f64,
    /// Above the baseline.
    pub rise_mm: f64,
    /// The characters it stands for; empty when an earlier glyph of its cluster holds them.
    pub text: Arc<str>,
}

/// A line of text at its place.
#[derive(Debug, Clone, PartialEq)]
pub struct TextRun {
    /// Left end of the baseline.
    pub x_mm: f64,
    /// The baseline.
    pub y_mm: f64,
    /// Size of the type in points.
    pub size_pt: f64,
    /// Colour.
    pub colour: Colour,
    /// Advance of the whole line.
    pub width_mm: f64,
    /// Its glyphs, from left to right.
    pub glyphs: Arc<[Glyph]>,
    /// Turned about the left end of its baseline.
    pub turn: Turn,
}

impl TextRun {
    /// The text as it can be copied from the page.
    pub fn text(&self) -> String {
        self.glyphs.iter().map(|glyph| &*glyph.text).collect()
    }

    /// Where a point of the run stands on the page, given how far it is along the baseline and above it.
    pub fn at(&self, along_mm: f64, above_mm: f64) -> [f64; 2] {
        let [dx, dy] = turned([along_mm, -above_mm], self.turn);
        [self.x_mm + dx, self.y_mm + dy]
    }
}

/// A way to the right and down, turned clockwise.
pub(super) fn turned([x, y]: [f64; 2], turn: Turn) -> [f64; 2] {
    match turn {
        Turn::None => [x, y],
        Turn::Quarter => [-y, x],
        Turn::Half => [-x, -y],
        Turn::ThreeQuarters => [y, -x],
    }
}

/// A piece of a path, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Segment {
    /// Begins a contour.
    Move([f64; 2]),
    /// A straight line.
    Line([f64; 2]),
    /// A cubic curve: two control points and the end.
    Cubic([f64; 2], [f64; 2], [f64; 2]),
    /// Closes the contour.
    Close,
}

impl Segment {
    fn moved(self, dx: f64, dy: f64) -> Self {
        let by = |[x, y]: [f64; 2]| [x + dx, y + dy];
        match self {
            Self::Move(point) => Self::Move(by(point)),
            Self::Line(point) => Self::Line(by(point)),
            Self::Cubic(first, second, end) => Self::Cubic(by(first), by(second), by(end)),
            Self::Close => Self::Close,
        }
    }
}

/// How a path is painted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Paint {
    /// Filled, non-zero winding.
    Fill(Colour),
    /// Drawn as a line.
    Line {
        /// Colour.
        colour: Colour,
        /// Width.
        width_mm: f64,
        /// Lengths of dash and gap; none draws a whole line.
        dash_mm: Option<[f64; 2]>,
    },
}

/// A shape at its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// Its outline.
    pub path: Vec<Segment>,
    /// How it is painted.
    pub paint: Paint,
}

impl Shape {
    /// A filled rectangle.
    pub fn filled(rect: Rect, colour: Colour) -> Self {
        Self { path: rectangle(rect), paint: Paint::Fill(colour) }
    }

    /// The outline of a rectangle, drawn just inside it.
    pub fn outline(rect: Rect, colour: Colour, width_mm: f64) -> Self {
        let half = width_mm / 2.0;
        let inner = Rect {
            x_mm: rect.x_mm + half,
            y_mm: rect.y_mm + half,
            width_mm: rect.width_mm - width_mm,
            height_mm: rect.height_mm - width_mm,
        };
        Self { path: rectangle(inner), paint: Paint::Line { colour, width_mm, dash_mm: None } }
    }

    /// A straight line.
    pub fn line(from: [f64; 2], to: [f64; 2], colour: Colour, width_mm: f64, dash_mm: Option<[f64; 2]>) -> Self {
        Self { path: vec![Segment::Move(from), Segment::Line(to)], paint: Paint::Line { colour, width_mm, dash_mm } }
    }

    /// The outline of a circle.
    pub fn circle(centre: [f64; 2], radius_mm: f64, colour: Colour, width_mm: f64) -> Self {
        Self { path: round(centre, radius_mm), paint: Paint::Line { colour, width_mm, dash_mm: None } }
    }

    /// A filled circle.
    pub fn disc(centre: [f64; 2], radius_mm: f64, colour: Colour) -> Self {
        Self { path: round(centre, radius_mm), paint: Paint::Fill(colour) }
    }
}

/// How far a control point lies from the end of a quarter of a circle that is drawn as one cubic curve: the usual
/// 4/3 · tan(π/8) of the radius.
pub(super) fn corner_arm(radius: f64) -> f64 {
    radius * 4.0 / 3.0 * (std::f64::consts::PI / 8.0).tan()
}

/// A circle, clockwise on the page.
pub(super) fn round([x, y]: [f64; 2], r: f64) -> Vec<Segment> {
    let arm = corner_arm(r);
    vec![
        Segment::Move([x + r, y]),
        Segment::Cubic([x + r, y + arm], [x + arm, y + r], [x, y + r]),
        Segment::Cubic([x - arm, y + r], [x - r, y + arm], [x - r, y]),
        Segment::Cubic([x - r, y - arm], [x - arm, y - r], [x, y - r]),
        Segment::Cubic([x + arm, y - r], [x + r, y - arm], [x + r, y]),
        Segment::Close,
    ]
}

pub(super) fn rectangle(rect: Rect) -> Vec<Segment> {
    vec![
        Segment::Move([rect.x_mm, rect.y_mm]),
        Segment::Line([rect.right_mm(), rect.y_mm]),
        Segment::Line([rect.right_mm(), rect.bottom_mm()]),
        Segment::Line([rect.x_mm, rect.bottom_mm()]),
        Segment::Close,
    ]
}

/// A code symbol at its place; its quiet zone lies around it.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedSymbol {
    /// Left edge of the dark part.
    pub x_mm: f64,
    /// Top edge of the dark part.
    pub y_mm: f64,
    /// Width of a module.
    pub module_mm: f64,
    /// Height of a row of modules: the module, or the height of the bars.
    pub row_mm: f64,
    /// The modules.
    pub art: Arc<SymbolArt>,
}

impl PlacedSymbol {
    /// The dark part.
    pub fn rect(&self) -> Rect {
        Rect {
            x_mm: self.x_mm,
            y_mm: self.y_mm,
            width_mm: f64::from(self.art.columns) * self.module_mm,
            height_mm: f64::from(self.art.rows) * self.row_mm,
        }
    }
}

/// A picture at its place.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedPicture {
    /// Where it stands, as it is turned.
    pub rect: Rect,
    /// Turned clockwise.
    pub turn: Turn,
    /// The picture; it fills its place.
    pub image: Arc<Image>,
}

impl PlacedPicture {
    /// Width and height before it is turned, mm.
    pub fn upright_mm(&self) -> [f64; 2] {
        match self.turn {
            Turn::None | Turn::Half => [self.rect.width_mm, self.rect.height_mm],
            Turn::Quarter | Turn::ThreeQuarters => [self.rect.height_mm, self.rect.width_mm],
        }
    }

    /// Where its top left, top right and bottom left corners stand on the page.
    pub fn corners(&self) -> [[f64; 2]; 3] {
        let Rect { x_mm: left, y_mm: top, .. } = self.rect;
        let (right, bottom) = (self.rect.right_mm(), self.rect.bottom_mm());
        match self.turn {
            Turn::None => [[left, top], [right, top], [left, bottom]],
            Turn::Quarter => [[right, top], [right, bottom], [left, top]],
            Turn::Half => [[right, bottom], [left, bottom], [right, top]],
            Turn::ThreeQuarters => [[left, bottom], [left, top], [right, bottom]],
        }
    }
}

/// Anything on a page.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// Text.
    Text(TextRun),
    /// A filled shape or a line.
    Shape(Shape),
    /// A code symbol.
    Symbol(PlacedSymbol),
    /// A picture.
    Picture(PlacedPicture),
}

impl Item {
    /// The item moved to the right and down. A symbol comes to stand on whole dots of a 300 dpi printer: bars and
    /// modules that share dots with their neighbours scan badly.
    #[must_use]
    pub fn moved(&self, dx: f64, dy: f64) -> Self {
        self.moved_on_dots(dx, dy, DOT_MM)
    }

    /// The item moved to the right and down; a symbol comes to stand on whole dots that are so large, mm.
    #[must_use]
    pub(super) fn moved_on_dots(&self, dx: f64, dy: f64, dot_mm: f64) -> Self {
        let snap = |value: f64| (value / dot_mm).round() * dot_mm;
        match self.shifted(dx, dy) {
            Self::Symbol(symbol) => {
                Self::Symbol(PlacedSymbol { x_mm: snap(symbol.x_mm), y_mm: snap(symbol.y_mm), ..symbol })
            }
            other => other,
        }
    }

    /// The item moved to the right and down by just that much.
    pub(super) fn shifted(&self, dx: f64, dy: f64) -> Self {
        match self {
            Self::Text(run) => Self::Text(TextRun { x_mm: run.x_mm + dx, y_mm: run.y_mm + dy, ..run.clone() }),
            Self::Shape(shape) => Self::Shape(Shape {
                path: shape.path.iter().map(|segment| segment.moved(dx, dy)).collect(),
                paint: shape.paint,
            }),
            Self::Symbol(symbol) => {
                Self::Symbol(PlacedSymbol { x_mm: symbol.x_mm + dx, y_mm: symbol.y_mm + dy, ..symbol.clone() })
            }
            Self::Picture(picture) => Self::Picture(PlacedPicture {
                rect: Rect { x_mm: picture.rect.x_mm + dx, y_mm: picture.rect.y_mm + dy, ..picture.rect },
                ..picture.clone()
            }),
        }
    }
}

/// A label or card on a page.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// Its outline.
    pub rect: Rect,
    /// Which label of the page it is, from 1, row by row.
    pub number: u32,
    /// Which of the job's tags or cards it shows, from 0.
    pub entry: usize,
    /// Its items in [`Page::items`].
    pub items: Range<usize>,
}

/// A page.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Page {
    /// Width.
    pub width_mm: f64,
    /// Height.
    pub height_mm: f64,
    /// What is on it, back to front.
    pub items: Vec<Item>,
    /// The labels or cards on it.
    pub places: Vec<Place>,
}

/// A laid-out document.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Document {
    /// Its pages, at least one.
    pub pages: Vec<Page>,
    /// What could not be printed as asked, each thing once.
    pub warnings: Vec<Warning>,
}
