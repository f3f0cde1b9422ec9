//! How what batches taught looks.

use super::Message;
use super::learnt_words::{Figure, Learnt, LossLine};
use crate::costing::learning::LossBy;
use crate::window::Shared;
use crate::window::draw::bar::Bar;
use crate::window::theme::space;
use crate::window::widget::{self, choice, panel, quiet_button};
use iced::widget::{Column, column, container, row};
use iced::{Alignment, Element, Length};

pub(super) fn view<'a>(learnt: Option<&'a Learnt>, shared: &'a Shared) -> Element<'a, Message> {
    let Some(learnt) = learnt else { return widget::quiet("Looking through its batches …").into() };
    let can = !shared.read_only();
    let figures = learnt.figures.iter().map(|of| figure(of, can));
    let left = panel(
        "What batches say of the plan",
        "",
        column![widget::quiet(learnt.sentence.as_str()), Column::with_children(figures).spacing(space::ONE)]
            .spacing(space::ONE + space::HALF),
    );
    let right = losses(learnt, shared);
    if shared.is_narrow() {
        column![left, right].spacing(space::TWO).into()
    } else {
        row![container(left).width(Length::FillPortion(1)), container(right).width(Length::FillPortion(1))]
            .spacing(space::THREE)
            .into()
    }
}

fn figure(of: &Figure, can: bool) -> Element<'_, Message> {
    let take = of
        .proposal
        .as_ref()
        .map(|(place, words)| quiet_button(words.as_str()).on_press_maybe(can.then_some(Message::Accept(*place))));
    row![
        column![widget::strong(of.name.as_str()), widget::body(of.told.as_str()), widget::small(of.interval.as_str())]
            .width(Length::Fill),
        take
    ]
    .spacing(space::TWO)
    .align_y(Alignment::Center)
    .into()
}

fn losses<'a>(learnt: &'a Learnt, shared: &'a Shared) -> Element<'a, Message> {
    let by = choice::choice(
        "",
        [
            (LossBy::Step, "by step"),
            (LossBy::Cause, "by cause"),
            (LossBy::Enamel, "by enamel"),
            (LossBy::Kiln, "by kiln"),
        ],
        Some(&learnt.by),
        Message::LossBy,
    );
    let none = learnt.losses.is_empty().then(|| widget::quiet("No piece of it was lost."));
    let bars = learnt.losses.iter().map(|of| bar(of, shared));
    panel(
        "Where pieces were lost",
        "its batches of the last three years",
        column![by, none, Column::with_children(bars)].spacing(space::ONE),
    )
}

fn bar<'a>(of: &'a LossLine, shared: &'a Shared) -> Element<'a, Message> {
    row![
        container(widget::fitted(of.name.as_str())).width(130),
        Bar::new(0.0, of.share, shared.palette.caution).height(30.0),
        container(widget::small(of.told.as_str())).width(190),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center)
    .into()
}
