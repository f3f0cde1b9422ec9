//! How the room looks.

use super::form::{Field, Form};
use super::printing::System;
use super::{Message, PutRight, Row, State, steps_view};
use crate::window::Shared;
use crate::window::screen::kiln::words;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::{self, Mark, Press, field, link, modal, panel, panel_with, primary, quiet_button};
use iced::widget::{Column, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    let can = !shared.read_only();
    let add = primary("Write a printer down").on_press_maybe(can.then_some(Message::New(None)));
    let title: Element<'a, Message> = if shared.is_narrow() {
        column![widget::title("Printers"), add].spacing(space::ONE).into()
    } else {
        row![widget::title("Printers").width(Length::Fill), add].align_y(Alignment::Center).into()
    };
    let head = column![link("‹ Papers").on_press(Message::Back), title];
    let list = column![printers(state, can), system(state, can)].spacing(space::TWO);
    let body: Element<'a, Message> = match state.row() {
        None => list.into(),
        Some(row) => {
            let known = column![list, put_right(row, can)].spacing(space::TWO);
            let steps = steps_view::steps(state, row, shared);
            if shared.is_narrow() {
                column![known, steps].spacing(space::TWO).into()
            } else {
                row![container(known).width(Length::FillPortion(4)), container(steps).width(Length::FillPortion(5))]
                    .spacing(space::TWO)
                    .into()
            }
        }
    };
    let body = container(column![head, body].spacing(space::TWO)).padding(room).width(Length::Fill);
    scrollable(body).height(Length::Fill).style(theme::scroll).into()
}

/// The printers of the book.
fn printers(state: &State, can: bool) -> Element<'_, Message> {
    if state.rows.is_empty() {
        let advice = "Write a printer down with its dots per inch. Symbols are then made of whole dots of it, and a page \
                      to measure tells how far it prints beside the place: papers come out where they belong.";
        return widget::empty("No printer yet", advice, None);
    }
    let rows = state.rows.iter().map(|row| {
        let chosen = Chosen::from(state.chosen == Some(row.id));
        let away = (state.is_here(&row.name) == Some(false))
            .then(|| widget::small("This computer has no printer of that name."));
        Press::new(column![widget::strong(row.name.as_str()), widget::small(row.about.as_str()), away])
            .align(Alignment::Start)
            .width(Length::Fill)
            .padding([space::ONE, space::ONE])
            .style(theme::row(chosen))
            .on_press(Message::Choose(row.id))
            .into()
    });
    let buttons = words::buttons([
        quiet_button("Change it").on_press_maybe(can.then_some(Message::Edit)).into(),
        link("Take it out").on_press_maybe(can.then_some(Message::Remove)).into(),
    ]);
    panel("In this book", "", column![Column::with_children(rows).spacing(space::HALF), buttons].spacing(space::ONE))
}

/// The printers of this computer that the book does not have, or why there are none.
fn system(state: &State, can: bool) -> Element<'_, Message> {
    let again = link("Ask again").on_press_maybe((state.system != System::Asked).then_some(Message::AskSystem));
    let said: Element<'_, Message> = match &state.system {
        System::NotAsked | System::Asked => widget::quiet("Being asked …").into(),
        System::Silent(reason) => column![
            widget::body(
                "This computer cannot be asked for its printers. Papers are saved as PDF or opened in a viewer."
            ),
            widget::small(reason.as_str())
        ]
        .spacing(space::HALF)
        .into(),
        System::Known(names) if names.is_empty() => {
            widget::body("This computer has no printer. Papers are saved as PDF or opened in a viewer.").into()
        }
        System::Known(_) => {
            let rows: Vec<Element<'_, Message>> = state
                .strangers()
                .map(|name| {
                    let add = link("Write it down").on_press_maybe(can.then(|| Message::New(Some(name.clone()))));
                    row![widget::body(name.as_str()).width(Length::Fill), add].align_y(Alignment::Center).into()
                })
                .collect();
            if rows.is_empty() {
                widget::quiet("All of them are in the book.").into()
            } else {
                Column::with_children(rows).spacing(space::HALF).into()
            }
        }
    };
    panel_with("Of this computer", "", again, said)
}

/// What is put right, paper by paper.
fn put_right(row: &Row, can: bool) -> Element<'_, Message> {
    let line = |of: &'_ PutRight| {
        let forget = link("Forget it").on_press_maybe(can.then_some(Message::Forget(of.sheet)));
        row![column![widget::strong(of.paper.clone()), widget::small(of.words.clone())].width(Length::Fill), forget]
            .spacing(space::ONE)
            .align_y(Alignment::Center)
            .into()
    };
    let none = row.put_right.is_empty().then(|| widget::quiet("Nothing yet: measure it in three steps."));
    let lines = Column::with_children(row.put_right.iter().map(line)).spacing(space::ONE);
    let rest = (!row.put_right.is_empty())
        .then(|| widget::small("A sheet that was not measured is put right as plain paper is."));
    panel("What is put right", row.name.as_str(), column![none, lines, rest].spacing(space::ONE))
}

/// The form of a printer.
pub(super) fn form<'a>(form: &'a Form, shared: &'a Shared) -> Element<'a, Message> {
    let typed = |which: Field, label: &'a str, hint: &'a str, example: &'a str| -> Element<'a, Message> {
        field(label, form.fields.text(which))
            .id(which.id())
            .hint(hint)
            .placeholder(example)
            .error(form.problem(which, &shared.preferences))
            .on_input(move |text| Message::Typed(which, text))
            .on_submit(Message::Save)
            .into()
    };
    let refusal = form.refusal.as_deref().map(|why| widget::caution_line(Mark::Stop, why, None));
    let body = column![
        typed(Field::Name, "Name", "as this computer calls it", "e.g. Office_Laser"),
        typed(Field::Dots, "Dots per inch", "in the printer's own data", "e.g. 600"),
        widget::small("Printers of label rolls mostly have 203 or 300, office printers 600."),
        refusal,
    ]
    .spacing(space::TWO);
    modal::sheet(
        if form.id.is_some() { "The printer" } else { "A new printer" },
        body,
        [
            quiet_button("Leave it").on_press(Message::Close).into(),
            primary("Save the printer").on_press(Message::Save).into(),
        ],
    )
}
