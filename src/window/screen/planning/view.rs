//! How a planned kiln day looks.

use super::state::row_id;
use super::worded::{self, Shown};
use super::{Message, State, Towards};
use crate::kiln::plan::Place;
use crate::window::Shared;
use crate::window::draw::kiln_day::Picture;
use crate::window::screen::kiln::words;
use crate::window::theme::{self, Chosen, size, space};
use crate::window::widget::{self, Mark, Press, choice, field, link, panel, panel_with, primary, quiet_button};
use iced::keyboard::key::Named;
use iced::widget::{Column, Row, canvas, column, container, progress_bar, row, scrollable, text};
use iced::{Alignment, Element, Length};

pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    let head = column![link("‹ Kiln").on_press(Message::Kiln), widget::title("A kiln day")];
    if state.kilns.is_empty() {
        let advice = "Write an electric kiln down with its three measurements: a day is planned with how fast it heats \
                      and cools.";
        let add = primary("Write a kiln down").on_press(Message::Kilns);
        let body = column![head, widget::empty("No kiln to plan for", advice, Some(add.into()))];
        return container(body.spacing(space::TWO)).padding(room).into();
    }
    let mut parts: Vec<Element<'a, Message>> = vec![head.into(), asked(state, shared)];
    if let Some(search) = &state.search {
        let (share, words) = search.words();
        let bar = progress_bar(0.0..=1.0, share).girth(8);
        let stop = quiet_button("Stop").on_press(Message::Stop);
        parts.push(panel("Planning", "", column![widget::body(words), bar, stop].spacing(space::ONE)));
    }
    if let Some(why) = &state.refused {
        parts.push(widget::caution_line(Mark::Stop, why.as_str(), None));
    }
    if state.stale {
        let words = "The book has changed since this was planned: plan it again.";
        parts.push(widget::caution_line(Mark::Caution, words, None));
    }
    match (&state.shown, &state.question) {
        (Some(shown), _) => parts.push(plan(state, shown, shared)),
        (None, Some(question)) if state.search.is_none() && question.ask.pieces.is_empty() => {
            let advice = "No piece of an open batch has a firing ahead that this kiln can do.";
            parts.push(widget::empty("Nothing to plan", advice, None));
        }
        _ => {}
    }
    if let Some(question) = state.question.as_ref().filter(|question| !question.left_out.is_empty()) {
        let left = question.left_out.iter().take(8).map(|out| widget::small(out.why.as_str()).into());
        let title = "each is above its own ceiling or the kiln's";
        parts.push(panel("Left out", title, Column::with_children(left).spacing(space::HALF)));
    }
    parts.push(words::hot_kiln());
    scrollable(container(Column::with_children(parts).spacing(space::TWO)).padding(room).width(Length::Fill))
        .height(Length::Fill)
        .style(theme::scroll)
        .into()
}

fn asked<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let kilns =
        choice("Kiln", state.kilns.iter().map(|(id, name)| (*id, name.as_str())), state.kiln.as_ref(), Message::Choose);
    let begins = field("The kiln may be on from", state.begins.text())
        .id("plan-begins")
        .placeholder("9:00")
        .error(state.problem())
        .width(190)
        .on_input(Message::Begins)
        .on_submit(Message::Plan);
    let again = quiet_button("Plan it anew").on_press(Message::Plan);
    if shared.is_narrow() {
        return column![kilns, begins, again].spacing(space::ONE).into();
    }
    row![kilns, begins, again].spacing(space::THREE).align_y(Alignment::End).into()
}

fn plan<'a>(state: &'a State, shown: &'a Shown, shared: &'a Shared) -> Element<'a, Message> {
    let picture = canvas(Picture::new(&shown.picture, shown.version)).width(Length::Fill).height(150);
    let effect = (!shown.effect.is_empty()).then(|| {
        row![
            widget::strong(shown.effect.as_str()).width(Length::Fill),
            link("As it was found").on_press(Message::AsFound)
        ]
        .align_y(Alignment::Center)
    });
    let breaches = state.breaches.iter().map(|of| widget::caution_line(Mark::Stop, of.as_str(), None));
    let breaches = (!state.breaches.is_empty()).then(|| {
        column![widget::body("It cannot be moved there:"), Column::with_children(breaches).spacing(space::HALF)]
    });
    let rows = shown.rows.iter().enumerate().map(|(place, of)| load(place, of, state.chosen == place, shared));
    let last = shown.rows.len().saturating_sub(1);
    let buttons = words::buttons([
        primary("Begin this load (B)").on_press_maybe((!shared.read_only()).then_some(Message::Begin)).into(),
        quiet_button("‹ Earlier").on_press_maybe((state.chosen > 0).then_some(Message::Move(Towards::Earlier))).into(),
        quiet_button("Later ›").on_press_maybe((state.chosen < last).then_some(Message::Move(Towards::Later))).into(),
    ]);
    let hint = "Up and Down choose a load, Left and Right move it.";
    panel_with(
        "The day",
        shown.bound.as_str(),
        widget::strong(shown.headline.as_str()),
        column![
            picture,
            effect,
            breaches,
            Column::with_children(rows).spacing(space::HALF),
            buttons,
            widget::small(hint),
            pieces(state, shown),
        ]
        .spacing(space::ONE + space::HALF),
    )
}

/// The pieces of the load in hand, and where the one in hand may go.
fn pieces<'a>(state: &'a State, shown: &'a Shown) -> Option<Element<'a, Message>> {
    let of = shown.rows.get(state.chosen)?;
    let each = of.each.iter().map(|held| {
        Press::new(text(held.name.as_str()).size(size::BODY))
            .on_press(Message::TakePiece(held.fired))
            .padding([0.0, space::ONE + space::HALF])
            .height(theme::TARGET)
            .style(theme::choice(Chosen::from(state.piece == Some(held.fired))))
            .into()
    });
    let title = widget::strong(format!("Pieces of load {}", of.number));
    let each = Row::with_children(each).spacing(space::HALF).wrap();
    let to = state.piece.map(|_| {
        let others = (0..shown.rows.len()).filter(|place| *place != state.chosen);
        let into = others.map(|place| (format!("Into load {}", place + 1), Place::Into(place)));
        let own = (of.each.len() > 1).then(|| {
            [
                ("A load of its own before this one".to_owned(), Place::Before(state.chosen)),
                ("A load of its own after this one".to_owned(), Place::Before(state.chosen + 1)),
            ]
        });
        let buttons = own.into_iter().flatten().chain(into);
        let buttons = buttons.map(|(words, place)| quiet_button(words).on_press(Message::Put(place)).into());
        Row::with_children(buttons).spacing(space::HALF).wrap()
    });
    let hint = state.piece.is_none().then(|| widget::small("Take a piece in hand to put it into another load."));
    Some(column![title, hint, each, to].spacing(space::HALF).into())
}

fn load<'a>(place: usize, of: &'a worded::Row, chosen: bool, shared: &Shared) -> Element<'a, Message> {
    let number = text(of.number.to_string()).size(size::LARGE).font(theme::STRONG).width(32);
    let time = column![widget::strong(of.time.as_str()), widget::small(of.minutes.as_str())].width(130);
    let pieces = widget::body(of.pieces.as_str()).width(Length::Fill);
    let chip = words::heat_chip(of.heat.as_str(), of.celsius);
    let inner: Element<'a, Message> = if shared.is_narrow() {
        column![row![number, time, chip].spacing(space::ONE).align_y(Alignment::Center), pieces].into()
    } else {
        row![number, time, chip, pieces].spacing(space::TWO).align_y(Alignment::Center).into()
    };
    Press::new(inner)
        .id(row_id(place))
        .on_press(Message::Take(place))
        .on_key(move |key| match key {
            Named::ArrowDown => Some(Message::Take(place.saturating_add(1))),
            Named::ArrowUp => place.checked_sub(1).map(Message::Take),
            Named::ArrowLeft if chosen => Some(Message::Move(Towards::Earlier)),
            Named::ArrowRight if chosen => Some(Message::Move(Towards::Later)),
            _ => None,
        })
        .align(Alignment::Start)
        .padding([space::ONE, space::ONE + space::HALF])
        .width(Length::Fill)
        .style(theme::choice(Chosen::from(chosen)))
        .into()
}
