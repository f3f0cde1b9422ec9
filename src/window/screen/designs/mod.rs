//! What is made: the list of designs, and the page of one with its route, cost, prices and cautions.
//!
//! A page edits a [`draft::Draft`]. Every key is read at once ([`read`]); what can be read is in the figures of the same
//! update ([`figures`]), what cannot stays in its field with a sentence under it. Choices and rows are saved as they
//! are made; typed figures when the field is left, on Enter, on Ctrl+S, or after a short pause, each as one action
//! “Change …” of the history. A text that cannot be read is kept as long as the window is open, also while she looks
//! elsewhere.

mod about_view;
mod asking;
mod blank_view;
mod change;
mod change_route;
mod change_rows;
mod channels_view;
mod checks;
mod curve_view;
mod dialog;
mod dialog_view;
mod draft;
mod field;
mod figures;
mod files;
mod hand;
mod input;
mod list;
mod list_view;
mod looks;
mod materials_view;
mod options;
mod outline_text;
mod page;
mod page_view;
mod prices_view;
mod rates_view;
mod read;
mod room;
mod rows;
mod show;
mod stairs;
mod stairs_view;
mod starter;
mod step_view;
mod tags;
mod words;

pub use change::{Change, KindOfStep, KindOfTarget};
pub use dialog::DialogField;
pub use field::{BandPart, ChannelPart, Field, MaterialPart, OutlinePart, RowKey, StepPart};
pub use hand::Hand;
pub use outline_text::OutlineKind;
pub use room::{Message, State};
pub use stairs::StairKind;
