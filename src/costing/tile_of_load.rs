//! A test tile as a load begins it: its heat and time, the metal and the coats under the glass of its first piece.

use crate::studio::{BatchRecord, BookLoad, Charged, ItemId, Metal, Side, StepKind, TestTile, Verdict};

/// The tile a load begins; `record` is the batch of the load's first piece, where it is known. Without it the metal is
/// copper and no layer is named. Only enamels that are kept in stock can be layers.
pub fn tile_of_load(load: &BookLoad, record: Option<&BatchRecord>) -> TestTile {
    let first = load.load.charge.first();
    let known = record.zip(first).filter(|(record, charged)| record.id == charged.batch);
    TestTile {
        date: load.load.closed_at.date(),
        metal: known.map_or(Metal::Copper, |(record, _)| record.batch.plan.blank.metal),
        layers: known.map(|(record, charged)| layers(record, charged)).unwrap_or_default(),
        celsius: load.load.set_celsius,
        minutes: load.load.asked_minutes,
        firings: known.map_or(1, |(record, charged)| firings(record, charged)),
        verdict: Verdict::Open,
        colour_words: String::new(),
        colour: None,
        note: String::new(),
        load: Some(load.id),
        retired: false,
    }
}

/// Front coats before the firing, from the metal up.
fn layers(record: &BatchRecord, charged: &Charged) -> Vec<ItemId> {
    let steps = record.batch.plan.steps.iter().take(charged.step);
    steps
        .filter_map(|step| match &step.kind {
            StepKind::Coat(coat) if coat.side == Side::Front => record.batch.stock.get(&coat.material).copied(),
            _ => None,
        })
        .collect()
}

/// Firings of the route up to and with this one, at least 1.
fn firings(record: &BatchRecord, charged: &Charged) -> u32 {
    let steps = record.batch.plan.steps.iter().take(charged.step.saturating_add(1));
    let fired = steps.filter(|step| matches!(step.kind, StepKind::Fire(_))).count();
    u32::try_from(fired).unwrap_or(1).max(1)
}
