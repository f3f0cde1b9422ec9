//! How the log of loads looks, and the page of one.

use super::log::{Page, Piece, Row};
use super::{Message, State, loading_view, words};
use crate::window::Shared;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Column, Mark, link, listing, panel, panel_with, primary, quiet_button};
use iced::widget::{column, container, row, scrollable};
use iced::{Alignment, Element, Length};

/// The log.
pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    let head = loading_view::head(state, shared, "Kiln log", state.log_summary.as_str());
    let write = quiet_button("Write down a load that was fired")
        .on_press_maybe((!shared.read_only()).then_some(Message::LogOne));
    let earlier = link("Look further back").on_press(Message::Earlier);
    let buttons = words::buttons([write.into(), earlier.into()]);
    if state.loads.is_none() {
        return container(column![head, widget::quiet("Looking through the book …")].spacing(space::TWO))
            .padding(room)
            .into();
    }
    if state.rows.is_empty() {
        let advice = "Loads write themselves down when their door is opened. One that was fired without the timer can \
                      be written down by hand.";
        let body = column![head, buttons, widget::empty("No load in these days", advice, None)];
        return container(body.spacing(space::TWO)).padding(room).into();
    }
    let sheet = container(list(state, shared)).padding([space::HALF, space::ONE]).style(theme::sheet);
    if shared.is_narrow() {
        let body = column![head, buttons, sheet.height(440)].spacing(space::TWO).padding(room);
        return scrollable(body).style(theme::scroll).into();
    }
    column![head, buttons, sheet.height(Length::Fill)].spacing(space::ONE + space::HALF).padding(room).into()
}

fn list<'a>(state: &'a State, shared: &Shared) -> Element<'a, Message> {
    let mut columns: Vec<Column<'_, Row, Message>> = vec![
        Column::words("Door closed", 150, |row: &Row| row.when.as_str()),
        Column::new("What came of it", Length::FillPortion(3), came).unsorted(),
        Column::new("Heat", 92, |row: &Row| words::heat_chip(row.heat.as_str(), row.celsius)),
    ];
    if !shared.is_narrow() {
        columns.push(Column::figures("In the heat", 100, |row: &Row| row.minutes.as_str()).unsorted());
        columns.push(Column::words("Kiln", Length::FillPortion(2), |row: &Row| row.kiln.as_str()).unsorted());
    }
    listing::listing(&state.list, columns, &state.rows, Message::List)
}

fn came(of: &Row) -> Element<'_, Message> {
    let mark = of.marked.then(|| widget::mark(Mark::Caution));
    row![mark, widget::fitted(of.came.as_str())].spacing(space::ONE).align_y(Alignment::Center).into()
}

/// One load.
pub(super) fn load<'a>(state: &'a State, of: &'a Page, shared: &'a Shared) -> Element<'a, Message> {
    let can = !shared.read_only();
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    let tile = primary("Test tile of it (T)").on_press_maybe(can.then_some(Message::TileOf(of.id)));
    let title = row![words::heat_chip(of.heat.as_str(), of.celsius), widget::title(of.title.as_str())]
        .spacing(space::TWO)
        .align_y(Alignment::Center)
        .wrap();
    let past = (!of.past_stop.is_empty())
        .then(|| widget::caution_line(Mark::Stop, "Fired past a stop", Some(of.past_stop.clone())));
    let note = (!of.note.is_empty()).then(|| widget::body(of.note.as_str()));
    let facts = of.facts.iter().map(|(what, says)| {
        row![widget::small(*what).width(120), widget::body(says.as_str())].spacing(space::ONE).into()
    });
    let facts = panel(
        "In the heat",
        "",
        column![iced::widget::Column::with_children(facts).spacing(space::HALF), past, note].spacing(space::ONE),
    );
    let pieces = of.pieces.iter().map(|of| piece(of, shared));
    let pieces = panel_with(
        "Pieces",
        "each with its part of the load",
        widget::small(of.whole.as_str()),
        iced::widget::Column::with_children(pieces).spacing(space::HALF),
    );
    let photo = panel("Photo", "", state.photo.view(can, Message::Photo));
    let head = column![link("‹ Log").on_press(Message::Log), title, tile].spacing(space::ONE);
    let body = words::columns(pieces, column![facts, photo].spacing(space::TWO).into(), shared);
    scrollable(container(column![head, body].spacing(space::TWO)).padding(room).width(Length::Fill))
        .height(Length::Fill)
        .style(theme::scroll)
        .into()
}

fn piece<'a>(of: &'a Piece, shared: &Shared) -> Element<'a, Message> {
    let mark = widget::mark(if of.lost { Mark::Stop } else { Mark::Good });
    let name = column![widget::body(of.words.as_str()), widget::small(of.step.as_str())].width(Length::Fill);
    let went = row![mark, widget::body(of.result.as_str())].spacing(space::HALF).align_y(Alignment::Center);
    let ways = row![link("Piece").on_press(Message::Piece(of.piece)), link("Batch").on_press(Message::Batch(of.batch))];
    if shared.is_narrow() {
        return column![name, went, widget::small(of.cost.as_str()), ways].into();
    }
    row![name, went, widget::small(of.cost.as_str()), ways].spacing(space::TWO).align_y(Alignment::Center).into()
}
