//! Blanks from the sheet: how many of an outline fit, the best mix of several, and what each costs.
//!
//! [`lay_out`] and [`mix`] place blanks on a sheet with a saw kerf between them and an edge margin around them; the
//! answer is a [`Layout`] with every outline in millimetres, the metal used and left, and the rectangles left that are
//! big enough to be kept. [`share`] splits the cost of the sheet over it. The same plan gives the same layout every
//! time: the search counts its tries and reads no clock.
//!
//! What is really sawn, which may be more sheets and fewer blanks, is a [`Sawn`]; it becomes the
//! [`Cut`](crate::studio::Cut) that is written into the book.
//!
//! Three searches take part and the best of them is kept. Rows repeat a blank, or two head to tail, over the
//! sheet; discs also have rows of their own and are pushed apart freely; filling lays any outline beside
//! any other with the collision engine jagua-rs, in rings blown up by half the kerf, and every blank it proposes is
//! measured again here at full precision. Lengths of the search are binary floats; areas, masses and money are exact
//! decimals from the moment they leave it.
#![allow(clippy::float_arithmetic)]

mod chance;
mod check;
mod discs;
mod fill;
mod layout;
mod lie;
mod mass;
mod mix;
mod plane;
mod rest;
mod rows;
mod sawn;
mod search;
mod shape;
mod share;
mod work;
mod zone;

pub use layout::{Layout, Masses, OffCut, Placed};
pub use mass::grams;
pub use mix::{MOST_BLANKS, lay_out, mix};
pub use sawn::{Estimate, Piece, Sawn, blank_mm2, estimate, of_sheets, sheet_mm2};
pub use share::{Areas, Costs, Scrap, share};
pub use work::{Flow, Progress};

use crate::measure::{Decimal, Money, TooLarge};
use crate::studio::{Metal, Outline, Thickness};
use serde::{Deserialize, Serialize};

/// A direction on the sheet or of an outline as it is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Axis {
    /// Along x: the first of the two sizes.
    X,
    /// Along y: the second of the two sizes.
    Y,
}

/// How a blank may be turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Turn {
    /// As it is drawn, never turned.
    AsDrawn,
    /// As it is drawn or upside down: head to tail.
    HalfTurns,
    /// By quarter turns.
    QuarterTurns,
    /// By any angle.
    #[default]
    Free,
}

/// An outline to be cut.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Wanted {
    /// The outline: one piece, with or without holes. What is in a hole is scrap.
    pub outline: Outline,
    /// How many; `None` for as many as fit.
    pub quantity: Option<u32>,
    /// How it may be turned.
    pub turn: Turn,
    /// The direction of the outline that is to lie along the sheet's grain, where both are stated.
    pub grain: Option<Axis>,
}

/// A sheet and what is to be cut from it. Lengths are mm.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SheetPlan {
    /// Its two sides, along x and along y; above 0, to [`LONGEST_SIDE_MM`].
    pub size_mm: [Decimal; 2],
    /// What it is made of.
    pub metal: Metal,
    /// How thick it is.
    pub thickness: Thickness,
    /// What the saw takes: the least gap between two blanks, 0 or more.
    pub kerf_mm: Decimal,
    /// What stays free along every edge, 0 or more.
    pub margin_mm: Decimal,
    /// Which way the sheet was rolled, where it matters.
    pub grain: Option<Axis>,
    /// The shorter side of the smallest off-cut worth keeping, above 0.
    pub off_cut_mm: Decimal,
    /// What is to be cut, at least one outline.
    pub wanted: Vec<Wanted>,
}

/// What makes one mix better than another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Aim {
    /// The quantities wanted, then whole sets of those without a quantity, one of each, then as many as fit.
    Quantities,
    /// As many whole sets as fit, so many of each outline in a set; quantities wanted are the most of each.
    Sets(Vec<u32>),
    /// The most value, so much a blank of each outline; quantities wanted are the most of each.
    Value(Vec<Money>),
}

/// The longest side of a sheet, mm.
pub const LONGEST_SIDE_MM: i64 = 10_000;

/// Tries of a search when nothing else is said: a few seconds at most on an ordinary computer.
pub const USUAL_TRIES: u32 = 20_000;

/// Why there is no layout.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CutError {
    /// A field holds what it may not.
    #[error("{field} is {value}; accepted is {accepted}")]
    Field {
        /// Its name in words.
        field: &'static str,
        /// What it holds.
        value: String,
        /// What it may hold.
        accepted: String,
    },
    /// An outline cannot be cut.
    #[error("outline {number}: {reason}")]
    Outline {
        /// Its place in the list, from 1.
        number: usize,
        /// Why.
        reason: String,
    },
    /// The turn allowed never brings the outline along the grain.
    #[error(
        "outline {number}: its grain lies across the sheet's and it may not be turned by a quarter; accepted are quarter \
         turns or free turning, or no grain"
    )]
    Grain {
        /// Its place in the list, from 1.
        number: usize,
    },
    /// The one who waited gave up.
    #[error("laying out was cancelled")]
    Cancelled,
    /// A figure does not fit.
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
}
