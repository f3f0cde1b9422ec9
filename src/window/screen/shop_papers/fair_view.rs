//! How the price list of a fair is put together: what it says, which designs, and beside it the page.

use super::fair::{Change, Fair, Field, Row};
use super::sheet_view::turned;
use super::{Message, Page, State};
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Column, Mark, choice, field, link, listing, panel, pick, quiet_button};
use iced::widget::{Column as Stack, Row as Across, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

/// Said where nothing can be shown.
const EMPTY: &str = "Nothing is on the list: tick designs that have a ticket.";

pub(super) fn page<'a>(state: &'a State, fair: &'a Fair, shared: &'a Shared) -> Element<'a, Message> {
    let back = link("‹ Shop papers").on_press(Message::Page(Page::List));
    let count = if fair.count == 1 { "1 piece".to_owned() } else { format!("{} pieces", fair.count) };
    let title = column![widget::title("Price list for a fair"), widget::small(count)];
    let without = (!fair.without.is_empty()).then(|| {
        let words = format!("{} has no ticket and is left out", fair.without.join(", "));
        widget::caution_line(Mark::Caution, words, Some("Accept one in Prices, or choose another channel.".to_owned()))
    });
    let out = state.out.view(state.is_ready(), shared).map(Message::Out);
    let parts = column![says(state, fair, shared), designs(fair), without, out].spacing(space::TWO);
    if shared.is_narrow() {
        let pages = turned(&state.easel, state.size, EMPTY, Length::Fixed(520.0));
        let body = column![back, title, parts, pages].spacing(space::TWO).padding(space::TWO);
        return scrollable(body).style(theme::scroll).into();
    }
    let left = scrollable(container(parts).padding(iced::padding::right(space::TWO)))
        .height(Length::Fill)
        .style(theme::scroll);
    let right = container(turned(&state.easel, state.size, EMPTY, Length::Fill)).width(Length::FillPortion(5));
    let both = row![container(left).width(Length::FillPortion(6)), right].spacing(space::TWO).height(Length::Fill);
    column![back, title, both].spacing(space::ONE).padding(space::THREE).into()
}

fn says<'a>(state: &'a State, fair: &'a Fair, shared: &'a Shared) -> Element<'a, Message> {
    let typed = |which: Field, label, value: &'a str, id: &'static str| {
        field(label, value).id(id).on_input(move |text| Message::Fair(Change::Typed(which, text)))
    };
    let beside = |parts: Vec<Element<'a, Message>>| -> Element<'a, Message> {
        if shared.is_narrow() {
            Stack::with_children(parts).spacing(space::ONE + space::HALF).into()
        } else {
            Across::with_children(parts).spacing(space::TWO).into()
        }
    };
    let named = fair.language.name().to_owned();
    let channels = state.channels.iter().map(|(id, name)| (id.clone(), name.as_str()));
    let first = beside(vec![
        typed(Field::Fair, "The fair", fair.fair.text(), "fair-name").placeholder("its name").into(),
        typed(Field::Date, "Prices hold from", fair.date.text(), "fair-date")
            .hint("year-month-day")
            .error(fair.day().err())
            .into(),
    ]);
    let second = beside(vec![
        pick("Language", &state.languages, "a language", Some(&named), |name| Message::Fair(Change::Language(name))),
        typed(Field::Tax, "Tax in the prices", fair.tax.text(), "fair-tax").placeholder("its name, e.g. VAT").into(),
    ]);
    let photos = tick(
        "Photos of designs that have one, else their outline",
        Chosen::from(fair.with_photos),
        Some(Message::Fair(Change::Photos)),
    );
    let channel = choice("Tickets of", channels, Some(&fair.channel), |id| Message::Fair(Change::Channel(id)));
    panel("What it says", "", column![first, second, channel, photos].spacing(space::ONE + space::HALF))
}

fn designs<'a>(fair: &'a Fair) -> Element<'a, Message> {
    let find = field("", fair.wanted.text())
        .placeholder("name or code")
        .id("fair-find")
        .width(Length::Fill)
        .on_input(|text| Message::Fair(Change::Typed(Field::Find, text)));
    let tools = row![
        Element::from(find),
        quiet_button("All").on_press(Message::Fair(Change::All)),
        quiet_button("None").on_press(Message::Fair(Change::Nothing)),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::End);
    let columns: Vec<Column<'_, Row, Message>> = vec![
        Column::new("", 20, |row: &Row| mark(row.tick)).unsorted(),
        Column::words("Design", Length::FillPortion(4), |row: &Row| row.name.as_str()).unsorted(),
        Column::words("Code", 90, |row: &Row| row.code.as_str()).unsorted(),
        Column::words("Picture", 60, |row: &Row| row.photo).unsorted(),
        Column::figures("Ticket", 80, |row: &Row| row.ticket.as_str()).unsorted(),
    ];
    let list = container(listing::listing(&fair.list, columns, &fair.rows, Message::FairList)).height(286);
    panel("Designs", "press or Enter ticks; × is on the list", column![tools, list].spacing(space::ONE))
}

fn mark<'a>(sign: &'a str) -> Element<'a, Message> {
    let sign = iced::widget::text(sign).size(theme::size::BODY).line_height(1.0).font(theme::STRONG);
    container(sign).center(18).style(theme::tag).into()
}
