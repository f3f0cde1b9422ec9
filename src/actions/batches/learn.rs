//! What batches taught, taken into the design.

use crate::actions::limits::refuse;
use crate::actions::perform::Done;
use crate::actions::{Refusal, designs};
use crate::book::{Change, design};
use crate::measure::Decimal;
use crate::studio::{LearntFigure, Proposal, Step, StepKind};

/// Takes a figure into the route of its design, where the design still says what the proposal says it does.
pub(in crate::actions) fn accept(change: &Change<'_>, proposal: &Proposal, action: i64) -> Result<Done, Refusal> {
    let id = proposal.design;
    let mut found = design::find(change.reader(), id)?.ok_or_else(|| designs::missing(id))?;
    let code = found.design.code.clone();
    let step = found.design.steps.get_mut(proposal.step).filter(|step| step.name == proposal.step_name);
    let Some(step) = step else {
        return Err(refuse(
            "Step",
            format!("{}, {}", proposal.step.saturating_add(1), proposal.step_name),
            format!("a step of the route of {code} as it is now is accepted"),
        ));
    };
    let words = figure_words(proposal.figure);
    let Some(figure) = figure(step, proposal.figure) else {
        return Err(refuse(words, format!("of {}", step.name), "a coat's is accepted"));
    };
    if *figure != proposal.planned {
        return Err(refuse(
            words,
            proposal.planned,
            format!("{}, what {code} says now, is accepted as what it is changed from", figure.normalize()),
        ));
    }
    if *figure == proposal.proposed {
        return Err(refuse(words, proposal.proposed, format!("another value than {code} has is accepted")));
    }
    *figure = proposal.proposed;
    designs::save(change, Some(id), &found.design, &found.follows, &found.notes, action)?;
    Ok(Done::named(format!(
        "Learn {words} of {}, {code}: {} becomes {}",
        proposal.step_name,
        proposal.planned.normalize(),
        proposal.proposed.normalize()
    )))
}

/// The figure of a step; none where the step has no such figure.
fn figure(step: &mut Step, which: LearntFigure) -> Option<&mut Decimal> {
    match which {
        LearntFigure::Good => Some(&mut step.good),
        LearntFigure::MinutesPerPiece => Some(&mut step.minutes_per_piece),
        LearntFigure::CoatWeight => match &mut step.kind {
            StepKind::Coat(coat) => Some(&mut coat.coat_mg_per_cm2),
            _ => None,
        },
    }
}

/// What a figure is called.
const fn figure_words(which: LearntFigure) -> &'static str {
    match which {
        LearntFigure::Good => "share good",
        LearntFigure::MinutesPerPiece => "minutes a piece",
        LearntFigure::CoatWeight => "coat weight",
    }
}
