//! The heat of a day over time, for drawing: warm-up by the model, holding, the dip at each opening of the door and its
//! recovery, cooling with the power off. Binary floats: it is a drawing, no figure of cost.
#![allow(clippy::float_arithmetic)]

use crate::studio::LoadId;
use chrono::NaiveDateTime;

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
