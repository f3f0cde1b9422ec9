//! The account of a batch.

use super::account::{
    BatchAccount, CostPart, LossCount, MaterialAccount, PieceAccount, PlannedActual, Stage, StepAccount,
};
use super::ask::{AccountAsk, AccountError};
use super::flow::{self, Ledger};
use super::parts::shared_equally;
use super::track::Standing;
use super::variance::{Plans, variances};
use crate::measure::exact::{add, div, mul, round};
use crate::measure::{Decimal, Money, TooLarge};
use crate::studio::StepKind;
use std::collections::BTreeSet;

/// What a batch cost, planned and actual (kiln and batch method, section 4).
///
/// Every entry's cost is stored money (6 places): an issue at its book cost, minutes × rate rounded half-even, what a
/// piece bears of a load. It is shared equally by the pieces the entry names, largest remainder; the pieces' shares make
/// their cost to each step, which is what an abnormal loss takes out. The rest is borne equally by the pieces that are
/// left, but what is done to a piece again (after it was sent back to a step it had passed, or in a second firing of a
/// step) is its own, until it is lost. Pieces given take their equal share of the cost so far and their own with them:
/// there the share joins what all bear, the own stays theirs.
///
/// # Errors
/// [`AccountError`] where something is not given, an entry cannot have happened, or the plan cannot be costed.
pub fn account(ask: &AccountAsk) -> Result<BatchAccount, AccountError> {
    let ledgers = flow::run(ask)?;
    let ledger = ledgers.get(&ask.batch).ok_or(AccountError::NoBatch { batch: ask.batch })?;
    let came = ledger.came.iter().map(|(moved, _)| moved.pieces.len()).sum::<usize>();
    let put_in = ledger.started.checked_add(u32::try_from(came).map_err(|_| TooLarge)?).ok_or(TooLarge)?;
    if put_in == 0 {
        return Err(AccountError::NoPieces);
    }
    let bearers = ledger.bearers();
    let shares = shared_equally(&ledger.pool, bearers.len())?;
    let unborne = if bearers.is_empty() { ledger.pool.total()? } else { Money::ZERO };
    let mut cost = unborne;
    let mut pieces = Vec::with_capacity(bearers.len());
    for ((piece, standing), shared) in bearers.into_iter().zip(shares) {
        let (own, own_lines, minutes) = ledger.own(piece);
        let of_piece = shared.total()?.plus(own.total()?)?;
        cost = cost.plus(of_piece)?;
        pieces.push(PieceAccount { piece, standing, shared, own, own_lines, cost: of_piece, minutes });
    }
    let count = |of: fn(Standing) -> bool| -> Result<u32, TooLarge> {
        u32::try_from(ledger.now.standings().filter(|(_, standing)| of(*standing)).count()).map_err(|_| TooLarge)
    };
    let good = count(|standing| standing == Standing::Finished)?;
    let at_work = count(Standing::at_work)?;
    let plans = Plans::of(ledger, put_in)?;
    let stage =
        if at_work > 0 { Stage::SoFar { at_work } } else { Stage::Complete(variances(ledger, &plans, good, cost)?) };
    let counts = ledger.now.counts();
    let steps = (0..ledger.now.steps())
        .map(|step| {
            let count = counts.get(step).copied().unwrap_or_default();
            step_account(ledger, &plans, step, (count.entered, count.passed + count.skipped))
        })
        .collect::<Result<_, _>>()?;
    Ok(BatchAccount {
        stage,
        put_in,
        good,
        spent: ledger.spent,
        abnormal: ledger.abnormal,
        came: ledger.came.iter().map(|(moved, _)| moved.clone()).collect(),
        gave: ledger.gave.iter().map(|(moved, _)| moved.clone()).collect(),
        cost,
        unborne,
        pieces,
        steps,
        lost_when_done: losses(ledger, ledger.now.steps()),
    })
}

fn step_account(
    ledger: &Ledger<'_>,
    plans: &Plans,
    step: usize,
    (entered, good): (u32, u32),
) -> Result<StepAccount, TooLarge> {
    let figure = |part: &CostPart| {
        let spot = (step, part.clone());
        let planned = plans.flexed.spots.get(&spot).copied().unwrap_or_default();
        let used = ledger.used.get(&spot).copied().unwrap_or_default();
        let quantity = PlannedActual { planned: planned.quantity, actual: used.quantity };
        (quantity, PlannedActual { planned: planned.amount, actual: used.amount.amount() })
    };
    let parts: BTreeSet<&CostPart> = plans
        .flexed
        .spots
        .keys()
        .chain(ledger.used.keys())
        .filter(|(at, part)| *at == step && matches!(part, CostPart::Material(_)))
        .map(|(_, part)| part)
        .collect();
    let mut materials = Vec::new();
    // In the order of the design's materials.
    for material in &ledger.record.batch.plan.materials {
        let part = CostPart::Material(material.id.clone());
        if parts.contains(&part) {
            let (quantity, cost) = figure(&part);
            materials.push(MaterialAccount { material: material.id.clone(), quantity, cost });
        }
    }
    let mut cost = PlannedActual { planned: plans.flexed.amount(step..step + 1)?, actual: Decimal::ZERO };
    for (_, used) in ledger.used.iter().filter(|(spot, _)| spot.0 == step) {
        cost.actual = add(cost.actual, used.amount.amount())?;
    }
    let hours = |minutes: Decimal| -> Result<Decimal, TooLarge> { Ok(round(div(minutes, Decimal::from(60))?, 9)) };
    let hot = figure(&CostPart::KilnWear).0;
    let share = ledger.record.batch.plan.steps.get(step).map_or(Decimal::ONE, |step| step.good);
    let fires = ledger.record.batch.plan.steps.get(step).is_some_and(|step| matches!(step.kind, StepKind::Fire(_)));
    let planned_loads = plans.flexed.loads.get(step).copied().filter(|_| fires).unwrap_or_default();
    Ok(StepAccount {
        materials,
        minutes: figure(&CostPart::Labour).0,
        loads: PlannedActual {
            planned: planned_loads,
            actual: Decimal::from(ledger.loads.get(&step).map_or(0, BTreeSet::len)),
        },
        kwh: figure(&CostPart::KilnEnergy).0,
        hot_hours: PlannedActual { planned: hours(hot.planned)?, actual: hours(hot.actual)? },
        pieces_in: PlannedActual { planned: plans.flexed.pieces(step), actual: Decimal::from(entered) },
        good: PlannedActual { planned: mul(plans.flexed.pieces(step), share)?, actual: Decimal::from(good) },
        lost: losses(ledger, step),
        cost,
    })
}

/// Pieces lost at a step, by cause in the order causes are offered, usual ones first.
fn losses(ledger: &Ledger<'_>, at: usize) -> Vec<LossCount> {
    let mut lost: Vec<LossCount> = Vec::new();
    for (_, standing) in ledger.now.standings() {
        let Standing::Lost { step, cause, kind } = standing else { continue };
        if step != at {
            continue;
        }
        match lost.iter_mut().find(|count| count.cause == cause && count.kind == kind) {
            Some(count) => count.pieces += 1,
            None => lost.push(LossCount { cause, kind, pieces: 1 }),
        }
    }
    lost.sort_by_key(|count| (count.cause, count.kind));
    lost
}
