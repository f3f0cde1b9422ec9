//! A kiln's figures from its meter (kiln and batch method, section 1): `kWh = C (T − T_a) + k ∫(T − T_a) dt + e · openings`
//! with `C`, `k`, `e ≥ 0` by non-negative least squares (Lawson & Hanson, Solving Least Squares Problems, 1974). The
//! eight sets of unknowns that may be above zero are few enough to try each one. Binary floats inside.
#![allow(clippy::float_arithmetic)]

use super::day::DayProblem;
use super::heat::{HEAT_PLACES, HeatModel, boundary, fine, float};
use super::span::{finished, of_day, refuse_overlaps, seconds};
use crate::measure::exact::{add, div, mul, round, sub};
use crate::measure::{Decimal, TooLarge};
use crate::studio::{BookKilnDay, BookLoad, ElectricKiln, FittedHeat, KilnDayId};
use chrono::NaiveDate;

/// Fewest readings a fit rests on.
pub const FEWEST_READINGS: usize = 4;

/// A day of which the meter was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MeterReading {
    /// Its row.
    pub day: KilnDayId,
    /// Its date.
    pub date: NaiveDate,
    /// The day's highest holding temperature over the room's, K.
    pub rise_k: Decimal,
    /// The time integral of temperature over the room's, K·h; over the warm-up the rise is taken as a straight line.
    pub kelvin_hours: Decimal,
    /// Openings of the door: one a load.
    pub openings: u32,
    /// What the meter read, kWh.
    pub kwh: Decimal,
}

/// How well a fit meets one reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Residual {
    /// The reading.
    pub reading: MeterReading,
    /// kWh by the fit, 6 places.
    pub fitted_kwh: Decimal,
    /// The meter's less the fit's, kWh, 6 places.
    pub residual_kwh: Decimal,
}

/// A fit to meter readings, shown before it is used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HeatFit {
    /// Thermal capacity `C`, kWh/K, 12 places.
    pub capacity_kwh_per_k: Decimal,
    /// Loss coefficient `k`, kW/K, 12 places.
    pub loss_kw_per_k: Decimal,
    /// Heat lost at each opening of the door `e`, kWh, 12 places.
    pub door_kwh: Decimal,
    /// Each reading against the fit.
    pub residuals: Vec<Residual>,
    /// Square root of the sum of the squared residuals, kWh, 6 places.
    pub norm_kwh: Decimal,
}

/// What a day tells of its kiln. None where its meter was not read, or where neither the log nor the kiln's figures say
/// how long it warmed up.
///
/// # Errors
/// [`DayProblem::Span`] where the day's loads cannot be; [`DayProblem::TooLarge`] where a figure does not fit.
pub fn reading(
    kiln: &ElectricKiln,
    day: &BookKilnDay,
    loads: &[&BookLoad],
) -> Result<Option<MeterReading>, DayProblem> {
    let Some(kwh) = day.day.meter_kwh else { return Ok(None) };
    let model = HeatModel::of(kiln).ok();
    let reaches = |model: &HeatModel| model.minutes_to_heat(model.room(), day.day.hold_celsius).is_ok();
    if day.day.hot_at.is_none() && !model.as_ref().is_some_and(reaches) {
        return Ok(None);
    }
    let loads = finished(loads.iter().copied())?;
    refuse_overlaps(&loads)?;
    let span = of_day(&day.day, model.as_ref(), &loads)?;
    let rise = |celsius| Ok::<_, TooLarge>(sub(celsius, kiln.room_celsius)?.max(Decimal::ZERO));
    let hold = rise(day.day.hold_celsius)?;
    let mut highest = hold;
    // Kelvin-seconds: half the rise while it warms up, then what was held.
    let mut twice = mul(hold, Decimal::from(seconds(span.on, span.hot)))?;
    let mut held_from = span.hot;
    for load in &loads {
        let set = rise(load.load.load.set_celsius)?;
        highest = highest.max(set);
        let until = load.to.min(span.end);
        let idle = mul(hold, Decimal::from(seconds(held_from, load.from)))?;
        let fired = mul(set, Decimal::from(seconds(load.from, until)))?;
        twice = add(twice, mul(Decimal::TWO, add(idle, fired)?)?)?;
        held_from = until;
    }
    twice = add(twice, mul(Decimal::TWO, mul(hold, Decimal::from(seconds(held_from, span.end)))?)?)?;
    Ok(Some(MeterReading {
        day: day.id,
        date: day.day.date,
        rise_k: highest,
        kelvin_hours: round(div(twice, Decimal::from(7200))?, HEAT_PLACES).normalize(),
        openings: u32::try_from(loads.len()).map_err(|_| TooLarge)?,
        kwh,
    }))
}

/// Fits a kiln's figures to its readings. None for fewer than [`FEWEST_READINGS`]. Readings that are all alike leave a
/// figure at 0; [`HeatModel::fitted`] refuses such a fit.
///
/// # Errors
/// [`TooLarge`] where a figure does not fit.
pub fn fit(readings: &[MeterReading]) -> Result<Option<HeatFit>, TooLarge> {
    if readings.len() < FEWEST_READINGS {
        return Ok(None);
    }
    let mut columns: [Vec<f64>; 3] = Default::default();
    let mut measured = Vec::with_capacity(readings.len());
    for reading in readings {
        let row = [float(reading.rise_k)?, float(reading.kelvin_hours)?, f64::from(reading.openings)];
        for (column, value) in columns.iter_mut().zip(row) {
            column.push(value);
        }
        measured.push(float(reading.kwh)?);
    }
    let [capacity, loss, door] = non_negative_least_squares(&columns, &measured);
    let left = remainder(&columns, &measured, [capacity, loss, door]);
    let residuals = readings
        .iter()
        .zip(&left)
        .map(|(reading, left)| {
            let residual_kwh = boundary(*left)?;
            let fitted_kwh = round(sub(reading.kwh, residual_kwh)?, HEAT_PLACES).normalize();
            Ok(Residual { reading: *reading, fitted_kwh, residual_kwh })
        })
        .collect::<Result<Vec<Residual>, TooLarge>>()?;
    Ok(Some(HeatFit {
        capacity_kwh_per_k: fine(capacity)?,
        loss_kw_per_k: fine(loss)?,
        door_kwh: fine(door)?,
        residuals,
        norm_kwh: boundary(dot(&left, &left).sqrt())?,
    }))
}

impl HeatFit {
    /// The figures as they are kept once she accepts them on `date`.
    pub fn accepted(&self, date: NaiveDate) -> FittedHeat {
        FittedHeat {
            capacity_kwh_per_k: self.capacity_kwh_per_k,
            loss_kw_per_k: self.loss_kw_per_k,
            door_kwh: self.door_kwh,
            readings: u32::try_from(self.residuals.len()).unwrap_or(u32::MAX),
            accepted: date,
        }
    }
}

/// The coefficients, none below 0, that leave the least sum of squares: the best of the least-squares solutions of every
/// set of columns that has none below 0. The optimum is the plain solution of the columns it uses, so it is among them.
fn non_negative_least_squares(columns: &[Vec<f64>; 3], measured: &[f64]) -> [f64; 3] {
    let mut best = [0.0; 3];
    let mut least = dot(measured, measured);
    // Fewer columns first: of two sets that leave the same, the simpler stays.
    for set in [0b001_u8, 0b010, 0b100, 0b011, 0b101, 0b110, 0b111] {
        let Some(found) = least_squares(columns, measured, set) else { continue };
        if found.iter().any(|value| *value < 0.0) {
            continue;
        }
        let left = remainder(columns, measured, found);
        let squares = dot(&left, &left);
        if squares < least * (1.0 - 1e-12) {
            (best, least) = (found, squares);
        }
    }
    best
}

/// Plain least squares on the columns whose bit is set, scaled to length 1, by orthogonalising them one after the other
/// (modified Gram–Schmidt with the measured column carried along). None where the columns depend on each other.
fn least_squares(columns: &[Vec<f64>; 3], measured: &[f64], set: u8) -> Option<[f64; 3]> {
    let mut used: Vec<Direction> = Vec::new();
    let mut left = measured.to_vec();
    for (index, column) in columns.iter().enumerate() {
        if set & (1 << index) == 0 {
            continue;
        }
        let length = dot(column, column).sqrt();
        if length <= 0.0 {
            return None;
        }
        let mut unit: Vec<f64> = column.iter().map(|value| value / length).collect();
        let mut along = Vec::new();
        for earlier in &used {
            let share = dot(&earlier.unit, &unit);
            take_off(&mut unit, &earlier.unit, share);
            along.push(share);
        }
        let own = dot(&unit, &unit).sqrt();
        // A column all but made of the others tells nothing of its own: the figures would be noise.
        if own < 1e-9 {
            return None;
        }
        unit.iter_mut().for_each(|value| *value /= own);
        let target = dot(&unit, &left);
        take_off(&mut left, &unit, target);
        used.push(Direction { index, unit, own, along, target, length });
    }
    let mut scaled: Vec<f64> = vec![0.0; used.len()];
    let mut found = [0.0; 3];
    for (place, direction) in used.iter().enumerate().rev() {
        let later = used.iter().zip(&scaled).skip(place + 1);
        let known: f64 = later.map(|(other, value)| other.along.get(place).copied().unwrap_or(0.0) * value).sum();
        let value = (direction.target - known) / direction.own;
        if let (Some(scaled), Some(found)) = (scaled.get_mut(place), found.get_mut(direction.index)) {
            *scaled = value;
            *found = value / direction.length;
        }
    }
    Some(found)
}

/// A column made orthogonal to those before it.
struct Direction {
    index: usize,
    unit: Vec<f64>,
    own: f64,
    along: Vec<f64>,
    target: f64,
    length: f64,
}

fn remainder(columns: &[Vec<f64>; 3], measured: &[f64], found: [f64; 3]) -> Vec<f64> {
    let mut left = measured.to_vec();
    for (column, value) in columns.iter().zip(found) {
        take_off(&mut left, column, value);
    }
    left
}

fn take_off(from: &mut [f64], column: &[f64], times: f64) {
    from.iter_mut().zip(column).for_each(|(value, part)| *value -= times * part);
}

fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(a, b)| a * b).sum()
}
