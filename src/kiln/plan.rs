//! A kiln day planned: which pieces go into the kiln together, at what heat, in what order.
//!
//! [`plan`] answers with the loads that finish soonest and, of those, move the kiln's heat least. Beside it stands a
//! lower bound of the finish that no plan can go below. [`check`] reads a plan again without the search;
//! [`moved`] and [`moved_piece`] are changes by hand, timed anew; [`share`] says whether firings can be in the kiln
//! together.
//!
//! The kiln takes one load after another. Between two it is out of use for the door, then heats or cools; when pieces
//! are not ready it waits. A load is in the heat for the longest of its pieces' shortest times, and it is set to a
//! temperature at which an accepted range of some firing begins or ends, or to the one the kiln has at the
//! beginning. The best plan is meant among these. Seconds count from the midnight the day begins with.
//!
//! The search makes one load after another and keeps the most promising beginnings, more of them every round. A
//! beginning is dropped when its own lower bound is no better than a plan known, or when another with the same firings
//! ahead is as early in everything. A round that dropped nothing else has found the best plan. It counts the loads it
//! tries and reads no clock: the same question gives the same plan.

mod asked;
mod bound;
mod by_hand;
mod check;
mod heat_times;
mod packs;
mod polish;
mod ranges;
mod search;
mod state;
mod timing;
mod work;

pub use by_hand::{Place, moved, moved_piece};
pub use check::{Breach, check};
pub use heat_times::HeatTimes;
pub use ranges::{Apart, Shared, share};
pub use work::Progress;

use crate::measure::{Decimal, exact};
use asked::Asked;
use work::Work;

/// One firing a piece still has ahead.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Firing {
    /// The lowest temperature accepted, °C.
    pub lowest_c: i32,
    /// The highest temperature accepted, °C; not below the lowest.
    pub highest_c: i32,
    /// The highest temperature that is safe for the piece as it is then, °C.
    pub ceiling_c: i32,
    /// The shortest time in the heat, seconds, above 0.
    pub shortest: u32,
    /// The longest time in the heat, seconds; not below the shortest.
    pub longest: u32,
    /// What must pass before the piece's next firing may begin, seconds: cooling, the next coat, drying.
    pub rest: u32,
}

impl Firing {
    /// The highest temperature both accepted and safe, °C.
    pub fn top_c(&self) -> i32 {
        self.highest_c.min(self.ceiling_c)
    }
}

/// A piece with firings ahead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceAhead {
    /// The caller's name for it; each only once in a question.
    pub key: u64,
    /// What it belongs to, a batch for instance: of pieces that are alike those of one group go together.
    pub group: u32,
    /// The shelf it takes, cm², above 0 and no larger than the shelf. Taken to 0.000001 cm².
    pub area_cm2: Decimal,
    /// The second from which its first firing may begin; below 0 is the day before.
    pub ready: i64,
    /// The firings ahead, in their order; none is accepted.
    pub firings: Vec<Firing>,
}

/// What is to be planned.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanAsk {
    /// The shelf of the kiln, cm², above 0. Taken to 0.000001 cm².
    pub shelf_cm2: Decimal,
    /// What the door takes after a load, until the kiln has its temperature again, seconds.
    pub door_seconds: u32,
    /// How fast the kiln heats and cools.
    pub heat: HeatTimes,
    /// What the kiln has when the day begins, °C; `None` when it is cold.
    pub begins_at_c: Option<i32>,
    /// The hottest the kiln may be set to, °C.
    pub hottest_c: i32,
    /// The minute of the day from which the kiln may be on, 0 to 1439.
    pub begins_minute: u32,
    /// The pieces.
    pub pieces: Vec<PieceAhead>,
}

impl PlanAsk {
    /// The second from which the kiln may be on.
    pub fn begins(&self) -> i64 {
        i64::from(self.begins_minute) * 60
    }

    /// The hottest the kiln may be set to and can hold, °C.
    pub fn holds_c(&self) -> i32 {
        self.hottest_c.min(self.heat.holds_c())
    }

    /// A piece's firing as the answer names it.
    fn fired(&self, piece: usize, firing: usize) -> Fired {
        Fired { piece: self.pieces.get(piece).map_or(0, |piece| piece.key), firing }
    }
}

/// A firing of a piece in a load.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Fired {
    /// The piece's key.
    pub piece: u64,
    /// Which of its firings ahead, from 0.
    pub firing: usize,
}

/// One load.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Load {
    /// The second the pieces go in.
    pub start: i64,
    /// The second they come out.
    pub end: i64,
    /// The temperature set, °C.
    pub celsius: i32,
    /// Seconds in the heat.
    pub seconds: u32,
    /// What is in it, by key.
    pub pieces: Vec<Fired>,
}

/// How good a plan is known to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proof {
    /// No plan finishes sooner, and none that finishes as soon moves less heat.
    Best,
    /// No plan finishes sooner.
    Soonest,
    /// No plan finishes before the bound.
    Bounded,
}

/// A kiln day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KilnPlan {
    /// The loads in their order.
    pub loads: Vec<Load>,
    /// The second the last load comes out; that of the beginning where there is none.
    pub finish: i64,
    /// Every rise and fall of the set temperature added up, °C, the rise from the cold kiln with it.
    pub moved_c: i64,
    /// Energy by the model of the kiln, kWh: warming up, heating and holding, without what the pieces and the open door
    /// take.
    pub kwh: Decimal,
    /// The second before which no plan finishes.
    pub bound: i64,
    /// How good it is known to be.
    pub proof: Proof,
}

impl KilnPlan {
    /// Seconds from the bound to the finish.
    pub fn gap(&self) -> i64 {
        self.finish - self.bound
    }

    /// The number of the load, from 0, that a firing is in.
    pub fn load_of(&self, fired: Fired) -> Option<usize> {
        self.loads.iter().position(|load| load.pieces.contains(&fired))
    }

    /// The gap as a share of the time from `begins` to the bound, in percent; 0 where nothing is planned.
    pub fn gap_percent(&self, begins: i64) -> Decimal {
        let (gap, whole) = (Decimal::from(self.gap()), Decimal::from(self.bound - begins));
        exact::mul(gap, Decimal::ONE_HUNDRED).and_then(|gap| exact::div(gap, whole)).unwrap_or(Decimal::ZERO)
    }
}

/// Loads tried when nothing else is said: a second or two at most on a slow computer. A load counts more than once
/// where there are more than 256 kinds of firings.
pub const USUAL_EFFORT: u32 = 40_000;

/// The most firings ahead, of all pieces together.
pub const MOST_FIRINGS: usize = 3_000;

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PlanProblem {
    /// A field of the question holds what it may not.
    #[error("{field} is {value}; accepted is {accepted}")]
    Field {
        /// Its name in words.
        field: &'static str,
        /// What it holds.
        value: String,
        /// What it may hold.
        accepted: String,
    },
    /// A field of a piece holds what it may not.
    #[error("piece {piece}: {field} is {value}; accepted is {accepted}")]
    Piece {
        /// The piece's key.
        piece: u64,
        /// The firing, from 0, where it is one of a firing.
        firing: Option<usize>,
        /// Its name in words.
        field: &'static str,
        /// What it holds.
        value: String,
        /// What it may hold.
        accepted: String,
    },
    /// A firing needs more heat than is safe for the piece.
    #[error("piece {piece}: its firing needs {lowest_c} °C at least; accepted is up to its ceiling of {ceiling_c} °C")]
    Ceiling {
        /// The piece's key.
        piece: u64,
        /// The firing, from 0.
        firing: usize,
        /// What the firing needs, °C.
        lowest_c: i32,
        /// The piece's ceiling then, °C.
        ceiling_c: i32,
    },
    /// A firing needs more heat than the kiln holds.
    #[error("piece {piece}: its firing needs {lowest_c} °C at least; accepted is up to the {hottest_c} °C of the kiln")]
    Kiln {
        /// The piece's key.
        piece: u64,
        /// The firing, from 0.
        firing: usize,
        /// What the firing needs, °C.
        lowest_c: i32,
        /// What the kiln holds, °C.
        hottest_c: i32,
    },
    /// The one who waited gave up.
    #[error("planning was cancelled")]
    Cancelled,
}

/// The loads that finish soonest and of those move the least heat, as far as `effort` loads tried can tell.
///
/// `go_on` hears how far the search is and ends it with `false`.
///
/// # Errors
/// Every [`PlanProblem`].
pub fn plan(ask: &PlanAsk, effort: u32, go_on: &mut dyn FnMut(Progress) -> bool) -> Result<KilnPlan, PlanProblem> {
    let asked = Asked::new(ask)?;
    let mut work = Work::new(effort, asked.kinds.len(), go_on);
    work.hear()?;
    let bound = bound::of_the_day(&asked);
    let (loads, proved) = search::search(&asked, &bound, &mut work)?;
    let mut batches = asked.with_pieces(&loads);
    if !proved {
        polish::polish(&asked, &mut batches, &mut work)?;
    }
    let timed = timing::timed(&asked, &batches);
    let proof = if proved || (timed.finish == bound.finish && timed.moved_c == bound.moved_c) {
        Proof::Best
    } else if timed.finish == bound.finish {
        Proof::Soonest
    } else {
        Proof::Bounded
    };
    // A plan proved best is its own bound.
    let finish = if proved { timed.finish } else { bound.finish };
    Ok(timed.into_plan(ask, &batches, finish, proof))
}
