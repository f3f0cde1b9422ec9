//! How what came of a load is written down.

use super::results::{Came, Change, Field, Results, Row};
use super::{Message, words};
use crate::measure::display;
use crate::studio::{LossCause, LossKind};
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Mark, choice, field, primary, quiet_button};
use iced::widget::{Column, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

/// The sheet over the timer.
pub(super) fn sheet<'a>(results: &'a Results, shared: &'a Shared) -> Element<'a, Message> {
    let opened = format!("The door opened at {}; the time is kept.", results.opened.format("%H:%M:%S"));
    let refusal = results.refusal.as_deref().map(|why| widget::caution_line(Mark::Stop, why, None));
    let degrees = display::temperature_label(&shared.preferences);
    let body = column![
        widget::small(opened),
        rows(&results.rows, shared, Message::Results),
        words::beside(
            vec![
                typed(results, Field::Read, "Temperature read", degrees, shared),
                typed(results, Field::Attended, "Hands-on", "min, empty: as planned", shared),
            ],
            shared,
        ),
        typed(results, Field::Note, "Note", "", shared),
        refusal,
    ]
    .spacing(space::TWO);
    // Many pieces must not push the buttons out of sight.
    let room = (shared.size.height - 210.0).max(140.0);
    column![
        widget::large("What came of it"),
        container(scrollable(body).spacing(space::HALF).style(theme::scroll)).max_height(room),
        words::buttons([
            quiet_button("Leave it in the heat").on_press(Message::Close).into(),
            primary("Write it down").on_press(Message::WriteDown).into(),
        ]),
    ]
    .spacing(space::TWO)
    .into()
}

fn typed<'a>(
    results: &'a Results,
    which: Field,
    label: &'a str,
    hint: &'a str,
    shared: &'a Shared,
) -> Element<'a, Message> {
    let mut made = field(label, results.fields.text(which))
        .id(which.id())
        .error(results.problem(which, &shared.preferences))
        .on_input(move |text| Message::Results(Change::Typed(which, text)))
        .on_submit(Message::WriteDown);
    if !hint.is_empty() {
        made = made.hint(hint);
    }
    made.into()
}

/// Pieces with what came of each.
pub(super) fn rows<'a>(
    rows: &'a [Row],
    shared: &Shared,
    on: impl Fn(Change) -> Message + Copy + 'static,
) -> Element<'a, Message> {
    let rows = rows.iter().enumerate().map(|(place, of)| row_of(place, of, shared, on));
    Column::with_children(rows).spacing(space::ONE + space::HALF).into()
}

fn row_of<'a>(
    place: usize,
    of: &'a Row,
    shared: &Shared,
    on: impl Fn(Change) -> Message + Copy + 'static,
) -> Element<'a, Message> {
    let ways = [(Came::Good, "Good"), (Came::Again, "Once more"), (Came::Lost, "Lost")];
    let came = choice("", ways, Some(&of.came), move |came| on(Change::Came(place, came)));
    let name = widget::strong(of.words.as_str());
    let came: Element<'a, Message> = if shared.size.width < 620.0 {
        column![name, came].spacing(space::HALF).into()
    } else {
        row![name.width(Length::Fill), came].spacing(space::TWO).align_y(Alignment::Center).into()
    };
    let lost = (of.came == Came::Lost).then(|| {
        let causes = LossCause::ALL.map(|cause| (cause, cause.words()));
        let unusual = Chosen::from(of.kind == LossKind::Abnormal);
        column![
            choice("", causes, Some(&of.cause), move |cause| on(Change::Cause(place, cause))),
            tick("Not a usual loss: kept out of the cost of the others", unusual, Some(on(Change::Kind(place)))),
        ]
        .spacing(space::HALF)
    });
    column![came, lost].spacing(space::HALF).into()
}
