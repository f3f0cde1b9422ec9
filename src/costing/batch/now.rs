//! Where the pieces of a batch are, replayed from what happened.

use super::problem::BenchProblem;
use super::track::{Standing, Track};
use crate::studio::{BatchId, BatchRecord, BenchDeed, BenchEntry, LossCause, LossKind, MaterialId, PieceId};
use std::collections::{BTreeMap, BTreeSet};

/// What went through a step. A piece sent back counts each time it enters, so that always
/// `entered = passed + skipped + sent_back + lost + given + waiting`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct StepCounts {
    /// Pieces that came to it.
    pub entered: u32,
    /// Pieces that wait for it or are in its work.
    pub waiting: u32,
    /// Pieces that passed it.
    pub passed: u32,
    /// Pieces that left it out.
    pub skipped: u32,
    /// Pieces that went from it to an earlier step.
    pub sent_back: u32,
    /// Pieces lost at it.
    pub lost: u32,
    /// Pieces given to another batch from it.
    pub given: u32,
}

/// A batch as it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BatchNow {
    id: BatchId,
    steps: usize,
    materials: BTreeSet<MaterialId>,
    pieces: BTreeMap<PieceId, Track>,
    /// By step, and one more for waiting to be finished; `waiting` is counted when asked.
    counts: Vec<StepCounts>,
    /// Steps that were worked at.
    under_way: BTreeSet<usize>,
}

impl BatchNow {
    /// Replays a batch. Entries that cannot have happened are left out; [`super::broken_laws`] names them.
    pub fn of(record: &BatchRecord) -> Self {
        let mut now = Self::before(record);
        for entry in &record.entries {
            // Left out: where a piece is must be shown even of a book that was damaged.
            let _ = now.take(entry);
        }
        now
    }

    /// Replays a batch.
    ///
    /// # Errors
    /// [`BenchProblem`] of the first entry that cannot have happened.
    pub fn checked(record: &BatchRecord) -> Result<Self, BenchProblem> {
        let mut now = Self::before(record);
        record.entries.iter().try_for_each(|entry| now.take(entry))?;
        Ok(now)
    }

    /// The batch before its first entry, to be gone on with [`Self::take`].
    pub fn before(record: &BatchRecord) -> Self {
        let plan = &record.batch.plan;
        Self {
            id: record.id,
            steps: plan.steps.len(),
            materials: plan.materials.iter().map(|material| material.id.clone()).collect(),
            pieces: BTreeMap::new(),
            counts: vec![StepCounts::default(); plan.steps.len() + 1],
            under_way: BTreeSet::new(),
        }
    }

    /// Where a piece stands; none where it never was in the batch.
    pub fn standing(&self, piece: PieceId) -> Option<Standing> {
        self.pieces.get(&piece).map(|track| track.standing)
    }

    /// Every piece that ever was in the batch and where it stands, by row.
    pub fn standings(&self) -> impl Iterator<Item = (PieceId, Standing)> + '_ {
        self.pieces.iter().map(|(piece, track)| (*piece, track.standing))
    }

    /// Pieces that wait for a step, by row.
    pub fn waiting(&self, step: usize) -> Vec<PieceId> {
        self.that(|standing| standing == Standing::At(step))
    }

    /// Pieces that are through the route and wait to be finished, by row.
    pub fn done(&self) -> Vec<PieceId> {
        self.that(|standing| standing == Standing::Done)
    }

    /// Pieces still at work, by row: those that wait for a step or to be finished.
    pub fn at_work(&self) -> Vec<PieceId> {
        self.that(Standing::at_work)
    }

    /// Counts of each step of the route, in order.
    pub fn counts(&self) -> Vec<StepCounts> {
        let mut counts = self.all_counts();
        counts.pop();
        counts
    }

    /// Counts of waiting to be finished after the last step; `passed` are the finished.
    pub fn finishing(&self) -> StepCounts {
        self.all_counts().pop().unwrap_or_default()
    }

    /// Whether a step was worked at, fired or passed already, so that its set-up is behind.
    pub fn is_under_way(&self, step: usize) -> bool {
        self.under_way.contains(&step)
    }

    /// Whether this piece is at the step for a second time: what is done to it there is its own cost.
    pub fn again(&self, piece: PieceId, step: usize) -> bool {
        self.pieces.get(&piece).is_some_and(|track| track.again(step))
    }

    /// Whether a piece was given that material since it came to the step it is at.
    pub fn was_given(&self, piece: PieceId, material: &MaterialId) -> bool {
        self.pieces.get(&piece).is_some_and(|track| track.taken.contains(material))
    }

    fn that(&self, is: impl Fn(Standing) -> bool) -> Vec<PieceId> {
        self.standings().filter(|(_, standing)| is(*standing)).map(|(piece, _)| piece).collect()
    }

    pub(super) fn all_counts(&self) -> Vec<StepCounts> {
        let mut counts = self.counts.clone();
        for track in self.pieces.values() {
            if let Some(count) = track.position().and_then(|position| counts.get_mut(position)) {
                count.waiting += 1;
            }
        }
        counts
    }

    /// Goes one entry on; an entry that cannot have happened changes nothing.
    ///
    /// # Errors
    /// [`BenchProblem`] where it cannot have happened.
    pub fn take(&mut self, entry: &BenchEntry) -> Result<(), BenchProblem> {
        self.take_with(entry, &mut BTreeMap::new())
    }

    /// The same, with the history of pieces that are between two batches: what `Gave` puts there `Got` takes.
    pub(super) fn take_with(
        &mut self,
        entry: &BenchEntry,
        between: &mut BTreeMap<PieceId, Track>,
    ) -> Result<(), BenchProblem> {
        if entry.batch != self.id {
            return Err(BenchProblem::OtherBatch { other: entry.batch });
        }
        self.accepts(&entry.deed)?;
        self.apply(&entry.deed, between);
        Ok(())
    }

    /// Whether that can happen now.
    ///
    /// # Errors
    /// [`BenchProblem`] where it cannot.
    pub fn accepts(&self, deed: &BenchDeed) -> Result<(), BenchProblem> {
        let pieces = pieces_of(deed);
        if pieces.is_empty() && !matches!(deed, BenchDeed::Abandoned { .. }) {
            return Err(BenchProblem::NoPieces);
        }
        if let Some(piece) =
            pieces.iter().zip(pieces.iter().skip(1)).find(|(one, next)| one >= next).map(|pair| *pair.1)
        {
            return Err(BenchProblem::Twice { piece });
        }
        match deed {
            BenchDeed::Started { .. } => pieces.iter().try_for_each(|piece| match self.pieces.get(piece) {
                Some(_) => Err(BenchProblem::AlreadyHere { piece: *piece }),
                None => Ok(()),
            }),
            BenchDeed::Got { step, .. } => {
                self.step_or_done(*step)?;
                pieces.iter().try_for_each(|piece| match self.standing(*piece) {
                    None | Some(Standing::Given(_)) => Ok(()),
                    Some(_) => Err(BenchProblem::AlreadyHere { piece: *piece }),
                })
            }
            BenchDeed::Passed { step, .. } | BenchDeed::Skipped { step, .. } | BenchDeed::Fired { step, .. } => {
                self.step(*step)?;
                self.all_at(pieces, *step)
            }
            BenchDeed::Lost { step, .. } => {
                self.step_or_done(*step)?;
                self.all_at(pieces, *step)
            }
            BenchDeed::SentBack { to, .. } => {
                self.step(*to)?;
                self.all(pieces, "only a piece at a later step goes back", |track| {
                    track.position().is_some_and(|position| position > *to)
                })
            }
            BenchDeed::Finished { .. } => {
                self.all(pieces, "only a piece that is through the route is finished", |track| {
                    track.standing == Standing::Done
                })
            }
            BenchDeed::Gave { .. } | BenchDeed::Abandoned { .. } => {
                self.all(pieces, "only a piece at work can go", |track| track.standing.at_work())
            }
            BenchDeed::Took { step, material, quantity, .. }
            | BenchDeed::Used { step, material, quantity, .. }
            | BenchDeed::WashedBack { step, material, quantity, .. } => {
                self.work_at(pieces, *step)?;
                if !self.materials.contains(material) {
                    return Err(BenchProblem::NoMaterial { material: material.clone() });
                }
                not_below_zero("quantity", quantity.amount())
            }
            BenchDeed::Worked { step, minutes, labour_per_hour, overhead_per_hour, .. } => {
                self.work_at(pieces, *step)?;
                not_below_zero("minutes", *minutes)?;
                not_below_zero("labour per hour", *labour_per_hour)?;
                not_below_zero("overhead per hour", *overhead_per_hour)
            }
        }
    }

    fn step(&self, step: usize) -> Result<(), BenchProblem> {
        if step < self.steps { Ok(()) } else { Err(BenchProblem::NoStep { step, steps: self.steps }) }
    }

    fn step_or_done(&self, step: usize) -> Result<(), BenchProblem> {
        if step <= self.steps { Ok(()) } else { Err(BenchProblem::NoStep { step, steps: self.steps }) }
    }

    fn track(&self, piece: PieceId) -> Result<&Track, BenchProblem> {
        self.pieces.get(&piece).ok_or(BenchProblem::NotHere { piece })
    }

    fn all_at(&self, pieces: &[PieceId], step: usize) -> Result<(), BenchProblem> {
        pieces.iter().try_for_each(|piece| {
            let track = self.track(*piece)?;
            if track.position() == Some(step) {
                Ok(())
            } else {
                Err(BenchProblem::NotAt { piece: *piece, is: track.standing.words(), step })
            }
        })
    }

    fn all(&self, pieces: &[PieceId], wanted: &'static str, is: impl Fn(&Track) -> bool) -> Result<(), BenchProblem> {
        pieces.iter().try_for_each(|piece| {
            let track = self.track(*piece)?;
            if is(track) {
                Ok(())
            } else {
                Err(BenchProblem::Elsewhere { piece: *piece, is: track.standing.words(), wanted })
            }
        })
    }

    /// Time and materials may be written down later, so long as the pieces came to the step and were not given away.
    fn work_at(&self, pieces: &[PieceId], step: usize) -> Result<(), BenchProblem> {
        self.step(step)?;
        self.all(pieces, "what is done to it now belongs to that batch", |track| {
            !matches!(track.standing, Standing::Given(_))
        })?;
        pieces.iter().try_for_each(|piece| {
            if self.track(*piece)?.has_come_to(step) {
                Ok(())
            } else {
                Err(BenchProblem::NotYet { piece: *piece, step })
            }
        })
    }

    fn apply(&mut self, deed: &BenchDeed, between: &mut BTreeMap<PieceId, Track>) {
        let steps = self.steps;
        if let BenchDeed::Passed { step, .. } | BenchDeed::Worked { step, .. } | BenchDeed::Fired { step, .. } = deed {
            self.under_way.insert(*step);
        }
        for piece in pieces_of(deed) {
            match deed {
                BenchDeed::Started { .. } => {
                    let mut track = Track::new(steps);
                    track.enter(0);
                    self.pieces.insert(*piece, track);
                    self.count(0, |count| count.entered += 1);
                    continue;
                }
                BenchDeed::Got { step, .. } => {
                    self.pieces.insert(*piece, Track::arriving(steps, *step, between.remove(piece)));
                    self.count(*step, |count| count.entered += 1);
                    continue;
                }
                _ => {}
            }
            let Some(track) = self.pieces.get_mut(piece) else { continue };
            let position = track.position();
            match deed {
                BenchDeed::Passed { step, .. } | BenchDeed::Skipped { step, .. } => {
                    let passed = matches!(deed, BenchDeed::Passed { .. });
                    if let Some(slot) = track.passed.get_mut(*step).filter(|_| passed) {
                        *slot += 1;
                    }
                    track.enter(step + 1);
                    self.count(*step, |count| if passed { count.passed += 1 } else { count.skipped += 1 });
                    self.count(step + 1, |count| count.entered += 1);
                }
                BenchDeed::SentBack { to, .. } => {
                    track.enter(*to);
                    self.count(position.unwrap_or(steps), |count| count.sent_back += 1);
                    self.count(*to, |count| count.entered += 1);
                }
                BenchDeed::Fired { step, .. } => {
                    if let Some(slot) = track.fired.get_mut(*step) {
                        *slot += 1;
                    }
                }
                BenchDeed::Took { step, material, .. } | BenchDeed::Used { step, material, .. } => {
                    if position == Some(*step) {
                        track.taken.insert(material.clone());
                    }
                }
                BenchDeed::Lost { step, cause, kind, .. } => {
                    track.standing = Standing::Lost { step: *step, cause: *cause, kind: *kind };
                    self.count(*step, |count| count.lost += 1);
                }
                BenchDeed::Abandoned { .. } => {
                    let step = position.unwrap_or(steps);
                    track.standing = Standing::Lost { step, cause: LossCause::Other, kind: LossKind::Abnormal };
                    self.count(step, |count| count.lost += 1);
                }
                BenchDeed::Finished { .. } => {
                    track.standing = Standing::Finished;
                    self.count(steps, |count| count.passed += 1);
                }
                BenchDeed::Gave { to, .. } => {
                    between.insert(*piece, track.clone());
                    track.standing = Standing::Given(*to);
                    self.count(position.unwrap_or(steps), |count| count.given += 1);
                }
                BenchDeed::WashedBack { .. } | BenchDeed::Worked { .. } => {}
                BenchDeed::Started { .. } | BenchDeed::Got { .. } => {}
            }
        }
    }

    fn count(&mut self, step: usize, change: impl Fn(&mut StepCounts)) {
        if let Some(count) = self.counts.get_mut(step) {
            change(count);
        }
    }

    /// Steps of the route.
    pub(super) const fn steps(&self) -> usize {
        self.steps
    }
}

fn not_below_zero(field: &'static str, value: crate::measure::Decimal) -> Result<(), BenchProblem> {
    if value.is_sign_negative() && !value.is_zero() { Err(BenchProblem::BelowZero { field, value }) } else { Ok(()) }
}

/// The pieces a deed names.
pub(super) fn pieces_of(deed: &BenchDeed) -> &[PieceId] {
    match deed {
        BenchDeed::Started { pieces }
        | BenchDeed::Passed { pieces, .. }
        | BenchDeed::Skipped { pieces, .. }
        | BenchDeed::SentBack { pieces, .. }
        | BenchDeed::Took { pieces, .. }
        | BenchDeed::Used { pieces, .. }
        | BenchDeed::WashedBack { pieces, .. }
        | BenchDeed::Worked { pieces, .. }
        | BenchDeed::Fired { pieces, .. }
        | BenchDeed::Lost { pieces, .. }
        | BenchDeed::Finished { pieces }
        | BenchDeed::Gave { pieces, .. }
        | BenchDeed::Got { pieces, .. }
        | BenchDeed::Abandoned { pieces, .. } => pieces,
    }
}

#[cfg(test)]
mod tests;
