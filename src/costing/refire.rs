//! More and fewer firings (costing method, section 8).

use super::answer::{Costing, costing_with};
use super::geometry;
use super::piece::CostError;
use crate::studio::{Design, Step, StepKind};

/// Most firings the program carries out: each is a step of the route.
pub const MOST_FIRINGS: u32 = 1_000;

/// The design with that many firings: copies of the refire unit are put in after the last firing, or it is taken out
/// as often as needed.
///
/// # Errors
/// [`CostError::TooFewFirings`] where a coat would be left unfired, [`CostError::TooManyFirings`] above
/// [`MOST_FIRINGS`], [`CostError::NoFiring`] for none asked or none there.
pub fn with_firings(design: &Design, firings: u32) -> Result<Design, CostError> {
    let mut design = design.clone();
    set_firings(&mut design.steps, firings)?;
    Ok(design)
}

/// The fewest firings the route allows; 0 where it has none.
pub fn fewest_firings(design: &Design) -> u32 {
    let mut steps = design.steps.clone();
    while take_out(&mut steps).is_ok() {}
    count(&steps)
}

/// One point of the curve.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RefirePoint {
    /// Firings.
    pub firings: u32,
    /// The whole answer at that count.
    pub costing: Costing,
}

/// Cost and tickets from the fewest firings allowed to `most`; the fewest alone where `most` is below it. The blank is
/// measured once.
///
/// # Errors
/// As [`with_firings`] and [`super::piece_cost`].
pub fn refire_curve(design: &Design, most: u32) -> Result<Vec<RefirePoint>, CostError> {
    let blank = geometry::measure(&design.blank)?;
    let fewest = fewest_firings(design);
    let mut points = Vec::new();
    for firings in fewest..=most.max(fewest) {
        // Each count starts from the design as it stands: what was taken out below it is not there to be copied.
        points.push(RefirePoint { firings, costing: costing_with(&with_firings(design, firings)?, &blank)? });
    }
    Ok(points)
}

fn set_firings(steps: &mut Vec<Step>, firings: u32) -> Result<(), CostError> {
    let mut now = count(steps);
    if now == 0 || firings == 0 {
        return Err(CostError::NoFiring);
    }
    if firings > MOST_FIRINGS && firings > now {
        return Err(CostError::TooManyFirings { most: MOST_FIRINGS });
    }
    while now > firings {
        match take_out(steps) {
            Ok(()) => now -= 1,
            Err(coat) => return Err(CostError::TooFewFirings { fewest: now, step: coat.map_or(1, |index| index + 1) }),
        }
    }
    let Some((first, last)) = refire_unit(steps) else { return Err(CostError::NoFiring) };
    let unit: Vec<Step> = steps.iter().take(last + 1).skip(first).cloned().collect();
    for _ in now..firings {
        steps.splice(last + 1..last + 1, unit.iter().cloned());
    }
    Ok(())
}

fn count(steps: &[Step]) -> u32 {
    let firings = steps.iter().filter(|step| matches!(step.kind, StepKind::Fire(_))).count();
    u32::try_from(firings).unwrap_or(u32::MAX)
}

fn last_firing(steps: &[Step]) -> Option<usize> {
    steps.iter().rposition(|step| matches!(step.kind, StepKind::Fire(_)))
}

/// First and last step of the refire unit: the last firing, with the step directly before it when that one cleans.
fn refire_unit(steps: &[Step]) -> Option<(usize, usize)> {
    let last = last_firing(steps)?;
    let before =
        last.checked_sub(1).filter(|&index| matches!(steps.get(index).map(|s| &s.kind), Some(StepKind::Clean)));
    Some((before.unwrap_or(last), last))
}

/// Takes the refire unit out, or says which coat (by position) stands in the way; none where it is the only firing.
fn take_out(steps: &mut Vec<Step>) -> Result<(), Option<usize>> {
    let (first, last) = refire_unit(steps).ok_or(None::<usize>)?;
    let earlier = steps.iter().take(last).rposition(|step| matches!(step.kind, StepKind::Fire(_)));
    let earlier = earlier.ok_or(None::<usize>)?;
    let mut between = steps.iter().enumerate().take(last).skip(earlier + 1);
    if let Some((coat, _)) = between.find(|(_, step)| matches!(step.kind, StepKind::Coat(_))) {
        return Err(Some(coat));
    }
    steps.drain(first..=last);
    Ok(())
}

#[cfg(test)]
mod tests;
