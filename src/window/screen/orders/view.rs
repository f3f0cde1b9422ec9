//! How the list of orders looks.

use super::rows::Row;
use super::{Message, State};
use crate::window::Shared;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Column, link, listing, primary};
use iced::widget::{column, container, row, scrollable};
use iced::{Alignment, Element, Length};

pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let can_add = (!shared.read_only()).then_some(Message::New);
    let back = link("‹ Stock").on_press(Message::Stock);
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    if state.orders.is_none() {
        return container(column![back, widget::title("Orders"), widget::quiet("Looking through the book …")])
            .padding(room)
            .into();
    }
    if state.rows.is_empty() {
        let advice = "Write an order down when you place it or when its invoice comes: freight, duty and discount are \
                      spread over its lines, so that every jar and blank has its true cost. Ctrl+N writes one down.";
        let add = primary("Write an order down").on_press_maybe(can_add);
        let body = column![back, widget::title("Orders"), widget::empty("No orders yet", advice, Some(add.into()))];
        return container(body.spacing(space::ONE)).padding(room).into();
    }
    let title = column![widget::title("Orders"), widget::small(state.summary.as_str())].width(Length::Fill);
    let add = primary("Write an order down").on_press_maybe(can_add);
    let sheet = container(list(state, shared)).padding([space::HALF, space::ONE]).style(theme::sheet);
    if shared.is_narrow() {
        let body = column![back, title, add, sheet.height(480)].spacing(space::ONE).padding(room);
        return scrollable(body).style(theme::scroll).into();
    }
    let head = row![title, add].spacing(space::TWO).align_y(Alignment::Center);
    column![back, head, sheet.height(Length::Fill)].spacing(space::ONE).padding(room).into()
}

fn list<'a>(state: &'a State, shared: &Shared) -> Element<'a, Message> {
    let mut columns: Vec<Column<'_, Row, Message>> = vec![
        Column::new("Order", Length::FillPortion(3), name),
        Column::words("Date", 100, |row: &Row| row.date.as_str()),
        Column::figures("Landed", 110, |row: &Row| row.landed.as_str()),
    ];
    if !shared.is_narrow() {
        columns
            .push(Column::words("Still to come", Length::FillPortion(4), |row: &Row| row.to_come.as_str()).unsorted());
    }
    listing::listing(&state.list, columns, &state.rows, Message::List)
}

fn name(of: &Row) -> Element<'_, Message> {
    let name = if of.open { widget::fitted(of.name.as_str()).strong() } else { widget::fitted(of.name.as_str()) };
    let lead = of.lead.then(|| container(widget::small("lead")).padding([1.0, 6.0]).style(theme::chip));
    let open = of.open.then(|| widget::small("open"));
    row![lead, open, name].spacing(space::ONE).align_y(Alignment::Center).into()
}
