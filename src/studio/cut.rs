//! Sheet cut into blanks and off-cuts.

use super::item::{Item, ItemId};
use super::movement::MovementId;
use crate::measure::{Decimal, Money, Quantity};
use chrono::NaiveDate;

/// What cutting makes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CutPart {
    /// Blanks; they bear the bench time.
    Blank,
    /// What is left and can be used again.
    OffCut,
}

impl CutPart {
    /// The name in the book and in files.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Blank => "blank",
            Self::OffCut => "off-cut",
        }
    }

    /// The part of that name.
    pub fn from_name(name: &str) -> Option<Self> {
        [Self::Blank, Self::OffCut].into_iter().find(|part| part.name() == name)
    }
}

/// A cut as it is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cut {
    /// What is cut.
    pub sheet: ItemId,
    /// How much of it, in its unit, above 0.
    pub quantity: Quantity,
    /// As typed.
    pub typed: String,
    /// The day.
    pub date: NaiveDate,
    /// What it makes.
    pub lines: Vec<CutLine>,
    /// Scrap, g, 0 or more.
    pub scrap_g: Quantity,
    /// The scrap's share of the metal's value, in the measure of the lines' shares; 0 lets the lines bear all of it.
    pub scrap_share: Decimal,
    /// Time at the bench, minutes, 0 or more.
    pub bench_minutes: Decimal,
    /// The blanks bear the bench time at the studio's wage.
    pub bench_in_cost: bool,
    /// Anything else.
    pub note: String,
}

/// What a cut makes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutLine {
    /// What it is.
    pub part: CutPart,
    /// The item it becomes.
    pub item: CutItem,
    /// How much of it, in its unit, above 0.
    pub quantity: Quantity,
    /// Its share of the metal, all of it together: its area, in any one measure for the whole cut, above 0.
    pub share: Decimal,
}

/// The item something cut becomes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CutItem {
    /// One of the book.
    Known(ItemId),
    /// One to be made.
    New(Box<Item>),
}

/// A cut of a book: what it needs to be costed again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BookCut {
    /// The movement that issued the sheet.
    pub issue: MovementId,
    /// What the bench time is worth.
    pub bench: Money,
    /// The scrap's share.
    pub scrap_share: Decimal,
    /// The receipts: movement, part, share.
    pub lines: Vec<(MovementId, CutPart, Decimal)>,
}
