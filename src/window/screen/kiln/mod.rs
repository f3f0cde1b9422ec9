//! The kiln: what waits for it, a load put together, the timer of a firing, this kiln day, the log of loads.

mod answers;
mod day;
mod day_view;
pub(super) mod fields;
pub(super) mod keys;
mod load_words;
mod loading;
mod loading_view;
mod log;
mod log_view;
mod logging;
mod logging_view;
pub(super) mod photo;
pub(super) mod proposed;
mod results;
mod results_view;
mod sound;
mod state;
mod timer;
mod timer_view;
pub(super) mod words;

pub(super) use day::{Day, day};
pub(super) use log::cost;
pub(super) use proposed::Proposed;

use super::{Action, Destination, Room};
use crate::actions::KilnDayAccount;
use crate::studio::{BatchId, BookLoad, KilnId, LoadId, PieceId};
use crate::window::shortcut::RoomName;
use crate::window::widget::listing::{Event, Order};
use crate::window::widget::{Entry, Listing};
use crate::window::{Answer, Command, Shared};
use chrono::NaiveDateTime;
use iced::keyboard::Key;
use iced::keyboard::key::Named;
use iced::{Element, Subscription};
use loading::Loading;
use logging::Logging;
use photo::Photo;
use results::Results;
use std::time::Duration;
use timer::{Bell, Timer};

/// Days the log looks back at first, and further at a time.
const LOG_DAYS: u64 = 60;

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    page: Page,
    summary: String,
    loading: Loading,
    /// Loads the door is closed on, as they stand now.
    timers: Vec<Timer>,
    /// The one that is looked at.
    chosen: Option<LoadId>,
    firing_title: String,
    /// Turns every second.
    beat: bool,
    bell: Bell,
    /// The temperature read, as typed.
    read: Entry,
    results: Option<Results>,
    /// When a door was opened last: should that be taken back, its time is not lost.
    opened: Option<(LoadId, NaiveDateTime)>,
    /// This kiln day, and what the book told of it.
    day: Option<Day>,
    account: Option<KilnDayAccount>,
    version: u64,
    logging: Option<Logging>,
    /// The log, newest first; none before the book has told it.
    loads: Option<Vec<BookLoad>>,
    rows: Vec<log::Row>,
    list: Listing,
    log_summary: String,
    /// Days it looks back.
    back: u64,
    load: Option<log::Page>,
    photo: Photo,
    waiting: Waiting,
}

/// The page on screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Page {
    /// What waits, and a load put together.
    Waiting,
    /// The timer.
    Firing,
    /// The log.
    Log,
    /// One load of the log.
    Load(LoadId),
}

/// What the book has still to answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Waiting {
    Nothing,
    Close,
    Open,
    Log,
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// To what waits.
    Waiting,
    /// To the log.
    Log,
    /// To the timer of a load.
    Show(LoadId),
    /// To another room of the kiln.
    Enter(RoomName),
    /// To the kilns.
    Kilns,
    /// To a batch.
    Batch(BatchId),
    /// To a piece.
    Piece(PieceId),
    /// All of an offer is picked, by its place.
    PickOffer(usize),
    /// A piece is picked, or not.
    PickPiece(PieceId),
    /// Another kiln.
    Kiln(KilnId),
    /// Typed in a field of the load.
    Typed(loading::Field, String),
    /// The door closes.
    CloseDoor,
    /// A second has passed.
    Tick,
    /// The sound on or off.
    Mute,
    /// The temperature read was typed.
    Read(String),
    /// It is typed to its end.
    ReadDone,
    /// The door was opened: all is well.
    DoorOpened,
    /// 15 s more.
    Longer,
    /// The door was opened, and not all is well.
    WentWrong,
    /// In what came of it.
    Results(results::Change),
    /// The form of a load that was fired already.
    LogOne,
    /// In that form.
    Logging(logging::Change),
    /// What came of it is written down.
    WriteDown,
    /// Leave what is open.
    Close,
    /// In the list of the log.
    List(Event),
    /// The log looks further back.
    Earlier,
    /// A test tile is made of a load.
    TileOf(LoadId),
    /// The photo of the load in hand.
    Photo(photo::Change),
    /// A moment of the kiln day is now.
    Mark(Moment),
}

/// A moment of a kiln day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Moment {
    /// Switched on.
    On,
    /// At heat.
    Hot,
    /// Switched off.
    Off,
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        let mut list = Listing::new("kiln-log");
        list.sort_by(log::DAY, Order::Falling);
        let mut state = Self {
            page: Page::Waiting,
            summary: String::new(),
            loading: Loading::default(),
            timers: Vec::new(),
            chosen: None,
            firing_title: String::new(),
            beat: false,
            bell: Bell::default(),
            read: Entry::default(),
            results: None,
            opened: None,
            day: None,
            account: None,
            version: 0,
            logging: None,
            loads: None,
            rows: Vec::new(),
            list,
            log_summary: String::new(),
            back: LOG_DAYS,
            load: None,
            photo: Photo::default(),
            waiting: Waiting::Nothing,
        };
        state.refresh(shared);
        state
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        state::update(self, message, shared)
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        if let Some(form) = &self.logging {
            return logging_view::page(self, form, shared);
        }
        let quiet = self.results.is_some() || shared.read_only();
        match (self.page, self.timer(), &self.load) {
            (Page::Firing, Some(timer), _) => {
                keys::keys(timer_view::page(self, timer, shared), move |key| if quiet { None } else { firing_key(key) })
            }
            (Page::Log, ..) => log_view::page(self, shared),
            (Page::Load(id), _, Some(load)) if load.id == id => {
                keys::keys(log_view::load(self, load, shared), move |key| match key.as_ref() {
                    Key::Character("t" | "T") if !quiet => Some(Message::TileOf(id)),
                    _ => None,
                })
            }
            _ => keys::keys(loading_view::page(self, shared), move |key| {
                (!quiet && matches!(key, Key::Named(Named::Space))).then_some(Message::CloseDoor)
            }),
        }
    }

    fn modal<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Message>> {
        self.results.as_ref().map(|results| results_view::sheet(results, shared))
    }

    fn refresh(&mut self, shared: &Shared) {
        self.loading.refresh(shared);
        self.look_at_the_clock(shared);
        self.word(shared);
    }

    fn refreshed(&mut self, shared: &Shared) -> Action<Message> {
        self.ask(shared)
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        self.told(answer, shared)
    }

    fn open(&mut self, destination: &Destination, shared: &Shared) -> Action<Message> {
        if let Destination::Load(id) = destination {
            self.logging = None;
            self.page = Page::Load(*id);
        } else if let Some(load) = proposed::take() {
            self.page = Page::Waiting;
            self.logging = None;
            self.loading.propose(&load, shared);
        } else if !self.timers.is_empty() {
            self.page = Page::Firing;
        } else if self.page == Page::Firing {
            self.page = Page::Waiting;
        }
        self.look_at_the_clock(shared);
        self.word(shared);
        self.ask(shared)
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::New if self.results.is_none() => self.update(Message::LogOne, shared),
            Command::Accept if self.results.is_some() || self.logging.is_some() => {
                self.update(Message::WriteDown, shared)
            }
            Command::Accept if self.page == Page::Waiting => self.update(Message::CloseDoor, shared),
            Command::Back => self.update(Message::Close, shared),
            _ => Action::None,
        }
    }

    fn revert(&mut self, _shared: &Shared) -> bool {
        if let Some(results) = &mut self.results {
            return results.fields.revert();
        }
        if let Some(form) = &mut self.logging {
            return form.fields.revert();
        }
        match self.page {
            Page::Waiting => self.loading.fields.revert(),
            Page::Firing => self.read.revert(),
            Page::Load(_) => self.photo.revert(),
            Page::Log => false,
        }
    }

    /// The seconds of a load that fires; no clock runs without one.
    fn subscription(&self) -> Subscription<Message> {
        if self.counts() {
            iced::time::every(Duration::from_secs(1)).map(|_| Message::Tick)
        } else {
            Subscription::none()
        }
    }
}

impl State {
    /// A load fires as far as the room knows: it counts the seconds.
    pub(in crate::window) fn counts(&self) -> bool {
        !self.timers.is_empty()
    }
}

/// What a key means while a load fires.
fn firing_key(key: &Key) -> Option<Message> {
    match key.as_ref() {
        Key::Named(Named::Space) => Some(Message::DoorOpened),
        Key::Named(Named::ArrowUp) => Some(Message::Longer),
        Key::Character("l" | "L") => Some(Message::WentWrong),
        _ => None,
    }
}
