//! The studio's own figures: overhead, the wage, the kiln.

use super::field::{Field, RowKey, StudioPart};
use super::view::{beside, derived, figure, typed};
use super::{Figure, MOST_ROWS, Message, State};
use crate::measure::{Preferences, display};
use crate::window::Shared;
use crate::window::theme::space;
use crate::window::widget::{self, link};
use iced::widget::{Column, column, container, row};
use iced::{Alignment, Element, Length};

/// What an empty list of overhead says.
const NOTHING_YET: &str = "No line yet: rent, insurance, light, telephone, tools, licences – whatever a year costs \
                           whether you fire or not.";

/// A year's overhead, the hours it is spread over, what comes of it.
pub(super) fn overhead<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let keys = state.draft.overhead();
    let lines = Column::with_children(keys.iter().map(|key| line(state, shared, *key))).spacing(space::ONE);
    let none = keys.is_empty().then(|| widget::quiet(NOTHING_YET));
    let can_add = !shared.read_only() && keys.len() < MOST_ROWS;
    let add = link("Add a line").on_press_maybe(can_add.then_some(Message::AddOverhead));
    let hours = figure(state, shared, Field::Studio(StudioPart::NormalHours), "Normal bench hours of a year", "hours");
    let body = column![
        lines,
        none,
        add,
        hours,
        widget::small(
            "The hours at the bench of a normal year, not those of this one: a quiet year must not make each piece \
             dearer. In a year well above normal take its actual hours (IAS 2, paragraph 13)."
        ),
        derived(state, "Overhead an hour", "How overhead an hour comes about", &state.words.overhead, Figure::Overhead),
    ]
    .spacing(space::ONE + space::HALF);
    widget::panel("A year’s overhead", state.words.overhead_follow.as_str(), body)
}

fn line<'a>(state: &'a State, shared: &'a Shared, key: RowKey) -> Element<'a, Message> {
    let remove = link("Remove").on_press_maybe((!shared.read_only()).then_some(Message::RemoveOverhead(key)));
    row![
        typed(state, shared, Field::OverheadName(key), "", "").placeholder("what for"),
        container(typed(state, shared, Field::OverheadAmount(key), "", "").placeholder("a year").figures()).width(130),
        remove,
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Start)
    .into()
}

/// The wage.
pub(super) fn wage<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let body = column![
        row![
            container(figure(state, shared, Field::Studio(StudioPart::Wage), "What an hour of yours shall earn", ""))
                .width(Length::Fill),
            widget::display(state.words.wage.as_str()),
        ]
        .spacing(space::TWO)
        .align_y(Alignment::End),
        widget::small(
            "What you would have to pay somebody who does it as well as you. It is part of full cost; profit comes on top."
        ),
    ]
    .spacing(space::ONE);
    widget::panel("The wage", state.words.wage_follow.as_str(), body)
}

/// Elements, thermocouple, energy, recovery, and the margin below a solder's flow point.
pub(super) fn kiln<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let preferences = Preferences::from(shared.settings());
    let part = |part, label, hint| figure(state, shared, Field::Studio(part), label, hint);
    let wear = beside(
        vec![
            part(StudioPart::ElementsCost, "Elements", "a set"),
            part(StudioPart::ElementsHours, "It lasts", "hot hours"),
            part(StudioPart::ThermocoupleCost, "Thermocouple", "one"),
            part(StudioPart::ThermocoupleHours, "It lasts", "hot hours"),
        ],
        shared,
    );
    let load = beside(
        vec![
            part(StudioPart::PricePerKwh, "Energy", "a kWh"),
            part(StudioPart::KwhPerLoad, "A load takes", "kWh"),
            part(StudioPart::Recovery, "Recovery", "min:s"),
            part(StudioPart::ExampleMinutes, "In the heat", "min:s"),
        ],
        shared,
    );
    let margin = typed(
        state,
        shared,
        Field::Studio(StudioPart::SolderMargin),
        "Stay below a solder’s flow point by",
        display::temperature_label(&preferences),
    )
    .figures()
    .width(280);
    let body = column![
        wear,
        derived(state, "Wear a hot hour", "How wear comes about", &state.words.wear, Figure::Wear),
        load,
        derived(state, "A load of the kiln", "How the cost of a load comes about", &state.words.load, Figure::Load),
        margin,
        widget::small(state.words.margin.as_str()),
    ]
    .spacing(space::ONE + space::HALF);
    widget::panel("The kiln", state.words.kiln_follow.as_str(), body)
}
