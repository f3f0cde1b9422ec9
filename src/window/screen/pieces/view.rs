//! How the list of pieces looks.

use super::rows::Row;
use super::{Message, Span, State};
use crate::window::Shared;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Column, choice, field, listing, primary};
use iced::widget::{Row as Across, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

/// The field a piece is searched in.
pub(super) const FIND: &str = "piece-find";

pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    let Some(pieces) = &state.pieces else {
        return container(column![widget::title("Pieces"), widget::quiet("Looking through the book …")])
            .padding(room)
            .into();
    };
    let span =
        choice::choice("", [(Span::Year, "last twelve months"), (Span::All, "all")], Some(&state.span), Message::Span);
    if pieces.is_empty() {
        let advice = "A piece gets its number when it has passed every step of its batch and is finished. From then on it \
                      knows what it cost, down to the jar and the load.";
        let to = primary("To the batches").on_press(Message::Batches);
        let body = column![widget::title("Pieces"), span, widget::empty("No finished pieces", advice, Some(to.into()))];
        return container(body.spacing(space::ONE)).padding(room).into();
    }
    let title = column![widget::title("Pieces"), widget::small(state.summary.as_str())];
    let find: Element<'a, Message> = field("", state.wanted.text())
        .id(FIND)
        .placeholder("number, design, batch 4, second")
        .on_input(Message::Find)
        .on_submit(Message::OpenFirst)
        .width(320)
        .into();
    let tools = Across::with_children([find, span]).spacing(space::TWO).align_y(Alignment::Center).wrap();
    let none = state.rows.is_empty().then(|| widget::quiet("None is like what is typed."));
    let sheet = container(list(state, shared)).padding([space::HALF, space::ONE]).style(theme::sheet);
    if shared.is_narrow() {
        let body = column![title, tools, none, sheet.height(480)].spacing(space::ONE).padding(room);
        return scrollable(body).style(theme::scroll).into();
    }
    column![title, tools, none, sheet.height(Length::Fill)].spacing(space::ONE).padding(room).into()
}

fn list<'a>(state: &'a State, shared: &Shared) -> Element<'a, Message> {
    let mut columns: Vec<Column<'_, Row, Message>> = vec![
        Column::new("Number", Length::FillPortion(3), number),
        Column::words("Made", Length::FillPortion(4), |row: &Row| row.made.as_str()),
    ];
    if !shared.is_narrow() {
        columns.push(Column::words("Finished", 130, |row: &Row| row.day.as_str()));
        columns.push(Column::figures("Ticket", 100, |row: &Row| row.ticket.as_str()));
    }
    listing::listing(&state.list, columns, &state.rows, Message::List)
}

fn number(of: &Row) -> Element<'_, Message> {
    let second = of.second.then(|| container(widget::small("second")).padding([1.0, 6.0]).style(theme::chip));
    row![widget::fitted(of.number.as_str()).strong(), second].spacing(space::ONE).align_y(Alignment::Center).into()
}
