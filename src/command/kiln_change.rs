//! `kiln change`, `kiln set-aside`, `kiln take-up`: a kiln that is there becomes another.

use super::arguments::Format;
use super::bench::{find_kiln, minutes};
use super::failure::Failure;
use super::kiln_arguments::{KilnAside, KilnChange, KilnPart};
use super::kilns::kiln_json;
use super::session::Session;
use super::typed;
use crate::actions::{self, Action};
use crate::measure::Preferences;
use crate::studio::{ElectricKiln, HeatSource, Kiln};
use chrono::NaiveDate;
use serde_json::json;

/// Changes what was given of a kiln, and leaves the rest. JSON: `done`, and `kiln`: the fields of one of `kiln list`.
pub(super) fn change(session: &mut Session<'_>, task: KilnChange) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let found = find_kiln(&snapshot, Some(&task.kiln))?;
    let mut kiln = found.kiln.clone();
    match &mut kiln.heat {
        HeatSource::Electric(electric) => change_electric(electric, &task, session.today(), &preferences)?,
        HeatSource::Torch if task.figures.changes_none() && task.renewed.is_none() => {}
        HeatSource::Torch => {
            return Err(Failure::no(format!(
                "{} is a torch: it has no figures; --name and --note are accepted",
                kiln.name
            )));
        }
    }
    if let Some(name) = &task.name {
        name.trim().clone_into(&mut kiln.name);
    }
    if let Some(note) = task.note {
        kiln.note = note;
    }
    if kiln == found.kiln {
        return Err(Failure::no(format!(
            "{} is so already; give what shall be another, such as --shelf 400",
            kiln.name
        )));
    }
    let outcome = session.perform(&mut book, Action::SaveKiln { id: Some(found.id), kiln: kiln.clone() })?;
    answer(session, task.form.format, &outcome.name, &kiln)
}

fn change_electric(
    electric: &mut ElectricKiln,
    task: &KilnChange,
    today: NaiveDate,
    preferences: &Preferences,
) -> Result<(), Failure> {
    let figures = &task.figures;
    let heat = |field: &str, text: &str| typed::temperature(field, text, preferences);
    if let Some(kw) = figures.kw {
        electric.rated_kw = kw;
    }
    if let Some(text) = &figures.warm_up {
        electric.warm_up_minutes = minutes("warm-up", text, preferences)?;
    }
    if let Some(text) = &figures.working {
        electric.working_celsius = heat("working", text)?;
    }
    if let Some(text) = &figures.duty {
        electric.duty = typed::share("duty", text, preferences)?;
    }
    if let Some(text) = &figures.room {
        electric.room_celsius = heat("room", text)?;
    }
    if let Some(text) = &figures.max {
        electric.rated_max_celsius = heat("max", text)?;
    }
    if let Some(shelf) = figures.shelf {
        electric.shelf_cm2 = shelf;
    }
    if let Some(furniture) = figures.furniture {
        electric.furniture_g = furniture;
    }
    if let Some(door) = figures.door {
        electric.door_kwh = door;
    }
    let since = task.since.unwrap_or(today);
    match task.renewed {
        Some(KilnPart::Elements) => electric.elements_since = since,
        Some(KilnPart::Thermocouple) => electric.thermocouple_since = since,
        None => {}
    }
    Ok(())
}

/// Sets a kiln aside, or takes it up again. JSON: `done`, and `kiln`: the fields of one of `kiln list`.
pub(super) fn set_aside(session: &mut Session<'_>, task: &KilnAside, retired: bool) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let found = find_kiln(&snapshot, Some(&task.kiln))?;
    if found.kiln.retired == retired {
        let is = if retired { "is set aside already" } else { "is not set aside" };
        return Err(Failure::no(format!("{} {is}", found.kiln.name)));
    }
    let kiln = Kiln { retired, ..found.kiln.clone() };
    let outcome = session.perform(&mut book, Action::SaveKiln { id: Some(found.id), kiln: kiln.clone() })?;
    answer(session, task.form.format, &outcome.name, &kiln)
}

fn answer(session: &mut Session<'_>, format: Format, done: &str, kiln: &Kiln) -> Result<(), Failure> {
    if format == Format::Json {
        return session.json(&json!({ "done": done, "kiln": kiln_json(kiln, None) }));
    }
    session.say(done)
}
