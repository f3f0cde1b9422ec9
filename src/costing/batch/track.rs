//! One piece on its way through the steps of a batch.

use crate::studio::{BatchId, LossCause, LossKind, MaterialId};
use std::collections::BTreeSet;

/// Where a piece stands in its batch. Steps count from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Waits for this step, or is in its work.
    At(usize),
    /// Through the route, to be finished and numbered.
    Done,
    /// Finished and numbered.
    Finished,
    /// Lost.
    Lost {
        /// At this step; one past the last where it was done.
        step: usize,
        /// Of what; “other” where the batch was given up.
        cause: LossCause,
        /// Usual or not.
        kind: LossKind,
    },
    /// Given to that batch.
    Given(BatchId),
}

impl Standing {
    /// Still at work: waits for a step, or to be finished.
    pub const fn at_work(self) -> bool {
        matches!(self, Self::At(_) | Self::Done)
    }

    /// Bears the batch's cost: at work or finished.
    pub const fn bears_cost(self) -> bool {
        matches!(self, Self::At(_) | Self::Done | Self::Finished)
    }

    pub(super) fn words(self) -> String {
        match self {
            Self::At(step) => format!("at step {}", step + 1),
            Self::Done => "done".to_owned(),
            Self::Finished => "finished".to_owned(),
            Self::Lost { .. } => "lost".to_owned(),
            Self::Given(_) => "given to another batch".to_owned(),
        }
    }
}

/// A piece on its way. `passed`, `before` and `fired` are by step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Track {
    pub(super) standing: Standing,
    /// How often it passed the step.
    pub(super) passed: Vec<u32>,
    /// How often it had passed the step when it last came to it; none where it has not come to it.
    before: Vec<Option<u32>>,
    /// How often it was fired at the step.
    pub(super) fired: Vec<u32>,
    /// Materials it was given since it came to the step it is at.
    pub(super) taken: BTreeSet<MaterialId>,
}

impl Track {
    pub(super) fn new(steps: usize) -> Self {
        Self {
            standing: Standing::Done,
            passed: vec![0; steps],
            before: vec![None; steps],
            fired: vec![0; steps],
            taken: BTreeSet::new(),
        }
    }

    /// A piece that comes with a history of its own, or else is taken to have passed the steps before.
    pub(super) fn arriving(steps: usize, step: usize, history: Option<Self>) -> Self {
        let mut track = history.filter(|track| track.passed.len() == steps).unwrap_or_else(|| {
            let mut fresh = Self::new(steps);
            fresh.passed.iter_mut().take(step).for_each(|passed| *passed = 1);
            fresh.before.iter_mut().take(step).for_each(|before| *before = Some(0));
            fresh
        });
        let taken = std::mem::take(&mut track.taken);
        let before = track.before.get(step).copied().flatten();
        track.enter(step);
        // It goes on with the visit it was in: what it was given at this step it still has.
        if let (Some(slot), Some(before)) = (track.before.get_mut(step), before) {
            *slot = Some(before);
            track.taken = taken;
        }
        track
    }

    pub(super) fn position(&self) -> Option<usize> {
        match self.standing {
            Standing::At(step) => Some(step),
            Standing::Done => Some(self.passed.len()),
            Standing::Finished | Standing::Lost { .. } | Standing::Given(_) => None,
        }
    }

    pub(super) fn enter(&mut self, step: usize) {
        self.standing = if step < self.passed.len() { Standing::At(step) } else { Standing::Done };
        let passed = self.passed.get(step).copied();
        if let Some(slot) = self.before.get_mut(step) {
            *slot = passed;
        }
        self.taken.clear();
    }

    pub(super) fn has_come_to(&self, step: usize) -> bool {
        self.before.get(step).is_some_and(Option::is_some)
    }

    /// What is done to it at the step is done again: it had passed the step before it last came to it, or was fired at
    /// it more than once.
    pub(super) fn again(&self, step: usize) -> bool {
        self.before.get(step).copied().flatten().is_some_and(|passed| passed > 0)
            || self.fired.get(step).is_some_and(|fired| *fired > 1)
    }
}
