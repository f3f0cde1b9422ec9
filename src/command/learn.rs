//! `learn`: what the batches of a design say about its figures.

use super::arguments::Format;
use super::batch_arguments::Learn;
use super::designs;
use super::failure::Failure;
use super::session::Session;
use super::table::{Align, Table};
use super::words::{counted, number, percent};
use crate::actions::{self, Action};
use crate::costing::learning::{Learned, LearnedValue};
use crate::measure::{Decimal, Preferences};
use crate::studio::{Design, LearntFigure, Proposal};
use serde_json::{Value, json};

pub(super) fn learn(session: &mut Session<'_>, task: &Learn) -> Result<(), Failure> {
    let mut book = if task.accept.is_some() { session.open_to_write()? } else { session.open_to_read()? };
    let snapshot = actions::snapshot(&book)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let design = designs::find(&snapshot, &task.design)?;
    let missing = || Failure::no(format!("there is no design {}; `design list` shows the codes", task.design));
    let learned = actions::learned(&book, design.id)?.ok_or_else(missing)?;
    let done = match task.accept {
        None => None,
        Some(wanted) => {
            let place = usize::try_from(wanted).ok().and_then(|wanted| wanted.checked_sub(1));
            let proposal = place.and_then(|place| learned.proposals().nth(place)).cloned().ok_or_else(|| {
                let count = learned.proposals().count();
                Failure::no(format!("there is no proposal {wanted} for {}; there are {count}", task.design))
            })?;
            Some(session.perform(&mut book, Action::AcceptProposal(proposal))?.name)
        }
    };
    if let Some(done) = &done
        && task.form.format == Format::Text
    {
        return session.say(done);
    }
    let learned = if done.is_some() { actions::learned(&book, design.id)?.ok_or_else(missing)? } else { learned };
    if task.form.format == Format::Json {
        return session.json(&learned_json(&learned, &design.design, done.as_deref()));
    }
    text(session, &learned, &design.design, &preferences)
}

const fn figure_name(figure: LearntFigure) -> &'static str {
    match figure {
        LearntFigure::Good => "good",
        LearntFigure::MinutesPerPiece => "minutes-per-piece",
        LearntFigure::CoatWeight => "coat-weight",
    }
}

fn batches(count: u32) -> String {
    counted(usize::try_from(count).unwrap_or(usize::MAX), "batch", "batches")
}

fn text(
    session: &mut Session<'_>,
    learned: &Learned,
    design: &Design,
    preferences: &Preferences,
) -> Result<(), Failure> {
    if learned.batches == 0 {
        return session.say(&format!("No batch of {} has taught anything yet.", design.code));
    }
    session.say(&format!("{} {}, from its last {}:", design.code, design.name, batches(learned.batches)))?;
    let mut table = Table::new(&[
        ("Step", Align::Right),
        ("Name", Align::Left),
        ("Figure", Align::Left),
        ("Planned", Align::Right),
        ("Learnt", Align::Right),
        ("From", Align::Right),
        ("To", Align::Right),
        ("Rests on", Align::Left),
    ]);
    for (place, (learned, step)) in learned.steps.iter().zip(&design.steps).enumerate() {
        let share = &learned.good.share;
        if share.of > 0 {
            table.row([
                (place + 1).to_string(),
                step.name.clone(),
                "share good".to_owned(),
                percent(learned.good.planned, preferences),
                percent(share.mean, preferences),
                percent(share.low, preferences),
                percent(share.high, preferences),
                format!("{} of {} pieces", share.good, share.of),
            ]);
        }
        for (words, value) in [("minutes a piece", &learned.minutes), ("coat, mg/cm²", &learned.coat)] {
            if let Some(value) = value {
                table.row([
                    (place + 1).to_string(),
                    step.name.clone(),
                    words.to_owned(),
                    number(value.planned, preferences),
                    number(value.quartiles.median, preferences),
                    number(value.quartiles.first, preferences),
                    number(value.quartiles.third, preferences),
                    batches(value.batches),
                ]);
            }
        }
    }
    session.write(table)?;
    for (place, proposal) in learned.proposals().enumerate() {
        let shown = |value: Decimal| match proposal.figure {
            LearntFigure::Good => percent(value, preferences),
            LearntFigure::MinutesPerPiece | LearntFigure::CoatWeight => number(value, preferences),
        };
        session.say(&format!(
            "Proposal {}: {} of step {} {}, {} instead of {}",
            place + 1,
            figure_name(proposal.figure),
            proposal.step + 1,
            proposal.step_name,
            shown(proposal.proposed),
            shown(proposal.planned)
        ))?;
    }
    if learned.proposals().next().is_none() {
        session.say("What is planned is within what the batches say; nothing is proposed.")?;
    }
    Ok(())
}

/// JSON: `done` (null where nothing was accepted), `design` (code), `batches` looked at; `steps`: list of `step` (from 1),
/// `name`, `good`: `planned`, `good`, `of` (pieces), `mean`, `low`, `high` (90 % interval); `minutes_per_piece` and
/// `coat_mg_per_cm2` (null where nothing was measured): `planned`, `batches`, `first`, `median`, `third` (quartiles);
/// `proposals`: list of `proposal` (its number for --accept), `step`, `name`, `figure` (`good`, `minutes-per-piece`,
/// `coat-weight`), `planned`, `proposed`.
fn learned_json(learned: &Learned, design: &Design, done: Option<&str>) -> Value {
    let exact = |value: Decimal| value.normalize().to_string();
    let value = |value: &LearnedValue| {
        json!({
            "planned": exact(value.planned), "batches": value.batches, "first": exact(value.quartiles.first),
            "median": exact(value.quartiles.median), "third": exact(value.quartiles.third),
        })
    };
    let steps: Vec<Value> = learned
        .steps
        .iter()
        .zip(&design.steps)
        .enumerate()
        .map(|(place, (learned, step))| {
            let share = &learned.good.share;
            json!({
                "step": place + 1, "name": step.name,
                "good": {
                    "planned": exact(learned.good.planned), "good": share.good, "of": share.of,
                    "mean": exact(share.mean), "low": exact(share.low), "high": exact(share.high),
                },
                "minutes_per_piece": learned.minutes.as_ref().map(value),
                "coat_mg_per_cm2": learned.coat.as_ref().map(value),
            })
        })
        .collect();
    let proposals: Vec<Value> =
        learned.proposals().enumerate().map(|(place, proposal)| proposal_json(place, proposal)).collect();
    json!({
        "done": done, "design": design.code.to_string(), "batches": learned.batches, "steps": steps,
        "proposals": proposals,
    })
}

fn proposal_json(place: usize, proposal: &Proposal) -> Value {
    json!({
        "proposal": place + 1, "step": proposal.step + 1, "name": proposal.step_name,
        "figure": figure_name(proposal.figure), "planned": proposal.planned.normalize().to_string(),
        "proposed": proposal.proposed.normalize().to_string(),
    })
}
