//! How the order in hand looks: its lines with what came of them, the files kept with it.

use super::detail::{Detail, DetailLine, FileRow};
use super::files::Saving;
use super::{Message, Page, State, words};
use crate::window::Shared;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Mark, link, modal, panel, path_field, primary, quiet_button};
use iced::widget::{Column, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

pub(super) fn page<'a>(state: &'a State, detail: &'a Detail, shared: &'a Shared) -> Element<'a, Message> {
    let can = !shared.read_only();
    let receive = detail.open.then(|| primary("Receive what came").on_press_maybe(can.then_some(Message::Receive)));
    let buttons =
        row![quiet_button("Change it").on_press_maybe(can.then_some(Message::Edit)), receive].spacing(space::ONE);
    let title = column![widget::title(detail.title.as_str()), widget::small(detail.sentence.as_str())];
    let back = link("‹ Orders").on_press(Message::Page(Page::List));
    let head: Element<'_, Message> = if shared.is_narrow() {
        column![back, title, buttons].spacing(space::ONE).into()
    } else {
        let line = row![title.width(Length::Fill), buttons].spacing(space::TWO).align_y(Alignment::Center);
        column![back, line].spacing(space::HALF).into()
    };
    let lead =
        detail.lead.then(|| widget::caution_line(Mark::Caution, words::LEAD, Some(words::LEAD_ADVICE.to_owned())));
    let note = (!detail.note.is_empty()).then(|| panel("Note", "", widget::body(detail.note.as_str())));
    let body = column![head, lead, lines(detail), files(state, detail, shared), note].spacing(space::TWO);
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    scrollable(container(body).padding(room)).height(Length::Fill).style(theme::scroll).into()
}

fn lines(detail: &Detail) -> Element<'_, Message> {
    let all = detail.lines.iter().map(line);
    panel(
        "Lines",
        "each with what it costs landed, freight, duty and discount in it",
        column![
            Column::with_children(all).spacing(space::TWO),
            iced::widget::rule::horizontal(1).style(theme::hairline),
            container(widget::strong(detail.sum.as_str())).align_right(Length::Fill),
        ]
        .spacing(space::ONE + space::HALF),
    )
}

fn line(of: &DetailLine) -> Element<'_, Message> {
    let lead = of.lead.then(|| container(widget::small("lead")).padding([1.0, 6.0]).style(theme::chip));
    let came = of.came.iter().map(|came| widget::small(came.as_str()).into());
    let to_come = (!of.to_come.is_empty()).then(|| widget::body(of.to_come.as_str()).style(theme::accent));
    let how = (!of.how.is_empty()).then(|| widget::small(of.how.as_str()));
    let name = row![widget::strong(of.name.as_str()), lead, widget::body(of.ordered.as_str())]
        .spacing(space::ONE)
        .align_y(Alignment::Center);
    column![
        row![container(name.wrap()).width(Length::Fill), widget::amount(of.landed.as_str()).font(theme::STRONG)]
            .spacing(space::TWO),
        how,
        Column::with_children(came),
        to_come,
    ]
    .into()
}

fn files<'a>(state: &'a State, detail: &'a Detail, shared: &Shared) -> Element<'a, Message> {
    let can = !shared.read_only();
    let kept = detail.files.iter().map(|file| kept(file, can));
    let none = detail.files.is_empty().then(|| widget::quiet("No file is kept with this order yet."));
    let add = can.then(|| {
        let path = path_field(
            "Keep a file with it",
            state.files.path.text(),
            state.files.problem.clone(),
            Message::FilePath,
            Some(Message::Attach),
            Some(Message::BrowseFile),
        );
        let keep = quiet_button("Keep it").on_press(Message::Attach);
        row![container(path).width(Length::Fill), keep].spacing(space::ONE).align_y(Alignment::End)
    });
    panel(
        "Files",
        "the invoice, a photo; up to 5 MB each, kept in the book",
        column![Column::with_children(kept), none, add].spacing(space::ONE + space::HALF),
    )
}

fn kept(file: &FileRow, can: bool) -> Element<'_, Message> {
    let words = column![widget::body(file.name.as_str()), widget::small(file.words.as_str())];
    row![
        words.width(Length::Fill),
        link("Save a copy").on_press(Message::SaveOut(file.id)),
        link("Remove").on_press_maybe(can.then_some(Message::Detach(file.id))),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center)
    .into()
}

/// Where a copy of a kept file goes.
pub(super) fn saving(saving: &Saving) -> Element<'_, Message> {
    let path = path_field(
        "Where it goes",
        saving.path.text(),
        saving.problem.clone(),
        Message::SavePath,
        Some(Message::Write),
        Some(Message::BrowseSave),
    );
    modal::sheet(
        format!("Save a copy of {}", saving.name),
        path,
        [quiet_button("Leave it").on_press(Message::Close).into(), primary("Save it").on_press(Message::Write).into()],
    )
}
