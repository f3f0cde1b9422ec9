//! The rooms, a folder each, and the pattern they share.
//!
//! A room is a [`Room`]: it keeps what it edits, is shown a [`Shared`] by reference, and says what it wants done as an
//! [`Action`]. Its `view` holds no sums, queries or formatting loops: rows are worded in `update` and `refresh`. The
//! root keeps every room's state while another is on screen, so that nothing half-typed is lost by looking elsewhere.

pub mod batches;
pub mod bench;
pub mod buying;
pub mod carrying;
pub mod counting;
pub mod cutting;
pub mod designs;
pub mod kiln;
pub mod kilns;
pub mod orders;
pub mod papers;
pub mod pieces;
pub mod pinning;
pub mod planning;
pub mod prices;
pub mod printers;
pub mod rates;
pub mod setup;
pub mod shop_papers;
pub mod stock;
pub mod tiles;
pub mod trouble;
pub mod way_out;
pub mod weighing;
pub mod welcome;
pub mod wording;

use super::desk::{Answer, Request};
use super::machine::Machine;
use super::shared::Shared;
use super::shortcut::Command;
use crate::actions;
use crate::book::Access;
use crate::studio::{BatchId, DesignId, ItemId, LoadId, PaperDesignId, PieceId};
use iced::{Element, Subscription, Task};
use std::path::PathBuf;

/// What a room wants done.
#[derive(Debug)]
pub enum Action<Message> {
    /// Nothing.
    None,
    /// Work whose outcome comes back as a message of the room: scrolling, focus, a dialog, writing a file.
    Run(Task<Message>),
    /// A thing a person does. The root carries it out, tells its outcome in a toast with a way to undo it, refreshes
    /// every room when the book has changed, then calls [`Room::answered`] of the room that asked.
    Do(actions::Action),
    /// A question to the book; the answer comes to [`Room::answered`].
    Ask(Request),
    /// A toast.
    Notify(Notice),
    /// Another page.
    Open(Destination),
    /// Another look or text size on this machine.
    Prefer(Machine),
    /// Another book, or another state of this one.
    Book(BookWish),
    /// Several of these, in order.
    Many(Vec<Action<Message>>),
}

impl<Message: 'static + Send> Action<Message> {
    /// The same, wanted by a room that holds the one who wants it.
    pub fn map<Other: 'static + Send>(self, wrap: impl Fn(Message) -> Other + Clone + Send + 'static) -> Action<Other> {
        match self {
            Self::None => Action::None,
            Self::Run(task) => Action::Run(task.map(wrap)),
            Self::Do(action) => Action::Do(action),
            Self::Ask(request) => Action::Ask(request),
            Self::Notify(notice) => Action::Notify(notice),
            Self::Open(destination) => Action::Open(destination),
            Self::Prefer(machine) => Action::Prefer(machine),
            Self::Book(wish) => Action::Book(wish),
            Self::Many(actions) => Action::Many(actions.into_iter().map(|action| action.map(wrap.clone())).collect()),
        }
    }
}

/// What can be done to a book as a whole.
#[derive(Debug, Clone, PartialEq)]
pub enum BookWish {
    /// Open another.
    Open(PathBuf, Access),
    /// Make a new one, in which these actions are carried out first.
    Create(PathBuf, Vec<actions::Action>),
    /// Put a backup in the place of the book; a copy of the book as it was is kept.
    Restore {
        /// The backup.
        backup: PathBuf,
        /// The book it takes the place of.
        book: PathBuf,
    },
    /// Close it and go back to the first page.
    Close,
}

/// A word to the person, in a toast.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Notice {
    /// Something was done.
    Done(String),
    /// Something was refused or went wrong, and what to do about it. Stays until it is closed.
    Trouble(String),
}

/// A page of the window.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Destination {
    /// Today.
    Bench,
    /// The list of stock.
    Stock,
    /// One item of stock.
    Item(ItemId),
    /// The items that run low.
    LowStock,
    /// The list of designs.
    Designs,
    /// One design.
    Design(DesignId),
    /// The list of batches.
    Batches,
    /// One batch.
    Batch(BatchId),
    /// The batch of this number, as a bench sheet or a symbol names it.
    BatchNumber(u32),
    /// A batch to be begun from this design.
    NewBatch(DesignId),
    /// What waits for the kiln, and the load that fires.
    Kiln,
    /// A load that was fired.
    Load(LoadId),
    /// The list of finished pieces.
    Pieces,
    /// One piece.
    Piece(PieceId),
    /// Finished pieces whose number, design or batch holds this.
    FindPiece(String),
    /// A kiln day planned.
    KilnPlan,
    /// Kilns, their figures and their days.
    Kilns,
    /// Test tiles.
    Tiles,
    /// A test tile made from a load.
    TileOf(LoadId),
    /// The sheet of prices.
    Prices,
    /// Tags and care cards.
    Papers,
    /// Tags and care cards of these designs.
    PapersOf(Vec<DesignId>),
    /// Papers of her own design, and ready-made ones.
    PaperDesigns,
    /// One paper of her own.
    PaperDesign(PaperDesignId),
    /// Papers that go out under a number, and price lists.
    ShopPapers,
    /// Her own words on papers.
    Wording,
    /// Printers and the calibration page.
    Printers,
    /// The studio's rates and channels.
    Rates,
    /// Units, currency, book.
    Setup,
    /// What is ordered and what came of it.
    Orders,
    /// Jars on the scale.
    Weighing,
    /// Shelves counted.
    Counting,
    /// Blanks from a sheet.
    Cutting,
    /// What runs out, and what to buy.
    Buying,
    /// Files in, lists out.
    Carrying,
}

/// What every room is to the root.
pub trait Room: Sized {
    /// What happens in it.
    type Message: Clone + std::fmt::Debug + Send + 'static;

    /// The room when a book is opened.
    fn new(shared: &Shared) -> Self;

    /// Something happened in it.
    fn update(&mut self, message: Self::Message, shared: &Shared) -> Action<Self::Message>;

    /// How it looks. The root gives it the whole page beside the wire; the room scrolls itself.
    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Self::Message>;

    /// What lies over the page and wants an answer first, if anything; see
    /// [`modal::sheet`](super::widget::modal::sheet). Pressing beside it, and Esc, are [`Command::Back`].
    fn modal<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Self::Message>> {
        let _ = shared;
        None
    }

    /// The book changed: word the rows anew, keep what is half-typed.
    fn refresh(&mut self, shared: &Shared);

    /// After every room was refreshed, for the room on screen: what it must ask the book to show it as it is now.
    fn refreshed(&mut self, shared: &Shared) -> Action<Self::Message> {
        let _ = shared;
        Action::None
    }

    /// An answer to what this room asked with [`Action::Do`] or [`Action::Ask`].
    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Self::Message> {
        let _ = (answer, shared);
        Action::None
    }

    /// A page of this room is opened, from elsewhere or by its bead.
    fn open(&mut self, destination: &Destination, shared: &Shared) -> Action<Self::Message> {
        let _ = (destination, shared);
        Action::None
    }

    /// [`Command::New`], [`Command::Accept`] or [`Command::Back`] while this room is on screen.
    fn command(&mut self, command: Command, shared: &Shared) -> Action<Self::Message> {
        let _ = (command, shared);
        Action::None
    }

    /// Ctrl+Z: gives the field being typed in its former text back and says true; false lets the root undo the last
    /// action instead.
    fn revert(&mut self, shared: &Shared) -> bool {
        let _ = shared;
        false
    }

    /// Events it listens to besides those of its widgets. No clocks.
    fn subscription(&self) -> Subscription<Self::Message> {
        Subscription::none()
    }
}
