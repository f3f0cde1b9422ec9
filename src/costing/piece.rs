//! The cost of a good piece (costing method, sections 2 to 4).

use super::geometry::{self, BlankGeometry};
use crate::measure::exact::{add, div, mul, sub};
use crate::measure::{Decimal, TooLarge};
use crate::studio::{Coat, Design, Firing, Material, MaterialId, Side, Step, StepKind};
use std::collections::HashMap;

/// Why a design cannot be costed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CostError {
    /// A number grows past 28 digits.
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
    /// The outline is not one, or its holes leave nothing.
    #[error("blank: {0}")]
    Geometry(String),
    /// The route has no firing.
    #[error("the route has no firing")]
    NoFiring,
    /// No piece, or losses that leave none.
    #[error("no good piece is left at the end of the route")]
    NothingLeft,
    /// A step names a material that the design does not have.
    #[error("step {step}: no material {material}")]
    NoMaterial {
        /// The step, from 1.
        step: usize,
        /// The id it names.
        material: MaterialId,
    },
    /// Fewer firings than the route allows.
    #[error("only {fewest} firings or more: step {step} coats the piece before its last firing")]
    TooFewFirings {
        /// The fewest allowed.
        fewest: u32,
        /// The coat that stands in the way, from 1.
        step: usize,
    },
    /// More firings than the program carries out.
    #[error("at most {most} firings")]
    TooManyFirings {
        /// The most allowed.
        most: u32,
    },
}

/// What one good piece costs and how it comes about. Money per good piece unless said otherwise.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceCost {
    /// Thickness of the metal, mm, 6 places.
    pub thickness_mm: Decimal,
    /// One blank's front, domed, holes off, cm², 6 places.
    pub front_cm2: Decimal,
    /// One blank's back, cm², 6 places.
    pub back_cm2: Decimal,
    /// One blank's mass, g, 6 places.
    pub mass_g: Decimal,
    /// Pieces started.
    pub pieces: u32,
    /// Good pieces expected.
    pub good: Decimal,
    /// Firings on the route.
    pub firings: u32,
    /// Bench hours per good piece, losses included.
    pub hours_per_good_piece: Decimal,
    /// Materials as if nothing were lost.
    pub materials: Decimal,
    /// Labour as if nothing were lost.
    pub labour: Decimal,
    /// Kiln energy as if nothing were lost.
    pub kiln_energy: Decimal,
    /// Kiln wear as if nothing were lost.
    pub kiln_wear: Decimal,
    /// Overhead as if nothing were lost.
    pub overhead: Decimal,
    /// What losses add: full cost less the five lines above.
    pub loss_allowance: Decimal,
    /// Full cost.
    pub full: Decimal,
    /// Full cost with the labour rate at zero.
    pub out_of_pocket: Decimal,
    /// Scrap credit per good piece.
    pub scrap_credit: Decimal,
    /// Each step's share, in order; with `scrap_credit` taken off they add up to `full`.
    pub steps: Vec<StepCost>,
    /// Enamel one piece that passes every coat uses, g, in the order of the design's materials.
    pub enamel_g_per_piece: Vec<(MaterialId, Decimal)>,
    /// What one piece costs in materials, line by line as if nothing were lost, in route order.
    pub material_lines: Vec<MaterialLine>,
}

/// One step with the pieces that really enter it; money divided by the good pieces of the batch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepCost {
    /// Pieces entering.
    pub entering: Decimal,
    /// Loads of the kiln; 0 for other steps.
    pub loads: Decimal,
    /// Bench hours of the batch.
    pub hours: Decimal,
    /// Materials.
    pub materials: Decimal,
    /// Labour.
    pub labour: Decimal,
    /// Overhead.
    pub overhead: Decimal,
    /// Kiln energy.
    pub kiln_energy: Decimal,
    /// Kiln wear.
    pub kiln_wear: Decimal,
    /// The five together: the width of the step on the route.
    pub total: Decimal,
}

/// One use of a material by a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MaterialLine {
    /// The step, from 1.
    pub step: usize,
    /// The material.
    pub material: MaterialId,
    /// Quantity per piece in the material's unit.
    pub quantity: Decimal,
    /// Price of a unit.
    pub price: Decimal,
    /// Quantity × price.
    pub cost: Decimal,
}

/// The same design with another number of pieces started.
pub fn with_pieces(design: &Design, pieces: u32) -> Design {
    Design { pieces, ..design.clone() }
}

/// Costs a design.
///
/// # Errors
/// [`CostError`] where the blank is none, a step names a material that is not there, nothing good is left at the end,
/// or a number grows past 28 digits.
pub fn piece_cost(design: &Design) -> Result<PieceCost, CostError> {
    piece_cost_with(design, &geometry::measure(&design.blank)?)
}

/// Costs a design whose blank has been measured already: the route and the rates may have changed since, the blank not.
///
/// # Errors
/// As [`piece_cost`].
pub fn piece_cost_with(design: &Design, blank: &BlankGeometry) -> Result<PieceCost, CostError> {
    let firings = design.steps.iter().filter(|step| matches!(step.kind, StepKind::Fire(_))).count();
    let firings = u32::try_from(firings).map_err(|_| TooLarge)?;
    if firings == 0 {
        return Err(CostError::NoFiring);
    }
    let pieces = Decimal::from(design.pieces);
    let uses = material_lines(design, blank)?;
    let mut entering = pieces;
    let mut real = Vec::with_capacity(design.steps.len());
    let mut ideal = Amounts::default();
    for (step, materials) in design.steps.iter().zip(&uses.per_step) {
        let amounts = Amounts::of(design, step, entering, *materials)?;
        ideal = ideal.plus(&Amounts::of(design, step, pieces, *materials)?)?;
        real.push((entering, amounts));
        entering = mul(entering, step.good)?;
    }
    let good = entering;
    if crate::measure::exact::round(good, 8) <= Decimal::ZERO {
        return Err(CostError::NothingLeft);
    }

    let mut batch = Amounts::default();
    let mut steps = Vec::with_capacity(real.len());
    for (entering, amounts) in &real {
        batch = batch.plus(amounts)?;
        steps.push(amounts.step_cost(*entering, good)?);
    }
    let scrap = mul(sub(pieces, good)?, design.rates.scrap_value)?;
    let minutes = Decimal::from(MINUTES_PER_HOUR);
    let good_minutes = mul(good, minutes)?;
    let piece_minutes = mul(pieces, minutes)?;
    // Money a 60th of which is meant, so that each figure is divided once, last, and what is exact stays exact.
    let material_money = sub(add(batch.materials, batch.kiln_energy)?, scrap)?;
    let without_labour = add(mul(material_money, minutes)?, add(batch.overhead_minutes, batch.wear_minutes)?)?;
    let out_of_pocket = div(without_labour, good_minutes)?;
    let full = div(add(without_labour, batch.labour_minutes)?, good_minutes)?;
    let materials = div(ideal.materials, pieces)?;
    let labour = div(ideal.labour_minutes, piece_minutes)?;
    let kiln_energy = div(ideal.kiln_energy, pieces)?;
    let kiln_wear = div(ideal.wear_minutes, piece_minutes)?;
    let overhead = div(ideal.overhead_minutes, piece_minutes)?;
    let lines = crate::measure::exact::sum([materials, labour, kiln_energy, kiln_wear, overhead])?;
    Ok(PieceCost {
        thickness_mm: blank.thickness_mm,
        front_cm2: blank.front_cm2,
        back_cm2: blank.back_cm2,
        mass_g: blank.mass_g,
        pieces: design.pieces,
        good,
        firings,
        hours_per_good_piece: div(batch.minutes, good_minutes)?,
        materials,
        labour,
        kiln_energy,
        kiln_wear,
        overhead,
        loss_allowance: sub(full, lines)?,
        full,
        out_of_pocket,
        scrap_credit: div(scrap, good)?,
        steps,
        enamel_g_per_piece: uses.enamel,
        material_lines: uses.lines,
    })
}

const MINUTES_PER_HOUR: u32 = 60;

/// What one step takes from a batch. Time-based money is kept as minutes × money per hour: it is divided by 60 last.
#[derive(Debug, Clone, Copy, Default)]
struct Amounts {
    loads: Decimal,
    minutes: Decimal,
    materials: Decimal,
    labour_minutes: Decimal,
    overhead_minutes: Decimal,
    kiln_energy: Decimal,
    wear_minutes: Decimal,
}

impl Amounts {
    /// What a step takes when that many pieces enter it and each uses that much money of materials.
    fn of(design: &Design, step: &Step, entering: Decimal, materials: Decimal) -> Result<Self, TooLarge> {
        let mut minutes = add(step.setup_minutes, mul(entering, step.minutes_per_piece)?)?;
        let mut kiln = KilnUse::default();
        if let StepKind::Fire(firing) = &step.kind {
            kiln = KilnUse::of(design, firing, entering)?;
            minutes = add(minutes, mul(kiln.loads, firing.attended_minutes_per_load)?)?;
        }
        Ok(Self {
            loads: kiln.loads,
            minutes,
            materials: mul(entering, materials)?,
            labour_minutes: mul(minutes, design.rates.labour_per_hour)?,
            overhead_minutes: mul(minutes, design.rates.overhead_per_hour)?,
            kiln_energy: kiln.energy,
            wear_minutes: kiln.wear_minutes,
        })
    }

    fn plus(&self, other: &Self) -> Result<Self, TooLarge> {
        Ok(Self {
            loads: add(self.loads, other.loads)?,
            minutes: add(self.minutes, other.minutes)?,
            materials: add(self.materials, other.materials)?,
            labour_minutes: add(self.labour_minutes, other.labour_minutes)?,
            overhead_minutes: add(self.overhead_minutes, other.overhead_minutes)?,
            kiln_energy: add(self.kiln_energy, other.kiln_energy)?,
            wear_minutes: add(self.wear_minutes, other.wear_minutes)?,
        })
    }

    /// The step's share of a good piece.
    fn step_cost(&self, entering: Decimal, good: Decimal) -> Result<StepCost, TooLarge> {
        let minutes = Decimal::from(MINUTES_PER_HOUR);
        let good_minutes = mul(good, minutes)?;
        let materials = div(self.materials, good)?;
        let labour = div(self.labour_minutes, good_minutes)?;
        let overhead = div(self.overhead_minutes, good_minutes)?;
        let kiln_energy = div(self.kiln_energy, good)?;
        let kiln_wear = div(self.wear_minutes, good_minutes)?;
        Ok(StepCost {
            entering,
            loads: self.loads,
            hours: div(self.minutes, minutes)?,
            materials,
            labour,
            overhead,
            kiln_energy,
            kiln_wear,
            total: crate::measure::exact::sum([materials, labour, overhead, kiln_energy, kiln_wear])?,
        })
    }
}

/// What a firing step takes from the kiln.
#[derive(Debug, Clone, Copy, Default)]
struct KilnUse {
    loads: Decimal,
    energy: Decimal,
    wear_minutes: Decimal,
}

impl KilnUse {
    fn of(design: &Design, firing: &Firing, entering: Decimal) -> Result<Self, TooLarge> {
        let loads = whole_loads(entering, Decimal::from(firing.pieces_per_load))?;
        let kiln = &design.kiln;
        let minutes = add(firing.minutes, kiln.recovery_minutes)?;
        Ok(Self {
            loads,
            energy: mul(loads, mul(kiln.kwh_per_load, kiln.price_per_kwh)?)?,
            wear_minutes: mul(loads, mul(minutes, kiln.wear_per_hour)?)?,
        })
    }
}

/// The fewest whole loads that hold the pieces. By remainder, so that no rounded quotient can hide a last piece.
pub(super) fn whole_loads(pieces: Decimal, per_load: Decimal) -> Result<Decimal, TooLarge> {
    let rest = pieces.checked_rem(per_load).ok_or(TooLarge)?;
    let full = div(sub(pieces, rest)?, per_load)?;
    if rest.is_zero() { Ok(full) } else { add(full, Decimal::ONE) }
}

/// What a piece uses, line by line, and added up by step and by enamel.
struct Uses {
    lines: Vec<MaterialLine>,
    per_step: Vec<Decimal>,
    enamel: Vec<(MaterialId, Decimal)>,
}

fn material_lines(design: &Design, blank: &BlankGeometry) -> Result<Uses, CostError> {
    // The first of two materials with one id stands, as in a search from the top.
    let mut known: HashMap<&str, (usize, &Material)> = HashMap::with_capacity(design.materials.len());
    for (position, material) in design.materials.iter().enumerate() {
        known.entry(material.id.0.as_str()).or_insert((position, material));
    }
    let mut lines = Vec::new();
    let mut per_step = Vec::with_capacity(design.steps.len());
    let mut enamel: Vec<Option<Decimal>> = vec![None; design.materials.len()];
    for (index, step) in design.steps.iter().enumerate() {
        let number = index + 1;
        let mut of_step = Decimal::ZERO;
        let mut use_material = |id: &MaterialId, quantity: Decimal| -> Result<usize, CostError> {
            let &(position, material) =
                known.get(id.0.as_str()).ok_or_else(|| CostError::NoMaterial { step: number, material: id.clone() })?;
            let cost = mul(quantity, material.price)?;
            of_step = add(of_step, cost)?;
            lines.push(MaterialLine { step: number, material: id.clone(), quantity, price: material.price, cost });
            Ok(position)
        };
        if let StepKind::Coat(coat) = &step.kind {
            let grams = coat_grams(design, coat, blank)?;
            let position = use_material(&coat.material, grams)?;
            if let Some(total) = enamel.get_mut(position) {
                *total = Some(add(total.unwrap_or_default(), grams)?);
            }
        }
        for used in &step.uses {
            use_material(&used.material, used.quantity)?;
        }
        per_step.push(of_step);
    }
    let enamel = design
        .materials
        .iter()
        .zip(enamel)
        .filter_map(|(material, grams)| grams.map(|grams| (material.id.clone(), grams)))
        .collect();
    Ok(Uses { lines, per_step, enamel })
}

/// What a piece takes at each step of the route, each material once in the order of the step, net of what is reclaimed.
///
/// # Errors
/// [`CostError`] where the blank is none or a step names a material that is not there.
pub(super) fn material_uses(design: &Design) -> Result<Vec<Vec<(MaterialId, Decimal)>>, CostError> {
    let mut steps: Vec<Vec<(MaterialId, Decimal)>> = vec![Vec::new(); design.steps.len()];
    for line in material_lines(design, &geometry::measure(&design.blank)?)?.lines {
        let Some(uses) = line.step.checked_sub(1).and_then(|step| steps.get_mut(step)) else { continue };
        match uses.iter_mut().find(|(material, _)| *material == line.material) {
            Some((_, quantity)) => *quantity = add(*quantity, line.quantity)?,
            None => uses.push((line.material, line.quantity)),
        }
    }
    Ok(steps)
}

/// Grams of enamel a piece takes in a coat (costing method, section 3).
fn coat_grams(design: &Design, coat: &Coat, blank: &BlankGeometry) -> Result<Decimal, TooLarge> {
    let side = match coat.side {
        Side::Front => blank.front_cm2,
        Side::Back => blank.back_cm2,
    };
    let landed = mul(mul(mul(Decimal::from(design.blank.count), side)?, coat.coverage)?, coat.coat_mg_per_cm2)?;
    let lost = mul(coat.overspray, sub(Decimal::ONE, coat.reclaimed)?)?;
    mul(mul(landed, Decimal::new(1, 3))?, add(Decimal::ONE, lost)?)
}
