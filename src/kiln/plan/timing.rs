//! From loads in an order to their times.

use super::asked::Asked;
use super::{KilnPlan, Load, PlanAsk, Proof};
use crate::measure::Decimal;

/// A load before it is timed: temperature, and piece and firing by their places in the question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Batch {
    pub(super) celsius: i32,
    pub(super) fired: Vec<(usize, usize)>,
}

/// When loads begin and how long they take.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Timed {
    /// Begin and seconds in the heat of each.
    pub(super) times: Vec<(i64, u32)>,
    pub(super) finish: i64,
    pub(super) moved_c: i64,
    /// The first firing that stands before the one it follows, where there is one: load, piece, firing.
    pub(super) disorder: Option<(usize, usize, usize)>,
}

/// Times loads: each as soon as kiln and pieces are ready, and as short as its pieces allow.
pub(super) fn timed(asked: &Asked<'_>, batches: &[Batch]) -> Timed {
    timed_for(asked.ask, batches)
}

/// As [`timed`], for a question that was not made ready.
pub(super) fn timed_for(ask: &PlanAsk, batches: &[Batch]) -> Timed {
    let (mut celsius, mut free) = (ask.heat.beginning_c(ask), ask.begins());
    let mut result = Timed { finish: free, ..Timed::default() };
    // What each piece does next, and from when.
    let mut next: Vec<(usize, i64)> = ask.pieces.iter().map(|piece| (0, piece.ready)).collect();
    for (number, batch) in batches.iter().enumerate() {
        let mut start = free + ask.heat.seconds(celsius, batch.celsius).unwrap_or(0);
        let mut seconds = 0;
        for &(piece, firing) in &batch.fired {
            if let Some(&(expected, ready)) = next.get(piece) {
                start = start.max(ready);
                if expected != firing && result.disorder.is_none() {
                    result.disorder = Some((number, piece, firing));
                }
            }
            let asked = ask.pieces.get(piece).and_then(|piece| piece.firings.get(firing));
            seconds = seconds.max(asked.map_or(0, |firing| firing.shortest));
        }
        let end = start + i64::from(seconds);
        for &(piece, firing) in &batch.fired {
            let rest = ask.pieces.get(piece).and_then(|piece| piece.firings.get(firing)).map_or(0, |f| f.rest);
            if let Some(next) = next.get_mut(piece) {
                *next = (firing + 1, end + i64::from(rest));
            }
        }
        result.times.push((start, seconds));
        result.moved_c += i64::from(celsius.abs_diff(batch.celsius));
        celsius = batch.celsius;
        result.finish = end;
        free = end + i64::from(ask.door_seconds);
    }
    result
}

impl Timed {
    /// The plan as it is answered.
    pub(super) fn into_plan(self, ask: &PlanAsk, batches: &[Batch], bound: i64, proof: Proof) -> KilnPlan {
        let load = |(batch, (start, seconds)): (&Batch, &(i64, u32))| Load {
            start: *start,
            end: start + i64::from(*seconds),
            celsius: batch.celsius,
            seconds: *seconds,
            pieces: batch.fired.iter().map(|(piece, firing)| ask.fired(*piece, *firing)).collect(),
        };
        let loads = batches.iter().zip(&self.times).map(load).collect();
        let mut plan = KilnPlan { loads, finish: self.finish, moved_c: self.moved_c, kwh: Decimal::ZERO, bound, proof };
        plan.kwh = ask.heat.kwh(ask, &plan);
        plan
    }
}
