//! What a change by hand does to a planned kiln day, beside the plan it began from.

use super::plan::KilnPlan;
use crate::measure::{Decimal, exact};

/// A plan against another; above 0 is more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PlanEffect {
    /// Seconds it finishes later.
    pub later: i64,
    /// °C the set temperature rises and falls more.
    pub moved_c: i64,
    /// kWh it takes more.
    pub kwh: Decimal,
}

impl PlanEffect {
    /// What `now` does that `before` did not.
    pub fn of(before: &KilnPlan, now: &KilnPlan) -> Self {
        Self {
            later: now.finish - before.finish,
            moved_c: now.moved_c - before.moved_c,
            kwh: exact::sub(now.kwh, before.kwh).unwrap_or_default(),
        }
    }

    /// Nothing is another.
    pub fn is_none(&self) -> bool {
        self.later == 0 && self.moved_c == 0 && self.kwh.is_zero()
    }
}
