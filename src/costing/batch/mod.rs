//! What became of a batch: where its pieces are, what they still need, what they cost and why it was not as planned
//! (kiln and batch method, section 4). All of it is computed from the entries of [`crate::studio::BatchRecord`].

mod account;
mod ask;
mod flex;
mod flow;
mod laws;
mod need;
mod now;
mod parts;
mod problem;
mod reckon;
#[cfg(test)]
mod samples;
mod track;
mod variance;

pub use account::{
    BatchAccount, CostPart, LossCount, MaterialAccount, Moved, OwnCost, PieceAccount, PlannedActual, Stage,
    StepAccount, VarianceLine, VarianceOf, Variances,
};
pub use ask::{AccountAsk, AccountError, LoadShare};
pub use laws::broken_laws;
pub use need::{PlannedTake, Shortage, ahead, need, planned_minutes, planned_take, reserved, shortages};
pub use now::{BatchNow, StepCounts};
pub use parts::CostParts;
pub use problem::BenchProblem;
pub use reckon::account;
pub use track::Standing;
