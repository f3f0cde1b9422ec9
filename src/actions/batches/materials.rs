//! Materials taken to the bench.

use super::{AtBench, count, pieces_words};
use crate::actions::bench_action::{MaterialTaken, StepMaterials};
use crate::actions::limits::{self, Range, refuse};
use crate::actions::perform::Done;
use crate::actions::stock::book;
use crate::actions::{Refusal, Taking, WashBackCost, lots};
use crate::book::Change;
use crate::book::movement::NewMovement;
use crate::costing::batch::{Standing, planned_take};
use crate::measure::Quantity;
use crate::studio::{BatchId, BenchDeed, ItemId, Material, MaterialId, Measured, MovementKind, PieceId};
use chrono::NaiveDate;

/// Most materials of one action.
const MOST_LINES: usize = 1_000;

/// Takes materials for a step besides what doing it takes.
pub(in crate::actions) fn take(
    change: &Change<'_>,
    batch: BatchId,
    step: usize,
    pieces: &[PieceId],
    date: NaiveDate,
    lines: &[MaterialTaken],
) -> Result<Done, Refusal> {
    let mut bench = AtBench::open(change.reader(), batch, date)?;
    let name = bench.step(step)?.name.clone();
    let pieces = bench.at_work(pieces)?;
    for piece in &pieces {
        if matches!(bench.now.standing(*piece), Some(Standing::At(at)) if at < step) {
            return Err(refuse(
                "Pieces",
                format!("{}, which has not come to step {}", bench.piece_words(*piece), step + 1),
                format!("a piece that waits for {name}, or passed it, is accepted"),
            ));
        }
    }
    if lines.iter().all(|line| line.quantity.is_zero()) {
        return Err(refuse("Materials", "", "a material with a quantity above 0 is accepted"));
    }
    Taken { change, bench: &mut bench, step, pieces: &pieces, date }.write(&StepMaterials::Taken(lines.to_vec()))?;
    Ok(Done::named(format!("Take materials for {name}: {} of batch {}", pieces_words(pieces.len()), bench.number())))
}

/// What materials are taken for.
pub(super) struct Taken<'a> {
    pub(super) change: &'a Change<'a>,
    pub(super) bench: &'a mut AtBench,
    pub(super) step: usize,
    pub(super) pieces: &'a [PieceId],
    pub(super) date: NaiveDate,
}

impl Taken<'_> {
    /// Issues what is kept in stock and writes everything down.
    pub(super) fn write(mut self, materials: &StepMaterials) -> Result<(), Refusal> {
        match materials {
            StepMaterials::WrittenDown => Ok(()),
            StepMaterials::AsPlanned => {
                let plan = &self.bench.record.batch.plan;
                let planned = planned_take(plan, self.step, count(self.pieces.len()))
                    .map_err(|error| Refusal::No(format!("batch {}: {error}", self.bench.number())))?;
                for take in planned.iter().filter(|take| !take.quantity.is_zero()) {
                    self.one(&take.material, take.quantity, "", Measured::Planned)?;
                }
                Ok(())
            }
            StepMaterials::Taken(lines) => {
                if lines.len() > MOST_LINES {
                    return Err(refuse("Materials", lines.len(), "up to 1,000 materials are accepted"));
                }
                lines.iter().try_for_each(|line| self.line(line))
            }
        }
    }

    fn line(&mut self, line: &MaterialTaken) -> Result<(), Refusal> {
        let material = self.material(&line.material)?.clone();
        let field = format!("Quantity of {}", material.name);
        limits::quantity(&field, line.quantity, Range::ZeroOrMore)?;
        if let Some(back) = line.washed_back.filter(|back| !back.is_zero()) {
            let field = format!("Washed back of {}", material.name);
            limits::quantity(&field, back, Range::ZeroOrMore)?;
            let unit = material.unit;
            if line.how == Measured::Planned {
                return Err(refuse(
                    &field,
                    format!("{back} {unit}"),
                    "nothing is accepted of what is taken as planned",
                ));
            }
            if !self.bench.record.batch.stock.contains_key(&line.material) {
                return Err(refuse(
                    &field,
                    format!("{back} {unit}"),
                    "nothing is accepted of a material that is not taken from stock: write what is left off instead",
                ));
            }
            if back > line.quantity {
                return Err(refuse(
                    &field,
                    format!("{back} {unit}"),
                    format!("up to {} {unit}, what was taken, is accepted", line.quantity),
                ));
            }
        }
        if line.quantity.is_zero() {
            return Ok(());
        }
        self.one(&line.material, line.quantity, &line.typed, line.how)?;
        match line.washed_back.filter(|back| !back.is_zero()) {
            Some(back) => self.wash_back(&line.material, back),
            None => Ok(()),
        }
    }

    fn material(&self, id: &MaterialId) -> Result<&Material, Refusal> {
        let plan = &self.bench.record.batch.plan;
        plan.materials
            .iter()
            .find(|material| material.id == *id)
            .ok_or_else(|| refuse("Material", id, format!("a material of batch {} is accepted", self.bench.number())))
    }

    fn item(&self, id: &MaterialId) -> Option<ItemId> {
        self.bench.record.batch.stock.get(id).copied()
    }

    fn note(&self) -> Result<String, Refusal> {
        Ok(format!("Batch {}, {}", self.bench.number(), self.bench.step(self.step)?.name))
    }

    /// Takes a quantity above 0 of one material.
    fn one(&mut self, material: &MaterialId, quantity: Quantity, typed: &str, how: Measured) -> Result<(), Refusal> {
        let (step, pieces) = (self.step, self.pieces.to_vec());
        let unit = self.material(material)?.unit;
        let deed = match self.item(material) {
            None => BenchDeed::Used { step, pieces, material: material.clone(), quantity, how },
            Some(item) => {
                let typed = if typed.trim().is_empty() { format!("{quantity} {unit}") } else { typed.to_owned() };
                let (_, movement) = book(
                    self.change,
                    &NewMovement {
                        item,
                        date: self.date,
                        kind: MovementKind::Issue,
                        quantity,
                        cost: None,
                        lot: None,
                        lot_number: "",
                        supplier: "",
                        note: &self.note()?,
                        typed: &typed,
                    },
                )?;
                BenchDeed::Took { step, pieces, material: material.clone(), movement, quantity, how }
            }
        };
        self.bench.write(self.change, self.date, deed)
    }

    /// Puts a quantity above 0 of one material back into its jar, at what it costs.
    fn wash_back(&mut self, material: &MaterialId, quantity: Quantity) -> Result<(), Refusal> {
        let Some(item) = self.item(material) else { return Ok(()) };
        let unit = self.material(material)?.unit;
        let taking =
            Taking { item, date: self.date, quantity, typed: format!("{quantity} {unit}"), note: self.note()? };
        let (_, movement) = lots::take_back(self.change, &taking, WashBackCost::FromItem(item))?;
        let (step, pieces) = (self.step, self.pieces.to_vec());
        let deed = BenchDeed::WashedBack { step, pieces, material: material.clone(), movement, quantity };
        self.bench.write(self.change, self.date, deed)
    }
}
