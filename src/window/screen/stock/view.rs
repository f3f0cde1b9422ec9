//! How the list of stock and the value on a day look.

use super::rows::Row;
use super::worth::{Change, WorthRow};
use super::{Message, Page, State, item_view, words};
use crate::studio::{ItemKind, ValuationMethod};
use crate::window::Shared;
use crate::window::shortcut::RoomName;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Column, Mark, choice, field, link, listing, primary, quiet_button};
use iced::widget::{column, container, row, scrollable};
use iced::{Alignment, Element, Length};

/// The list, with the item in hand below it.
pub(super) fn list_page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let can_add = (!shared.read_only()).then_some(Message::New);
    if state.worded.is_empty() {
        let empty = widget::empty(
            "Nothing on the shelf yet",
            "Add the enamels, blanks, sheet, wire, findings and boxes you keep; then receive each with what it cost, \
             landed. Ctrl+N adds one. A list you keep elsewhere comes in through “In and out”.",
            Some(primary("Add an item").on_press_maybe(can_add).into()),
        );
        return container(column![widget::title("Stock"), rooms(), empty].spacing(space::TWO))
            .padding(space::THREE)
            .into();
    }
    let buttons = row![
        quiet_button("Value on a day").on_press(Message::Page(Page::Worth)),
        primary("Add an item").on_press_maybe(can_add),
    ]
    .spacing(space::ONE);
    let title = column![widget::title("Stock"), widget::small(state.summary.as_str())].width(Length::Fill);
    let sheet = container(list(state, shared)).padding([space::HALF, space::ONE]).style(theme::sheet);
    let below = item_view::below(state, shared);
    if shared.is_narrow() {
        let body = column![title, buttons, rooms(), filters(state), ticks(state), sheet.height(420), below]
            .spacing(space::TWO)
            .padding(space::TWO);
        return scrollable(body).style(theme::scroll).into();
    }
    let head = row![title, ticks(state), buttons].spacing(space::TWO).align_y(Alignment::Center);
    column![head, rooms(), filters(state), sheet.height(Length::Fill), below]
        .spacing(space::ONE + space::HALF)
        .padding(space::THREE)
        .into()
}

/// The ways to the other rooms of the stock.
fn rooms<'a>() -> Element<'a, Message> {
    iced::widget::Row::with_children(
        RoomName::UNDER_STOCK.map(|room| link(room.words()).on_press(Message::Enter(room)).into()),
    )
    .spacing(space::ONE)
    .wrap()
    .into()
}

/// Which items are left out.
fn ticks(state: &State) -> Element<'_, Message> {
    row![
        tick("low only", Chosen::from(state.filter.low), Some(Message::LowOnly)),
        tick("set aside too", Chosen::from(state.filter.aside), Some(Message::Aside)),
    ]
    .spacing(space::ONE)
    .into()
}

fn filters(state: &State) -> Element<'_, Message> {
    let find = field("Find", state.filter.text.as_str())
        .placeholder("name, reference, maker, shelf")
        .id("stock-find")
        .width(230)
        .on_input(Message::Find);
    let kinds = std::iter::once((None, "all")).chain(ItemKind::ALL.into_iter().map(|kind| (Some(kind), kind.name())));
    iced::widget::Row::with_children([find.into(), choice("Kind", kinds, Some(&state.filter.kind), Message::Kind)])
        .spacing(space::TWO)
        .wrap()
        .vertical_spacing(space::ONE)
        .into()
}

fn list<'a>(state: &'a State, shared: &Shared) -> Element<'a, Message> {
    if state.shown.is_empty() {
        return container(widget::quiet("No item is like that. Take a word out of “Find”, or choose “all”."))
            .padding(space::TWO)
            .into();
    }
    let mut columns: Vec<Column<'_, Row, Message>> = vec![
        Column::new("Item", Length::FillPortion(3), name),
        Column::words("Reference", 84, |row: &Row| row.reference.as_str()),
        Column::figures("On hand", 96, |row: &Row| row.on_hand.as_str()),
        Column::new("Look", 124, look),
    ];
    if !shared.is_narrow() {
        columns.push(Column::words("Kind", 92, |row: &Row| row.kind));
        columns.push(Column::figures("Value", 92, |row: &Row| row.value.as_str()));
        columns.push(Column::figures("Unit price", 108, |row: &Row| row.price.as_str()));
        columns.push(Column::figures("Reorder at", 96, |row: &Row| row.level.as_str()));
    }
    listing::listing(&state.list, columns, &state.shown, Message::List)
}

fn name(of: &Row) -> Element<'_, Message> {
    let swatch = of.swatch.map(|color| widget::mark(Mark::Swatch(color)));
    let gap = of.swatch.is_none().then(|| iced::widget::space().width(14));
    row![swatch, gap, widget::fitted(of.name.as_str())].spacing(space::ONE).align_y(Alignment::Center).into()
}

fn look(of: &Row) -> Element<'_, Message> {
    let low = of.low.then(|| {
        row![widget::mark(Mark::Caution), widget::amount("low").style(theme::caution)]
            .spacing(space::HALF)
            .align_y(Alignment::Center)
    });
    let lead = of.lead.then(|| container(widget::small("lead")).padding([1.0, 6.0]).style(theme::chip));
    let aside = of.aside.then(|| widget::small("aside"));
    row![low, lead, aside].spacing(space::ONE).align_y(Alignment::Center).into()
}

/// What the stock was worth on a day.
pub(super) fn worth_page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let worth = &state.worth;
    let head = column![
        link("All stock").on_press(Message::Page(Page::List)),
        widget::title("Value on a day"),
        widget::small(
            "By the movements dated up to the end of that day. Your accountant decides which method and day count."
        ),
    ]
    .spacing(space::HALF);
    let date = field("Day", worth.date.text())
        .hint("year-month-day")
        .id("stock-worth-date")
        .error(worth.problem.as_deref())
        .width(220)
        .on_input(|text| Message::Worth(Change::Date(text)))
        .on_submit(Message::Worth(Change::Ask));
    let methods = choice(
        "Method",
        [ValuationMethod::Fifo, ValuationMethod::Average].map(|method| (method, words::method(method))),
        Some(&worth.method),
        |method| Message::Worth(Change::Method(method)),
    );
    let ask = container(primary("Show").on_press(Message::Worth(Change::Ask))).padding(iced::padding::top(21));
    let asked = iced::widget::Row::with_children([date.into(), methods, ask.into()])
        .spacing(space::TWO)
        .wrap()
        .vertical_spacing(space::ONE);
    let answer: Element<'_, Message> = match &worth.answer {
        Some((sentence, rows)) => column![
            widget::large(sentence.as_str()),
            container(listing::listing(&worth.list, worth_columns(), rows, |event| Message::Worth(Change::List(
                event
            ))))
            .padding([space::HALF, space::ONE])
            .height(if shared.is_narrow() { Length::Fixed(480.0) } else { Length::Fill })
            .style(theme::sheet)
        ]
        .spacing(space::TWO)
        .into(),
        None => widget::quiet("Type a day and press Enter.").into(),
    };
    let page = column![head, asked, answer].spacing(space::TWO);
    if shared.is_narrow() {
        return scrollable(page.padding(space::TWO)).style(theme::scroll).into();
    }
    page.padding(space::THREE).into()
}

fn worth_columns<'a>() -> Vec<Column<'a, WorthRow, Message>> {
    vec![
        Column::words("Reference", 100, |row: &WorthRow| row.reference.as_str()).unsorted(),
        Column::words("Item", Length::Fill, |row: &WorthRow| row.name.as_str()).unsorted(),
        Column::figures("On hand", 120, |row: &WorthRow| row.quantity.as_str()).unsorted(),
        Column::figures("Value", 120, |row: &WorthRow| row.value.as_str()).unsorted(),
    ]
}
