//! How the tariff by time of day looks.

use super::Message;
use super::tariff::{Change, DAYS, Field, Of, Tariff};
use crate::measure::display;
use crate::window::Shared;
use crate::window::screen::kiln::words;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::{self, Mark, Press, field, link, panel, primary, quiet_button};
use iced::widget::{Row, column, container, scrollable};
use iced::{Element, Length};

/// The page.
pub(super) fn page<'a>(tariff: &'a Tariff, shared: &'a Shared) -> Element<'a, Message> {
    let usual = display::money_fine(shared.snapshot.rates.price_per_kwh.amount(), &shared.preferences);
    let bands = tariff.bands.iter().map(|band| {
        let typed = |of: Of, label: &'a str, example: &'a str| {
            typed(tariff, Field::Band(band.key, of), label, "", example, shared)
        };
        let days = DAYS.map(|(day, word)| {
            let chosen = Chosen::from(band.days.contains(&day));
            Press::new(widget::body(word))
                .height(theme::TARGET)
                .style(theme::choice(chosen))
                .on_press(Message::TariffChange(Change::Day(band.key, day)))
                .into()
        });
        let days = Row::with_children(days).spacing(space::HALF).wrap();
        let figures = words::beside(
            vec![
                typed(Of::Name, "Name", "night"),
                typed(Of::From, "From", "22:00"),
                typed(Of::To, "Up to", "6:00"),
                typed(Of::Price, "A kWh", ""),
            ],
            shared,
        );
        let remove = link("Take it out").on_press(Message::TariffChange(Change::Remove(band.key)));
        container(column![figures, days, remove].spacing(space::ONE))
            .padding(space::TWO)
            .width(Length::Fill)
            .style(theme::sheet)
            .into()
    });
    let none = tariff.bands.is_empty().then(|| widget::quiet("No band yet: energy costs the same at any time."));
    let add = quiet_button("Another band").on_press(Message::TariffChange(Change::Add));
    let degrees = display::temperature_label(&shared.preferences);
    let tolerances = words::beside(
        vec![
            typed(tariff, Field::Heat, "Heat, up or down", degrees, "", shared),
            typed(tariff, Field::Minutes, "Time, up or down", "min:s", "", shared),
        ],
        shared,
    );
    let refusal = tariff.refusal.as_deref().map(|why| widget::caution_line(Mark::Stop, why, None));
    let body = column![
        link("‹ Kilns").on_press(Message::Close),
        widget::title("Energy by time of day"),
        widget::body(format!(
            "Outside every band a kWh costs {usual}; it is set in Rates. Where two bands meet, the upper one holds."
        )),
        none,
        iced::widget::Column::with_children(bands).spacing(space::ONE),
        add,
        panel("Sharing a load", "how far a firing may lie from its plan so that pieces go in together", tolerances),
        refusal,
        words::buttons([
            quiet_button("Leave it").on_press(Message::Close).into(),
            primary("Save").on_press(Message::Save).into()
        ]),
    ]
    .spacing(space::TWO)
    .max_width(900);
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    scrollable(container(body).padding(room).width(Length::Fill)).height(Length::Fill).style(theme::scroll).into()
}

fn typed<'a>(
    tariff: &'a Tariff,
    which: Field,
    label: &'a str,
    hint: &'a str,
    example: &'a str,
    shared: &'a Shared,
) -> Element<'a, Message> {
    let mut made = field(label, tariff.fields.text(which))
        .id(which.id())
        .placeholder(example)
        .error(tariff.problem(which, &shared.preferences))
        .on_input(move |text| Message::TariffChange(Change::Typed(which, text)))
        .on_submit(Message::Save);
    if !hint.is_empty() {
        made = made.hint(hint);
    }
    made.into()
}
