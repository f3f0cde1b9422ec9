//! The window, clicked and typed through without a display: one module a room.

#![allow(clippy::expect_used, clippy::indexing_slicing, clippy::panic, clippy::unwrap_used)]

mod batches;
mod bench;
mod buying;
mod carrying;
mod counting;
mod cutting;
mod designs;
mod hands;
mod kiln;
mod kilns;
mod lots;
mod orders;
mod papers;
#[path = "../pdf_reader/mod.rs"]
mod pdf_reader;
mod pieces;
mod pinning;
mod planning;
mod printers;
mod rates;
mod shell;
mod shop_papers;
mod stock;
mod tiles;
mod weighing;
mod wording;

/// A quarter past nine on a day in October.
pub(crate) fn fixed_clock() -> enamelwright::window::clock::Clock {
    enamelwright::window::clock::Clock::of(|| {
        chrono::NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(9, 15, 0).unwrap()
    })
}
