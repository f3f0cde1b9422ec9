//! How the notebook of test tiles looks.

use super::card_view::{card, detail};
use super::{Message, State};
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Mark, Press, field, link, primary, quiet_button};
use iced::widget::{Row, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

/// Colours to look near, with their words: plain ones of its own, only to begin from.
const COLOURS: [(&str, [u8; 3]); 12] = [
    ("red", [180, 36, 32]),
    ("orange", [220, 110, 36]),
    ("yellow", [228, 190, 60]),
    ("green", [48, 120, 72]),
    ("turquoise", [44, 146, 146]),
    ("blue", [40, 76, 150]),
    ("violet", [104, 60, 132]),
    ("pink", [214, 130, 150]),
    ("brown", [110, 68, 40]),
    ("white", [244, 240, 230]),
    ("grey", [130, 130, 128]),
    ("black", [28, 26, 24]),
];

pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let can_add = (!shared.read_only()).then_some(Message::New);
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    let back = link("‹ Kiln").on_press(Message::Kiln);
    if shared.snapshot.tiles.is_empty() {
        let advice = "Write a tile down with what is on it, how hot and how long it was fired, and what you think of \
                      it: it then stands beside every coat that uses its enamel. A load that was fired begins one with \
                      a key. Ctrl+N writes one down.";
        let add = primary("Write a tile down").on_press_maybe(can_add);
        let empty = widget::empty("No test tiles yet", advice, Some(add.into()));
        return container(column![back, widget::title("Test tiles"), empty].spacing(space::TWO)).padding(room).into();
    }
    let add = primary("Write a tile down").on_press_maybe(can_add);
    let title = column![widget::title("Test tiles"), widget::small(state.summary.as_str())].width(Length::Fill);
    let head: Element<'a, Message> = if shared.is_narrow() {
        column![title, add].spacing(space::ONE).into()
    } else {
        row![title, add].spacing(space::TWO).align_y(Alignment::Center).into()
    };
    let cards = state.cards.iter().enumerate().map(|(place, of)| card(place, of, state.chosen == Some(of.id)));
    let cards = Row::with_children(cards).spacing(space::ONE).wrap().vertical_spacing(space::ONE);
    let none = state
        .cards
        .is_empty()
        .then(|| widget::quiet("No tile is like that. Take a word out of “Find”, or let go of the colour."));
    let more = (state.found > state.cards.len()).then(|| quiet_button("Show more").on_press(Message::More));
    let notebook = column![find(state, shared), none, cards, more].spacing(space::TWO);
    let beside = state.detail.as_ref().map(|of| detail(state, of, shared));
    let body: Element<'a, Message> = if shared.is_narrow() {
        column![back, head, beside, notebook].spacing(space::TWO).into()
    } else {
        let beside = beside.map(|beside| container(beside).width(340));
        column![back, head, row![container(notebook).width(Length::Fill), beside].spacing(space::TWO)]
            .spacing(space::ONE + space::HALF)
            .into()
    };
    scrollable(container(body).padding(room).width(Length::Fill)).height(Length::Fill).style(theme::scroll).into()
}

fn find<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let words = field("Find", state.search.words.as_str())
        .placeholder("enamel, metal, your words")
        .id("tiles-find")
        .width(260)
        .on_input(Message::Find);
    let wrong = (!state.near.is_empty() && state.search.near.is_none())
        .then(|| format!("{:?} is not a colour: write #rrggbb, or e.g. 60, 122, 82", state.near.trimmed()));
    let near = field("Nearest to a colour", state.near.text())
        .placeholder("#rrggbb")
        .id("tiles-near")
        .error(wrong)
        .width(200)
        .on_input(Message::Near);
    let swatches = COLOURS.map(|(name, colour)| {
        let chosen = Chosen::from(state.search.near == Some(colour));
        Press::new(
            row![widget::mark(Mark::Swatch(theme::swatch(colour))), widget::small(name)]
                .spacing(space::HALF)
                .align_y(Alignment::Center),
        )
        .on_press(Message::NearIs((chosen == Chosen::No).then_some(colour)))
        .height(theme::TARGET)
        .style(theme::choice(chosen))
        .into()
    });
    let swatches = Row::with_children(swatches).spacing(space::HALF).wrap().vertical_spacing(space::HALF);
    let aside = tick("set aside too", Chosen::from(state.search.aside), Some(Message::Aside));
    let fields: Element<'a, Message> = if shared.size.width < 480.0 {
        column![Element::from(words.width(Length::Fill)), near.width(Length::Fill), aside].spacing(space::ONE).into()
    } else {
        row![Element::from(words), Element::from(near), aside].spacing(space::TWO).align_y(Alignment::End).into()
    };
    column![fields, swatches].spacing(space::ONE).into()
}
