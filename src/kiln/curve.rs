//! The heat of a day over time, for drawing: warm-up by the model, holding, the dip at each opening of the door and its
//! recovery, cooling with the power off. Binary floats: it is a drawing, no figure of cost.
#![allow(clippy::float_arithmetic)]

use super::day::{DayProblem, WeighedLoad};
use super::heat::{HeatModel, float};
use super::span::{InHeat, finished, of_day, refuse_overlaps};
use crate::studio::{ElectricKiln, KilnDay, LoadId};
use chrono::{NaiveDateTime, TimeDelta};
use std::time::Duration;

/// A point of the curve. Two points of one time are a drop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CurvePoint {
    /// When.
    pub at: NaiveDateTime,
    /// °C.
    pub celsius: f64,
}

/// A temperature set for a load, as a level line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SetLine {
    /// The load.
    pub load: LoadId,
    /// Door closed.
    pub from: NaiveDateTime,
    /// Door opened; the end of the drawing while it fires.
    pub to: NaiveDateTime,
    /// °C.
    pub celsius: f64,
}

/// A day as a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct DayCurve {
    /// The curve, in order of time; at least one point.
    pub points: Vec<CurvePoint>,
    /// What was set for each load.
    pub set: Vec<SetLine>,
    /// At heat.
    pub hot_at: NaiveDateTime,
    /// Switched off; none while it is on.
    pub off_at: Option<NaiveDateTime>,
    /// The hottest point, °C.
    pub highest: f64,
}

/// What is to be drawn.
#[derive(Debug, Clone, Copy)]
pub struct CurveAsk<'a> {
    /// The kiln.
    pub kiln: &'a ElectricKiln,
    /// The day.
    pub day: &'a KilnDay,
    /// Its loads, in any order, the one still firing too.
    pub loads: &'a [WeighedLoad<'a>],
    /// The end of the drawing: now, or some time after it was switched off.
    pub until: NaiveDateTime,
}

/// Draws a day. At each closing of the door the heat lost through it and the heat the load takes up come out of the
/// kiln at once; full power brings it back. Where the log says when it was at heat, the model's warm-up is stretched to
/// that.
///
/// # Errors
/// [`DayProblem`] where the kiln's figures give no model or the loads cannot be.
pub fn curve(ask: &CurveAsk<'_>) -> Result<DayCurve, DayProblem> {
    let model = HeatModel::of(ask.kiln)?;
    let begun = ask.loads.iter().filter(|load| load.load.load.closed_at <= ask.until);
    let mut loads = finished(begun.clone().map(|load| load.load))?;
    let firing = begun.filter(|load| load.load.load.opened_at.is_none()).map(|load| load.load);
    loads.extend(firing.map(|load| InHeat { load, from: load.load.closed_at, to: ask.until }));
    loads.sort_by_key(|load| (load.from, load.to, load.load.id));
    refuse_overlaps(&loads)?;
    let span = of_day(ask.day, Some(&model), &loads)?;
    let off_at = ask.day.off_at.filter(|off| *off <= ask.until);
    let hold = float(ask.day.hold_celsius)?;
    let mut pen = Pen::new(&model, span.on, ask.until);
    if ask.day.hot_at.is_some() {
        pen.warm_up(hold, span.hot);
    }
    let mut set = Vec::with_capacity(loads.len());
    let powered = off_at.unwrap_or(ask.until);
    for load in &loads {
        pen.run(hold, load.from.min(powered));
        let masses = ask.loads.iter().find(|weighed| weighed.load.id == load.load.id);
        let masses = masses.map_or(&[][..], |weighed| weighed.masses.as_slice());
        let set_celsius = load.load.load.set_celsius;
        pen.drop(float(model.load_kwh(masses, ask.kiln.furniture_g, set_celsius)?)?);
        let celsius = float(set_celsius)?;
        pen.run(celsius, load.to.min(powered));
        set.push(SetLine { load: load.load.id, from: load.from, to: load.to.min(ask.until), celsius });
    }
    pen.run(hold, powered);
    if off_at.is_some() {
        pen.run(f64::NEG_INFINITY, ask.until);
    }
    let highest = pen.points.iter().map(|point| point.celsius).fold(f64::NEG_INFINITY, f64::max);
    Ok(DayCurve { points: pen.points, set, hot_at: span.hot, off_at, highest })
}

/// Points of each bend.
const POINTS_A_BEND: i32 = 24;

/// Where the drawing has come to.
struct Pen<'a> {
    model: &'a HeatModel,
    at: NaiveDateTime,
    celsius: f64,
    until: NaiveDateTime,
    points: Vec<CurvePoint>,
}

impl<'a> Pen<'a> {
    fn new(model: &'a HeatModel, at: NaiveDateTime, until: NaiveDateTime) -> Self {
        let celsius = model.room_float();
        Self { model, at, celsius, until, points: vec![CurvePoint { at, celsius }] }
    }

    /// The model's warm-up, stretched so that it ends at `hot`.
    fn warm_up(&mut self, hold: f64, hot: NaiveDateTime) {
        let from = self.celsius;
        let (Some(modelled), true) = (self.model.heating(from, hold), hot <= self.until) else { return };
        let real = minutes(self.at, hot);
        let model = self.model;
        self.bend(real, |minutes| model.heated(from, if real > 0.0 { modelled * minutes / real } else { modelled }));
        (self.at, self.celsius) = (hot, hold);
        self.point();
    }

    /// Goes on to `to` with the controller set to `target`: full power below it, none above it, level once there.
    fn run(&mut self, target: f64, to: NaiveDateTime) {
        let to = to.min(self.until);
        if to <= self.at {
            return;
        }
        let (whole, from, model) = (minutes(self.at, to), self.celsius, self.model);
        let rising = from < target;
        let needed = if rising { model.heating(from, target) } else { model.cooling(from, target) };
        let bending = needed.unwrap_or(f64::INFINITY).min(whole);
        if bending > 0.0 {
            self.bend(bending, |minutes| {
                if rising { model.heated(from, minutes).min(target) } else { model.cooled(from, minutes).max(target) }
            });
        }
        self.at = to;
        self.point();
    }

    /// So many kWh leave it at once.
    fn drop(&mut self, kwh: f64) {
        self.celsius = self.model.dipped(self.celsius, kwh);
        self.point();
    }

    /// Points along a bend of so many minutes.
    fn bend(&mut self, minutes: f64, celsius: impl Fn(f64) -> f64) {
        let begin = self.at;
        for step in 1..=POINTS_A_BEND {
            let passed = minutes * f64::from(step) / f64::from(POINTS_A_BEND);
            self.celsius = celsius(passed);
            if let Some(at) = later(begin, passed) {
                self.at = at.min(self.until);
                self.point();
            }
        }
    }

    fn point(&mut self) {
        let point = CurvePoint { at: self.at, celsius: self.celsius };
        if self.points.last() != Some(&point) {
            self.points.push(point);
        }
    }
}

fn minutes(from: NaiveDateTime, to: NaiveDateTime) -> f64 {
    (to - from).as_seconds_f64() / 60.0
}

/// A time so many minutes later, to the millisecond.
fn later(from: NaiveDateTime, minutes: f64) -> Option<NaiveDateTime> {
    let span = Duration::try_from_secs_f64(minutes * 60.0).ok()?;
    let millis = i64::try_from(span.as_millis()).ok()?;
    from.checked_add_signed(TimeDelta::try_milliseconds(millis)?)
}

#[cfg(test)]
mod tests {
    use super::super::samples::{at, day, electric, load};
    use super::*;

    fn drawn(until: NaiveDateTime, off: Option<&str>, hot: Option<&str>) -> DayCurve {
        let mut written = day(2, "08:00:00", off).day;
        written.hot_at = hot.map(|hot| at(2, hot));
        let loads =
            [load(1, at(2, "09:00:00"), Some(at(2, "09:20:00")), 800, &[]), load(2, at(2, "09:40:00"), None, 800, &[])];
        let loads: Vec<WeighedLoad<'_>> = loads.iter().map(|load| WeighedLoad { load, masses: Vec::new() }).collect();
        curve(&CurveAsk { kiln: &electric(), day: &written, loads: &loads, until }).unwrap()
    }

    fn at_time(curve: &DayCurve, time: &str) -> Vec<f64> {
        curve.points.iter().filter(|point| point.at == at(2, time)).map(|point| point.celsius).collect()
    }

    #[test]
    fn it_warms_holds_dips_and_recovers() {
        let curve = drawn(at(2, "09:50:00"), None, None);
        assert!(curve.points.windows(2).all(|pair| pair[0].at <= pair[1].at));
        assert_eq!(curve.hot_at, at(2, "08:43:30"));
        // The load takes 350 g · 0.49 J/(g·K) · 780 K = 133,770 J and the door 0.03 kWh out of 0.001355272054 kWh/K.
        let dip = (133_770.0 / 3.6e6 + 0.03) / 0.001_355_272_054;
        let [held, dipped] = at_time(&curve, "09:00:00")[..] else { panic!("{:?}", curve.points) };
        assert!((held - 780.0).abs() < 1e-6 && (held - dipped - dip).abs() < 1e-3, "{held} {dipped} {dip}");
        // Nine minutes of full power bring back 50 K with much to spare.
        let [set] = at_time(&curve, "09:20:00")[..] else { panic!("{:?}", curve.points) };
        assert!((set - 800.0).abs() < 1e-6, "{set}");
        assert!((curve.highest - 800.0).abs() < 1e-6);
        // The load still in it is drawn to the end.
        assert_eq!(curve.set.iter().map(|set| set.to).collect::<Vec<_>>(), [at(2, "09:20:00"), at(2, "09:50:00")]);
        assert_eq!(curve.off_at, None);
    }

    #[test]
    fn it_cools_after_it_is_switched_off() {
        let curve = drawn(at(2, "12:00:00"), Some("10:00:00"), None);
        let model = HeatModel::of(&electric()).unwrap();
        let begun = at_time(&curve, "10:00:00")[0];
        let ended = curve.points.last().unwrap();
        assert_eq!((ended.at, curve.off_at), (at(2, "12:00:00"), Some(at(2, "10:00:00"))));
        assert!((ended.celsius - model.cooled(begun, 120.0)).abs() < 1e-6);
    }

    #[test]
    fn a_noted_time_stretches_the_warm_up() {
        let curve = drawn(at(2, "08:58:00"), None, Some("08:55:00"));
        assert!((at_time(&curve, "08:55:00")[0] - 780.0).abs() < 1e-6);
        assert!(curve.points.iter().filter(|point| point.at < at(2, "08:54:00")).all(|point| point.celsius < 780.0));
        assert_eq!(curve.points.last().unwrap().at, at(2, "08:58:00"));
        let early = drawn(at(2, "08:10:00"), None, Some("08:55:00"));
        assert_eq!(early.points.last().unwrap().at, at(2, "08:10:00"));
        assert!(early.highest < 780.0);
    }
}
