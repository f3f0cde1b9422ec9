//! What the cost of a batch is reckoned from.

use super::problem::BenchProblem;
use crate::costing::CostError;
use crate::measure::{Decimal, Money, TooLarge};
use crate::studio::{BatchId, BatchRecord, EntryId, LoadId, MovementId, PieceId};
use std::collections::BTreeMap;

/// All that is needed to say what a batch cost.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AccountAsk {
    /// The batch that is asked about.
    pub batch: BatchId,
    /// The batch and every batch it got pieces from, and those these got pieces from, and so on.
    pub records: BTreeMap<BatchId, BatchRecord>,
    /// Book cost of each issue (`Took`) and value of each wash-back (`WashedBack`) of these records, 0 or more.
    pub issue_costs: BTreeMap<MovementId, Money>,
    /// What each piece bears of each load it was in (`Fired`).
    pub load_shares: BTreeMap<(LoadId, PieceId), LoadShare>,
}

/// What a piece bears of a load.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct LoadShare {
    /// Energy, kWh.
    pub kwh: Decimal,
    /// What it cost.
    pub energy: Money,
    /// What its hot hours wore off the kiln.
    pub wear: Money,
    /// Hot hours.
    pub hot_hours: Decimal,
    /// What a kWh cost, money.
    pub price_per_kwh: Decimal,
    /// What a hot hour wore off, money.
    pub wear_per_hour: Decimal,
}

/// Why a batch's cost cannot be said.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum AccountError {
    /// A number grows past 28 digits.
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
    /// The plan cannot be costed.
    #[error("plan: {0}")]
    Plan(#[from] CostError),
    /// An entry cannot have happened.
    #[error("entry {}: {problem}", entry.0)]
    Entry {
        /// The entry.
        entry: EntryId,
        /// Why.
        problem: BenchProblem,
    },
    /// A record that is needed was not given.
    #[error("batch row {} is not given", batch.0)]
    NoBatch {
        /// The batch.
        batch: BatchId,
    },
    /// Pieces came that were not given.
    #[error("piece {} came from batch row {} which did not give it", piece.0, from.0)]
    NotGiven {
        /// The piece.
        piece: PieceId,
        /// Where it is said to come from.
        from: BatchId,
    },
    /// The cost of an issue or a wash-back was not given.
    #[error("the cost of movement {} is not given", movement.0)]
    NoIssueCost {
        /// The movement.
        movement: MovementId,
    },
    /// What a piece bears of a load was not given.
    #[error("what piece {} bears of load {} is not given", piece.0, load.0)]
    NoLoadShare {
        /// The load.
        load: LoadId,
        /// The piece.
        piece: PieceId,
    },
    /// No piece was begun.
    #[error("no piece was begun in this batch")]
    NoPieces,
}
