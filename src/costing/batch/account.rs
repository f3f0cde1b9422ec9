//! What a batch cost, planned and actual: the answer's types.

use super::parts::CostParts;
use super::track::Standing;
use crate::measure::{Decimal, Money};
use crate::studio::{BatchId, LossCause, LossKind, MaterialId, PieceId};

/// What a batch cost, and why it was not as planned.
///
/// `cost = spent.total() − abnormal − Σ gave = Σ pieces + unborne`, to the last millionth. `spent.scrap` is what all lost
/// pieces gave back; `abnormal` is what abnormal losses cost to the step they were lost at, less their own scrap.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BatchAccount {
    /// Complete, with its variances; or so far, while pieces are at work.
    pub stage: Stage,
    /// Pieces put in: begun here or come from other batches.
    pub put_in: u32,
    /// Pieces finished.
    pub good: u32,
    /// All that was spent, by part.
    pub spent: CostParts,
    /// What abnormal losses cost to their steps, less their scrap: kept out of the cost of good pieces (IAS 2, 16(a)).
    pub abnormal: Money,
    /// What came with pieces of other batches, a line each time; their sum is `spent.came`.
    pub came: Vec<Moved>,
    /// What went with pieces to other batches, a line each time.
    pub gave: Vec<Moved>,
    /// What the batch cost: borne by its pieces.
    pub cost: Money,
    /// Of the cost, what no piece is left to bear: all were lost or given.
    pub unborne: Money,
    /// Every piece that bears cost, by row.
    pub pieces: Vec<PieceAccount>,
    /// Step by step.
    pub steps: Vec<StepAccount>,
    /// Pieces lost after the last step, before they were finished.
    pub lost_when_done: Vec<LossCount>,
}

/// How far a batch's account is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Stage {
    /// Pieces are at work: every figure is so far.
    SoFar {
        /// How many pieces are at work.
        at_work: u32,
    },
    /// No piece is at work any more.
    Complete(Variances),
}

/// Cost that moved with pieces from one batch to another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Moved {
    /// The other batch.
    pub batch: BatchId,
    /// The pieces.
    pub pieces: Vec<PieceId>,
    /// The cost so far that moved with them.
    pub amount: Money,
}

/// What a piece bears.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceAccount {
    /// The piece.
    pub piece: PieceId,
    /// Where it stands.
    pub standing: Standing,
    /// Its equal share of what the batch's pieces bear together.
    pub shared: CostParts,
    /// What is its own.
    pub own: CostParts,
    /// What is its own, line by line.
    pub own_lines: Vec<OwnCost>,
    /// Shared and own together.
    pub cost: Money,
    /// Hands-on minutes it took part in, its equal share of each sitting, those in other batches too; 9 places.
    pub minutes: Decimal,
}

/// One cost that belongs to one piece: something done again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnCost {
    /// The step; none for what came with it from another batch.
    pub step: Option<usize>,
    /// What it was spent on.
    pub part: CostPart,
    /// How much.
    pub amount: Money,
}

/// What is spent at the bench and in the kiln.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum CostPart {
    /// A material, by its id in the plan.
    Material(MaterialId),
    /// Hands-on time at the wage.
    Labour,
    /// Hands-on time at the overhead.
    Overhead,
    /// Energy.
    KilnEnergy,
    /// Wear of elements and thermocouple.
    KilnWear,
    /// What came with pieces of another batch.
    Came,
}

/// A figure as planned, flexed to the pieces put in, and as it was.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PlannedActual {
    /// As planned for the pieces put in.
    pub planned: Decimal,
    /// As it was.
    pub actual: Decimal,
}

/// A step, planned for the pieces put in and actual.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepAccount {
    /// Materials in the order of the plan: those planned, then those used besides.
    pub materials: Vec<MaterialAccount>,
    /// Hands-on minutes, attended minutes of loads with them.
    pub minutes: PlannedActual,
    /// Loads of the kiln.
    pub loads: PlannedActual,
    /// Energy, kWh.
    pub kwh: PlannedActual,
    /// Hot hours of the kiln.
    pub hot_hours: PlannedActual,
    /// Pieces that came to it; a piece sent back once more.
    pub pieces_in: PlannedActual,
    /// Pieces that left it good.
    pub good: PlannedActual,
    /// Pieces lost at it, by cause and kind.
    pub lost: Vec<LossCount>,
    /// Its whole cost, scrap and abnormal losses not taken off.
    pub cost: PlannedActual,
}

/// A material at a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MaterialAccount {
    /// Its id in the plan.
    pub material: MaterialId,
    /// Quantity in its unit, net of what came back.
    pub quantity: PlannedActual,
    /// Its cost.
    pub cost: PlannedActual,
}

/// Pieces lost in one way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LossCount {
    /// Of what.
    pub cause: LossCause,
    /// Usual or not.
    pub kind: LossKind,
    /// How many.
    pub pieces: u32,
}

/// The four variances of a complete batch: above zero it cost more than planned. Exact:
/// `price + usage + time + yield_loss = difference`, every term a decimal of at most 12 places.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Variances {
    /// Planned full cost per good piece × good pieces.
    pub planned: Decimal,
    /// Actual cost less that.
    pub difference: Decimal,
    /// Prices and rates: (actual − planned) × actual quantity.
    pub price: Decimal,
    /// Materials, kWh and hot hours: (actual − flexed quantity) × planned price.
    pub usage: Decimal,
    /// Hours: likewise at planned rates.
    pub time: Decimal,
    /// Planned cost of the pieces put in, abnormal losses and scrap at plan taken off, less the planned cost of the good.
    pub yield_loss: Decimal,
    /// What the first three are made of, line by line, abnormal losses taken out of both sides.
    pub lines: Vec<VarianceLine>,
}

/// What a line of the variances is about.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum VarianceOf {
    /// Spent at a step.
    Step(usize, CostPart),
    /// Cost that came with pieces of other batches, against their planned cost to the steps they came at.
    Came,
    /// Cost that went with pieces to other batches, likewise; below zero.
    Gave,
}

/// One line of the variances. Quantities: the material's unit, minutes, kWh, minutes in the heat, pieces.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct VarianceLine {
    /// What it is about.
    pub of: VarianceOf,
    /// Quantity as planned for the pieces put in.
    pub planned_quantity: Decimal,
    /// Quantity as it was.
    pub actual_quantity: Decimal,
    /// Planned quantity at planned price.
    pub planned: Decimal,
    /// What it cost.
    pub actual: Decimal,
    /// Of the difference, what is price.
    pub price: Decimal,
    /// Of the difference, what is quantity: usage, or time for labour and overhead.
    pub quantity: Decimal,
}
