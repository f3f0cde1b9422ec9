//! What happens in the room.

use super::laying::What;
use super::out::Target;
use super::sheet_form::{Feature, Measure};
use crate::paper::{CardStyle, Document, PaperProblem, PaperSize, Symbology};
use crate::studio::ChannelId;
use crate::window::widget::listing::Event;
use std::path::PathBuf;
use std::sync::Arc;

/// How large the page is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Zoom {
    /// As large as fits.
    Fit,
    /// In its own size.
    Whole,
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// Tags or care cards.
    What(What),
    /// Typed into the filter of the designs.
    Filtered(String),
    /// Every design that answers the filter is printed.
    All,
    /// None is.
    None,
    /// Something happened in the list of designs: a press or Enter ticks.
    List(Event),
    /// Typed into the copies of the selected design.
    Copies(String),
    /// The selected design's number of copies holds for all.
    SameForAll,
    /// The channel whose ticket is printed; none is the retail ticket.
    Channel(Option<ChannelId>),
    /// The sheet of that name.
    Sheet(String),
    /// The kind of symbol.
    Symbol(Symbology),
    /// Typed into the first label to use.
    Start(String),
    /// A label's place was pressed on the page.
    StartAt(u32),
    /// Flat or folded cards.
    Style(CardStyle),
    /// The paper of cards.
    Paper(PaperSize),
    /// Another page is shown, from 0.
    Page(usize),
    /// Shown larger or smaller.
    Zoom(Zoom),
    /// A long run was laid out: which one, and how.
    Laid(u64, Result<Arc<Document>, LayoutFault>),
    /// Pages that wait are laid out.
    Renew,
    /// The form of a new sheet is opened.
    NewSheet,
    /// The form of the chosen sheet is opened.
    EditSheet,
    /// Typed into the sheet's name.
    SheetName(String),
    /// Typed into a measure of the sheet.
    SheetMeasure(Measure, String),
    /// A feature of the sheet is switched on or off.
    SheetFeature(Feature),
    /// The sheet is kept in the book.
    KeepSheet,
    /// Whatever lies over the page is closed.
    Close,
    /// Typed into the path of the PDF.
    Path(String),
    /// A place for the PDF is asked for in the system's dialog.
    Browse,
    /// It was chosen there, or not.
    Picked(Option<PathBuf>),
    /// Save the PDF at the typed path.
    Save,
    /// Open it in the system's viewer.
    View,
    /// Typed into the printer's name.
    Printer(String),
    /// Send it to the printer.
    Print,
    /// Yes: make the PDF for this all the same.
    Confirmed(Target),
    /// The PDF was made and sent on its way, or not.
    Made(Result<String, String>),
    /// The list of designs is opened.
    OpenDesigns,
    /// Papers of her own are opened.
    OpenPaperDesigns,
}

/// Why a run could not be laid out.
#[derive(Debug, Clone, PartialEq)]
pub enum LayoutFault {
    /// What was asked for cannot be printed.
    Paper(PaperProblem),
    /// The work was broken off.
    Broken(String),
}

impl LayoutFault {
    /// The outcome of a layout on a thread.
    pub(super) fn of(done: Result<Result<Arc<Document>, PaperProblem>, String>) -> Result<Arc<Document>, Self> {
        match done {
            Ok(Ok(document)) => Ok(document),
            Ok(Err(problem)) => Err(Self::Paper(problem)),
            Err(reason) => Err(Self::Broken(reason)),
        }
    }
}

impl std::fmt::Display for LayoutFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Paper(problem) => problem.fmt(f),
            Self::Broken(reason) => f.write_str(reason),
        }
    }
}
