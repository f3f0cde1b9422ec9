//! The window, clicked and typed through without a display: one module a room.

#![allow(clippy::expect_used, clippy::indexing_slicing, clippy::panic, clippy::unwrap_used)]

mod buying;
mod carrying;
mod counting;
mod cutting;
mod designs;
mod hands;
mod lots;
mod orders;
mod papers;
#[path = "../pdf_reader/mod.rs"]
mod pdf_reader;
mod pinning;
mod rates;
mod shell;
mod stock;
mod weighing;

/// A quarter past nine on a day in October.
pub(crate) fn fixed_clock() -> enamelwright::window::clock::Clock {
    enamelwright::window::clock::Clock::of(|| {
        chrono::NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(9, 15, 0).unwrap()
    })
}
