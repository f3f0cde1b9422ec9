//! What batches teach (kiln and batch method, section 5): shares good with their intervals, minutes and coats with their
//! quartiles, the figures that are proposed for a design, and what pieces are lost of.

mod beta;
mod interval;
mod learned;
mod losses;
mod quartiles;
mod samples;

pub use interval::{ShareGood, share_good};
pub use learned::{Learned, LearnedShare, LearnedStep, LearnedValue, RECENT_BATCHES, learned};
pub use losses::{LossBar, LossBy, LossOf, LossRow, bars, loss_rows};
pub use quartiles::{Quartiles, quartiles};
