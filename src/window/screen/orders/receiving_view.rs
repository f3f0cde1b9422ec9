//! How what came of an order is written down.

use super::receiving::{Change, Field, Line, Receiving};
use super::{Message, words};
use crate::window::Shared;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Mark, field, modal, primary, quiet_button};
use iced::widget::{Column, column, container, row};
use iced::{Alignment, Element};

pub(super) fn sheet<'a>(receiving: &'a Receiving, shared: &'a Shared) -> Element<'a, Message> {
    let date = typed(receiving, Field::Date, "Day it came", shared).hint("year-month-day").width(220);
    let lines = receiving.lines.iter().enumerate().map(|(place, line)| of_line(receiving, place + 1, line, shared));
    let lead = receiving
        .lines
        .iter()
        .any(|line| line.lead)
        .then(|| widget::caution_line(Mark::Caution, words::LEAD, Some(words::LEAD_ADVICE.to_owned())));
    let refusal = receiving.refusal.as_deref().map(|why| {
        widget::caution_line(Mark::Stop, why, Some("Nothing was changed; what you typed is still here.".to_owned()))
    });
    let body = column![
        widget::small("All that is still to come is filled in. Where less came, write how much; where none, nothing."),
        Element::from(date),
        Column::with_children(lines).spacing(space::TWO),
        refusal,
        lead,
    ]
    .spacing(space::TWO)
    .padding(iced::padding::right(space::TWO));
    modal::sheet(
        receiving.title.clone(),
        body,
        [
            quiet_button("Leave it").on_press(Message::Close).into(),
            primary("Take it in").on_press_maybe((!shared.read_only()).then_some(Message::TakeIn)).into(),
        ],
    )
}

fn of_line<'a>(receiving: &'a Receiving, place: usize, line: &'a Line, shared: &Shared) -> Element<'a, Message> {
    let lead = line.lead.then(|| container(widget::small("lead")).padding([1.0, 6.0]).style(theme::chip));
    let packs = typed(receiving, Field::Packs(place), "Packs that came", shared).figures().width(170);
    let lot = typed(receiving, Field::Lot(place), "Lot number", shared).placeholder("the maker's, if there is one");
    column![
        row![widget::strong(line.name.as_str()), lead, widget::small(line.words.as_str())]
            .spacing(space::ONE)
            .align_y(Alignment::Center)
            .wrap(),
        row![Element::from(packs), Element::from(lot)].spacing(space::TWO),
    ]
    .spacing(space::HALF)
    .into()
}

fn typed<'a>(receiving: &'a Receiving, which: Field, label: &'a str, shared: &Shared) -> widget::Field<'a, Message> {
    field(label, receiving.text(which))
        .id(which.id())
        .error(receiving.problem(which, &shared.preferences))
        .on_input(move |text| Message::Receiving(Change::Typed(which, text)))
        .on_submit(Message::TakeIn)
}
