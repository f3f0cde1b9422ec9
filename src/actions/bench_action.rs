//! What the things a person does at the bench and the kiln are made of.

use crate::measure::{Decimal, Quantity};
use crate::studio::{
    BatchId, DesignId, FiringResult, LoadId, LossCause, LossKind, MaterialId, Measured, PieceId, Timed, TimedWork,
};
use chrono::{NaiveDate, NaiveDateTime};

/// A batch to be begun.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewBatch {
    /// The design it is made after.
    pub design: DesignId,
    /// What it is called; empty takes the design's name.
    pub name: String,
    /// Pieces, 1 to 1,000; 1 for a commission.
    pub pieces: u32,
    /// The day.
    pub date: NaiveDate,
    /// Anything else.
    pub note: String,
}

/// A step done for some pieces.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepDone {
    /// The batch.
    pub batch: BatchId,
    /// The step, from 0; its pieces wait for it. A firing is done by a load, not so.
    pub step: usize,
    /// The pieces, each once, at least one.
    pub pieces: Vec<PieceId>,
    /// The day.
    pub date: NaiveDate,
    /// The time it took.
    pub minutes: StepMinutes,
    /// What it used.
    pub materials: StepMaterials,
    /// Which of the pieces were lost in it.
    pub lost: Vec<PieceLost>,
}

/// The time a step took.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StepMinutes {
    /// As the route plans: minutes per piece, and the set-up where it is the step's first time.
    AsPlanned,
    /// So many minutes, 0 or more, for all the pieces together.
    Typed(Decimal),
    /// Was written down before: timed, or typed for more than one batch.
    WrittenDown,
}

/// What a step used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StepMaterials {
    /// As the route plans, for these pieces.
    AsPlanned,
    /// These; what is not named was not used.
    Taken(Vec<MaterialTaken>),
    /// Was written down before.
    WrittenDown,
}

/// A material taken for a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MaterialTaken {
    /// The material, by its id in the plan.
    pub material: MaterialId,
    /// How much, in its unit, 0 or more; 0 is none.
    pub quantity: Quantity,
    /// As typed.
    pub typed: String,
    /// Weighed, or as planned.
    pub how: Measured,
    /// Of it, what was reclaimed and came back into the jar, in its unit.
    pub washed_back: Option<Quantity>,
}

/// A piece lost.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceLost {
    /// The piece.
    pub piece: PieceId,
    /// Of what.
    pub cause: LossCause,
    /// Usual or not.
    pub kind: LossKind,
    /// Anything else.
    pub note: String,
}

/// Hands-on minutes to write down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TimeSpent {
    /// What they were for; shared by the pieces at each, where there are none equally.
    pub work: Vec<TimedWork>,
    /// Minutes, above 0.
    pub minutes: Decimal,
    /// The day.
    pub date: NaiveDate,
    /// How they are known.
    pub how: Timed,
}

/// The door opened on a load.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DoorOpened {
    /// The load.
    pub load: LoadId,
    /// When.
    pub at: NaiveDateTime,
    /// Temperature read, °C.
    pub read_celsius: Option<Decimal>,
    /// Hands-on minutes; none takes what the routes plan.
    pub attended_minutes: Option<Decimal>,
    /// What came of each piece; one not named is good.
    pub results: Vec<(PieceId, FiringResult)>,
    /// Anything else.
    pub note: String,
}
