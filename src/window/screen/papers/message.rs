//! What happens in the room.

use super::laying::What;
use super::sheet_form::{Feature, Measure, Outline};
use crate::paper::{CardStyle, Document, PaperProblem, PaperSize, Symbology};
use crate::studio::ChannelId;
use crate::window::screen::way_out;
use crate::window::shortcut::RoomName;
use crate::window::widget::listing::Event;
use crate::window::work::Word;
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
    /// Only tags that are out of date are shown and printed, or all are shown: turned round.
    OutOfDate,
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
    /// A fresh sheet lies in the printer: it begins at its first label.
    FreshSheet,
    /// What is printed is kept in mind, or not: turned round.
    Note,
    /// Flat or folded cards.
    Style(CardStyle),
    /// The paper of cards.
    Paper(PaperSize),
    /// Another page is shown, from 0.
    Page(usize),
    /// Shown larger or smaller.
    Zoom(Zoom),
    /// Word of a long run that is laid out: which one, and how far it is or what came of it.
    Laying(u64, Word<Result<Arc<Document>, PaperProblem>>),
    /// It is broken off.
    StopLaying,
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
    /// Another outline of the labels.
    SheetOutline(Outline),
    /// A feature of the sheet is switched on or off.
    SheetFeature(Feature),
    /// The sheet is kept in the book.
    KeepSheet,
    /// Whatever lies over the page is closed.
    Close,
    /// On the way out.
    Out(way_out::Message),
    /// The list of designs is opened.
    OpenDesigns,
    /// A room under Papers is entered.
    Enter(RoomName),
}
