//! Where a load that fires stands at a moment: what is left of the minutes asked for, or how long it is over.

use crate::measure::{Decimal, TooLarge, exact};
use crate::studio::Load;
use chrono::NaiveDateTime;
use rust_decimal::prelude::ToPrimitive;

/// A load at a moment, in whole seconds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FiringClock {
    /// Asked for, above 0.
    pub asked_seconds: i64,
    /// Gone since the door closed, 0 or more.
    pub gone_seconds: i64,
}

impl FiringClock {
    /// A load as it stands then. A moment before the door closed counts as that moment.
    pub fn of(load: &Load, at: NaiveDateTime) -> Self {
        let asked = exact::mul(load.asked_minutes, 60.into()).ok().map(|seconds| exact::round_away(seconds, 0));
        Self {
            asked_seconds: asked.and_then(|seconds| seconds.to_i64()).unwrap_or(1).max(1),
            gone_seconds: (at - load.closed_at).num_seconds().max(0),
        }
    }

    /// Seconds left; below 0 it is over by so many.
    pub fn left(self) -> i64 {
        self.asked_seconds - self.gone_seconds
    }

    /// The time asked for is up.
    pub fn is_over(self) -> bool {
        self.left() <= 0
    }

    /// The minutes asked for with so many seconds more.
    ///
    /// # Errors
    /// [`TooLarge`] where they do not fit.
    pub fn longer(load: &Load, seconds: u32) -> Result<Decimal, TooLarge> {
        exact::add(load.asked_minutes, exact::div(seconds.into(), 60.into())?)
    }

    /// How much of the time asked for is gone, in thousandths, 0 to 1000.
    pub fn gone_thousandths(self) -> u16 {
        let share = self.gone_seconds.saturating_mul(1000) / self.asked_seconds;
        u16::try_from(share.clamp(0, 1000)).unwrap_or(1000)
    }
}

/// Minutes from one moment to another, to the second; none where the second is not after the first.
pub fn minutes_between(closed: NaiveDateTime, opened: NaiveDateTime) -> Option<Decimal> {
    let seconds = (opened - closed).num_seconds();
    (seconds > 0).then(|| exact::div(seconds.into(), 60.into()).ok()).flatten().map(|minutes| exact::round(minutes, 6))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::studio::KilnId;
    use chrono::{NaiveDate, TimeDelta};

    /// Counted by hand on a clock: 2 min 15 s from 10:14:08 end at 10:16:23.
    #[test]
    fn it_counts_down_to_the_end_and_past_it() {
        let closed = NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(10, 14, 8).unwrap();
        let load = Load {
            kiln: KilnId(1),
            closed_at: closed,
            opened_at: None,
            set_celsius: 720.into(),
            read_celsius: None,
            asked_minutes: "2.25".parse().unwrap(),
            attended_minutes: None,
            charge: Vec::new(),
            override_words: String::new(),
            note: String::new(),
        };
        let at = |seconds| FiringClock::of(&load, closed + TimeDelta::seconds(seconds));
        assert_eq!((at(0).left(), at(33).left(), at(135).left(), at(147).left()), (135, 102, 0, -12));
        assert!(!at(134).is_over() && at(135).is_over());
        assert_eq!((at(0).gone_thousandths(), at(27).gone_thousandths(), at(500).gone_thousandths()), (0, 200, 1000));
        assert_eq!(at(-20).left(), 135);
        assert_eq!(FiringClock::longer(&load, 15).unwrap(), "2.5".parse().unwrap());
    }
}
