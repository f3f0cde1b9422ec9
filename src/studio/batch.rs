//! A batch of pieces on its way through a route, and all that happened to it.
//!
//! What happens at the bench is kept as an ordered, append-only list of [`BenchEntry`]; where pieces are and what they
//! cost are computed from it ([`crate::costing::batch`]).

use super::design::{Design, DesignId, MaterialId};
use super::item::ItemId;
use super::load::LoadId;
use super::movement::MovementId;
use crate::measure::{Decimal, Money, Quantity};
use chrono::{NaiveDate, NaiveDateTime};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A batch's row in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct BatchId(pub i64);

/// A piece's row in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct PieceId(pub i64);

/// An entry's row in a book; rises over all batches in the order of entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct EntryId(pub i64);

/// A batch as it was begun.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Batch {
    /// Her number for it, unique in a book, from 1; shown as “batch 14”.
    pub number: u32,
    /// The design it is made after.
    pub design: DesignId,
    /// What it is called; the design's name unless she gave it one.
    pub name: String,
    /// The day it began.
    pub started: NaiveDate,
    /// The design with its route, prices and rates as they were that day; `pieces` is what was begun.
    pub plan: Design,
    /// Which item of stock each material is taken from; materials not named are not kept in stock.
    pub stock: BTreeMap<MaterialId, ItemId>,
    /// Anything else; who a commission is for.
    pub note: String,
    /// Where it is.
    pub state: BatchState,
}

/// Where a batch is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum BatchState {
    /// Pieces are at work.
    Open,
    /// No piece is at work any more: finished, lost or given to another batch.
    Finished,
    /// Given up.
    Abandoned,
}

impl BatchState {
    /// Every state.
    pub const ALL: [Self; 3] = [Self::Open, Self::Finished, Self::Abandoned];

    /// The name in the book and in files.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Finished => "finished",
            Self::Abandoned => "abandoned",
        }
    }

    /// The state of that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|state| state.name() == name)
    }
}

/// A piece of a batch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// Its row.
    pub id: PieceId,
    /// The batch it is in.
    pub batch: BatchId,
    /// Its place in the batch it was begun in, from 1: “piece 3”.
    pub place: u32,
    /// Its number once it is finished, such as `LN-DROP-0017`; unique in a book.
    pub number: Option<String>,
    /// The day it was finished.
    pub finished: Option<NaiveDate>,
    /// A second: sold as such.
    pub second: bool,
    /// Anything else.
    pub note: String,
}

/// One thing that happened to a batch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BenchEntry {
    /// Its row.
    pub id: EntryId,
    /// The batch.
    pub batch: BatchId,
    /// The day.
    pub date: NaiveDate,
    /// What happened.
    pub deed: BenchDeed,
}

/// What can happen to a batch. Steps count from 0. Pieces are named in the order of their rows, each once, at least one
/// unless it says otherwise.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "deed", rename_all = "kebab-case")]
pub enum BenchDeed {
    /// Pieces began at the first step.
    Started {
        /// The pieces.
        pieces: Vec<PieceId>,
    },
    /// A step was done: its pieces wait for the next one, or to be finished after the last.
    Passed {
        /// The step.
        step: usize,
        /// The pieces.
        pieces: Vec<PieceId>,
    },
    /// A step was left out.
    Skipped {
        /// The step.
        step: usize,
        /// The pieces.
        pieces: Vec<PieceId>,
        /// Why.
        why: String,
    },
    /// Pieces go back to an earlier step, to be done again from there.
    SentBack {
        /// The step they go to.
        to: usize,
        /// The pieces.
        pieces: Vec<PieceId>,
        /// Why.
        why: String,
    },
    /// Stock was issued to a step.
    Took {
        /// The step.
        step: usize,
        /// The pieces it was for.
        pieces: Vec<PieceId>,
        /// The material of the plan.
        material: MaterialId,
        /// The issue.
        movement: MovementId,
        /// How much left the shelf, in the item's unit.
        quantity: Quantity,
        /// Weighed or counted, or taken as planned.
        how: Measured,
    },
    /// A material that is not kept in stock was used, at the plan's price.
    Used {
        /// The step.
        step: usize,
        /// The pieces it was for.
        pieces: Vec<PieceId>,
        /// The material of the plan.
        material: MaterialId,
        /// How much, in the material's unit.
        quantity: Quantity,
        /// Measured, or as planned.
        how: Measured,
    },
    /// Enamel came back into its jar.
    WashedBack {
        /// The step it was left over from.
        step: usize,
        /// The pieces of that step.
        pieces: Vec<PieceId>,
        /// The material of the plan.
        material: MaterialId,
        /// The wash-back.
        movement: MovementId,
        /// How much came back, in the item's unit.
        quantity: Quantity,
    },
    /// Hands-on time.
    Worked {
        /// The step.
        step: usize,
        /// The pieces it was for.
        pieces: Vec<PieceId>,
        /// Minutes, 0 or more.
        minutes: Decimal,
        /// The wage on that day, money per hour.
        labour_per_hour: Decimal,
        /// Overhead on that day, money per hour.
        overhead_per_hour: Decimal,
        /// Timed, typed or taken as planned.
        how: Timed,
    },
    /// Pieces were in a load; what its heat costs is the load's.
    Fired {
        /// The firing step.
        step: usize,
        /// The pieces.
        pieces: Vec<PieceId>,
        /// The load.
        load: LoadId,
    },
    /// Pieces were lost.
    Lost {
        /// The step they were lost at: in its work, or waiting for it. One past the last step for pieces that were done and
        /// waited to be finished.
        step: usize,
        /// The pieces.
        pieces: Vec<PieceId>,
        /// Of what.
        cause: LossCause,
        /// Usual or not.
        kind: LossKind,
        /// The load it happened in.
        load: Option<LoadId>,
        /// Anything else.
        note: String,
    },
    /// Pieces were finished and numbered.
    Finished {
        /// The pieces.
        pieces: Vec<PieceId>,
    },
    /// Pieces were given to another batch.
    Gave {
        /// That batch.
        to: BatchId,
        /// The pieces.
        pieces: Vec<PieceId>,
    },
    /// Pieces came from another batch; those of one step make one entry, written after that batch's `Gave`.
    Got {
        /// That batch.
        from: BatchId,
        /// The step they wait for here, the same as there; one past the last step for pieces that were done.
        step: usize,
        /// The pieces.
        pieces: Vec<PieceId>,
    },
    /// The batch was given up: its pieces at work are lost, which is not a usual loss.
    Abandoned {
        /// The pieces that were at work; may be none.
        pieces: Vec<PieceId>,
        /// Why.
        why: String,
    },
}

/// How a quantity is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Measured {
    /// Weighed before and after, or counted: all that left the jar, overspray included.
    Weighed,
    /// Taken as planned: net of what is reclaimed.
    Planned,
}

/// How minutes are known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Timed {
    /// By the timer.
    Clock,
    /// Typed.
    Typed,
    /// Taken as planned.
    Planned,
}

/// Why a piece was lost.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LossCause {
    /// The glass cracked.
    Cracked,
    /// The glass chipped.
    Chipped,
    /// Pits or bubbles.
    Pitted,
    /// Over-fired.
    BurntOut,
    /// The metal warped.
    Warped,
    /// A soldered joint let go.
    SolderLetGo,
    /// Dropped.
    Dropped,
    /// Anything else.
    Other,
}

impl LossCause {
    /// Every cause, in the order they are offered.
    pub const ALL: [Self; 8] = [
        Self::Cracked,
        Self::Chipped,
        Self::Pitted,
        Self::BurntOut,
        Self::Warped,
        Self::SolderLetGo,
        Self::Dropped,
        Self::Other,
    ];

    /// The name in files and on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Cracked => "cracked",
            Self::Chipped => "chipped",
            Self::Pitted => "pitted",
            Self::BurntOut => "burnt-out",
            Self::Warped => "warped",
            Self::SolderLetGo => "solder-let-go",
            Self::Dropped => "dropped",
            Self::Other => "other",
        }
    }

    /// The words on screen and paper.
    pub const fn words(self) -> &'static str {
        match self {
            Self::BurntOut => "burnt out",
            Self::SolderLetGo => "solder let go",
            other => other.name(),
        }
    }

    /// The cause of that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|cause| cause.name() == name)
    }
}

/// Whether a loss is part of the trade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, Default)]
#[serde(rename_all = "lowercase")]
pub enum LossKind {
    /// Usual: borne by the good pieces.
    #[default]
    Normal,
    /// Far outside the usual: kept out of the cost of the good pieces (IAS 2, paragraph 16(a)).
    Abnormal,
}

impl LossKind {
    /// The name in files and on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Normal => "normal",
            Self::Abnormal => "abnormal",
        }
    }
}

/// A batch with its pieces and everything that happened to it: all that computing about it needs but stock and kiln.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BatchRecord {
    /// Its row.
    pub id: BatchId,
    /// The batch.
    pub batch: Batch,
    /// Pieces that are in it now, by row.
    pub pieces: Vec<Piece>,
    /// What happened, in order.
    pub entries: Vec<BenchEntry>,
}

/// A timer's row in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct TimerId(pub i64);

/// A timer that runs: for one step of one batch, or for several at one sitting. It survives closing the program.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Timer {
    /// Since when, local date and time.
    pub since: NaiveDateTime,
    /// What it is for, each batch and step once, at least one.
    pub work: Vec<TimedWork>,
}

/// What a timer is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct TimedWork {
    /// The batch.
    pub batch: BatchId,
    /// The step, from 0.
    pub step: usize,
}

/// A line of a list of batches, without its entries.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BatchHead {
    /// Its row.
    pub id: BatchId,
    /// Its number.
    pub number: u32,
    /// The design.
    pub design: DesignId,
    /// The design's code on the day it began.
    pub code: String,
    /// What it is called.
    pub name: String,
    /// The day it began.
    pub started: NaiveDate,
    /// Where it is.
    pub state: BatchState,
    /// Pieces begun.
    pub pieces: u32,
    /// Pieces of it that were finished.
    pub finished: u32,
}

/// A finished piece as lists show it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FinishedPiece {
    /// The piece.
    pub piece: Piece,
    /// Its batch's number.
    pub batch_number: u32,
    /// The design.
    pub design: DesignId,
    /// The design's code when the batch began.
    pub code: String,
    /// What the batch is called.
    pub name: String,
    /// The ticket in force, where one was accepted.
    pub ticket: Option<Money>,
}
