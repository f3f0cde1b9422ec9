//! What a design's last batches say about its figures, and what is proposed.

use super::interval::{ShareGood, share_good};
use super::quartiles::{Quartiles, quartiles};
use super::samples::{coat_weight, good_of, minutes_per_piece};
use crate::costing::CostError;
use crate::measure::exact::round;
use crate::measure::{Decimal, TooLarge};
use crate::studio::{BatchRecord, Design, DesignId, LearntFigure, Proposal, Step, StepKind};

/// How many batches of a design are looked at, the last begun.
pub const RECENT_BATCHES: u32 = 12;

/// Places of a proposed share.
const SHARE_PLACES: u32 = 4;

/// Places of proposed minutes and coat weights.
const VALUE_PLACES: u32 = 2;

/// Probability of the interval a planned share must lie in: 0.9.
fn probability() -> Decimal {
    Decimal::new(9, 1)
}

/// What batches say about a design.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Learned {
    /// The design.
    pub design: DesignId,
    /// Batches looked at.
    pub batches: u32,
    /// Each step of its route, in order.
    pub steps: Vec<LearnedStep>,
}

impl Learned {
    /// Everything that is proposed, by step.
    pub fn proposals(&self) -> impl Iterator<Item = &Proposal> {
        self.steps.iter().flat_map(|step| {
            let values = [&step.minutes, &step.coat].into_iter().flatten().filter_map(|value| value.proposal.as_ref());
            step.good.proposal.iter().chain(values)
        })
    }
}

/// What batches say about a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LearnedStep {
    /// The share of pieces that leave it good.
    pub good: LearnedShare,
    /// Minutes per piece; none for a firing, or where nothing was timed or typed.
    pub minutes: Option<LearnedValue>,
    /// Weight of its coat, mg/cm²; none where it is no coat or nothing was weighed.
    pub coat: Option<LearnedValue>,
}

/// A share learnt.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LearnedShare {
    /// Counts, mean and central 90 % interval.
    pub share: ShareGood,
    /// What the design says.
    pub planned: Decimal,
    /// The mean to 4 places, where the planned share lies outside the interval.
    pub proposal: Option<Proposal>,
}

/// A value learnt, one sample a batch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LearnedValue {
    /// Batches that say something.
    pub batches: u32,
    /// Their quartiles.
    pub quartiles: Quartiles,
    /// What the design says.
    pub planned: Decimal,
    /// The median to 2 places, where the planned value lies outside the quartiles.
    pub proposal: Option<Proposal>,
}

/// What the batches given (the last [`RECENT_BATCHES`] begun) say about a design as it is now. A batch speaks of a step
/// where its plan has the same kind of step of the same name at the same place.
///
/// # Errors
/// [`CostError`] where a plan cannot be costed.
pub fn learned(id: DesignId, design: &Design, batches: &[BatchRecord]) -> Result<Learned, CostError> {
    let batches: Vec<&BatchRecord> = batches.iter().filter(|batch| super::samples::has_pieces(batch)).collect();
    let steps = design
        .steps
        .iter()
        .enumerate()
        .map(|(index, step)| {
            let speaking: Vec<&BatchRecord> =
                batches.iter().copied().filter(|batch| same(batch.batch.plan.steps.get(index), step)).collect();
            learn_step(id, index, step, &speaking)
        })
        .collect::<Result<_, _>>()?;
    Ok(Learned { design: id, batches: u32::try_from(batches.len()).map_err(|_| TooLarge)?, steps })
}

fn same(then: Option<&Step>, now: &Step) -> bool {
    then.is_some_and(|then| then.name == now.name && then.kind.name() == now.kind.name())
}

fn learn_step(design: DesignId, index: usize, step: &Step, batches: &[&BatchRecord]) -> Result<LearnedStep, CostError> {
    let propose = |figure, planned: Decimal, (low, high): (Decimal, Decimal), proposed: Decimal| {
        let outside = planned < low || planned > high;
        (outside && proposed != planned).then(|| Proposal {
            design,
            step: index,
            step_name: step.name.clone(),
            figure,
            planned,
            proposed: proposed.normalize(),
        })
    };
    let (mut good, mut of) = (0_u32, 0_u32);
    for batch in batches {
        let (x, n) = good_of(batch, index);
        good = good.checked_add(x).ok_or(TooLarge)?;
        of = of.checked_add(n).ok_or(TooLarge)?;
    }
    let share = share_good(good, of, probability())?;
    let proposal = if of == 0 {
        None
    } else {
        propose(LearntFigure::Good, step.good, (share.low, share.high), round(share.mean, SHARE_PLACES))
    };
    let value = |figure, planned: Decimal, samples: Vec<Decimal>| -> Result<Option<LearnedValue>, TooLarge> {
        let Some(quartiles) = quartiles(&samples)? else { return Ok(None) };
        let proposed = round(quartiles.median, VALUE_PLACES);
        let proposal = propose(figure, planned, (quartiles.first, quartiles.third), proposed);
        let batches = u32::try_from(samples.len()).map_err(|_| TooLarge)?;
        Ok(Some(LearnedValue { batches, quartiles, planned, proposal }))
    };
    let mut minutes = Vec::new();
    let mut coats = Vec::new();
    for batch in batches {
        minutes.extend(minutes_per_piece(batch, index)?);
        coats.extend(coat_weight(batch, index)?);
    }
    let coat = match &step.kind {
        StepKind::Coat(coat) => value(LearntFigure::CoatWeight, coat.coat_mg_per_cm2, coats)?,
        _ => None,
    };
    Ok(LearnedStep {
        good: LearnedShare { share, planned: step.good, proposal },
        minutes: value(LearntFigure::MinutesPerPiece, step.minutes_per_piece, minutes)?,
        coat,
    })
}
