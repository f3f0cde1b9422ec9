//! Which loads belong to which day of a kiln, and from when to when it was hot.

use crate::studio::{BookKilnDay, BookLoad, KilnDay, LoadId};
use chrono::{NaiveDate, NaiveDateTime};

/// The loads of one day of a kiln.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DayLoads<'a> {
    /// The date: the day's, or that on which the door closed on them.
    pub date: NaiveDate,
    /// The day, where one is written down.
    pub day: Option<&'a BookKilnDay>,
    /// Its loads, earliest first.
    pub loads: Vec<&'a BookLoad>,
}

/// Why the loads of a day cannot be. Times are as in the log.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SpanProblem {
    /// The door opened before it closed.
    #[error("a load ends at {opened} before it begins at {closed}: accepted is an end at or after its beginning")]
    EndsBeforeItBegins {
        /// The load.
        load: LoadId,
        /// Door closed.
        closed: NaiveDateTime,
        /// Door opened.
        opened: NaiveDateTime,
    },
    /// Two loads at a time.
    #[error(
        "a load begins at {begins} while another is in this kiln until {until}: accepted is a beginning at or after that"
    )]
    Overlap {
        /// The one in it.
        first: LoadId,
        /// The one that comes too early.
        second: LoadId,
        /// The first one's end.
        until: NaiveDateTime,
        /// The second one's beginning.
        begins: NaiveDateTime,
    },
    /// A load before the kiln was switched on, or after it was switched off.
    #[error("a load begins at {begins}, outside the kiln's day: accepted is {accepted}")]
    Outside {
        /// The load.
        load: LoadId,
        /// Its beginning.
        begins: NaiveDateTime,
        /// What would be accepted.
        accepted: String,
    },
    /// The day's own times are out of order.
    #[error("{field} at {value}: accepted is a time at or after {earliest}")]
    DayOutOfOrder {
        /// Which time.
        field: &'static str,
        /// What it says.
        value: NaiveDateTime,
        /// The earliest that would be accepted.
        earliest: NaiveDateTime,
    },
}
