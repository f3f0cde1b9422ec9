//! Papers: tags and care cards of chosen designs, seen as they will be printed, and their way out.

mod laying;
mod leaving;
mod message;
mod pieces;
mod preview;
mod printed;
mod room;
mod sheet_drawing;
mod sheet_form;
mod sheet_view;
mod state;
mod view;

pub use laying::What;
pub use message::{Message, Zoom};
pub use sheet_form::{Feature, Measure, Outline};
pub use state::State;

pub(in crate::window::screen) use pieces::{Piece, channels, pieces};
pub(in crate::window::screen) use preview::{draw_mark, hatch};
pub(in crate::window::screen) use printed::OnItsWay;
