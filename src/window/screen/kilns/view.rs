//! How the kilns look.

use super::figures::{self, DayRow, Figures};
use super::{Message, Part, State};
use crate::kiln::fit::FEWEST_READINGS;
use crate::kiln::hours::{PartHours, Wearing};
use crate::measure::display;
use crate::studio::HeatSource;
use crate::window::Shared;
use crate::window::draw::kiln_day::Picture;
use crate::window::draw::share_bar::ShareBar;
use crate::window::screen::kiln::words;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::{self, Mark, Press, link, panel, panel_with, primary, quiet_button};
use iced::widget::{Column, Row, canvas, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    let can = !shared.read_only();
    let add = primary("Write a kiln down").on_press_maybe(can.then_some(Message::New));
    let tariff = quiet_button("Energy by time of day").on_press_maybe(can.then_some(Message::Tariff));
    let buttons = words::buttons([tariff.into(), add.into()]);
    let title: Element<'a, Message> = if shared.is_narrow() {
        column![widget::title("Kilns"), buttons].spacing(space::ONE).into()
    } else {
        let gap = iced::widget::space().width(Length::Fill);
        row![widget::title("Kilns"), gap, container(buttons).width(Length::Shrink)].align_y(Alignment::Center).into()
    };
    let head = column![link("‹ Kiln").on_press(Message::Back), title];
    if state.kilns.is_empty() {
        let advice = "Three measurements are enough: its power, how long it warms up, and how much of the time its \
                      elements are on at heat. From them follow the hottest it can hold and what a load costs. A torch \
                      needs nothing but a name.";
        let body = column![head, widget::empty("No kiln yet", advice, None)].spacing(space::TWO);
        return container(body).padding(room).into();
    }
    let kilns = state.kilns.iter().map(|(id, name, retired)| {
        let chosen = Chosen::from(state.chosen == Some(*id));
        let aside = retired.then(|| widget::small("set aside"));
        Press::new(row![widget::strong(name.as_str()), aside].spacing(space::ONE).align_y(Alignment::Center))
            .height(theme::TARGET)
            .style(theme::choice(chosen))
            .on_press(Message::Choose(*id))
            .into()
    });
    let kilns = Row::with_children(kilns).spacing(space::ONE).wrap();
    let Some(kiln) = state.chosen.and_then(|id| shared.snapshot.kiln(id)) else {
        return container(column![head, kilns].spacing(space::TWO)).padding(room).into();
    };
    let aside = if kiln.kiln.retired { "Take it back" } else { "Set aside" };
    let buttons = words::buttons([
        quiet_button("Change it").on_press_maybe(can.then_some(Message::Edit)).into(),
        link(aside).on_press_maybe(can.then_some(Message::SetAside)).into(),
    ]);
    let note = (!kiln.kiln.note.is_empty()).then(|| widget::body(kiln.kiln.note.as_str()));
    let body: Element<'a, Message> = match &kiln.kiln.heat {
        HeatSource::Torch => column![
            note,
            widget::quiet("A torch has no kWh, no shelf and no wear: one piece at a time, at the bench."),
            words::torch(),
            buttons
        ]
        .spacing(space::TWO)
        .into(),
        HeatSource::Electric(_) => {
            let left = column![drawn(state), days(state, can)].spacing(space::TWO);
            let right = column![
                note,
                state.figures.as_ref().map(|figures| follows(figures, buttons)),
                worn(state, shared, can),
                fit(state, shared, can)
            ]
            .spacing(space::TWO);
            words::columns(left.into(), right.into(), shared)
        }
    };
    scrollable(container(column![head, kilns, body].spacing(space::TWO)).padding(room).width(Length::Fill))
        .height(Length::Fill)
        .style(theme::scroll)
        .into()
}

fn follows<'a>(of: &'a Figures, buttons: Element<'a, Message>) -> Element<'a, Message> {
    let lines = of.lines.iter().map(|[what, figure, how]| {
        let how = (!how.is_empty()).then(|| widget::small(how.as_str()));
        column![
            row![widget::body(what.as_str()).width(Length::Fill), widget::amount(figure.as_str()).font(theme::STRONG)]
                .spacing(space::TWO),
            how
        ]
        .into()
    });
    let trouble = of.trouble.as_deref().map(|why| widget::caution_line(Mark::Stop, why, None));
    let from = if of.fitted { "from its meter, as accepted" } else { "from its three measurements" };
    panel(
        "What follows",
        from,
        column![Column::with_children(lines).spacing(space::ONE), trouble, buttons].spacing(space::TWO),
    )
}

fn worn<'a>(state: &'a State, shared: &'a Shared, can: bool) -> Option<Element<'a, Message>> {
    let hours = state.hours.as_ref()?;
    let part = |name: &'static str, of: &PartHours, part: Part| {
        let (words, used, wearing) = figures::hours(of, &shared.preferences);
        let told = match wearing {
            Wearing::Fine => None,
            Wearing::Soon => Some(widget::caution_line(
                Mark::Caution,
                "Nearly used up",
                Some("Have the next one at hand.".to_owned()),
            )),
            Wearing::Due => Some(widget::caution_line(
                Mark::Stop,
                "Used up",
                Some("Renew it: with the power off at the wall and the kiln cold.".to_owned()),
            )),
        };
        let renewed = link("Renewed today").on_press_maybe(can.then_some(Message::Renewed(part)));
        column![
            row![widget::strong(name).width(Length::Fill), renewed].align_y(Alignment::Center),
            Element::from(ShareBar::new(used)),
            widget::small(words),
            told
        ]
        .spacing(space::HALF)
    };
    Some(panel(
        "Wear",
        "",
        column![
            part("Elements", &hours.elements, Part::Elements),
            part("Thermocouple", &hours.thermocouple, Part::Thermocouple)
        ]
        .spacing(space::TWO),
    ))
}

fn fit<'a>(state: &'a State, shared: &'a Shared, can: bool) -> Element<'a, Message> {
    let fitted = state.figures.as_ref().is_some_and(|figures| figures.fitted);
    let back = fitted.then(|| link("Use the three measurements again").on_press_maybe(can.then_some(Message::DropFit)));
    let Some(fit) = &state.fit else {
        let words = format!(
            "{} of at least {FEWEST_READINGS} days with a meter reading. Write down what the meter says of a day, and \
             the kiln's figures are fitted to it.",
            state.readings.len()
        );
        return panel("By the meter", "", column![widget::quiet(words), back].spacing(space::ONE));
    };
    let rows = state.fit_words.iter().map(|cells| {
        let cells = cells.iter().map(|cell| widget::small(cell.as_str()).width(Length::Fill).into());
        Row::with_children(cells).spacing(space::ONE).into()
    });
    let heads = ["Day", "Meter", "Fit", "Apart"].map(|head| widget::strong(head).width(Length::Fill).into());
    let number = |value| display::number(value, 0, 6, shared.preferences.numbers);
    let words = format!(
        "{} kWh/K, {} kW/K, {} kWh at each opening; the readings lie {} from it in all.",
        number(fit.capacity_kwh_per_k),
        number(fit.loss_kw_per_k),
        number(fit.door_kwh),
        words::kwh(fit.norm_kwh, &shared.preferences)
    );
    let accept = quiet_button("Use these figures").on_press_maybe(can.then_some(Message::AcceptFit));
    panel(
        "By the meter",
        "nothing changes until you accept it",
        column![
            Row::with_children(heads).spacing(space::ONE),
            Column::with_children(rows),
            widget::small(words),
            accept,
            back
        ]
        .spacing(space::ONE),
    )
}

fn drawn(state: &State) -> Option<Element<'_, Message>> {
    let day = state.drawn.as_ref()?;
    let picture = canvas(Picture::new(&day.picture, day.version)).width(Length::Fill).height(140);
    let cost = widget::small(day.cost.as_str());
    Some(panel_with("The day", day.date.to_string(), widget::small(day.summary.as_str()), column![picture, cost]))
}

fn days(state: &State, can: bool) -> Element<'_, Message> {
    let rows = state.days.iter().enumerate().map(|(place, of)| day(place, of, can));
    let none = state.days.is_empty().then(|| widget::quiet("No day and no load in these weeks."));
    let add = quiet_button("Write a day down").on_press_maybe(can.then_some(Message::Day(None)));
    let earlier = link("Further back").on_press(Message::Earlier);
    panel_with(
        "Days",
        "",
        words::buttons([earlier.into(), add.into()]),
        column![none, Column::with_children(rows).spacing(space::HALF)].spacing(space::ONE),
    )
}

fn day(place: usize, of: &DayRow, can: bool) -> Element<'_, Message> {
    let meter = of.metered.then(|| container(widget::small("meter")).padding([1.0, 6.0]).style(theme::chip));
    let words = column![
        row![widget::strong(of.date.as_str()), widget::body(of.loads.as_str()), widget::body(of.kwh.as_str()), meter]
            .spacing(space::TWO)
            .align_y(Alignment::Center),
        widget::small(of.cost.as_str()),
    ];
    let change = of.id.map(|id| link("Change").on_press_maybe(can.then_some(Message::Day(Some(id)))));
    let show = Press::new(words)
        .on_press(Message::Draw(place))
        .align(Alignment::Start)
        .width(Length::Fill)
        .style(theme::row(Chosen::No));
    row![show, change].align_y(Alignment::Center).into()
}
