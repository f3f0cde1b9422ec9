//! What a page of the kiln log says: the loads of each kiln day in order, with what the heat took and what came of it.

use super::batch_words::spans;
use super::bench_cautions::SHEETS_FIRST;
use super::cards::PaperSize;
use crate::measure::exact::div;
use crate::measure::{Decimal, Preferences, display};
use crate::studio::{FiringResult, Kiln, KilnDay, Load, LossKind};
use chrono::{NaiveDate, NaiveDateTime, Timelike};
use rust_decimal::prelude::ToPrimitive;
use std::collections::BTreeMap;

/// Pages of the kiln log. Every text is printed as it is given.
#[derive(Debug, Clone, PartialEq)]
pub struct KilnPage {
    /// The studio's name.
    pub studio: String,
    /// The day or days.
    pub period: String,
    /// The days of each kiln, in order.
    pub days: Vec<PageDay>,
    /// Empty rows to write on, after the days.
    pub blank_rows: usize,
    /// What to be careful of.
    pub cautions: Vec<String>,
    /// The unit of temperatures, for the empty rows.
    pub degrees: &'static str,
    /// The page.
    pub paper: PaperSize,
}

/// A day of one kiln.
#[derive(Debug, Clone, PartialEq)]
pub struct PageDay {
    /// The kiln and the day.
    pub heading: String,
    /// When it was on and hot, what it held, the meter; may be empty.
    pub facts: String,
    /// How hot it was over the day.
    pub curve: Option<Curve>,
    /// Its loads, in order.
    pub loads: Vec<PageLoad>,
    /// What they come to; empty where it had none.
    pub total: String,
}

/// A load.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PageLoad {
    /// The door closed.
    pub closed: String,
    /// The door opened; empty while it fires.
    pub opened: String,
    /// Minutes and seconds between the two.
    pub minutes: String,
    /// Temperature set.
    pub set: String,
    /// Temperature read; empty where it was not.
    pub read: String,
    /// The pieces, by batch and step.
    pub pieces: String,
    /// What came of them.
    pub results: String,
    /// kWh; empty where it is not known.
    pub kwh: String,
    /// What was typed to fire past a stop; empty where nothing was.
    pub override_words: String,
    /// Anything else.
    pub note: String,
}

/// A curve in parts of its frame: 0 left and bottom, 1 right and top.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// The curve's points, from left to right.
    pub points: Vec<[f64; 2]>,
    /// Where a load was in the heat.
    pub loads: Vec<[f64; 2]>,
    /// Hours along the foot.
    pub hours: Vec<(f64, String)>,
    /// Temperatures up the side.
    pub heats: Vec<(f64, String)>,
}

/// A day of a kiln as it was logged.
#[derive(Debug, Clone, PartialEq)]
pub struct LoggedDay<'a> {
    /// The kiln.
    pub kiln: &'a Kiln,
    /// The day.
    pub date: NaiveDate,
    /// When it was on and hot, where that was written down.
    pub day: Option<&'a KilnDay>,
    /// Its loads, in order.
    pub loads: Vec<LoggedLoad<'a>>,
    /// What the whole day took, kWh, where that is known.
    pub kwh: Option<Decimal>,
    /// Times with °C, in order; fewer than two draw nothing.
    pub curve: Vec<(NaiveDateTime, f64)>,
}

/// A load as it was logged.
#[derive(Debug, Clone, PartialEq)]
pub struct LoggedLoad<'a> {
    /// The load.
    pub load: &'a Load,
    /// What it took, kWh, where that is known.
    pub kwh: Option<Decimal>,
    /// Its pieces, in order.
    pub charge: Vec<LoggedPiece>,
}

/// A piece of a load as people name it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LoggedPiece {
    /// Its batch's number.
    pub batch: u32,
    /// The firing's name.
    pub step: String,
    /// Its name in the batch.
    pub piece: String,
    /// What came of it.
    pub result: Option<FiringResult>,
}

/// What is asked of a page besides the log itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PageAsked<'a> {
    /// The studio's name.
    pub studio: &'a str,
    /// First and last day.
    pub period: (NaiveDate, NaiveDate),
    /// Empty rows to write on.
    pub blank_rows: usize,
    /// The page.
    pub paper: PaperSize,
}

/// The page of these days.
pub fn kiln_page(days: &[LoggedDay<'_>], asked: &PageAsked<'_>, preferences: &Preferences) -> KilnPage {
    let (from, to) = asked.period;
    KilnPage {
        studio: asked.studio.to_owned(),
        period: if from == to { from.to_string() } else { format!("{from} to {to}") },
        days: days.iter().map(|day| page_day(day, preferences)).collect(),
        blank_rows: asked.blank_rows,
        cautions: vec![
            "A hot kiln burns: gloves and dark eye shields at the door, nothing that burns nearby, the room aired."
                .to_owned(),
            SHEETS_FIRST.to_owned(),
        ],
        degrees: display::temperature_label(preferences),
        paper: asked.paper,
    }
}

fn page_day(day: &LoggedDay<'_>, preferences: &Preferences) -> PageDay {
    let mut facts = Vec::new();
    if let Some(kept) = day.day {
        let mut time = |word: &str, at: Option<NaiveDateTime>| {
            facts.extend(at.map(|at| format!("{word} {}", clock(at, day.date))));
        };
        time("on", Some(kept.on_at));
        time("hot", kept.hot_at);
        time("off", kept.off_at);
        facts.push(format!("held {}", display::temperature(kept.hold_celsius, preferences)));
        facts.extend(kept.meter_kwh.map(|kwh| format!("meter {}", energy(kwh, preferences))));
        facts.extend(Some(kept.note.trim()).filter(|note| !note.is_empty()).map(str::to_owned));
    }
    let loads: Vec<PageLoad> = day.loads.iter().map(|load| page_load(load, day.date, preferences)).collect();
    let pieces: usize = day.loads.iter().map(|load| load.charge.len()).sum();
    let mut total = if loads.is_empty() {
        String::new()
    } else {
        format!("{}, {}", counted(loads.len(), "load", "loads"), counted(pieces, "piece", "pieces"))
    };
    if let (Some(kwh), false) = (day.kwh, loads.is_empty()) {
        total = format!("{total}, {} for the day", energy(kwh, preferences));
    }
    PageDay {
        heading: format!("{} · {}", day.kiln.name, day.date),
        facts: facts.join(" · "),
        curve: curve(day, preferences),
        loads,
        total,
    }
}

fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// A time of day; of another day with its date.
fn clock(at: NaiveDateTime, day: NaiveDate) -> String {
    if at.date() == day { at.format("%H:%M").to_string() } else { at.format("%H:%M (%Y-%m-%d)").to_string() }
}

fn energy(kwh: Decimal, preferences: &Preferences) -> String {
    format!("{}\u{a0}kWh", display::number(kwh, 2, 2, preferences.numbers))
}

fn page_load(logged: &LoggedLoad<'_>, day: NaiveDate, preferences: &Preferences) -> PageLoad {
    let load = logged.load;
    let fired = load.opened_at.and_then(|opened| {
        let seconds = opened.signed_duration_since(load.closed_at).num_seconds();
        div(Decimal::from(seconds), Decimal::from(60)).ok()
    });
    PageLoad {
        closed: clock(load.closed_at, day),
        opened: load.opened_at.map(|at| clock(at, day)).unwrap_or_default(),
        minutes: fired.map(|minutes| display::minutes(minutes, preferences)).unwrap_or_default(),
        set: display::temperature(load.set_celsius, preferences),
        read: load.read_celsius.map(|celsius| display::temperature(celsius, preferences)).unwrap_or_default(),
        pieces: pieces(&logged.charge),
        results: results(&logged.charge),
        kwh: logged.kwh.map(|kwh| display::number(kwh, 2, 2, preferences.numbers)).unwrap_or_default(),
        override_words: load.override_words.trim().to_owned(),
        note: load.note.trim().to_owned(),
    }
}

/// `Batch 4, Fire the base: 1–6; batch 7, Flash: 2`.
fn pieces(charge: &[LoggedPiece]) -> String {
    let mut groups: Vec<(u32, &str, Vec<&str>)> = Vec::new();
    for one in charge {
        match groups.iter_mut().find(|(batch, step, _)| *batch == one.batch && *step == one.step) {
            Some((_, _, names)) => names.push(&one.piece),
            None => groups.push((one.batch, &one.step, vec![&one.piece])),
        }
    }
    let words: Vec<String> =
        groups.into_iter().map(|(batch, step, names)| format!("batch {batch}, {step}: {}", spans(names))).collect();
    super::bench_cautions::capital(&words.join("; "))
}

/// `5 good; again 2; lost 3 cracked`; a piece is named with its batch where there are several.
fn results(charge: &[LoggedPiece]) -> String {
    let several = charge.iter().any(|one| charge.first().is_some_and(|first| first.batch != one.batch));
    let name = |one: &LoggedPiece| if several { format!("{}/{}", one.batch, one.piece) } else { one.piece.clone() };
    let good = charge.iter().filter(|one| one.result == Some(FiringResult::Good)).count();
    let mut words = Vec::new();
    if good > 0 {
        words.push(if good == charge.len() { "all good".to_owned() } else { format!("{good} good") });
    }
    let again: Vec<String> = charge.iter().filter(|one| one.result == Some(FiringResult::Again)).map(&name).collect();
    if !again.is_empty() {
        words.push(format!("again {}", spans(again.iter().map(String::as_str))));
    }
    let mut lost: BTreeMap<(&str, LossKind), Vec<String>> = BTreeMap::new();
    for one in charge {
        if let Some(FiringResult::Lost { cause, kind }) = &one.result {
            lost.entry((cause.words(), *kind)).or_default().push(name(one));
        }
    }
    for ((cause, kind), names) in lost {
        let odd = if kind == LossKind::Abnormal { ", not usual" } else { "" };
        words.push(format!("lost {} {cause}{odd}", spans(names.iter().map(String::as_str))));
    }
    words.join("; ")
}

/// The curve in its frame: from the hour before the first point to the hour after the last, from 0 to the hundred
/// above the hottest.
fn curve(day: &LoggedDay<'_>, preferences: &Preferences) -> Option<Curve> {
    let (first, last) = (day.curve.first()?.0, day.curve.last()?.0);
    if first >= last {
        return None;
    }
    let begin = first.with_minute(0)?.with_second(0)?;
    let minutes = |at: NaiveDateTime| {
        // A day of minutes is exact in a binary float.
        at.signed_duration_since(begin).num_seconds().to_f64().unwrap_or_default() / 60.0
    };
    let span = (minutes(last) / 60.0).ceil().max(1.0) * 60.0;
    let hottest = day.curve.iter().map(|(_, celsius)| *celsius).fold(0.0, f64::max);
    let top = ((hottest + 20.0) / 100.0).ceil().max(1.0) * 100.0;
    let across = |at: NaiveDateTime| (minutes(at) / span).clamp(0.0, 1.0);
    let up = |celsius: f64| (celsius / top).clamp(0.0, 1.0);
    let mut hours = Vec::new();
    let mut at = begin;
    // A clock face a mark, at most a dozen of them.
    let every = (span / 60.0 / 12.0).ceil().max(1.0);
    while minutes(at) <= span {
        hours.push((across(at), at.format("%H:%M").to_string()));
        at += chrono::Duration::minutes((every * 60.0).to_i64().unwrap_or(60));
    }
    let half = (top / 200.0).floor() * 100.0;
    let heats = [half, top]
        .into_iter()
        .filter(|celsius| *celsius > 0.0)
        .filter_map(|celsius| Some((up(celsius), display::temperature(Decimal::from(celsius.to_i64()?), preferences))))
        .collect();
    Some(Curve {
        points: day.curve.iter().map(|(at, celsius)| [across(*at), up(*celsius)]).collect(),
        loads: day
            .loads
            .iter()
            .filter_map(|logged| Some([across(logged.load.closed_at), across(logged.load.opened_at?)]))
            .collect(),
        hours,
        heats,
    })
}
