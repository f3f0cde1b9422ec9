//! What happened to a batch, as sentences.

use super::words;
use crate::book::Snapshot;
use crate::measure::{Preferences, Unit, display};
use crate::studio::{BatchId, BatchRecord, BenchDeed, BenchEntry, LossKind, MaterialId, Measured, Timed};
use chrono::NaiveDate;

/// A line of the history.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Told {
    /// The day; empty where it is the line above's.
    pub day: String,
    /// What happened.
    pub what: String,
}

/// Everything that happened, newest first.
pub(super) fn told(
    record: &BatchRecord,
    snapshot: &Snapshot,
    preferences: &Preferences,
    today: NaiveDate,
) -> Vec<Told> {
    let mut before = None;
    record
        .entries
        .iter()
        .rev()
        .map(|entry| {
            let day = if before == Some(entry.date) { String::new() } else { words::day(entry.date, today) };
            before = Some(entry.date);
            Told { day, what: sentence(record, entry, snapshot, preferences) }
        })
        .collect()
}

fn sentence(record: &BatchRecord, entry: &BenchEntry, snapshot: &Snapshot, preferences: &Preferences) -> String {
    let plan = &record.batch.plan;
    let at = |step: &usize| words::place(plan, *step);
    let of = |pieces: &[crate::studio::PieceId]| words::named(record, pieces);
    let because = |why: &str| if why.trim().is_empty() { String::new() } else { format!(": {}", why.trim()) };
    match &entry.deed {
        BenchDeed::Started { pieces } => format!("Begun with {}", words::pieces(pieces.len())),
        BenchDeed::Passed { step, pieces } => format!("Done: {}, {}", at(step), of(pieces)),
        BenchDeed::Skipped { step, pieces, why } => format!("Left out: {}, {}{}", at(step), of(pieces), because(why)),
        BenchDeed::SentBack { to, pieces, why } => format!("Sent back to {}: {}{}", at(to), of(pieces), because(why)),
        BenchDeed::Took { step, material, quantity, how, .. } => format!(
            "Took {} of {} for {}, {}",
            amount(record, material, quantity.amount(), preferences),
            name(record, material),
            at(step),
            measured(*how)
        ),
        BenchDeed::Used { step, material, quantity, how, .. } => format!(
            "Used {} of {} for {}, not kept in stock, {}",
            amount(record, material, quantity.amount(), preferences),
            name(record, material),
            at(step),
            measured(*how)
        ),
        BenchDeed::WashedBack { step, material, quantity, .. } => format!(
            "Washed back {} of {} from {}",
            amount(record, material, quantity.amount(), preferences),
            name(record, material),
            at(step)
        ),
        BenchDeed::Worked { step, minutes, how, .. } => {
            format!("Worked {} at {}, {}", words::minutes(*minutes, preferences), at(step), timed(*how))
        }
        BenchDeed::Fired { step, pieces, load } => format!("Fired, load {}: {}, {}", load.0, at(step), of(pieces)),
        BenchDeed::Lost { step, pieces, cause, kind, note, .. } => {
            let unusual = if *kind == LossKind::Abnormal { ", not usual" } else { "" };
            format!("Lost at {}: {}, {}{unusual}{}", at(step), of(pieces), cause.words(), because(note))
        }
        BenchDeed::Finished { pieces } => format!("Finished and numbered: {}", of(pieces)),
        BenchDeed::Gave { to, pieces } => format!("{} went to {}", words::pieces(pieces.len()), other(*to, snapshot)),
        BenchDeed::Got { from, pieces, .. } => {
            format!("{} came from {}", words::pieces(pieces.len()), other(*from, snapshot))
        }
        BenchDeed::Abandoned { pieces, why } => {
            format!("Given up with {} at work{}", words::pieces(pieces.len()), because(why))
        }
    }
}

/// Another batch by its number where it is open; one that is closed is not at hand.
fn other(id: BatchId, snapshot: &Snapshot) -> String {
    snapshot.batch(id).map_or_else(|| "another batch".to_owned(), |record| words::numbered(&record.batch))
}

/// A material's name in the plan.
pub(super) fn name(record: &BatchRecord, id: &MaterialId) -> String {
    let found = record.batch.plan.materials.iter().find(|material| material.id == *id);
    found.map_or_else(|| id.to_string(), |material| material.name.clone())
}

fn amount(
    record: &BatchRecord,
    id: &MaterialId,
    quantity: crate::measure::Decimal,
    preferences: &Preferences,
) -> String {
    let found = record.batch.plan.materials.iter().find(|material| material.id == *id);
    display::quantity(quantity, found.map_or(Unit::Each, |material| material.unit), preferences)
}

const fn measured(how: Measured) -> &'static str {
    match how {
        Measured::Weighed => "weighed",
        Measured::Planned => "as planned",
    }
}

const fn timed(how: Timed) -> &'static str {
    match how {
        Timed::Clock => "timed",
        Timed::Typed => "typed",
        Timed::Planned => "as planned",
    }
}
