//! How a load being put together looks.

use super::loading::{Field, Loading, OfferRow, PieceRow};
use super::{Message, State, day_view, words};
use crate::measure::display;
use crate::studio::PieceId;
use crate::window::Shared;
use crate::window::draw::share_bar::ShareBar;
use crate::window::shortcut::RoomName;
use crate::window::theme::{self, Chosen, size, space};
use crate::window::widget::{self, Mark, Press, choice, field, link, panel, panel_with, primary, quiet_button};
use iced::widget::{Column, Row, column, container, row, scrollable, text};
use iced::{Alignment, Element, Length};
use std::collections::BTreeSet;

/// The page of what waits, with the load beside it.
pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    let head = head(state, shared, "Kiln", state.summary.as_str());
    if state.loading.kilns.is_empty() {
        let advice = "Write your kiln down first: what it draws, how long it warms up and how much it is on at heat. A \
                      torch is a kiln too.";
        let add = primary("Write a kiln down").on_press(Message::Enter(RoomName::Kilns));
        let empty = widget::empty("No kiln yet", advice, Some(add.into()));
        return container(column![head, empty].spacing(space::TWO)).padding(room).into();
    }
    let body = if state.loading.offers.is_empty() && state.loading.apart.is_empty() {
        let advice = "Pieces come here when the next step of their batch is a firing. A load that was fired already can \
                      be written down too.";
        let log = quiet_button("Write down a load that was fired")
            .on_press_maybe((!shared.read_only()).then_some(Message::LogOne));
        column![
            widget::empty("Nothing waits for the kiln", advice, Some(log.into())),
            day_view::panel_of(state, shared)
        ]
    } else {
        let load = load(&state.loading, shared);
        let left = column![waiting(&state.loading), day_view::panel_of(state, shared)].spacing(space::TWO);
        // The load first where there is only one column: its button must not lie below a long list.
        let both = if shared.is_narrow() {
            column![load, left].spacing(space::TWO).into()
        } else {
            words::columns(left.into(), load, shared)
        };
        column![both]
    };
    scrollable(container(column![head, body.spacing(space::TWO)].spacing(space::TWO)).padding(room).width(Length::Fill))
        .height(Length::Fill)
        .style(theme::scroll)
        .into()
}

/// The name of a page with the ways to the other pages of the kiln.
pub(super) fn head<'a>(state: &'a State, shared: &'a Shared, title: &'a str, summary: &'a str) -> Element<'a, Message> {
    let firing = state.timers.iter().map(|timer| {
        let chosen = Chosen::from(state.page == super::Page::Firing && state.chosen == Some(timer.id));
        Press::new(
            row![
                text(timer.kiln.as_str()).size(size::BODY),
                text(timer.left.as_str()).size(size::BODY).font(theme::STRONG)
            ]
            .spacing(space::ONE),
        )
        .height(theme::TARGET)
        .style(theme::choice(chosen))
        .on_press(Message::Show(timer.id))
        .into()
    });
    let own = [link("What waits").on_press(Message::Waiting).into(), link("Log").on_press(Message::Log).into()];
    let others = RoomName::UNDER_KILN.map(|room| link(room.words()).on_press(Message::Enter(room)).into());
    let ways = words::buttons(firing.chain(own).chain(others));
    let title = row![widget::title(title), widget::small(summary)].spacing(space::TWO).align_y(Alignment::Center);
    let title: Element<'a, Message> = if shared.is_narrow() { title.wrap().into() } else { title.into() };
    column![title, ways].spacing(space::HALF).into()
}

fn waiting(loading: &Loading) -> Element<'_, Message> {
    let offers = loading.offers.iter().enumerate().map(|(place, of)| offer(place, of, &loading.picked));
    let apart = (!loading.apart.is_empty()).then(|| {
        panel(
            "By themselves",
            "nothing in this kiln suits them within the tolerances; pick them to see why",
            pieces(&loading.apart, &loading.picked),
        )
    });
    column![Column::with_children(offers).spacing(space::TWO), apart].spacing(space::TWO).into()
}

fn offer<'a>(place: usize, of: &'a OfferRow, picked: &BTreeSet<PieceId>) -> Element<'a, Message> {
    let all = of.pieces.iter().all(|piece| picked.contains(&piece.id)) && picked.len() == of.pieces.len();
    let take = if all {
        container(widget::small("picked")).into()
    } else {
        Element::from(quiet_button("Pick these").on_press(Message::PickOffer(place)))
    };
    let words = column![widget::strong(of.title.as_str()), widget::small(of.detail.as_str())].width(Length::Fill);
    let head = row![words::heat_chip(of.heat.as_str(), of.celsius), words, take]
        .spacing(space::TWO)
        .align_y(Alignment::Center);
    container(column![head, pieces(&of.pieces, picked)].spacing(space::ONE + space::HALF))
        .padding(space::TWO)
        .width(Length::Fill)
        .style(theme::sheet)
        .into()
}

/// Pieces to tap, each as large as a finger.
fn pieces<'a>(all: &'a [PieceRow], picked: &BTreeSet<PieceId>) -> Element<'a, Message> {
    let pieces = all.iter().map(|piece| {
        let chosen = Chosen::from(picked.contains(&piece.id));
        let dot = if chosen == Chosen::Yes { "●" } else { "○" };
        Press::new(row![text(dot).size(size::SMALL), text(piece.words.as_str()).size(size::BODY)].spacing(space::ONE))
            .padding([0.0, space::ONE + space::HALF])
            .height(theme::TARGET)
            .style(theme::choice(chosen))
            .on_press(Message::PickPiece(piece.id))
            .into()
    });
    Row::with_children(pieces).spacing(space::HALF).wrap().vertical_spacing(space::HALF).into()
}

fn load<'a>(loading: &'a Loading, shared: &'a Shared) -> Element<'a, Message> {
    let typed = |which: Field, label: &'a str, hint: &'a str| -> Element<'a, Message> {
        let mut made = field(label, loading.fields.text(which))
            .id(which.id())
            .error(loading.problem(which, &shared.preferences))
            .on_input(move |text| Message::Typed(which, text))
            .on_submit(Message::CloseDoor);
        if !hint.is_empty() {
            made = made.hint(hint);
        }
        made.into()
    };
    let found = &loading.found;
    let kilns = choice(
        "Kiln",
        loading.kilns.iter().map(|(id, name)| (*id, name.as_str())),
        loading.kiln.as_ref(),
        Message::Kiln,
    );
    let heat = row![
        typed(Field::Heat, "Set to", display::temperature_label(&shared.preferences)),
        typed(Field::Minutes, "In the heat", "min:s")
    ]
    .spacing(space::TWO);
    let shelf = (!found.shelf.is_empty()).then(|| {
        column![
            row![widget::small("Shelf").width(Length::Fill), widget::small(found.shelf.as_str())],
            Element::from(ShareBar::new(found.used))
        ]
        .spacing(space::HALF)
    });
    let ceiling = (!found.ceiling.is_empty()).then(|| widget::small(found.ceiling.as_str()));
    let told = found.told.iter().map(|told| {
        let mark = if told.stop { Mark::Stop } else { Mark::Caution };
        widget::caution_line(mark, told.what.as_str(), Some(told.way_out.clone()))
    });
    let past =
        found.stopped.then(|| typed(Field::Override, "To fire past the stop, type “fire anyway”", "kept in the log"));
    let kiln = loading.kiln.and_then(|id| shared.snapshot.kiln(id)).map(|kiln| &kiln.kiln);
    let trouble = found.trouble.as_deref().map(|why| widget::caution_line(Mark::Stop, why, None));
    let refusal = loading.refusal.as_deref().map(|why| widget::caution_line(Mark::Stop, why, None));
    let label = if found.stopped { "Fire anyway" } else { "Close the door (Space)" };
    let close = primary(label)
        .id("load-close")
        .height(52)
        .width(Length::Fill)
        .on_press_maybe((!shared.read_only()).then_some(Message::CloseDoor));
    let what = if found.pieces.is_empty() { "nothing picked yet" } else { found.pieces.as_str() };
    panel_with(
        "The load",
        "",
        widget::small(words::counted(loading.picked.len(), "piece", "pieces")),
        column![
            widget::body(what),
            kilns,
            heat,
            ceiling,
            shelf,
            Column::with_children(told).spacing(space::ONE),
            found.lead.then(words::lead),
            past,
            trouble,
            refusal,
            close,
            words::cautions_of(kiln),
        ]
        .spacing(space::TWO),
    )
}
