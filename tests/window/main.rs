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
mod rates;
mod shell;
mod stock;
mod weighing;
