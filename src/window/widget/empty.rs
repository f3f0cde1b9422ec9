//! A page or list with nothing on it yet says what to do first.

use super::prose;
use crate::window::theme::{self, space};
use iced::widget::{column, container};
use iced::{Alignment, Element, Length};

/// What is missing, what to do about it, and the button that does it.
pub fn empty<'a, Message: 'a>(
    what: impl Into<String>,
    advice: impl Into<String>,
    action: Option<Element<'a, Message>>,
) -> Element<'a, Message> {
    container(
        column![prose::large(what.into()), prose::quiet(advice.into()).align_x(Alignment::Center), action]
            .spacing(space::TWO)
            .align_x(Alignment::Center)
            .max_width(480),
    )
    .center_x(Length::Fill)
    .padding(space::FOUR)
    .style(theme::sheet)
    .into()
}
