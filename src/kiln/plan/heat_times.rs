//! How long the kiln takes from one temperature to another.
//!
//! Binary floats, as in all heat: the answers are whole seconds.
#![allow(clippy::float_arithmetic)]

use super::{KilnPlan, PlanAsk};
use crate::measure::{Decimal, exact};
use rust_decimal::prelude::ToPrimitive;

/// The kiln as one lump of heat that leaks (lumped thermal capacity: Incropera & DeWitt, *Fundamentals of Heat and Mass
/// Transfer*, ch. 5).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatTimes {
    /// Heat it takes to be one degree hotter, kWh/K, above 0.
    pub capacity_kwh_per_k: f64,
    /// Heat it loses a degree above the room, kW/K, above 0.
    pub loss_kw_per_k: f64,
    /// Power of its elements, kW, above 0.
    pub rated_kw: f64,
    /// The room, °C, −50 to 60.
    pub room_c: f64,
}

impl HeatTimes {
    /// Seconds from one temperature to another, heating at full power or cooling with the power off; to the nearest
    /// second of a common scale, so that the way over a temperature between is exactly as long. `None` where the kiln
    /// never gets there.
    ///
    /// Heating takes `(C/k)·ln((P − k(T₁ − Tₐ)) / (P − k(T₂ − Tₐ)))` hours, cooling `(C/k)·ln((T₁ − Tₐ) / (T₂ − Tₐ))`
    /// (lumped capacity, as above). Below one degree above the room no time is reckoned.
    pub fn seconds(&self, from_c: i32, to_c: i32) -> Option<i64> {
        if to_c >= from_c {
            Some(self.risen(to_c)? - self.risen(from_c)?)
        } else {
            Some(self.fallen(from_c)? - self.fallen(to_c)?)
        }
    }

    /// Seconds from the cold kiln to a temperature at full power.
    pub(super) fn risen(&self, celsius: i32) -> Option<i64> {
        let above = (f64::from(celsius) - self.room_c).max(0.0);
        let left = self.rated_kw - self.loss_kw_per_k * above;
        if left > 0.0 { whole(self.scale() * (self.rated_kw / left).ln()) } else { None }
    }

    /// Seconds from a temperature to one degree above the room with the power off.
    pub(super) fn fallen(&self, celsius: i32) -> Option<i64> {
        whole(self.scale() * (f64::from(celsius) - self.room_c).max(1.0).ln())
    }

    /// The time constant, seconds.
    fn scale(&self) -> f64 {
        3_600.0 * self.capacity_kwh_per_k / self.loss_kw_per_k
    }

    /// The temperature the kiln begins with, °C; of a cold one the whole degree not above the room.
    pub(super) fn beginning_c(&self, ask: &PlanAsk) -> i32 {
        ask.begins_at_c.unwrap_or_else(|| self.room_whole_c())
    }

    /// The room as a whole degree, rounded down.
    pub(super) fn room_whole_c(&self) -> i32 {
        exact::from_geometry(self.room_c.floor()).and_then(|room| room.to_i32()).unwrap_or(0)
    }

    /// The highest whole degree below the one at which the power only makes good the loss, `Tₐ + P/k` (lumped capacity, as
    /// above).
    pub(super) fn holds_c(&self) -> i32 {
        let limit = (self.room_c + self.rated_kw / self.loss_kw_per_k).min(1e6);
        exact::from_geometry(limit).and_then(|limit| limit.ceil().to_i32()).unwrap_or(0) - 1
    }

    /// Energy of a plan, kWh: full power while it heats, `k (T − Tₐ)` while it holds (lumped capacity, as above). It holds a
    /// load's temperature for the load and the door, and waits at the cooler of two temperatures.
    pub(super) fn kwh(&self, ask: &PlanAsk, plan: &KilnPlan) -> Decimal {
        let hours = |seconds: i64| Decimal::from(seconds).to_f64().unwrap_or(0.0) / 3_600.0;
        let holding = |celsius: i32| self.loss_kw_per_k * (f64::from(celsius) - self.room_c).max(0.0);
        let mut kwh = 0.0;
        let (mut celsius, mut free) = (self.beginning_c(ask), ask.begins());
        for load in &plan.loads {
            let change = self.seconds(celsius, load.celsius).unwrap_or(0);
            if load.celsius > celsius {
                kwh += self.rated_kw * hours(change);
            }
            kwh += holding(celsius.min(load.celsius)) * hours((load.start - free - change).max(0));
            // After the last load the kiln may be switched off.
            let last = load.end == plan.finish;
            free = load.end + if last { 0 } else { i64::from(ask.door_seconds) };
            kwh += holding(load.celsius) * hours(free - load.start);
            celsius = load.celsius;
        }
        exact::from_geometry(kwh).unwrap_or(Decimal::ZERO)
    }

    /// Each number with its name, and whether it is accepted.
    pub(super) fn fields(&self) -> [(&'static str, f64, &'static str, bool); 4] {
        let positive = |value: f64| value > 0.0 && value <= 1e6;
        [
            (
                "the kiln's thermal capacity",
                self.capacity_kwh_per_k,
                "above 0 kWh/K, to 1,000,000",
                positive(self.capacity_kwh_per_k),
            ),
            ("the kiln's loss", self.loss_kw_per_k, "0.000001 kW/K to 1,000,000", {
                self.loss_kw_per_k >= 1e-6 && positive(self.loss_kw_per_k)
            }),
            ("the kiln's rated power", self.rated_kw, "above 0 kW, to 1,000,000", positive(self.rated_kw)),
            ("the room", self.room_c, "−50 °C to 60 °C", (-50.0..=60.0).contains(&self.room_c)),
        ]
    }
}

/// The nearest whole number, where it is one of seconds.
fn whole(value: f64) -> Option<i64> {
    exact::from_geometry(value).and_then(|value| value.round().to_i64()).filter(|seconds| *seconds < 100_000_000_000)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kiln() -> HeatTimes {
        // Loss 1.6 W/K, so 800 degrees above the room hold at 1.28 kW; a time constant of 1.5 hours.
        HeatTimes { capacity_kwh_per_k: 0.0024, loss_kw_per_k: 0.0016, rated_kw: 2.4, room_c: 20.0 }
    }

    // Expected: the closed forms worked with a pocket calculator. 5400·ln(2.4/(2.4 − 1.28)) = 4115.6;
    // 5400·ln(800/700) = 721.1.
    #[test]
    fn heating_and_cooling_follow_the_closed_forms() {
        assert_eq!(kiln().seconds(20, 820), Some(4116));
        let cooling = kiln().seconds(820, 720).unwrap_or(0);
        assert!((720..=722).contains(&cooling), "{cooling}");
        assert_eq!(kiln().seconds(800, 1520), None, "the elements hold 1500 degrees above the room at most");
    }

    #[test]
    fn a_way_over_a_temperature_between_is_as_long() {
        for (low, between, high) in [(20, 500, 810), (700, 701, 702), (640, 733, 899)] {
            let seconds = |from, to| kiln().seconds(from, to).unwrap_or(-1);
            assert_eq!(seconds(low, high), seconds(low, between) + seconds(between, high));
            assert_eq!(seconds(high, low), seconds(high, between) + seconds(between, low));
        }
    }
}
