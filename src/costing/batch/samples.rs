//! Batches the unit tests share.

use crate::studio::{
    Batch, BatchId, BatchRecord, BatchState, BenchDeed, BenchEntry, Design, DesignId, EntryId, Piece, PieceId,
};
use chrono::NaiveDate;
use std::collections::BTreeMap;

pub(crate) fn day(day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 3, day).unwrap()
}

pub(crate) fn pieces(range: std::ops::RangeInclusive<i64>) -> Vec<PieceId> {
    range.map(PieceId).collect()
}

/// A batch of that plan with these deeds, all on one day, its pieces those it begins with.
pub(crate) fn record(plan: Design, deeds: Vec<BenchDeed>) -> BatchRecord {
    let begun = deeds.iter().find_map(|deed| match deed {
        BenchDeed::Started { pieces } => Some(pieces.clone()),
        _ => None,
    });
    let piece = |(id, place): (PieceId, u32)| Piece {
        id,
        batch: BatchId(1),
        place,
        number: None,
        finished: None,
        second: false,
        note: String::new(),
    };
    BatchRecord {
        id: BatchId(1),
        batch: Batch {
            number: 1,
            design: DesignId(1),
            name: plan.name.clone(),
            started: day(1),
            plan,
            stock: BTreeMap::new(),
            note: String::new(),
            state: BatchState::Open,
        },
        pieces: begun.unwrap_or_default().into_iter().zip(1..).map(piece).collect(),
        entries: deeds
            .into_iter()
            .zip(1..)
            .map(|(deed, id)| BenchEntry { id: EntryId(id), batch: BatchId(1), date: day(2), deed })
            .collect(),
    }
}
