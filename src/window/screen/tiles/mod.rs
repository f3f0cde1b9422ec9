//! Bare.

use super::{Action, Room};
use crate::window::Shared;
use iced::Element;

/// What the room keeps.
#[derive(Debug)]
pub struct State;

/// What happens in the room.
#[derive(Debug, Clone)]
pub enum Message {}

impl Room for State {
    type Message = Message;

    fn new(_: &Shared) -> Self {
        Self
    }

    fn update(&mut self, message: Message, _: &Shared) -> Action<Message> {
        match message {}
    }

    fn view<'a>(&'a self, _: &'a Shared) -> Element<'a, Message> {
        iced::widget::space().into()
    }

    fn refresh(&mut self, _: &Shared) {}
}
