//! The window. Nothing is computed here: a number on screen comes from the same function as on paper and on the
//! command line. One thread owns the book ([`desk`]); rooms ([`screen`]) show a [`Snapshot`](crate::book::Snapshot).

pub mod app;
pub mod clock;
pub mod desk;
pub mod draw;
pub mod find;
mod help;
pub mod machine;
mod rooms;
pub mod screen;
pub mod shared;
pub mod shortcut;
pub mod theme;
pub mod toast;
pub mod widget;
mod wire;

pub use desk::{Answer, Request};
pub use screen::{Action, Destination, Notice, Room};
pub use shared::Shared;
pub use shortcut::Command;
