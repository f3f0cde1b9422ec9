//! What both ways look like: the page around them, a bar that tells how far something is.

use super::{Message, Way};
use crate::window::Shared;
use crate::window::theme::{self, space};
use crate::window::widget::{self, choice, link, quiet_button};
use iced::widget::{column, container, progress_bar, row, scrollable};
use iced::{Alignment, Background, Border, Element, Length, Theme};

/// The page: the way back, the name, which way, and what belongs to it.
pub(super) fn page<'a>(
    way: Way,
    shared: &'a Shared,
    body: impl FnOnce(&'a Shared) -> Element<'a, Message>,
) -> Element<'a, Message> {
    let padding = if shared.is_narrow() { space::TWO } else { space::THREE };
    let head = column![
        link("‹ Stock").id("carrying-back").on_press(Message::Stock),
        widget::title("In and out"),
        widget::small(
            "A spreadsheet of yours into the book, after you have seen what it would do; lists of the book into files."
        ),
    ]
    .spacing(space::HALF);
    let ways = choice("", [(Way::In, "Bring in"), (Way::Out, "Write out")], Some(&way), Message::Way);
    let all = column![head, ways, body(shared)].spacing(space::TWO).padding(padding).width(Length::Fill);
    scrollable(all).id("carrying-page").style(theme::scroll).into()
}

/// How far something is, in words and as a bar, with a way to stop it. `share` is 0 to 1.
pub(super) fn progress<'a>(words: String, share: f32, stop: Option<Message>) -> Element<'a, Message> {
    let bar = progress_bar(0.0..=1.0, share).girth(10.0).style(|theme: &Theme| {
        let colors = theme::palette(theme);
        progress_bar::Style {
            background: Background::Color(colors.line),
            bar: Background::Color(colors.accent),
            border: Border { radius: 5.0.into(), ..Border::default() },
        }
    });
    let line = row![container(widget::body(words)).width(Length::Fill), quiet_button("Stop").on_press_maybe(stop)]
        .spacing(space::TWO)
        .align_y(Alignment::Center);
    column![line, bar].spacing(space::ONE).into()
}

/// Things beside each other, on the next line where there is no room.
pub(super) fn beside<'a>(things: impl IntoIterator<Item = Element<'a, Message>>) -> Element<'a, Message> {
    iced::widget::Row::with_children(things).spacing(space::TWO).wrap().vertical_spacing(space::ONE).into()
}
