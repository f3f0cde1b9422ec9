//! A panel: a plain sheet of paper with one thing explained on it.

use super::prose;
use crate::window::theme::{self, space};
use iced::widget::{column, container, row, space as gap};
use iced::{Alignment, Element, Length};

/// A sheet with a heading, a quiet subtitle (may be empty) and what it explains. Fills the width it is given.
pub fn panel<'a, Message: 'a>(
    title: &'a str,
    subtitle: impl Into<String>,
    body: impl Into<Element<'a, Message>>,
) -> Element<'a, Message> {
    panel_with(title, subtitle, gap().width(Length::Shrink), body)
}

/// A panel with something at the right of its heading: a figure, a button.
pub fn panel_with<'a, Message: 'a>(
    title: &'a str,
    subtitle: impl Into<String>,
    aside: impl Into<Element<'a, Message>>,
    body: impl Into<Element<'a, Message>>,
) -> Element<'a, Message> {
    let subtitle = subtitle.into();
    let subtitle = (!subtitle.is_empty()).then(|| prose::small(subtitle));
    let heading =
        row![prose::strong(title), container(subtitle).width(Length::Fill).align_y(Alignment::Center), aside.into()]
            .spacing(space::TWO)
            .align_y(Alignment::Center);
    container(column![heading, body.into()].spacing(space::ONE + space::HALF))
        .padding([space::TWO, space::TWO + 2.0])
        .width(Length::Fill)
        .style(theme::sheet)
        .into()
}
