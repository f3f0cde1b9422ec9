//! Movements of stock: the append-only list everything about stock is computed from.

use super::item::ItemId;
use crate::measure::{Money, Quantity};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// A movement's row in a book; rises in the order of entry and never comes back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct MovementId(pub i64);

/// A lot's row in a book: the receipt or wash-back that brought it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct LotId(pub i64);

/// What a movement does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum MovementKind {
    /// A lot comes in; `quantity` above 0, `cost` its whole landed cost.
    Receipt,
    /// Stock goes to the bench; `quantity` above 0 is what leaves.
    Issue,
    /// A lot, or part of it, goes back to the supplier at its lot's cost; `quantity` above 0 is what leaves.
    Return,
    /// What was counted or weighed; `quantity` is what is there, 0 or more.
    Count,
    /// Spilled, spoiled, lost; `quantity` above 0 is what leaves.
    WriteOff,
    /// Enamel reclaimed from overspray, sieving or a rinse comes in as a lot of its own; `quantity` above 0, `cost` what
    /// it is taken in at, often nothing.
    WashBack,
}

impl MovementKind {
    /// Every kind, in the order they are offered.
    pub const ALL: [Self; 6] = [Self::Receipt, Self::Issue, Self::Return, Self::Count, Self::WriteOff, Self::WashBack];

    /// The name in files and on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Receipt => "receipt",
            Self::Issue => "issue",
            Self::Return => "return",
            Self::Count => "count",
            Self::WriteOff => "write-off",
            Self::WashBack => "wash-back",
        }
    }

    /// It brings a lot of its own, at a cost.
    pub const fn is_lot(self) -> bool {
        matches!(self, Self::Receipt | Self::WashBack)
    }

    /// A supplier is part of it.
    pub const fn comes_or_goes_back(self) -> bool {
        matches!(self, Self::Receipt | Self::Return)
    }

    /// The kind of that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }
}

/// One line of the append-only list. Movements of an item are ordered by date, then by id.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Movement {
    /// Its row.
    pub id: MovementId,
    /// The item.
    pub item: ItemId,
    /// The day it happened.
    pub date: NaiveDate,
    /// What it does.
    pub kind: MovementKind,
    /// In the item's unit; see [`MovementKind`] for its meaning.
    pub quantity: Quantity,
    /// Receipts: the whole landed cost, as corrected last. Wash-backs: what it is taken in at. Others: none.
    pub cost: Option<Money>,
    /// Returns: the receipt the stock goes back to, none means the latest lot that can give it. Receipts: none (a
    /// receipt is its own lot).
    pub lot: Option<LotId>,
    /// Receipts: the maker's lot number. Free text.
    pub lot_number: String,
    /// Receipts and returns: the supplier. Free text.
    pub supplier: String,
    /// Why, or anything else. Free text.
    pub note: String,
    /// Quantity and unit as they were typed, e.g. `2 oz`.
    pub typed: String,
}

/// How issues are costed (IAS 2, paragraph 25); one for the whole book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, Default)]
#[serde(rename_all = "lowercase")]
pub enum ValuationMethod {
    /// First in, first out.
    #[default]
    Fifo,
    /// Moving weighted average.
    Average,
}

impl ValuationMethod {
    /// The name in files and on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Fifo => "fifo",
            Self::Average => "average",
        }
    }
}
