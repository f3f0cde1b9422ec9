//! What an action brought about, and why one was not done.

use crate::book::BookError;
use crate::costing::validate::Problem;
use crate::measure::{Money, Quantity};
use crate::studio::{
    BatchId, DesignId, ItemId, JarId, KilnId, LoadId, NumberedId, OrderId, PaperDesignId, PictureId, PriceListId,
    PrinterId, SheetId, TileId,
};
use chrono::NaiveDate;

/// What an action brought about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outcome {
    /// Its sentence in the history, e.g. “Receive 3 lots”.
    pub name: String,
    /// The row it added, where it added one the face may want to open.
    pub added: Option<Added>,
    /// The cost of what left, for an issue, write-off, return or count.
    pub moved_value: Option<Money>,
}

/// A row an action added.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Added {
    /// An item.
    Item(ItemId),
    /// A design.
    Design(DesignId),
    /// A price list.
    PriceList(PriceListId),
    /// A sheet.
    Sheet(SheetId),
    /// A jar.
    Jar(JarId),
    /// An order.
    Order(OrderId),
    /// A batch.
    Batch(BatchId),
    /// A kiln.
    Kiln(KilnId),
    /// A load.
    Load(LoadId),
    /// A test tile.
    Tile(TileId),
    /// A paper of her own.
    PaperDesign(PaperDesignId),
    /// A stored picture.
    Picture(PictureId),
    /// A printer.
    Printer(PrinterId),
    /// A numbered paper.
    NumberedPaper(NumberedId),
}

/// Why an action was not done. Nothing was changed.
#[derive(Debug, Clone, thiserror::Error)]
pub enum Refusal {
    /// The book cannot be written.
    #[error(transparent)]
    Book(#[from] BookError),
    /// A field holds something that cannot be accepted.
    #[error("{field}: {value} was given; {accepted}")]
    Field {
        /// The field, in the words of the screen.
        field: String,
        /// What it holds.
        value: String,
        /// What would be accepted.
        accepted: String,
    },
    /// Not enough stock.
    #[error("{item}: only {on_hand} {unit} on hand on {date}, {asked} {unit} asked for; receive or count it first")]
    NotEnough {
        /// The item's name.
        item: String,
        /// What is there.
        on_hand: Quantity,
        /// The item's unit.
        unit: crate::measure::Unit,
        /// The day.
        date: NaiveDate,
        /// What was asked for.
        asked: Quantity,
    },
    /// A day in the closed period.
    #[error("Date: {date} was given; the period up to {until} is closed, a day after it is accepted")]
    Closed {
        /// The day.
        date: NaiveDate,
        /// The last day of the closed period.
        until: NaiveDate,
    },
    /// Stopped by the person who asked for it.
    #[error("stopped; nothing was changed")]
    Stopped,
    /// No such thing.
    #[error("there is no {0}")]
    Missing(String),
    /// The name or code is taken.
    #[error("{field}: {value} is taken; choose another")]
    Taken {
        /// The field.
        field: String,
        /// The value.
        value: String,
    },
    /// Values of a design or of a channel that are not accepted; all of them, each with its place.
    #[error("{}", sentences(.0))]
    Problems(Vec<Problem>),
    /// Anything else the program says no to.
    #[error("{0}")]
    No(String),
}

/// Problems one after the other.
fn sentences(problems: &[Problem]) -> String {
    let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
    said.join("; ")
}
