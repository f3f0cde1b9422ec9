//! What the book answers about batches, pieces and where their stock came from.

use crate::measure::{Decimal, Money, Quantity, Unit};
use crate::studio::{
    BatchHead, BatchId, BookLoad, DesignId, FiringResult, ItemId, LotId, MaterialId, MovementId, MovementKind, Piece,
};
use chrono::NaiveDate;

/// What a batch to be begun needs of one item of stock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NeededItem {
    /// The item.
    pub item: ItemId,
    /// Its name.
    pub name: String,
    /// Its unit.
    pub unit: Unit,
    /// What the pieces need as planned, 0 or more.
    pub needed: Quantity,
    /// On hand.
    pub on_hand: Quantity,
    /// What the pieces of open batches still need, 0 or more.
    pub reserved: Quantity,
    /// What is missing: needed less what is on hand and not reserved; 0 where there is enough.
    pub short: Quantity,
}

/// Stock that went to a batch, or came back from one: the trace of a lot goes on here.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BenchUse {
    /// The movement of stock.
    pub movement: MovementId,
    /// An issue, or a wash-back.
    pub kind: MovementKind,
    /// The day.
    pub date: NaiveDate,
    /// How much, in the item's unit.
    pub quantity: Quantity,
    /// The batch.
    pub batch: BatchId,
    /// The batch's number.
    pub batch_number: u32,
    /// What the batch is called.
    pub batch_name: String,
    /// The design's code when the batch began.
    pub code: String,
    /// The step, from 0.
    pub step: usize,
    /// The step's name.
    pub step_name: String,
    /// The material of the plan.
    pub material: MaterialId,
    /// The pieces it was for, in the order of their rows.
    pub pieces: Vec<Piece>,
}

/// A piece that holds something of a lot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceOfLot {
    /// The piece.
    pub piece: Piece,
    /// The number of the batch it is in.
    pub batch_number: u32,
    /// What that batch is called.
    pub batch_name: String,
    /// The design.
    pub design: DesignId,
    /// The design's code when the batch began.
    pub code: String,
    /// The issues of the lot it was part of, in order.
    pub issues: Vec<MovementId>,
    /// Its equal share of what those issues took from the lot, in the item's unit, half-even to 9 places.
    pub quantity: Decimal,
}

/// A lot that went into a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LotInPiece {
    /// The item.
    pub item: ItemId,
    /// Its name.
    pub name: String,
    /// Its unit.
    pub unit: Unit,
    /// The material of the plan.
    pub material: MaterialId,
    /// The step it was used in, from 0.
    pub step: usize,
    /// The issue.
    pub issue: MovementId,
    /// The day of the issue.
    pub date: NaiveDate,
    /// The lot; none where the stock was found by a count.
    pub lot: Option<LotId>,
    /// The maker's lot number; may be empty.
    pub lot_number: String,
    /// The supplier of the lot; may be empty.
    pub supplier: String,
    /// The piece's equal share of what the issue took from the lot, in the item's unit, half-even to 9 places.
    pub quantity: Decimal,
}

/// A load a piece was in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LoadOfPiece {
    /// The load.
    pub load: BookLoad,
    /// The kiln's name.
    pub kiln_name: String,
    /// The firing step, from 0.
    pub step: usize,
    /// What came of it; none while it fires.
    pub result: Option<FiringResult>,
}

/// Hands-on minutes of a piece at a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MinutesOfPiece {
    /// The step, from 0.
    pub step: usize,
    /// The step's name.
    pub step_name: String,
    /// Its equal share of the minutes, half-even to 6 places.
    pub minutes: Decimal,
}

/// One part of what a piece cost.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CostOfPiece {
    /// What it is: materials, labour …
    pub words: &'static str,
    /// How much; what is taken off is below 0.
    pub cost: Money,
}

/// A piece from its beginning: batches, loads, lots, minutes, cost.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceStory {
    /// The piece.
    pub piece: Piece,
    /// The batch it is in.
    pub batch: BatchHead,
    /// Batches it was in, in order, the one it is in last: row and number.
    pub batches: Vec<(BatchId, u32)>,
    /// Loads it was in, in order of time.
    pub loads: Vec<LoadOfPiece>,
    /// Lots that went into it, in order of the entries.
    pub lots: Vec<LotInPiece>,
    /// Hands-on minutes, by step.
    pub minutes: Vec<MinutesOfPiece>,
    /// The minutes together.
    pub all_minutes: Decimal,
    /// What it cost; none while it is not finished.
    pub cost: Option<Money>,
    /// What that is made of; adds up to it. Empty while it is not finished.
    pub parts: Vec<CostOfPiece>,
}
impl PieceStory {
    /// How often it was fired: loads that something came of.
    pub fn fired(&self) -> usize {
        self.loads.iter().filter(|load| load.result.is_some()).count()
    }
}
