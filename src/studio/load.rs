//! A load of the kiln.

use super::batch::{BatchId, LossCause, LossKind, PieceId};
use super::kiln::KilnId;
use crate::measure::Decimal;
use chrono::NaiveDateTime;
use serde::{Deserialize, Serialize};

/// A load's row in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct LoadId(pub i64);

/// A load: what was fired together, when and how hot. While `opened_at` is none the door is closed on it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Load {
    /// The kiln or torch.
    pub kiln: KilnId,
    /// The door closed on it, local date and time to the second.
    pub closed_at: NaiveDateTime,
    /// The door opened; none while it fires.
    pub opened_at: Option<NaiveDateTime>,
    /// Temperature set, °C.
    pub set_celsius: Decimal,
    /// Temperature read, °C.
    pub read_celsius: Option<Decimal>,
    /// Minutes in the heat asked for.
    pub asked_minutes: Decimal,
    /// Hands-on minutes it took; none takes what the routes of its pieces plan.
    pub attended_minutes: Option<Decimal>,
    /// Pieces in it, each once.
    pub charge: Vec<Charged>,
    /// What she typed to fire past a stop; empty where there was none.
    pub override_words: String,
    /// Anything else.
    pub note: String,
}

/// A piece in a load.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Charged {
    /// The piece.
    pub piece: PieceId,
    /// Its batch at that time.
    pub batch: BatchId,
    /// The firing step of its route, from 0.
    pub step: usize,
    /// Its area on the shelf, cm².
    pub area_cm2: Decimal,
    /// What came of it; none while it fires.
    pub result: Option<FiringResult>,
}

/// What came of a piece in the heat.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FiringResult {
    /// As it should be: goes on.
    Good,
    /// Goes in again: stays at this firing.
    Again,
    /// Lost.
    Lost {
        /// Of what.
        cause: LossCause,
        /// Usual or not.
        kind: LossKind,
    },
}

/// A load of a book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BookLoad {
    /// Its row.
    pub id: LoadId,
    /// The load.
    pub load: Load,
    /// A photo is kept with it.
    pub has_photo: bool,
}
