//! What a sound book says of its kilns: loads are not in one kiln together, what they hold is what their batches say, and
//! a kiln has at most one day of a date.

use super::heat_limits::clock;
use crate::book::{BookError, Reader, bench_entry, kiln, load};
use crate::studio::{BatchId, BenchDeed, BookLoad, KilnId, LoadId, PieceId};
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

/// A piece in a load: its batch at that time, and the firing.
type Place = (PieceId, BatchId, usize);

/// What is wrong, a sentence each.
pub(super) fn problems(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let loads = load::by_kiln(reader)?;
    let mut found = overlaps(&loads);
    let mut rows: BTreeMap<LoadId, BTreeSet<(PieceId, BatchId)>> = BTreeMap::new();
    for (id, piece, batch) in load::places(reader)? {
        rows.entry(id).or_default().insert((piece, batch));
    }
    let mut fired: BTreeMap<LoadId, BTreeSet<Place>> = BTreeMap::new();
    for entry in bench_entry::firings(reader)? {
        if let BenchDeed::Fired { step, pieces, load } = &entry.deed {
            let places = fired.entry(*load).or_default();
            for piece in pieces {
                if !places.insert((*piece, entry.batch, *step)) {
                    found.push(format!("load {}: piece {} is written down twice", load.0, piece.0));
                }
            }
        }
    }
    for load in &loads {
        let (id, charge) = (load.id, &load.load.charge);
        let held: BTreeSet<Place> = charge.iter().map(|one| (one.piece, one.batch, one.step)).collect();
        let listed: BTreeSet<(PieceId, BatchId)> = held.iter().map(|(piece, batch, _)| (*piece, *batch)).collect();
        if held.len() != charge.len() || rows.remove(&id).unwrap_or_default() != listed {
            found.push(format!("load {}: the pieces it holds are not those it is listed with", id.0));
        }
        let written = fired.remove(&id).unwrap_or_default();
        let opened = load.load.opened_at.is_some();
        if opened && written != held {
            found.push(format!("load {}: the pieces it holds are not those their batches say were fired in it", id.0));
        }
        if !opened && !written.is_empty() {
            found.push(format!("load {}: its door is closed, but batches say what was fired in it", id.0));
        }
        if charge.iter().any(|one| one.result.is_some() != opened) {
            found.push(format!("load {}: a piece has no result, or has one while the door is closed", id.0));
        }
    }
    if !fired.is_empty() {
        found.push(format!("{} loads that batches name are not there", fired.len()));
    }
    found.extend(days(reader)?);
    Ok(found)
}

/// Loads of one kiln, in order of time, that are in it together.
fn overlaps(loads: &[BookLoad]) -> Vec<String> {
    let mut found = Vec::new();
    for (one, next) in loads.iter().zip(loads.iter().skip(1)) {
        if let Some(opened) = one.load.opened_at
            && opened < one.load.closed_at
        {
            found.push(format!("load {}: opened at {} before it was closed", one.id.0, clock(opened)));
        }
        if one.load.kiln == next.load.kiln && one.load.opened_at.is_none_or(|opened| opened > next.load.closed_at) {
            found.push(format!(
                "loads {} and {} are in one kiln together at {}",
                one.id.0,
                next.id.0,
                clock(next.load.closed_at)
            ));
        }
    }
    found
}

fn days(reader: Reader<'_>) -> Result<Vec<String>, BookError> {
    let mut found = Vec::new();
    let mut seen: BTreeSet<(KilnId, NaiveDate)> = BTreeSet::new();
    for (id, day) in kiln::every_day(reader)? {
        if day.day.kiln != id {
            found.push(format!("kiln day {}: it is listed with another kiln", day.id.0));
        }
        if !seen.insert((day.day.kiln, day.day.date)) {
            found.push(format!("kiln day {}: another of {} is written down", day.id.0, day.day.date));
        }
    }
    Ok(found)
}
