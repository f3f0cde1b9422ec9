//! How a question over the page looks.

use super::Message;
use super::ask::{Ask, Change, Field, Kind};
use crate::studio::{LossCause, LossKind};
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::{self, Mark, Press, choice, danger, field, modal, primary, quiet_button};
use iced::Element;
use iced::widget::{Column, Row, column};

pub(super) fn sheet<'a>(ask: &'a Ask, shared: &'a Shared) -> Element<'a, Message> {
    let typed = |which: Field, label: &'a str, text: &'a str| {
        field(label, text)
            .id(which.id())
            .on_input(move |text| Message::Asked(Change::Typed(which, text)))
            .on_submit(Message::Answer)
    };
    let words = (!ask.label.is_empty()).then(|| Element::from(typed(Field::Words, ask.label, ask.words.text())));
    let minutes = ask.asks_minutes().then(|| {
        let field = typed(Field::Minutes, "Minutes", ask.minutes.text())
            .placeholder(if ask.kind == Kind::Time { "e.g. 40 or 1:15" } else { "those it ran" })
            .error(ask.minutes_problem(&shared.preferences))
            .width(220);
        Element::from(field)
    });
    let loss = (ask.kind == Kind::Lose).then(|| {
        causes(
            ask.cause,
            ask.usual,
            |cause| Message::Asked(Change::Cause(cause)),
            |kind| Message::Asked(Change::Kind(kind)),
        )
    });
    let choices: Element<'a, Message> = if ask.kind == Kind::Lose {
        let dots = ask.choices.iter().enumerate().map(|(place, of)| {
            Press::new(widget::strong(of.words.as_str()))
                .on_press(Message::Asked(Change::Pick(place)))
                .height(theme::TARGET + space::HALF)
                .padding([0.0, space::ONE + space::HALF])
                .style(theme::choice(Chosen::from(of.picked)))
                .into()
        });
        Row::with_children(dots).spacing(space::HALF).wrap().into()
    } else {
        let ticks = ask.choices.iter().enumerate().map(|(place, of)| {
            choice::tick(of.words.as_str(), Chosen::from(of.picked), Some(Message::Asked(Change::Pick(place))))
        });
        Column::with_children(ticks).into()
    };
    let refusal = ask.refusal.as_deref().map(|why| {
        widget::caution_line(Mark::Stop, why, Some("Nothing was changed; what you typed is still here.".to_owned()))
    });
    let body = column![widget::quiet(ask.advice.as_str()), choices, loss, minutes, words, refusal,]
        .spacing(space::TWO)
        .padding(iced::padding::right(space::TWO));
    let answer = (!shared.read_only()).then_some(Message::Answer);
    let button: Element<'_, Message> = if matches!(ask.kind, Kind::Abandon | Kind::Lose) {
        danger(ask.button).on_press_maybe(answer).into()
    } else {
        primary(ask.button).on_press_maybe(answer).into()
    };
    let drop = match ask.kind {
        Kind::Stop(timer) => Some(
            quiet_button("Throw it away")
                .on_press_maybe((!shared.read_only()).then_some(Message::DropTimer(timer)))
                .into(),
        ),
        _ => None,
    };
    let buttons = [Some(quiet_button("Leave it").on_press(Message::Close).into()), drop, Some(button)];
    modal::sheet(ask.title.clone(), body, buttons.into_iter().flatten())
}

/// The causes to choose from, and whether the loss is usual.
pub(super) fn causes<'a>(
    cause: LossCause,
    usual: LossKind,
    on_cause: impl Fn(LossCause) -> Message + 'a,
    on_kind: impl Fn(LossKind) -> Message + 'a,
) -> Element<'a, Message> {
    column![
        choice::choice("Of what", LossCause::ALL.map(|cause| (cause, cause.words())), Some(&cause), on_cause),
        choice::choice(
            "Is that usual?",
            [(LossKind::Normal, "part of the trade"), (LossKind::Abnormal, "far outside the usual")],
            Some(&usual),
            on_kind
        ),
    ]
    .spacing(space::ONE)
    .into()
}
