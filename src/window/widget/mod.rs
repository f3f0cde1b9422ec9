//! The parts screens are built of. Everything that can be pressed or typed in is reached by Tab, in reading order.

pub mod button;
pub mod choice;
pub mod empty;
pub mod entry;
pub mod explain;
pub mod field;
pub mod fitted;
mod footed;
pub mod listing;
pub mod mark;
pub mod modal;
pub mod panel;
pub mod path_field;
pub mod press;
pub mod prose;
pub mod reveal;

pub use button::{danger, link, primary, quiet_button};
pub use choice::{choice, pick};
pub use empty::empty;
pub use entry::Entry;
pub use explain::{Line, explain};
pub use field::{Field, field};
pub use fitted::fitted;
pub use listing::{Column, Listing};
pub use mark::{Mark, caution_line, mark};
pub use modal::modal;
pub use panel::{panel, panel_with};
pub use path_field::path_field;
pub use press::Press;
pub use prose::{amount, body, display, large, quiet, small, strong, title};
