//! Why a batch did not cost what was planned: price, usage, time, yield (kiln and batch method, section 4).
//!
//! For what was spent on one material at one step, on hours, kWh or hot hours, with A what it cost, q its quantity, p the
//! planned price, f the quantity flexed to the pieces put in, and what abnormal losses took taken out of both sides:
//!
//! ```text
//! price = A − p·q        usage or time = p·q − p·f
//! yield = Σ p·f + came − gave (both at plan) − usual scrap − c·G
//! ```
//!
//! c is the planned full cost per good piece for the pieces put in, G the good pieces. Prices that do not divide evenly
//! never appear: `p·q`, `p·f` and `c·G` are each rounded once, half-even to 12 places, and taken off where they were
//! added, so the four add up exactly to actual cost − c·G. What came with pieces of another batch is like something bought
//! at a price: its difference from the planned cost to that step is price; what went is the same the other way.

use super::account::{CostPart, VarianceLine, VarianceOf, Variances};
use super::ask::AccountError;
use super::flex::{Flexed, Price};
use super::flow::{Ledger, Spot};
use crate::measure::exact::{add, mul, sub, sum};
use crate::measure::{Decimal, Money, TooLarge};
use std::collections::{BTreeMap, BTreeSet};

/// The plan of a batch in two ways.
pub(super) struct Plans {
    /// For all pieces put in, from the first step: what a piece costs at plan.
    pub(super) standard: Flexed,
    /// For the pieces that came and went where they did: what the batch was to use.
    pub(super) flexed: Flexed,
}

impl Plans {
    pub(super) fn of(ledger: &Ledger<'_>, put_in: u32) -> Result<Self, AccountError> {
        let plan = &ledger.record.batch.plan;
        let standard = Flexed::of(plan, &[Decimal::from(put_in)])?;
        let mut joining = vec![Decimal::ZERO; plan.steps.len() + 1];
        let mut join = |step: usize, pieces: Decimal| -> Result<(), TooLarge> {
            if let Some(slot) = joining.get_mut(step) {
                *slot = add(*slot, pieces)?;
            }
            Ok(())
        };
        join(0, Decimal::from(ledger.started))?;
        for (moved, step) in &ledger.came {
            join(*step, Decimal::from(moved.pieces.len()))?;
        }
        for (_, steps) in &ledger.gave {
            for step in steps {
                join(*step, Decimal::NEGATIVE_ONE)?;
            }
        }
        let flexed = Flexed::of(plan, &joining)?;
        Ok(Self { standard, flexed })
    }
}

/// The variances of a batch of which nothing is at work; `cost` is its actual cost.
pub(super) fn variances(ledger: &Ledger<'_>, plans: &Plans, good: u32, cost: Money) -> Result<Variances, AccountError> {
    let scrap_value = Money::rounded(ledger.record.batch.plan.rates.scrap_value).amount();
    let Plans { standard, flexed } = plans;
    let planned_cost = standard.value(ledger.now.steps(), Decimal::from(good), scrap_value)?;
    let mut through: BTreeMap<usize, u32> = BTreeMap::new();
    for step in ledger.lost_abnormally.iter().flat_map(|lost| &lost.through) {
        *through.entry(*step).or_default() += 1;
    }
    let lost = standard.taken(&through)?;

    let mut lines = Vec::new();
    let spots: BTreeSet<&Spot> = flexed.spots.keys().chain(ledger.used.keys()).chain(lost.keys()).collect();
    for spot in spots {
        let line = line(ledger, flexed, &lost, spot)?;
        if !(line.planned.is_zero() && line.actual.is_zero() && line.actual_quantity.is_zero()) {
            lines.push(line);
        }
    }
    lines.extend(moved_lines(ledger, standard, scrap_value)?);

    let mut totals = [Decimal::ZERO; 3];
    let [price, usage, time] = &mut totals;
    for line in &lines {
        *price = add(*price, line.price)?;
        let quantity = match &line.of {
            VarianceOf::Step(_, CostPart::Labour | CostPart::Overhead) => &mut *time,
            _ => &mut *usage,
        };
        *quantity = add(*quantity, line.quantity)?;
    }
    let [price, usage, time] = totals;
    let at_plan = sum(lines.iter().map(|line| line.planned))?;
    let scrap = mul(scrap_value, Decimal::from(ledger.normally_lost))?;
    let yield_loss = sub(sub(at_plan, scrap)?, planned_cost)?;
    let difference = sub(cost.amount(), planned_cost)?;
    Ok(Variances { planned: planned_cost, difference, price, usage, time, yield_loss, lines })
}

fn line(
    ledger: &Ledger<'_>,
    flexed: &Flexed,
    lost: &BTreeMap<Spot, (Decimal, Decimal)>,
    spot: &Spot,
) -> Result<VarianceLine, TooLarge> {
    let plan = &ledger.record.batch.plan;
    let used = ledger.used.get(spot).copied().unwrap_or_default();
    let abnormal = ledger.used_abnormally.get(spot).copied().unwrap_or_default();
    let planned = flexed.spots.get(spot).copied().unwrap_or_default();
    let (lost_quantity, lost_amount) = lost.get(spot).copied().unwrap_or_default();
    let price = Price::in_plan(plan, &spot.1);
    let actual_quantity = sub(used.quantity, abnormal.quantity)?;
    let actual = used.amount.minus(abnormal.amount)?.amount();
    let planned_amount = sub(planned.amount, lost_amount)?;
    let at_planned_price = price.times(actual_quantity)?;
    Ok(VarianceLine {
        of: VarianceOf::Step(spot.0, spot.1.clone()),
        planned_quantity: sub(planned.quantity, lost_quantity)?,
        actual_quantity,
        planned: planned_amount,
        actual,
        price: sub(actual, at_planned_price)?,
        quantity: sub(at_planned_price, planned_amount)?,
    })
}

/// What moved between batches, as bought and sold.
fn moved_lines(
    ledger: &Ledger<'_>,
    standard: &Flexed,
    scrap_value: Decimal,
) -> Result<Vec<VarianceLine>, AccountError> {
    let mut lines = Vec::new();
    if !ledger.came.is_empty() {
        let (mut pieces, mut actual, mut planned) = (Decimal::ZERO, Decimal::ZERO, Decimal::ZERO);
        for (moved, step) in &ledger.came {
            let count = Decimal::from(moved.pieces.len());
            pieces = add(pieces, count)?;
            actual = add(actual, moved.amount.amount())?;
            planned = add(planned, standard.value(*step, count, scrap_value)?)?;
        }
        for lost in &ledger.lost_abnormally {
            let Some(step) = lost.came_at else { continue };
            pieces = sub(pieces, Decimal::ONE)?;
            actual = sub(actual, lost.came.amount())?;
            planned = sub(planned, standard.value(step, Decimal::ONE, scrap_value)?)?;
        }
        lines.push(moved_line(VarianceOf::Came, pieces, actual, planned)?);
    }
    if !ledger.gave.is_empty() {
        let (mut pieces, mut actual, mut planned) = (Decimal::ZERO, Decimal::ZERO, Decimal::ZERO);
        for (moved, steps) in &ledger.gave {
            actual = sub(actual, moved.amount.amount())?;
            for step in steps {
                pieces = sub(pieces, Decimal::ONE)?;
                planned = sub(planned, standard.value(*step, Decimal::ONE, scrap_value)?)?;
            }
        }
        lines.push(moved_line(VarianceOf::Gave, pieces, actual, planned)?);
    }
    Ok(lines)
}

fn moved_line(of: VarianceOf, pieces: Decimal, actual: Decimal, planned: Decimal) -> Result<VarianceLine, TooLarge> {
    Ok(VarianceLine {
        of,
        planned_quantity: pieces,
        actual_quantity: pieces,
        planned,
        actual,
        price: sub(actual, planned)?,
        quantity: Decimal::ZERO,
    })
}
