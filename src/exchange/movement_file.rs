//! A file of movements, read: rows of texts in, a plan of what they would do out, with every problem by row and column.
//!
//! Columns: `date,item,movement,quantity,unit,cost,note`.
//!
//! * `date` is `YYYY-MM-DD`. Lines of one day keep the file's order.
//! * `item` is a reference of the book, upper and lower case alike, or else the name of exactly one item. Any other is
//!   an item to be made: a consumable kept in the unit of its first line.
//! * `movement` is one of `receipt`, `issue`, `return`, `count`, `write-off`, `wash-back`.
//! * `quantity` and `unit`: a unit other than the item's is converted exactly where it measures the same thing, to the
//!   book's grain of a billionth. Without a unit the quantity is in the item's own.
//! * `cost` is the whole landed cost of a receipt; that of a wash-back may be left out and is then 0. The other movements
//!   have none: they are costed from the lots.
//!
//! Numbers finer than the book keeps, as sums of other programs often are, are rounded half-even to the book's grain: a
//! billionth of a unit, a millionth of the currency.
//!
//! Nothing here reads files or the book: [`read`] takes texts and what the book knows, [`shortages`] the movements
//! there are.

mod reader;
mod short;

pub use short::shortages;

use crate::measure::{Currency, Money, NumberStyle, Quantity, Unit};
use crate::studio::{Item, ItemId, MovementKind};
use chrono::NaiveDate;
use reader::Reader;
use std::collections::BTreeSet;

/// A column of a movement file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Column {
    /// The day.
    Date,
    /// The item.
    Item,
    /// What it does.
    Movement,
    /// How much.
    Quantity,
    /// In what.
    Unit,
    /// Landed cost of what comes in.
    Cost,
    /// Anything else.
    Note,
}

impl Column {
    /// Every column, in the order they are written.
    pub const ALL: [Self; 7] =
        [Self::Date, Self::Item, Self::Movement, Self::Quantity, Self::Unit, Self::Cost, Self::Note];

    /// Its heading.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Date => "date",
            Self::Item => "item",
            Self::Movement => "movement",
            Self::Quantity => "quantity",
            Self::Unit => "unit",
            Self::Cost => "cost",
            Self::Note => "note",
        }
    }

    /// A file without it cannot be read.
    pub const fn is_needed(self) -> bool {
        matches!(self, Self::Date | Self::Item | Self::Movement | Self::Quantity)
    }

    const fn place(self) -> usize {
        self as usize
    }
}

/// The texts of a file under the columns of a movement file.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct MovementSheet {
    /// What problems call each column, in the order of [`Column::ALL`]; empty means its heading.
    pub labels: [String; 7],
    /// The rows below the headings.
    pub rows: Vec<MovementRow>,
}

/// One row of texts, in the order of [`Column::ALL`]; what a file does not have is empty.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct MovementRow {
    /// Its number in the file, from 1, headings counted.
    pub row: usize,
    /// Its texts.
    pub texts: [String; 7],
}

/// Whose fault a problem is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    /// The file says what cannot be.
    File,
    /// The file is fine, and the book says no: stock is short, or the period is closed.
    Book,
}

/// What is wrong with one cell of a file.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("row {row}, {column}: {text}")]
pub struct RowProblem {
    /// The row in the file, from 1.
    pub row: usize,
    /// The column.
    pub column: String,
    /// What was given and what would be accepted.
    pub text: String,
    /// Whose fault it is.
    pub fault: Fault,
}

/// What the book knows that reading needs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shelf {
    /// Every item: row, reference, name, unit.
    pub items: Vec<(ItemId, String, String, Unit)>,
    /// The book's currency.
    pub currency: Currency,
    /// How the file writes decimals where a number can be read in two ways.
    pub numbers: NumberStyle,
    /// The last day of the closed period.
    pub closed_until: Option<NaiveDate>,
}

/// What importing a file would do, all of it or nothing.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ImportPlan {
    /// What it is called in the history, e.g. the file's name.
    pub name: String,
    /// Items to be made, in the order they come.
    pub new_items: Vec<Item>,
    /// Movements in the file's order.
    pub movements: Vec<ImportMovement>,
    /// Which columns were picked for files of this shape, to be remembered.
    pub shape: Option<ImportShape>,
}

/// The columns picked for files of one shape.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ImportShape {
    /// What tells the shape.
    pub fingerprint: String,
    /// What was picked, a document of whoever picks.
    pub body: String,
}

/// Which item a movement of a plan is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ImportItem {
    /// One of the book.
    Known(ItemId),
    /// One to be made: its place among the plan's new items.
    New(usize),
}

/// A movement of a plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ImportMovement {
    /// Its row in the file, from 1.
    pub row: usize,
    /// The item.
    pub item: ImportItem,
    /// The day.
    pub date: NaiveDate,
    /// What it does.
    pub kind: MovementKind,
    /// In the item's unit; see [`MovementKind`] for its meaning.
    pub quantity: Quantity,
    /// Receipts and wash-backs: the whole landed cost.
    pub cost: Option<Money>,
    /// Quantity and unit as the file has them.
    pub typed: String,
    /// Free text.
    pub note: String,
    /// The maker's lot number of what comes in; may be empty.
    pub lot_number: String,
    /// The supplier of what comes in or goes back; none where the file does not say, and the item's own is taken.
    pub supplier: Option<String>,
}

/// A file as it would be imported, and what is wrong with it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Planned {
    /// What can be read.
    pub plan: ImportPlan,
    /// Every problem, by row then column; the plan is whole only when there is none.
    pub problems: Vec<RowProblem>,
    /// Items with a row that cannot be read: what would be short of them cannot be told.
    unsure: BTreeSet<ImportItem>,
}

/// Reads a sheet. Rows of nothing but empty cells are passed over.
pub fn read(sheet: &MovementSheet, name: &str, shelf: &Shelf) -> Planned {
    let mut reader = Reader::new(sheet, shelf);
    reader.planned.plan.name = name.to_owned();
    for row in &sheet.rows {
        if row.texts.iter().any(|text| !text.trim().is_empty()) {
            reader.row(row);
        }
    }
    reader.planned
}

#[cfg(test)]
mod tests;
