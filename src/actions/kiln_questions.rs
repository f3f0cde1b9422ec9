//! What the faces ask of a book about kilns. Nothing here changes it.

use super::kiln_answer::{KilnDayAccount, LoadAccount, LoadLine};
use super::kiln_days::{KilnTimes, Plans, shares_of};
use crate::book::{Book, BookError, Reader, batch, document, kiln, load as firing_load, tile};
use crate::costing::batch::LoadShare;
use crate::kiln::curve::{CurveAsk, DayCurve, curve};
use crate::kiln::day::WeighedLoad;
use crate::kiln::fit::{MeterReading, reading};
use crate::kiln::hours::{self, HotHours};
use crate::kiln::span::{DayLoads, days_of};
use crate::measure::{Decimal, exact};
use crate::studio::{BookLoad, ElectricKiln, HeatSource, KilnId, LoadId, TileId};
use chrono::{Duration, NaiveDate};

/// The first and last date a book can hold.
const ALL: (Option<NaiveDate>, Option<NaiveDate>) =
    (NaiveDate::from_ymd_opt(1900, 1, 1), NaiveDate::from_ymd_opt(2200, 12, 31));

/// Loads of all kilns closed from one date to another, both included, in order of time.
pub fn loads(book: &Book, from: NaiveDate, to: NaiveDate) -> Result<Vec<BookLoad>, BookError> {
    firing_load::between(book.reader(), from, to).map_err(|fault| fault.of_book(book.path()))
}

/// One load; none where there is no such load.
pub fn load(book: &Book, id: LoadId) -> Result<Option<BookLoad>, BookError> {
    firing_load::find(book.reader(), id).map_err(|fault| fault.of_book(book.path()))
}

/// A load's photo, PNG bytes.
pub fn load_photo(book: &Book, id: LoadId) -> Result<Option<Vec<u8>>, BookError> {
    firing_load::photo_of(book.reader(), id).map_err(|fault| fault.of_book(book.path()))
}

/// A test tile's photo, PNG bytes.
pub fn tile_photo(book: &Book, id: TileId) -> Result<Option<Vec<u8>>, BookError> {
    tile::photo_of(book.reader(), id).map_err(|fault| fault.of_book(book.path()))
}

/// A load with its pieces and what it cost, by the rates of its day; none where there is no such load.
pub fn load_account(book: &Book, id: LoadId) -> Result<Option<LoadAccount>, BookError> {
    account_of(book.reader(), id).map_err(|fault| fault.of_book(book.path()))
}

fn account_of(reader: Reader<'_>, id: LoadId) -> Result<Option<LoadAccount>, BookError> {
    let Some(found) = firing_load::find(reader, id)? else { return Ok(None) };
    let date = found.load.closed_at.date();
    let Some(times) = KilnTimes::read(reader, found.load.kiln, date, date)? else { return Ok(None) };
    let mut plans = Plans::new(reader);
    let mut part = None;
    let mut basis = None;
    let mut shares = vec![LoadShare::default(); found.load.charge.len()];
    let days = times.days();
    let day = days.iter().find(|day| day.loads.iter().any(|load| load.id == id));
    if let Some(day) = day.filter(|_| found.load.opened_at.is_some()) {
        let weighed = plans.weigh(&day.loads)?;
        let account = times.account_or_rates(day, &weighed)?;
        if let Some(own) = account.load(id) {
            shares = shares_of(&times, day.date, &found, own)?;
            part = Some(own.clone());
            basis = Some(account.basis);
        }
    }
    let mut pieces = Vec::with_capacity(found.load.charge.len());
    for (charged, share) in found.load.charge.iter().zip(shares) {
        let piece = batch::piece(reader, charged.piece)?;
        let (batch_number, batch_name, step_name) = match plans.batch(charged.batch)? {
            Some(batch) => {
                let step = batch.plan.steps.get(charged.step).map(|step| step.name.clone());
                (batch.number, batch.name.clone(), step.unwrap_or_default())
            }
            None => (0, String::new(), String::new()),
        };
        pieces.push(LoadLine {
            piece: charged.piece,
            place: piece.as_ref().map_or(0, |piece| piece.place),
            number: piece.and_then(|piece| piece.number),
            batch: charged.batch,
            batch_number,
            batch_name,
            step: charged.step,
            step_name,
            area_cm2: charged.area_cm2,
            result: charged.result.clone(),
            share,
        });
    }
    let minutes_in_heat = found.load.opened_at.map(|opened| minutes_of(opened - found.load.closed_at)).transpose()?;
    Ok(Some(LoadAccount { kiln: times.kiln.clone(), load: found, minutes_in_heat, part, basis, pieces }))
}

/// Minutes of a time, 6 places.
fn minutes_of(time: Duration) -> Result<Decimal, BookError> {
    let minutes = exact::div(Decimal::from(time.num_seconds()), Decimal::from(60));
    minutes.map(|minutes| exact::round(minutes, 6).normalize()).map_err(|error| BookError::TooLarge(error.to_string()))
}

/// A kiln's days from one date to another, both included, oldest first: those written down, and those that only have
/// loads.
pub fn kiln_days(book: &Book, kiln: KilnId, from: NaiveDate, to: NaiveDate) -> Result<Vec<KilnDayAccount>, BookError> {
    let read = || {
        let reader = book.reader();
        let Some(times) = KilnTimes::read(reader, kiln, from, to)? else { return Ok(Vec::new()) };
        let mut plans = Plans::new(reader);
        let mut days = Vec::new();
        for day in times.days().into_iter().filter(|day| (from..=to).contains(&day.date)) {
            let weighed = plans.weigh(&day.loads)?;
            let curve = match &times.kiln.heat {
                HeatSource::Electric(electric) => drawn(electric, &day, &weighed),
                HeatSource::Torch => None,
            };
            days.push(KilnDayAccount {
                kiln,
                date: day.date,
                written: day.day.cloned(),
                account: times.account(&day, &weighed),
                curve,
                loads: day.loads.into_iter().cloned().collect(),
            });
        }
        Ok(days)
    };
    read().map_err(|fault: BookError| fault.of_book(book.path()))
}

/// The heat of a day that was written down, up to an hour after it was switched off, or after what is known of it last.
fn drawn(kiln: &ElectricKiln, day: &DayLoads<'_>, weighed: &[WeighedLoad<'_>]) -> Option<DayCurve> {
    let written = &day.day?.day;
    let last = day.loads.iter().filter_map(|load| load.load.opened_at).max();
    let end = written.off_at.or(last).or(written.hot_at).unwrap_or(written.on_at).max(written.on_at);
    curve(&CurveAsk { kiln, day: written, loads: weighed, until: end + Duration::hours(1) }).ok()
}

/// What the meter told of a kiln on each day it was read, oldest first; nothing for a torch. A day whose times cannot be is
/// left out.
pub fn meter_readings(book: &Book, kiln: KilnId) -> Result<Vec<MeterReading>, BookError> {
    let read = || {
        let reader = book.reader();
        let Some(HeatSource::Electric(electric)) = kiln::find(reader, kiln)?.map(|found| found.heat) else {
            return Ok(Vec::new());
        };
        let (Some(from), Some(to)) = ALL else { return Ok(Vec::new()) };
        let days = kiln::days(reader, kiln, from, to)?;
        let loads = firing_load::of_kiln(reader, kiln, from, to)?;
        let told = days_of(&days, &loads);
        let readings = told.iter().filter_map(|day| reading(&electric, day.day?, &day.loads).ok().flatten());
        Ok(readings.collect())
    };
    read().map_err(|fault: BookError| fault.of_book(book.path()))
}

/// How long a kiln's elements and thermocouple were hot since each was renewed, up to a day, that day included; none for a
/// torch and where there is no such kiln.
pub fn hot_hours(book: &Book, kiln: KilnId, today: NaiveDate) -> Result<Option<HotHours>, BookError> {
    let read = || {
        let reader = book.reader();
        let Some(HeatSource::Electric(electric)) = kiln::find(reader, kiln)?.map(|found| found.heat) else {
            return Ok(None);
        };
        let since = electric.elements_since.min(electric.thermocouple_since);
        let days = kiln::days(reader, kiln, since, today)?;
        let loads = firing_load::of_kiln(reader, kiln, since, today)?;
        let rates = document::rates(reader)?;
        let hours = hours::hot_hours(&electric, &days, &loads, &rates);
        hours.map(Some).map_err(|error| BookError::TooLarge(error.to_string()))
    };
    read().map_err(|fault: BookError| fault.of_book(book.path()))
}
