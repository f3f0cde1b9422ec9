//! A planned kiln day, worded: its loads with their times, what it comes to, what a change by hand does, what it would
//! break.

use crate::actions::PlanQuestion;
use crate::book::Snapshot;
use crate::kiln::plan::{Breach, Fired, KilnPlan, Load, Proof};
use crate::kiln::plan_effect::PlanEffect;
use crate::measure::{Decimal, Preferences, display};
use crate::studio::BatchId;
use crate::window::draw::kiln_day::{DayPicture, DrawnLoad, DrawnPoint};
use crate::window::screen::kiln::words;
use std::collections::BTreeMap;

/// A load of the plan.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) number: usize,
    /// `10:05 – 10:08`.
    pub(super) time: String,
    pub(super) heat: String,
    pub(super) celsius: f32,
    pub(super) minutes: String,
    pub(super) pieces: String,
    /// Each of them by itself.
    pub(super) each: Vec<Held>,
}

/// A piece of a load.
#[derive(Debug, Clone)]
pub(super) struct Held {
    pub(super) fired: Fired,
    /// `Lantern drop 3 · Base firing`.
    pub(super) name: String,
}

/// A plan as it is shown.
#[derive(Debug, Clone)]
pub(super) struct Shown {
    pub(super) rows: Vec<Row>,
    pub(super) picture: DayPicture,
    /// `Finishes 14:20 · 3 loads · 2.10 kWh`.
    pub(super) headline: String,
    /// How good it is.
    pub(super) bound: String,
    /// What the hand did to it; empty where it did nothing.
    pub(super) effect: String,
    pub(super) version: u64,
}

/// Words a plan; `found` is the one the search found.
pub(super) fn shown(
    plan: &KilnPlan,
    found: &KilnPlan,
    question: &PlanQuestion,
    snapshot: &Snapshot,
    version: u64,
    p: &Preferences,
) -> Shown {
    let rows: Vec<Row> =
        (1..).zip(&plan.loads).map(|(number, load)| row(number, load, question, snapshot, p)).collect();
    let effect = PlanEffect::of(found, plan);
    Shown {
        headline: format!(
            "Finishes {} · {} · {}",
            clock(plan.finish),
            words::counted(plan.loads.len(), "load", "loads"),
            words::kwh(plan.kwh, p)
        ),
        bound: bound(plan),
        effect: if effect.is_none() { String::new() } else { effect_words(&effect, p) },
        picture: picture(plan, question, p),
        rows,
        version,
    }
}

fn bound(plan: &KilnPlan) -> String {
    let earliest = clock(plan.bound);
    match plan.proof {
        Proof::Best => format!("No plan finishes before {earliest}: this one is proved the best"),
        Proof::Soonest => format!("No plan finishes before {earliest}: none is sooner than this one"),
        Proof::Bounded => {
            format!("No plan can finish before {earliest}: at most {} could be won", length(plan.gap()))
        }
    }
}

fn effect_words(effect: &PlanEffect, p: &Preferences) -> String {
    let mut parts = Vec::new();
    match effect.later {
        0 => parts.push("finishes at the same time".to_owned()),
        later if later > 0 => parts.push(format!("finishes {} later", length(later))),
        sooner => parts.push(format!("finishes {} sooner", length(-sooner))),
    }
    let degrees = Decimal::from(effect.moved_c.abs());
    if effect.moved_c != 0 {
        let word = if effect.moved_c > 0 { "more" } else { "less" };
        parts.push(format!("heats and cools {} {word}", display::temperature_difference(degrees, p)));
    }
    if !effect.kwh.is_zero() {
        let word = if effect.kwh.is_sign_positive() { "more" } else { "less" };
        parts.push(format!("{} {word}", words::kwh(effect.kwh.abs(), p)));
    }
    format!("By hand: {}", parts.join(", "))
}

fn row(number: usize, load: &Load, question: &PlanQuestion, snapshot: &Snapshot, p: &Preferences) -> Row {
    let celsius = Decimal::from(load.celsius);
    Row {
        number,
        time: format!("{} – {}", clock(load.start), clock(load.end)),
        heat: display::temperature(celsius, p),
        celsius: words::celsius(celsius),
        minutes: seconds(i64::from(load.seconds)),
        pieces: pieces(&load.pieces, question, snapshot),
        each: load.pieces.iter().filter_map(|fired| held(*fired, question, snapshot)).collect(),
    }
}

fn held(fired: Fired, question: &PlanQuestion, snapshot: &Snapshot) -> Option<Held> {
    let piece = question.pieces.get(&fired.piece)?;
    let step = words::step(piece.batch, piece.steps.get(fired.firing).copied().unwrap_or_default(), snapshot);
    let name = format!("{} {}", piece.batch_name, piece.place);
    Some(Held { fired, name: if step.is_empty() { name } else { format!("{name} · {step}") } })
}

/// Pieces by batch and firing: `5 Lantern drop · base coat`.
fn pieces(fired: &[Fired], question: &PlanQuestion, snapshot: &Snapshot) -> String {
    let mut groups: BTreeMap<(BatchId, usize), (usize, &str)> = BTreeMap::new();
    for one in fired {
        if let Some(piece) = question.pieces.get(&one.piece) {
            let step = piece.steps.get(one.firing).copied().unwrap_or_default();
            groups.entry((piece.batch, step)).or_insert((0, piece.batch_name.as_str())).0 += 1;
        }
    }
    let groups = groups.into_iter().map(|((batch, step), (count, name))| {
        let step = words::step(batch, step, snapshot);
        if step.is_empty() { format!("{count} {name}") } else { format!("{count} {name} · {step}") }
    });
    groups.collect::<Vec<_>>().join("; ")
}

fn picture(plan: &KilnPlan, question: &PlanQuestion, p: &Preferences) -> DayPicture {
    let begins = question.ask.begins();
    let after = |second: i64| minutes(second - begins);
    let mut curve = Vec::new();
    let room = question.ask.begins_at_c.map_or(20.0, float);
    let mut before = (0.0, room);
    curve.push(DrawnPoint { minute: 0.0, celsius: room });
    for load in &plan.loads {
        // Drawn as it is set: it holds the heat before it until it has to change.
        let rise = question.ask.heat.seconds(degrees(before.1), load.celsius).unwrap_or(0);
        let change = (after(load.start) - minutes(rise)).max(before.0);
        curve.push(DrawnPoint { minute: change, celsius: before.1 });
        curve.push(DrawnPoint { minute: after(load.start), celsius: float(load.celsius) });
        before = (after(load.end), float(load.celsius));
        curve.push(DrawnPoint { minute: before.0, celsius: before.1 });
    }
    let loads = (1..).zip(&plan.loads).map(|(number, load)| DrawnLoad {
        number,
        from: after(load.start),
        to: after(load.end),
        celsius: float(load.celsius),
        heat: display::temperature(Decimal::from(load.celsius), p),
    });
    DayPicture { begins_minute: minutes(begins), minutes: after(plan.finish).max(30.0), curve, loads: loads.collect() }
}

#[allow(clippy::cast_precision_loss)] // seconds of a few days
fn minutes(seconds: i64) -> f32 {
    seconds as f32 / 60.0
}

#[allow(clippy::cast_precision_loss)] // a temperature
fn float(celsius: i32) -> f32 {
    celsius as f32
}

#[allow(clippy::cast_possible_truncation)] // a temperature
fn degrees(celsius: f32) -> i32 {
    celsius.round() as i32
}

/// A second of the day as a time; “+1” is the day after.
fn clock(second: i64) -> String {
    let minute = second.div_euclid(60);
    let (day, minute) = (minute.div_euclid(1440), minute.rem_euclid(1440));
    let time = format!("{:02}:{:02}", minute / 60, minute % 60);
    if day == 0 { time } else { format!("{time} (day {})", day + 1) }
}

/// Minutes and seconds.
fn seconds(all: i64) -> String {
    format!("{}:{:02}", all / 60, all % 60)
}

/// A length of time: `45 s`, `20 min`, `1 h 20 min`.
fn length(seconds: i64) -> String {
    match seconds {
        under if under < 60 => format!("{under} s"),
        under if under < 3600 => format!("{} min", (under + 30) / 60),
        long => format!("{} h {} min", long / 3600, long % 3600 / 60),
    }
}

/// What a change would break, in her words and units; loads count from 1.
pub(super) fn breach(of: &Breach, question: &PlanQuestion, p: &Preferences) -> String {
    let who = |fired: &Fired| {
        question
            .pieces
            .get(&fired.piece)
            .map_or_else(String::new, |piece| format!("piece {} of batch {}", piece.place, piece.batch_number))
    };
    let heat = |celsius: i32| display::temperature(Decimal::from(celsius), p);
    match of {
        Breach::Ceiling { load, fired, celsius, ceiling_c } => {
            format!("Load {} at {} is above what {} stands, {}", load + 1, heat(*celsius), who(fired), heat(*ceiling_c))
        }
        Breach::Kiln { load, celsius, hottest_c } => {
            format!("Load {} at {} is above the {} the kiln holds", load + 1, heat(*celsius), heat(*hottest_c))
        }
        Breach::Heat { load, fired, celsius, lowest_c, highest_c } => format!(
            "Load {} at {}: {} accepts {} to {}",
            load + 1,
            heat(*celsius),
            who(fired),
            heat(*lowest_c),
            heat(*highest_c)
        ),
        Breach::Time { load, fired, seconds: given, shortest, longest } => format!(
            "Load {} of {}: {} accepts {} to {}",
            load + 1,
            seconds(i64::from(*given)),
            who(fired),
            seconds(i64::from(*shortest)),
            seconds(i64::from(*longest))
        ),
        Breach::Area { load, area_cm2, shelf_cm2 } => format!(
            "Load {} takes {} of a shelf of {}",
            load + 1,
            display::area(*area_cm2, p),
            display::area(*shelf_cm2, p)
        ),
        Breach::Ready { load, fired, ready, .. } => {
            format!("Load {}: {} is not ready before {}", load + 1, who(fired), clock(*ready))
        }
        Breach::Order { load, fired } => {
            format!("Load {}: a firing of {} would come before the one it follows", load + 1, who(fired))
        }
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_hand_does_to_a_plan_is_told_in_words() {
        let preferences = Preferences::metric(crate::measure::Currency::USD);
        let words = |later, moved_c, kwh: &str| {
            let effect = PlanEffect { later, moved_c, kwh: kwh.parse().unwrap() };
            effect_words(&effect, &preferences).replace('\u{a0}', " ")
        };
        assert_eq!(words(1200, 40, "0.3"), "By hand: finishes 20 min later, heats and cools 40 °C more, 0.30 kWh more");
        assert_eq!(words(-45, 0, "-0.1"), "By hand: finishes 45 s sooner, 0.10 kWh less");
        assert_eq!((clock(51_600), clock(86_400 + 60)), ("14:20".to_owned(), "00:01 (day 2)".to_owned()));
    }
}
