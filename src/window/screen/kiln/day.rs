//! A day of a kiln, worded and laid out for its picture.

use super::words;
use crate::actions::KilnDayAccount;
use crate::measure::{Preferences, display};
use crate::studio::{BookLoad, KilnId, LoadId};
use crate::window::draw::kiln_day::{DayPicture, DrawnLoad, DrawnPoint};
use chrono::{NaiveDateTime, TimeDelta, Timelike};
use rust_decimal::prelude::ToPrimitive;

/// A day of a kiln.
#[derive(Debug, Clone)]
pub(in crate::window::screen) struct Day {
    pub(in crate::window::screen) kiln: KilnId,
    pub(in crate::window::screen) picture: DayPicture,
    /// `on since 09:00 · at heat 09:41 · 1.90 kWh so far`.
    pub(in crate::window::screen) summary: String,
    /// The day's loads in order: a row and a number from 1.
    pub(in crate::window::screen) loads: Vec<LoadId>,
    /// Changes whenever the picture does.
    pub(in crate::window::screen) version: u64,
}

/// A day as the book accounts for it, with the load in the kiln, if one is; `now` ends a day that is not over.
pub(in crate::window::screen) fn day(
    of: &KilnDayAccount,
    firing: Option<&BookLoad>,
    now: Option<NaiveDateTime>,
    version: u64,
    p: &Preferences,
) -> Day {
    let begins = of.day.on_at;
    let minutes = |at: NaiveDateTime| minutes_after(begins, at);
    let mut loads: Vec<(LoadId, DrawnLoad)> = Vec::new();
    let fired = of.loads.iter().map(|(load, _)| load).chain(firing);
    for (number, load) in (1..).zip(fired) {
        let end = load.load.opened_at.or(now).unwrap_or(load.load.closed_at);
        loads.push((
            load.id,
            DrawnLoad {
                number,
                from: minutes(load.load.closed_at),
                to: minutes(end),
                celsius: words::celsius(load.load.set_celsius),
                heat: display::temperature(load.load.set_celsius, p),
            },
        ));
    }
    let curve = of.curve.iter().map(|point| DrawnPoint {
        minute: minutes(point.at),
        celsius: point.celsius.to_f32().unwrap_or(0.0),
    });
    let last_load = loads.iter().map(|(_, load)| load.to).fold(0.0, f32::max);
    let last_point = of.curve.last().map_or(0.0, |point| minutes(point.at));
    let end = of.day.off_at.or(now).map_or(0.0, minutes).max(last_load).max(last_point).max(60.0);
    let mut summary = vec![format!("on {}", words::clock(begins))];
    if let Some(hot) = of.day.hot_at {
        summary.push(format!("at heat {}", words::clock(hot)));
    }
    summary.push(format!(
        "{}{}{}",
        words::kwh(of.whole.kwh, p),
        if of.day.off_at.is_none() { " so far" } else { "" },
        if of.metered { ", by the meter" } else { "" }
    ));
    Day {
        kiln: of.kiln,
        picture: DayPicture {
            begins_minute: f32::from(u16::try_from(begins.num_seconds_from_midnight() / 60).unwrap_or(0)),
            minutes: end,
            curve: curve.collect(),
            loads: loads.iter().map(|(_, load)| load.clone()).collect(),
        },
        summary: summary.join(" · "),
        loads: loads.into_iter().map(|(id, _)| id).collect(),
        version,
    }
}

/// Minutes after the beginning of a day.
#[allow(clippy::cast_precision_loss)] // a day has 86,400 s
fn minutes_after(begins: NaiveDateTime, at: NaiveDateTime) -> f32 {
    let gone: TimeDelta = at - begins;
    gone.num_seconds().clamp(-86_400, 3 * 86_400) as f32 / 60.0
}
