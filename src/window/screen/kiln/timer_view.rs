//! How a firing looks: the time so large that it is read across a room.

use super::timer::Timer;
use super::{Message, State, day_view, loading_view, words};
use crate::measure::display;
use crate::window::Shared;
use crate::window::draw::share_bar::ShareBar;
use crate::window::theme::{self, size, space};
use crate::window::widget::{self, Mark, field, primary, quiet_button};
use iced::widget::{Row, column, container, responsive, row, text};
use iced::{Alignment, Border, Element, Length, Theme};

/// The page of a load that fires.
pub(super) fn page<'a>(state: &'a State, timer: &'a Timer, shared: &'a Shared) -> Element<'a, Message> {
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    let can = !shared.read_only();
    let head = loading_view::head(state, shared, state.firing_title.as_str(), timer.charge.as_str());
    // The digits take all the height there is, so that the buttons and the day stay in sight.
    let tall = shared.size.height >= 620.0;
    let high = if tall { 52.0 } else { 44.0 };
    let mute = quiet_button(if state.bell.muted { "Sound on" } else { "Sound off" }).on_press(Message::Mute);
    let buttons = words::buttons([
        primary("Door opened (Space)").height(high).on_press_maybe(can.then_some(Message::DoorOpened)).into(),
        quiet_button("15 s more (Up)").height(high).on_press_maybe(can.then_some(Message::Longer)).into(),
        quiet_button("Something went wrong (L)").height(high).on_press_maybe(can.then_some(Message::WentWrong)).into(),
        mute.height(high).into(),
    ]);
    let face = face(state, timer, shared, tall);
    if tall {
        return column![head, face, buttons, day_view::panel_of(state, shared)]
            .spacing(space::TWO)
            .padding(room)
            .into();
    }
    column![head, face, buttons].spacing(space::ONE).padding(space::ONE).into()
}

/// What the sheet looks like from one second to the next once the time is up: filled, then framed. One change a second
/// is far below the three flashes of WCAG 2.3.1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Look {
    Calm,
    Filled,
    Framed,
}

fn face<'a>(state: &'a State, timer: &'a Timer, shared: &'a Shared, tall: bool) -> Element<'a, Message> {
    let look = match (timer.clock.is_over(), state.beat) {
        (false, _) => Look::Calm,
        (true, true) => Look::Filled,
        (true, false) => Look::Framed,
    };
    let letters = f32::from(u8::try_from(timer.left.len()).unwrap_or(8));
    let digits = responsive(move |area| {
        // A figure of this face is about 0.5 of its size wide; the colon takes less.
        let widest = area.width / (letters * 0.53);
        let digits = text(timer.left.as_str())
            .size(widest.min(area.height * 0.98).clamp(40.0, 520.0))
            .line_height(1.0)
            .font(theme::STRONG)
            .wrapping(text::Wrapping::None);
        container(digits).center(Length::Fill).into()
    });
    // On the filled sheet the fill is the sign; a mark of its colour would not be seen.
    let mark = || (look == Look::Framed).then(|| widget::mark(Mark::Stop));
    let over: Element<'a, Message> = if timer.over.is_empty() {
        iced::widget::space().height(0).into()
    } else {
        row![
            mark(),
            text(timer.over.as_str()).size(size::TITLE).font(theme::STRONG),
            widget::body("open the door"),
            mark()
        ]
        .spacing(space::ONE)
        .align_y(Alignment::Center)
        .into()
    };
    let bar = ShareBar::new(timer.clock.gone_thousandths()).colour(theme::heat(timer.celsius)).height(16.0);
    let ends = row![
        text(timer.closed.as_str()).size(size::BODY).width(Length::Fill),
        text(timer.asked.as_str()).size(size::BODY)
    ];
    let degrees = display::temperature_label(&shared.preferences);
    let read = field("", state.read.text())
        .id("load-read")
        .placeholder("read")
        .error(state.read_problem(shared))
        .width(if shared.is_narrow() { 130 } else { 180 })
        .on_input(Message::Read)
        .on_submit(Message::ReadDone);
    let past = (!timer.past_stop.is_empty()).then(|| {
        row![widget::mark(Mark::Caution), text(timer.past_stop.as_str()).size(size::BODY)]
            .spacing(space::HALF)
            .align_y(Alignment::Center)
    });
    let figures = Row::with_children([
        text(timer.set.as_str()).size(size::BODY).into(),
        Element::from(read),
        text(format!("{degrees} read")).size(size::BODY).into(),
    ])
    .extend([past.map(Element::from)].into_iter().flatten())
    .spacing(space::ONE)
    .align_y(Alignment::Center)
    .wrap();
    let ends = tall.then_some(ends);
    let figures = tall.then_some(figures);
    let lower = column![over, bar, ends, figures].spacing(space::ONE).align_x(Alignment::Center);
    container(column![digits, lower].spacing(space::ONE))
        .padding(if tall { [space::TWO, space::FOUR] } else { [space::TWO, space::TWO] })
        .width(Length::Fill)
        .height(Length::Fill)
        .style(move |theme| sheet(theme, look))
        .into()
}

fn sheet(theme: &Theme, look: Look) -> container::Style {
    let colors = theme::palette(theme);
    let calm = theme::sheet(theme);
    match look {
        Look::Calm => calm,
        Look::Filled => container::Style {
            text_color: Some(colors.on_stop),
            background: Some(colors.stop.into()),
            border: Border { color: colors.stop, width: 12.0, radius: theme::RADIUS.into() },
            ..calm
        },
        Look::Framed => container::Style {
            border: Border { color: colors.stop, width: 12.0, radius: theme::RADIUS.into() },
            ..calm
        },
    }
}
