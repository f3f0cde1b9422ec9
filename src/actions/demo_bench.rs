//! The demo studio's bench, through the same actions a person's entries go through.

use super::bench_action::{NewBatch, PieceLost, StepDone, StepMaterials, StepMinutes};
use super::{Added, Refusal, batches, kilns, loads, tiles};
use crate::book::{Change, batch};
use crate::costing::batch::BatchNow;
use crate::exchange::demo::bench::{DemoBatch, DemoBench, DemoDeed, DemoTile, DemoWork};
use crate::measure::Decimal;
use crate::studio::{
    BatchId, BatchRecord, Charged, DesignCode, DesignId, FiringResult, ItemId, KilnDay, KilnId, Load, LossKind,
    PieceId, TestTile,
};
use chrono::Duration;
use rust_decimal::prelude::ToPrimitive;
use std::collections::BTreeMap;

/// What the demo's tables name, with its rows in the book.
pub(super) struct Rows<'a> {
    pub(super) items: &'a BTreeMap<String, ItemId>,
    pub(super) designs: &'a BTreeMap<DesignCode, DesignId>,
}

fn missing(what: &str) -> Refusal {
    Refusal::Missing(format!("{what} in the demo studio"))
}

/// Lets happen what happened at the demo studio's bench.
pub(super) fn load(change: &Change<'_>, bench: &DemoBench, rows: &Rows<'_>) -> Result<(), Refusal> {
    let Some(Added::Kiln(kiln)) = kilns::save(change, None, &bench.kiln)?.added else {
        return Err(missing("kiln"));
    };
    for day in &bench.days {
        let day = KilnDay {
            kiln,
            date: day.on_at.date(),
            on_at: day.on_at,
            hot_at: Some(day.hot_at),
            off_at: Some(day.off_at),
            hold_celsius: day.hold_celsius,
            meter_kwh: Some(day.meter_kwh),
            note: String::new(),
        };
        kilns::save_day(change, None, &day)?;
    }
    let mut begun: BTreeMap<&str, BatchId> = BTreeMap::new();
    let mut waiting = bench.batches.iter().peekable();
    for deed in &bench.deeds {
        while let Some(next) = waiting.next_if(|next| next.date <= deed.date) {
            begun.insert(&next.key, start(change, next, rows)?);
        }
        let id = *begun.get(deed.batch.as_str()).ok_or_else(|| missing(&format!("batch {}", deed.batch)))?;
        work(change, deed, id, kiln)?;
    }
    for one in &bench.tiles {
        tiles::save(change, None, &tile(one, rows)?)?;
    }
    Ok(())
}

fn start(change: &Change<'_>, new: &DemoBatch, rows: &Rows<'_>) -> Result<BatchId, Refusal> {
    let design = *rows.designs.get(&new.design).ok_or_else(|| missing(&format!("design {}", new.design)))?;
    let new = NewBatch { design, name: new.name.clone(), pieces: new.pieces, date: new.date, note: new.note.clone() };
    match batches::start(change, &new)?.added {
        Some(Added::Batch(id)) => Ok(id),
        _ => Err(missing("batch")),
    }
}

/// The pieces at these places of their batch; all of those that wait where none are named.
fn at_places(record: &BatchRecord, waiting: Vec<PieceId>, places: Option<&[u32]>) -> Vec<PieceId> {
    let Some(places) = places else { return waiting };
    let named = record.pieces.iter().filter(|piece| places.contains(&piece.place)).map(|piece| piece.id);
    named.filter(|id| waiting.contains(id)).collect()
}

fn work(change: &Change<'_>, deed: &DemoDeed, id: BatchId, kiln: KilnId) -> Result<(), Refusal> {
    let record = batch::find(change.reader(), id)?.ok_or_else(|| missing("batch"))?;
    let now = BatchNow::of(&record);
    let chosen = |waiting: Vec<PieceId>| at_places(&record, waiting, deed.pieces.as_deref());
    match &deed.what {
        DemoWork::Done(step, minutes) => {
            let step = step.saturating_sub(1);
            let done = StepDone {
                batch: id,
                step,
                pieces: chosen(now.waiting(step)),
                date: deed.date,
                minutes: StepMinutes::Typed(*minutes),
                materials: StepMaterials::AsPlanned,
                lost: Vec::new(),
            };
            batches::do_step(change, &done)?;
        }
        DemoWork::Fire { step, closed_at, celsius, minutes, read } => {
            let step = step.saturating_sub(1);
            let seconds = (*minutes * Decimal::from(60)).to_i64().unwrap_or_default();
            let area_cm2 = crate::costing::load_check::shelf_area(&record.batch.plan)
                .map_err(|problem| Refusal::No(problem.to_string()))?;
            let charge = chosen(now.waiting(step)).into_iter().map(|piece| Charged {
                piece,
                batch: id,
                step,
                area_cm2,
                result: Some(FiringResult::Good),
            });
            let fired = Load {
                kiln,
                closed_at: *closed_at,
                opened_at: Some(*closed_at + Duration::seconds(seconds)),
                set_celsius: *celsius,
                read_celsius: Some(*read),
                asked_minutes: *minutes,
                attended_minutes: None,
                charge: charge.collect(),
                override_words: String::new(),
                note: deed.note.clone(),
            };
            loads::log(change, &fired)?;
        }
        DemoWork::Lost(cause) => {
            let at_work: Vec<PieceId> = record.pieces.iter().map(|piece| piece.id).collect();
            let lost: Vec<PieceLost> = chosen(at_work)
                .into_iter()
                .map(|piece| PieceLost { piece, cause: *cause, kind: LossKind::Normal, note: deed.note.clone() })
                .collect();
            batches::lose(change, id, &lost, deed.date)?;
        }
        DemoWork::Finish(seconds) => {
            let done = chosen(now.done());
            let of_places = |piece: &&crate::studio::Piece| seconds.contains(&piece.place);
            let seconds: Vec<PieceId> = record.pieces.iter().filter(of_places).map(|piece| piece.id).collect();
            batches::finish(change, id, &done, &seconds, deed.date)?;
        }
    }
    Ok(())
}

fn tile(one: &DemoTile, rows: &Rows<'_>) -> Result<TestTile, Refusal> {
    let layer =
        |reference: &String| rows.items.get(reference).copied().ok_or_else(|| missing(&format!("item {reference}")));
    Ok(TestTile {
        date: one.date,
        metal: one.metal,
        layers: one.layers.iter().map(layer).collect::<Result<_, _>>()?,
        celsius: one.celsius,
        minutes: one.minutes,
        firings: one.firings,
        verdict: one.verdict,
        colour_words: one.words.clone(),
        colour: Some(one.colour),
        note: one.note.clone(),
        load: None,
        retired: false,
    })
}
