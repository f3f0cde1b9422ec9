//! How the item in hand looks: what it is, its movements with their running balance, what is left of its lots.

use super::detail::{LedgerRow, Lot};
use super::{Message, Page, State, words};
use crate::studio::MovementKind;
use crate::window::Shared;
use crate::window::shortcut::RoomName;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::{self, Column, Mark, Press, link, listing, panel, primary, quiet_button};
use iced::widget::{column, container, responsive, row, scrollable};
use iced::{Alignment, Element, Length};

/// The item in hand on a page of its own.
pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let Some(item) = state.item(shared) else {
        return container(widget::empty(
            "This item is not in the book",
            "It may have been taken back by an undo.",
            Some(quiet_button("To the list").on_press(Message::Page(Page::List)).into()),
        ))
        .padding(space::THREE)
        .into();
    };
    let head = column![
        link("‹ Stock").on_press(Message::Page(Page::List)),
        row![
            widget::title(item.item.name.as_str()),
            container(widget::quiet(item.item.reference.as_str())).padding(iced::padding::top(space::ONE))
        ]
        .spacing(space::TWO)
        .wrap(),
        widget::body(state.sentence.as_str()),
    ]
    .spacing(space::HALF);
    let caution = item
        .item
        .lead_bearing
        .then(|| widget::caution_line(Mark::Caution, words::LEAD, Some(words::LEAD_ADVICE.to_owned())));
    let sheet = container(movements(state)).padding([space::HALF, space::ONE]).style(theme::sheet);
    let hint = state.traced.is_none().then(|| {
        widget::small("Press a movement to follow it: from a lot to all it went into, from an issue back to its lots.")
    });
    let first = column![followed(state, shared), facts(state)].spacing(space::TWO).width(Length::Fill);
    let second = column![lots(state), jars(state)].spacing(space::TWO).width(Length::Fill);
    let below: Element<'_, Message> = if shared.is_narrow() {
        column![first, second].spacing(space::TWO).into()
    } else {
        row![first, second].spacing(space::TWO).into()
    };
    let height = (shared.size.height * 0.45).clamp(280.0, 560.0);
    let ledger = column![sheet.height(height), hint].spacing(space::HALF);
    let body = column![head, buttons(state, shared), caution, ledger, below].spacing(space::TWO);
    let edge = if shared.is_narrow() { space::TWO } else { space::THREE };
    scrollable(body.padding(edge)).height(Length::Fill).style(theme::scroll).into()
}

/// The item in hand below the list.
pub(super) fn below<'a>(state: &'a State, shared: &'a Shared) -> Option<Element<'a, Message>> {
    let item = state.item(shared)?;
    let lead = item
        .item
        .lead_bearing
        .then(|| widget::caution_line(Mark::Caution, words::LEAD, Some(words::LEAD_BRIEF.to_owned())));
    // Three movements in sight, more where there is room.
    let height = if shared.size.height > 1000.0 { 300.0 } else { 150.0 };
    let head = column![
        row![
            widget::strong(item.item.name.as_str()).width(Length::Fill),
            link("Open").on_press(Message::Page(Page::Item)),
        ],
        widget::small(state.sentence.as_str()),
    ];
    Some(
        container(
            column![head, lead, buttons(state, shared), container(movements(state)).height(Length::Fixed(height))]
                .spacing(space::ONE),
        )
        .padding([space::ONE, space::TWO])
        .width(Length::Fill)
        .style(theme::sheet)
        .into(),
    )
}

/// What can be done with it.
fn buttons<'a>(state: &State, shared: &Shared) -> Element<'a, Message> {
    let can = !shared.read_only() && state.chosen.is_some();
    let receive =
        primary(words::verb(MovementKind::Receipt)).on_press_maybe(can.then_some(Message::Move(MovementKind::Receipt)));
    let others = MovementKind::ALL
        .into_iter()
        .filter(|kind| *kind != MovementKind::Receipt)
        .map(|kind| quiet_button(words::verb(kind)).on_press_maybe(can.then_some(Message::Move(kind))).into());
    let edit = quiet_button("Change it").on_press_maybe(can.then_some(Message::Edit));
    let label = quiet_button("Its label").on_press_maybe(state.chosen.is_some().then_some(Message::Label));
    iced::widget::Row::with_children(std::iter::once(receive.into()).chain(others).chain([edit.into(), label.into()]))
        .spacing(space::ONE)
        .wrap()
        .vertical_spacing(space::ONE)
        .into()
}

/// Its movements with the balance after each.
fn movements(state: &State) -> Element<'_, Message> {
    let Some(detail) = state.detail.as_ref().filter(|detail| Some(detail.item) == state.chosen) else {
        return container(widget::small("Reading its movements …")).padding(space::ONE).into();
    };
    if let Some(trouble) = &detail.trouble {
        return container(widget::caution_line(Mark::Stop, trouble.as_str(), None)).padding(space::ONE).into();
    }
    if detail.rows.is_empty() {
        return container(widget::quiet("Nothing has moved yet. Receive its first lot with what it cost, landed."))
            .padding(space::ONE)
            .into();
    }
    responsive(move |area| {
        let (parted, valued, noted) = (area.width > 900.0, area.width > 520.0, area.width > 700.0);
        let mut columns: Vec<Column<'_, LedgerRow, Message>> = vec![
            Column::words("Date", 92, |row: &LedgerRow| row.date.as_str()),
            Column::words("What", 88, |row: &LedgerRow| row.kind).unsorted(),
        ];
        if parted {
            columns.push(Column::figures("In", 84, |row: &LedgerRow| row.come.as_str()).unsorted());
            columns.push(Column::figures("Out", 84, |row: &LedgerRow| row.gone.as_str()).unsorted());
        } else {
            columns.push(Column::figures("In or out", 92, |row: &LedgerRow| row.quantity.as_str()).unsorted());
        }
        columns.push(Column::figures("On hand after", 96, |row: &LedgerRow| row.on_hand.as_str()).unsorted());
        if valued {
            columns.push(Column::figures("Value in or out", 100, |row: &LedgerRow| row.cost.as_str()).unsorted());
            columns.push(Column::figures("Value after", 92, |row: &LedgerRow| row.value.as_str()).unsorted());
        }
        if parted {
            columns.push(Column::words("Lot", 84, |row: &LedgerRow| row.lot.as_str()).unsorted());
        }
        if noted {
            columns.push(Column::words("Note", Length::Fill, |row: &LedgerRow| row.note.as_str()).unsorted());
        }
        listing::listing(&state.ledger, columns, &detail.rows, Message::Ledger)
    })
    .into()
}

/// The movement that is followed, forward or back.
fn followed<'a>(state: &'a State, shared: &Shared) -> Option<Element<'a, Message>> {
    let traced = state.traced.as_ref()?;
    let steps = traced.steps.iter().map(|step| {
        let line = row![widget::body(step.words.as_str()).width(Length::Fill), widget::amount(step.quantity.as_str())]
            .spacing(space::ONE)
            .align_y(Alignment::Center);
        pressed(line.into(), Message::Trace(Some(step.to)), false)
    });
    let way = (!traced.way.is_empty()).then(|| widget::strong(traced.way));
    let corrections = traced.corrections.iter().map(|line| widget::small(line.as_str()).into());
    let corrected = (!traced.corrections.is_empty()).then(|| widget::strong("Its price was corrected"));
    let correct = traced
        .lot
        .filter(|_| !shared.read_only())
        .map(|lot| row![quiet_button("Correct its price").on_press(Message::Correct(lot))]);
    let close = link("Close").on_press(Message::Trace(None));
    Some(widget::panel_with(
        traced.title.as_str(),
        "",
        close,
        column![
            widget::body(traced.sentence.as_str()),
            way,
            iced::widget::Column::with_children(steps),
            corrected,
            iced::widget::Column::with_children(corrections),
            correct
        ]
        .spacing(space::ONE),
    ))
}

/// A line that can be pressed.
fn pressed<'a>(line: Element<'a, Message>, message: Message, chosen: bool) -> Element<'a, Message> {
    Press::new(line)
        .on_press(message)
        .align(Alignment::Start)
        .width(Length::Fill)
        .padding([space::HALF, space::HALF])
        .style(theme::row(Chosen::from(chosen)))
        .into()
}

/// What is left of each lot, and what it cost.
fn lots(state: &State) -> Option<Element<'_, Message>> {
    let detail = state.detail.as_ref().filter(|detail| Some(detail.item) == state.chosen && !detail.lots.is_empty())?;
    let line = |lot: &'_ Lot| -> Element<'_, Message> {
        let words = column![widget::small(lot.words.clone()), widget::body(lot.line.clone())].into();
        let chosen = state.traced.as_ref().is_some_and(|traced| Some(traced.id) == lot.movement);
        pressed(words, Message::Trace(lot.movement), chosen)
    };
    Some(panel(
        "Lots left",
        "oldest first; press one to follow it or to correct its price",
        iced::widget::Column::with_children(detail.lots.iter().map(line)).spacing(space::HALF),
    ))
}

/// The jars it is kept in.
fn jars(state: &State) -> Option<Element<'_, Message>> {
    if state.jars.is_empty() {
        return None;
    }
    let lines = state
        .jars
        .iter()
        .map(|line| column![widget::small(line.what.as_str()), widget::body(line.amount.as_str())].into());
    Some(widget::panel_with(
        "Jars",
        "what each held when it was weighed last",
        link("Weigh them").on_press(Message::Enter(RoomName::Weighing)),
        iced::widget::Column::with_children(lines).spacing(space::ONE),
    ))
}

/// Where it comes from and stands.
fn facts(state: &State) -> Option<Element<'_, Message>> {
    if state.facts.is_empty() {
        return None;
    }
    let lines = state
        .facts
        .iter()
        .map(|line| column![widget::small(line.what.as_str()), widget::body(line.amount.as_str())].into());
    Some(panel("What is known of it", "", iced::widget::Column::with_children(lines).spacing(space::ONE)))
}
