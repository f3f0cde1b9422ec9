//! What a batch needs as planned: of stock, and of time.

use super::now::BatchNow;
use super::track::Standing;
use crate::costing::piece::{self, CostError};
use crate::measure::exact::{add, mul, round};
use crate::measure::quantity::QUANTITY_PLACES;
use crate::measure::{Decimal, Quantity, TooLarge};
use crate::studio::{BatchRecord, Design, ItemId, MaterialId, StepKind};
use std::collections::BTreeMap;

/// A material a step takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlannedTake {
    /// Its id in the plan.
    pub material: MaterialId,
    /// How much in the material's unit, net of what is reclaimed (costing method, section 3), half-even to 9 places.
    pub quantity: Quantity,
}

/// What a step takes for so many pieces as planned, each material once, in the order of the step. Nothing for a step the
/// route does not have.
///
/// # Errors
/// [`CostError`] where the plan's blank is none or a step names a material that is not there.
pub fn planned_take(plan: &Design, step: usize, pieces: u32) -> Result<Vec<PlannedTake>, CostError> {
    let per_piece = piece::material_uses(plan)?;
    taken(per_piece.get(step).map_or(&[], Vec::as_slice), pieces).map_err(CostError::from)
}

fn taken(uses: &[(MaterialId, Decimal)], pieces: u32) -> Result<Vec<PlannedTake>, TooLarge> {
    let one = |(material, quantity): &(MaterialId, Decimal)| {
        let all = round(mul(*quantity, Decimal::from(pieces))?, QUANTITY_PLACES);
        Ok(PlannedTake { material: material.clone(), quantity: Quantity::new(all).ok_or(TooLarge)? })
    };
    uses.iter().map(one).collect()
}

/// Minutes a step takes for so many pieces as planned: minutes per piece, the set-up where it is the step's `first` time,
/// and for a firing the attended minutes of the fewest loads that hold them. 0 for a step the route does not have.
///
/// # Errors
/// [`TooLarge`].
pub fn planned_minutes(plan: &Design, step: usize, pieces: u32, first: bool) -> Result<Decimal, TooLarge> {
    let Some(step) = plan.steps.get(step) else { return Ok(Decimal::ZERO) };
    let pieces = Decimal::from(pieces);
    let set_up = if first { step.setup_minutes } else { Decimal::ZERO };
    let minutes = add(set_up, mul(pieces, step.minutes_per_piece)?)?;
    let StepKind::Fire(firing) = &step.kind else { return Ok(minutes) };
    let loads = piece::whole_loads(pieces, Decimal::from(firing.pieces_per_load))?;
    add(minutes, mul(loads, firing.attended_minutes_per_load)?)
}

/// What the pieces of a batch still take from stock, as planned and if none is lost: all it has reserved. What a piece was
/// given already at the step it waits for is not counted again.
///
/// # Errors
/// [`CostError`] as [`planned_take`].
pub fn ahead(record: &BatchRecord, now: &BatchNow) -> Result<BTreeMap<ItemId, Quantity>, CostError> {
    let plan = &record.batch.plan;
    let uses = piece::material_uses(plan)?;
    let mut counted: BTreeMap<(usize, &MaterialId), (Decimal, u32)> = BTreeMap::new();
    for (piece, standing) in now.standings() {
        let Standing::At(at) = standing else { continue };
        for (step, materials) in uses.iter().enumerate().skip(at) {
            for (material, quantity) in materials {
                if step > at || !now.was_given(piece, material) {
                    counted.entry((step, material)).or_insert((*quantity, 0)).1 += 1;
                }
            }
        }
    }
    let mut items = BTreeMap::new();
    for ((_, material), (quantity, pieces)) in counted {
        let Some(item) = record.batch.stock.get(material) else { continue };
        for take in taken(&[(material.clone(), quantity)], pieces)? {
            put(&mut items, *item, take.quantity)?;
        }
    }
    Ok(items)
}

/// What batches have reserved together.
///
/// # Errors
/// [`CostError`] as [`planned_take`].
pub fn reserved(records: &[BatchRecord]) -> Result<BTreeMap<ItemId, Quantity>, CostError> {
    let mut items = BTreeMap::new();
    for record in records {
        for (item, quantity) in ahead(record, &BatchNow::of(record))? {
            put(&mut items, item, quantity)?;
        }
    }
    Ok(items)
}

/// What a batch of so many pieces takes from stock as planned and if none is lost, before it is begun.
///
/// # Errors
/// [`CostError`] as [`planned_take`].
pub fn need(
    plan: &Design,
    stock: &BTreeMap<MaterialId, ItemId>,
    pieces: u32,
) -> Result<BTreeMap<ItemId, Quantity>, CostError> {
    let mut items = BTreeMap::new();
    for uses in piece::material_uses(plan)? {
        for take in taken(&uses, pieces)? {
            if let Some(item) = stock.get(&take.material) {
                put(&mut items, *item, take.quantity)?;
            }
        }
    }
    Ok(items)
}

fn put(items: &mut BTreeMap<ItemId, Quantity>, item: ItemId, quantity: Quantity) -> Result<(), TooLarge> {
    let sum = items.entry(item).or_default();
    *sum = sum.plus(quantity)?;
    Ok(())
}

/// An item there is too little of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shortage {
    /// The item.
    pub item: ItemId,
    /// What is needed, in its unit.
    pub needed: Quantity,
    /// What is on hand and not reserved for other batches; 0 where they have reserved more.
    pub free: Quantity,
    /// What is missing, above 0.
    pub missing: Quantity,
}

/// What is missing, by item; an item that is not in `on_hand` has none, one not in `reserved` is free.
///
/// # Errors
/// [`TooLarge`].
pub fn shortages(
    needed: &BTreeMap<ItemId, Quantity>,
    on_hand: &BTreeMap<ItemId, Quantity>,
    reserved: &BTreeMap<ItemId, Quantity>,
) -> Result<Vec<Shortage>, TooLarge> {
    let of = |items: &BTreeMap<ItemId, Quantity>, item| items.get(item).copied().unwrap_or_default();
    let mut short = Vec::new();
    for (item, needed) in needed {
        let free = of(on_hand, item).minus(of(reserved, item))?.max(Quantity::ZERO);
        let missing = needed.minus(free)?;
        if missing > Quantity::ZERO {
            short.push(Shortage { item: *item, needed: *needed, free, missing });
        }
    }
    Ok(short)
}

#[cfg(test)]
mod tests {
    use super::super::samples::{pieces, record};
    use super::*;
    use crate::costing::samples::{decimal, lantern_drop};
    use crate::studio::{BenchDeed, Measured, MovementId};

    fn grams(text: &str) -> Quantity {
        Quantity::new(decimal(text)).unwrap()
    }

    #[test]
    fn a_step_takes_what_the_route_says() {
        let plan = lantern_drop();
        let first = planned_take(&plan, 0, 12).unwrap();
        assert_eq!(first.len(), 2);
        assert!(first.iter().all(|take| take.quantity == grams("12")));
        // Per piece as the costing has it, times twelve.
        let cost = crate::costing::piece_cost(&plan).unwrap();
        let line = cost.material_lines.iter().find(|line| line.step == 2).unwrap();
        let coat = planned_take(&plan, 1, 12).unwrap();
        assert_eq!(coat[0].quantity.amount(), round(line.quantity * Decimal::from(12), 9).normalize());
        assert!(planned_take(&plan, 2, 12).unwrap().is_empty() && planned_take(&plan, 99, 12).unwrap().is_empty());
    }

    #[test]
    fn set_up_is_once_and_loads_are_whole() {
        let plan = lantern_drop();
        assert_eq!(planned_minutes(&plan, 0, 3, true), Ok(Decimal::from(15 + 24)));
        assert_eq!(planned_minutes(&plan, 0, 3, false), Ok(Decimal::from(24)));
        assert_eq!(planned_minutes(&plan, 2, 11, true), Ok(Decimal::from(18)), "three loads of six minutes");
        assert_eq!(planned_minutes(&plan, 99, 3, true), Ok(Decimal::ZERO));
    }

    #[test]
    fn what_was_taken_is_not_reserved_any_more() {
        let loops = MaterialId("loop".to_owned());
        let took = BenchDeed::Took {
            step: 0,
            pieces: pieces(1..=2),
            material: loops.clone(),
            movement: MovementId(1),
            quantity: grams("2"),
            how: Measured::Planned,
        };
        let started = BenchDeed::Started { pieces: pieces(1..=5) };
        let passed = BenchDeed::Passed { step: 0, pieces: pieces(1..=1) };
        let back = BenchDeed::SentBack { to: 0, pieces: pieces(1..=1), why: String::new() };
        let reserved_after = |deeds: Vec<BenchDeed>| {
            let mut record = record(lantern_drop(), deeds);
            record.batch.stock.insert(loops.clone(), ItemId(4));
            reserved(&[record]).unwrap().get(&ItemId(4)).copied().unwrap_or_default()
        };
        assert_eq!(reserved_after(vec![started.clone()]), grams("5"));
        assert_eq!(reserved_after(vec![started.clone(), took.clone()]), grams("3"));
        assert_eq!(reserved_after(vec![started.clone(), took.clone(), passed.clone()]), grams("3"));
        assert_eq!(reserved_after(vec![started, took, passed, back]), grams("4"), "to be done again");
        let all = need(&lantern_drop(), &BTreeMap::from([(loops, ItemId(4))]), 5).unwrap();
        assert_eq!(all, BTreeMap::from([(ItemId(4), grams("5"))]));
    }

    #[test]
    fn a_shortage_leaves_out_what_others_reserved() {
        let of = |text| BTreeMap::from([(ItemId(1), grams(text))]);
        let short = shortages(&of("10"), &of("12"), &of("5")).unwrap();
        assert_eq!(short, [Shortage { item: ItemId(1), needed: grams("10"), free: grams("7"), missing: grams("3") }]);
        assert!(shortages(&of("10"), &of("10"), &BTreeMap::new()).unwrap().is_empty());
        assert_eq!(shortages(&of("1"), &of("1"), &of("9")).unwrap()[0].free, Quantity::ZERO);
    }
}
