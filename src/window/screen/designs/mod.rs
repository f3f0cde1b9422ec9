//! What is made: the list of designs, and the page of one with its route, cost, prices and cautions.
//!
//! A page edits a [`draft::Draft`]. Every key is read at once ([`read`]); what can be read is in the figures of the same
//! update ([`figures`]), what cannot stays in its field with a sentence under it. Choices and rows are saved as they
//! are made; typed figures when the field is left, on Enter, on Ctrl+S, or after a short pause, each as one action
//! “Change …” of the history. A text that cannot be read is kept as long as the window is open, also while she looks
//! elsewhere.

pub mod about_view;
pub mod asking;
pub mod blank_view;
pub mod change;
pub mod change_route;
pub mod change_rows;
pub mod channels_view;
pub mod checks;
pub mod curve_view;
pub mod dialog;
pub mod dialog_view;
pub mod draft;
pub mod field;
pub mod figures;
pub mod files;
pub mod hand;
pub mod input;
pub mod list;
pub mod list_view;
pub mod looks;
pub mod materials_view;
pub mod options;
pub mod outline_text;
pub mod page;
pub mod page_view;
pub mod prices_view;
pub mod rates_view;
pub mod read;
pub mod room;
pub mod rows;
pub mod show;
pub mod stairs;
pub mod stairs_view;
pub mod starter;
pub mod step_view;
pub mod tags;
pub mod words;

pub use change::{Change, KindOfStep, KindOfTarget};
pub use dialog::DialogField;
pub use field::{BandPart, ChannelPart, Field, MaterialPart, OutlinePart, RowKey, StepPart};
pub use hand::Hand;
pub use outline_text::OutlineKind;
pub use room::{Message, State};
pub use stairs::StairKind;
