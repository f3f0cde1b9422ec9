//! Loads of the kiln: the door closes, the door opens, and what came of the pieces is written to their batches.

mod accepted;
mod written;

use super::bench_action::DoorOpened;
use super::heat_limits::{clock, day_words, minutes, not_before};
use super::limits::refuse;
use super::perform::Done;
use super::{Added, Refusal, kilns, photos};
use crate::book::{Change, Reader, document, load};
use crate::measure::{Decimal, Preferences, display};
use crate::studio::{BookLoad, FiringResult, Load, LoadId, LossCause, PieceId};
use chrono::{Duration, NaiveDateTime, Timelike};
use std::collections::{BTreeMap, BTreeSet};

pub use accepted::OVERRIDE_WORDS;

/// Longest a load may be in the kiln, hours.
const MOST_HOURS: i64 = 48;

/// Closes the door on a load.
pub(super) fn close_door(change: &Change<'_>, given: &Load) -> Result<Done, Refusal> {
    let reader = change.reader();
    let mut new = Load { closed_at: to_the_second(given.closed_at), ..given.clone() };
    if let Some(opened) = new.opened_at {
        return Err(refuse("Door opened", clock(opened), "no time is accepted while the door is closed"));
    }
    if new.charge.iter().any(|charged| charged.result.is_some()) {
        return Err(refuse("Result", "a result", "none is accepted while the door is closed"));
    }
    let kiln = accepted::kiln(reader, &new)?;
    accepted::fields(&new, &kiln)?;
    if let Some(inside) = load::firing(reader)?.iter().find(|firing| firing.load.kiln == new.kiln) {
        return Err(refuse(
            "Kiln",
            &kiln.name,
            format!(
                "a kiln without a load is accepted: the door was closed on one at {}; open it first",
                clock(inside.load.closed_at)
            ),
        ));
    }
    let far = new.closed_at + Duration::hours(MOST_HOURS);
    accepted::alone(reader, &new, far)?;
    let records = accepted::charge(reader, &new)?;
    accepted::not_before_entries(reader, &records, "Door closed", new.closed_at.date())?;
    accepted::heat(reader, &mut new, &kiln, &records)?;
    let row = load::insert(change, &new)?;
    let name = format!("Close the door on {} at {} °C", pieces(new.charge.len()), new.set_celsius.normalize());
    Ok(Done::adding(name, Added::Load(row)))
}

/// Changes the minutes asked for of a load that fires.
pub(super) fn ask_minutes(change: &Change<'_>, id: LoadId, asked: Decimal) -> Result<Done, Refusal> {
    let before = firing(change.reader(), id)?;
    minutes("Minutes", asked)?;
    let kiln = kilns::find(change.reader(), before.kiln)?;
    load::update(change, id, &Load { asked_minutes: asked, ..before })?;
    let preferences = Preferences::from(&document::settings(change.reader())?);
    Ok(Done::named(format!("Ask {} in the heat of the load in {}", display::minutes(asked, &preferences), kiln.name)))
}

/// Opens the door.
pub(super) fn open_door(change: &Change<'_>, opened: &DoorOpened) -> Result<Done, Refusal> {
    let reader = change.reader();
    let before = firing(reader, opened.load)?;
    let kiln = kilns::find(reader, before.kiln)?;
    let mut results = results(&before, &opened.results)?;
    let mut new = Load {
        opened_at: Some(to_the_second(opened.at)),
        read_celsius: opened.read_celsius,
        attended_minutes: opened.attended_minutes,
        ..before
    };
    if !opened.note.is_empty() {
        new.note = opened.note.clone();
    }
    for charged in &mut new.charge {
        charged.result = Some(results.remove(&charged.piece).unwrap_or(FiringResult::Good));
    }
    accepted::fields(&new, &kiln)?;
    let at = in_order(&new)?;
    accepted::alone_but(reader, &new, at, Some(opened.load))?;
    let records = accepted::records(reader, &new)?;
    accepted::not_before_entries(reader, &records, "Door opened", at.date())?;
    load::update(change, opened.load, &new)?;
    written::write(change, opened.load, &new, &records, at.date())?;
    Ok(Done::named(sentence(&new)))
}

/// Writes a load down that was fired already.
pub(super) fn log(change: &Change<'_>, given: &Load) -> Result<Done, Refusal> {
    let reader = change.reader();
    let mut new = Load {
        closed_at: to_the_second(given.closed_at),
        opened_at: given.opened_at.map(to_the_second),
        ..given.clone()
    };
    let kiln = accepted::kiln(reader, &new)?;
    accepted::fields(&new, &kiln)?;
    let at = in_order(&new)?;
    accepted::alone(reader, &new, at)?;
    if new.charge.iter().any(|charged| charged.result.is_none()) {
        return Err(refuse("Result", "nothing", "a result for each piece is accepted: good, again or lost"));
    }
    let records = accepted::charge(reader, &new)?;
    accepted::not_before_entries(reader, &records, "Door opened", at.date())?;
    accepted::heat(reader, &mut new, &kiln, &records)?;
    let row = load::insert(change, &new)?;
    written::write(change, row, &new, &records, at.date())?;
    Ok(Done::adding(sentence(&new), Added::Load(row)))
}

/// Gives a load a photo, or takes it away.
pub(super) fn set_photo(change: &Change<'_>, id: LoadId, png: Option<&[u8]>) -> Result<Done, Refusal> {
    let found = find(change.reader(), id)?;
    let of = day_words(found.load.closed_at.date());
    let name = match png {
        Some(png) => {
            photos::accept(png)?;
            format!("Give the load of {of} a photo")
        }
        None if !found.has_photo => return Err(Refusal::No(format!("the load of {of} has no photo"))),
        None => format!("Take the photo of the load of {of} away"),
    };
    load::set_photo(change, id, png)?;
    Ok(Done::named(name))
}

/// No such load.
pub(super) fn missing(id: LoadId) -> Refusal {
    Refusal::Missing(format!("load with row {}", id.0))
}

fn find(reader: Reader<'_>, id: LoadId) -> Result<BookLoad, Refusal> {
    load::find(reader, id)?.ok_or_else(|| missing(id))
}

/// A load the door is closed on.
fn firing(reader: Reader<'_>, id: LoadId) -> Result<Load, Refusal> {
    let found = find(reader, id)?.load;
    match found.opened_at {
        Some(opened) => Err(Refusal::No(format!("the door of this load was opened at {} already", clock(opened)))),
        None => Ok(found),
    }
}

/// A book keeps times to the second.
fn to_the_second(time: NaiveDateTime) -> NaiveDateTime {
    time.with_nanosecond(0).unwrap_or(time)
}

/// When the door was opened, after it was closed.
fn in_order(load: &Load) -> Result<NaiveDateTime, Refusal> {
    let Some(opened) = load.opened_at else {
        return Err(refuse("Door opened", "nothing", "a date and time is accepted"));
    };
    not_before("Door opened", opened, load.closed_at + Duration::seconds(1), "the door was closed a second before")?;
    let latest = load.closed_at + Duration::hours(MOST_HOURS);
    if opened > latest {
        let accepted = format!("{} or earlier is accepted: a load is up to {MOST_HOURS} hours", clock(latest));
        return Err(refuse("Door opened", clock(opened), accepted));
    }
    Ok(opened)
}

/// What came of the pieces that are named, each once, each in the load.
fn results(load: &Load, given: &[(PieceId, FiringResult)]) -> Result<BTreeMap<PieceId, FiringResult>, Refusal> {
    let inside: BTreeSet<PieceId> = load.charge.iter().map(|charged| charged.piece).collect();
    let mut results = BTreeMap::new();
    for (piece, result) in given {
        if !inside.contains(piece) {
            return Err(refuse("Result", format!("piece row {}", piece.0), "a piece of this load is accepted"));
        }
        if results.insert(*piece, result.clone()).is_some() {
            return Err(refuse("Result", format!("piece row {} twice", piece.0), "one result a piece is accepted"));
        }
    }
    Ok(results)
}

fn pieces(count: usize) -> String {
    if count == 1 { "1 piece".to_owned() } else { format!("{count} pieces") }
}

/// “Load of 9 pieces: 8 good, 1 cracked”.
fn sentence(load: &Load) -> String {
    let (mut good, mut again) = (0_usize, 0_usize);
    let mut lost: BTreeMap<LossCause, usize> = BTreeMap::new();
    for charged in &load.charge {
        match &charged.result {
            Some(FiringResult::Again) => again += 1,
            Some(FiringResult::Lost { cause, .. }) => *lost.entry(*cause).or_default() += 1,
            Some(FiringResult::Good) | None => good += 1,
        }
    }
    let mut parts = Vec::new();
    let again = (again > 0).then(|| (again, "to go in again".to_owned()));
    let good = (good > 0).then(|| (good, "good".to_owned()));
    let lost = lost.into_iter().map(|(cause, count)| match cause {
        LossCause::Other => (count, "lost".to_owned()),
        cause => (count, cause.words().to_owned()),
    });
    for (count, words) in good.into_iter().chain(again).chain(lost) {
        parts.push(format!("{count} {words}"));
    }
    format!("Load of {}: {}", pieces(load.charge.len()), parts.join(", "))
}
