//! What is written down at the bench and the kiln has happened: its day is today or earlier.

use super::limits::refuse;
use super::{Action, Refusal};
use crate::book::{Reader, bench_entry, load};
use crate::studio::{BatchId, Load};
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// A day an action writes down, by its field, with the batches it is written to.
struct Written {
    field: &'static str,
    date: NaiveDate,
    batches: Vec<BatchId>,
}

/// Refuses a day after today. Where a batch has such a day already, from a clock that was set wrong or a journey across
/// time zones, what follows may be of that day, or nothing more could happen to it.
pub(super) fn accept(reader: Reader<'_>, action: &Action, today: NaiveDate) -> Result<(), Refusal> {
    for written in written(reader, action)? {
        if written.date <= today {
            continue;
        }
        let mut latest = today;
        for batch in &written.batches {
            latest = bench_entry::last_day(reader, *batch)?.map_or(latest, |last| latest.max(last));
        }
        if written.date > latest {
            let accepted = if latest > today {
                format!("{latest}, the day something was written down for the batch last, or earlier is accepted")
            } else {
                format!("today, {today}, or earlier is accepted: what has not happened is not written down")
            };
            return Err(refuse(written.field, written.date, accepted));
        }
    }
    Ok(())
}

fn written(reader: Reader<'_>, action: &Action) -> Result<Vec<Written>, Refusal> {
    let one = |field, date, batches: &[BatchId]| vec![Written { field, date, batches: batches.to_vec() }];
    Ok(match action {
        Action::StartBatch(new) => one("Date", new.date, &[]),
        Action::DoStep(done) => one("Date", done.date, &[done.batch]),
        Action::SkipStep { batch, date, .. }
        | Action::SendBack { batch, date, .. }
        | Action::LosePieces { batch, date, .. }
        | Action::TakeMaterials { batch, date, .. }
        | Action::SplitBatch { batch, date, .. }
        | Action::FinishPieces { batch, date, .. }
        | Action::AbandonBatch { batch, date, .. } => one("Date", *date, &[*batch]),
        Action::MergeBatches { from, into, date } => one("Date", *date, &[*from, *into]),
        Action::AddTime(spent) => {
            let batches: Vec<BatchId> = spent.work.iter().map(|work| work.batch).collect();
            one("Date", spent.date, &batches)
        }
        Action::SaveTile { tile, .. } => one("Day", tile.date, &[]),
        Action::SaveKilnDay { day, .. } => {
            let times = [("At heat", day.hot_at), ("Switched off", day.off_at)];
            let times = times.into_iter().filter_map(|(field, time)| Some((field, time?.date())));
            [("Day", day.date)]
                .into_iter()
                .chain(times)
                .map(|(field, date)| Written { field, date, batches: Vec::new() })
                .collect()
        }
        Action::CloseDoor(load) => one("Door closed", load.closed_at.date(), &batches(load)),
        Action::OpenDoor(opened) => {
            let found = load::find(reader, opened.load)?;
            one("Door opened", opened.at.date(), &found.map(|found| batches(&found.load)).unwrap_or_default())
        }
        Action::LogLoad(load) => {
            let mut both = one("Door closed", load.closed_at.date(), &batches(load));
            if let Some(opened) = load.opened_at {
                both.extend(one("Door opened", opened.date(), &batches(load)));
            }
            both
        }
        _ => Vec::new(),
    })
}

fn batches(load: &Load) -> Vec<BatchId> {
    let batches: BTreeSet<BatchId> = load.charge.iter().map(|charged| charged.batch).collect();
    batches.into_iter().collect()
}
