//! Printing a paper: of what, on what, and the pages as they will be.

use super::draft::Draft;
use super::message::Message;
use super::paint::{self, Slots};
use super::printing::{Printing, Row, Run};
use super::state::State;
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Column, Mark, field, link, listing, panel, panel_with, pick, primary, quiet_button};
use iced::widget::{column, container, responsive, row, scrollable};
use iced::{Alignment, Element, Length};

pub(super) fn page<'a>(
    state: &'a State,
    draft: &'a Draft,
    printing: &'a Printing,
    shared: &'a Shared,
) -> Element<'a, Message> {
    let name = widget::fitted(draft.paper.name.as_str()).strong();
    let head = row![
        link("‹ The paper").on_press(Message::ToPaper),
        column![name, widget::small(printing.summary(draft.paper.kind))].width(Length::Fill),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center);
    let out = printing.out.view(printing.is_ready(), shared).map(Message::Out);
    let choose = column![what(state, printing, shared), on(printing, shared), out].spacing(space::TWO);
    if shared.is_narrow() {
        let seen =
            column![turner(printing), container(pages(printing)).height(420), warnings(printing)].spacing(space::ONE);
        let body = column![head, choose, seen].spacing(space::TWO).padding(space::TWO);
        return scrollable(body).height(Length::Fill).style(theme::scroll).into();
    }
    let choose = scrollable(container(choose).padding(iced::padding::right(space::TWO)))
        .width(Length::FillPortion(5))
        .height(Length::Fill)
        .style(theme::scroll);
    let seen = column![turner(printing), container(pages(printing)).height(Length::Fill), warnings(printing)]
        .spacing(space::ONE)
        .width(Length::FillPortion(6));
    column![head, row![choose, seen].spacing(space::TWO).height(Length::Fill)]
        .spacing(space::TWO)
        .padding(iced::padding::all(space::THREE).left(space::ONE))
        .into()
}

fn what<'a>(state: &'a State, printing: &'a Printing, shared: &'a Shared) -> Element<'a, Message> {
    let columns: Vec<Column<'_, Row, Message>> = vec![
        Column::new("", 20, |row: &Row| {
            let sign = iced::widget::text(row.tick).size(theme::size::BODY).line_height(1.0).font(theme::STRONG);
            container(sign).center(18).style(theme::tag).into()
        })
        .unsorted(),
        Column::words("Of", Length::Fill, |row: &Row| row.words.as_str()).unsorted(),
        Column::figures("Ticket", 80, |row: &Row| row.ticket.as_str()).unsorted(),
    ];
    let list = container(listing::listing(&printing.list, columns, &printing.rows, Message::List))
        .height(listing_height(printing.rows.len()));
    let copies = field("Copies of each", printing.copies.text())
        .id("pinning-copies")
        .error(printing.typed_copies(&shared.preferences).err())
        .figures()
        .width(140)
        .on_input(Message::Copies);
    let tools = row![
        Element::from(copies),
        quiet_button("All").on_press(Message::All(true)),
        quiet_button("None").on_press(Message::All(false)),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::End);
    let count = state.subjects.len();
    panel_with(
        "What is printed",
        format!("{count} in the book; press or Enter ticks"),
        iced::widget::space().width(Length::Shrink),
        column![tools, list].spacing(space::ONE),
    )
}

/// As high as its rows, within bounds.
fn listing_height(rows: usize) -> f32 {
    let rows = u16::try_from(rows).unwrap_or(u16::MAX).clamp(1, 6);
    (f32::from(rows) + 1.5) * listing::ROW_HEIGHT
}

fn on<'a>(printing: &'a Printing, shared: &'a Shared) -> Element<'a, Message> {
    let start = printing.is_on_sheet().then(|| {
        Element::from(
            field("Start at label", printing.start.text())
                .hint("or press a label’s place on the page")
                .id("pinning-start")
                .error(printing.typed_start(&shared.preferences).err())
                .on_input(Message::Start),
        )
    });
    let used = (printing.begun > 1).then(|| {
        let words = match printing.begun {
            2 => "Its label 1 is used up.".to_owned(),
            next => format!("Its labels 1 to {} are used up.", next - 1),
        };
        let fresh = link("A fresh sheet").on_press_maybe((!shared.read_only()).then_some(Message::FreshSheet));
        row![container(widget::small(words)).width(Length::Fill), fresh].align_y(Alignment::Center)
    });
    let note = (!shared.read_only()).then(|| {
        tick("Keep in mind what was printed, and the next free label", Chosen::from(printing.note), Some(Message::Note))
    });
    let dots = printing
        .out
        .printer()
        .map(|printer| widget::small(format!("Symbols are made of whole dots of {}.", printer.name)));
    panel(
        "On what",
        "",
        column![
            pick("Print on", &printing.sheet_names, "a sheet", Some(&printing.sheet), Message::Sheet),
            widget::small("Sheets whose labels are large enough are offered; they are described in Papers."),
            start,
            used,
            dots,
            note,
        ]
        .spacing(space::ONE),
    )
}

fn turner(printing: &Printing) -> Element<'_, Message> {
    let run = printing.run.as_ref();
    let before = run.and_then(|run| run.page.checked_sub(1)).map(Message::Page);
    let after = run.filter(|run| run.page + 1 < run.document.pages.len()).map(|run| Message::Page(run.page + 1));
    let words = match (&printing.laying, run) {
        (Some(laying), _) => format!("laying out … {} %", laying.percent),
        (None, Some(run)) => run.turner.clone(),
        (None, None) => String::new(),
    };
    let cancel = printing.laying.is_some().then(|| quiet_button("Cancel").on_press(Message::StopLaying));
    row![
        quiet_button("‹").on_press_maybe(before),
        container(widget::body(words)).center_x(130),
        quiet_button("›").on_press_maybe(after),
        cancel,
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center)
    .into()
}

fn pages(printing: &Printing) -> Element<'_, Message> {
    let Some(run) = &printing.run else {
        if printing.problem.is_none() && printing.laying.is_none() {
            return container(primary("Show the pages").on_press(Message::Renew)).center(Length::Fill).into();
        }
        let words = printing.problem.as_deref().unwrap_or("The pages are being laid out.");
        let kind = if printing.problem.is_some() { Mark::Stop } else { Mark::Good };
        return container(widget::caution_line(kind, words, None))
            .padding(space::TWO)
            .width(Length::Fill)
            .style(theme::sheet)
            .into();
    };
    let start = printing.start.trimmed().parse().unwrap_or(1);
    let used = printing.begun.saturating_sub(1);
    responsive(move |area| shown(run, start, used, area)).into()
}

fn shown(run: &Run, start: u32, used: u32, area: iced::Size) -> Element<'_, Message> {
    let scale = paint::fitting(&run.outline, area, 8.0);
    let over = (run.page == 0 && !run.slots.is_empty())
        .then(|| paint::slots(Slots { slots: &run.slots, start, used, scale }, &run.outline));
    container(paint::layered(&run.outline, &run.layers, scale, over)).center_x(Length::Fill).into()
}

fn warnings(printing: &Printing) -> Option<Element<'_, Message>> {
    let run = printing.run.as_ref().filter(|run| !run.warnings.is_empty())?;
    let lines = run.warnings.iter().map(|words| {
        row![container(widget::mark(Mark::Caution)).padding([2.0, 0.0]), widget::small(words.as_str())]
            .spacing(space::HALF)
            .into()
    });
    let lines = iced::widget::Column::with_children(lines).spacing(2).width(Length::Fill);
    Some(
        container(scrollable(lines).style(theme::scroll))
            .max_height(140)
            .padding(space::ONE)
            .width(Length::Fill)
            .style(theme::sheet_caution)
            .into(),
    )
}
