//! How the batches on the bench and what waits for the kiln look.

use super::Message;
use super::on_bench::{OnBench, Running, Waiting};
use crate::studio::DesignId;
use crate::window::Shared;
use crate::window::draw::batch_strip::BatchStrip;
use crate::window::screen::Destination;
use crate::window::screen::batches::lane::Lane;
use crate::window::theme::{self, Chosen, size, space};
use crate::window::widget::{self, Press, link, primary, quiet_button};
use iced::widget::{Column, Row, column, container, row, text};
use iced::{Alignment, Element, Length};

/// A new batch: of the design where there is only one, else to be picked.
pub(super) fn new_batch(shared: &Shared) -> Destination {
    let mut designs = shared.snapshot.designs.iter().filter(|book| !book.retired);
    match (designs.next(), designs.next()) {
        (Some(only), None) => Destination::NewBatch(only.id),
        // No row has this id: the form leaves it to be picked.
        _ => Destination::NewBatch(DesignId(0)),
    }
}

/// Every open batch as a strip.
pub(super) fn bench<'a>(bench: &'a OnBench, shared: &'a Shared) -> Element<'a, Message> {
    let can = !shared.read_only();
    if bench.lanes.is_empty() {
        let start: Element<'a, Message> = if bench.can_start {
            primary("Start a batch").on_press_maybe(can.then(|| Message::Go(new_batch(shared)))).into()
        } else {
            primary("To the designs").on_press(Message::Go(Destination::Designs)).into()
        };
        let body = column![widget::quiet(bench.advice), start].spacing(space::ONE + space::HALF);
        return widget::panel("On the bench", "nothing yet", body);
    }
    let lanes = bench.lanes.iter().map(|lane| of_lane(lane, shared));
    let more = (!bench.more.is_empty()).then(|| link(bench.more.as_str()).on_press(Message::Go(Destination::Batches)));
    let start = quiet_button("Start a batch").on_press_maybe(can.then(|| Message::Go(new_batch(shared))));
    widget::panel_with(
        "On the bench",
        if shared.is_narrow() { "" } else { "each strip is a batch; the dots are its pieces, rings are in the kiln" },
        start,
        column![Column::with_children(lanes).spacing(space::HALF), more].spacing(space::ONE),
    )
}

fn of_lane<'a>(lane: &'a Lane, shared: &Shared) -> Element<'a, Message> {
    let strip = BatchStrip::new(&lane.steps);
    let lost = (!lane.lost.is_empty())
        .then(|| text(lane.lost.as_str()).size(size::SMALL).font(theme::STRONG).style(theme::caution));
    let next = column![text(lane.next.as_str()).size(size::BODY).font(theme::STRONG).style(theme::accent), lost];
    let name = column![widget::strong(lane.name.as_str()), widget::small(lane.started.as_str())];
    let content: Element<'a, Message> = if shared.is_narrow() {
        column![name, strip, next].spacing(space::HALF).into()
    } else {
        row![name.width(152), strip, next.width(236)].spacing(space::TWO).align_y(Alignment::Center).into()
    };
    Press::new(content)
        .id(format!("lane-{}", lane.id.0))
        .on_press(Message::Go(Destination::Batch(lane.id)))
        .align(Alignment::Start)
        .width(Length::Fill)
        .padding([space::ONE, space::HALF])
        .style(theme::row(Chosen::No))
        .into()
}

/// Pieces that wait for the kiln.
pub(super) fn kiln<'a>(bench: &'a OnBench, shared: &'a Shared) -> Element<'a, Message> {
    let rows = bench.waiting.iter().map(waiting);
    let none = bench.waiting.is_empty().then(|| widget::quiet("No piece waits for the kiln."));
    let some = !bench.waiting.is_empty();
    let go = |to: Destination| (some && !shared.read_only()).then_some(Message::Go(to));
    let buttons = some.then(|| {
        Row::with_children([
            primary("Plan the kiln day").on_press_maybe(go(Destination::KilnPlan)).into(),
            link("Start a load").on_press_maybe(go(Destination::Kiln)).into(),
        ])
        .spacing(space::ONE)
        .wrap()
    });
    widget::panel(
        "Waiting for the kiln",
        "",
        column![Column::with_children(rows).spacing(space::HALF), none, buttons].spacing(space::ONE + space::HALF),
    )
}

fn waiting(of: &Waiting) -> Element<'_, Message> {
    let colour = of.colour;
    let chip = container(
        text(of.heat.as_str())
            .size(size::BODY)
            .font(theme::STRONG)
            .wrapping(text::Wrapping::None)
            .color(theme::ink_on(colour)),
    )
    .center(Length::Fill)
    .width(76)
    .height(40)
    .style(theme::filled(colour));
    Press::new(
        row![chip, column![widget::strong(of.what.as_str()), widget::small(of.detail.as_str())].width(Length::Fill)]
            .spacing(space::ONE + space::HALF)
            .align_y(Alignment::Center),
    )
    .on_press(Message::Go(of.destination.clone()))
    .align(Alignment::Start)
    .width(Length::Fill)
    .padding(space::HALF)
    .style(theme::row(Chosen::No))
    .into()
}

/// Loads that fire and timers that run; nothing where there are none.
pub(super) fn running(bench: &OnBench) -> Option<Element<'_, Message>> {
    if bench.running.is_empty() {
        return None;
    }
    let rows = bench.running.iter().map(|of: &Running| {
        Press::new(
            row![widget::strong(of.what.as_str()).width(Length::Fill), widget::small(of.detail.as_str())]
                .spacing(space::TWO)
                .align_y(Alignment::Center),
        )
        .on_press(Message::Go(of.destination.clone()))
        .width(Length::Fill)
        .height(theme::TARGET)
        .style(theme::row(Chosen::No))
        .into()
    });
    Some(
        container(Column::with_children(rows))
            .padding([space::HALF, space::ONE])
            .width(Length::Fill)
            .style(theme::sheet)
            .into(),
    )
}
