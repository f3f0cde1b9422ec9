//! What the book answers about its kilns, their days and loads.

use crate::measure::{Decimal, Money};
use crate::studio::{BatchId, BookKilnDay, BookLoad, FiringResult, Kiln, KilnDay, KilnId, LoadId, PieceId};
use chrono::{NaiveDate, NaiveDateTime};

/// What heat costs: of a day, a load or a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct HeatCost {
    /// Energy, kWh.
    pub kwh: Decimal,
    /// Hot minutes borne: its own and its part of warming up and idle holding.
    pub minutes: Decimal,
    /// Money for the energy.
    pub energy: Money,
    /// Money for wear of elements and thermocouple.
    pub wear: Money,
}

/// What a piece bears of a load.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PieceShare {
    /// The piece.
    pub piece: PieceId,
    /// Its batch at that time.
    pub batch: BatchId,
    /// The firing step of its route, from 0.
    pub step: usize,
    /// Its part; the parts of a load add up to the load's cost exactly.
    pub cost: HeatCost,
}

/// What a load costs and who bears it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LoadShares {
    /// The load.
    pub load: LoadId,
    /// All of it. Nothing for a torch, and for a load the door is still closed on.
    pub whole: HeatCost,
    /// Its pieces in the order of the charge.
    pub pieces: Vec<PieceShare>,
}

/// A piece in a load, as the log shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LoadLine {
    /// What it bears.
    pub share: PieceShare,
    /// Its place in the batch it was begun in.
    pub place: u32,
    /// Its number, once it is finished.
    pub number: Option<String>,
    /// Its batch's number.
    pub batch_number: u32,
    /// What the batch is called.
    pub batch_name: String,
    /// The name of the firing on its route.
    pub step_name: String,
    /// Its area on the shelf, cm².
    pub area_cm2: Decimal,
    /// What came of it; none while it fires.
    pub result: Option<FiringResult>,
}

/// A load with its pieces and what it cost.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LoadAccount {
    /// The load.
    pub load: BookLoad,
    /// The kiln or torch.
    pub kiln: Kiln,
    /// Minutes in the heat; none while it fires.
    pub minutes_in_heat: Option<Decimal>,
    /// All of its cost.
    pub whole: HeatCost,
    /// Its pieces, in the order of the charge.
    pub pieces: Vec<LoadLine>,
}

/// One part of a kiln day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DayPart {
    /// What the kiln did.
    pub kind: DayPartKind,
    /// From.
    pub from: NaiveDateTime,
    /// To.
    pub to: NaiveDateTime,
    /// Energy, kWh; the parts add up to the day's.
    pub kwh: Decimal,
}

/// What a kiln did for a while.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DayPartKind {
    /// It warmed up.
    WarmUp,
    /// It held its heat between loads.
    Hold,
    /// A load was in it.
    Load(LoadId),
}

/// A point of a kiln day's heat curve.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HeatPoint {
    /// When.
    pub at: NaiveDateTime,
    /// How hot, °C.
    pub celsius: Decimal,
}

/// A day of a kiln: what it did, drew and cost, and which load bears how much.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KilnDayAccount {
    /// The kiln.
    pub kiln: KilnId,
    /// The day as it was written down; none where only loads were.
    pub written: Option<BookKilnDay>,
    /// The day that is reckoned with: as written, or taken to begin in time for its first load.
    pub day: KilnDay,
    /// The whole day.
    pub whole: HeatCost,
    /// The kWh are the meter's.
    pub metered: bool,
    /// The kWh the model gives.
    pub modelled_kwh: Decimal,
    /// What it did, in order of time.
    pub parts: Vec<DayPart>,
    /// How hot it was, in order of time.
    pub curve: Vec<HeatPoint>,
    /// Its loads that were opened, in order of time, with what each bears; they add up to the whole.
    pub loads: Vec<(BookLoad, HeatCost)>,
}

/// How long a kiln's elements and thermocouple were hot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HotHours {
    /// The elements.
    pub elements: WornPart,
    /// The thermocouple.
    pub thermocouple: WornPart,
}

/// A part that wears with the hours it is hot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WornPart {
    /// The day it was renewed.
    pub since: NaiveDate,
    /// Hot hours since then.
    pub hours: Decimal,
    /// Hot hours it is expected to last.
    pub lasts: Decimal,
    /// Nine tenths of them are used up: time to have a new one at hand.
    pub due_soon: bool,
    /// All of them are used up.
    pub due: bool,
}
