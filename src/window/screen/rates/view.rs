//! How the page looks: its head, its panels beside each other or in one column, what is common to its fields.

use super::draft::Draft;
use super::field::{BandPart, ChannelPart, Field};
use super::words::Derived;
use super::{Figure, Message, Moves, State, channel_view, studio_view};
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::{self, Line, Mark, explain, primary, quiet_button};
use iced::widget::{Column, Row, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

/// The page.
pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let narrow = shared.is_narrow();
    let overhead = studio_view::overhead(state, shared);
    let rest = column![studio_view::wage(state, shared), studio_view::kiln(state, shared)]
        .spacing(space::TWO)
        .width(Length::Fill);
    let studio: Element<'a, Message> = if narrow {
        column![overhead, rest].spacing(space::TWO).into()
    } else {
        row![container(overhead).width(Length::Fill), rest].spacing(space::TWO).into()
    };
    let body = column![head(state, shared), studio, channel_view::channels(state, shared), moves(state)]
        .spacing(space::TWO)
        .padding(if narrow { space::TWO } else { space::THREE });
    scrollable(body).height(Length::Fill).style(theme::scroll).into()
}

fn head<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let unsaved = state.unsaved;
    let mark: Element<'a, Message> = if unsaved {
        row![widget::mark(Mark::Caution), widget::strong("not kept yet").style(theme::caution)]
            .spacing(space::HALF)
            .align_y(Alignment::Center)
            .into()
    } else {
        widget::small("as the book says").into()
    };
    let words = column![
        row![widget::title("Rates"), mark].spacing(space::TWO).align_y(Alignment::Center),
        widget::small(
            "what an hour, a load of the kiln and a sale cost; designs that follow them change when they are kept"
        )
    ]
    .width(Length::Fill);
    let can = !shared.read_only() && unsaved;
    let buttons = Row::with_children([
        quiet_button("Go back to what the book says").on_press_maybe(unsaved.then_some(Message::GoBack)).into(),
        primary("Keep").on_press_maybe(can.then_some(Message::Keep)).into(),
    ])
    .spacing(space::ONE);
    if shared.is_narrow() {
        column![words, buttons.wrap()].spacing(space::ONE).into()
    } else {
        row![words, buttons].spacing(space::TWO).align_y(Alignment::Center).into()
    }
}

/// A field with its label and unit; it can only be read where the book may only be looked at.
pub(super) fn typed<'a>(
    state: &'a State,
    shared: &Shared,
    field: Field,
    label: &'a str,
    hint: &str,
) -> widget::Field<'a, Message> {
    let mut shown = widget::field(label, state.draft.text(field)).id(field.id()).error(state.draft.problem(field));
    if !hint.is_empty() {
        shown = shown.hint(hint);
    }
    if shared.read_only() && !field.is_example() {
        shown
    } else {
        shown.on_input(move |text| Message::Typed(field, text)).on_submit(Message::Keep)
    }
}

/// A field of figures.
pub(super) fn figure<'a>(
    state: &'a State,
    shared: &Shared,
    field: Field,
    label: &'a str,
    hint: &str,
) -> Element<'a, Message> {
    typed(state, shared, field, label, hint).figures().into()
}

/// Fields beside each other; two beside each other where it is narrow.
pub(super) fn beside<'a>(fields: Vec<Element<'a, Message>>, shared: &Shared) -> Element<'a, Message> {
    if !shared.is_narrow() {
        return Row::with_children(fields).spacing(space::TWO).align_y(Alignment::Start).into();
    }
    let mut rows = Column::new().spacing(space::ONE);
    let mut fields = fields.into_iter();
    while let Some(first) = fields.next() {
        rows = rows.push(row![first, fields.next()].spacing(space::TWO).align_y(Alignment::Start));
    }
    rows.into()
}

/// A rate as a large figure that opens into the lines it is made of.
pub(super) fn derived<'a>(
    state: &'a State,
    name: &'a str,
    opens: &'a str,
    of: &'a Derived,
    which: Figure,
) -> Element<'a, Message> {
    let open = Chosen::from(state.open.contains(&which));
    column![
        row![widget::strong(name).width(Length::Fill), widget::display(of.figure.as_str())]
            .spacing(space::TWO)
            .align_y(Alignment::Center),
        explain(opens, of.exact.as_str(), open, &of.lines, Message::Explain(which)),
    ]
    .into()
}

fn moves(state: &State) -> Element<'_, Message> {
    let ask = quiet_button("What it does to prices").on_press_maybe(state.unsaved.then_some(Message::ShowMoves));
    let body: Element<'_, Message> = match &state.moves {
        None if state.unsaved => {
            widget::quiet("Costs every design with the figures of this page beside those of the book.").into()
        }
        None => widget::quiet("Nothing on this page differs from the book.").into(),
        Some(Moves::Trouble(sentence)) => widget::caution_line(Mark::Stop, sentence.as_str(), None),
        Some(Moves::Lines(lines)) => Column::with_children(lines.iter().map(moved)).spacing(space::HALF).into(),
    };
    widget::panel_with("Before you keep it", "", ask, body)
}

fn moved(line: &Line) -> Element<'_, Message> {
    row![widget::body(line.what.as_str()).width(Length::Fill), widget::strong(line.amount.as_str())]
        .spacing(space::TWO)
        .into()
}

/// A field's place on the page, for a sentence.
pub(super) fn place(draft: &Draft, field: Field) -> String {
    let named = |name: Field, otherwise: &str| match draft.name(name) {
        "" => otherwise.to_owned(),
        name => name.to_owned(),
    };
    match field {
        Field::OverheadName(_) => "the name of a line of overhead".to_owned(),
        Field::OverheadAmount(key) => format!("{} a year", named(Field::OverheadName(key), "a line of overhead")),
        Field::Studio(part) => part.words().to_owned(),
        Field::Channel(_, ChannelPart::Name) => "the name of a channel".to_owned(),
        Field::Channel(key, part) => {
            let part = match part {
                ChannelPart::Name | ChannelPart::Example => "the example",
                ChannelPart::Commission => "commission",
                ChannelPart::CardFee => "card fee",
                ChannelPart::CardFixed => "fee a sale",
                ChannelPart::Tax => "tax",
                ChannelPart::Selling => "selling cost",
                ChannelPart::Target => "target",
            };
            format!("{}, {part}", named(Field::Channel(key, ChannelPart::Name), "a channel"))
        }
        Field::Band(key, _, part) => {
            let part = match part {
                BandPart::UpTo => "up to",
                BandPart::Step => "every",
                BandPart::Less => "less",
            };
            format!("{}, price points, {part}", named(Field::Channel(key, ChannelPart::Name), "a channel"))
        }
    }
}
