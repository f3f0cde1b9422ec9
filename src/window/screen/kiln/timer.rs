//! A load that fires, worded for the timer.

use super::words;
use crate::book::Snapshot;
use crate::costing::firing_clock::FiringClock;
use crate::measure::{Preferences, display};
use crate::studio::{BookLoad, LoadId};
use chrono::{NaiveDateTime, TimeDelta};

/// A load at a moment.
#[derive(Debug, Clone)]
pub(super) struct Timer {
    pub(super) id: LoadId,
    /// Its kiln's name.
    pub(super) kiln: String,
    /// What is left as it stands in the middle of the page: `1:42`, and over the end `+0:12`.
    pub(super) left: String,
    /// `over by 0:12`; empty before the end.
    pub(super) over: String,
    pub(super) clock: FiringClock,
    /// What is in it.
    pub(super) charge: String,
    pub(super) closed: String,
    pub(super) asked: String,
    /// `1328 °F set`.
    pub(super) set: String,
    pub(super) celsius: f32,
    /// What was typed to fire past a stop.
    pub(super) past_stop: String,
}

impl Timer {
    /// A load as it stands then.
    pub(super) fn of(book: &BookLoad, at: NaiveDateTime, snapshot: &Snapshot, p: &Preferences) -> Self {
        let load = &book.load;
        let clock = FiringClock::of(load, at);
        let kiln = snapshot.kiln(load.kiln).map_or_else(String::new, |kiln| kiln.kiln.name.clone());
        let left = clock.left();
        Self {
            id: book.id,
            kiln,
            left: if left < 0 { format!("+{}", seconds(-left)) } else { seconds(left) },
            over: if clock.is_over() { format!("over by {}", seconds(-left)) } else { String::new() },
            clock,
            charge: words::charge(&load.charge, snapshot),
            closed: format!("door closed {}", load.closed_at.format("%H:%M:%S")),
            asked: format!("{} asked", display::minutes(load.asked_minutes, p)),
            set: format!("{} set", display::temperature(load.set_celsius, p)),
            celsius: words::celsius(load.set_celsius),
            past_stop: load.override_words.clone(),
        }
    }
}

/// Minutes and seconds.
fn seconds(all: i64) -> String {
    format!("{}:{:02}", all / 60, all % 60)
}

/// Seconds between two rings of the bell once the time is up.
const BETWEEN_RINGS: i64 = 10;

/// When the bell rang last, and for which load.
#[derive(Debug, Clone, Default)]
pub(super) struct Bell {
    last: Option<(LoadId, NaiveDateTime)>,
    /// It says nothing.
    pub(super) muted: bool,
}

impl Bell {
    /// Whether it rings now for a load that is over: at once, then every ten seconds.
    pub(super) fn rings(&mut self, load: LoadId, at: NaiveDateTime) -> bool {
        let again = |(last, then): (LoadId, NaiveDateTime)| {
            last != load || at - then >= TimeDelta::seconds(BETWEEN_RINGS) || at < then
        };
        let rings = !self.muted && self.last.is_none_or(again);
        if rings {
            self.last = Some((load, at));
        }
        rings
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::NaiveDate;

    #[test]
    fn the_bell_rings_at_the_end_and_every_ten_seconds_until_it_is_muted() {
        let end = NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(10, 16, 23).unwrap();
        let mut bell = Bell::default();
        let at = |seconds| end + TimeDelta::seconds(seconds);
        let rung: Vec<i64> = (0..=30).filter(|second| bell.rings(LoadId(1), at(*second))).collect();
        assert_eq!(rung, [0, 10, 20, 30]);
        assert!(bell.rings(LoadId(2), at(31)));
        bell.muted = true;
        assert!(!bell.rings(LoadId(2), at(90)));
    }
}
