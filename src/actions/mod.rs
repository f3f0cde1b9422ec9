//! What a person does, one function each: one transaction, one name in the history, one undo.
//!
//! [`perform`] carries out an [`Action`]; the faces build actions and show outcomes, they never see a connection.

use crate::book::{Book, BookError, Snapshot};
use crate::measure::{Money, Quantity};
use crate::studio::{
    Design, DesignCode, DesignId, Follows, Item, ItemId, LabelSheet, LotId, PriceListId, Settings, SheetId, StudioRates,
};
use chrono::{NaiveDate, NaiveDateTime};

/// A thing a person does.
#[derive(Debug, Clone, PartialEq)]
pub enum Action {
    /// Adds an item of stock, or changes one.
    SaveItem {
        /// None adds.
        id: Option<ItemId>,
        /// The item as it shall be.
        item: Item,
    },
    /// Receives lots; one or several, in one action.
    Receive(Vec<Receipt>),
    /// Takes stock to the bench.
    Issue(Taking),
    /// Writes stock off.
    WriteOff(Taking),
    /// Sends stock back to its supplier, at its lot's cost.
    Return {
        /// What leaves.
        taking: Taking,
        /// The lot; none means the latest that can give it.
        lot: Option<LotId>,
    },
    /// Says what is there.
    Count(Taking),
    /// Adds a design, or changes one.
    SaveDesign {
        /// None adds.
        id: Option<DesignId>,
        /// The design as it shall be.
        design: Design,
        /// What it takes from the studio.
        follows: Follows,
        /// Notes.
        notes: String,
    },
    /// Copies a design under another code.
    DuplicateDesign {
        /// The one to copy.
        id: DesignId,
        /// The copy's code.
        code: DesignCode,
        /// The copy's name.
        name: String,
    },
    /// Sets a design aside, or takes it up again.
    RetireDesign {
        /// The design.
        id: DesignId,
        /// True sets it aside.
        retired: bool,
    },
    /// Gives a design a photo or sketch (PNG bytes, already scaled down), or takes it away.
    SetPhoto {
        /// The design.
        id: DesignId,
        /// None takes it away.
        png: Option<Vec<u8>>,
    },
    /// Changes the studio's rates and channels.
    SaveRates(StudioRates),
    /// Changes the book's settings.
    SaveSettings(Settings),
    /// Adds a label sheet, or changes one.
    SaveSheet {
        /// None adds.
        id: Option<SheetId>,
        /// The sheet as it shall be.
        sheet: LabelSheet,
    },
    /// Accepts tickets into a new dated price list.
    AcceptPrices {
        /// The day they hold from.
        date: NaiveDate,
        /// The list's name.
        name: String,
        /// The tickets.
        tickets: Vec<crate::studio::PriceLine>,
    },
    /// Fills an empty book with the demo studio.
    LoadDemo,
}

/// A lot that comes in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Receipt {
    /// The item.
    pub item: ItemId,
    /// The day.
    pub date: NaiveDate,
    /// In the item's unit, above 0.
    pub quantity: Quantity,
    /// As typed.
    pub typed: String,
    /// Whole landed cost, 0 or more.
    pub cost: Money,
    /// The maker's lot number.
    pub lot_number: String,
    /// The supplier.
    pub supplier: String,
    /// Anything else.
    pub note: String,
}

/// Stock that leaves, or (for a count) that is there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taking {
    /// The item.
    pub item: ItemId,
    /// The day.
    pub date: NaiveDate,
    /// In the item's unit; above 0, for a count 0 or more.
    pub quantity: Quantity,
    /// As typed.
    pub typed: String,
    /// Why.
    pub note: String,
}

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
    /// Anything else the program says no to.
    #[error("{0}")]
    No(String),
}

/// An action's own id: carrying out the same key twice does it once, so that an action whose commit was in doubt after
/// a crash can be repeated safely.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ActionKey(pub u128);

impl ActionKey {
    /// A new key.
    pub fn fresh() -> Self {
        Self(uuid::Uuid::new_v4().as_u128())
    }
}

/// When an action is done, and under which key; both come from the face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Order {
    /// Its key.
    pub key: ActionKey,
    /// Local date and time.
    pub at: NaiveDateTime,
}

/// Carries out one action in one transaction. On an error nothing was changed.
pub fn perform(book: &mut Book, action: Action, order: Order) -> Result<Outcome, Refusal> {
    let _ = (book, action, order);
    Err(Refusal::No(String::new()))
}

/// Takes back the latest action that is not undone.
pub fn undo(book: &mut Book, order: Order) -> Result<Outcome, Refusal> {
    let _ = (book, order);
    Err(Refusal::No(String::new()))
}

/// Does the latest undone action again.
pub fn redo(book: &mut Book, order: Order) -> Result<Outcome, Refusal> {
    let _ = (book, order);
    Err(Refusal::No(String::new()))
}

/// Reads everything the faces show at once.
pub fn snapshot(book: &Book) -> Result<Snapshot, BookError> {
    let _ = book;
    Err(BookError::Stopped)
}

/// The value of an item and of the whole stock on a day: see [`crate::costing::stock`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StockValue {
    /// One line an item with stock on that day, by name.
    pub lines: Vec<(ItemId, Quantity, Money)>,
    /// Their sum.
    pub total: Money,
}

/// An item's movements in order of date then id.
pub fn movements(book: &Book, item: ItemId) -> Result<Vec<crate::studio::Movement>, BookError> {
    let _ = (book, item);
    Err(BookError::Stopped)
}

/// A design's photo, PNG bytes.
pub fn photo(book: &Book, id: DesignId) -> Result<Option<Vec<u8>>, BookError> {
    let _ = (book, id);
    Err(BookError::Stopped)
}

/// What the stock was worth at the end of a day.
pub fn stock_value(
    book: &Book,
    on: NaiveDate,
    method: crate::studio::ValuationMethod,
) -> Result<StockValue, BookError> {
    let _ = (book, on, method);
    Err(BookError::Stopped)
}

/// What a check of a whole book found.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CheckReport {
    /// What was checked, a sentence each.
    pub checked: Vec<String>,
    /// What is wrong, a sentence each; empty when the book is sound.
    pub problems: Vec<String>,
}

/// Checks integrity and every conservation law over a whole book.
pub fn check(book: &Book) -> Result<CheckReport, BookError> {
    let _ = book;
    Err(BookError::Stopped)
}
