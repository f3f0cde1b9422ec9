//! `batch step`: a step done, left out, or pieces sent back to an earlier one.

use super::batch_arguments::BatchStep;
use super::batches::tell;
use super::bench::{Found, find_batch, minutes, with_cause};
use super::failure::Failure;
use super::session::Session;
use super::typed;
use crate::actions::{self, Action, MaterialTaken, PieceLost, StepDone, StepMaterials, StepMinutes};
use crate::book::Snapshot;
use crate::costing::batch::planned_take;
use crate::measure::{Preferences, Quantity};
use crate::studio::{LossKind, Material, Measured, StepKind};

pub(super) fn step(session: &mut Session<'_>, task: BatchStep) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let found = find_batch(&book, task.number)?;
    let (place, step) = found.step(task.step)?;
    let pieces = found.pieces_at(task.pieces.as_deref(), place)?;
    let date = task.date.unwrap_or_else(|| session.today());
    let batch = found.record.id;
    let action = if task.skip {
        Action::SkipStep { batch, step: place, pieces, date, why: task.why }
    } else if let Some(to) = task.back_to {
        Action::SendBack { batch, to: found.step(to)?.0, pieces, date, why: task.why }
    } else {
        if matches!(step.kind, StepKind::Fire(_)) {
            return Err(Failure::no(format!(
                "step {} of batch {} is a firing; `kiln log --batch {}:{}` writes its load down",
                task.step, task.number, task.number, task.step
            )));
        }
        let minutes = match (&task.minutes, task.timed) {
            (Some(text), _) => StepMinutes::Typed(minutes("minutes", text, &preferences)?),
            (None, true) => StepMinutes::WrittenDown,
            (None, false) => StepMinutes::AsPlanned,
        };
        let materials = materials(&task, &found, place, pieces.len(), &snapshot)?;
        let lost = lost(&task, &found)?;
        Action::DoStep(StepDone { batch, step: place, pieces, date, minutes, materials, lost })
    };
    tell(session, &mut book, action, batch, task.form.format)
}

/// `3,5:cracked` and so on.
fn lost(task: &BatchStep, found: &Found) -> Result<Vec<PieceLost>, Failure> {
    let kind = if task.abnormal { LossKind::Abnormal } else { LossKind::Normal };
    let mut lost = Vec::new();
    for text in &task.lost {
        let (pieces, cause) = with_cause("lost", text)?;
        let pieces = found.pieces(pieces)?;
        lost.extend(pieces.into_iter().map(|piece| PieceLost { piece, cause, kind, note: String::new() }));
    }
    Ok(lost)
}

/// What was weighed; what the step needs besides is taken as planned.
fn materials(
    task: &BatchStep,
    found: &Found,
    step: usize,
    pieces: usize,
    snapshot: &Snapshot,
) -> Result<StepMaterials, Failure> {
    if task.used.is_empty() {
        return Ok(StepMaterials::AsPlanned);
    }
    let preferences = Preferences::from(&*snapshot.settings);
    let mut taken: Vec<MaterialTaken> = Vec::new();
    for text in &task.used {
        let (material, typed, quantity) = measured("used", text, found, snapshot, &preferences)?;
        taken.push(MaterialTaken {
            material: material.id.clone(),
            quantity,
            typed,
            how: Measured::Weighed,
            washed_back: None,
        });
    }
    for text in &task.back {
        let (material, _, quantity) = measured("back", text, found, snapshot, &preferences)?;
        let line = taken.iter_mut().find(|line| line.material == material.id).ok_or_else(|| {
            Failure::invalid(format!("back: {text:?} was given; a material that --used names is accepted"))
        })?;
        line.washed_back = Some(quantity);
    }
    let count = u32::try_from(pieces).map_err(|_| Failure::no("there are too many pieces"))?;
    let planned =
        planned_take(&found.record.batch.plan, step, count).map_err(|error| Failure::no(error.to_string()))?;
    for take in planned {
        if !taken.iter().any(|line| line.material == take.material) {
            taken.push(MaterialTaken {
                material: take.material,
                quantity: take.quantity,
                typed: String::new(),
                how: Measured::Planned,
                washed_back: None,
            });
        }
    }
    Ok(StepMaterials::Taken(taken))
}

/// `counter-slate=12.5g`: the material by its id, its name or its item's reference, and how much of it.
fn measured<'a>(
    field: &str,
    text: &str,
    found: &'a Found,
    snapshot: &Snapshot,
    preferences: &Preferences,
) -> Result<(&'a Material, String, Quantity), Failure> {
    let (name, typed) = text.rsplit_once('=').ok_or_else(|| {
        Failure::invalid(format!("{field}: {text:?} was given; MATERIAL=QUANTITY is accepted, such as oat=12.5g"))
    })?;
    let (batch, asked, typed) = (&found.record.batch, name.trim(), typed.trim());
    let name = asked.to_lowercase();
    let item = |material: &Material| {
        let row = batch.stock.get(&material.id).and_then(|item| snapshot.item(*item));
        row.is_some_and(|row| row.item.reference.to_lowercase() == name)
    };
    let materials = &batch.plan.materials;
    let by_id = materials.iter().find(|material| material.id.0.to_lowercase() == name);
    let material = by_id
        .or_else(|| materials.iter().find(|material| material.name.to_lowercase() == name || item(material)))
        .ok_or_else(|| {
            let known: Vec<&str> = materials.iter().map(|material| material.id.0.as_str()).collect();
            Failure::no(format!(
                "{field}: there is no material {asked} in the plan of batch {}; there are {}",
                found.number(),
                known.join(", ")
            ))
        })?;
    let quantity = typed::quantity(field, typed, material.unit, preferences)?;
    Ok((material, typed.to_owned(), quantity))
}
