//! Finished pieces: the list of them, what one cost down to lots, loads and minutes, and the pieces a lot went into.

mod page_view;
mod rows;
mod story;
mod view;

use super::{Action, Destination, Notice, Room};
use crate::actions;
use crate::studio::{BatchId, FinishedPiece, LoadId, LotId, PieceId};
use crate::window::desk::Request;
use crate::window::widget::listing::{Event, Order, Reaction};
use crate::window::widget::{Entry, Listing, reveal};
use crate::window::{Answer, Command, Shared};
use chrono::NaiveDate;
use iced::Element;
use rows::Row;
use story::{LotPage, Story};

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    /// Finished pieces of the span shown, newest first; none before the book has told them.
    pieces: Option<Vec<FinishedPiece>>,
    span: Span,
    wanted: Entry,
    rows: Vec<Row>,
    list: Listing,
    summary: String,
    chosen: Option<PieceId>,
    story: Option<Story>,
    /// The book does not have the piece in hand.
    missing: bool,
    /// The lot whose pieces are shown, over the piece it was reached from.
    lot: Option<LotPage>,
    second: bool,
    note: Entry,
    waiting: bool,
    refusal: Option<String>,
}

/// Which pieces are listed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Span {
    /// Finished in the last twelve months.
    Year,
    /// All.
    All,
}

impl Span {
    /// The first day of it.
    fn from(self, today: NaiveDate) -> NaiveDate {
        match self {
            Self::Year => today.checked_sub_months(chrono::Months::new(12)).unwrap_or(today),
            Self::All => NaiveDate::from_ymd_opt(1, 1, 1).unwrap_or(NaiveDate::MIN),
        }
    }
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// In the list.
    List(Event),
    /// What is searched was typed.
    Find(String),
    /// Enter in the search: the first that is like it.
    OpenFirst,
    /// Which pieces are listed.
    Span(Span),
    /// A piece is opened.
    Piece(PieceId),
    /// The pieces of a lot.
    Lot(LotId),
    /// A second, or not: turned round.
    Second,
    /// The note was typed.
    Note(String),
    /// Mark and note shall be kept.
    Keep,
    /// Back to what is under it.
    Back,
    /// To a batch.
    Batch(BatchId),
    /// To the batches.
    Batches,
    /// To a load.
    Load(LoadId),
}

impl Room for State {
    type Message = Message;

    fn new(_: &Shared) -> Self {
        let mut list = Listing::new("pieces");
        list.sort_by(rows::DAY, Order::Falling);
        Self {
            pieces: None,
            span: Span::Year,
            wanted: Entry::default(),
            rows: Vec::new(),
            list,
            summary: String::new(),
            chosen: None,
            story: None,
            missing: false,
            lot: None,
            second: false,
            note: Entry::default(),
            waiting: false,
            refusal: None,
        }
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::List(event) => {
                let (reaction, task) = self.list.update(event, self.rows.len());
                let follow = match reaction {
                    Reaction::Sort => {
                        self.word(shared);
                        Action::None
                    }
                    Reaction::Opened(place) => match self.rows.get(place).map(|row| row.id) {
                        Some(id) => self.take(id),
                        None => Action::None,
                    },
                    Reaction::Selected(_) | Reaction::None => Action::None,
                };
                Action::Many(vec![Action::Run(task), follow])
            }
            Message::Find(text) => {
                self.wanted.type_in(text);
                self.word(shared);
                Action::None
            }
            Message::OpenFirst => match self.rows.first().map(|row| row.id) {
                Some(id) => self.take(id),
                None => Action::None,
            },
            Message::Span(span) => {
                self.span = span;
                self.ask(shared)
            }
            Message::Piece(id) => self.take(id),
            Message::Lot(lot) => Action::Ask(Request::PiecesOfLot(lot)),
            Message::Second => {
                self.second = !self.second;
                self.refusal = None;
                Action::None
            }
            Message::Note(text) => {
                self.note.type_in(text);
                self.refusal = None;
                Action::None
            }
            Message::Keep => self.keep(shared),
            Message::Back => self.back(),
            Message::Batch(id) => Action::Open(Destination::Batch(id)),
            Message::Batches => Action::Open(Destination::Batches),
            Message::Load(id) => Action::Open(Destination::Load(id)),
        }
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        match (&self.lot, &self.story, self.chosen) {
            (Some(lot), ..) => page_view::lot(lot, shared),
            (None, Some(story), Some(_)) => page_view::piece(self, story, shared),
            (None, None, Some(_)) => page_view::none(self.missing, shared),
            (None, _, None) => view::page(self, shared),
        }
    }

    fn refresh(&mut self, shared: &Shared) {
        self.word(shared);
    }

    fn refreshed(&mut self, shared: &Shared) -> Action<Message> {
        self.ask(shared)
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        let trouble = |error: String| Action::Notify(Notice::Trouble(error));
        match answer {
            Answer::FinishedPieces(Ok(found)) => {
                self.pieces = Some(found);
                self.word(shared);
                Action::None
            }
            Answer::PieceStory(id, Ok(found)) if self.chosen == Some(id) => {
                self.missing = found.is_none();
                self.story = found.map(|found| Story::new(&found, &shared.preferences, shared.today));
                if let Some(story) = self.story.as_ref().filter(|_| !self.note.is_changed()) {
                    self.note.set(story.note.clone());
                    self.second = story.second;
                }
                Action::None
            }
            Answer::PiecesOfLot(lot, Ok(found)) => {
                self.lot = Some(LotPage::new(lot, &found));
                Action::None
            }
            Answer::FinishedPieces(Err(error))
            | Answer::PieceStory(_, Err(error))
            | Answer::PiecesOfLot(_, Err(error)) => trouble(error.to_string()),
            Answer::Performed(outcome) if std::mem::take(&mut self.waiting) => {
                match outcome {
                    Ok(_) => self.note.settle(),
                    Err(refusal) => self.refusal = Some(refusal.to_string()),
                }
                Action::None
            }
            _ => Action::None,
        }
    }

    fn open(&mut self, destination: &Destination, shared: &Shared) -> Action<Message> {
        match destination {
            Destination::Piece(id) => {
                let taken = self.take(*id);
                Action::Many(vec![taken, self.ask(shared)])
            }
            Destination::FindPiece(number) => {
                self.chosen = None;
                self.lot = None;
                self.wanted = Entry::new(number.as_str());
                self.word(shared);
                self.ask(shared)
            }
            _ => Action::Many(vec![self.ask(shared), Action::Run(reveal::focus(view::FIND))]),
        }
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::Accept if self.chosen.is_some() && self.lot.is_none() => self.keep(shared),
            Command::Back => self.back(),
            _ => Action::None,
        }
    }

    fn revert(&mut self, shared: &Shared) -> bool {
        let reverted = if self.chosen.is_some() { self.note.revert() } else { self.wanted.revert() };
        self.word(shared);
        reverted
    }
}

impl State {
    fn word(&mut self, shared: &Shared) {
        let pieces = self.pieces.as_deref().unwrap_or_default();
        self.rows = rows::word_all(pieces, self.wanted.text(), self.list.sort(), &shared.preferences, shared.today);
        self.summary = rows::summary(pieces.len(), self.rows.len());
        let place = self.list.selected().filter(|place| *place < self.rows.len());
        self.list.select(place.or((!self.rows.is_empty()).then_some(0)));
    }

    fn ask(&self, shared: &Shared) -> Action<Message> {
        let far = NaiveDate::from_ymd_opt(9999, 12, 31).unwrap_or(shared.today);
        Action::Many(vec![
            Action::Ask(Request::FinishedPieces { from: self.span.from(shared.today), to: far }),
            self.chosen.map_or(Action::None, |id| Action::Ask(Request::PieceStory(id))),
        ])
    }

    /// Opens a piece.
    fn take(&mut self, id: PieceId) -> Action<Message> {
        self.lot = None;
        if self.chosen != Some(id) {
            self.chosen = Some(id);
            self.story = None;
            self.missing = false;
            self.note = Entry::default();
            self.refusal = None;
        }
        Action::Ask(Request::PieceStory(id))
    }

    fn back(&mut self) -> Action<Message> {
        if self.lot.take().is_none() {
            self.chosen = None;
            self.story = None;
            return Action::Run(self.list.focus());
        }
        Action::None
    }

    /// Keeps the mark and the note.
    fn keep(&mut self, shared: &Shared) -> Action<Message> {
        let Some(piece) = self.chosen.filter(|_| !shared.read_only() && !self.waiting) else { return Action::None };
        if self.story.is_none() {
            return Action::None;
        }
        self.waiting = true;
        Action::Do(actions::Action::MarkPiece { piece, second: self.second, note: self.note.trimmed().to_owned() })
    }
}
