//! How the item in hand looks: what it is, its movements with their running balance, what is left of its lots.

use super::detail::{LedgerRow, Lot};
use super::{Message, Page, State, words};
use crate::studio::MovementKind;
use crate::window::Shared;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Column, Mark, link, listing, panel, primary, quiet_button};
use iced::widget::{column, container, responsive, row, scrollable};
use iced::{Element, Length};

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
        link("All stock").on_press(Message::Page(Page::List)),
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
    let side = column![lots(state), facts(state)].spacing(space::TWO);
    let sheet = container(movements(state)).padding([space::HALF, space::ONE]).style(theme::sheet);
    if shared.is_narrow() {
        let body = column![head, buttons(state, shared), caution, sheet.height(480), side]
            .spacing(space::TWO)
            .padding(space::TWO);
        return scrollable(body).style(theme::scroll).into();
    }
    let side = scrollable(side).style(theme::scroll).height(Length::Fill).width(300);
    column![
        head,
        buttons(state, shared),
        caution,
        row![sheet.width(Length::Fill).height(Length::Fill), side].spacing(space::TWO).height(Length::Fill)
    ]
    .spacing(space::TWO)
    .padding(space::THREE)
    .into()
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
    iced::widget::Row::with_children(std::iter::once(receive.into()).chain(others).chain([edit.into()]))
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
        let mut columns: Vec<Column<'_, LedgerRow, Message>> = vec![
            Column::words("Date", 92, |row: &LedgerRow| row.date.as_str()),
            Column::words("What", 84, |row: &LedgerRow| row.kind).unsorted(),
            Column::figures("Quantity", 92, |row: &LedgerRow| row.quantity.as_str()).unsorted(),
        ];
        if area.width > 520.0 {
            columns.push(Column::figures("Cost", 92, |row: &LedgerRow| row.cost.as_str()).unsorted());
        }
        columns.push(Column::figures("On hand after", 96, |row: &LedgerRow| row.on_hand.as_str()).unsorted());
        if area.width > 520.0 {
            columns.push(Column::figures("Value after", 92, |row: &LedgerRow| row.value.as_str()).unsorted());
        }
        if area.width > 700.0 {
            columns.push(Column::words("Note", Length::Fill, |row: &LedgerRow| row.note.as_str()).unsorted());
        }
        listing::listing(&state.ledger, columns, &detail.rows, Message::Ledger)
    })
    .into()
}

/// What is left of each lot.
fn lots(state: &State) -> Option<Element<'_, Message>> {
    let detail = state.detail.as_ref().filter(|detail| Some(detail.item) == state.chosen && !detail.lots.is_empty())?;
    let line = |lot: &'_ Lot| -> Element<'_, Message> {
        let left = if lot.value.is_empty() { lot.left.clone() } else { format!("{} · {}", lot.left, lot.value) };
        column![widget::small(lot.words.clone()), widget::amount(left)].into()
    };
    Some(panel(
        "Lots left",
        "oldest first",
        iced::widget::Column::with_children(detail.lots.iter().map(line)).spacing(space::ONE),
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
