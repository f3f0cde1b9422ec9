//! How the list of batches looks.

use super::rows::Row;
use super::{Message, State};
use crate::studio::BatchState;
use crate::window::Shared;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Column, choice, listing, primary};
use iced::widget::{column, container, row, scrollable};
use iced::{Alignment, Element, Length};

pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let can_add = (!shared.read_only()).then_some(Message::New);
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    let Some(heads) = &state.heads else {
        return container(column![widget::title("Batches"), widget::quiet("Looking through the book …")])
            .padding(room)
            .into();
    };
    if heads.is_empty() {
        let advice = "A batch is some pieces of a design on their way through its route: stock is taken at the step that \
                      uses it, firings are logged, and each finished piece knows what it cost. A commission is a batch \
                      of one. Ctrl+N starts one.";
        let add = primary("Start a batch").on_press_maybe(can_add);
        let body = column![widget::title("Batches"), widget::empty("No batches yet", advice, Some(add.into()))];
        return container(body.spacing(space::ONE)).padding(room).into();
    }
    let title = column![widget::title("Batches"), widget::small(state.summary.as_str())].width(Length::Fill);
    let add = primary("Start a batch").on_press_maybe(can_add);
    let shown = choice::choice(
        "",
        [
            (None, "all"),
            (Some(BatchState::Open), "at work"),
            (Some(BatchState::Finished), "finished"),
            (Some(BatchState::Abandoned), "abandoned"),
        ],
        Some(&state.shown),
        Message::Show,
    );
    let none = state.rows.is_empty().then(|| widget::quiet("None of these."));
    let sheet = container(list(state, shared)).padding([space::HALF, space::ONE]).style(theme::sheet);
    if shared.is_narrow() {
        let body = column![title, add, shown, none, sheet.height(480)].spacing(space::ONE).padding(room);
        return scrollable(body).style(theme::scroll).into();
    }
    let head = row![title, add].spacing(space::TWO).align_y(Alignment::Center);
    column![head, shown, none, sheet.height(Length::Fill)].spacing(space::ONE).padding(room).into()
}

fn list<'a>(state: &'a State, shared: &Shared) -> Element<'a, Message> {
    let mut columns: Vec<Column<'_, Row, Message>> = vec![
        Column::new("Batch", Length::FillPortion(4), name),
        Column::words("Begun", 130, |row: &Row| row.day.as_str()),
        Column::figures("Pieces", 140, |row: &Row| row.pieces.as_str()),
    ];
    if !shared.is_narrow() {
        columns.push(Column::words("", 110, |row: &Row| row.state).unsorted());
    }
    listing::listing(&state.list, columns, &state.rows, Message::List)
}

fn name(of: &Row) -> Element<'_, Message> {
    row![widget::fitted(of.name.as_str()).strong(), widget::small(of.code.as_str())]
        .spacing(space::ONE)
        .align_y(Alignment::Center)
        .into()
}
