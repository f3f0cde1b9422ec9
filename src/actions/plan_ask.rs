//! What the planner of a kiln day is asked, from all open batches.
//!
//! Every piece at work with firings ahead takes part. Between two firings of a piece lie its cooling and the steps between
//! them as the plan has them: set-up and minutes per piece for all pieces of the batch that stand where it stands, since
//! they are worked at together; a drying takes its minutes once, however many pieces dry. A piece that stands before such
//! steps is ready when they are done; one that is in a kiln now, when its minutes are over and it went on from there. What
//! a piece accepts of each firing and its ceilings are those of the load check.

use super::kiln_answer::{LeftOut, PlanPiece, PlanQuestion};
use crate::book::{Book, BookError, Reader, batch, document, kiln, load};
use crate::costing::batch::{BatchNow, Standing};
use crate::costing::load_check::{FiringAccepted, KilnLimits, LoadPiece, firing_accepted, shelf_area};
use crate::kiln::heat::HeatModel;
use crate::kiln::limits::limits;
use crate::kiln::plan::{Firing, HeatTimes, PieceAhead, PlanAsk};
use crate::measure::exact::{add, mul};
use crate::measure::{Decimal, TooLarge};
use crate::studio::{BatchRecord, BookLoad, ElectricKiln, HeatSource, KilnId, PieceId, Step, StepKind, StudioRates};
use chrono::{NaiveDateTime, Timelike};
use rust_decimal::RoundingStrategy;
use rust_decimal::prelude::ToPrimitive;
use std::collections::BTreeMap;

/// How long a piece cools before it can be handled, minutes (common practice, no source).
const COOLING_MINUTES: u32 = 5;

/// What the planner is asked for a day of a kiln that begins at a moment; none for a torch, where there is no such kiln,
/// and where its figures give no model.
pub fn plan_ask(book: &Book, kiln: KilnId, at: NaiveDateTime) -> Result<Option<PlanQuestion>, BookError> {
    ask(book.reader(), kiln, at).map_err(|fault| fault.of_book(book.path()))
}

fn ask(reader: Reader<'_>, id: KilnId, at: NaiveDateTime) -> Result<Option<PlanQuestion>, BookError> {
    let Some(found) = kiln::find(reader, id)? else { return Ok(None) };
    let HeatSource::Electric(electric) = &found.heat else { return Ok(None) };
    let (Ok(limits), Ok(model)) = (limits(&found), HeatModel::of(electric)) else { return Ok(None) };
    let rates = document::rates(reader)?;
    let begins_at_c = kiln::day_of(reader, id, at.date())?
        .filter(|day| day.day.off_at.is_none_or(|off| off > at) && day.day.on_at <= at)
        .and_then(|day| whole_degrees(day.day.hold_celsius, RoundingStrategy::ToZero));
    let open = batch::open(reader)?;
    let firing = load::firing(reader)?;
    let asked = || -> Result<PlanQuestion, TooLarge> {
        let ask = PlanAsk {
            shelf_cm2: electric.shelf_cm2,
            door_seconds: seconds(rates.recovery_minutes),
            heat: heat_times(electric, &model)?,
            begins_at_c,
            hottest_c: limits
                .hottest
                .and_then(|hottest| whole_degrees(hottest, RoundingStrategy::ToNegativeInfinity))
                .unwrap_or(0),
            begins_minute: at.hour() * 60 + at.minute(),
            pieces: Vec::new(),
        };
        let mut question = PlanQuestion { ask, pieces: BTreeMap::new(), left_out: Vec::new() };
        let work = Work { limits: &limits, rates: &rates, firing: &firing, at };
        for record in &open {
            work.add(record, &mut question)?;
        }
        Ok(question)
    };
    asked().map(Some).map_err(|error| BookError::TooLarge(error.to_string()))
}

fn heat_times(kiln: &ElectricKiln, model: &HeatModel) -> Result<HeatTimes, TooLarge> {
    let float = |value: Decimal| value.to_f64().ok_or(TooLarge);
    Ok(HeatTimes {
        capacity_kwh_per_k: float(model.capacity()?)?,
        loss_kw_per_k: float(model.loss()?)?,
        rated_kw: float(kiln.rated_kw)?,
        room_c: float(kiln.room_celsius)?,
    })
}

/// What the pieces of a batch are looked at with.
struct Work<'a> {
    limits: &'a KilnLimits,
    rates: &'a StudioRates,
    firing: &'a [BookLoad],
    at: NaiveDateTime,
}

impl Work<'_> {
    /// Adds the pieces of a batch.
    fn add(&self, record: &BatchRecord, question: &mut PlanQuestion) -> Result<(), TooLarge> {
        let now = BatchNow::of(record);
        let plan = &record.batch.plan;
        let area = shelf_area(plan);
        // Pieces that stand where one stands are worked at with it.
        let mut together: BTreeMap<(usize, bool), u32> = BTreeMap::new();
        let mut standing: Vec<(PieceId, u32, usize, Option<NaiveDateTime>)> = Vec::new();
        for piece in &record.pieces {
            let Some(Standing::At(step)) = now.standing(piece.id) else { continue };
            let out = self.out_of_kiln(piece.id)?;
            *together.entry((step, out.is_some())).or_default() += 1;
            standing.push((piece.id, piece.place, step, out));
        }
        for (piece, place, step, out) in standing {
            let group = together.get(&(step, out.is_some())).copied().unwrap_or(1);
            let from = if out.is_some() { step + 1 } else { step };
            let firings: Vec<usize> = (from..plan.steps.len()).filter(|step| fires(plan.steps.get(*step))).collect();
            let Some(first) = firings.first().copied() else { continue };
            let words = format!("piece {place} of batch {}", record.batch.number);
            let area = match &area {
                Ok(area) if self.limits.shelf_cm2.is_none_or(|shelf| *area <= shelf) => *area,
                Ok(area) => {
                    let why = format!("{words} takes {area} cm² of the shelf, which is smaller");
                    question.left_out.push(LeftOut { piece, why });
                    continue;
                }
                Err(error) => {
                    question.left_out.push(LeftOut { piece, why: format!("{words}: {error}") });
                    continue;
                }
            };
            let mut ready = i64::from(self.at.num_seconds_from_midnight());
            if let Some(out) = out {
                ready = ready.max((out - self.at.date().and_time(chrono::NaiveTime::MIN)).num_seconds())
                    + i64::from(COOLING_MINUTES) * 60;
            }
            ready += i64::from(between(&plan.steps, from, first, group)?);
            let mut ahead = Vec::with_capacity(firings.len());
            let mut why = None;
            for (place, step) in firings.iter().enumerate() {
                let waiting =
                    LoadPiece { piece, batch: record.id, words: words.clone(), plan, step: *step, done: Vec::new() };
                let rest = match firings.get(place + 1) {
                    Some(next) => COOLING_MINUTES * 60 + between(&plan.steps, step + 1, *next, group)?,
                    None => 0,
                };
                match firing_accepted(&waiting, self.limits, self.rates).map(|range| ahead_of(&range, rest)) {
                    Some(Some(firing)) => ahead.push(firing),
                    _ => {
                        why = Some(format!("{words}: nothing suits the firing at step {} in this kiln", step + 1));
                        break;
                    }
                }
            }
            if let Some(why) = why {
                question.left_out.push(LeftOut { piece, why });
                continue;
            }
            let Ok(key) = u64::try_from(piece.0) else { continue };
            question.ask.pieces.push(PieceAhead {
                key,
                group: record.batch.number,
                area_cm2: area,
                ready,
                firings: ahead,
            });
            question.pieces.insert(
                key,
                PlanPiece {
                    piece,
                    place,
                    batch: record.id,
                    batch_number: record.batch.number,
                    batch_name: record.batch.name.clone(),
                    steps: firings,
                },
            );
        }
        Ok(())
    }

    /// When a piece comes out of the kiln, where it is in one.
    fn out_of_kiln(&self, piece: PieceId) -> Result<Option<NaiveDateTime>, TooLarge> {
        let load = self.firing.iter().find(|load| load.load.charge.iter().any(|charged| charged.piece == piece));
        load.map(|load| {
            let seconds = i64::from(seconds(load.load.asked_minutes));
            load.load.closed_at.checked_add_signed(chrono::Duration::seconds(seconds)).ok_or(TooLarge)
        })
        .transpose()
    }
}

fn fires(step: Option<&Step>) -> bool {
    step.is_some_and(|step| matches!(step.kind, StepKind::Fire(_)))
}

/// Seconds the steps from one to before another take a group of pieces that is worked at together; firings among them are
/// none.
fn between(steps: &[Step], from: usize, to: usize, group: u32) -> Result<u32, TooLarge> {
    let mut minutes = Decimal::ZERO;
    for step in steps.iter().take(to).skip(from) {
        let pieces = match step.kind {
            StepKind::Fire(_) => continue,
            StepKind::Dry => Decimal::ONE,
            _ => Decimal::from(group),
        };
        minutes = add(minutes, add(step.setup_minutes, mul(step.minutes_per_piece, pieces)?)?)?;
    }
    Ok(seconds(minutes))
}

/// A firing as the planner takes it: whole degrees inside of what is accepted, whole seconds. None where no whole degree
/// is left.
fn ahead_of(range: &FiringAccepted, rest: u32) -> Option<Firing> {
    let lowest_c = whole_degrees(range.planned.from, RoundingStrategy::ToPositiveInfinity)?;
    let highest_c = whole_degrees(range.planned.to, RoundingStrategy::ToNegativeInfinity)?;
    let ceiling_c = whole_degrees(range.ceiling, RoundingStrategy::ToNegativeInfinity)?;
    if lowest_c > highest_c.min(ceiling_c) {
        return None;
    }
    let shortest = seconds(range.minutes.from).max(1);
    Some(Firing { lowest_c, highest_c, ceiling_c, shortest, longest: seconds(range.minutes.to).max(shortest), rest })
}

fn whole_degrees(celsius: Decimal, way: RoundingStrategy) -> Option<i32> {
    celsius.round_dp_with_strategy(0, way).to_i32()
}

/// Minutes as whole seconds, rounded up; what does not fit is the most there is.
fn seconds(minutes: Decimal) -> u32 {
    let seconds = mul(minutes, Decimal::from(60)).ok().and_then(|seconds| seconds.ceil().to_u32());
    seconds.unwrap_or(u32::MAX)
}
