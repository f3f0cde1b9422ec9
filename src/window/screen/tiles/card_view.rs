//! How a tile looks on its card: its layers as bands over the metal, its heat, its verdict.

use super::cards::{Card, Detail};
use super::state::card_id;
use super::{Message, State};
use crate::studio::{Metal, Verdict};
use crate::window::Shared;
use crate::window::screen::kiln::words;
use crate::window::theme::{self, Chosen, size, space};
use crate::window::widget::{self, Mark, Press, link, panel_with, quiet_button};
use iced::keyboard::key::Named;
use iced::widget::{Column, Row, column, container, row, text};
use iced::{Alignment, Color, Element, Length};

/// Width of a card, pixels.
pub(super) const WIDTH: f32 = 172.0;

/// One card; arrows move the focus to its neighbours.
pub(super) fn card<'a>(place: usize, of: &'a Card, chosen: bool) -> Element<'a, Message> {
    let aside = of.aside.then(|| widget::small("set aside"));
    let photo = of.has_photo.then(|| widget::small("photo"));
    let words = column![
        text(of.name.as_str()).size(size::SMALL).font(theme::STRONG),
        row![words::heat_chip(of.heat.as_str(), of.celsius), widget::small(of.times.as_str())]
            .spacing(space::ONE)
            .align_y(Alignment::Center),
        row![verdict(of.verdict), photo, aside].spacing(space::ONE).align_y(Alignment::Center),
    ]
    .spacing(space::HALF)
    .padding([0.0, space::HALF]);
    Press::new(column![face(of, 64.0), words].spacing(space::ONE))
        .id(card_id(of.id))
        .on_press(Message::Choose(of.id))
        .on_key(move |key| match key {
            Named::ArrowRight | Named::ArrowDown => Some(Message::Step(place.saturating_add(1))),
            Named::ArrowLeft | Named::ArrowUp => place.checked_sub(1).map(Message::Step),
            Named::Home => Some(Message::Step(0)),
            _ => None,
        })
        .align(Alignment::Start)
        .padding(space::HALF)
        .width(WIDTH)
        .style(theme::choice(Chosen::from(chosen)))
        .into()
}

/// What it looks like: the whole colour, and at the right the layers from the metal up.
fn face<'a>(of: &Card, height: f32) -> Element<'a, Message> {
    let whole = match of.colour {
        Some(colour) => fill(theme::swatch(colour), Length::Fill, height),
        None => {
            container(widget::small("no colour yet")).center_x(Length::Fill).center_y(height).style(theme::tag).into()
        }
    };
    let bands = of.bands.iter().rev().map(|band| fill(theme::swatch(*band), Length::Fixed(26.0), 0.0));
    let stack =
        Column::with_children(bands.chain([fill(metal(of.metal), Length::Fixed(26.0), 0.0)])).spacing(1).height(height);
    row![whole, stack].spacing(2).into()
}

/// A plain surface; with no height it fills what it is given.
fn fill<'a>(color: Color, width: Length, height: f32) -> Element<'a, Message> {
    let height = if height > 0.0 { Length::Fixed(height) } else { Length::Fill };
    container(iced::widget::space()).width(width).height(height).style(theme::filled(color)).into()
}

/// About how a metal looks (common practice, no source).
fn metal(metal: Metal) -> Color {
    theme::swatch(match metal {
        Metal::Copper => [184, 112, 80],
        Metal::FineSilver => [214, 214, 210],
        Metal::Sterling => [200, 200, 198],
        Metal::Brass => [200, 168, 84],
        Metal::Bronze => [168, 120, 72],
        Metal::Steel => [136, 140, 144],
    })
}

fn verdict<'a>(of: Verdict) -> Element<'a, Message> {
    let mark = match of {
        Verdict::Use => Some(Mark::Good),
        Verdict::TryAgain => Some(Mark::Caution),
        Verdict::Leave => Some(Mark::Stop),
        Verdict::Open => None,
    };
    row![mark.map(widget::mark), widget::small(of.words())].spacing(space::HALF).align_y(Alignment::Center).into()
}

/// The tile in hand.
pub(super) fn detail<'a>(state: &'a State, of: &'a Detail, shared: &'a Shared) -> Element<'a, Message> {
    let can = !shared.read_only();
    let layers = of.layers.iter().enumerate().map(|(place, (colour, name, lead))| {
        let dot = colour.map(|colour| widget::mark(Mark::Swatch(theme::swatch(colour))));
        let lead = lead.then(|| container(widget::small("lead")).padding([1.0, 6.0]).style(theme::chip));
        row![widget::small(format!("{}", place + 1)), dot, widget::body(name.as_str()), lead]
            .spacing(space::ONE)
            .align_y(Alignment::Center)
            .into()
    });
    let fired = row![
        words::heat_chip(of.card.heat.as_str(), of.card.celsius),
        widget::body(of.card.times.as_str()),
        widget::small(of.date.as_str())
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center);
    let said = (!of.words.is_empty()).then(|| widget::body(of.words.as_str()));
    let note = (!of.note.is_empty()).then(|| widget::small(of.note.as_str()));
    let load = of.load.map(|load| link("The load it was fired in").on_press(Message::Load(load)));
    let aside = if of.card.aside { "Take it back" } else { "Set aside" };
    let buttons = Row::with_children([
        quiet_button("Change it").on_press_maybe(can.then_some(Message::Edit)).into(),
        link(aside).on_press_maybe(can.then_some(Message::SetAside)).into(),
    ])
    .spacing(space::ONE)
    .wrap();
    let body = column![
        face(&of.card, 96.0),
        fired,
        Column::with_children(layers),
        verdict(of.card.verdict),
        said,
        note,
        load,
        state.photo.view(can, Message::Photo),
        buttons,
    ]
    .spacing(space::ONE + space::HALF);
    panel_with("In hand", of.card.name.as_str(), link("Close").on_press(Message::Close), body)
}
