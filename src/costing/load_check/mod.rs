//! What a load of the kiln may be: its ceiling and the piece that sets it, what all its pieces accept, cautions from each
//! piece's own history, and which waiting pieces can share a load (kiln and batch method, section 3).

mod checking;
mod offering;
mod waiting;

pub use checking::{FiringAccepted, KilnLimits, check, firing_accepted, shelf_area};
pub use offering::offers;
pub use waiting::{done_steps, waiting};

use super::cautions::{CautionCode, Level};
use crate::measure::{Decimal, exact};
use crate::studio::{BatchId, Design, Firing, PieceId, StepKind};

/// A piece that waits for a firing.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadPiece<'a> {
    /// The piece.
    pub piece: PieceId,
    /// Its batch.
    pub batch: BatchId,
    /// What names it to a person: `piece 3 of batch 14`.
    pub words: String,
    /// Its batch's plan.
    pub plan: &'a Design,
    /// The firing it waits for, from 0.
    pub step: usize,
    /// Steps of the plan that were really done to it, in order, one named again where it was done again.
    pub done: Vec<usize>,
}

impl LoadPiece<'_> {
    /// The firing it waits for; none where the step is no firing.
    pub fn firing(&self) -> Option<&Firing> {
        match &self.plan.steps.get(self.step)?.kind {
            StepKind::Fire(firing) => Some(firing),
            _ => None,
        }
    }
}

/// What a load may not be hotter than.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ceiling {
    /// The temperature, °C: up to it, or below it where `below` says so.
    pub celsius: Decimal,
    /// The temperature itself is too hot.
    pub below: bool,
    /// Where it comes from.
    pub reason: CeilingReason,
    /// The piece that sets it; none where the kiln does.
    pub piece: Option<PieceId>,
    /// A plain sentence that names the piece and the number.
    pub text: String,
}

impl Ceiling {
    /// The highest temperature a load may be set to, °C; where the ceiling itself is too hot, a whole degree below it.
    pub fn highest(&self) -> Decimal {
        if self.below { exact::sub(self.celsius, Decimal::ONE).unwrap_or(self.celsius) } else { self.celsius }
    }
}

/// Where a ceiling comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CeilingReason {
    /// A solder's flow point less the margin.
    Solder,
    /// The metal's solidus less 20 °C.
    Metal,
    /// The hottest the kiln can hold.
    Kiln,
}

/// Lowest to highest that is accepted, both included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Accepted {
    /// The lowest.
    pub from: Decimal,
    /// The highest.
    pub to: Decimal,
}

/// A caution about a piece in a load.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LoadCaution {
    /// The first piece it holds for; none where it is about the kiln.
    pub piece: Option<PieceId>,
    /// All pieces it holds for alike, of one batch and history.
    pub pieces: Vec<PieceId>,
    /// What it is about.
    pub code: CautionCode,
    /// How grave.
    pub level: Level,
    /// A plain sentence in °C that names the piece.
    pub text: String,
}

/// What is found about a load before its door closes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LoadCheck {
    /// The strictest ceiling; none without pieces and kiln.
    pub ceiling: Option<Ceiling>,
    /// Temperatures all pieces accept, °C; none where they do not agree.
    pub celsius: Option<Accepted>,
    /// Minutes all pieces accept; none where they do not agree.
    pub minutes: Option<Accepted>,
    /// Pieces that are planned for another temperature or other minutes than these, beyond the tolerance.
    pub off_plan: Vec<PieceId>,
    /// Area on the shelf, cm².
    pub area_cm2: Decimal,
    /// Usable area of the kiln's shelf, cm²; none for a torch.
    pub shelf_cm2: Option<Decimal>,
    /// Cautions, gravest first, then in the order of the method's table.
    pub cautions: Vec<LoadCaution>,
}

/// Pieces that can share a load.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offer {
    /// The pieces.
    pub pieces: Vec<PieceId>,
    /// The temperature proposed, °C.
    pub celsius: Decimal,
    /// The minutes proposed.
    pub minutes: Decimal,
    /// Temperatures all accept, °C.
    pub celsius_accepted: Accepted,
    /// Minutes all accept.
    pub minutes_accepted: Accepted,
    /// Area on the shelf, cm².
    pub area_cm2: Decimal,
}
