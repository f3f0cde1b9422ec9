//! How the list of jars and the form of one look.

use super::jars::{Change, Field, Form, JarRow};
use super::{Message, Page, State, words};
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Column, Mark, field, link, listing, modal, primary, quiet_button};
use iced::widget::{Row, column, container, row};
use iced::{Alignment, Element, Length};

/// The list.
pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let can = !shared.read_only();
    let edit = can && state.list.selected().is_some();
    let title = column![
        link("‹ Weigh in").on_press(Message::Page(Page::Scale)),
        widget::title("Jars and tares"),
        widget::small(format!(
            "{}; the tare is the jar with its lid and without anything in it",
            words::jars(state.rows.len())
        )),
    ];
    let buttons = row![
        quiet_button("Change it").on_press_maybe(edit.then_some(Message::Edit)),
        primary("Add a jar").on_press_maybe(can.then_some(Message::New)),
    ]
    .spacing(space::ONE);
    let mut columns: Vec<Column<'_, JarRow, Message>> = vec![
        Column::words("Jar", 96, |row: &JarRow| row.label.as_str()),
        Column::new("In it", Length::FillPortion(3), name),
        Column::figures("Tare", 92, |row: &JarRow| row.tare.as_str()),
        Column::words("Last weighed", 104, |row: &JarRow| row.date.as_str()),
    ];
    if !shared.is_narrow() {
        columns.push(Column::figures("It held then", 104, |row: &JarRow| row.held.as_str()));
    }
    let list = container(listing::listing(&state.list, columns, &state.rows, Message::Jars))
        .padding([space::HALF, space::ONE])
        .height(Length::Fill)
        .style(theme::sheet);
    let head: Element<'_, Message> = if shared.is_narrow() {
        column![title, buttons].spacing(space::ONE).into()
    } else {
        row![title.width(Length::Fill), buttons].spacing(space::TWO).align_y(Alignment::End).into()
    };
    column![head, list].spacing(space::TWO).padding(if shared.is_narrow() { space::TWO } else { space::THREE }).into()
}

fn name(of: &JarRow) -> Element<'_, Message> {
    let chip = |word| container(widget::small(word)).padding([1.0, 6.0]).style(theme::chip);
    let aside = of.aside.then(|| widget::small("aside"));
    row![widget::fitted(of.name.as_str()), of.lead.then(|| chip("lead")), aside]
        .spacing(space::ONE)
        .align_y(Alignment::Center)
        .into()
}

/// The form.
pub(super) fn sheet<'a>(form: &'a Form, shared: &'a Shared) -> Element<'a, Message> {
    let said = form.said.as_deref().map(|words| widget::caution_line(Mark::Good, words, None));
    let (means, lead) = match &form.meant {
        Some((_, name, lead)) => (name.as_str(), *lead),
        None => ("", false),
    };
    let mut item = field("What is in it", form.item.text())
        .id(Field::Item.id())
        .hint(if form.fixed { "it was weighed with it, so it stays" } else { means })
        .placeholder("a name or reference, e.g. Fen green")
        .error(form.problem(Field::Item, &shared.preferences))
        .on_submit(Message::Form(Change::Enter(Field::Item)));
    if !form.fixed {
        item = item.on_input(|text| Message::Form(Change::Typed(Field::Item, text)));
    }
    let others = (!form.others.is_empty() && !form.fixed).then(|| {
        let others =
            form.others.iter().map(|(id, name)| link(name.as_str()).on_press(Message::Form(Change::Item(*id))).into());
        Row::with_children(std::iter::once(container(widget::small("or")).padding([9.0, 0.0]).into()).chain(others))
            .spacing(space::HALF)
            .wrap()
    });
    let typed = |which: Field, label, text| {
        field(label, text)
            .id(which.id())
            .error(form.problem(which, &shared.preferences))
            .on_input(move |text| Message::Form(Change::Typed(which, text)))
            .on_submit(Message::Form(Change::Enter(which)))
    };
    let label = typed(Field::Label, "Label", form.label.text()).placeholder("e.g. A3-07");
    let tare =
        typed(Field::Tare, "Tare", form.tare.text()).placeholder("e.g. 212.5 g or 7.5 oz").hint("empty, lid and all");
    let lead = lead.then(|| widget::caution_line(Mark::Caution, words::LEAD, Some(words::LEAD_ADVICE.to_owned())));
    let refusal = form.refusal.as_deref().map(|why| {
        widget::caution_line(Mark::Stop, why, Some("Nothing was changed; what you typed is still here.".to_owned()))
    });
    let aside = form.id.is_some().then(|| {
        tick("Set aside: it no longer holds any of it", Chosen::from(form.aside), Some(Message::Form(Change::Aside)))
    });
    let body = column![
        said,
        Element::from(item),
        others,
        row![Element::from(label), Element::from(tare)].spacing(space::TWO),
        aside,
        lead,
        refusal
    ]
    .spacing(space::TWO)
    .padding(iced::padding::right(space::TWO));
    let title = if form.id.is_some() { "Change the jar" } else { "A new jar" };
    modal::sheet(
        title,
        body,
        [
            quiet_button(if form.said.is_some() { "Done" } else { "Leave it" }).on_press(Message::Close).into(),
            primary("Write it down").on_press_maybe((!shared.read_only()).then_some(Message::Save)).into(),
        ],
    )
}
