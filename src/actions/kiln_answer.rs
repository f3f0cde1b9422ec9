//! What the book answers about its kilns, their days and loads.

use crate::costing::batch::LoadShare;
use crate::kiln::curve::DayCurve;
use crate::kiln::day::{DayAccount, DayBasis, LoadPart};
use crate::kiln::plan::PlanAsk;
use crate::measure::Decimal;
use crate::studio::{BatchId, BookKilnDay, BookLoad, FiringResult, Kiln, KilnId, PieceId};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// A piece in a load, as the log shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LoadLine {
    /// The piece.
    pub piece: PieceId,
    /// Its place in the batch it was begun in.
    pub place: u32,
    /// Its number, once it is finished.
    pub number: Option<String>,
    /// Its batch at that time.
    pub batch: BatchId,
    /// That batch's number.
    pub batch_number: u32,
    /// What that batch is called.
    pub batch_name: String,
    /// The firing step of its route, from 0.
    pub step: usize,
    /// The name of that step.
    pub step_name: String,
    /// Its area on the shelf, cm².
    pub area_cm2: Decimal,
    /// What came of it; none while it fires.
    pub result: Option<FiringResult>,
    /// What it bears; nothing while it fires and of a torch. The lines add up to the load's part.
    pub share: LoadShare,
}

/// A load with its pieces and what it cost.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LoadAccount {
    /// The load.
    pub load: BookLoad,
    /// The kiln or torch.
    pub kiln: Kiln,
    /// Minutes in the heat, 6 places; none while it fires.
    pub minutes_in_heat: Option<Decimal>,
    /// What it bears of its day; none while it fires.
    pub part: Option<LoadPart>,
    /// What that rests on.
    pub basis: Option<DayBasis>,
    /// Its pieces, in the order of the charge.
    pub pieces: Vec<LoadLine>,
}

/// A day of a kiln: what it did, drew and cost, and which load bears how much.
#[derive(Debug, Clone, PartialEq)]
pub struct KilnDayAccount {
    /// The kiln.
    pub kiln: KilnId,
    /// The day's date, or that on which the door closed on its loads.
    pub date: NaiveDate,
    /// The day as it was written down; none where only loads were.
    pub written: Option<BookKilnDay>,
    /// Its loads, earliest first; the one the door is closed on too.
    pub loads: Vec<BookLoad>,
    /// What it cost, or why that cannot be said.
    pub account: Result<DayAccount, String>,
    /// Its heat over time, up to an hour after its end; none where the day was not written down or the kiln's figures give
    /// no model.
    pub curve: Option<DayCurve>,
}

/// What the planner of a kiln day is asked, with what its keys stand for.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanQuestion {
    /// The question.
    pub ask: PlanAsk,
    /// The pieces in it by key.
    pub pieces: BTreeMap<u64, PlanPiece>,
    /// Pieces with firings ahead that this kiln cannot fire as planned.
    pub left_out: Vec<LeftOut>,
}

/// A piece of a planned kiln day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlanPiece {
    /// The piece.
    pub piece: PieceId,
    /// Its place in the batch it was begun in.
    pub place: u32,
    /// Its batch.
    pub batch: BatchId,
    /// The batch's number.
    pub batch_number: u32,
    /// What the batch is called.
    pub batch_name: String,
    /// The steps of its route its firings ahead are, from 0, in the order of the question.
    pub steps: Vec<usize>,
}

/// A piece that takes no part in a planned kiln day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// The piece.
    pub piece: PieceId,
    /// Why, a sentence that names it.
    pub why: String,
}
