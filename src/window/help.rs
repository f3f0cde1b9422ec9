//! The table of keys.

use super::app::Message;
use super::shortcut;
use super::theme::space;
use super::widget::{self, modal};
use iced::widget::{Column, row};
use iced::{Element, Length};

/// The table of keys, for a modal.
pub(super) fn view<'a>() -> Element<'a, Message> {
    let rows = shortcut::table().into_iter().map(|(key, words)| {
        row![widget::strong(key).width(Length::FillPortion(2)), widget::body(words).width(Length::FillPortion(3))]
            .spacing(space::TWO)
            .into()
    });
    let body = Column::with_children(rows).spacing(space::ONE).padding(iced::padding::right(space::TWO));
    modal::sheet("Keys", body, [widget::primary("Close").on_press(Message::Command(shortcut::Command::Back)).into()])
}
