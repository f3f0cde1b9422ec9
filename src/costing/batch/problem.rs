//! Why something cannot have happened to a batch.

use crate::measure::Decimal;
use crate::studio::{EntryId, MaterialId, PieceId};

/// Why an entry does not fit what happened before it. Steps are worded from 1.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum BenchProblem {
    /// No piece is named where at least one must be.
    #[error("no piece is named: name one or more")]
    NoPieces,
    /// A piece is named twice, or pieces are not in the order of their rows.
    #[error("piece {} is named twice or out of order: name each once, in the order of their rows", piece.0)]
    Twice {
        /// The piece.
        piece: PieceId,
    },
    /// A piece that is not in the batch.
    #[error("piece {} is not in this batch", piece.0)]
    NotHere {
        /// The piece.
        piece: PieceId,
    },
    /// A piece that begins, or comes, where it is already.
    #[error("piece {} is in this batch already", piece.0)]
    AlreadyHere {
        /// The piece.
        piece: PieceId,
    },
    /// A step the route does not have.
    #[error("step {}: the route has {steps} steps", step + 1)]
    NoStep {
        /// The step, from 0.
        step: usize,
        /// Steps of the route.
        steps: usize,
    },
    /// A piece is somewhere else.
    #[error("piece {} is {is}, not at step {}", piece.0, step + 1)]
    NotAt {
        /// The piece.
        piece: PieceId,
        /// Where it is, in words.
        is: String,
        /// Where it should be, from 0.
        step: usize,
    },
    /// A piece that has ended its way, or is not done yet.
    #[error("piece {} is {is}; {wanted}", piece.0)]
    Elsewhere {
        /// The piece.
        piece: PieceId,
        /// Where it is, in words.
        is: String,
        /// What is accepted.
        wanted: &'static str,
    },
    /// Work at a step the piece has not come to.
    #[error("piece {} has not come to step {} yet", piece.0, step + 1)]
    NotYet {
        /// The piece.
        piece: PieceId,
        /// The step, from 0.
        step: usize,
    },
    /// A material the plan does not have.
    #[error("no material {material} in the plan")]
    NoMaterial {
        /// Its id.
        material: MaterialId,
    },
    /// A number below zero.
    #[error("{field} {value}: 0 or more")]
    BelowZero {
        /// What it is.
        field: &'static str,
        /// The number.
        value: Decimal,
    },
    /// An entry of another batch.
    #[error("an entry of batch row {}", other.0)]
    OtherBatch {
        /// That batch.
        other: crate::studio::BatchId,
    },
    /// An entry that is not after the one before it.
    #[error("entry {} is not after the one before it", entry.0)]
    OutOfOrder {
        /// The entry.
        entry: EntryId,
    },
}
