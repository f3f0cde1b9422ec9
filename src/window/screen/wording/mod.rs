//! Her own words in place of the phrases of papers, language by language: found as one types, changed in place, with a
//! paper that has them drawn beside them.

mod rows;
mod sample;
mod state;
mod view;

use super::{Action, Destination, Room};
use crate::window::widget::listing::Event;
use crate::window::{Answer, Command, Shared};
use iced::Element;
use iced::widget::text_editor;

pub use state::State;

/// The name the focus is sent to: her words.
pub const WORDS: &str = "wording-words";
/// And the field to find phrases.
pub const FIND: &str = "wording-find";

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {
    /// The language of that English name.
    Language(String),
    /// Only phrases for this, by its words; all of them where it has none.
    Purpose(String),
    /// Words to find were typed.
    Find(String),
    /// Only phrases she replaced, or all: turned round.
    OnlyOwn,
    /// In the list of phrases.
    List(Event),
    /// Her words are being typed.
    Edit(text_editor::Action),
    /// They are kept.
    Save,
    /// They are taken away: the program's own hold again.
    TakeAway,
    /// To the papers.
    ToPapers,
    /// The type of a language was taken up by the window, or not.
    TypeCame(bool),
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        Self::of(shared)
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        self.happened(message, shared)
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        view::page(self, shared)
    }

    fn refresh(&mut self, shared: &Shared) {
        self.follow(shared);
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        self.told(answer, shared)
    }

    fn open(&mut self, _destination: &Destination, shared: &Shared) -> Action<Message> {
        self.follow(shared);
        self.show_type()
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::Accept => self.happened(Message::Save, shared),
            Command::Back if self.leave_draft(shared) => Action::None,
            Command::Back => Action::Open(Destination::Papers),
            _ => Action::None,
        }
    }

    fn revert(&mut self, shared: &Shared) -> bool {
        self.leave_draft(shared) || self.revert_find(shared)
    }
}
