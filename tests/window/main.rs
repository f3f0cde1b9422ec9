//! The window, clicked and typed through without a display: one module a room.

#![allow(clippy::expect_used, clippy::indexing_slicing, clippy::panic, clippy::unwrap_used)]

mod cutting;
mod designs;
mod papers;
mod rates;
mod shell;
mod stock;
