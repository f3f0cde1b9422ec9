//! How a load that was fired already is written down.

use super::logging::{Change, Field, Logging};
use super::{Message, State, results_view, words};
use crate::measure::display;
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::{self, Mark, Press, choice, field, link, panel, primary, quiet_button};
use iced::widget::{Row, column, container, scrollable};
use iced::{Element, Length};

/// The page of the form.
pub(super) fn page<'a>(state: &'a State, form: &'a Logging, shared: &'a Shared) -> Element<'a, Message> {
    let typed = |which: Field, label: &'a str, hint: &'a str, example: &'a str| -> Element<'a, Message> {
        let mut made = field(label, form.fields.text(which))
            .id(which.id())
            .placeholder(example)
            .error(form.problem(which, &shared.preferences))
            .on_input(move |text| Message::Logging(Change::Typed(which, text)))
            .on_submit(Message::WriteDown);
        if !hint.is_empty() {
            made = made.hint(hint);
        }
        made.into()
    };
    let degrees = display::temperature_label(&shared.preferences);
    let kilns =
        choice("Kiln", state.loading.kilns.iter().map(|(id, name)| (*id, name.as_str())), form.kiln.as_ref(), |kiln| {
            Message::Logging(Change::Kiln(kiln))
        });
    let times = words::beside(
        vec![
            typed(Field::Day, "Day", "", "2026-03-14"),
            typed(Field::Closed, "Door closed", "", "14:08"),
            typed(Field::Opened, "Door opened", "", "14:10:15"),
        ],
        shared,
    );
    let heat = words::beside(
        vec![
            typed(Field::Set, "Set to", degrees, ""),
            typed(Field::Read, "Read", degrees, ""),
            typed(Field::Attended, "Hands-on", "min, empty: as planned", ""),
        ],
        shared,
    );
    let picks = form.waiting.iter().map(|(id, words)| {
        let chosen = Chosen::from(form.picked.contains(id));
        Press::new(widget::body(words.as_str()))
            .height(theme::TARGET)
            .style(theme::choice(chosen))
            .on_press(Message::Logging(Change::Pick(*id)))
            .into()
    });
    let none = form.waiting.is_empty().then(|| widget::quiet("No piece waits for a firing."));
    let picks = Row::with_children(picks).spacing(space::HALF).wrap().vertical_spacing(space::HALF);
    let came = (!form.rows.is_empty()).then(|| {
        panel(
            "What came of it",
            "",
            results_view::rows(&form.rows, shared, |change| Message::Logging(Change::Results(change))),
        )
    });
    let refusal = form.refusal.as_deref().map(|why| widget::caution_line(Mark::Stop, why, None));
    let buttons = words::buttons([
        quiet_button("Leave it").on_press(Message::Close).into(),
        primary("Write it down").on_press(Message::WriteDown).into(),
    ]);
    let body = column![
        link("‹ Kiln log").on_press(Message::Close),
        widget::title("A load that was fired"),
        panel("In the heat", "", column![kilns, times, heat].spacing(space::TWO)),
        panel("Pieces that were in it", "press each", column![none, picks].spacing(space::ONE)),
        came,
        panel(
            "Words",
            "",
            column![
                typed(Field::Override, "If it was fired past a stop, type “fire anyway”", "kept in the log", ""),
                typed(Field::Note, "Note", "", "")
            ]
            .spacing(space::ONE)
        ),
        refusal,
        buttons,
    ]
    .spacing(space::TWO)
    .max_width(960);
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    scrollable(container(body).padding(room).width(Length::Fill)).height(Length::Fill).style(theme::scroll).into()
}
