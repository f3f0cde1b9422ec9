//! Blanks from a sheet: what fits, what it costs, the cut written down; and the open share of a stencil.

mod laid;
mod outlines;
mod plan;
mod room;
mod sawing;
mod sawing_view;
mod search;
mod stencil;
mod stencil_view;
mod view;
mod wanted_view;

pub use outlines::Trouble;
pub use plan::{Field, From, Mixing, Pick, Source};
pub use room::{Message, Side, State};
pub use sawing::{Change as SawingChange, Field as SawingField, OffCutAs};
pub use search::Event as SearchEvent;
pub use stencil::{Change as StencilChange, Found as StencilFound, Ground, Measured, Typed as StencilField};
