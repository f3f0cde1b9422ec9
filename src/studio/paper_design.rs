//! A paper as she designed it: words, pictures and symbols pinned where she wants them.

use super::language::Language;
use crate::measure::Decimal;
use serde::{Deserialize, Serialize};

/// A paper design's row in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct PaperDesignId(pub i64);

/// A stored picture's row in a book: a logo, an ornament.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct PictureId(pub i64);

/// A small paper: one face of it, with all that is pinned to it. Lengths are mm from its top left corner.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PaperDesign {
    /// Her name for it, unique in a book.
    pub name: String,
    /// What it is for.
    pub kind: PaperKind,
    /// Width, 8 to 420 mm.
    pub width_mm: Decimal,
    /// Height, 6 to 420 mm.
    pub height_mm: Decimal,
    /// Where it is folded.
    pub fold: Option<Fold>,
    /// Holes punched or cut into it; nothing is printed within a millimetre of one.
    pub holes: Vec<Hole>,
    /// Corner radius of its outline, 0 is square; half the shorter side is round.
    pub corner_mm: Decimal,
    /// The languages it is written in: one or two; the second follows the first where both are asked for.
    pub languages: Vec<Language>,
    /// What is pinned to it, in the order it is drawn.
    pub pinned: Vec<Pinned>,
}

/// What a small paper is for: it says which facts can be pinned to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PaperKind {
    /// A price tag of a design or of a piece.
    Tag,
    /// A care card.
    Care,
    /// A card earrings hang on.
    Earring,
    /// A label on a jar of enamel.
    Jar,
    /// A label on a drawer or box of stock.
    Drawer,
    /// A certificate for a one-off piece.
    Certificate,
    /// A sign on the stall.
    Sign,
}

impl PaperKind {
    /// Every kind, in the order they are offered.
    pub const ALL: [Self; 7] =
        [Self::Tag, Self::Care, Self::Earring, Self::Jar, Self::Drawer, Self::Certificate, Self::Sign];

    /// The name in files and on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Tag => "tag",
            Self::Care => "care",
            Self::Earring => "earring",
            Self::Jar => "jar",
            Self::Drawer => "drawer",
            Self::Certificate => "certificate",
            Self::Sign => "sign",
        }
    }

    /// The words on screen.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Tag => "Price tag",
            Self::Care => "Care card",
            Self::Earring => "Earring card",
            Self::Jar => "Jar label",
            Self::Drawer => "Drawer label",
            Self::Certificate => "Certificate",
            Self::Sign => "Stall sign",
        }
    }
}

/// A fold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Fold {
    /// A line from top to bottom, so far from the left edge.
    Upright(Decimal),
    /// A line from left to right, so far from the top edge.
    Across(Decimal),
}

/// A round hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Hole {
    /// Its centre from the left.
    pub x_mm: Decimal,
    /// Its centre from the top.
    pub y_mm: Decimal,
    /// Its diameter, above 0.
    pub diameter_mm: Decimal,
}

/// Something pinned to a paper.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pinned {
    /// What it is.
    pub what: What,
    /// Left edge.
    pub x_mm: Decimal,
    /// Top edge.
    pub y_mm: Decimal,
    /// Width, above 0.
    pub width_mm: Decimal,
    /// Height, above 0.
    pub height_mm: Decimal,
    /// Turned clockwise about the middle of its place.
    pub turn: Turn,
    /// How text is set; of no effect on pictures, symbols and rules but for its colour.
    pub set: TextSet,
}

/// A quarter turn, clockwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, Default)]
#[serde(rename_all = "kebab-case")]
pub enum Turn {
    /// Upright.
    #[default]
    None,
    /// A quarter.
    Quarter,
    /// Upside down.
    Half,
    /// Three quarters.
    ThreeQuarters,
}

/// How text is set in its place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct TextSet {
    /// Weight.
    pub weight: Weight,
    /// Largest size, points.
    pub most_pt: Decimal,
    /// Smallest size it shrinks to, points, at most the largest, from 4.
    pub least_pt: Decimal,
    /// Most lines, from 1.
    pub lines: u32,
    /// Where lines stand across.
    pub across: Across,
    /// Where they stand from top to bottom.
    pub down: Down,
    /// Its colour.
    pub ink: Ink,
}

/// Weight of type.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, Default)]
#[serde(rename_all = "lowercase")]
pub enum Weight {
    /// Regular.
    #[default]
    Regular,
    /// Semibold.
    Semibold,
    /// Bold.
    Bold,
}

/// Where lines stand across.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, Default)]
#[serde(rename_all = "lowercase")]
pub enum Across {
    /// At the left.
    #[default]
    Left,
    /// In the middle.
    Middle,
    /// At the right.
    Right,
}

/// Where lines stand from top to bottom.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, Default)]
#[serde(rename_all = "lowercase")]
pub enum Down {
    /// At the top.
    #[default]
    Top,
    /// In the middle.
    Middle,
    /// At the bottom.
    Bottom,
}

/// A colour of ink.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, Default)]
#[serde(rename_all = "kebab-case")]
pub enum Ink {
    /// Black.
    #[default]
    Black,
    /// Grey.
    Grey,
    /// White, on a band.
    White,
    /// The piece's own colour.
    Piece,
    /// A colour of hers: red, green, blue.
    Own([u8; 3]),
}

/// What can be pinned to a paper. A fact the paper's kind does not have prints nothing, and she is told.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum What {
    /// The name of the design, item or piece.
    Name,
    /// The code of the design, or the reference of an item.
    Code,
    /// The number of a finished piece.
    PieceNumber,
    /// The ticket.
    Ticket,
    /// What it is made of.
    Materials,
    /// Her own words.
    Words(String),
    /// A phrase of papers by its name, said in the paper's languages.
    Phrase(String),
    /// How to look after it.
    Care,
    /// The cautions: lead, children.
    Cautions,
    /// The maker's story, from Setup.
    Story,
    /// The studio's name.
    Studio,
    /// Where the studio is.
    Place,
    /// The photo or sketch of the design, fitted into its place.
    Photo,
    /// A stored picture, fitted into its place.
    Picture(PictureId),
    /// A symbol that scans.
    Symbol {
        /// Which.
        kind: SymbolKind,
        /// Of what.
        of: SymbolOf,
    },
    /// A line along the longer side of its place, as thick as the shorter.
    Rule,
    /// A filled rectangle in its ink.
    Band,
    /// A round swatch of the enamel's colour.
    Swatch,
    /// Opaque, transparent, opalescent …
    EnamelKind,
    /// The mesh.
    Mesh,
    /// Soft, medium, hard.
    Fusing,
    /// The firing range.
    FiringRange,
    /// The lot number.
    Lot,
    /// The jar's tare.
    Tare,
    /// A mark that it bears lead; nothing where it does not.
    LeadMark,
    /// The gauge or thickness of metal.
    Gauge,
    /// The size of the blank.
    Size,
    /// Where it stands.
    Shelf,
    /// How often it was fired.
    Firings,
    /// The day it was finished, or printed.
    Date,
}

/// A symbol that scans.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SymbolKind {
    /// QR code.
    Qr,
    /// Data Matrix.
    DataMatrix,
    /// Code 128.
    Code128,
    /// EAN-13.
    Ean13,
}

/// What a symbol holds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SymbolOf {
    /// The code, or for an item its reference.
    Code,
    /// The piece's number; the code where it has none.
    PieceNumber,
    /// The EAN-13 of the design or item.
    Number,
    /// A text of hers, such as an address of a web page.
    Text(String),
}

/// A paper design of a book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BookPaperDesign {
    /// Its row.
    pub id: PaperDesignId,
    /// The design.
    pub design: PaperDesign,
    /// Set aside: kept, not offered.
    pub retired: bool,
}
