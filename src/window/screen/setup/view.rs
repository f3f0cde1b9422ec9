//! How Setup looks.

use super::{Choice, Message, Name, State};
use crate::measure::{Currency, LengthUnit, MassUnit, TemperatureUnit, ThicknessUnit};
use crate::studio::{Language, ValuationMethod};
use crate::window::Shared;
use crate::window::machine::Look;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Entry, Mark, choice, field, modal, path_field};
use iced::widget::{Column, Row, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

/// The page.
pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let left = column![studio(state, shared), units(shared), stock(shared), period(state, shared)]
        .spacing(space::TWO)
        .width(Length::Fill);
    let right = column![look(shared), book(state, shared), backups(state, shared), history(state, shared)]
        .spacing(space::TWO)
        .width(Length::Fill);
    let panels: Element<'_, Message> = if shared.is_narrow() {
        column![left, right].spacing(space::TWO).into()
    } else {
        row![left, right].spacing(space::THREE).into()
    };
    let page = column![widget::title("Setup"), panels].spacing(space::TWO + space::HALF);
    scrollable(container(page).padding(iced::padding::all(space::THREE).left(space::ONE)))
        .height(Length::Fill)
        .style(theme::scroll)
        .into()
}

/// The question before a restore.
pub(super) fn restoring(words: &str) -> Element<'_, Message> {
    let body = column![
        widget::strong(words),
        widget::body(
            "The book goes back to what it was then. A copy of it as it is now is kept among the backups, so this can \
             be put right again."
        )
    ]
    .spacing(space::ONE);
    modal::sheet(
        "Restore this backup?",
        body,
        [
            widget::quiet_button("Keep the book as it is").on_press(Message::Keep).into(),
            widget::danger("Restore the backup").on_press(Message::RestoreNow).into(),
        ],
    )
}

fn typed<'a>(
    name: Name,
    label: &'a str,
    entry: &'a Entry,
    shared: &Shared,
    with: impl FnOnce(widget::Field<'a, Message>) -> widget::Field<'a, Message>,
) -> Element<'a, Message> {
    let base = with(field(label, entry.text()));
    if shared.read_only() {
        base.into()
    } else {
        base.on_input(move |text| Message::Typed(name, text)).on_submit(Message::Accept).into()
    }
}

fn studio<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let accept = widget::primary("Accept")
        .on_press_maybe((state.is_changed() && !shared.read_only()).then_some(Message::Accept));
    let currency = state.typed_currency();
    widget::panel(
        "Studio",
        "printed on tags and care cards",
        column![
            typed(Name::Studio, "Name", &state.studio, shared, |field| field),
            typed(Name::Place, "Town or address", &state.place, shared, |field| field),
            typed(Name::Care, "Your words for care cards", &state.care, shared, |field| field),
            typed(Name::Story, "The maker's story", &state.story, shared, |field| {
                field.hint("for cards and certificates that have a place for it")
            }),
            chosen(
                "Language of papers",
                Language::ALL.map(|language| (language, language.name())),
                shared.settings().paper_language,
                Choice::Language,
            ),
            typed(Name::Currency, "Currency", &state.currency, shared, |field| {
                field.hint(currency.clone().map_or("three letters, ISO 4217", Currency::name)).error(currency.err())
            }),
            row![
                typed(Name::Fair, "The next fair", &state.fair, shared, |field| field.placeholder("its name")),
                typed(Name::FairDate, "Its first day", &state.fair_date, shared, |field| {
                    field.placeholder("2026-10-24").error(state.typed_fair_date().err())
                })
            ]
            .spacing(space::TWO),
            accept
        ]
        .spacing(space::ONE + space::HALF),
    )
}

fn chosen<'a, Value: PartialEq + Copy + 'a>(
    label: &'a str,
    options: impl IntoIterator<Item = (Value, &'a str)>,
    now: Value,
    wrap: impl Fn(Value) -> Choice + 'a,
) -> Element<'a, Message> {
    choice(label, options, Some(&now), move |value| Message::Chosen(wrap(value)))
}

fn units(shared: &Shared) -> Element<'_, Message> {
    let settings = shared.settings();
    widget::panel(
        "Units",
        "how values are shown; any unit can be typed anywhere",
        column![
            chosen(
                "Temperature",
                [(TemperatureUnit::Celsius, "°C"), (TemperatureUnit::Fahrenheit, "°F")],
                settings.temperature,
                Choice::Temperature,
            ),
            chosen(
                "Length",
                [(LengthUnit::Millimetre, "mm"), (LengthUnit::Inch, "inch")],
                settings.length,
                Choice::Length
            ),
            chosen("Mass", [(MassUnit::Gram, "g"), (MassUnit::Ounce, "oz")], settings.mass, Choice::Mass),
            chosen(
                "Thickness",
                [(ThicknessUnit::Gauge, "gauge"), (ThicknessUnit::Millimetre, "mm")],
                settings.thickness,
                Choice::Thickness,
            ),
            chosen("Decimal mark", [(false, "12.50"), (true, "12,50")], settings.decimal_comma, Choice::DecimalComma),
        ]
        .spacing(space::ONE + space::HALF),
    )
}

fn stock(shared: &Shared) -> Element<'_, Message> {
    let settings = shared.settings();
    widget::panel(
        "Stock and cost",
        "",
        column![
            chosen(
                "What leaves first",
                [
                    (ValuationMethod::Fifo, "The oldest lot (first in, first out)"),
                    (ValuationMethod::Average, "The moving average")
                ],
                settings.valuation,
                Choice::Valuation,
            ),
            chosen(
                "Designs are costed on",
                [(false, "The latest purchase"), (true, "What the stock on hand cost")],
                settings.price_on_book_cost,
                Choice::BookCost,
            ),
        ]
        .spacing(space::ONE + space::HALF),
    )
}

/// The period that is closed.
fn period<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let closed = shared.settings().closed_until;
    let can = !shared.read_only();
    let day = field("Closed up to and with", state.closed.text())
        .id("setup-closed")
        .placeholder("e.g. 2025-12-31")
        .hint("year-month-day")
        .error(state.closed_problem());
    let day: Element<'_, Message> = if can {
        day.on_input(|text| Message::Typed(Name::Closed, text)).on_submit(Message::ClosePeriod).into()
    } else {
        day.into()
    };
    let early = state.typed_closed().is_ok_and(|until| until >= shared.today).then(|| {
        widget::caution_line(
            Mark::Caution,
            "This day is not over",
            Some("Nothing could be written down for today once the period up to it is closed.".to_owned()),
        )
    });
    let buttons = Row::new()
        .push(widget::quiet_button("Close the period").on_press_maybe(can.then_some(Message::ClosePeriod)))
        .push(closed.map(|_| widget::quiet_button("Open it again").on_press_maybe(can.then_some(Message::OpenPeriod))))
        .spacing(space::ONE)
        .wrap();
    widget::panel(
        "Closed period",
        closed.map_or_else(|| "none is closed".to_owned(), |until| format!("up to {until}")),
        column![
            widget::small(
                "Nothing dated in it may change stock: no receipt, issue, count or file brought in, no corrected price of \
                 a lot that came in it, no other way of valuing stock. Close what was handed in or taxed; an accountant \
                 decides which day. Opening it again can be undone, and stands in the history."
            ),
            day,
            early,
            buttons
        ]
        .spacing(space::ONE + space::HALF),
    )
}

fn look(shared: &Shared) -> Element<'_, Message> {
    widget::panel(
        "Look",
        "of this machine; F11 and F12 change the text too",
        column![
            choice(
                "Light or dark",
                Look::ALL.into_iter().map(|look| (look, look.words())),
                Some(&shared.machine.look),
                Message::Look
            ),
            choice(
                "Text",
                [(100, "100 %"), (125, "125 %"), (150, "150 %"), (175, "175 %"), (200, "200 %")],
                Some(&shared.machine.text_percent),
                Message::Text,
            ),
        ]
        .spacing(space::ONE + space::HALF),
    )
}

fn book<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    widget::panel(
        "Book",
        "",
        column![
            widget::body(shared.path.display().to_string()),
            path_field(
                "Another book",
                state.other.text(),
                state.other_error.clone(),
                Message::Other,
                Some(Message::OpenOther),
                Some(Message::Browse),
            ),
            Row::new()
                .push(widget::quiet_button("Open it").on_press(Message::OpenOther))
                .push(widget::quiet_button("Make it new").on_press(Message::NewAt))
                .push(widget::link("First page").on_press(Message::FirstPage))
                .spacing(space::ONE)
                .wrap()
        ]
        .spacing(space::ONE + space::HALF),
    )
}

/// Most backups shown at once.
const MOST: usize = 6;

fn backups<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let can = !shared.read_only();
    let rows = state.backups.iter().take(MOST).map(|line| {
        row![
            widget::body(line.words.as_str()).width(Length::Fill),
            widget::link("Restore").on_press_maybe(can.then(|| Message::Restore(line.path.clone())))
        ]
        .spacing(space::ONE)
        .align_y(Alignment::Center)
        .into()
    });
    let found = state.checked.as_ref().map(|report| {
        let rest = report.checked.iter().map(|sentence| widget::small(sentence.as_str()).into());
        let wrong = report.problems.iter().map(|sentence| widget::caution_line(Mark::Stop, sentence.as_str(), None));
        let head = report.problems.is_empty().then(|| widget::caution_line(Mark::Good, "The book is sound", None));
        column![head, Column::with_children(wrong), Column::with_children(rest)].spacing(space::HALF)
    });
    widget::panel(
        "Backups",
        "one a day by itself, verified, beside the book",
        column![
            Column::with_children(rows),
            state.backups.is_empty().then(|| widget::quiet("None yet.")),
            Row::new()
                .push(widget::quiet_button("Back up now").on_press(Message::Backup))
                .push(widget::quiet_button("Check the book").on_press(Message::Check))
                .spacing(space::ONE)
                .wrap(),
            found
        ]
        .spacing(space::ONE),
    )
}

fn history<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let can = !shared.read_only();
    let undo = shared.snapshot.undo.as_ref().filter(|_| can).map(|_| Message::Undo);
    let redo = shared.snapshot.redo.as_ref().filter(|_| can).map(|_| Message::Redo);
    let rows = state.history.iter().take(20).map(|(at, name)| {
        row![widget::small(at.as_str()).width(136), widget::body(name.as_str()).width(Length::Fill)]
            .spacing(space::ONE)
            .into()
    });
    widget::panel_with(
        "History",
        "the latest actions",
        Row::new().push(widget::link("Undo").on_press_maybe(undo)).push(widget::link("Redo").on_press_maybe(redo)),
        column![
            Column::with_children(rows).spacing(space::HALF),
            state.history.is_empty().then(|| widget::quiet("Nothing was done in this book yet."))
        ],
    )
}
