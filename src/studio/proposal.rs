//! What batches teach about a design, offered one figure at a time.

use super::design::DesignId;
use crate::measure::Decimal;
use serde::{Deserialize, Serialize};

/// A figure of a design that batches say is another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proposal {
    /// The design.
    pub design: DesignId,
    /// The step of its route, from 0.
    pub step: usize,
    /// The step's name, by which it is found to be still the same.
    pub step_name: String,
    /// Which figure.
    pub figure: LearntFigure,
    /// What the design says now.
    pub planned: Decimal,
    /// What is proposed.
    pub proposed: Decimal,
}

/// A figure that can be learnt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LearntFigure {
    /// Share of pieces that leave the step good.
    Good,
    /// Minutes per piece.
    MinutesPerPiece,
    /// Weight of a coat, mg/cm².
    CoatWeight,
}
