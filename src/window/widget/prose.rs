//! Text in the sizes and weights of the window.

use crate::window::theme::{self, size};
use iced::widget::text;
use iced::widget::text::Text;

/// The one figure of a page.
pub fn display<'a>(words: impl text::IntoFragment<'a>) -> Text<'a> {
    text(words).size(size::DISPLAY).font(theme::STRONG)
}

/// The name of a page.
pub fn title<'a>(words: impl text::IntoFragment<'a>) -> Text<'a> {
    text(words).size(size::TITLE).font(theme::STRONG)
}

/// A heading, or a figure that matters.
pub fn large<'a>(words: impl text::IntoFragment<'a>) -> Text<'a> {
    text(words).size(size::LARGE).font(theme::STRONG)
}

/// A word with weight.
pub fn strong<'a>(words: impl text::IntoFragment<'a>) -> Text<'a> {
    text(words).size(size::BODY).font(theme::STRONG)
}

/// Running text.
pub fn body<'a>(words: impl text::IntoFragment<'a>) -> Text<'a> {
    text(words).size(size::BODY)
}

/// Running text that stands back.
pub fn quiet<'a>(words: impl text::IntoFragment<'a>) -> Text<'a> {
    text(words).size(size::BODY).style(theme::quiet)
}

/// A note, in small type that stands back.
pub fn small<'a>(words: impl text::IntoFragment<'a>) -> Text<'a> {
    text(words).size(size::SMALL).style(theme::quiet)
}

/// A figure of a column: on one line, for a right-aligned cell.
pub fn amount<'a>(figure: impl text::IntoFragment<'a>) -> Text<'a> {
    text(figure).size(size::BODY).wrapping(text::Wrapping::None)
}
