//! Kiln days put together from the book: loads by day, what pieces weigh, what each bears.

use crate::book::{BookError, Reader, batch, document, kiln, load};
use crate::costing::batch::LoadShare;
use crate::costing::{geometry, rates, share};
use crate::kiln::day::{DayAccount, DayAsk, LoadPart, WeighedLoad, account};
use crate::kiln::heat::PieceMass;
use crate::kiln::span::{DayLoads, days_of};
use crate::measure::{Decimal, TooLarge, exact};
use crate::studio::{
    Batch, BatchId, BookKilnDay, BookLoad, Charged, Design, HeatSource, Kiln, KilnId, LoadId, PieceId, ShareLoadBy,
    StepKind, StudioRates,
};
use chrono::{Days, NaiveDate};
use std::collections::BTreeMap;

/// Places of energy and hours.
const HEAT_PLACES: u32 = 6;

/// How far around a date a load may belong to a day.
const AROUND: Days = Days::new(3);

/// A kiln with its days and loads around some dates.
pub(super) struct KilnTimes {
    pub(super) kiln: Kiln,
    /// The rates that held on each day that is asked for.
    rates: BTreeMap<NaiveDate, StudioRates>,
    days: Vec<BookKilnDay>,
    loads: Vec<BookLoad>,
}

impl KilnTimes {
    /// Reads a kiln's days and loads from some days before a date to some days after another; none where there is no such
    /// kiln.
    pub(super) fn read(
        reader: Reader<'_>,
        id: KilnId,
        from: NaiveDate,
        to: NaiveDate,
    ) -> Result<Option<Self>, BookError> {
        let Some(found) = kiln::find(reader, id)? else { return Ok(None) };
        let from = from.checked_sub_days(AROUND).unwrap_or(from);
        let to = to.checked_add_days(AROUND).unwrap_or(to);
        let mut times = Self {
            kiln: found,
            rates: BTreeMap::new(),
            days: kiln::days(reader, id, from, to)?,
            loads: load::of_kiln(reader, id, from, to)?,
        };
        let dates: Vec<NaiveDate> = times.days().into_iter().map(|day| day.date).collect();
        for date in dates {
            let _ = times.rates.insert(date, document::rates_on(reader, date)?);
        }
        Ok(Some(times))
    }

    /// The days with their loads, earliest first.
    pub(super) fn days(&self) -> Vec<DayLoads<'_>> {
        days_of(&self.days, &self.loads)
    }

    /// The rates that held on one of the days.
    fn rates_on(&self, date: NaiveDate) -> Result<&StudioRates, String> {
        self.rates.get(&date).ok_or_else(|| format!("no rates were read for {date}"))
    }

    /// What a day cost.
    pub(super) fn account(&self, day: &DayLoads<'_>, weighed: &[WeighedLoad<'_>]) -> Result<DayAccount, String> {
        let rates = self.rates_on(day.date)?;
        let ask = DayAsk { kiln: &self.kiln, day: day.day.map(|day| &day.day), loads: weighed, rates };
        account(&ask).map_err(|problem| problem.to_string())
    }

    /// What a day cost; where that cannot be said of the day as it was written, by the studio's rates of a load.
    pub(super) fn account_or_rates(
        &self,
        day: &DayLoads<'_>,
        weighed: &[WeighedLoad<'_>],
    ) -> Result<DayAccount, BookError> {
        self.account(day, weighed).or_else(|_| {
            let alone = DayLoads { date: day.date, day: None, loads: day.loads.clone() };
            self.account(&alone, weighed).map_err(BookError::Odd)
        })
    }
}

/// Plans of batches and what their pieces weigh, read once each.
pub(super) struct Plans<'book> {
    reader: Reader<'book>,
    batches: BTreeMap<BatchId, Option<Batch>>,
    masses: BTreeMap<(BatchId, usize), PieceMass>,
}

impl<'book> Plans<'book> {
    pub(super) const fn new(reader: Reader<'book>) -> Self {
        Self { reader, batches: BTreeMap::new(), masses: BTreeMap::new() }
    }

    /// A batch without what happened to it.
    pub(super) fn batch(&mut self, id: BatchId) -> Result<Option<&Batch>, BookError> {
        if !self.batches.contains_key(&id) {
            let found = batch::bare(self.reader, id)?;
            self.batches.insert(id, found);
        }
        Ok(self.batches.get(&id).and_then(Option::as_ref))
    }

    /// Loads with what their pieces weigh.
    pub(super) fn weigh<'a>(&mut self, loads: &[&'a BookLoad]) -> Result<Vec<WeighedLoad<'a>>, BookError> {
        let mut weighed = Vec::with_capacity(loads.len());
        for load in loads {
            let masses = load.load.charge.iter().map(|charged| self.mass(charged)).collect::<Result<_, _>>()?;
            weighed.push(WeighedLoad { load, masses });
        }
        Ok(weighed)
    }

    fn mass(&mut self, charged: &Charged) -> Result<PieceMass, BookError> {
        let key = (charged.batch, charged.step);
        if let Some(known) = self.masses.get(&key) {
            return Ok(*known);
        }
        let Some(batch) = self.batch(charged.batch)? else {
            return Err(BookError::Odd(format!("a load holds a piece of a batch that is not there: {}", key.0.0)));
        };
        let mass = piece_mass(&batch.plan, charged.step).map_err(BookError::Odd)?;
        self.masses.insert(key, mass);
        Ok(mass)
    }
}

/// What a piece weighs at a firing by its plan: the metal of its blanks, and the coats of the steps before it as they are
/// meant to land.
fn piece_mass(plan: &Design, step: usize) -> Result<PieceMass, String> {
    let blank = geometry::measure(&plan.blank).map_err(|error| error.to_string())?;
    let mass = || -> Result<PieceMass, TooLarge> {
        let blanks = Decimal::from(plan.blank.count);
        let mut glass_g = Decimal::ZERO;
        for step in plan.steps.iter().take(step) {
            if let StepKind::Coat(coat) = &step.kind {
                // Front and back are equally large.
                let covered = exact::mul(exact::mul(blanks, blank.front_cm2)?, coat.coverage)?;
                let landed = exact::div(exact::mul(covered, coat.coat_mg_per_cm2)?, Decimal::ONE_THOUSAND)?;
                glass_g = exact::add(glass_g, landed)?;
            }
        }
        Ok(PieceMass {
            metal: plan.blank.metal,
            metal_g: exact::mul(blanks, blank.mass_g)?,
            glass_g: exact::round(glass_g, HEAT_PLACES),
        })
    };
    mass().map_err(|error| error.to_string())
}

/// What each piece bears of a load's part: energy and wear as the day's account says, kWh and hot hours by the same
/// weights (largest remainder, 6 places). What a kWh cost is the load's energy over its kWh.
pub(super) fn shares_of(
    times: &KilnTimes,
    day: NaiveDate,
    load: &BookLoad,
    part: &LoadPart,
) -> Result<Vec<LoadShare>, BookError> {
    let studio = times.rates_on(day).map_err(BookError::Odd)?;
    let too_large = |error: TooLarge| BookError::TooLarge(error.to_string());
    let by_area = match &times.kiln.heat {
        HeatSource::Electric(electric) => electric.share_by == ShareLoadBy::Area,
        HeatSource::Torch => false,
    };
    let weights: Vec<Decimal> =
        load.load.charge.iter().map(|charged| if by_area { charged.area_cm2 } else { Decimal::ONE }).collect();
    let shared = || -> Result<Vec<LoadShare>, TooLarge> {
        let minutes = exact::sum([part.own.minutes, part.warm_up.minutes, part.idle.minutes])?;
        let hours = exact::round(exact::div(minutes, Decimal::from(60))?, HEAT_PLACES);
        // A torch has neither, however long it was lit.
        let hours = if part.wear.is_zero() && part.kwh.is_zero() { Decimal::ZERO } else { hours };
        let kwh = share::split(exact::round(part.kwh, HEAT_PLACES), &weights, HEAT_PLACES)?;
        let hot_hours = share::split(hours, &weights, HEAT_PLACES)?;
        let price_per_kwh = if part.kwh.is_zero() {
            studio.price_per_kwh.amount()
        } else {
            exact::div(part.energy.amount(), part.kwh)?
        };
        let wear_per_hour = rates::wear_per_hour(studio)?;
        let parts = kwh.into_iter().zip(hot_hours).zip(&part.pieces);
        Ok(parts
            .map(|((kwh, hot_hours), piece)| LoadShare {
                kwh,
                energy: piece.energy,
                wear: piece.wear,
                hot_hours,
                price_per_kwh,
                wear_per_hour,
            })
            .collect())
    };
    shared().map_err(too_large)
}

/// What the pieces of loads bear of them. A load the door is closed on is left out.
pub(super) fn load_shares(
    reader: Reader<'_>,
    ids: &[LoadId],
) -> Result<BTreeMap<(LoadId, PieceId), LoadShare>, BookError> {
    let mut by_kiln: BTreeMap<KilnId, Vec<BookLoad>> = BTreeMap::new();
    for id in ids {
        if let Some(found) = load::find(reader, *id)?.filter(|found| found.load.opened_at.is_some()) {
            by_kiln.entry(found.load.kiln).or_default().push(found);
        }
    }
    let mut plans = Plans::new(reader);
    let mut shares = BTreeMap::new();
    for (kiln, loads) in by_kiln {
        let dates = || loads.iter().map(|load| load.load.closed_at.date());
        let (Some(from), Some(to)) = (dates().min(), dates().max()) else { continue };
        let Some(times) = KilnTimes::read(reader, kiln, from, to)? else { continue };
        for day in times.days() {
            let asked = |load: &&BookLoad| loads.iter().any(|one| one.id == load.id);
            if !day.loads.iter().any(asked) {
                continue;
            }
            let weighed = plans.weigh(&day.loads)?;
            let account = times.account_or_rates(&day, &weighed)?;
            for load in day.loads.iter().copied().filter(asked) {
                let Some(part) = account.load(load.id) else { continue };
                for (charged, share) in load.load.charge.iter().zip(shares_of(&times, day.date, load, part)?) {
                    shares.insert((load.id, charged.piece), share);
                }
            }
        }
    }
    Ok(shares)
}
