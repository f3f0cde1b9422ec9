//! The paper on the table: what is pinned at the left, the paper in the middle, its figures at the right.

use super::draft::Draft;
use super::laid::Thing;
use super::message::{Asked, Message};
use super::paint;
use super::pins::Pins;
use super::side_view;
use super::state::State;
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::{self, Mark, Press, link, panel, pick, primary, quiet_button};
use iced::widget::{Column, column, container, responsive, row, scrollable};
use iced::{Alignment, Element, Length, Size};

/// Narrower than this, what is pinned and its figures share a column, so that the paper keeps its room.
const THREE_COLUMNS: f32 = 1_080.0;
/// Most pixels to a millimetre: a small tag is shown large, not huge.
const MOST_SCALE: f32 = 14.0;

pub(super) fn page<'a>(state: &'a State, draft: &'a Draft, shared: &'a Shared) -> Element<'a, Message> {
    let head = head(draft, shared);
    if shared.is_narrow() {
        let body = column![
            head,
            shown(state, shared),
            problem(draft),
            container(paper(draft, shared)).height(300),
            unfitting(draft, true),
            side_view::side(state, draft, shared),
            pinned(state, draft, shared),
        ]
        .spacing(space::TWO)
        .padding(space::TWO);
        return scrollable(body).height(Length::Fill).style(theme::scroll).into();
    }
    let scrolled = |part: Element<'a, Message>, width: f32| {
        scrollable(container(part).padding(iced::padding::right(space::TWO - 2.0)))
            .width(width)
            .height(Length::Fill)
            .style(theme::scroll)
    };
    let tight = shared.size.width < THREE_COLUMNS;
    let hint = (!tight).then(|| {
        widget::small(
            "Dragged things keep to edges and middles; hold Alt or Ctrl to put them anywhere. Arrows move by 0.1 mm, \
             with Shift by 1 mm, with Ctrl they size. Enter opens its figures, R turns, Ctrl+D doubles, Page Up and \
             Down put it forward and back, Delete takes it off, Ctrl+N pins words, Ctrl+Z and Ctrl+Y take back and do \
             again.",
        )
    });
    let middle = column![
        shown(state, shared),
        problem(draft),
        container(paper(draft, shared)).height(Length::Fill),
        unfitting(draft, tight),
        hint,
    ]
    .spacing(space::ONE)
    .width(Length::Fill);
    let side = side_view::side(state, draft, shared);
    let pinned = pinned(state, draft, shared);
    let body = if tight {
        row![middle, scrolled(column![side, pinned].spacing(space::TWO).into(), 308.0)]
    } else {
        row![scrolled(pinned, 232.0), middle, scrolled(side, 316.0)]
    };
    let body = body.spacing(space::TWO).height(Length::Fill);
    column![head, body]
        .spacing(space::TWO)
        .padding(iced::padding::all(space::THREE).left(space::ONE).right(space::ONE))
        .into()
}

fn head<'a>(draft: &'a Draft, shared: &'a Shared) -> Element<'a, Message> {
    let saving = (draft.is_changed() && !shared.read_only()).then_some(Message::Save);
    let state = match (draft.is_changed(), draft.id) {
        (true, None) => "not saved yet",
        (true, Some(_)) => "changed, not saved",
        (false, _) => "saved",
    };
    let writes = |message, can: bool| (can && !shared.read_only()).then_some(message);
    let buttons = row![
        quiet_button("Take back").on_press_maybe(writes(Message::TakeBack, draft.can_revert())),
        quiet_button("Again").on_press_maybe(writes(Message::Again, draft.can_again())),
        primary("Save").on_press_maybe(saving),
        quiet_button("Print…").on_press(Message::Print),
        link("To a file…").on_press(Message::Ask(Asked::WriteOut)),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center);
    if shared.is_narrow() {
        let name = widget::fitted(draft.paper.name.as_str()).strong();
        let kind = widget::small(format!("{} · {state}", draft.paper.kind.words()));
        let above = row![link("‹ Papers").on_press(Message::ToShelf), column![name, kind].width(Length::Fill)];
        return column![above.spacing(space::ONE).align_y(Alignment::Center), buttons.wrap()]
            .spacing(space::ONE)
            .into();
    }
    let name = widget::fitted(draft.paper.name.as_str()).strong();
    row![
        link("‹ Papers").on_press(Message::ToShelf),
        column![name, widget::small(format!("{} · {state}", draft.paper.kind.words()))].width(Length::Fill),
        buttons
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center)
    .into()
}

/// Why one of its languages cannot be written here.
fn problem(draft: &Draft) -> Option<Element<'_, Message>> {
    draft.laid.problem.as_deref().map(|words| widget::caution_line(Mark::Stop, words, None))
}

/// What did not fit, or cannot be printed as it stands, thing by thing.
fn unfitting(draft: &Draft, tight: bool) -> Option<Element<'_, Message>> {
    let warned = draft.laid.things.iter().enumerate().filter(|(_, thing)| !thing.warnings.is_empty());
    let lines: Vec<Element<'_, Message>> = warned
        .flat_map(|(place, thing)| thing.warnings.iter().map(move |told| (place, thing, told)))
        .map(|(place, thing, told)| {
            let (name, told) = (widget::strong(thing.words.as_str()), widget::small(told.as_str()).width(Length::Fill));
            let words: Element<'_, Message> = if tight {
                column![name, told].into()
            } else {
                let name = name.wrapping(iced::widget::text::Wrapping::None);
                row![name, told].spacing(space::ONE).align_y(Alignment::Center).into()
            };
            Press::new(row![widget::mark(Mark::Caution), words].spacing(space::ONE).align_y(Alignment::Center))
                .on_press(Message::Select(Some(place)))
                .width(Length::Fill)
                .align(Alignment::Start)
                .style(theme::row(Chosen::from(draft.selected == Some(place))))
                .into()
        })
        .collect();
    if lines.is_empty() {
        return None;
    }
    let count = match lines.len() {
        1 => "1 thing to look at".to_owned(),
        more => format!("{more} things to look at"),
    };
    let high = (lines.len() > if tight { 2 } else { 3 }).then_some(112.0);
    let list = scrollable(Column::with_children(lines)).style(theme::scroll).width(Length::Fill);
    let list = container(list).height(high.map_or(Length::Shrink, Length::Fixed));
    Some(
        container(column![widget::small(count), list].spacing(space::HALF))
            .padding([space::ONE, space::ONE + space::HALF])
            .width(Length::Fill)
            .style(theme::sheet_caution)
            .into(),
    )
}

/// The piece it is shown with, and the channel its ticket is of.
fn shown<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let several = state.subjects.len() > 1;
    let step = |forward| several.then_some(Message::Step(forward));
    let words = state.subjects.get(state.shown).map(|subject| &subject.words);
    let piece = row![
        quiet_button("‹").on_press_maybe(step(false)),
        container(pick("", &state.subject_names, "shown with", words, Message::Show)).width(Length::Fill),
        quiet_button("›").on_press_maybe(step(true)),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::End);
    let tight = shared.size.width < THREE_COLUMNS;
    let channel = state.channel_words().filter(|_| state.channel_names.options().len() > 1).map(|words| {
        row![
            widget::small("ticket"),
            container(pick("", &state.channel_names, "channel", Some(words), Message::Channel)).width(Length::Fill)
        ]
        .spacing(space::ONE)
        .align_y(Alignment::Center)
    });
    if tight {
        return column![piece, channel].spacing(space::ONE).into();
    }
    row![piece.width(Length::FillPortion(3)), channel.map(|channel| channel.width(Length::FillPortion(2)))]
        .spacing(space::TWO)
        .align_y(Alignment::End)
        .into()
}

fn paper<'a>(draft: &'a Draft, shared: &'a Shared) -> Element<'a, Message> {
    responsive(move |area| {
        let room = Size::new(area.width - space::TWO, area.height - space::TWO);
        let scale = paint::fitting(&draft.laid.outline, room, MOST_SCALE);
        let pins = Pins::new(&draft.laid.things, draft.selected, scale, shared.read_only()).on_lines(&draft.lines);
        container(paint::paper(&draft.laid, scale, Some(pins.into()))).center(Length::Fill).into()
    })
    .into()
}

/// What is pinned, the front first, and what can be.
fn pinned<'a>(state: &'a State, draft: &'a Draft, shared: &'a Shared) -> Element<'a, Message> {
    let whole = line("The paper itself", false, draft.selected.is_none(), Message::Select(None));
    let things = draft.laid.things.iter().enumerate().rev().map(|(place, thing): (usize, &Thing)| {
        let chosen = draft.selected == Some(place);
        line(&thing.words, !thing.warnings.is_empty(), chosen, Message::Select(Some(place)))
    });
    let list = Column::with_children(std::iter::once(whole).chain(things));
    let more = (!shared.read_only()).then(|| {
        column![
            pick("Pin to it", &state.offer_names, "name, ticket, symbol …", None, Message::Add),
            quiet_button("Picture from a file…").on_press(Message::Ask(Asked::Picture)),
        ]
        .spacing(space::ONE)
    });
    panel("Pinned", "the front first", column![more, list].spacing(space::TWO))
}

fn line(words: &str, warned: bool, chosen: bool, message: Message) -> Element<'_, Message> {
    let mark: Option<Element<'_, Message>> = warned.then(|| widget::mark(Mark::Caution));
    let words = container(widget::fitted(words)).width(Length::Fill);
    Press::new(row![words, mark].spacing(space::HALF).align_y(Alignment::Center))
        .on_press(message)
        .width(Length::Fill)
        .height(theme::TARGET)
        .style(theme::row(Chosen::from(chosen)))
        .into()
}
