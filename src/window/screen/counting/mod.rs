//! Shelves counted.

use super::{Action, Room};
use crate::window::Shared;
use crate::window::theme::space;
use crate::window::widget;
use iced::Element;
use iced::widget::container;

/// What the room keeps.
#[derive(Debug, Default)]
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
        container(widget::title("Count")).padding(space::THREE).into()
    }

    fn refresh(&mut self, _shared: &Shared) {}
}
