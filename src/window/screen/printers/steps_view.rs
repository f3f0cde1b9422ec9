//! How the three steps look: print the calibration page, measure it, see what is put right.

use super::measuring::{By, Field, Found};
use super::{Message, Row, State};
use crate::window::Shared;
use crate::window::draw::page_off::Picture;
use crate::window::screen::kiln::words;
use crate::window::theme::space;
use crate::window::widget::{self, Mark, choice, field, panel, pick, primary, quiet_button};
use iced::widget::{canvas, column, container, row};
use iced::{Alignment, Element, Length};

pub(super) fn steps<'a>(state: &'a State, row: &'a Row, shared: &'a Shared) -> Element<'a, Message> {
    column![printed(state, row, shared), measured(state, shared), shown(state, shared)].spacing(space::TWO).into()
}

fn printed<'a>(state: &'a State, row: &'a Row, shared: &'a Shared) -> Element<'a, Message> {
    let paper = pick("Paper it lies on", &state.papers, "a paper", Some(&state.paper), Message::Paper);
    let told = format!(
        "It has a ringed cross and two rulers. Print it with {} at actual size, on the paper in question or on plain paper \
         of that size.",
        row.name
    );
    let way = state.way.view(true, shared).map(Message::Way);
    column![panel("1 · Print the calibration page", "", column![widget::body(told), paper].spacing(space::ONE)), way]
        .spacing(space::ONE)
        .into()
}

fn measured<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let typed = |which: Field| -> Element<'a, Message> {
        field(which.label(), state.measuring.fields.text(which))
            .id(which.id())
            .hint(which.unit())
            .placeholder(state.measuring.meant(which))
            .error(state.measuring.problem(which, &shared.preferences))
            .figures()
            .on_input(move |text| Message::Measured(which, text))
            .on_submit(Message::Keep)
            .into()
    };
    let how = choice(
        "",
        [(By::Page, "on the calibration page"), (By::Hand, "known: type it outright")],
        Some(&state.measuring.by),
        Message::By,
    );
    let told = match state.measuring.by {
        By::Page => {
            "With a steel rule, to a tenth of a millimetre: from the edges of the paper to the middle of the ringed \
             cross, and each ruler from its first line to its last."
        }
        By::Hand => {
            "How far everything is moved so that it comes out where it belongs, to the left and up with a minus, and how \
             many times as long it is made: 1 leaves it."
        }
    };
    let [first, second, third, fourth] = Field::of(state.measuring.by).map(typed);
    let body = column![
        how,
        widget::body(told),
        words::beside(vec![first, second], shared),
        words::beside(vec![third, fourth], shared),
    ]
    .spacing(space::ONE + space::HALF);
    panel("2 · Measure it", "", body)
}

fn shown<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let ready = !shared.read_only() && state.measuring.is_whole();
    let keep = primary("Keep it").on_press_maybe(ready.then_some(Message::Keep));
    let clear = quiet_button("Measure anew").on_press_maybe(state.measuring.is_begun().then_some(Message::Again));
    let body: Element<'a, Message> = match state.measuring.found() {
        None => widget::quiet("Type what you measured, and see here what is put right.").into(),
        Some(Err(why)) => widget::caution_line(Mark::Stop, why, None),
        Some(Ok(found)) => drawn(found, shared),
    };
    let refusal = state.measuring.refusal().map(|why| widget::caution_line(Mark::Stop, why, None));
    let buttons = words::buttons([keep.into(), clear.into()]);
    panel("3 · See what is put right", "", column![body, refusal, buttons].spacing(space::TWO))
}

fn drawn<'a>(found: &'a Found, shared: &'a Shared) -> Element<'a, Message> {
    let picture = canvas(Picture(&found.drawn)).width(150).height(190);
    let told = column![
        widget::strong(found.words.as_str()),
        widget::body(found.legend.as_str()),
        widget::small(
            "Once it is kept, every paper for this printer is put right so; the calibration page itself is not."
        )
    ]
    .spacing(space::ONE);
    if shared.is_narrow() {
        column![told, container(picture).center_x(Length::Fill)].spacing(space::TWO).into()
    } else {
        row![container(told).width(Length::Fill), picture].spacing(space::TWO).align_y(Alignment::Start).into()
    }
}
