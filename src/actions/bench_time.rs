//! Hands-on time: typed, or by a timer that survives closing the program.

use super::Refusal;
use super::batches::{self, AtBench, count};
use super::bench_action::TimeSpent;
use super::limits::{self, Range, refuse};
use super::perform::Done;
use super::stock::too_large;
use crate::book::{Change, Reader, design, document, timer};
use crate::costing::{rates, share};
use crate::measure::{Decimal, exact};
use crate::studio::{Batch, BatchState, BenchDeed, PieceId, Timed, TimedWork, Timer, TimerId};
use chrono::{NaiveDate, NaiveDateTime};
use std::collections::BTreeSet;

/// Places of minutes.
const MINUTE_PLACES: u32 = 6;

/// Most minutes written down at once: well over a month, day and night.
const MOST_MINUTES: i64 = 100_000;

/// Most batches of one sitting.
const MOST_WORK: usize = 100;

/// What an hour at the bench is worth on the day it is spent.
pub(super) struct Hourly {
    /// The wage, money per hour.
    pub(super) labour_per_hour: Decimal,
    /// Overhead, money per hour.
    pub(super) overhead_per_hour: Decimal,
}

impl Hourly {
    /// The studio's figures where the batch's design follows them, else those of the batch's plan.
    pub(super) fn of(reader: Reader<'_>, batch: &Batch) -> Result<Self, Refusal> {
        let follows = design::find(reader, batch.design)?.map(|found| found.follows).unwrap_or_default();
        let plan = &batch.plan.rates;
        let mut hourly = Self { labour_per_hour: plan.labour_per_hour, overhead_per_hour: plan.overhead_per_hour };
        if follows.labour || follows.overhead {
            let studio = document::rates(reader)?;
            if follows.labour {
                hourly.labour_per_hour = studio.labour_per_hour.amount();
            }
            if follows.overhead {
                hourly.overhead_per_hour = rates::overhead_per_hour(&studio).map_err(too_large)?;
            }
        }
        Ok(hourly)
    }
}

/// Checks minutes that were typed.
pub(super) fn accept_minutes(minutes: Decimal, range: Range) -> Result<(), Refusal> {
    limits::number("Minutes", minutes, range)?;
    if minutes > Decimal::from(MOST_MINUTES) || minutes.normalize().scale() > MINUTE_PLACES {
        return Err(refuse("Minutes", minutes, "up to 100,000 minutes with at most six decimals are accepted"));
    }
    Ok(())
}

/// Writes hands-on minutes down.
pub(super) fn add(change: &Change<'_>, spent: &TimeSpent) -> Result<Done, Refusal> {
    accept_minutes(spent.minutes, Range::AboveZero)?;
    let sitting = Sitting::find(change.reader(), &spent.work, None)?;
    for served in &sitting.served {
        served.bench.accept_date(spent.date)?;
    }
    let words = sitting.words();
    sitting.write(change, spent.minutes, spent.how, |_| spent.date)?;
    Ok(Done::named(format!("Write down {} of {words}", minutes_words(spent.minutes))))
}

/// Starts a timer.
pub(super) fn start(change: &Change<'_>, work: &[TimedWork], at: NaiveDateTime) -> Result<Done, Refusal> {
    let reader = change.reader();
    let sitting = Sitting::find(reader, work, Some(BatchState::Open))?;
    for served in &sitting.served {
        if served.bench.now.waiting(served.work.step).is_empty() {
            return Err(refuse("Step", served.words()?, "a step that a piece waits for is accepted"));
        }
        let runs = timer::all(reader)?.iter().any(|(_, running)| running.work.contains(&served.work));
        if runs {
            return Err(Refusal::No(format!("a timer runs for {} already", served.words()?)));
        }
    }
    let words = sitting.words();
    timer::insert(change, &Timer { since: at, work: work.to_vec() })?;
    Ok(Done::named(format!("Start the timer of {words}")))
}

/// Stops a timer and writes its minutes down: those it ran, to the second, or those that were typed.
pub(super) fn stop(
    change: &Change<'_>,
    id: TimerId,
    typed: Option<Decimal>,
    at: NaiveDateTime,
) -> Result<Done, Refusal> {
    let running = timer::find(change.reader(), id)?.ok_or_else(|| missing(id))?;
    let (minutes, how) = match typed {
        Some(minutes) => {
            accept_minutes(minutes, Range::AboveZero)?;
            (minutes, Timed::Typed)
        }
        None => (minutes_ran(&running, at)?, Timed::Clock),
    };
    let sitting = Sitting::find(change.reader(), &running.work, None)?;
    let words = sitting.words();
    // A batch may have been given a later day than the clock's by hand; what happens to it stays in order.
    sitting.write(change, minutes, how, |bench| bench.last_day().map_or(at.date(), |last| last.max(at.date())))?;
    timer::delete(change, id)?;
    Ok(Done::named(format!("Stop the timer of {words}: {}", minutes_words(minutes))))
}

/// Minutes a timer ran, to the second.
fn minutes_ran(running: &Timer, at: NaiveDateTime) -> Result<Decimal, Refusal> {
    let seconds = (at - running.since).num_seconds();
    let most = "minutes above 0 and up to 100,000 are accepted: type them, or drop the timer";
    if seconds <= 0 {
        return Err(refuse("Timer", format!("started at {}, stopped at {at}", running.since), most));
    }
    let minutes = exact::div(Decimal::from(seconds), Decimal::from(60)).map_err(too_large)?;
    if minutes > Decimal::from(MOST_MINUTES) {
        return Err(refuse("Timer", format!("running since {}", running.since), most));
    }
    Ok(exact::round(minutes, MINUTE_PLACES).normalize())
}

/// Takes a timer away without writing anything down.
pub(super) fn drop_timer(change: &Change<'_>, id: TimerId) -> Result<Done, Refusal> {
    let running = timer::find(change.reader(), id)?.ok_or_else(|| missing(id))?;
    timer::delete(change, id)?;
    let words = match Sitting::find(change.reader(), &running.work, None) {
        Ok(sitting) => sitting.words(),
        Err(Refusal::Book(fault)) => return Err(Refusal::Book(fault)),
        // Whatever became of its batches, it can be taken away.
        Err(_) => format!("{} batches", running.work.len()),
    };
    Ok(Done::named(format!("Drop the timer of {words}")))
}

fn missing(id: TimerId) -> Refusal {
    Refusal::Missing(format!("timer with row {}", id.0))
}

/// Minutes as a name of the history says them.
fn minutes_words(minutes: Decimal) -> String {
    let shown = exact::round(minutes, 1).normalize();
    if shown == Decimal::ONE { "1 minute".to_owned() } else { format!("{shown} minutes") }
}

/// One batch and step of a sitting.
struct Served {
    work: TimedWork,
    bench: AtBench,
}

impl Served {
    fn words(&self) -> Result<String, Refusal> {
        Ok(format!("{} of batch {}", self.bench.step(self.work.step)?.name, self.bench.number()))
    }

    /// The pieces the time was for: those that wait for the step, or else those that left it last.
    fn pieces(&self) -> Result<Vec<PieceId>, Refusal> {
        let at = self.work.step;
        let waiting = self.bench.now.waiting(at);
        if !waiting.is_empty() {
            return Ok(waiting);
        }
        let left = self.bench.record.entries.iter().rev().find_map(|entry| match &entry.deed {
            BenchDeed::Passed { step, pieces } | BenchDeed::Lost { step, pieces, .. } if *step == at => {
                let here: Vec<PieceId> = pieces.iter().copied().filter(|piece| self.bench.is_here(*piece)).collect();
                (!here.is_empty()).then_some(here)
            }
            _ => None,
        });
        left.ok_or_else(|| {
            refuse(
                "Step",
                format!("{} of batch {}", at + 1, self.bench.number()),
                "a step that a piece of the batch waits for, or was at, is accepted",
            )
        })
    }
}

/// What one sitting served.
struct Sitting {
    served: Vec<Served>,
}

impl Sitting {
    /// The batches of a sitting, each with its step once; given up ones are refused, and others than of `state` where one
    /// is given.
    fn find(reader: Reader<'_>, work: &[TimedWork], state: Option<BatchState>) -> Result<Self, Refusal> {
        if work.is_empty() || work.len() > MOST_WORK {
            return Err(refuse("Work", work.len(), "1 to 100 batches at one sitting are accepted"));
        }
        let mut seen = BTreeSet::new();
        let mut served = Vec::with_capacity(work.len());
        for one in work {
            let bench = AtBench::find(reader, one.batch)?;
            let found = Served { work: *one, bench };
            let words = found.words()?;
            if !seen.insert(*one) {
                return Err(refuse("Work", format!("{words} twice"), "each batch and step once is accepted"));
            }
            let is = found.bench.record.batch.state;
            if is == BatchState::Abandoned || state.is_some_and(|state| state != is) {
                let number = found.bench.number();
                return Err(refuse(
                    "Batch",
                    format!("{number}, which is {}", is.name()),
                    "a batch with pieces at work is accepted",
                ));
            }
            served.push(found);
        }
        Ok(Self { served })
    }

    /// “Sift base coat of batch 4”, “Sift base coat of batch 4 and 1 other”.
    fn words(&self) -> String {
        let first = self.served.first().and_then(|served| served.words().ok()).unwrap_or_default();
        match self.served.len() {
            0 | 1 => first,
            2 => format!("{first} and 1 other"),
            many => format!("{first} and {} others", many - 1),
        }
    }

    /// Shares minutes by the pieces that wait at each, where none do equally, and writes them down.
    fn write(
        self,
        change: &Change<'_>,
        minutes: Decimal,
        how: Timed,
        date: impl Fn(&AtBench) -> NaiveDate,
    ) -> Result<(), Refusal> {
        let weights: Vec<Decimal> = self
            .served
            .iter()
            .map(|served| Decimal::from(count(served.bench.now.waiting(served.work.step).len())))
            .collect();
        let parts = share::split(minutes, &weights, MINUTE_PLACES).map_err(too_large)?;
        for (served, part) in self.served.into_iter().zip(parts) {
            if part.is_zero() {
                continue;
            }
            // Two steps of one batch: what was written for the first is read again.
            let mut bench = batches::AtBench::find(change.reader(), served.work.batch)?;
            let Hourly { labour_per_hour, overhead_per_hour } = Hourly::of(change.reader(), &bench.record.batch)?;
            let day = date(&bench);
            let deed = BenchDeed::Worked {
                step: served.work.step,
                pieces: served.pieces()?,
                minutes: part.normalize(),
                labour_per_hour,
                overhead_per_hour,
                how,
            };
            bench.write(change, day, deed)?;
        }
        Ok(())
    }
}
