//! How the outlines wanted look, and the way to add one.

use super::plan::{Field, From, Mixing, Want};
use super::room::{Message, State};
use crate::window::Shared;
use crate::window::draw::outline::Outline;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Mark, choice, field, panel, path_field, pick, quiet_button};
use iced::widget::{Column, canvas, column, container, row};
use iced::{Alignment, Element, Length};

/// The panel of outlines.
pub(super) fn panel_of<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let form = &state.form;
    let mut parts: Vec<Element<'a, Message>> =
        form.wanted.iter().enumerate().map(|(place, want)| line(state, place, want, shared)).collect();
    if form.wanted.len() > 1 {
        let mixings = [(Mixing::Quantities, "so many of each"), (Mixing::Sets, "whole sets")];
        parts.push(choice("The mix", mixings, Some(&form.mixing), Message::Mixing));
    }
    parts.push(add(state, shared));
    if let Some(trouble) = state.adding.as_ref().filter(|trouble| !trouble.no_size) {
        parts.push(widget::caution_line(Mark::Stop, trouble.words.as_str(), None));
    }
    for remark in &state.remarks {
        parts.push(widget::small(remark.as_str()).into());
    }
    panel("To be cut", "", Column::with_children(parts).spacing(space::ONE + space::HALF))
}

fn line<'a>(state: &'a State, place: usize, want: &'a Want, shared: &'a Shared) -> Element<'a, Message> {
    let tint = theme::mix(shared.palette.sheet, shared.palette.step, 0.7);
    let sketch = canvas(Outline::new(&want.shape, want.version, tint)).width(48).height(40);
    let (label, placeholder) = if state.form.in_sets() { ("In a set", "1") } else { ("Quantity", "all that fit") };
    let quantity = field(label, want.quantity.text())
        .id(format!("cutting-quantity-{place}"))
        .placeholder(placeholder)
        .error(state.form.quantity_problem(place, &shared.preferences))
        .width(116)
        .figures()
        .on_input(move |text| Message::Quantity(place, text))
        .on_submit(Message::LayOut);
    let odd = want.caution.as_ref().map(|words| {
        row![widget::mark(Mark::Caution), widget::small(words.as_str())].spacing(space::HALF).align_y(Alignment::Center)
    });
    row![
        sketch,
        column![widget::strong(want.name.as_str()), widget::small(want.words.as_str()), odd].width(Length::Fill),
        Element::from(quantity),
        container(widget::link("Remove").on_press(Message::Remove(place))).padding(iced::padding::top(18)),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center)
    .into()
}

fn add<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let form = &state.form;
    let from = choice(
        "Add an outline",
        [(From::Stock, "a blank of stock"), (From::Words, "in words"), (From::Drawing, "a drawing")],
        Some(&form.from),
        Message::From,
    );
    let how: Element<'a, Message> = match form.from {
        From::Stock if form.blanks.options().is_empty() => {
            widget::small("There are no blanks in stock yet: type an outline in words, or read a drawing.").into()
        }
        From::Stock => pick("", &form.blanks, "name or reference of a blank", None, Message::Blank),
        From::Words => {
            let words = field("", form.text(Field::Words))
                .id(Field::Words.id())
                .placeholder("disc 30, drop 40 x 20, ellipse 45 28 …")
                .hint("in mm")
                .on_input(|text| Message::Typed(Field::Words, text))
                .on_submit(Message::AddWords);
            row![Element::from(words), quiet_button("Add").on_press(Message::AddWords)]
                .spacing(space::ONE)
                .align_y(Alignment::End)
                .into()
        }
        From::Drawing => drawing(state, shared),
    };
    column![from, how].spacing(space::ONE).into()
}

fn drawing<'a>(state: &'a State, _shared: &'a Shared) -> Element<'a, Message> {
    let form = &state.form;
    let path = path_field(
        "SVG file",
        form.text(Field::Drawing),
        None,
        |text| Message::Typed(Field::Drawing, text),
        Some(Message::AddDrawing),
        Some(Message::Browse),
    );
    let trouble = state.adding.as_ref().filter(|trouble| trouble.no_size);
    let asks = trouble.is_some() || !form.text(Field::LongSide).is_empty();
    let long_side = asks.then(|| {
        Element::from(
            field("Its longer side", form.text(Field::LongSide))
                .id(Field::LongSide.id())
                .placeholder("e.g. 45 mm")
                .error(trouble.map(|trouble| trouble.words.as_str()))
                .on_input(|text| Message::Typed(Field::LongSide, text))
                .on_submit(Message::AddDrawing),
        )
    });
    let add = quiet_button(if state.reading { "Reading …" } else { "Add" })
        .on_press_maybe((!state.reading).then_some(Message::AddDrawing));
    column![path, long_side, add].spacing(space::ONE).into()
}
