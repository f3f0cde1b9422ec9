//! `kiln plan`: the order of loads for all that waits or has firings ahead.

use super::arguments::Format;
use super::bench::find_kiln;
use super::failure::Failure;
use super::kiln_arguments::KilnPlan as Asked;
use super::session::Session;
use super::table::{Align, Table};
use super::words::{counted, number, plain};
use crate::actions::{self, PlanPiece, PlanQuestion};
use crate::kiln::plan::{self, Fired, KilnPlan, Load, Proof, USUAL_EFFORT};
use crate::measure::{Decimal, Preferences, display, exact};
use crate::paper::batch_words::spans;
use crate::studio::HeatSource;
use chrono::{Duration, NaiveDateTime, NaiveTime};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// JSON: `kiln` (its name), `from`, `finish` (times), `bound` (no plan finishes before), `proof` (`best`, `soonest`,
/// `bounded`), `kwh`, `moved_c` (every rise and fall of the set temperature added up, °C); `loads`: list of `closed_at`,
/// `opened_at`, `set_celsius`, `minutes`, `pieces`: list of `batch` (its number), `step` (from 1), `piece` (its place);
/// `left_out`: list of sentences about pieces this kiln cannot fire as planned.
pub(super) fn plan(session: &mut Session<'_>, task: &Asked) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let preferences = Preferences::from(&*snapshot.settings);
    let kiln = find_kiln(&snapshot, task.kiln.as_deref())?;
    if matches!(kiln.kiln.heat, HeatSource::Torch) {
        return Err(Failure::no(format!("{} is a torch; it has no kiln day to plan", kiln.kiln.name)));
    }
    let at = task.from.map_or_else(|| session.now(), |from| from.on(session.today()));
    let question = actions::plan_ask(&book, kiln.id, at)?.ok_or_else(|| {
        Failure::no(format!("the figures of {} give no model of its heat; `kiln list` shows them", kiln.kiln.name))
    })?;
    let found = plan::plan(&question.ask, USUAL_EFFORT, &mut |_| true)
        .map_err(|problem| Failure::no(format!("{}: {problem}", kiln.kiln.name)))?;
    let begin = at.date().and_time(NaiveTime::MIN);
    if task.form.format == Format::Json {
        return session.json(&plan_json(&found, &question, begin, at, &kiln.kiln.name));
    }
    text(session, &found, &question, begin, &preferences)?;
    for left_out in &question.left_out {
        session.say(&format!("Left out: {}", left_out.why))?;
    }
    Ok(())
}

/// Seconds from midnight as a time.
fn time(begin: NaiveDateTime, seconds: i64) -> NaiveDateTime {
    Duration::try_seconds(seconds).and_then(|after| begin.checked_add_signed(after)).unwrap_or(begin)
}

const fn proof(found: &KilnPlan) -> &'static str {
    match found.proof {
        Proof::Best => "best",
        Proof::Soonest => "soonest",
        Proof::Bounded => "bounded",
    }
}

/// The piece a firing is of, with its step from 1.
fn of(fired: Fired, pieces: &BTreeMap<u64, PlanPiece>) -> Option<(&PlanPiece, usize)> {
    let piece = pieces.get(&fired.piece)?;
    Some((piece, piece.steps.get(fired.firing)? + 1))
}

/// Minutes of a load in the heat.
fn minutes(load: &Load) -> Decimal {
    let whole = exact::div(Decimal::from(load.seconds), Decimal::from(60));
    whole.map_or(Decimal::ZERO, |minutes| exact::round(minutes, 6))
}

fn text(
    session: &mut Session<'_>,
    found: &KilnPlan,
    question: &PlanQuestion,
    begin: NaiveDateTime,
    preferences: &Preferences,
) -> Result<(), Failure> {
    if found.loads.is_empty() {
        return session.say("Nothing waits for the kiln.");
    }
    let clock = |seconds: i64| {
        let at = time(begin, seconds);
        if at.date() == begin.date() { at.format("%H:%M").to_string() } else { at.format("%m-%d %H:%M").to_string() }
    };
    let mut table = Table::new(&[
        ("In", Align::Left),
        ("Out", Align::Left),
        ("Minutes", Align::Right),
        ("Set", Align::Right),
        ("Pieces", Align::Right),
        ("Batch:step pieces", Align::Left),
    ]);
    for load in &found.loads {
        let mut groups: Vec<(u32, usize, Vec<u32>)> = Vec::new();
        for (piece, step) in load.pieces.iter().filter_map(|fired| of(*fired, &question.pieces)) {
            match groups.iter_mut().find(|(batch, at, _)| (*batch, *at) == (piece.batch_number, step)) {
                Some((.., places)) => places.push(piece.place),
                None => groups.push((piece.batch_number, step, vec![piece.place])),
            }
        }
        let words = groups.iter_mut().map(|(batch, step, places)| {
            places.sort_unstable();
            let places: Vec<String> = places.iter().map(u32::to_string).collect();
            format!("{batch}:{step} {}", spans(places.iter().map(String::as_str)))
        });
        let words = words.collect::<Vec<_>>().join("; ");
        table.row([
            clock(load.start),
            clock(load.end),
            display::minutes(minutes(load), preferences),
            plain(&display::temperature(Decimal::from(load.celsius), preferences)),
            load.pieces.len().to_string(),
            words,
        ]);
    }
    session.write(table)?;
    let proof = match found.proof {
        Proof::Best => "no plan finishes sooner or heats less".to_owned(),
        Proof::Soonest => "no plan finishes sooner".to_owned(),
        Proof::Bounded => format!("no plan finishes before {}", clock(found.bound)),
    };
    session.say(&format!(
        "{}, done at {}, {} kWh; {proof}",
        counted(found.loads.len(), "load", "loads"),
        clock(found.finish),
        number(found.kwh, preferences)
    ))?;
    session.say("Check each load before its door closes; the maker's safety data sheet and local rules come first.")
}

fn plan_json(found: &KilnPlan, question: &PlanQuestion, begin: NaiveDateTime, at: NaiveDateTime, kiln: &str) -> Value {
    let loads: Vec<Value> = found
        .loads
        .iter()
        .map(|load| {
            let pieces: Vec<Value> = load
                .pieces
                .iter()
                .filter_map(|fired| of(*fired, &question.pieces))
                .map(|(piece, step)| json!({ "batch": piece.batch_number, "step": step, "piece": piece.place }))
                .collect();
            json!({
                "closed_at": time(begin, load.start), "opened_at": time(begin, load.end),
                "set_celsius": load.celsius.to_string(), "minutes": minutes(load).normalize().to_string(),
                "pieces": pieces,
            })
        })
        .collect();
    let left_out: Vec<&str> = question.left_out.iter().map(|left_out| left_out.why.as_str()).collect();
    json!({
        "kiln": kiln, "from": at, "finish": time(begin, found.finish), "bound": time(begin, found.bound),
        "proof": proof(found), "kwh": found.kwh.to_string(), "moved_c": found.moved_c.to_string(), "loads": loads,
        "left_out": left_out,
    })
}
