//! Papers: tags and care cards of chosen designs, seen as they will be printed, out as a PDF.

mod laying;
mod message;
mod out;
mod out_view;
mod pieces;
mod preview;
mod room;
mod sheet_form;
mod sheet_view;
mod state;
mod view;

pub use laying::What;
pub use message::{LayoutFault, Message, Zoom};
pub use out::Target;
pub use sheet_form::{Feature, Measure};
pub use state::State;

pub(in crate::window::screen) use out::deliver;
pub(in crate::window::screen) use pieces::{Piece, channels, pieces};
pub(in crate::window::screen) use preview::draw_mark;
