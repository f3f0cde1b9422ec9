//! Batches: the list of them, a batch on its route with what is done at each step, what it cost, what it taught, and
//! the form that begins one.

mod account_view;
mod account_words;
mod ask;
mod ask_view;
mod begin;
mod begin_view;
pub mod lane;
mod learnt_view;
mod learnt_words;
mod list_view;
pub(in crate::window::screen) mod page;
mod page_view;
mod read;
mod rows;
mod state;
mod story;
pub mod words;
mod work;
mod work_view;

use super::{Action, Destination, Room};
use crate::costing::learning::LossBy;
use crate::studio::{BatchHead, BatchId, BatchRecord, BatchState, DesignId, PieceId, TimerId};
use crate::window::desk::Request;
use crate::window::widget::Listing;
use crate::window::widget::listing::{Event, Order};
use crate::window::{Answer, Command, Shared};
use account_words::Account;
use chrono::{Months, NaiveDate};
use iced::Element;
use learnt_words::Learnt;
use page::Page;
use std::collections::BTreeSet;
use work::Work;

/// How far back losses are counted, months.
const LOSS_MONTHS: u32 = 36;

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    /// Every batch, newest first; none before the book has told them.
    heads: Option<Vec<BatchHead>>,
    /// The number of a batch that is looked for.
    sought: Option<u32>,
    rows: Vec<rows::Row>,
    list: Listing,
    /// Of which state; none is all.
    shown: Option<BatchState>,
    summary: String,
    /// The batch in hand; none shows the list.
    chosen: Option<BatchId>,
    /// The batch in hand where it is not an open one.
    closed: Option<BatchRecord>,
    page: Option<Page>,
    section: Section,
    work: Option<Work>,
    ask: Option<ask::Ask>,
    begin: Option<begin::Begin>,
    account: Option<Account>,
    learnt: Option<Learnt>,
    /// Lines of the account that are open.
    opened: BTreeSet<Opened>,
    waiting: Waits,
}

/// A part of a batch's page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Section {
    /// The steps and what is done at them.
    Work,
    /// What it cost.
    Account,
    /// What the batches of its design taught.
    Learnt,
    /// What happened.
    Told,
}

impl Section {
    const ALL: [Self; 4] = [Self::Work, Self::Account, Self::Learnt, Self::Told];

    const fn words(self) -> &'static str {
        match self {
            Self::Work => "At work",
            Self::Account => "What it cost",
            Self::Learnt => "What batches taught",
            Self::Told => "What happened",
        }
    }
}

/// A figure of the account that opens into its lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Opened {
    /// A step.
    Step(usize),
    /// A piece.
    Piece(usize),
    /// A variance.
    Variance(usize),
}

/// What the button of the step in hand does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Doing {
    /// The step is done; or pieces are finished.
    Done,
    /// Its materials are taken, it is done later.
    Take,
}

/// What the book has still to answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Waits {
    Nothing,
    Step,
    Ask,
    Begin,
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// In the list.
    List(Event),
    /// Batches of a state; none is all.
    Show(Option<BatchState>),
    /// A part of the page.
    Section(Section),
    /// A step is taken in hand.
    Choose(usize),
    /// Something of the step in hand.
    Work(work::Change),
    /// The button of the step in hand.
    Do(Doing),
    /// Something is asked first.
    Ask(ask::Kind),
    /// Something of what is asked.
    Asked(ask::Change),
    /// It is answered.
    Answer,
    /// A timer is taken away.
    DropTimer(TimerId),
    /// A line of the account opens or closes.
    Open(Opened),
    /// A proposal is accepted, by its place.
    Accept(usize),
    /// Losses are counted another way.
    LossBy(LossBy),
    /// The form of a new batch.
    New,
    /// Something of that form.
    Begin(begin::Change),
    /// It shall begin.
    BeginIt,
    /// Leave what is open.
    Close,
    /// To the list.
    Back,
    /// To the kiln.
    Kiln,
    /// To the designs.
    Designs,
    /// To a design.
    Design(DesignId),
    /// To a finished piece.
    Piece(PieceId),
    /// To what runs out.
    Buying,
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        let mut list = Listing::new("batches");
        list.sort_by(rows::DAY, Order::Falling);
        let mut state = Self {
            heads: None,
            sought: None,
            rows: Vec::new(),
            list,
            shown: None,
            summary: String::new(),
            chosen: None,
            closed: None,
            page: None,
            section: Section::Work,
            work: None,
            ask: None,
            begin: None,
            account: None,
            learnt: None,
            opened: BTreeSet::new(),
            waiting: Waits::Nothing,
        };
        state.refresh(shared);
        state
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::List(event) => self.in_list(event, shared),
            Message::Show(shown) => {
                self.shown = shown;
                self.word_list(shared);
                Action::None
            }
            Message::Section(section) => {
                self.section = section;
                self.ask_section(shared.today)
            }
            Message::Choose(step) => self.take_in_hand(step, shared),
            Message::Work(change) => {
                if let Some(work) = &mut self.work {
                    work.change(change);
                }
                self.word_work(shared);
                Action::None
            }
            Message::Do(doing) => self.carry_out(doing, shared),
            Message::Ask(kind) => self.begin_asking(kind, shared),
            Message::Asked(change) => {
                if let Some(ask) = &mut self.ask {
                    ask.change(change);
                }
                Action::None
            }
            Message::Answer => self.answer(shared),
            Message::DropTimer(timer) if !shared.read_only() => {
                self.ask = None;
                Action::Do(crate::actions::Action::DropTimer(timer))
            }
            Message::DropTimer(_) => Action::None,
            Message::Open(line) => {
                if !self.opened.remove(&line) {
                    let _ = self.opened.insert(line);
                }
                Action::None
            }
            Message::Accept(place) => self.accept(place, shared),
            Message::LossBy(by) => {
                if let Some(learnt) = &mut self.learnt {
                    learnt.count_by(by, &shared.snapshot);
                }
                Action::None
            }
            Message::New => self.begin_one(None, shared),
            Message::Begin(change) => {
                if let Some(begin) = &mut self.begin {
                    begin.change(change, &shared.snapshot);
                    begin.word(&shared.snapshot, &shared.preferences);
                }
                Action::None
            }
            Message::BeginIt => self.begin_it(shared),
            Message::Close => {
                if self.ask.take().is_none() {
                    self.begin = None;
                }
                self.waiting = Waits::Nothing;
                Action::None
            }
            Message::Back => self.leave(shared),
            Message::Kiln => Action::Open(Destination::Kiln),
            Message::Designs => Action::Open(Destination::Designs),
            Message::Design(design) => Action::Open(Destination::Design(design)),
            Message::Piece(piece) => Action::Open(Destination::Piece(piece)),
            Message::Buying => Action::Open(Destination::Buying),
        }
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        match (&self.begin, &self.page) {
            (Some(begin), _) => begin_view::page(begin, shared),
            (None, Some(page)) => page_view::page(self, page, self.work.as_ref(), shared),
            (None, None) => list_view::page(self, shared),
        }
    }

    fn modal<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Message>> {
        self.ask.as_ref().map(|ask| ask_view::sheet(ask, shared))
    }

    fn refresh(&mut self, shared: &Shared) {
        self.word(shared);
        if let Some(begin) = &mut self.begin {
            begin.word(&shared.snapshot, &shared.preferences);
        }
    }

    fn refreshed(&mut self, shared: &Shared) -> Action<Message> {
        self.ask_all(shared)
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        self.hear(answer, shared)
    }

    fn open(&mut self, destination: &Destination, shared: &Shared) -> Action<Message> {
        match destination {
            Destination::Batch(id) => self.take(*id, shared),
            Destination::NewBatch(design) => self.begin_one(Some(*design), shared),
            Destination::BatchNumber(number) => self.find_number(*number, shared),
            // What is half-typed is not lost by a look elsewhere.
            _ => self.ask_all(shared),
        }
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::New if self.begin.is_none() && self.ask.is_none() => self.begin_one(None, shared),
            Command::Accept if self.ask.is_some() => self.answer(shared),
            Command::Accept if self.begin.is_some() => self.begin_it(shared),
            Command::Accept if self.work.is_some() && self.section == Section::Work => {
                self.carry_out(Doing::Done, shared)
            }
            Command::Back if self.ask.is_some() || self.begin.is_some() => self.update(Message::Close, shared),
            Command::Back if self.page.is_some() => self.leave(shared),
            _ => Action::None,
        }
    }

    fn revert(&mut self, shared: &Shared) -> bool {
        if let Some(ask) = &mut self.ask {
            return ask.revert();
        }
        if let Some(begin) = &mut self.begin {
            let reverted = begin.revert();
            begin.word(&shared.snapshot, &shared.preferences);
            return reverted;
        }
        self.work.as_mut().is_some_and(Work::revert)
    }
}

impl State {
    /// What the batch in hand and the list want of the book.
    fn ask_all(&self, shared: &Shared) -> Action<Message> {
        let closed = self.chosen.filter(|id| shared.snapshot.batch(*id).is_none());
        Action::Many(vec![
            Action::Ask(Request::BatchHeads(None)),
            closed.map_or(Action::None, |id| Action::Ask(Request::Batch(id))),
            self.ask_section(shared.today),
        ])
    }

    /// What the part of the page on screen wants of the book.
    fn ask_section(&self, today: NaiveDate) -> Action<Message> {
        match (self.section, self.chosen, &self.page) {
            (Section::Account, Some(id), _) => Action::Ask(Request::BatchAccount(id)),
            (Section::Learnt, _, Some(page)) => Action::Many(vec![
                Action::Ask(Request::Learned(page.design)),
                Action::Ask(Request::Losses {
                    from: today.checked_sub_months(Months::new(LOSS_MONTHS)).unwrap_or(today),
                    to: today,
                }),
            ]),
            _ => Action::None,
        }
    }
}
