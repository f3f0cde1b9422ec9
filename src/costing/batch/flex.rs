//! The plan of a batch for the pieces that were really put in (costing method, section 4).

use super::account::CostPart;
use super::flow::Spot;
use crate::costing::piece::{self, CostError};
use crate::measure::exact::{add, div, mul, round, sub};
use crate::measure::{Decimal, TooLarge};
use crate::studio::{Design, StepKind};
use std::collections::BTreeMap;

/// Decimals a planned amount is held to, so that sums of them are exact.
pub(super) const PLAN_PLACES: u32 = 12;

/// What is planned on one spot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Planned {
    /// The material's unit, minutes, kWh, minutes in the heat.
    pub(super) quantity: Decimal,
    pub(super) amount: Decimal,
}

/// A planned price.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Price {
    /// Money per unit or per hour.
    of: Decimal,
    /// Per hour, where quantities are minutes.
    per_hour: bool,
}

impl Price {
    /// The planned price of something, wherever it is used.
    pub(super) fn in_plan(plan: &Design, part: &CostPart) -> Self {
        let unit = |of| Self { of, per_hour: false };
        let hour = |of| Self { of, per_hour: true };
        match part {
            CostPart::Material(id) => {
                unit(plan.materials.iter().find(|one| one.id == *id).map_or(Decimal::ZERO, |one| one.price))
            }
            CostPart::Labour => hour(plan.rates.labour_per_hour),
            CostPart::Overhead => hour(plan.rates.overhead_per_hour),
            CostPart::KilnEnergy => unit(plan.kiln.price_per_kwh),
            CostPart::KilnWear => hour(plan.kiln.wear_per_hour),
            CostPart::Came => unit(Decimal::ZERO),
        }
    }

    /// What a quantity costs at it, half-even to 12 places.
    pub(super) fn times(self, quantity: Decimal) -> Result<Decimal, TooLarge> {
        let money = mul(quantity, self.of)?;
        let money = if self.per_hour { div(money, Decimal::from(60))? } else { money };
        Ok(round(money, PLAN_PLACES))
    }
}

/// A plan flexed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Flexed {
    /// Pieces entering each step, and good ones after the last.
    pub(super) entering: Vec<Decimal>,
    pub(super) loads: Vec<Decimal>,
    pub(super) spots: BTreeMap<Spot, Planned>,
}

impl Flexed {
    /// The plan for pieces that begin at steps: `joining` has how many come, less how many leave, at each step and after
    /// the last. Fewer than none is none.
    pub(super) fn of(plan: &Design, joining: &[Decimal]) -> Result<Self, CostError> {
        let uses = piece::material_uses(plan)?;
        let mut flexed = Self { entering: Vec::new(), loads: Vec::new(), spots: BTreeMap::new() };
        let mut pieces = Decimal::ZERO;
        for (index, step) in plan.steps.iter().enumerate() {
            pieces = add(pieces, joining.get(index).copied().unwrap_or_default())?.max(Decimal::ZERO);
            flexed.entering.push(pieces);
            for (material, quantity) in uses.get(index).into_iter().flatten() {
                flexed.put(plan, (index, CostPart::Material(material.clone())), mul(pieces, *quantity)?)?;
            }
            let set_up = if pieces.is_zero() { Decimal::ZERO } else { step.setup_minutes };
            let mut minutes = add(set_up, mul(pieces, step.minutes_per_piece)?)?;
            let mut loads = Decimal::ZERO;
            if let StepKind::Fire(firing) = &step.kind {
                loads = piece::whole_loads(pieces, Decimal::from(firing.pieces_per_load))?;
                minutes = add(minutes, mul(loads, firing.attended_minutes_per_load)?)?;
                flexed.put(plan, (index, CostPart::KilnEnergy), mul(loads, plan.kiln.kwh_per_load)?)?;
                let hot = mul(loads, add(firing.minutes, plan.kiln.recovery_minutes)?)?;
                flexed.put(plan, (index, CostPart::KilnWear), hot)?;
            }
            flexed.loads.push(loads);
            flexed.put(plan, (index, CostPart::Labour), minutes)?;
            flexed.put(plan, (index, CostPart::Overhead), minutes)?;
            pieces = mul(pieces, step.good)?;
        }
        pieces = add(pieces, joining.get(plan.steps.len()).copied().unwrap_or_default())?.max(Decimal::ZERO);
        flexed.entering.push(pieces);
        Ok(flexed)
    }

    fn put(&mut self, plan: &Design, spot: Spot, quantity: Decimal) -> Result<(), TooLarge> {
        let (price, quantity) = (Price::in_plan(plan, &spot.1), round(quantity, PLAN_PLACES));
        self.spots.insert(spot, Planned { quantity, amount: price.times(quantity)? });
        Ok(())
    }

    /// All of a step, or of every step before `end`.
    pub(super) fn amount(&self, steps: std::ops::Range<usize>) -> Result<Decimal, TooLarge> {
        let within = self.spots.iter().filter(|(spot, _)| steps.contains(&spot.0));
        crate::measure::exact::sum(within.map(|(_, planned)| planned.amount))
    }

    /// Pieces entering a step; good pieces for one past the last.
    pub(super) fn pieces(&self, step: usize) -> Decimal {
        self.entering.get(step).copied().unwrap_or_default()
    }

    /// What so many pieces that stand at a step cost at plan: all before it, less the scrap of those lost on the way, of
    /// all pieces put in, shared by those that get there. Half-even to 12 places.
    pub(super) fn value(&self, step: usize, pieces: Decimal, scrap_value: Decimal) -> Result<Decimal, CostError> {
        let (all, there) = (self.pieces(0), self.pieces(step));
        if round(there, 8) <= Decimal::ZERO {
            return Err(CostError::NothingLeft);
        }
        let scrap = mul(sub(all, there)?, scrap_value)?;
        let money = sub(self.amount(0..step)?, scrap)?;
        Ok(round(div(mul(money, pieces)?, there)?, PLAN_PLACES))
    }

    /// What pieces that went through steps took of them at plan: `through` has how many went through each.
    pub(super) fn taken(
        &self,
        through: &BTreeMap<usize, u32>,
    ) -> Result<BTreeMap<Spot, (Decimal, Decimal)>, CostError> {
        let mut taken = BTreeMap::new();
        for (spot, planned) in &self.spots {
            let Some(count) = through.get(&spot.0) else { continue };
            let (count, there) = (Decimal::from(*count), self.pieces(spot.0));
            if round(there, 8) <= Decimal::ZERO {
                return Err(CostError::NothingLeft);
            }
            let share =
                |all: Decimal| -> Result<Decimal, TooLarge> { Ok(round(div(mul(all, count)?, there)?, PLAN_PLACES)) };
            taken.insert(spot.clone(), (share(planned.quantity)?, share(planned.amount)?));
        }
        Ok(taken)
    }
}
