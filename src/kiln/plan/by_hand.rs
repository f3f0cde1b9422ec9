//! A plan changed by hand: what is moved is timed anew, and what it would break is told.

use super::timing::{Batch, timed_for};
use super::{Breach, Fired, Firing, KilnPlan, PlanAsk, Proof, check};
use std::collections::BTreeMap;

/// Where a firing is put.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Into the load with this number, from 0.
    Into(usize),
    /// Into a load of its own that comes before the load with this number; after the last for the number of loads.
    Before(usize),
}

/// A plan with one load at another place of the order, both from 0; the two finishes show the effect. Temperatures stay as
/// they are; loads begin as soon as they can.
///
/// # Errors
/// Every [`Breach`] of the plan that would come of it.
pub fn moved(ask: &PlanAsk, plan: &KilnPlan, load: usize, to_place: usize) -> Result<KilnPlan, Vec<Breach>> {
    let mut batches = batches(ask, plan)?;
    for number in [load, to_place] {
        if number >= batches.len() {
            return Err(vec![Breach::NoLoad { load: number }]);
        }
    }
    let batch = batches.remove(load);
    batches.insert(to_place, batch);
    replanned(ask, plan, &batches)
}

/// A plan with one firing of a piece in another load. A load it joins keeps its temperature where the firing accepts it,
/// else goes to the nearest that all accept; a load it leaves alone is dropped; loads begin as soon as they can.
///
/// # Errors
/// Every [`Breach`] of the plan that would come of it.
pub fn moved_piece(ask: &PlanAsk, plan: &KilnPlan, fired: Fired, to: Place) -> Result<KilnPlan, Vec<Breach>> {
    let mut batches = batches(ask, plan)?;
    let piece = ask.pieces.iter().position(|piece| piece.key == fired.piece);
    let wanted = piece.map(|piece| (piece, fired.firing));
    let from = batches.iter().position(|batch| wanted.is_some_and(|wanted| batch.fired.contains(&wanted)));
    let (Some(wanted), Some(from)) = (wanted, from) else { return Err(vec![Breach::Unknown { fired }]) };
    let Some(celsius) = batches.get(from).map(|batch| batch.celsius) else {
        return Err(vec![Breach::NoLoad { load: from }]);
    };
    match to {
        Place::Into(load) => {
            if load == from {
                return Ok(plan.clone());
            }
            let Some(batch) = batches.get_mut(load) else { return Err(vec![Breach::NoLoad { load }]) };
            batch.fired.push(wanted);
            let firings: Vec<Firing> = batch.fired.iter().filter_map(|(p, f)| firing(ask, *p, *f)).collect();
            if let Ok(shared) = super::share(&firings) {
                let highest = shared.highest_c.min(ask.holds_c());
                batch.celsius = batch.celsius.clamp(shared.lowest_c, highest.max(shared.lowest_c));
            }
            take_out(&mut batches, from, wanted);
        }
        Place::Before(load) => {
            if load > batches.len() {
                return Err(vec![Breach::NoLoad { load }]);
            }
            take_out_kept(&mut batches, from, wanted);
            batches.insert(load, Batch { celsius, fired: vec![wanted] });
            batches.retain(|batch| !batch.fired.is_empty());
        }
    }
    replanned(ask, plan, &batches)
}

fn firing(ask: &PlanAsk, piece: usize, firing: usize) -> Option<Firing> {
    ask.pieces.get(piece).and_then(|piece| piece.firings.get(firing)).copied()
}

/// Takes a firing out of a load.
fn take_out_kept(batches: &mut [Batch], from: usize, wanted: (usize, usize)) {
    if let Some(batch) = batches.get_mut(from) {
        batch.fired.retain(|fired| *fired != wanted);
    }
}

/// Takes a firing out of a load, and the load out where it was alone.
fn take_out(batches: &mut Vec<Batch>, from: usize, wanted: (usize, usize)) {
    take_out_kept(batches, from, wanted);
    batches.retain(|batch| !batch.fired.is_empty());
}

/// The loads of a plan with the places of their pieces in the question.
fn batches(ask: &PlanAsk, plan: &KilnPlan) -> Result<Vec<Batch>, Vec<Breach>> {
    let places: BTreeMap<u64, usize> = ask.pieces.iter().enumerate().map(|(place, piece)| (piece.key, place)).collect();
    let mut batches = Vec::with_capacity(plan.loads.len());
    for load in &plan.loads {
        let mut fired = Vec::with_capacity(load.pieces.len());
        for one in &load.pieces {
            let place = places.get(&one.piece).filter(|place| firing(ask, **place, one.firing).is_some());
            fired.push((*place.ok_or_else(|| vec![Breach::Unknown { fired: *one }])?, one.firing));
        }
        batches.push(Batch { celsius: load.celsius, fired });
    }
    Ok(batches)
}

/// The plan of loads in a new order, where it breaks nothing.
fn replanned(ask: &PlanAsk, plan: &KilnPlan, batches: &[Batch]) -> Result<KilnPlan, Vec<Breach>> {
    let timed = timed_for(ask, batches);
    let proof = if timed.finish == plan.bound { Proof::Soonest } else { Proof::Bounded };
    let result = timed.into_plan(ask, batches, plan.bound, proof);
    let breaches = check(ask, &result);
    if breaches.is_empty() { Ok(result) } else { Err(breaches) }
}
