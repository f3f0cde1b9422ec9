//! How the list of designs is laid out.

use super::list::{DesignList, Row};
use super::room::Message;
use crate::window::Shared;
use crate::window::draw::outline::Outline;
use crate::window::theme::{self, Chosen, size, space};
use crate::window::widget::choice::tick;
use crate::window::widget::listing::{Column, listing};
use crate::window::widget::{self, Mark, mark, prose};
use iced::widget::{self as iced_widget, canvas, column, container, row, text};
use iced::{Alignment, Element, Length};

/// The id of the search field.
pub const SEARCH: &str = "design-search";

/// The list.
pub fn view<'a>(list: &'a DesignList, shared: &'a Shared) -> Element<'a, Message> {
    let narrow = shared.is_narrow();
    let writes = |message: Message| (!shared.read_only()).then_some(message);
    let head = row![
        prose::title("Designs"),
        prose::quiet(list.count.as_str()).width(Length::Fill),
        widget::link("Read from a file").on_press_maybe(writes(Message::AskImport)),
        widget::primary("New design").id("new-design").on_press_maybe(writes(Message::AskNew)),
    ]
    .spacing(space::TWO)
    .align_y(Alignment::Center);
    let body: Element<'a, Message> = if list.is_empty() {
        let new: Element<'a, Message> = widget::primary("New design").on_press_maybe(writes(Message::AskNew)).into();
        widget::empty(
            "No designs yet",
            "A design is written down as it is made: blank, steps, coats, firings. It begins with a sensible route.",
            Some(new),
        )
    } else {
        let search = widget::field("", list.search.as_str())
            .id(SEARCH)
            .placeholder("Search by name or code")
            .on_input(Message::Search)
            .width(280);
        let chosen = list.selected();
        let with = |message: Message| chosen.map(|_| message);
        let retired = list.listing.selected().and_then(|place| list.rows.get(place)).is_some_and(|row| row.retired);
        let aside = tick("Those set aside too", Chosen::from(list.retired), Some(Message::ShowRetired(!list.retired)));
        let find = row![Element::from(search), aside].spacing(space::ONE).align_y(Alignment::Center);
        let tools = row![
            widget::link("Duplicate").on_press_maybe(with(Message::AskDuplicate).and_then(writes)),
            widget::link("Write to a file").on_press_maybe(with(Message::AskExport)),
            widget::link(if retired { "Take up again" } else { "Set aside" })
                .on_press_maybe(with(Message::Retire(!retired)).and_then(writes)),
            widget::quiet_button("Open").on_press_maybe(chosen.map(Message::OpenDesign)),
        ]
        .spacing(space::ONE)
        .align_y(Alignment::Center);
        let tools: Element<'a, Message> = if narrow {
            column![find, tools.wrap()].spacing(space::HALF).into()
        } else {
            row![find, iced_widget::space().width(Length::Fill), tools].align_y(Alignment::Center).into()
        };
        let none = list.rows.is_empty().then(|| prose::quiet("No design has that in its name or code."));
        column![tools, none, listing(&list.listing, columns(narrow), &list.rows, Message::List)]
            .spacing(space::ONE)
            .height(Length::Fill)
            .into()
    };
    column![head, body].spacing(space::TWO).padding(space::THREE).height(Length::Fill).into()
}

fn columns<'a>(narrow: bool) -> Vec<Column<'a, Row, Message>> {
    let mut columns = vec![
        Column::new("", 44, |row: &'a Row| picture(row)).unsorted(),
        Column::words("Name", Length::FillPortion(5), |row: &'a Row| row.name.as_str()),
        Column::words("Code", 88, |row: &'a Row| row.code.as_str()),
    ];
    if !narrow {
        columns.push(Column::figures("Firings", 64, |row: &'a Row| row.firings.as_str()));
    }
    columns.push(Column::figures("Full cost", 72, |row: &'a Row| row.full.as_str()));
    if !narrow {
        columns.push(Column::figures("Tickets", Length::FillPortion(3), |row: &'a Row| row.tickets.as_str()));
    }
    columns.push(Column::new("Look at", Length::FillPortion(2), |row: &'a Row| marks(row)));
    columns
}

fn picture(row: &Row) -> Element<'_, Message> {
    canvas(Outline::new(&row.shape, row.version, theme::swatch(row.colour))).width(36).height(32).into()
}

fn marks(found: &Row) -> Element<'_, Message> {
    let ink = match found.mark {
        Some(Mark::Stop) => theme::stop,
        Some(Mark::Caution) => theme::caution,
        _ => theme::quiet,
    };
    let words = text(found.mark_word.as_str()).size(size::SMALL).style(ink).wrapping(text::Wrapping::None);
    container(row![found.mark.map(mark), words].spacing(space::HALF).align_y(Alignment::Center)).into()
}
