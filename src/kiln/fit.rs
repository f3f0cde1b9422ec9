//! A kiln's figures from its meter (kiln and batch method, section 1): `kWh = C (T − T_a) + k ∫(T − T_a) dt + e · openings`
//! with `C`, `k`, `e ≥ 0` by non-negative least squares (Lawson & Hanson, Solving Least Squares Problems, 1974). The
//! eight sets of unknowns that may be above zero are few enough to try each one. Binary floats inside.
#![allow(clippy::float_arithmetic)]

use crate::measure::Decimal;
use crate::studio::KilnDayId;
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
