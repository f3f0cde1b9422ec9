//! Paper designs: ready-made papers to begin with, hers to change, and printing them.
//!
//! A paper is drawn from the layout that is printed, with a real piece of the book. Every pinned thing is a stop of the
//! Tab key; arrows move it by a tenth of a millimetre.

mod answers;
mod asking;
mod choosing;
mod designer_view;
mod draft;
mod fields;
mod gallery;
mod hands;
mod laid;
mod message;
mod paint;
mod pins;
mod print_room;
mod print_view;
mod printing;
mod room;
mod shelf;
mod shelf_view;
mod shown;
mod side_view;
mod speech;
mod state;
mod subjects;

pub use fields::Field;
pub use message::{Asked, Folding, Hold, InkChoice, Message};
pub use state::State;

pub(in crate::window::screen) use laid::{Layer, Outline, Tools, layers};
pub(in crate::window::screen) use paint::{fitting, layered};
pub(in crate::window::screen) use speech::ready_for;
