//! What a day of a kiln costs, and who bears it (kiln and batch method, section 2).
//!
//! Warm-up and idle holding are shared by the day's loads in proportion to their minutes in the heat, a load's cost by
//! its pieces; the parts add up to the day's energy and wear to the last millionth. A meter reading replaces the
//! modelled kWh and the parts are scaled to it.

use super::heat::{HEAT_PLACES, HeatModel, HeatProblem, PieceMass};
use super::span::{InHeat, SpanProblem, finished, of_day, refuse_overlaps, seconds};
use super::tariff::price;
use crate::costing::rates::wear_per_hour;
use crate::costing::share::split;
use crate::measure::exact::{add, div, mul, round, sum};
use crate::measure::money::MONEY_PLACES;
use crate::measure::{Decimal, Money, TooLarge};
use crate::studio::{BookLoad, ElectricKiln, HeatSource, Kiln, KilnDay, LoadId, PieceId, ShareLoadBy, StudioRates};
use chrono::NaiveDateTime;

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

impl DayAccount {
    /// Whether the meter says the kWh.
    pub fn metered(&self) -> bool {
        self.basis == DayBasis::Metered
    }

    /// The part of a load.
    pub fn load(&self, load: LoadId) -> Option<&LoadPart> {
        self.loads.iter().find(|part| part.load == load)
    }
}

/// Accounts for a day of a kiln.
///
/// # Errors
/// [`DayProblem`] names what cannot be: two loads at a time, a load outside the day, a mass that is missing, a figure
/// that does not fit.
pub fn account(ask: &DayAsk<'_>) -> Result<DayAccount, DayProblem> {
    let loads = finished(ask.loads.iter().map(|load| load.load))?;
    let HeatSource::Electric(kiln) = &ask.kiln.heat else {
        return Ok(shared(&Course::default(), &loads, ShareLoadBy::Piece, DayBasis::Torch, ask.rates)?);
    };
    refuse_overlaps(&loads)?;
    let model = HeatModel::of(kiln).ok();
    let course = match (ask.day, &model) {
        (Some(day), Some(model)) => modelled(ask, kiln, day, model, &loads)?,
        (Some(day), None) if day.meter_kwh.is_some() => metered_alone(day, &loads)?,
        _ => by_rates(ask, &loads)?,
    };
    let meter = ask.day.and_then(|day| day.meter_kwh);
    let (course, basis) = match meter {
        Some(read) => (course.scaled_to(read)?, DayBasis::Metered),
        None if ask.day.is_some() && model.is_some() => (course, DayBasis::Modelled),
        None => (course, DayBasis::Rates),
    };
    Ok(shared(&course, &loads, kiln.share_by, basis, ask.rates)?)
}

/// Whose a stretch is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Whose {
    WarmUp,
    Idle,
    Load(usize),
}

/// A stretch of the day's course.
#[derive(Debug, Clone, Copy)]
struct Stretch {
    whose: Whose,
    from: NaiveDateTime,
    to: NaiveDateTime,
    /// Energy, used evenly over it.
    kwh: Decimal,
    /// Seconds that wear the elements.
    worn: Decimal,
}

/// A day as stretches one after the other.
#[derive(Debug, Clone, Default)]
struct Course(Vec<Stretch>);

impl Course {
    fn push(&mut self, whose: Whose, from: NaiveDateTime, to: NaiveDateTime, kwh: Decimal) {
        let to = to.max(from);
        self.0.push(Stretch { whose, from, to, kwh, worn: Decimal::from(seconds(from, to)) });
    }

    /// The same with the meter's kWh, in proportion to the model's; where that has none, to the time.
    fn scaled_to(mut self, meter: Decimal) -> Result<Self, TooLarge> {
        let time = self.0.iter().all(|stretch| stretch.kwh.is_zero());
        let weight = |stretch: &Stretch| if time { stretch.worn } else { stretch.kwh };
        let weights: Vec<Decimal> = self.0.iter().map(weight).collect();
        let parts = split(round(meter, HEAT_PLACES), &weights, HEAT_PLACES)?;
        for (stretch, kwh) in self.0.iter_mut().zip(parts) {
            stretch.kwh = kwh;
        }
        Ok(self)
    }

    /// The parts of a figure that belong to one owner.
    fn sum_of(&self, whose: Whose, figures: &[Decimal]) -> Result<Decimal, TooLarge> {
        sum(self.0.iter().zip(figures).filter(|(stretch, _)| stretch.whose == whose).map(|(_, figure)| *figure))
    }
}

/// Warm-up at full power, holding, and each load with its mass and its opening of the door.
fn modelled(
    ask: &DayAsk<'_>,
    kiln: &ElectricKiln,
    day: &KilnDay,
    model: &HeatModel,
    loads: &[InHeat<'_>],
) -> Result<Course, DayProblem> {
    let span = of_day(day, Some(model), loads)?;
    let minutes = |from, to| div(Decimal::from(seconds(from, to)), Decimal::from(60));
    let mut course = Course::default();
    course.push(Whose::WarmUp, span.on, span.hot, model.full_power_kwh(minutes(span.on, span.hot)?)?);
    let mut idle_from = span.hot;
    for (index, load) in loads.iter().enumerate() {
        if load.from > idle_from {
            let kwh = model.holding_kwh(day.hold_celsius, minutes(idle_from, load.from)?)?;
            course.push(Whose::Idle, idle_from, load.from, kwh);
        }
        let until = load.to.min(span.end);
        let masses = masses_of(ask, load)?;
        let set = load.load.load.set_celsius;
        let own = model.load_kwh(masses, kiln.furniture_g, set)?;
        course.push(
            Whose::Load(index),
            load.from,
            until,
            add(own, model.holding_kwh(set, minutes(load.from, until)?)?)?,
        );
        idle_from = until;
    }
    if span.end > idle_from {
        let kwh = model.holding_kwh(day.hold_celsius, minutes(idle_from, span.end)?)?;
        course.push(Whose::Idle, idle_from, span.end, kwh);
    }
    Ok(course)
}

fn masses_of<'a>(ask: &'a DayAsk<'_>, load: &InHeat<'_>) -> Result<&'a [PieceMass], DayProblem> {
    let weighed = ask.loads.iter().find(|weighed| weighed.load.id == load.load.id);
    let masses = weighed.map_or(&[][..], |weighed| weighed.masses.as_slice());
    let pieces = load.load.load.charge.len();
    if masses.len() == pieces {
        Ok(masses)
    } else {
        Err(DayProblem::MassesMissing { load: load.load.id, pieces, masses: masses.len() })
    }
}

/// A day whose meter was read, of a kiln without a model: its energy goes by the time.
fn metered_alone(day: &KilnDay, loads: &[InHeat<'_>]) -> Result<Course, DayProblem> {
    let span = of_day(day, None, loads)?;
    let mut course = Course::default();
    course.push(Whose::WarmUp, span.on, span.hot, Decimal::ZERO);
    let mut idle_from = span.hot;
    for (index, load) in loads.iter().enumerate() {
        let until = load.to.min(span.end);
        course.push(Whose::Idle, idle_from, load.from, Decimal::ZERO);
        course.push(Whose::Load(index), load.from, until, Decimal::ZERO);
        idle_from = until;
    }
    course.push(Whose::Idle, idle_from, span.end, Decimal::ZERO);
    Ok(course)
}

/// The studio's kWh a load, and the wear of its minutes and the recovery (costing method, section 4).
fn by_rates(ask: &DayAsk<'_>, loads: &[InHeat<'_>]) -> Result<Course, TooLarge> {
    let mut course = Course::default();
    for (index, load) in loads.iter().enumerate() {
        let worn = rated_seconds(load, ask.rates)?;
        let kwh = round(ask.rates.kwh_per_load, HEAT_PLACES);
        course.0.push(Stretch { whose: Whose::Load(index), from: load.from, to: load.to, kwh, worn });
    }
    Ok(course)
}

/// Seconds a load wears the elements where no day is written down: in the heat, and until the kiln is hot again.
pub(super) fn rated_seconds(load: &InHeat<'_>, rates: &StudioRates) -> Result<Decimal, TooLarge> {
    add(Decimal::from(load.seconds()), mul(rates.recovery_minutes, Decimal::from(60))?)
}

/// Prices a course and shares it out.
fn shared(
    course: &Course,
    loads: &[InHeat<'_>],
    share_by: ShareLoadBy,
    basis: DayBasis,
    rates: &StudioRates,
) -> Result<DayAccount, TooLarge> {
    let stretches = &course.0;
    let kwh: Vec<Decimal> = stretches.iter().map(|stretch| stretch.kwh).collect();
    let worn: Vec<Decimal> = stretches.iter().map(|stretch| stretch.worn).collect();
    let prices = stretches
        .iter()
        .map(|stretch| Ok(round(price(rates, stretch.from, stretch.to, stretch.kwh)?, WEIGHT_PLACES)))
        .collect::<Result<Vec<Decimal>, TooLarge>>()?;
    let energy = Money::rounded(sum(prices.iter().copied())?);
    let hours = div(sum(worn.iter().copied())?, Decimal::from(3600))?;
    let wear = match basis {
        DayBasis::Torch => Money::ZERO,
        _ => Money::rounded(mul(hours, wear_per_hour(rates)?)?),
    };
    let energies = split_money(energy, &prices)?;
    let wears = split_money(wear, &worn)?;
    let part = |whose: Whose, seconds: Decimal| {
        Ok::<_, TooLarge>(DayPart {
            minutes: round(div(seconds, Decimal::from(60))?, HEAT_PLACES).normalize(),
            kwh: course.sum_of(whose, &kwh)?.normalize(),
            energy: Money::rounded(course.sum_of(whose, &energies)?),
            wear: Money::rounded(course.sum_of(whose, &wears)?),
        })
    };
    let warm_up = part(Whose::WarmUp, course.sum_of(Whose::WarmUp, &worn)?)?;
    let idle = part(Whose::Idle, course.sum_of(Whose::Idle, &worn)?)?;
    let times: Vec<Decimal> = loads.iter().map(|load| Decimal::from(load.seconds())).collect();
    let (warm_ups, idles) = (shares(&warm_up, &times)?, shares(&idle, &times)?);
    let mut parts = Vec::with_capacity(loads.len());
    for (index, ((load, warm_up), idle)) in loads.iter().zip(warm_ups).zip(idles).enumerate() {
        let own = part(Whose::Load(index), Decimal::from(load.seconds()))?;
        parts.push(load_part(load, own, warm_up, idle, share_by)?);
    }
    Ok(DayAccount {
        kwh: sum(kwh)?.normalize(),
        energy,
        wear,
        hot_hours: round(hours, HEAT_PLACES).normalize(),
        basis,
        warm_up,
        idle,
        loads: parts,
    })
}

/// Places of a weight: finer than a millionth, coarse enough for largest remainder on any amount.
const WEIGHT_PLACES: u32 = 12;

fn load_part(
    load: &InHeat<'_>,
    own: DayPart,
    warm_up: DayPart,
    idle: DayPart,
    share_by: ShareLoadBy,
) -> Result<LoadPart, TooLarge> {
    let energy = own.energy.plus(warm_up.energy)?.plus(idle.energy)?;
    let wear = own.wear.plus(warm_up.wear)?.plus(idle.wear)?;
    let charge = &load.load.load.charge;
    let weight = |area: Decimal| match share_by {
        ShareLoadBy::Area => area,
        ShareLoadBy::Piece => Decimal::ONE,
    };
    let mut pieces = Vec::with_capacity(charge.len());
    if !charge.is_empty() {
        let weights: Vec<Decimal> = charge.iter().map(|charged| weight(charged.area_cm2)).collect();
        let (energies, wears) = (split_money(energy, &weights)?, split_money(wear, &weights)?);
        for ((charged, energy), wear) in charge.iter().zip(energies).zip(wears) {
            let (energy, wear) = (Money::rounded(energy), Money::rounded(wear));
            pieces.push(PieceShare { piece: charged.piece, energy, wear });
        }
    }
    let kwh = sum([own.kwh, warm_up.kwh, idle.kwh])?.normalize();
    Ok(LoadPart { load: load.load.id, own, warm_up, idle, kwh, energy, wear, pieces })
}

/// A part of the day shared by the loads.
fn shares(part: &DayPart, weights: &[Decimal]) -> Result<Vec<DayPart>, TooLarge> {
    if weights.is_empty() {
        return Ok(Vec::new());
    }
    let minutes = split(part.minutes, weights, HEAT_PLACES)?;
    let kwh = split(part.kwh, weights, HEAT_PLACES)?;
    let energy = split_money(part.energy, weights)?;
    let wear = split_money(part.wear, weights)?;
    let each = minutes.into_iter().zip(kwh).zip(energy).zip(wear);
    Ok(each
        .map(|(((minutes, kwh), energy), wear)| DayPart {
            minutes: minutes.normalize(),
            kwh: kwh.normalize(),
            energy: Money::rounded(energy),
            wear: Money::rounded(wear),
        })
        .collect())
}

/// Splits money to the book's grain by largest remainder; nothing over nobody is nothing.
fn split_money(amount: Money, weights: &[Decimal]) -> Result<Vec<Decimal>, TooLarge> {
    split(amount.amount(), weights, MONEY_PLACES)
}
