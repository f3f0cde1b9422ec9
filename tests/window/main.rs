//! The window, clicked and typed through without a display: one module a room.

mod designs;
mod papers;
mod rates;
mod shell;
mod stock;
