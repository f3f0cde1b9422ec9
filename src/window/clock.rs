//! The one place of the window that reads the wall clock.

use chrono::{NaiveDate, NaiveDateTime};

/// Where the window takes the time from; tests give it a fixed one.
#[derive(Debug, Clone, Copy)]
pub struct Clock(fn() -> NaiveDateTime);

impl Clock {
    /// The machine's clock, local time.
    #[allow(clippy::disallowed_methods)] // a face may read the clock; everything below it is passed the date
    pub fn system() -> Self {
        Self(|| chrono::Local::now().naive_local())
    }

    /// A clock of one's own.
    pub fn of(now: fn() -> NaiveDateTime) -> Self {
        Self(now)
    }

    /// Local date and time.
    pub fn now(self) -> NaiveDateTime {
        (self.0)()
    }

    /// Local date.
    pub fn today(self) -> NaiveDate {
        self.now().date()
    }
}
