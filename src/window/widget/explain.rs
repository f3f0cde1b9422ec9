//! A figure that opens into the lines it is made of. No number on screen is a dead end.

use super::mark::{Mark, mark};
use super::press::Press;
use super::prose;
use crate::window::theme::{self, Chosen, space};
use iced::widget::{Column, column, container, row};
use iced::{Alignment, Element, Length};

/// One line of an explanation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// What it is, e.g. `14 pieces × 2.50 min`.
    pub what: String,
    /// Its amount, already worded.
    pub amount: String,
}

impl Line {
    /// A line from its two texts.
    pub fn new(what: impl Into<String>, amount: impl Into<String>) -> Self {
        Self { what: what.into(), amount: amount.into() }
    }
}

/// A figure with its name; pressing it opens or closes the lines below it. `open` is the screen's to keep.
pub fn explain<'a, Message: Clone + 'a>(
    name: &'a str,
    figure: &'a str,
    open: Chosen,
    lines: &'a [Line],
    on_toggle: Message,
) -> Element<'a, Message> {
    let sign = if open == Chosen::Yes { Mark::Open } else { Mark::Closed };
    let head = Press::new(
        row![mark(sign), prose::body(name).width(Length::Fill), prose::amount(figure)]
            .spacing(space::ONE)
            .align_y(Alignment::Center),
    )
    .on_press(on_toggle)
    .width(Length::Fill)
    .height(theme::TARGET)
    .padding([0.0, space::HALF])
    .style(theme::row(Chosen::No));
    let inner = (open == Chosen::Yes).then(|| {
        container(Column::with_children(lines.iter().map(|line| {
            row![prose::small(line.what.as_str()).width(Length::Fill), prose::small(line.amount.as_str())]
                .spacing(space::TWO)
                .into()
        })))
        .padding([0.0, space::HALF])
        .padding(iced::padding::left(space::THREE + 2.0).right(space::HALF).bottom(space::ONE))
    });
    column![head, inner].into()
}
