//! Batches: beginning them, doing their steps, losing, splitting, finishing, and what they teach.
//!
//! Each function writes what happened as entries of the batch and leaves where the pieces are to be replayed from them
//! ([`BatchNow`]); only the columns lists need, a piece's batch and number and a batch's state, are kept beside.

mod check;
mod finish;
mod learn;
mod losses;
mod materials;
mod split;
mod start;
mod step;

pub(super) use check::problems;
pub(super) use finish::{abandon, finish, mark};
pub(super) use learn::accept;
pub(super) use losses::lose;
pub(super) use materials::take;
pub(super) use split::{merge, split};
pub(super) use start::{plan_of, start};
pub(super) use step::{do_step, send_back, skip};

use super::Refusal;
use super::limits::{self, refuse};
use crate::book::{Change, Reader, batch, bench_entry, load, timer};
use crate::costing::batch::{BatchNow, Standing};
use crate::studio::{BatchId, BatchRecord, BatchState, BenchDeed, BenchEntry, LoadId, PieceId, Step};
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

/// A batch as it stands, for one action on it.
pub(in crate::actions) struct AtBench {
    /// The batch with all that happened to it.
    pub(in crate::actions) record: BatchRecord,
    /// Where its pieces are.
    pub(in crate::actions) now: BatchNow,
    /// Its pieces the door is closed on.
    firing: BTreeMap<PieceId, LoadId>,
}

impl AtBench {
    /// The batch of that row.
    pub(in crate::actions) fn find(reader: Reader<'_>, id: BatchId) -> Result<Self, Refusal> {
        let record = batch::find(reader, id)?.ok_or_else(|| missing(id))?;
        let now = BatchNow::of(&record);
        let mut firing = BTreeMap::new();
        for load in load::firing(reader)? {
            firing.extend(load.load.charge.iter().map(|charged| (charged.piece, load.id)));
        }
        Ok(Self { record, now, firing })
    }

    /// The batch of that row, which is open, for something that happened on a day.
    pub(in crate::actions) fn open(reader: Reader<'_>, id: BatchId, date: NaiveDate) -> Result<Self, Refusal> {
        let found = Self::find(reader, id)?;
        if found.record.batch.state != BatchState::Open {
            return Err(refuse(
                "Batch",
                format!("{}, which is {}", found.number(), found.record.batch.state.name()),
                "a batch with pieces at work is accepted",
            ));
        }
        found.accept_date(date)?;
        Ok(found)
    }

    /// Refuses a day before the last thing that happened to it.
    pub(in crate::actions) fn accept_date(&self, date: NaiveDate) -> Result<(), Refusal> {
        limits::date("Date", date)?;
        match self.last_day() {
            Some(last) if date < last => Err(refuse(
                "Date",
                date,
                format!("{last}, when something happened to batch {} last, or later is accepted", self.number()),
            )),
            _ => Ok(()),
        }
    }

    /// The day something happened to it last.
    pub(in crate::actions) fn last_day(&self) -> Option<NaiveDate> {
        self.record.entries.iter().map(|entry| entry.date).max()
    }

    pub(in crate::actions) const fn number(&self) -> u32 {
        self.record.batch.number
    }

    /// A step of its route.
    pub(in crate::actions) fn step(&self, step: usize) -> Result<&Step, Refusal> {
        let steps = &self.record.batch.plan.steps;
        steps.get(step).ok_or_else(|| {
            refuse("Step", step.saturating_add(1), format!("1 to {}, the steps of its route, is accepted", steps.len()))
        })
    }

    /// Writes what happened; it must fit what happened before.
    pub(in crate::actions) fn write(
        &mut self,
        change: &Change<'_>,
        date: NaiveDate,
        deed: BenchDeed,
    ) -> Result<(), Refusal> {
        let id = bench_entry::insert(change, self.record.id, date, &deed)?;
        let entry = BenchEntry { id, batch: self.record.id, date, deed };
        self.now.take(&entry).map_err(|problem| Refusal::No(format!("batch {}: {problem}", self.number())))?;
        self.record.entries.push(entry);
        Ok(())
    }

    /// Writes the state of the batch that something has happened to.
    pub(in crate::actions) fn settle(&self, change: &Change<'_>) -> Result<(), Refusal> {
        let state = state_of(&self.record, &self.now);
        if state != self.record.batch.state {
            batch::set_state(change, self.record.id, state)?;
        }
        Ok(())
    }

    /// What a piece is called in its batch.
    pub(in crate::actions) fn piece_words(&self, id: PieceId) -> String {
        match self.record.pieces.iter().find(|piece| piece.id == id) {
            Some(piece) => format!("piece {} of batch {}", piece.place, self.number()),
            None => format!("piece with row {}", id.0),
        }
    }

    /// Pieces named for something: each once, at least one, each in the batch; in the order of their rows.
    pub(in crate::actions) fn named(&self, field: &str, pieces: &[PieceId]) -> Result<Vec<PieceId>, Refusal> {
        if pieces.is_empty() {
            return Err(refuse(field, "", "one piece or more is accepted"));
        }
        let mut named = BTreeSet::new();
        for piece in pieces {
            if !self.record.pieces.iter().any(|held| held.id == *piece) {
                return Err(refuse(
                    field,
                    format!("the piece with row {}", piece.0),
                    format!("a piece of batch {} is accepted", self.number()),
                ));
            }
            if !named.insert(*piece) {
                return Err(refuse(
                    field,
                    format!("{} twice", self.piece_words(*piece)),
                    "each piece once is accepted",
                ));
            }
        }
        Ok(named.into_iter().collect())
    }

    /// Pieces named for something that is done at the bench: at work, and not in a load that fires.
    pub(in crate::actions) fn at_work(&self, pieces: &[PieceId]) -> Result<Vec<PieceId>, Refusal> {
        let named = self.named("Pieces", pieces)?;
        for piece in &named {
            match self.now.standing(*piece) {
                Some(Standing::At(_) | Standing::Done) => self.accept_cold(*piece)?,
                other => {
                    return Err(refuse(
                        "Pieces",
                        format!("{}, {}", self.piece_words(*piece), self.standing_words(other)),
                        "a piece at work is accepted",
                    ));
                }
            }
        }
        Ok(named)
    }

    /// Pieces named for a step: waiting for it, and not in a load that fires.
    pub(in crate::actions) fn waiting_for(&self, step: usize, pieces: &[PieceId]) -> Result<Vec<PieceId>, Refusal> {
        let name = &self.step(step)?.name;
        let named = self.named("Pieces", pieces)?;
        for piece in &named {
            let standing = self.now.standing(*piece);
            if !matches!(standing, Some(Standing::At(at)) if at == step) {
                return Err(refuse(
                    "Pieces",
                    format!("{}, {}", self.piece_words(*piece), self.standing_words(standing)),
                    format!("a piece that waits for step {}, {name}, is accepted", step + 1),
                ));
            }
            self.accept_cold(*piece)?;
        }
        Ok(named)
    }

    fn accept_cold(&self, piece: PieceId) -> Result<(), Refusal> {
        match self.firing.get(&piece) {
            None => Ok(()),
            Some(_) => Err(refuse(
                "Pieces",
                format!("{}, in the kiln", self.piece_words(piece)),
                "a piece that is out of the kiln is accepted: open the door first",
            )),
        }
    }

    /// The piece is in the batch, whatever became of it.
    pub(in crate::actions) fn is_here(&self, piece: PieceId) -> bool {
        !matches!(self.now.standing(piece), None | Some(Standing::Given(_)))
    }

    /// Every piece at work, in the order of rows; refused where one is in the kiln.
    pub(in crate::actions) fn all_at_work(&self) -> Result<Vec<PieceId>, Refusal> {
        let pieces = self.now.at_work();
        pieces.iter().try_for_each(|piece| self.accept_cold(*piece))?;
        Ok(pieces)
    }

    /// Refuses while a timer runs for it.
    pub(in crate::actions) fn accept_untimed(&self, reader: Reader<'_>) -> Result<(), Refusal> {
        let runs =
            timer::all(reader)?.iter().any(|(_, timer)| timer.work.iter().any(|work| work.batch == self.record.id));
        if runs {
            return Err(Refusal::No(format!("a timer runs for batch {}; stop it or drop it first", self.number())));
        }
        Ok(())
    }

    fn standing_words(&self, standing: Option<Standing>) -> String {
        match standing {
            Some(Standing::At(step)) => {
                let name = self.record.batch.plan.steps.get(step).map_or("", |step| step.name.as_str());
                format!("which waits for step {}, {name}", step.saturating_add(1))
            }
            Some(Standing::Done) => "which waits to be finished".to_owned(),
            Some(Standing::Finished) => "which is finished".to_owned(),
            Some(Standing::Lost { .. }) => "which is lost".to_owned(),
            Some(Standing::Given(_)) => "which is in another batch".to_owned(),
            None => "which never began".to_owned(),
        }
    }
}

/// The state that what happened to a batch comes to.
pub(in crate::actions) fn state_of(record: &BatchRecord, now: &BatchNow) -> BatchState {
    if record.entries.iter().any(|entry| matches!(entry.deed, BenchDeed::Abandoned { .. })) {
        BatchState::Abandoned
    } else if now.at_work().is_empty() {
        BatchState::Finished
    } else {
        BatchState::Open
    }
}

/// No such batch.
pub(in crate::actions) fn missing(id: BatchId) -> Refusal {
    Refusal::Missing(format!("batch with row {}", id.0))
}

/// A number of pieces; a book holds far fewer than fit.
pub(in crate::actions) fn count(pieces: usize) -> u32 {
    u32::try_from(pieces).unwrap_or(u32::MAX)
}

/// “1 piece”, “12 pieces”.
pub(in crate::actions) fn pieces_words(count: usize) -> String {
    if count == 1 { "1 piece".to_owned() } else { format!("{count} pieces") }
}
