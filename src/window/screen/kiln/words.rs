//! Words and small parts the kiln's rooms share: heat, times of day, pieces by batch, cautions.

use crate::book::Snapshot;
use crate::measure::{Decimal, Preferences, display};
use crate::studio::{BatchId, Charged, FiringResult, HeatSource, Kiln, PieceId, StepKind};
use crate::window::Shared;
use crate::window::theme::{self, size, space};
use crate::window::widget::{self, Mark};
use chrono::NaiveDateTime;
use iced::widget::{Column, Row, container, text};
use iced::{Element, Length};
use rust_decimal::prelude::ToPrimitive;
use std::collections::BTreeMap;

/// A temperature for the colour of its heat.
pub(in crate::window::screen) fn celsius(value: Decimal) -> f32 {
    value.to_f32().unwrap_or(0.0)
}

/// A temperature on a surface of the colour of its heat.
pub(in crate::window::screen) fn heat_chip<'a, Message: 'a>(words: &'a str, celsius: f32) -> Element<'a, Message> {
    container(text(words).size(size::SMALL).font(theme::STRONG).wrapping(text::Wrapping::None))
        .padding([space::HALF, space::ONE])
        .style(theme::filled(theme::heat(celsius)))
        .into()
}

/// Fields beside each other, or below each other where there is no room.
pub(in crate::window::screen) fn beside<'a, Message: 'a>(
    fields: Vec<Element<'a, Message>>,
    shared: &Shared,
) -> Element<'a, Message> {
    if shared.size.width < 620.0 {
        Column::with_children(fields).spacing(space::ONE).into()
    } else {
        Row::with_children(fields).spacing(space::TWO).into()
    }
}

/// Beside every firing: usual cautions of the trade; the maker's sheet and local rules come first.
pub(in crate::window::screen) fn hot_kiln<'a, Message: 'a>() -> Element<'a, Message> {
    let advice = "Wear heat gloves and glasses against heat rays, use long tongs, keep hair and sleeves back and have a \
                  fireproof place ready. Air the room: binders burn off as fumes. The makers' safety data sheets and \
                  local rules come first.";
    widget::caution_line(Mark::Caution, "An open kiln burns skin and eyes", Some(advice.to_owned()))
}

/// Beside firing with a torch.
pub(in crate::window::screen) fn torch<'a, Message: 'a>() -> Element<'a, Message> {
    let advice = "Wear glasses made for the flame, tie hair back, clear the bench of what burns, check hoses and close \
                  the gas when you are done. Air the room. The makers' safety data sheets and local rules come first.";
    widget::caution_line(Mark::Caution, "A torch is an open flame", Some(advice.to_owned()))
}

/// Beside what bears lead.
pub(in crate::window::screen) fn lead<'a, Message: 'a>() -> Element<'a, Message> {
    let advice = "Mind its dust, do not eat at the bench, wash hands; it gives off fumes when it is fired: air the room. \
                  Keep it from children and from anyone pregnant. Local rules on lead come first.";
    widget::caution_line(Mark::Caution, "An enamel of these bears lead", Some(advice.to_owned()))
}

/// The cautions of a kiln or torch.
pub(in crate::window::screen) fn cautions_of<'a, Message: 'a>(kiln: Option<&Kiln>) -> Element<'a, Message> {
    match kiln.map(|kiln| &kiln.heat) {
        Some(HeatSource::Torch) => torch(),
        _ => hot_kiln(),
    }
}

/// A time of day to the minute.
pub(in crate::window::screen) fn clock(at: NaiveDateTime) -> String {
    at.format("%H:%M").to_string()
}

/// “1 piece”, “3 pieces”.
pub(in crate::window::screen) fn counted(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// kWh with two decimals.
pub(in crate::window::screen) fn kwh(value: Decimal, preferences: &Preferences) -> String {
    format!("{}\u{a0}kWh", display::number(value, 2, 2, preferences.numbers))
}

/// What a piece is called: its number, else its place and batch.
pub(in crate::window::screen) fn piece(id: PieceId, batch: BatchId, snapshot: &Snapshot) -> String {
    let Some(record) = snapshot.batch(batch) else { return format!("piece of batch {}", batch.0) };
    let place = record.pieces.iter().find(|piece| piece.id == id).map_or(0, |piece| piece.place);
    format!("{} {place}", record.batch.name)
}

/// The name of a firing on its batch's route, and of its heat.
pub(in crate::window::screen) fn step(batch: BatchId, step: usize, snapshot: &Snapshot) -> String {
    let plan = snapshot.batch(batch).map(|record| &record.batch.plan);
    let found = plan.and_then(|plan| plan.steps.get(step));
    found.map_or_else(String::new, |step| match step.kind {
        StepKind::Fire(_) if step.name.trim().is_empty() => "firing".to_owned(),
        _ => step.name.clone(),
    })
}

/// Pieces of a load counted by batch and firing: `5 Lantern drop · base coat`.
pub(in crate::window::screen) fn charge(charge: &[Charged], snapshot: &Snapshot) -> String {
    let mut groups: BTreeMap<(BatchId, usize), usize> = BTreeMap::new();
    for charged in charge {
        *groups.entry((charged.batch, charged.step)).or_default() += 1;
    }
    let groups = groups.into_iter().map(|((batch, at), count)| {
        let name = snapshot.batch(batch).map_or_else(
            || format!("{} of batch {}", if count == 1 { "piece" } else { "pieces" }, batch.0),
            |record| record.batch.name.clone(),
        );
        let step = step(batch, at, snapshot);
        if step.is_empty() { format!("{count} {name}") } else { format!("{count} {name} · {step}") }
    });
    groups.collect::<Vec<_>>().join("; ")
}

/// What came of a piece.
pub(in crate::window::screen) fn result(of: Option<&FiringResult>) -> String {
    match of {
        None => "in the heat".to_owned(),
        Some(FiringResult::Good) => "good".to_owned(),
        Some(FiringResult::Again) => "once more".to_owned(),
        Some(FiringResult::Lost { cause, .. }) => format!("lost: {}", cause.words()),
    }
}

/// A row of buttons that wraps.
pub(in crate::window::screen) fn buttons<'a, Message: 'a>(
    all: impl IntoIterator<Item = Element<'a, Message>>,
) -> Element<'a, Message> {
    Row::with_children(all).spacing(space::ONE).wrap().vertical_spacing(space::ONE).into()
}

/// Two columns, or one where there is no room.
pub(in crate::window::screen) fn columns<'a, Message: 'a>(
    left: Element<'a, Message>,
    right: Element<'a, Message>,
    shared: &Shared,
) -> Element<'a, Message> {
    if shared.is_narrow() {
        Column::with_children([left, right]).spacing(space::TWO).into()
    } else {
        Row::with_children([
            container(left).width(Length::FillPortion(3)).into(),
            container(right).width(Length::FillPortion(2)).into(),
        ])
        .spacing(space::TWO)
        .into()
    }
}
