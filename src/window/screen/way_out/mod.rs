//! The way out that every paper takes: into a file, into the system's viewer, to a printer.
//!
//! A room keeps a [`State`], shows its [`State::view`] beside the pages and its [`State::modal`] over them, and answers
//! its messages with [`State::update`], to which it says what is [`Going`]. The PDF is made on a thread of its own, with
//! a line that tells how far it has come and a button that breaks it off.

mod going;
mod making;
mod printer_list;
mod state;
mod view;

pub use going::{Going, Laid, Leaving, Target};
pub use making::Event;
pub use state::{Message, Sent, State, Then};
