//! How the form of a corrected price looks.

use super::Message;
use super::correcting::{Correcting, Effect, Field, Moved};
use crate::book::StockRow;
use crate::window::Shared;
use crate::window::theme::space;
use crate::window::widget::{self, Mark, field, modal, primary, quiet_button};
use iced::widget::{Column, column, row};
use iced::{Element, Length};

pub(super) fn sheet<'a>(correcting: &'a Correcting, item: &'a StockRow, shared: &'a Shared) -> Element<'a, Message> {
    let refusal = correcting.refusal.as_deref().map(|why| {
        widget::caution_line(Mark::Stop, why, Some("Nothing was changed; what you typed is still here.".to_owned()))
    });
    let cost = typed(correcting, Field::Cost, "Landed cost after all", shared)
        .hint("the whole lot: price, freight, duty, less discount")
        .placeholder("e.g. 19.80");
    let date = typed(correcting, Field::Date, "Date", shared).hint("year-month-day").width(180);
    let body = column![
        widget::small(correcting.words.as_str()),
        row![Element::from(cost), Element::from(date)].spacing(space::TWO),
        typed(correcting, Field::Note, "Why: the invoice came, freight was forgotten", shared),
        match &correcting.effect {
            Some(told) => effect(told),
            None => widget::quiet("Type the cost, and what it moves is shown here before anything changes.").into(),
        },
        refusal,
    ]
    .spacing(space::TWO)
    .padding(iced::padding::right(space::TWO));
    let ready = !shared.read_only() && correcting.effect.is_some();
    modal::sheet(
        format!("Correct a price of {}", item.item.name),
        body,
        [
            quiet_button("Leave it").on_press(Message::Close).into(),
            primary("Correct it").on_press_maybe(ready.then_some(Message::CorrectIt)).into(),
        ],
    )
}

fn typed<'a>(correcting: &'a Correcting, which: Field, label: &'a str, shared: &Shared) -> widget::Field<'a, Message> {
    field(label, correcting.text(which))
        .id(which.id())
        .error(correcting.problem(which, &shared.preferences))
        .on_input(move |text| Message::Correcting(which, text))
        .on_submit(Message::CorrectIt)
}

/// What it would move.
fn effect(told: &Effect) -> Element<'_, Message> {
    let head = row![
        widget::small("What it moves").width(Length::FillPortion(3)),
        widget::small("before").width(Length::FillPortion(2)).align_x(iced::Alignment::End),
        widget::small("after").width(Length::FillPortion(2)).align_x(iced::Alignment::End),
    ]
    .spacing(space::ONE);
    let line = |moved: &'_ Moved| -> Element<'_, Message> {
        row![
            widget::body(moved.what.clone()).width(Length::FillPortion(3)),
            widget::amount(moved.before.clone()).width(Length::FillPortion(2)).align_x(iced::Alignment::End),
            widget::amount(moved.after.clone()).width(Length::FillPortion(2)).align_x(iced::Alignment::End),
        ]
        .spacing(space::ONE)
        .into()
    };
    column![
        head,
        Column::with_children(told.lines.iter().map(line)).spacing(space::HALF),
        widget::small(told.movements.as_str()),
        widget::small(told.designs.as_str()),
    ]
    .spacing(space::HALF)
    .into()
}
