//! Which loads belong to which day of a kiln, and from when to when it was hot.

use super::heat::HeatModel;
use crate::measure::{Decimal, exact};
use crate::studio::{BookKilnDay, BookLoad, KilnDay, LoadId};
use chrono::{NaiveDate, NaiveDateTime, TimeDelta};
use rust_decimal::prelude::ToPrimitive;
use std::collections::BTreeMap;

/// The loads of one day of a kiln.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DayLoads<'a> {
    /// The date: the day's, or that on which the door closed on them.
    pub date: NaiveDate,
    /// The day, where one is written down.
    pub day: Option<&'a BookKilnDay>,
    /// Its loads, earliest first.
    pub loads: Vec<&'a BookLoad>,
}

/// Why the loads of a day cannot be. Times are as in the log.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SpanProblem {
    /// The door opened before it closed.
    #[error("a load ends at {opened} before it begins at {closed}: accepted is an end at or after its beginning")]
    EndsBeforeItBegins {
        /// The load.
        load: LoadId,
        /// Door closed.
        closed: NaiveDateTime,
        /// Door opened.
        opened: NaiveDateTime,
    },
    /// Two loads at a time.
    #[error(
        "a load begins at {begins} while another is in this kiln until {until}: accepted is a beginning at or after that"
    )]
    Overlap {
        /// The one in it.
        first: LoadId,
        /// The one that comes too early.
        second: LoadId,
        /// The first one's end.
        until: NaiveDateTime,
        /// The second one's beginning.
        begins: NaiveDateTime,
    },
    /// A load before the kiln was switched on, or after it was switched off.
    #[error("a load begins at {begins}, outside the kiln's day: accepted is {accepted}")]
    Outside {
        /// The load.
        load: LoadId,
        /// Its beginning.
        begins: NaiveDateTime,
        /// What would be accepted.
        accepted: String,
    },
    /// The day's own times are out of order.
    #[error("{field} at {value}: accepted is a time at or after {earliest}")]
    DayOutOfOrder {
        /// Which time.
        field: &'static str,
        /// What it says.
        value: NaiveDateTime,
        /// The earliest that would be accepted.
        earliest: NaiveDateTime,
    },
}

/// Puts each load of one kiln to the day it was fired in: the latest day switched on before its door closed and not off
/// by then; of a day that has no end, up to the day after. Loads outside every day are put together by date. Earliest
/// first; a day without loads is there too.
pub fn days_of<'a>(days: &'a [BookKilnDay], loads: &'a [BookLoad]) -> Vec<DayLoads<'a>> {
    let mut sorted: Vec<&BookKilnDay> = days.iter().collect();
    sorted.sort_by_key(|day| (day.day.on_at, day.id));
    let mut written: Vec<DayLoads<'a>> =
        sorted.iter().map(|day| DayLoads { date: day.day.date, day: Some(day), loads: Vec::new() }).collect();
    let mut alone: BTreeMap<NaiveDate, Vec<&'a BookLoad>> = BTreeMap::new();
    for load in loads {
        let closed = load.load.closed_at;
        let before = sorted.partition_point(|day| day.day.on_at <= closed);
        let home = before.checked_sub(1).filter(|&at| sorted.get(at).is_some_and(|day| holds(&day.day, closed)));
        match home.and_then(|at| written.get_mut(at)) {
            Some(day) => day.loads.push(load),
            None => alone.entry(closed.date()).or_default().push(load),
        }
    }
    written.extend(alone.into_iter().map(|(date, loads)| DayLoads { date, day: None, loads }));
    for day in &mut written {
        day.loads.sort_by_key(|load| (load.load.closed_at, load.id));
    }
    written.sort_by_key(|day| (begins(day), day.day.is_none()));
    written
}

/// Whether a load that begins at `closed`, after the day's beginning, belongs to the day.
fn holds(day: &KilnDay, closed: NaiveDateTime) -> bool {
    match day.off_at {
        Some(off) => closed < off,
        None => closed.date() <= day.on_at.date().succ_opt().unwrap_or(NaiveDate::MAX),
    }
}

fn begins(day: &DayLoads<'_>) -> Option<NaiveDateTime> {
    let first = day.loads.first().map(|load| load.load.closed_at);
    day.day.map(|day| day.day.on_at).or(first)
}

/// A load whose door was opened again.
#[derive(Debug, Clone, Copy)]
pub(super) struct InHeat<'a> {
    /// The load.
    pub(super) load: &'a BookLoad,
    /// Door closed.
    pub(super) from: NaiveDateTime,
    /// Door opened.
    pub(super) to: NaiveDateTime,
}

impl InHeat<'_> {
    /// Seconds in the heat.
    pub(super) fn seconds(&self) -> i64 {
        seconds(self.from, self.to)
    }
}

/// Seconds from one time to another; 0 where the other is earlier.
pub(super) fn seconds(from: NaiveDateTime, to: NaiveDateTime) -> i64 {
    (to - from).num_seconds().max(0)
}

/// The loads whose door was opened again, earliest first.
pub(super) fn finished<'a>(loads: impl IntoIterator<Item = &'a BookLoad>) -> Result<Vec<InHeat<'a>>, SpanProblem> {
    let mut found = Vec::new();
    for load in loads {
        let Some(opened) = load.load.opened_at else { continue };
        let closed = load.load.closed_at;
        if opened < closed {
            return Err(SpanProblem::EndsBeforeItBegins { load: load.id, closed, opened });
        }
        found.push(InHeat { load, from: closed, to: opened });
    }
    found.sort_by_key(|load| (load.from, load.to, load.load.id));
    Ok(found)
}

/// Refuses two loads at a time; they are in order.
pub(super) fn refuse_overlaps(loads: &[InHeat<'_>]) -> Result<(), SpanProblem> {
    for (one, next) in loads.iter().zip(loads.iter().skip(1)) {
        if next.from < one.to {
            let (first, second) = (one.load.id, next.load.id);
            return Err(SpanProblem::Overlap { first, second, until: one.to, begins: next.from });
        }
    }
    Ok(())
}

/// A day's times.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct DaySpan {
    /// Switched on.
    pub(super) on: NaiveDateTime,
    /// At heat.
    pub(super) hot: NaiveDateTime,
    /// Switched off, or as far as the day is known: its last load's end.
    pub(super) end: NaiveDateTime,
}

/// When the power went off, or as far as the day is known.
pub(super) fn end_of(day: &KilnDay, loads: &[InHeat<'_>]) -> NaiveDateTime {
    let last = loads.iter().map(|load| load.to).max();
    let known = day.on_at.max(day.hot_at.unwrap_or(day.on_at)).max(last.unwrap_or(day.on_at));
    day.off_at.unwrap_or(known)
}

/// A day's times. It is at heat as noted, or when the model says; at the latest when its first load goes in.
pub(super) fn of_day(day: &KilnDay, model: Option<&HeatModel>, loads: &[InHeat<'_>]) -> Result<DaySpan, SpanProblem> {
    let on = day.on_at;
    let (hot_at, off_at) = (("at heat", day.hot_at), ("switched off", day.off_at));
    for (field, value) in [hot_at, off_at] {
        if let Some(value) = value.filter(|&value| value < on) {
            return Err(SpanProblem::DayOutOfOrder { field, value, earliest: on });
        }
    }
    for load in loads {
        let late = day.off_at.is_some_and(|off| load.from > off);
        if load.from < on || late {
            let until = day.off_at.map(|off| format!(" and {off}")).unwrap_or_default();
            let accepted = if until.is_empty() { format!("from {on}") } else { format!("between {on}{until}") };
            return Err(SpanProblem::Outside { load: load.load.id, begins: load.from, accepted });
        }
    }
    let end = end_of(day, loads);
    let latest = loads.first().map_or(end, |load| load.from.min(end));
    let modelled = || {
        let minutes = model?.minutes_to_heat(model?.room(), day.hold_celsius).ok()?;
        let whole = exact::round(exact::mul(minutes, Decimal::from(60)).ok()?, 0).to_i64()?;
        on.checked_add_signed(TimeDelta::try_seconds(whole)?)
    };
    Ok(DaySpan { on, hot: day.hot_at.or_else(modelled).unwrap_or(latest).min(latest), end })
}

#[cfg(test)]
mod tests {
    use super::super::samples::{at, day, decimal, electric, load};
    use super::*;

    #[test]
    fn loads_go_to_the_day_they_were_fired_in() {
        // A day that runs past midnight, one without an end, and loads outside both.
        let mut late = day(2, "20:00:00", None);
        late.day.off_at = Some(at(3, "01:30:00"));
        let days = [day(5, "09:00:00", None), late];
        let loads = [
            load(1, at(3, "00:40:00"), Some(at(3, "00:43:00")), 790, &[]),
            load(2, at(3, "01:30:00"), Some(at(3, "01:33:00")), 790, &[]),
            load(3, at(6, "10:00:00"), None, 790, &[]),
            load(4, at(8, "10:00:00"), None, 790, &[]),
            load(5, at(5, "08:00:00"), None, 790, &[]),
        ];
        let found: Vec<(NaiveDate, Option<i64>, Vec<i64>)> = days_of(&days, &loads)
            .iter()
            .map(|day| (day.date, day.day.map(|day| day.id.0), day.loads.iter().map(|load| load.id.0).collect()))
            .collect();
        let date = |number| at(number, "00:00:00").date();
        let expected = vec![
            (date(2), Some(2), vec![1]),
            (date(3), None, vec![2]),
            (date(5), None, vec![5]),
            (date(5), Some(5), vec![3]),
            (date(8), None, vec![4]),
        ];
        assert_eq!(found, expected);
    }

    #[test]
    fn a_day_is_hot_as_noted_or_by_the_model_and_at_the_latest_when_a_load_goes_in() {
        let model = HeatModel::of(&electric()).unwrap();
        let loads = [load(1, at(2, "09:00:00"), Some(at(2, "09:02:30")), 790, &[])];
        let loads = finished(&loads).unwrap();
        let mut written = day(2, "08:00:00", Some("12:00:00")).day;
        let hot = |day: &KilnDay, model| of_day(day, model, &loads).unwrap().hot;
        // 60 · C/k · ln(1.8 / (1.8 − k · 760)) = 43.5 min, as computed in Python.
        assert_eq!(hot(&written, Some(&model)), at(2, "08:43:30"));
        assert_eq!(hot(&written, None), at(2, "09:00:00"));
        written.hot_at = Some(at(2, "08:50:00"));
        assert_eq!(hot(&written, Some(&model)), at(2, "08:50:00"));
        written.hot_at = Some(at(2, "09:10:00"));
        assert_eq!(hot(&written, Some(&model)), at(2, "09:00:00"));
        written.hot_at = None;
        written.hold_celsius = decimal("5000");
        assert_eq!(hot(&written, Some(&model)), at(2, "09:00:00"));
    }

    #[test]
    fn what_cannot_be_is_told_with_what_is_accepted() {
        let written = day(2, "08:00:00", Some("12:00:00")).day;
        let early = [load(1, at(2, "07:59:00"), Some(at(2, "08:05:00")), 790, &[])];
        let told = of_day(&written, None, &finished(&early).unwrap()).unwrap_err().to_string();
        let expected = "a load begins at 2026-03-02 07:59:00, outside the kiln's day: accepted is between \
                        2026-03-02 08:00:00 and 2026-03-02 12:00:00";
        assert_eq!(told, expected);
        let backwards = KilnDay { off_at: Some(at(2, "07:00:00")), ..written };
        let told = of_day(&backwards, None, &[]).unwrap_err().to_string();
        assert_eq!(told, "switched off at 2026-03-02 07:00:00: accepted is a time at or after 2026-03-02 08:00:00");
        let wrong = [load(1, at(2, "09:05:00"), Some(at(2, "09:00:00")), 790, &[])];
        assert!(matches!(finished(&wrong), Err(SpanProblem::EndsBeforeItBegins { load: LoadId(1), .. })));
    }
}
