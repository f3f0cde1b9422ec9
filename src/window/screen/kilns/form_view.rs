//! How the form of a kiln looks, and that of a kiln day.

use super::day_form::{self, DayForm};
use super::form::{Field, Form};
use super::{Heats, Message};
use crate::measure::display;
use crate::studio::ShareLoadBy;
use crate::window::Shared;
use crate::window::screen::kiln::words;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Mark, choice, field, link, modal, panel, primary, quiet_button};
use iced::widget::{column, container, scrollable};
use iced::{Element, Length};

/// The page of the form.
pub(super) fn page<'a>(form: &'a Form, shared: &'a Shared) -> Element<'a, Message> {
    let typed = |which: Field, label: &'a str, hint: &'a str, example: &'a str| -> Element<'a, Message> {
        let mut made = field(label, form.fields.text(which))
            .id(which.id())
            .placeholder(example)
            .error(form.problem(which, &shared.preferences))
            .on_input(move |text| Message::Typed(which, text))
            .on_submit(Message::Save);
        if !hint.is_empty() {
            made = made.hint(hint);
        }
        made.into()
    };
    let degrees = display::temperature_label(&shared.preferences);
    let heats = [(Heats::Electric, "an electric kiln"), (Heats::Torch, "a torch")];
    let about = column![
        choice("What heats", heats, Some(&form.heats), Message::Heats),
        typed(Field::Name, "Name", "", "e.g. the small kiln"),
        typed(Field::Note, "Note", "", ""),
    ]
    .spacing(space::TWO);
    let electric = (form.heats == Heats::Electric).then(|| {
        let measured = column![
            widget::small(
                "Heat it from cold at full power to the temperature you work at and note the minutes; then let it hold \
                 for a while and note for how much of the time the elements are on."
            ),
            words::beside(
                vec![
                    typed(Field::Power, "Rated power", "kW", "2.4"),
                    typed(Field::WarmUp, "Warms up in", "min:s", "38"),
                    typed(Field::Working, "To", degrees, ""),
                    typed(Field::Duty, "Elements on at it", "of the time", "45 %"),
                ],
                shared
            ),
        ]
        .spacing(space::TWO);
        let rest = column![
            words::beside(
                vec![
                    typed(Field::Rated, "Maker's maximum", degrees, ""),
                    typed(Field::Room, "The room", degrees, ""),
                    typed(Field::Shelf, "Usable shelf", "cm²", "400"),
                ],
                shared
            ),
            words::beside(
                vec![
                    typed(Field::Furniture, "Shelf and trivets of a load", "", "250 g"),
                    typed(Field::Door, "Lost at each opening", "kWh", "0.05"),
                ],
                shared
            ),
            words::beside(
                vec![
                    typed(Field::Elements, "Elements renewed", "", "2026-03-14"),
                    typed(Field::Thermocouple, "Thermocouple renewed", "", "2026-03-14"),
                ],
                shared
            ),
            choice(
                "A load's cost is shared by its pieces",
                [(ShareLoadBy::Area, "by their area on the shelf"), (ShareLoadBy::Piece, "equally")],
                Some(&form.share_by),
                Message::Share
            ),
        ]
        .spacing(space::TWO);
        column![panel("Three measurements", "", measured), panel("The kiln", "", rest)].spacing(space::TWO)
    });
    let caution = if form.heats == Heats::Torch { words::torch() } else { words::hot_kiln() };
    let refusal = form.refusal.as_deref().map(|why| widget::caution_line(Mark::Stop, why, None));
    let body = column![
        link("‹ Kilns").on_press(Message::Close),
        widget::title(form.title.as_str()),
        panel("What it is", "", about),
        electric,
        caution,
        refusal,
        words::buttons([
            quiet_button("Leave it").on_press(Message::Close).into(),
            primary("Save the kiln").on_press(Message::Save).into()
        ]),
    ]
    .spacing(space::TWO)
    .max_width(960);
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    scrollable(container(body).padding(room).width(Length::Fill)).height(Length::Fill).style(theme::scroll).into()
}

/// The sheet of a kiln day.
pub(super) fn day<'a>(form: &'a DayForm, shared: &'a Shared) -> Element<'a, Message> {
    use day_form::Field;
    let typed = |which: Field, label: &'a str, hint: &'a str, example: &'a str| -> Element<'a, Message> {
        let mut made = field(label, form.fields.text(which))
            .id(which.id())
            .placeholder(example)
            .error(form.problem(which, &shared.preferences))
            .on_input(move |text| Message::DayTyped(which, text))
            .on_submit(Message::Save);
        if !hint.is_empty() {
            made = made.hint(hint);
        }
        made.into()
    };
    let degrees = display::temperature_label(&shared.preferences);
    let refusal = form.refusal.as_deref().map(|why| widget::caution_line(Mark::Stop, why, None));
    let body = column![
        words::beside(
            vec![typed(Field::Date, "Day", "", "2026-03-14"), typed(Field::On, "Switched on", "", "9:00")],
            shared
        ),
        words::beside(
            vec![
                typed(Field::Hot, "At heat", "empty: not noted", "9:40"),
                typed(Field::Off, "Switched off", "empty: not yet", "15:30")
            ],
            shared
        ),
        words::beside(
            vec![
                typed(Field::Hold, "Holds between loads", degrees, ""),
                typed(Field::Meter, "The meter says", "kWh, if read", "")
            ],
            shared
        ),
        typed(Field::Note, "Note", "", ""),
        refusal,
    ]
    .spacing(space::TWO);
    modal::sheet(
        "A kiln day",
        body,
        [
            quiet_button("Leave it").on_press(Message::Close).into(),
            primary("Save the day").on_press(Message::Save).into(),
        ],
    )
}
