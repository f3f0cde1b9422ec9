//! What a day of a kiln costs, and who bears it (kiln and batch method, section 2).
//!
//! Warm-up and idle holding are shared by the day's loads in proportion to their minutes in the heat, a load's cost by
//! its pieces; the parts add up to the day's energy and wear to the last millionth. A meter reading replaces the
//! modelled kWh and the parts are scaled to it.

use super::heat::{HeatProblem, PieceMass};
use super::span::SpanProblem;
use crate::measure::{Decimal, Money, TooLarge};
use crate::studio::{BookLoad, Kiln, KilnDay, LoadId, PieceId, StudioRates};

/// A load with what its pieces weigh.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WeighedLoad<'a> {
    /// The load.
    pub load: &'a BookLoad,
    /// The mass of each piece, in the order of its charge.
    pub masses: Vec<PieceMass>,
}

/// A day of a kiln to be accounted for.
#[derive(Debug, Clone)]
pub struct DayAsk<'a> {
    /// The kiln.
    pub kiln: &'a Kiln,
    /// The day, where one is written down.
    pub day: Option<&'a KilnDay>,
    /// Its loads, in any order. One whose door is still closed takes no part yet.
    pub loads: &'a [WeighedLoad<'a>],
    /// The studio's rates.
    pub rates: &'a StudioRates,
}

/// What a day's figures rest on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DayBasis {
    /// The meter.
    Metered,
    /// The kiln's heat model.
    Modelled,
    /// The studio's kWh and recovery minutes of a load: no day was written down, or the kiln's figures give no model.
    Rates,
    /// A torch: no energy, no wear.
    Torch,
}

/// A stretch of a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct DayPart {
    /// Minutes, 6 places.
    pub minutes: Decimal,
    /// kWh, 6 places.
    pub kwh: Decimal,
    /// Its price.
    pub energy: Money,
    /// Wear of elements and thermocouple.
    pub wear: Money,
}

/// What a piece bears of a load.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PieceShare {
    /// The piece.
    pub piece: PieceId,
    /// Energy.
    pub energy: Money,
    /// Wear.
    pub wear: Money,
}

/// What a load bears of a day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LoadPart {
    /// The load.
    pub load: LoadId,
    /// Its own: its minutes in the heat, its mass, its opening of the door.
    pub own: DayPart,
    /// Its share of the warm-up; `minutes` are its share of the warm-up's.
    pub warm_up: DayPart,
    /// Its share of idle holding; `minutes` likewise.
    pub idle: DayPart,
    /// kWh in all.
    pub kwh: Decimal,
    /// Energy in all.
    pub energy: Money,
    /// Wear in all.
    pub wear: Money,
    /// What each piece bears; adds up to energy and wear. Empty for a load without pieces.
    pub pieces: Vec<PieceShare>,
}

/// A day's account. `warm_up` + `idle` + the loads' own parts are the whole; where there are loads, so are the loads.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DayAccount {
    /// kWh of the day, 6 places.
    pub kwh: Decimal,
    /// Price of its energy.
    pub energy: Money,
    /// Wear of elements and thermocouple.
    pub wear: Money,
    /// Hours the elements were on duty, 6 places: switched on to switched off, warm-up included.
    pub hot_hours: Decimal,
    /// What it rests on.
    pub basis: DayBasis,
    /// Warming up.
    pub warm_up: DayPart,
    /// Holding with nothing in it.
    pub idle: DayPart,
    /// Its loads, earliest first.
    pub loads: Vec<LoadPart>,
}

/// Why a day cannot be accounted for.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DayProblem {
    /// Its times cannot be.
    #[error(transparent)]
    Span(#[from] SpanProblem),
    /// The kiln cannot reach what it was held at.
    #[error(transparent)]
    Heat(#[from] HeatProblem),
    /// Masses are not one a piece.
    #[error("a load of {pieces} pieces with {masses} masses: accepted is one mass a piece")]
    MassesMissing {
        /// The load.
        load: LoadId,
        /// Pieces in it.
        pieces: usize,
        /// Masses given.
        masses: usize,
    },
    /// A figure does not fit.
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
}
