//! Buttons with a word on them; all of them take the keyboard's focus.

use super::press::Press;
use crate::window::theme::{self, size, space};
use iced::widget::text;

fn worded<'a, Message: Clone + 'a>(label: impl text::IntoFragment<'a>) -> Press<'a, Message> {
    Press::new(text(label).size(size::BODY).font(theme::STRONG).wrapping(text::Wrapping::None))
        .padding([0.0, space::TWO])
        .height(theme::TARGET)
}

/// The one thing to do on a page. Disabled until it is given a message.
pub fn primary<'a, Message: Clone + 'a>(label: impl text::IntoFragment<'a>) -> Press<'a, Message> {
    worded(label).style(theme::primary)
}

/// Anything else that can be done. Disabled until it is given a message.
pub fn quiet_button<'a, Message: Clone + 'a>(label: impl text::IntoFragment<'a>) -> Press<'a, Message> {
    worded(label).style(theme::quiet_button)
}

/// What takes something away. Disabled until it is given a message.
pub fn danger<'a, Message: Clone + 'a>(label: impl text::IntoFragment<'a>) -> Press<'a, Message> {
    worded(label).style(theme::danger)
}

/// A word that can be pressed. Disabled until it is given a message.
pub fn link<'a, Message: Clone + 'a>(label: impl text::IntoFragment<'a>) -> Press<'a, Message> {
    worded(label).padding([0.0, space::ONE]).style(theme::link)
}
