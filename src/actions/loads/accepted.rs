//! What a load must be before it is written: its fields, its kiln, its pieces, its heat.

use crate::actions::heat_limits::{attended, celsius, clock, firing_celsius, minutes};
use crate::actions::limits::{self, refuse};
use crate::actions::{Refusal, kilns};
use crate::book::{Reader, batch, bench_entry, document, load};
use crate::costing::batch::{BatchNow, Standing};
use crate::costing::cautions::Level;
use crate::costing::load_check::{self, KilnLimits, LoadPiece, done_steps, shelf_area};
use crate::kiln::limits::limits as kiln_limits;
use crate::measure::{Decimal, exact};
use crate::studio::{BatchId, BatchRecord, BatchState, BenchDeed, HeatSource, Kiln, Load, LoadId, PieceId, StepKind};
use chrono::{NaiveDate, NaiveDateTime};
use std::collections::{BTreeMap, BTreeSet};

/// What is typed to fire past a stop; it is kept in the load.
pub const OVERRIDE_WORDS: &str = "fire anyway";

/// Most pieces of a load.
const MOST_PIECES: usize = 1_000;

/// The kiln of a load, not set aside.
pub(super) fn kiln(reader: Reader<'_>, load: &Load) -> Result<Kiln, Refusal> {
    let kiln = kilns::find(reader, load.kiln)?;
    if kiln.retired {
        return Err(refuse("Kiln", kiln.name, "a kiln or torch that is not set aside is accepted"));
    }
    Ok(kiln)
}

/// The fields of a load by themselves.
pub(super) fn fields(load: &Load, kiln: &Kiln) -> Result<(), Refusal> {
    limits::date("Door closed", load.closed_at.date())?;
    firing_celsius("Temperature set", load.set_celsius)?;
    if let Some(read) = load.read_celsius {
        celsius("Temperature read", read)?;
    }
    minutes("Minutes", load.asked_minutes)?;
    if let Some(hands_on) = load.attended_minutes {
        attended("Hands-on minutes", hands_on)?;
    }
    limits::text("Note", &load.note)?;
    if load.charge.is_empty() || load.charge.len() > MOST_PIECES {
        return Err(refuse("Pieces", load.charge.len(), "1 to 1,000 pieces are accepted"));
    }
    if matches!(kiln.heat, HeatSource::Torch) && load.charge.len() > 1 {
        return Err(refuse("Pieces", load.charge.len(), format!("one piece is accepted: {} is a torch", kiln.name)));
    }
    let mut seen = BTreeSet::new();
    for charged in &load.charge {
        if !seen.insert(charged.piece) {
            return Err(refuse(
                "Pieces",
                format!("piece row {} twice", charged.piece.0),
                "each piece once is accepted",
            ));
        }
    }
    Ok(())
}

/// Refuses a load that is in the kiln together with another.
pub(super) fn alone(reader: Reader<'_>, load: &Load, until: NaiveDateTime) -> Result<(), Refusal> {
    alone_but(reader, load, until, None)
}

/// The same, but for one that is written down as itself.
pub(super) fn alone_but(
    reader: Reader<'_>,
    load: &Load,
    until: NaiveDateTime,
    own: Option<LoadId>,
) -> Result<(), Refusal> {
    let inside = load::in_kiln(reader, load.kiln, load.closed_at, until)?;
    let Some(other) = inside.into_iter().find(|other| Some(other.id) != own) else { return Ok(()) };
    let (closed, opened) = (other.load.closed_at, other.load.opened_at);
    let end = opened.map_or_else(|| "is still closed".to_owned(), |opened| format!("was opened at {}", clock(opened)));
    let accepted = format!(
        "a time at which this kiln has no other load is accepted: the door was closed on one at {} and {end}",
        clock(closed)
    );
    Err(refuse("Door closed", clock(load.closed_at), accepted))
}

/// The batches of a load's pieces.
pub(super) fn records(reader: Reader<'_>, load: &Load) -> Result<BTreeMap<BatchId, BatchRecord>, Refusal> {
    let mut records = BTreeMap::new();
    for charged in &load.charge {
        if !records.contains_key(&charged.batch) {
            let found = batch::find(reader, charged.batch)?
                .ok_or_else(|| Refusal::Missing(format!("batch with row {}", charged.batch.0)))?;
            records.insert(charged.batch, found);
        }
    }
    Ok(records)
}

/// Refuses pieces that do not wait for just that firing, or whose area is not theirs; hands their batches back.
pub(super) fn charge(reader: Reader<'_>, load: &Load) -> Result<BTreeMap<BatchId, BatchRecord>, Refusal> {
    let records = records(reader, load)?;
    let now: BTreeMap<BatchId, BatchNow> = records.iter().map(|(id, record)| (*id, BatchNow::of(record))).collect();
    let in_kiln: BTreeSet<PieceId> = load::firing(reader)?
        .iter()
        .flat_map(|firing| firing.load.charge.iter().map(|charged| charged.piece))
        .collect();
    let mut areas: BTreeMap<BatchId, Decimal> = BTreeMap::new();
    for charged in &load.charge {
        let Some(record) = records.get(&charged.batch) else { continue };
        let who = words(record, charged.piece);
        let number = charged.step + 1;
        if record.batch.state != BatchState::Open {
            let accepted = "pieces of a batch with pieces at work are accepted";
            return Err(refuse("Pieces", format!("{who}, which is {}", record.batch.state.name()), accepted));
        }
        let step = record.batch.plan.steps.get(charged.step);
        if !step.is_some_and(|step| matches!(step.kind, StepKind::Fire(_))) {
            return Err(refuse("Pieces", format!("{who} at step {number}"), "a step that is a firing is accepted"));
        }
        let standing = now.get(&charged.batch).and_then(|now| now.standing(charged.piece));
        if standing != Some(Standing::At(charged.step)) {
            let is = match standing {
                Some(Standing::At(at)) => format!("{who}, which waits for step {}", at + 1),
                Some(Standing::Done) => format!("{who}, which is through its route"),
                Some(Standing::Finished) => format!("{who}, which is finished"),
                Some(Standing::Lost { .. }) => format!("{who}, which is lost"),
                Some(Standing::Given(_)) | None => format!("{who}, which is not in it"),
            };
            return Err(refuse("Pieces", is, format!("a piece that waits for step {number} is accepted")));
        }
        if in_kiln.contains(&charged.piece) {
            return Err(refuse("Pieces", format!("{who}, which is in the kiln"), "a piece that waits is accepted"));
        }
        let area = match areas.get(&charged.batch) {
            Some(area) => *area,
            None => {
                let area = shelf_area(&record.batch.plan).map_err(|error| Refusal::No(error.to_string()))?;
                areas.insert(charged.batch, area);
                area
            }
        };
        if charged.area_cm2 != area {
            return Err(refuse(
                "Area on the shelf",
                format!("{} cm² for {who}", charged.area_cm2),
                format!("{area} cm² is accepted: the rectangle around its outline times its blanks"),
            ));
        }
    }
    Ok(records)
}

fn words(record: &BatchRecord, piece: PieceId) -> String {
    match record.pieces.iter().find(|held| held.id == piece) {
        Some(held) => format!("piece {} of batch {}", held.place, record.batch.number),
        None => format!("piece row {} of batch {}", piece.0, record.batch.number),
    }
}

/// Refuses a day before something that was written to one of the batches.
pub(super) fn not_before_entries(
    reader: Reader<'_>,
    records: &BTreeMap<BatchId, BatchRecord>,
    field: &str,
    date: NaiveDate,
) -> Result<(), Refusal> {
    for (id, record) in records {
        if let Some(last) = bench_entry::last_day(reader, *id)?.filter(|last| date < *last) {
            let accepted = format!(
                "{last} or later is accepted: something was written down for batch {} that day",
                record.batch.number
            );
            return Err(refuse(field, date, accepted));
        }
    }
    Ok(())
}

/// Refuses a shelf that is too small and, without the words that override it, a stop. The words are kept where there was
/// a stop, and only there.
pub(super) fn heat(
    reader: Reader<'_>,
    new: &mut Load,
    kiln: &Kiln,
    records: &BTreeMap<BatchId, BatchRecord>,
) -> Result<(), Refusal> {
    let limits = kiln_limits(kiln).map_err(|error| Refusal::No(format!("{}: {error}", kiln.name)))?;
    accept_shelf(new, &limits)?;
    let before = ancestors(reader, records)?;
    let mut done = done_steps(records.values().chain(before.values()));
    let pieces: Vec<LoadPiece<'_>> = new
        .charge
        .iter()
        .filter_map(|charged| {
            let record = records.get(&charged.batch)?;
            Some(LoadPiece {
                piece: charged.piece,
                batch: charged.batch,
                words: words(record, charged.piece),
                plan: &record.batch.plan,
                step: charged.step,
                done: done.remove(&charged.piece).unwrap_or_default(),
            })
        })
        .collect();
    let rates = document::rates(reader)?;
    let check = load_check::check(&pieces, &limits, new.set_celsius, new.asked_minutes, &rates)
        .map_err(|error| Refusal::No(error.to_string()))?;
    let typed = new.override_words.trim();
    match check.cautions.iter().find(|caution| caution.level == Level::Stop) {
        None => new.override_words = String::new(),
        Some(_) if typed.eq_ignore_ascii_case(OVERRIDE_WORDS) => new.override_words = OVERRIDE_WORDS.to_owned(),
        Some(stop) => {
            let up_to = check.ceiling.map_or_else(String::new, |ceiling| {
                let upto = if ceiling.below { "below " } else { "up to " };
                format!("{upto}{} °C is accepted ({})", ceiling.celsius.normalize(), ceiling.text)
            });
            return Err(refuse(
                "Temperature set",
                format!("{} °C", new.set_celsius.normalize()),
                format!("{}; {up_to}, or “{OVERRIDE_WORDS}” typed to fire past it", stop.text),
            ));
        }
    }
    Ok(())
}

fn accept_shelf(load: &Load, limits: &KilnLimits) -> Result<(), Refusal> {
    let Some(shelf) = limits.shelf_cm2 else { return Ok(()) };
    let area = exact::sum(load.charge.iter().map(|charged| charged.area_cm2))
        .map_err(|error| Refusal::No(error.to_string()))?;
    if area > shelf {
        return Err(refuse(
            "Pieces",
            format!("{} cm² of pieces", area.normalize()),
            format!("up to {} cm², the shelf of {}, is accepted", shelf.normalize(), limits.name),
        ));
    }
    Ok(())
}

/// The batches from which pieces of these came, and those from which these came.
pub(in crate::actions) fn ancestors(
    reader: Reader<'_>,
    records: &BTreeMap<BatchId, BatchRecord>,
) -> Result<BTreeMap<BatchId, BatchRecord>, Refusal> {
    let from = |record: &BatchRecord| -> Vec<BatchId> {
        let came = record.entries.iter().filter_map(|entry| match &entry.deed {
            BenchDeed::Got { from, .. } => Some(*from),
            _ => None,
        });
        came.collect()
    };
    let mut wanted: Vec<BatchId> = records.values().flat_map(from).collect();
    let mut found: BTreeMap<BatchId, BatchRecord> = BTreeMap::new();
    while let Some(id) = wanted.pop() {
        if records.contains_key(&id) || found.contains_key(&id) {
            continue;
        }
        if let Some(record) = batch::find(reader, id)? {
            wanted.extend(from(&record));
            found.insert(id, record);
        }
    }
    Ok(found)
}
