//! Shelves counted: what is there typed beside what the book says, what it differs by before it is accepted, all of it in
//! one action; and the count sheet on paper.

mod sheet;
mod tally;
mod view;

use super::{Action, Destination, Room, way_out};
use crate::actions::{Outcome, Refusal};
use crate::book::StockRow;
use crate::studio::{ItemId, Settings};
use crate::window::widget::reveal;
use crate::window::{Answer, Command, Shared};
use iced::Element;
use sheet::Sheet;
use std::sync::Arc;
use tally::Tally;

/// What the focus is sent to.
const DATE: &str = "count-date";
const NOTE: &str = "count-note";

/// The field of an item's count.
fn field_of(id: ItemId) -> String {
    format!("count-{}", id.0)
}

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    tally: Tally,
    sheet: Sheet,
    /// The count was sent to the book and is not answered yet.
    waiting: bool,
    /// The parts of the book the rows were worded from.
    seen: Option<(Arc<Vec<StockRow>>, Arc<Settings>)>,
    opened: bool,
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// A shelf, or all of them.
    Shelf(Option<String>),
    /// Typed into the field of an item.
    Count(ItemId, String),
    /// Enter in it.
    Entered(ItemId),
    /// Typed into the field of the day.
    Date(String),
    /// Typed into the field of the note.
    Note(String),
    /// What was counted shall be accepted.
    Accept,
    /// What the book says shall be seen too, or not: turned round.
    WithStock,
    /// Letter or A4: turned round.
    Letter,
    /// On the count sheet's way out.
    Out(way_out::Message),
    /// Back to the stock.
    Stock,
}

impl State {
    fn accept(&mut self, shared: &Shared) -> Action<Message> {
        let (snapshot, preferences) = (&shared.snapshot, &shared.preferences);
        if self.waiting || shared.read_only() || self.tally.is_empty() {
            return Action::None;
        }
        if let Some(id) = self.tally.first_problem(snapshot, preferences) {
            return Action::Run(reveal::focus(field_of(id)));
        }
        let Some(action) = self.tally.action(snapshot, preferences) else { return Action::Run(reveal::focus(DATE)) };
        if !self.tally.ready {
            // Nothing is accepted before its difference was seen.
            return self.refreshed(shared);
        }
        self.waiting = true;
        Action::Do(action)
    }

    fn performed(&mut self, outcome: Result<Outcome, Refusal>, shared: &Shared) -> Action<Message> {
        if !std::mem::replace(&mut self.waiting, false) {
            return Action::None;
        }
        match outcome {
            Ok(_) => {
                self.tally.accepted(&shared.snapshot, &shared.preferences);
                self.focus_first()
            }
            Err(refusal) => {
                self.tally.refusal = Some(refusal.to_string());
                Action::None
            }
        }
    }

    fn focus_first(&self) -> Action<Message> {
        match self.tally.after(None) {
            Some(first) => Action::Run(reveal::focus(field_of(first))),
            None => Action::None,
        }
    }

    /// Something happened on the count sheet's way out.
    fn on_way_out(&mut self, message: way_out::Message, shared: &Shared) -> Action<Message> {
        let mut out = std::mem::take(&mut self.sheet.out);
        let (shelf, sheet) = (self.tally.shelf.as_deref(), &self.sheet);
        let leaving = || Ok(sheet.leaving(shelf, shared.today, &shared.snapshot, &shared.preferences));
        let (action, _) = out.update_leaving(message, &leaving, shared);
        self.sheet.out = out;
        action.map(Message::Out)
    }
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        let mut state =
            Self { tally: Tally::new(shared.today), sheet: Sheet::new(), waiting: false, seen: None, opened: false };
        state.refresh(shared);
        state
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        let (snapshot, preferences) = (&shared.snapshot, &shared.preferences);
        match message {
            Message::Shelf(shelf) => {
                self.tally.choose(shelf, snapshot, preferences);
                self.focus_first()
            }
            Message::Count(id, text) => {
                self.tally.type_in(id, text, snapshot, preferences).map_or(Action::None, Action::Ask)
            }
            Message::Entered(id) => Action::Run(match self.tally.after(Some(id)) {
                Some(next) => reveal::focus(field_of(next)),
                None => reveal::focus(NOTE),
            }),
            Message::Date(text) => self.tally.type_date(text, snapshot, preferences).map_or(Action::None, Action::Ask),
            Message::Note(text) => {
                self.tally.note.type_in(text);
                Action::None
            }
            Message::Accept => self.accept(shared),
            Message::WithStock => {
                self.sheet.with_stock = !self.sheet.with_stock;
                Action::None
            }
            Message::Letter => {
                self.sheet.letter = !self.sheet.letter;
                Action::None
            }
            Message::Out(message) => self.on_way_out(message, shared),
            Message::Stock => Action::Open(Destination::Stock),
        }
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        view::page(self, shared)
    }

    fn modal<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Message>> {
        self.sheet.out.modal(shared).map(|over| over.map(Message::Out))
    }

    fn refresh(&mut self, shared: &Shared) {
        let now = &shared.snapshot;
        let same = self
            .seen
            .as_ref()
            .is_some_and(|(stock, settings)| Arc::ptr_eq(stock, &now.stock) && Arc::ptr_eq(settings, &now.settings));
        if same {
            return;
        }
        self.seen = Some((Arc::clone(&now.stock), Arc::clone(&now.settings)));
        self.tally.follow(now, &shared.preferences);
    }

    fn refreshed(&mut self, shared: &Shared) -> Action<Message> {
        if self.tally.ready {
            return Action::None;
        }
        self.tally.question(None, &shared.snapshot, &shared.preferences).map_or(Action::None, Action::Ask)
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        match answer {
            Answer::CountPreview(date, Ok(found)) => {
                self.tally.answered(date, found, &shared.snapshot, &shared.preferences);
                Action::None
            }
            Answer::CountPreview(_, Err(refusal)) => {
                self.tally.refusal = Some(refusal.to_string());
                Action::None
            }
            Answer::Performed(outcome) => self.performed(outcome, shared),
            _ => Action::None,
        }
    }

    fn open(&mut self, _destination: &Destination, shared: &Shared) -> Action<Message> {
        if self.tally.is_empty() && !self.tally.date.is_changed() {
            self.tally.date.set(shared.today.to_string());
        }
        if !self.opened {
            // A walk begins at the first shelf.
            self.opened = true;
            let first = self.tally.names.first().cloned();
            self.tally.choose(first, &shared.snapshot, &shared.preferences);
        }
        self.sheet.out.propose(shared, sheet::FILE_NAME);
        let printers = self.sheet.out.ask_printers().map(Message::Out);
        Action::Many(vec![printers, self.refreshed(shared), self.focus_first()])
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::Back if self.sheet.out.close() => Action::None,
            _ if self.sheet.out.is_asking() => Action::None,
            Command::Accept => self.accept(shared),
            Command::Back => Action::Open(Destination::Stock),
            _ => Action::None,
        }
    }

    fn revert(&mut self, shared: &Shared) -> bool {
        self.sheet.out.revert() | self.tally.revert(&shared.snapshot, &shared.preferences)
    }
}
