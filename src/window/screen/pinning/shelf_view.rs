//! The papers of a kind, hers and ready-made ones, as small pictures.

use super::laid::Laid;
use super::message::{Asked, Message};
use super::paint;
use super::shelf::Card;
use super::state::State;
use crate::studio::PaperKind;
use crate::window::Shared;
use crate::window::theme::{self, space};
use crate::window::widget::{self, choice, link, panel, primary, quiet_button};
use iced::widget::{Column, Row, column, container, row, scrollable};
use iced::{Alignment, Element, Length, Size};

/// Width of a card's picture, pixels.
const PICTURE: Size = Size::new(220.0, 130.0);

pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let writable = |message| (!shared.read_only()).then_some(message);
    let head = row![
        column![
            widget::title("Paper designs"),
            widget::small("Begin with a ready-made paper, move what is on it, and print it with your own pieces."),
        ]
        .width(Length::Fill),
        quiet_button("Bring one in…").on_press_maybe(writable(Message::Ask(Asked::BringIn))),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center);
    let head = column![link("‹ Papers").on_press(Message::ToPapers), head];
    let kinds = choice("", PaperKind::ALL.map(|kind| (kind, kind.words())), Some(&state.kind), Message::Kind);
    let kept = state.draft.as_ref().filter(|draft| draft.is_changed()).map(|draft| {
        container(
            row![
                column![
                    widget::strong(draft.paper.name.as_str()),
                    widget::small("You were changing this one; it is not saved.")
                ]
                .width(Length::Fill),
                primary("Go on with it").on_press(Message::GoOn),
            ]
            .spacing(space::TWO)
            .align_y(Alignment::Center),
        )
        .padding(space::TWO)
        .width(Length::Fill)
        .style(theme::sheet_caution)
    });
    let (hers, ready): (Vec<_>, Vec<_>) = state.cards.iter().enumerate().partition(|(_, card)| card.id.is_some());
    let hers = (!hers.is_empty()).then(|| column![widget::large("Yours"), cards(hers, shared)].spacing(space::ONE));
    let ready = column![widget::large("Ready-made"), cards(ready, shared)].spacing(space::ONE);
    let body = column![head, kinds, kept, hers, ready, pictures(shared)]
        .spacing(space::THREE)
        .padding(iced::padding::all(space::THREE).left(if shared.is_narrow() { space::TWO } else { space::ONE }));
    scrollable(body).height(Length::Fill).style(theme::scroll).into()
}

fn cards<'a>(cards: Vec<(usize, &'a Card)>, shared: &'a Shared) -> Element<'a, Message> {
    Row::with_children(cards.into_iter().map(|(place, of)| card(place, of, shared)))
        .spacing(space::TWO)
        .wrap()
        .vertical_spacing(space::TWO)
        .into()
}

fn picture(laid: &Laid) -> Element<'_, Message> {
    let scale = paint::fitting(&laid.outline, PICTURE, 5.0);
    container(paint::paper(laid, scale, None)).center_x(Length::Fill).center_y(PICTURE.height).into()
}

fn card<'a>(place: usize, card: &'a Card, shared: &'a Shared) -> Element<'a, Message> {
    let writable = |message| (!shared.read_only()).then_some(message);
    let actions: Element<'a, Message> = match card.id {
        None => row![quiet_button("Begin with this").on_press_maybe(writable(Message::Begin(place)))].into(),
        Some(id) => row![
            quiet_button("Open").on_press(Message::Open(id)),
            link("Copy").on_press_maybe(writable(Message::Copy(id))),
            link(if card.retired { "Take up" } else { "Set aside" }).on_press_maybe(writable(Message::SetAside(id))),
        ]
        .into(),
    };
    container(
        column![
            picture(&card.laid),
            widget::fitted(card.paper.name.as_str()),
            widget::small(card.note.as_str()),
            actions
        ]
        .spacing(space::HALF),
    )
    .padding(space::ONE + space::HALF)
    .width(PICTURE.width + 2.0 * (space::ONE + space::HALF))
    .style(theme::sheet)
    .into()
}

/// The stored pictures; one that no paper has can be taken out.
fn pictures<'a>(shared: &'a Shared) -> Option<Element<'a, Message>> {
    if shared.snapshot.pictures.is_empty() {
        return None;
    }
    let rows = shared.snapshot.pictures.iter().map(|(id, name)| {
        let remove = (!shared.read_only()).then_some(Message::RemovePicture(*id));
        row![widget::body(name.as_str()).width(Length::Fill), link("Take out of the book").on_press_maybe(remove)]
            .spacing(space::TWO)
            .align_y(Alignment::Center)
            .into()
    });
    Some(panel("Stored pictures", "pinned to papers as logos and ornaments", Column::with_children(rows)))
}
