//! A kiln day planned: the loads that finish soonest and heat least, drawn as a timeline, moved by hand with the effect
//! shown, with a lower bound beside it.

mod search;
mod state;
mod view;
mod worded;

use super::kiln::keys;
use super::{Action, Destination, Room};
use crate::actions::PlanQuestion;
use crate::kiln::plan::{Fired, KilnPlan, Place};
use crate::studio::KilnId;
use crate::window::widget::Entry;
use crate::window::{Answer, Command, Shared};
use iced::Element;
use iced::keyboard::Key;
use search::{Event, Search};
use std::sync::Arc;
use worded::Shown;

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    kiln: Option<KilnId>,
    kilns: Vec<(KilnId, String)>,
    /// When the kiln may be on, as typed.
    begins: Entry,
    question: Option<Box<PlanQuestion>>,
    search: Option<Search>,
    searches: u64,
    /// As the search found it.
    found: Option<Arc<KilnPlan>>,
    /// As it is now, changed by hand or not.
    plan: Option<Arc<KilnPlan>>,
    shown: Option<Shown>,
    /// The load in hand, from 0.
    chosen: usize,
    /// The firing of a piece of that load in hand, to be put into another.
    piece: Option<Fired>,
    /// What the change asked for last would break.
    breaches: Vec<String>,
    /// Why there is no plan.
    refused: Option<String>,
    /// What waits has changed since.
    stale: bool,
    version: u64,
}

/// Which way a load moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Towards {
    /// One place earlier.
    Earlier,
    /// One place later.
    Later,
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// To the kiln.
    Kiln,
    /// To the kilns.
    Kilns,
    /// Another kiln.
    Choose(KilnId),
    /// When it begins was typed.
    Begins(String),
    /// Plan it.
    Plan,
    /// Stop planning.
    Stop,
    /// Something of the search.
    Searched(Event),
    /// A load is taken in hand, by its place.
    Take(usize),
    /// The load in hand moves.
    Move(Towards),
    /// A piece of the load in hand is taken in hand, or let go.
    TakePiece(Fired),
    /// The piece in hand goes into another load, or one of its own.
    Put(Place),
    /// As the search found it.
    AsFound,
    /// The load in hand is begun.
    Begin,
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        let mut state = Self {
            kiln: None,
            kilns: Vec::new(),
            begins: Entry::default(),
            question: None,
            search: None,
            searches: 0,
            found: None,
            plan: None,
            shown: None,
            chosen: 0,
            piece: None,
            breaches: Vec::new(),
            refused: None,
            stale: false,
            version: 0,
        };
        state.refresh(shared);
        state.stale = false;
        state
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        state::update(self, message, shared)
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        keys::keys(view::page(self, shared), |key| match key.as_ref() {
            Key::Character("b" | "B") => Some(Message::Begin),
            _ => None,
        })
    }

    fn refresh(&mut self, shared: &Shared) {
        self.know_kilns(shared);
        self.stale = self.plan.is_some();
        self.word(shared);
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        self.told(answer, shared)
    }

    fn open(&mut self, _destination: &Destination, shared: &Shared) -> Action<Message> {
        self.know_kilns(shared);
        // A plan that still holds, changed by hand perhaps, stays.
        if self.plan.is_some() && !self.stale { Action::None } else { self.update(Message::Plan, shared) }
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::Accept => self.update(Message::Begin, shared),
            Command::New => self.update(Message::Plan, shared),
            Command::Back if self.search.is_some() => self.update(Message::Stop, shared),
            Command::Back => Action::Open(Destination::Kiln),
            _ => Action::None,
        }
    }

    fn revert(&mut self, _shared: &Shared) -> bool {
        self.begins.revert()
    }
}
