//! The cost staircase: one bar a line, each hanging where the one above ended, each opening into what it is made of.

use super::figures::drawn;
use super::words;
use crate::costing::PieceCost;
use crate::costing::explain::Breakdown;
use crate::costing::piece::StepCost;
use crate::measure::{Decimal, Preferences, display};
use crate::studio::{Design, StepKind};
use crate::window::widget::Line;

/// The lines of the staircase.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum StairKind {
    /// Materials.
    Materials,
    /// Bench time.
    Bench,
    /// Kiln energy.
    Energy,
    /// Kiln wear.
    Wear,
    /// Overhead.
    Overhead,
    /// What losses add.
    Losses,
}

/// One line of the staircase.
#[derive(Debug, Clone, PartialEq)]
pub struct Stair {
    /// Which.
    pub kind: StairKind,
    /// Its name.
    pub name: &'static str,
    /// Its amount.
    pub amount: String,
    /// Where its bar begins, share of the width.
    pub from: f32,
    /// Where it ends.
    pub to: f32,
    /// What it is made of.
    pub lines: Vec<Line>,
}

/// The staircase of a costed design.
pub fn stairs(design: &Design, cost: &PieceCost, apart: &Breakdown, p: &Preferences) -> Vec<Stair> {
    let amounts = [
        (StairKind::Materials, "Materials", cost.materials),
        (StairKind::Bench, "Bench time", cost.labour),
        (StairKind::Energy, "Kiln energy", cost.kiln_energy),
        (StairKind::Wear, "Kiln wear", cost.kiln_wear),
        (StairKind::Overhead, "Overhead", cost.overhead),
        (StairKind::Losses, "Loss allowance", cost.loss_allowance),
    ];
    // Where a loss allowance is below zero the bars reach further than full cost.
    let reach = amounts.iter().map(|(_, _, amount)| drawn(*amount).max(0.0)).sum::<f32>().max(f32::EPSILON);
    let mut at = 0.0;
    amounts
        .into_iter()
        .map(|(kind, name, amount)| {
            let from = at;
            at += drawn(amount) / reach;
            let lines = match kind {
                StairKind::Materials => materials(design, cost, p),
                StairKind::Losses => losses(design, cost, apart, p),
                _ => by_step(kind, design, apart, p),
            };
            Stair { kind, name, amount: display::money(amount, p), from, to: at, lines }
        })
        .collect()
}

fn materials(design: &Design, cost: &PieceCost, p: &Preferences) -> Vec<Line> {
    cost.material_lines
        .iter()
        .map(|line| {
            let material = design.materials.iter().find(|material| material.id == line.material);
            let what = match material {
                Some(material) => format!(
                    "{}: {} × {}",
                    material.name,
                    display::quantity(line.quantity, material.unit, p),
                    display::unit_price(line.price, material.unit, p)
                ),
                None => line.material.to_string(),
            };
            Line::new(what, display::money_fine(crate::measure::exact::round(line.cost, 4), p))
        })
        .collect()
}

/// The part of a step's cost a line is about.
fn part(kind: StairKind, step: &StepCost) -> Decimal {
    match kind {
        StairKind::Bench => step.labour,
        StairKind::Energy => step.kiln_energy,
        StairKind::Wear => step.kiln_wear,
        StairKind::Overhead => step.overhead,
        StairKind::Materials => step.materials,
        StairKind::Losses => Decimal::ZERO,
    }
}

fn by_step(kind: StairKind, design: &Design, apart: &Breakdown, p: &Preferences) -> Vec<Line> {
    let rate = match kind {
        StairKind::Bench => display::money_per_hour(design.rates.labour_per_hour, p),
        StairKind::Overhead => display::money_per_hour(design.rates.overhead_per_hour, p),
        StairKind::Wear => display::money_per_hour(design.kiln.wear_per_hour, p),
        _ => format!(
            "{} kWh × {}",
            display::number(design.kiln.kwh_per_load, 0, 3, p.numbers),
            display::money_fine(design.kiln.price_per_kwh, p)
        ),
    };
    let steps = design.steps.iter().zip(&apart.without_losses).filter(|(_, cost)| !part(kind, cost).is_zero());
    steps
        .map(|(step, cost)| {
            let loads = display::number(cost.loads, 0, 0, p.numbers);
            let count = if cost.loads == Decimal::ONE { "load" } else { "loads" };
            let what = match (kind, &step.kind) {
                (StairKind::Bench | StairKind::Overhead, _) => {
                    format!("{}: {} for {} pieces × {rate}", step.name, words::bench_time(cost.hours, p), design.pieces)
                }
                (StairKind::Wear, StepKind::Fire(firing)) => format!(
                    "{}: {loads} {count} of {} and {} to recover × {rate}",
                    step.name,
                    display::minutes(firing.minutes, p),
                    display::minutes(design.kiln.recovery_minutes, p)
                ),
                _ => format!("{}: {loads} {count} × {rate}", step.name),
            };
            Line::new(what, display::money_fine(crate::measure::exact::round(part(kind, cost), 4), p))
        })
        .collect()
}

fn losses(design: &Design, cost: &PieceCost, apart: &Breakdown, p: &Preferences) -> Vec<Line> {
    let fine = |amount: Decimal| display::money_fine(crate::measure::exact::round(amount, 4), p);
    let steps = design.steps.iter().zip(&cost.steps).zip(&apart.losses).filter(|(_, loss)| !loss.is_zero());
    let mut lines: Vec<Line> = steps
        .map(|((step, cost), loss)| {
            let entering = display::number(cost.entering, 0, 2, p.numbers);
            let mut what = format!("{}: {entering} pieces enter", step.name);
            if step.good < Decimal::ONE {
                what.push_str(&format!(", {} leave good", display::share(step.good, p)));
            }
            Line::new(what, fine(*loss))
        })
        .collect();
    if !cost.scrap_credit.is_zero() {
        let value = display::money(design.rates.scrap_value, p);
        let credit = crate::measure::exact::sub(Decimal::ZERO, cost.scrap_credit).unwrap_or_default();
        lines.push(Line::new(format!("Lost pieces give back {value} each"), fine(credit)));
    }
    lines
}
