//! How the list of papers looks, and the paper in hand.

use super::rows::{Row, kind_words};
use super::sheet_view::turned;
use super::{Message, Page, State};
use crate::studio::BookNumberedPaper;
use crate::window::Shared;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Column, field, link, listing, panel, primary, quiet_button};
use iced::widget::{column, container, row, scrollable};
use iced::{Alignment, Element, Length};

/// The field a paper is searched in.
pub(super) const FIND: &str = "shop-find";

/// Said where there is no page to show.
const NONE_IN_HAND: &str = "Choose a paper on the left to see its pages.";

pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    match (state.page, state.in_hand()) {
        (Page::Paper, Some(paper)) => in_hand(state, paper, shared, room),
        _ => list_page(state, shared, room),
    }
}

fn list_page<'a>(state: &'a State, shared: &'a Shared, room: f32) -> Element<'a, Message> {
    let back = link("‹ Papers").on_press(Message::Papers);
    let Some(issued) = &state.issued else {
        return container(column![back, widget::title("Shop papers"), widget::quiet("Looking through the book …")])
            .padding(room)
            .into();
    };
    let can = (!shared.read_only()).then_some(Message::New);
    let begun = state.form.as_ref().is_some_and(super::form::Form::is_begun);
    let write = primary(if begun { "Go on writing" } else { "Write a paper" }).on_press_maybe(can);
    let fair = quiet_button("Price list for a fair").on_press(Message::Page(Page::Fair));
    if issued.is_empty() {
        let advice = "Order forms, invoices, consignment notes and certificates get their number here, one after the \
                      other for each kind, and stay in the book as they went out. Ctrl+N writes one.";
        let buttons = row![write, fair].spacing(space::ONE).wrap();
        let none = widget::empty("No paper went out yet", advice, Some(buttons.into()));
        return container(column![back, widget::title("Shop papers"), none].spacing(space::ONE)).padding(room).into();
    }
    let title = column![widget::title("Shop papers"), widget::small(state.summary.as_str())];
    let buttons = row![fair, write].spacing(space::ONE);
    let find: Element<'a, Message> = field("", state.wanted.text())
        .id(FIND)
        .placeholder("number, shop, piece, invoice")
        .on_input(Message::Find)
        .on_submit(Message::OpenFirst)
        .into();
    let none = state.rows.is_empty().then(|| widget::quiet("None is like what is typed."));
    let sheet = container(list(state, shared)).padding([space::HALF, space::ONE]).style(theme::sheet);
    if shared.is_narrow() {
        let body =
            column![back, title, buttons.wrap(), find, none, sheet.height(480)].spacing(space::ONE).padding(room);
        return scrollable(body).style(theme::scroll).into();
    }
    let head = row![title.width(Length::Fill), buttons].spacing(space::TWO).align_y(Alignment::Center);
    let left = column![find, none, sheet.height(Length::Fill)].spacing(space::ONE).width(Length::FillPortion(7));
    let open = state.in_hand().map(|paper| {
        let words = format!("{} {}", kind_words(paper.kind), paper.number);
        row![
            widget::strong(words).width(Length::Fill),
            quiet_button("Save, look at or print it").on_press(Message::Page(Page::Paper))
        ]
        .spacing(space::ONE)
        .align_y(Alignment::Center)
    });
    let right = column![open, turned(&state.easel, state.size, NONE_IN_HAND, Length::Fill)]
        .spacing(space::ONE)
        .width(Length::FillPortion(5));
    column![back, head, row![left, right].spacing(space::THREE).height(Length::Fill)]
        .spacing(space::ONE)
        .padding(room)
        .into()
}

fn list<'a>(state: &'a State, shared: &Shared) -> Element<'a, Message> {
    let narrow = shared.is_narrow();
    let mut columns: Vec<Column<'_, Row, Message>> = vec![
        Column::words("Paper", if narrow { Length::Fill } else { Length::Fixed(150.0) }, |row: &Row| row.name.as_str()),
        Column::words("Date", 84, |row: &Row| row.date.as_str()),
    ];
    if !narrow {
        columns.push(Column::words("For", Length::Fill, |row: &Row| row.recipient.as_str()));
    }
    columns.push(Column::figures("Comes to", 96, |row: &Row| row.sum.as_str()));
    listing::listing(&state.list, columns, &state.rows, Message::List)
}

fn in_hand<'a>(state: &'a State, paper: &'a BookNumberedPaper, shared: &'a Shared, room: f32) -> Element<'a, Message> {
    let back = link("‹ Shop papers").on_press(Message::Page(Page::List));
    let title = widget::title(format!("{} {}", kind_words(paper.kind), paper.number));
    let recipient = paper.paper.recipient.lines().next().unwrap_or_default().to_owned();
    let told = std::iter::once(paper.date.to_string())
        .chain((!recipient.is_empty()).then_some(recipient))
        .chain(state.rows.iter().find(|row| row.id == paper.id).map(|row| row.sum.clone()))
        .filter(|told| !told.is_empty())
        .collect::<Vec<_>>()
        .join(" · ");
    let kept = "What it says is kept as it went out: who, what, how many, at what price, when. How it looks is not: it is \
                laid out anew each time, and a certificate shows the photo its design has now.";
    let about = panel("As it went out", "", column![widget::body(told), widget::small(kept)].spacing(space::ONE));
    let out = state.out.view(state.is_ready(), shared).map(Message::Out);
    if shared.is_narrow() {
        let pages = turned(&state.easel, state.size, "", Length::Fixed(520.0));
        let body = column![back, title, about, pages, out].spacing(space::TWO).padding(room);
        return scrollable(body).style(theme::scroll).into();
    }
    let side = scrollable(column![about, out].spacing(space::TWO)).spacing(space::ONE).style(theme::scroll);
    let pages = container(turned(&state.easel, state.size, "", Length::Fill)).width(Length::FillPortion(6));
    column![
        back,
        title,
        row![pages, container(side).width(Length::FillPortion(5))].spacing(space::THREE).height(Length::Fill)
    ]
    .spacing(space::ONE)
    .padding(room)
    .into()
}
