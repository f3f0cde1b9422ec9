//! What a load that was opened writes to the batches of its pieces.

use crate::actions::Refusal;
use crate::actions::bench_time::Hourly;
use crate::actions::stock::too_large;
use crate::book::{Change, batch, bench_entry};
use crate::costing::batch::BatchNow;
use crate::costing::share;
use crate::measure::{Decimal, exact};
use crate::studio::{
    BatchId, BatchRecord, BatchState, BenchDeed, FiringResult, Load, LoadId, LossCause, LossKind, PieceId, StepKind,
    Timed,
};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// Places of hands-on minutes.
const MINUTE_PLACES: u32 = 6;

/// The pieces of one batch at one firing.
#[derive(Default)]
struct Group {
    all: Vec<PieceId>,
    good: Vec<PieceId>,
    lost: BTreeMap<(LossCause, LossKind), Vec<PieceId>>,
}

fn groups(load: &Load) -> BTreeMap<(BatchId, usize), Group> {
    let mut groups: BTreeMap<(BatchId, usize), Group> = BTreeMap::new();
    for charged in &load.charge {
        let group = groups.entry((charged.batch, charged.step)).or_default();
        group.all.push(charged.piece);
        match &charged.result {
            Some(FiringResult::Good) => group.good.push(charged.piece),
            Some(FiringResult::Lost { cause, kind }) => {
                group.lost.entry((*cause, *kind)).or_default().push(charged.piece);
            }
            Some(FiringResult::Again) | None => {}
        }
    }
    for group in groups.values_mut() {
        group.all.sort_unstable();
        group.good.sort_unstable();
        group.lost.values_mut().for_each(|pieces| pieces.sort_unstable());
    }
    groups
}

/// Writes a load to the batches of its pieces, in the order of the batches' rows.
pub(super) fn write(
    change: &Change<'_>,
    id: LoadId,
    load: &Load,
    records: &BTreeMap<BatchId, BatchRecord>,
    date: NaiveDate,
) -> Result<(), Refusal> {
    let groups = groups(load);
    let minutes = hands_on(load, &groups, records)?;
    let how = if load.attended_minutes.is_some() { Timed::Typed } else { Timed::Planned };
    for (((batch, step), group), minutes) in groups.iter().zip(minutes) {
        let Some(record) = records.get(batch) else { continue };
        let (batch, step) = (*batch, *step);
        let add = |deed: BenchDeed| bench_entry::insert(change, batch, date, &deed);
        add(BenchDeed::Fired { step, pieces: group.all.clone(), load: id })?;
        if minutes > Decimal::ZERO {
            let Hourly { labour_per_hour, overhead_per_hour } = Hourly::of(change.reader(), &record.batch)?;
            let pieces = group.all.clone();
            add(BenchDeed::Worked { step, pieces, minutes, labour_per_hour, overhead_per_hour, how })?;
        }
        if !group.good.is_empty() {
            add(BenchDeed::Passed { step, pieces: group.good.clone() })?;
        }
        for ((cause, kind), pieces) in &group.lost {
            add(BenchDeed::Lost {
                step,
                pieces: pieces.clone(),
                cause: *cause,
                kind: *kind,
                load: Some(id),
                note: String::new(),
            })?;
        }
    }
    for batch in records.keys() {
        if let Some(record) = batch::find(change.reader(), *batch)?
            && BatchNow::of(&record).at_work().is_empty()
        {
            batch::set_state(change, *batch, BatchState::Finished)?;
        }
    }
    Ok(())
}

/// Hands-on minutes of each group: those typed, or those every route plans for a load, shared by the pieces in it
/// (largest remainder, 6 places).
fn hands_on(
    load: &Load,
    groups: &BTreeMap<(BatchId, usize), Group>,
    records: &BTreeMap<BatchId, BatchRecord>,
) -> Result<Vec<Decimal>, Refusal> {
    let planned =
        groups.keys().filter_map(|(batch, step)| match &records.get(batch)?.batch.plan.steps.get(*step)?.kind {
            StepKind::Fire(firing) => Some(firing.attended_minutes_per_load),
            _ => None,
        });
    let all = match load.attended_minutes {
        Some(typed) => typed,
        None => exact::round(exact::sum(planned).map_err(too_large)?, MINUTE_PLACES),
    };
    let weights: Vec<Decimal> = groups.values().map(|group| Decimal::from(group.all.len())).collect();
    Ok(share::split(all, &weights, MINUTE_PLACES).map_err(too_large)?)
}
