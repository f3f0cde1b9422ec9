//! Printers, their dots, and what the calibration page says of them.

use super::{Action, Destination, Room};
use crate::window::theme::space;
use crate::window::{Command, Shared, widget};
use iced::Element;
use iced::widget::container;

/// What the room keeps.
#[derive(Debug)]
pub struct State;

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {}

impl Room for State {
    type Message = Message;

    fn new(_shared: &Shared) -> Self {
        Self
    }

    fn update(&mut self, message: Message, _shared: &Shared) -> Action<Message> {
        match message {}
    }

    fn view<'a>(&'a self, _shared: &'a Shared) -> Element<'a, Message> {
        container(widget::title("Printers")).padding(space::TWO).into()
    }

    fn refresh(&mut self, _shared: &Shared) {}

    fn command(&mut self, command: Command, _shared: &Shared) -> Action<Message> {
        match command {
            Command::Back => Action::Open(Destination::Papers),
            _ => Action::None,
        }
    }
}
