//! How a piece looks, and the pieces of a lot.

use super::story::{Leads, LotPage, Story};
use super::{Message, State};
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::{self, Mark, Press, choice, field, link, panel, panel_with, primary};
use iced::widget::{Column, Row, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

pub(super) fn piece<'a>(state: &'a State, story: &'a Story, shared: &'a Shared) -> Element<'a, Message> {
    let second = story.second.then(|| container(widget::small("second")).padding([1.0, 6.0]).style(theme::chip));
    let batches = story.batches.iter().map(|(id, words)| link(words.as_str()).on_press(Message::Batch(*id)).into());
    let head = column![
        row![link("‹ Pieces").on_press(Message::Back), widget::title(story.number.as_str()), second]
            .spacing(space::ONE)
            .align_y(Alignment::Center),
        row![widget::quiet(story.sentence.as_str()), Row::with_children(batches)]
            .spacing(space::ONE)
            .align_y(Alignment::Center)
            .wrap(),
    ]
    .spacing(space::HALF);
    let left = column![cost(story), mark(state, shared)].spacing(space::TWO);
    let right = column![lots(story), loads(story), minutes(story)].spacing(space::TWO);
    let body: Element<'a, Message> = if shared.is_narrow() {
        column![left, right].spacing(space::TWO).into()
    } else {
        row![container(left).width(Length::FillPortion(2)), container(right).width(Length::FillPortion(3))]
            .spacing(space::THREE)
            .into()
    };
    page(column![head, body].spacing(space::TWO), shared)
}

fn page<'a>(body: impl Into<Element<'a, Message>>, shared: &Shared) -> Element<'a, Message> {
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    scrollable(container(body).padding(room)).height(Length::Fill).style(theme::scroll).into()
}

/// A piece the book does not have, or has not told yet.
pub(super) fn none(missing: bool, shared: &Shared) -> Element<'_, Message> {
    let words = if missing { "There is no such piece any more." } else { "Looking through the book …" };
    page(column![link("‹ Pieces").on_press(Message::Back), widget::quiet(words)].spacing(space::ONE), shared)
}

fn cost(story: &Story) -> Element<'_, Message> {
    let lines = story.parts.iter().map(|line| {
        row![widget::body(line.what.as_str()).width(Length::Fill), widget::amount(line.amount.as_str())]
            .spacing(space::TWO)
            .into()
    });
    let told = if story.cost.is_empty() {
        "Its cost is known when it is finished."
    } else {
        "its share of what the batch spent, and what is its own"
    };
    panel_with(
        "What it cost",
        "",
        widget::large(story.cost.as_str()),
        column![widget::small(told), Column::with_children(lines).spacing(space::HALF)].spacing(space::ONE),
    )
}

fn mark<'a>(state: &'a State, shared: &Shared) -> Element<'a, Message> {
    let can = !shared.read_only();
    let refusal = state.refusal.as_deref().map(|why| widget::caution_line(Mark::Stop, why, None));
    panel(
        "Its own",
        "",
        column![
            choice::tick("A second: sold as such", Chosen::from(state.second), can.then_some(Message::Second)),
            Element::from(
                field("Note", state.note.text()).id("piece-note").on_input(Message::Note).on_submit(Message::Keep)
            ),
            refusal,
            primary("Keep it").on_press_maybe(can.then_some(Message::Keep)),
        ]
        .spacing(space::ONE),
    )
}

fn lots(story: &Story) -> Element<'_, Message> {
    let none = story.lots.is_empty().then(|| widget::quiet("Nothing of it was taken from stock."));
    let rows = story.lots.iter().map(|line| leads(line, |lot| Message::Lot(*lot)));
    panel("From these lots", "its share; a lot opens into its pieces", column![Column::with_children(rows), none])
}

fn loads(story: &Story) -> Element<'_, Message> {
    let none = story.loads.is_empty().then(|| widget::quiet("It was in no load."));
    let rows = story.loads.iter().map(|line| leads(line, |load| Message::Load(*load)));
    panel("In these loads", "", column![Column::with_children(rows), none])
}

fn minutes(story: &Story) -> Element<'_, Message> {
    let rows = story.minutes.iter().map(|line| {
        row![widget::body(line.what.as_str()).width(Length::Fill), widget::amount(line.amount.as_str())]
            .spacing(space::TWO)
            .into()
    });
    panel_with(
        "Hands-on time",
        "",
        widget::strong(story.all_minutes.as_str()),
        Column::with_children(rows).spacing(space::HALF),
    )
}

/// A line that leads somewhere, where it does.
fn leads<'a, To>(line: &'a Leads<To>, go: impl Fn(&To) -> Message) -> Element<'a, Message> {
    let words = column![widget::strong(line.what.as_str()), widget::small(line.detail.as_str())];
    Press::new(
        row![words.width(Length::Fill), widget::amount(line.figure.as_str())]
            .spacing(space::TWO)
            .align_y(Alignment::Center),
    )
    .on_press_maybe(line.to.as_ref().map(go))
    .align(Alignment::Start)
    .width(Length::Fill)
    .padding([space::HALF, space::HALF])
    .style(theme::row(Chosen::No))
    .into()
}

pub(super) fn lot<'a>(lot: &'a LotPage, shared: &'a Shared) -> Element<'a, Message> {
    let head = row![link("‹ Back").on_press(Message::Back), widget::title(lot.title.as_str())]
        .spacing(space::ONE)
        .align_y(Alignment::Center);
    let rows = lot.rows.iter().map(|line| leads(line, |piece| Message::Piece(*piece)));
    let none = lot.rows.is_empty().then(|| widget::quiet("No piece holds anything of it."));
    let body = panel("Pieces that hold something of it", "", column![Column::with_children(rows), none]);
    page(column![head, body].spacing(space::TWO), shared)
}
