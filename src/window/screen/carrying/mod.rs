//! In and out: a file into the book after it was looked at, lists of the book into files.

mod bringing;
mod in_view;
mod looked;
mod out_view;
mod parts;
mod writing;

use super::{Action, Destination, Room};
use crate::window::shortcut::RoomName;
use crate::window::{Answer, Command, Shared};
use bringing::Bringing;
use iced::{Element, Subscription};
use std::time::Duration;
use writing::Writing;

/// Which way things go.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Way {
    /// A file into the book.
    #[default]
    In,
    /// A list into a file.
    Out,
}

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    way: Way,
    bringing: Bringing,
    writing: Writing,
}

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// The other way.
    Way(Way),
    /// Back to the stock.
    Stock,
    /// While a file is brought in.
    In(bringing::Change),
    /// While a list is written out.
    Out(writing::Change),
    /// Time has gone by while something is read or brought in: how far it is, is shown anew.
    Tick,
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        Self { way: Way::In, bringing: Bringing::new(shared), writing: Writing::new(shared) }
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::Way(way) => {
                self.way = way;
                Action::None
            }
            Message::Stock => Action::Open(Destination::Stock),
            Message::In(change) => self.bringing.update(change, shared),
            Message::Out(change) => self.writing.update(change, shared),
            // Whatever is in sight is built anew after every message.
            Message::Tick => Action::None,
        }
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        parts::page(self.way, shared, |shared| match self.way {
            Way::In => in_view::body(&self.bringing, shared),
            Way::Out => out_view::body(&self.writing),
        })
    }

    fn modal<'a>(&'a self, _shared: &'a Shared) -> Option<Element<'a, Message>> {
        self.writing.asking().map(out_view::asking)
    }

    fn refresh(&mut self, _shared: &Shared) {
        self.bringing.book_changed();
    }

    fn refreshed(&mut self, _shared: &Shared) -> Action<Message> {
        self.bringing.look_again()
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        match answer {
            Answer::AllMovements(_) | Answer::StockValue(_) => self.writing.answered(answer, shared),
            other => self.bringing.answered(other, shared),
        }
    }

    fn open(&mut self, _destination: &Destination, _shared: &Shared) -> Action<Message> {
        self.bringing.look_again()
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match (command, self.way) {
            (Command::Accept, Way::In) => self.bringing.accept(shared),
            (Command::Accept, Way::Out) => self.writing.accept(shared),
            (Command::New, _) => {
                self.way = Way::In;
                self.bringing.focus()
            }
            (Command::Back, _) if self.writing.asking().is_some() => {
                self.writing.update(writing::Change::Close, shared)
            }
            (Command::Back, Way::In) if self.bringing.is_busy() => self.bringing.update(bringing::Change::Stop, shared),
            (Command::Back, _) => Action::Open(RoomName::Stock.destination()),
            _ => Action::None,
        }
    }

    fn revert(&mut self, _shared: &Shared) -> bool {
        match self.way {
            Way::In => self.bringing.revert(),
            Way::Out => self.writing.revert(),
        }
    }

    fn subscription(&self) -> Subscription<Message> {
        if self.bringing.is_busy() {
            iced::time::every(Duration::from_millis(100)).map(|_| Message::Tick)
        } else {
            Subscription::none()
        }
    }
}
