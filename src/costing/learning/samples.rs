//! What one batch says about a step.

use crate::costing::CostError;
use crate::costing::batch::{BatchNow, Standing};
use crate::costing::geometry;
use crate::measure::exact::{add, div, mul, round, sub};
use crate::measure::{Decimal, TooLarge};
use crate::studio::{BatchRecord, BenchDeed, LossKind, Measured, PieceId, Side, StepKind, Timed};
use std::collections::{BTreeMap, BTreeSet};

/// Places of a sample.
const SAMPLE_PLACES: u32 = 6;

/// Of the pieces of a batch, how many left the step good and how many there were: each piece once, by what came of it
/// when it left the step last. One that left it out, or was lost abnormally there, says nothing about the step.
pub(super) fn good_of(record: &BatchRecord, step: usize) -> (u32, u32) {
    let mut outcome: BTreeMap<PieceId, bool> = BTreeMap::new();
    for entry in &record.entries {
        match &entry.deed {
            BenchDeed::Passed { step: at, pieces } if *at == step => {
                outcome.extend(pieces.iter().map(|piece| (*piece, true)));
            }
            BenchDeed::Lost { step: at, pieces, kind, .. } if *at == step => match kind {
                LossKind::Normal => outcome.extend(pieces.iter().map(|piece| (*piece, false))),
                LossKind::Abnormal => pieces.iter().for_each(|piece| {
                    outcome.remove(piece);
                }),
            },
            _ => {}
        }
    }
    let count = |of: &dyn Fn(bool) -> bool| {
        u32::try_from(outcome.values().filter(|good| of(**good)).count()).unwrap_or(u32::MAX)
    };
    (count(&|good| good), count(&|_| true))
}

/// Minutes per piece a batch took at a step that is no firing, 6 places: what was timed or typed, less the set-up its plan
/// has, by the pieces it was for; what was done again is left out. None where nothing was measured: a time taken as
/// planned teaches nothing. A firing's minutes are those of its loads.
pub(super) fn minutes_per_piece(record: &BatchRecord, step: usize) -> Result<Option<Decimal>, TooLarge> {
    let Some(plan) = record.batch.plan.steps.get(step) else { return Ok(None) };
    if matches!(plan.kind, StepKind::Fire(_)) {
        return Ok(None);
    }
    let mut total = Decimal::ZERO;
    let mut served = BTreeSet::new();
    let mut planned_too = BTreeSet::new();
    let mut now = None;
    for (index, entry) in record.entries.iter().enumerate() {
        let BenchDeed::Worked { step: at, pieces, minutes, how, .. } = &entry.deed else { continue };
        if *at != step {
            continue;
        }
        if *how == Timed::Planned {
            planned_too.extend(pieces.iter().copied());
            continue;
        }
        let now = go_on(&mut now, record, index);
        let first: Vec<PieceId> = pieces.iter().copied().filter(|piece| !now.again(*piece, step)).collect();
        let share = mul(*minutes, Decimal::from(first.len()))?;
        total = add(total, div(share, Decimal::from(pieces.len().max(1)))?)?;
        served.extend(first);
    }
    // Where some pieces' time is partly as planned, the batch's time is not known.
    if served.is_empty() || !served.is_disjoint(&planned_too) {
        return Ok(None);
    }
    let of_pieces = sub(total, plan.setup_minutes)?.max(Decimal::ZERO);
    Ok(Some(round(div(of_pieces, Decimal::from(served.len()))?, SAMPLE_PLACES).normalize()))
}

/// The batch as it was after so many entries.
fn go_on<'a>(state: &'a mut Option<(BatchNow, usize)>, record: &BatchRecord, entries: usize) -> &'a BatchNow {
    let (now, done) = state.get_or_insert_with(|| (BatchNow::before(record), 0));
    for entry in record.entries.iter().take(entries).skip(*done) {
        let _ = now.take(entry);
    }
    *done = entries;
    now
}

/// Weight of a coat where it landed in a batch, mg/cm², 6 places: what was weighed out is all the overspray too, so
/// `grams · 1000 / (pieces · blanks · area · coverage · (1 + overspray))` with the plan's figures. None where the step is
/// no coat or nothing was weighed; enamel taken as planned teaches nothing, and that of a coat done again is left out.
pub(super) fn coat_weight(record: &BatchRecord, step: usize) -> Result<Option<Decimal>, CostError> {
    let plan = &record.batch.plan;
    let Some(StepKind::Coat(coat)) = plan.steps.get(step).map(|step| &step.kind) else { return Ok(None) };
    let mut grams = Decimal::ZERO;
    let mut coated = BTreeSet::new();
    let mut planned_too = BTreeSet::new();
    let mut now = None;
    for (index, entry) in record.entries.iter().enumerate() {
        let (at, pieces, material, quantity, how) = match &entry.deed {
            BenchDeed::Took { step, pieces, material, quantity, how, .. }
            | BenchDeed::Used { step, pieces, material, quantity, how } => (step, pieces, material, quantity, how),
            _ => continue,
        };
        if *at != step || *material != coat.material {
            continue;
        }
        if *how == Measured::Planned {
            planned_too.extend(pieces.iter().copied());
            continue;
        }
        let now = go_on(&mut now, record, index);
        let first: Vec<PieceId> = pieces.iter().copied().filter(|piece| !now.again(*piece, step)).collect();
        let share = mul(quantity.amount(), Decimal::from(first.len()))?;
        grams = add(grams, div(share, Decimal::from(pieces.len().max(1)))?)?;
        coated.extend(first);
    }
    if coated.is_empty() || !coated.is_disjoint(&planned_too) {
        return Ok(None);
    }
    let blank = geometry::measure(&plan.blank)?;
    let side = match coat.side {
        Side::Front => blank.front_cm2,
        Side::Back => blank.back_cm2,
    };
    let blanks = mul(Decimal::from(coated.len()), Decimal::from(plan.blank.count))?;
    let area = mul(mul(blanks, side)?, coat.coverage)?;
    let landed = div(mul(grams, Decimal::ONE_THOUSAND)?, add(Decimal::ONE, coat.overspray)?)?;
    if area.is_zero() {
        return Ok(None);
    }
    Ok(Some(round(div(landed, area)?, SAMPLE_PLACES).normalize()))
}

/// Whether any piece of a batch was ever at work in it.
pub(super) fn has_pieces(record: &BatchRecord) -> bool {
    BatchNow::of(record).standings().any(|(_, standing)| !matches!(standing, Standing::Given(_)))
}
