//! Papers of her own: things pinned where she wants them, filled with the facts of a design, a piece or an item.
//!
//! [`Facts`] say what there is, [`Speaks`] says it in a language, [`lay_out`] puts each thing into its place.

mod facts;
mod ground;
mod lay_out;
mod local;
pub mod phrase;
mod picture;
pub mod ready;
mod said;
mod speech;
pub mod subjects;
mod symbol;
mod text;

pub use facts::{Facts, ItemFacts, StudioWords, facts_of_design, facts_of_item, facts_of_piece};
pub use lay_out::{Panel, Pictures, lay_out};
pub use ready::{Mood, ReadyMade};
pub use speech::{Speaks, Spoken};
