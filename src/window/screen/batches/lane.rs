//! A batch as a strip: its steps by cost, its pieces where they wait, and what is next.

use super::words;
use crate::book::Snapshot;
use crate::costing::batch::{BatchNow, planned_minutes};
use crate::costing::costing;
use crate::measure::Preferences;
use crate::studio::{BatchId, BatchRecord, BenchDeed, Design, ItemDetails, MaterialId, PieceId, StepKind};
use crate::window::draw::batch_strip::LaneStep;
use crate::window::screen::designs::{checks, figures, looks, words as design_words};
use crate::window::theme;
use crate::window::widget::Mark;
use iced::Color;
use std::collections::BTreeSet;

/// A batch on the bench.
#[derive(Debug, Clone)]
pub struct Lane {
    /// The batch.
    pub id: BatchId,
    /// What it is called.
    pub name: String,
    /// “batch 4 · 14 started, 1 lost”.
    pub started: String,
    /// The strip.
    pub steps: Vec<LaneStep>,
    /// What is next: “9 wait for the kiln”.
    pub next: String,
    /// What went wrong last; empty where nothing did.
    pub lost: String,
}

/// The pieces the door is closed on.
pub fn in_kiln(snapshot: &Snapshot) -> BTreeSet<PieceId> {
    snapshot.firing.iter().flat_map(|load| load.load.charge.iter().map(|charged| charged.piece)).collect()
}

/// Words a batch for the bench.
pub fn lane(record: &BatchRecord, snapshot: &Snapshot, preferences: &Preferences) -> Lane {
    let now = BatchNow::of(record);
    let hot = in_kiln(snapshot);
    let batch = &record.batch;
    let lost = losses(record);
    let begun = usize::try_from(batch.plan.pieces).unwrap_or_default();
    let mut started = format!("{} · {begun} started", words::numbered(batch));
    if !lost.is_empty() {
        started.push_str(&format!(", {} lost", lost.iter().map(|(_, pieces, _)| pieces).sum::<usize>()));
    }
    Lane {
        id: record.id,
        name: batch.name.clone(),
        started,
        steps: steps(record, &now, &hot, snapshot, preferences),
        next: next(record, &now, &hot, preferences),
        lost: lost.last().map(|(cause, pieces, at)| format!("{pieces} {cause} at {at}")).unwrap_or_default(),
    }
}

/// Cause, how many, and where: of every loss, in order.
pub fn losses(record: &BatchRecord) -> Vec<(&'static str, usize, String)> {
    record
        .entries
        .iter()
        .filter_map(|entry| match &entry.deed {
            BenchDeed::Lost { step, pieces, cause, .. } => {
                Some((cause.words(), pieces.len(), words::place(&record.batch.plan, *step)))
            }
            _ => None,
        })
        .collect()
}

/// What is next at the bench.
fn next(record: &BatchRecord, now: &BatchNow, hot: &BTreeSet<PieceId>, preferences: &Preferences) -> String {
    let plan = &record.batch.plan;
    let firing = count(record, hot);
    let mut for_kiln = 0;
    let mut by_hand = None;
    for (place, step) in plan.steps.iter().enumerate() {
        let waiting = now.waiting(place).into_iter().filter(|piece| !hot.contains(piece)).count();
        if waiting == 0 {
            continue;
        }
        if matches!(step.kind, StepKind::Fire(_)) {
            for_kiln += waiting;
        } else if by_hand.is_none() {
            by_hand = Some((place, waiting));
        }
    }
    let mut told = Vec::new();
    if firing > 0 {
        told.push(format!("{firing} in the kiln"));
    }
    if for_kiln > 0 {
        told.push(format!("{for_kiln} {} for the kiln", if for_kiln == 1 { "waits" } else { "wait" }));
    }
    if let Some((place, waiting)) = by_hand {
        let name = plan.steps.get(place).map(|step| step.name.as_str()).unwrap_or_default();
        let time = planned_minutes(plan, place, number(waiting), !now.is_under_way(place))
            .map(|minutes| format!(", {}", words::about(minutes, preferences)))
            .unwrap_or_default();
        told.push(format!("next: {}{time}", lowered(name)));
    }
    let done = now.done().len();
    if done > 0 {
        told.push(format!("{done} to be finished"));
    }
    told.join("\n")
}

/// Pieces of the batch the door is closed on.
fn count(record: &BatchRecord, hot: &BTreeSet<PieceId>) -> usize {
    record.pieces.iter().filter(|piece| hot.contains(&piece.id)).count()
}

/// A name inside a sentence: its first letter small, unless the second is a capital too.
fn lowered(name: &str) -> String {
    let mut letters = name.chars();
    match (letters.next(), letters.clone().next()) {
        (Some(first), Some(second)) if second.is_lowercase() => first.to_lowercase().chain(letters).collect(),
        _ => name.to_owned(),
    }
}

/// Pieces as the core counts them.
pub fn number(pieces: usize) -> u32 {
    u32::try_from(pieces).unwrap_or(u32::MAX)
}

/// The strip of a batch, with a place at its end for pieces that wait for their number.
pub fn steps(
    record: &BatchRecord,
    now: &BatchNow,
    hot: &BTreeSet<PieceId>,
    snapshot: &Snapshot,
    preferences: &Preferences,
) -> Vec<LaneStep> {
    let plan = &record.batch.plan;
    let answer = costing(plan);
    let checks = answer.as_ref().map(|answer| checks::checks(plan, answer, preferences)).unwrap_or_default();
    let mut steps: Vec<LaneStep> = plan
        .steps
        .iter()
        .enumerate()
        .map(|(place, step)| {
            let cost = answer.as_ref().ok().and_then(|answer| answer.cost.steps.get(place));
            let (detail, colour) = match &step.kind {
                StepKind::Fire(firing) => (design_words::heat(firing, preferences), Some(looks::heat(firing.celsius))),
                StepKind::Coat(coat) => (String::new(), enamel(record, &coat.material, snapshot)),
                _ => (String::new(), None),
            };
            LaneStep {
                name: step.name.clone(),
                word: design_words::step_word(step),
                detail,
                weight: cost.map_or(1.0, |cost| figures::drawn(cost.total)),
                colour,
                mark: mark(&checks, place),
                dots: now.waiting(place).iter().map(|piece| hot.contains(piece)).collect(),
                end: false,
            }
        })
        .collect();
    let done = now.done();
    if !done.is_empty() {
        let all: f32 = steps.iter().map(|step| step.weight).sum();
        steps.push(LaneStep {
            name: "To finish".to_owned(),
            word: "Finish".to_owned(),
            detail: String::new(),
            weight: all / 12.0,
            colour: None,
            mark: None,
            dots: done.iter().map(|_| false).collect(),
            end: true,
        });
    }
    steps
}

/// The gravest mark of a step.
pub(super) fn mark(checks: &[checks::Check], place: usize) -> Option<Mark> {
    let marks = checks.iter().filter(|check| check.step == Some(place)).map(|check| check.mark);
    marks.fold(None, |found, mark| match (found, mark) {
        (Some(Mark::Stop), _) | (_, Mark::Stop) => Some(Mark::Stop),
        (_, Mark::Caution) => Some(Mark::Caution),
        (found, _) => found,
    })
}

/// The colour of a coat, from the stock the batch takes it from.
pub fn enamel(record: &BatchRecord, material: &MaterialId, snapshot: &Snapshot) -> Option<Color> {
    let item = record.batch.stock.get(material)?;
    match snapshot.item(*item)?.item.details {
        ItemDetails::Enamel { swatch, .. } => Some(theme::swatch(swatch)),
        _ => None,
    }
}

/// What a route warns of at a step, in her words; then what its kind of work always asks for.
pub fn cautions(plan: &Design, place: usize, preferences: &Preferences) -> Vec<checks::Check> {
    let mut found = Vec::new();
    if let Ok(mut answer) = costing(plan) {
        answer.cautions.retain(|caution| caution.step == place.saturating_add(1));
        found = checks::checks(plan, &answer, preferences);
        found.retain(|check| check.step == Some(place) && !check.what.is_empty());
    }
    let lead = !found.iter().any(|check| check.what.contains("lead")) && bears_lead(plan, place);
    if lead {
        found.push(checks::Check {
            mark: Mark::Caution,
            what: "A material of this step bears lead".to_owned(),
            way_out:
                "keep its dust off hands, food and air; the maker’s safety data sheet and local rules on lead come \
                      first"
                    .to_owned(),
            step: Some(place),
        });
    }
    if let Some((what, way_out)) = plan.steps.get(place).and_then(|step| usual(&step.kind)) {
        found.push(checks::Check {
            mark: Mark::Caution,
            what: what.to_owned(),
            way_out: format!("{way_out}; the maker’s safety data sheet and local rules come first"),
            step: Some(place),
        });
    }
    found
}

/// A material the step takes bears lead.
fn bears_lead(plan: &Design, place: usize) -> bool {
    let Some(step) = plan.steps.get(place) else { return false };
    let coat = match &step.kind {
        StepKind::Coat(coat) => Some(&coat.material),
        _ => None,
    };
    let mut used = step.uses.iter().map(|used| &used.material).chain(coat);
    used.any(|id| plan.materials.iter().any(|material| material.id == *id && material.lead_bearing))
}

/// What a kind of work always asks for. Usual cautions of the trade.
const fn usual(kind: &StepKind) -> Option<(&'static str, &'static str)> {
    match kind {
        StepKind::Prepare => {
            Some(("Sharp edges, flux fumes, flame", "wear eye protection, air the bench where you solder"))
        }
        StepKind::Clean => {
            Some(("Pickle is an acid", "wear gloves and goggles, put acid into water, never water into acid"))
        }
        StepKind::Coat(_) => {
            Some(("Enamel is glass dust", "wear a mask made for fine dust, wipe up wet, do not eat at the bench"))
        }
        StepKind::Fire(_) => {
            Some(("Heat and glare", "wear gloves and glasses made against infrared, keep the way to the kiln clear"))
        }
        StepKind::Finish => Some(("Stoning makes glass dust", "work wet, wear a mask, wipe up wet")),
        StepKind::Dry | StepKind::Assemble | StepKind::Pack => None,
    }
}
