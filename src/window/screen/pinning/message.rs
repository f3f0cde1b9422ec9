//! What happens in the room.

use super::fields::Field;
use crate::paper::arrange::{Edge, Grip};
use crate::paper::{Document, PaperProblem};
use crate::studio::{Across, Down, Ink, PaperDesignId, PaperKind, PictureId, SymbolKind, Weight};
use crate::window::screen::way_out;
use crate::window::widget::listing::Event;
use crate::window::work::Word;
use std::path::PathBuf;
use std::sync::Arc;

/// A colour to choose for ink.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InkChoice {
    /// Black.
    Black,
    /// Grey.
    Grey,
    /// White.
    White,
    /// The piece's.
    Piece,
    /// A colour of hers.
    Own,
}

impl InkChoice {
    /// The choice an ink is.
    pub const fn of(ink: Ink) -> Self {
        match ink {
            Ink::Black => Self::Black,
            Ink::Grey => Self::Grey,
            Ink::White => Self::White,
            Ink::Piece => Self::Piece,
            Ink::Own(_) => Self::Own,
        }
    }
}

/// What a symbol holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hold {
    /// The code.
    Code,
    /// The piece's number.
    PieceNumber,
    /// The EAN-13.
    Number,
    /// A text of hers.
    Text,
}

/// How a paper is folded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Folding {
    /// Not at all.
    None,
    /// From top to bottom.
    Upright,
    /// From left to right.
    Across,
}

/// What a file is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Asked {
    /// A picture to store and pin.
    Picture,
    /// A paper to bring in.
    BringIn,
    /// Where a paper is written to.
    WriteOut,
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    // --- The shelf of papers ---
    /// Papers of this kind are shown.
    Kind(PaperKind),
    /// A ready-made paper is copied: its place on the shelf.
    Begin(usize),
    /// A paper of hers is opened.
    Open(PaperDesignId),
    /// A paper of hers is copied.
    Copy(PaperDesignId),
    /// A paper is set aside, or taken up again.
    SetAside(PaperDesignId),
    /// Goes on with the paper that is being changed.
    GoOn,
    /// Back to the shelf.
    ToShelf,
    /// Lets unsaved changes go.
    LetGo,
    /// To the papers.
    ToPapers,

    // --- The paper ---
    /// A pinned thing is selected, or the paper itself.
    Select(Option<usize>),
    /// A thing was dragged so many tenths of a millimetre from where it was taken hold of.
    Dragged {
        /// Which.
        thing: usize,
        /// By what it is held.
        grip: Grip,
        /// To the right.
        right: i32,
        /// Down.
        down: i32,
    },
    /// It was let go.
    Dropped,
    /// An arrow key moved or sized a thing by so many tenths of a millimetre.
    Nudged {
        /// Which.
        thing: usize,
        /// By what it is held.
        grip: Grip,
        /// To the right.
        right: i32,
        /// Down.
        down: i32,
    },
    /// A thing is taken off.
    Remove(usize),
    /// A thing is brought forward (true) or back.
    Lift(usize, bool),
    /// A thing is turned a quarter.
    Turn(usize),
    /// The selected thing is put to an edge or the middle.
    Align(Edge),
    /// The fields of a thing are wanted: the focus goes there.
    Details(usize),
    /// Something is pinned: its name in the list.
    Add(String),
    /// Typed into a field.
    Typed(Field, String),
    /// Weight of the selected text.
    Weight(Weight),
    /// Where its lines stand across.
    Across(Across),
    /// Where they stand down.
    Down(Down),
    /// Its colour.
    Ink(InkChoice),
    /// The kind of the selected symbol.
    Symbol(SymbolKind),
    /// What it holds.
    Holds(Hold),
    /// How the paper is folded.
    Fold(Folding),
    /// A hole more.
    AddHole,
    /// A hole less.
    RemoveHole(usize),
    /// The first language.
    First(String),
    /// The second language.
    Second(String),
    /// What is shown on it: the next (true) or the one before.
    Step(bool),
    /// What is shown on it, by name.
    Show(String),
    /// Saved as one action.
    Save,

    // --- Files ---
    /// A file is asked for.
    Ask(Asked),
    /// Typed into its path.
    FilePath(String),
    /// Typed into the name of a picture.
    PictureName(String),
    /// The system's dialog is asked for.
    FileBrowse,
    /// A file was chosen there, or not.
    FilePicked(Option<PathBuf>),
    /// Goes ahead with the typed path.
    FileAccept,
    /// A picture was read, or not.
    PictureRead(Result<Vec<u8>, String>),
    /// A paper file was read, or not.
    PaperRead(Result<String, String>),
    /// A paper file was written, or not.
    PaperWritten(Result<PathBuf, String>),
    /// A stored picture is taken out of the book.
    RemovePicture(PictureId),
    /// Whatever lies over the page is closed.
    Close,

    // --- Printing ---
    /// The page for printing is opened.
    Print,
    /// And left.
    ToPaper,
    /// In the list of what is printed.
    List(Event),
    /// Everything, or nothing, is printed.
    All(bool),
    /// Typed into the copies of each.
    Copies(String),
    /// The sheet of that name.
    Sheet(String),
    /// Typed into the first label to use.
    Start(String),
    /// A label's place was pressed on the page.
    StartAt(u32),
    /// A fresh sheet lies in the printer: it begins at its first label.
    FreshSheet,
    /// Another page is shown.
    Page(usize),
    /// Pages that wait are laid out.
    Renew,
    /// What is printed is kept in mind, or not.
    Note,
    /// Word of a long run that is laid out.
    Laying(u64, Word<Result<Arc<Document>, PaperProblem>>),
    /// It is broken off.
    StopLaying,
    /// On the way out.
    Out(way_out::Message),
}
