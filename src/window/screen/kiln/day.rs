//! A day of a kiln, worded and laid out for its picture.

use super::words;
use crate::actions::KilnDayAccount;
use crate::measure::{Preferences, display};
use crate::studio::{BookKilnDay, LoadId};
use crate::window::draw::kiln_day::{DayPicture, DrawnLoad, DrawnPoint};
use chrono::{NaiveDate, NaiveDateTime, TimeDelta, Timelike};

/// A day of a kiln.
#[derive(Debug, Clone)]
pub(in crate::window::screen) struct Day {
    pub(in crate::window::screen) date: NaiveDate,
    pub(in crate::window::screen) written: Option<BookKilnDay>,
    pub(in crate::window::screen) picture: DayPicture,
    /// `on since 09:00 · at heat 09:41 · 1.90 kWh so far`.
    pub(in crate::window::screen) summary: String,
    /// What it cost, or why that cannot be said.
    pub(in crate::window::screen) cost: String,
    /// The day's loads in order.
    pub(in crate::window::screen) loads: Vec<LoadId>,
    /// Changes whenever the picture does.
    pub(in crate::window::screen) version: u64,
}

/// A day as the book accounts for it; `now` ends one that is not over.
pub(in crate::window::screen) fn day(
    of: &KilnDayAccount,
    now: NaiveDateTime,
    version: u64,
    p: &Preferences,
) -> Option<Day> {
    let written = of.written.as_ref().map(|written| &written.day);
    let first = of.loads.first().map(|load| load.load.closed_at);
    let begins = written.map(|day| day.on_at).or(first)?;
    // A day of long ago that was never switched off has its end where its curve ends.
    let running = written.is_some_and(|day| day.off_at.is_none()) && now - begins < TimeDelta::days(2);
    let minutes = |at: NaiveDateTime| minutes_after(begins, at);
    let mut loads = Vec::new();
    for (number, load) in (1..).zip(&of.loads) {
        let end = load.load.opened_at.unwrap_or(now).max(load.load.closed_at);
        loads.push(DrawnLoad {
            number,
            from: minutes(load.load.closed_at),
            to: minutes(end),
            celsius: words::celsius(load.load.set_celsius),
            heat: display::temperature(load.load.set_celsius, p),
        });
    }
    let points = of.curve.as_ref().map(|curve| curve.points.as_slice()).unwrap_or_default();
    let shown = points.iter().filter(|point| !running || point.at <= now);
    let curve: Vec<DrawnPoint> =
        shown.map(|point| DrawnPoint { minute: minutes(point.at), celsius: drawn(point.celsius) }).collect();
    let last_load = loads.iter().map(|load| load.to).fold(0.0, f32::max);
    let last_point = curve.last().map_or(0.0, |point| point.minute);
    let last_now = if running { minutes(now) } else { 0.0 };
    Some(Day {
        date: of.date,
        written: of.written.clone(),
        picture: DayPicture {
            begins_minute: f32::from(u16::try_from(begins.num_seconds_from_midnight() / 60).unwrap_or(0)),
            minutes: last_now.max(last_load).max(last_point).max(60.0),
            curve,
            loads,
        },
        summary: summary(of, running, p),
        cost: match &of.account {
            Ok(account) => super::cost(account.energy, account.wear, p),
            Err(why) => why.clone(),
        },
        loads: of.loads.iter().map(|load| load.id).collect(),
        version,
    })
}

fn summary(of: &KilnDayAccount, running: bool, p: &Preferences) -> String {
    let mut parts = Vec::new();
    if let Some(day) = of.written.as_ref().map(|written| &written.day) {
        parts.push(format!("on {}", words::clock(day.on_at)));
        if let Some(hot) = day.hot_at {
            parts.push(format!("at heat {}", words::clock(hot)));
        }
        if let Some(off) = day.off_at {
            parts.push(format!("off {}", words::clock(off)));
        }
    }
    if let Ok(account) = &of.account {
        let so_far = if running { " so far" } else { "" };
        let meter = if account.metered() { ", by the meter" } else { "" };
        parts.push(format!("{}{so_far}{meter}", words::kwh(account.kwh, p)));
    }
    parts.join(" · ")
}

/// Minutes after the beginning of a day.
#[allow(clippy::cast_precision_loss)] // a day has 86,400 s
fn minutes_after(begins: NaiveDateTime, at: NaiveDateTime) -> f32 {
    (at - begins).num_seconds().clamp(-86_400, 3 * 86_400) as f32 / 60.0
}

#[allow(clippy::cast_possible_truncation)] // a temperature of a drawing
fn drawn(celsius: f64) -> f32 {
    celsius as f32
}
