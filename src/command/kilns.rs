//! `kiln …`: the kilns, their figures, and the fit to their meters.

use super::arguments::Format;
use super::bench::{find_kiln, minutes};
use super::failure::Failure;
use super::kiln_arguments::{KilnAdd, KilnFit, KilnList, KilnTask};
use super::session::Session;
use super::table::{Align, Table};
use super::typed;
use super::words::{counted, number, plain};
use super::{kiln_change, kiln_days, kiln_log, kiln_plan};
use crate::actions::{self, Action};
use crate::kiln::fit::{FEWEST_READINGS, HeatFit, fit};
use crate::kiln::heat::{HeatFrom, HeatModel};
use crate::kiln::hours::{HotHours, PartHours, Wearing};
use crate::measure::{Decimal, Preferences, display};
use crate::studio::{ElectricKiln, HeatSource, Kiln, ShareLoadBy};
use serde_json::{Value, json};

pub(super) fn kiln(session: &mut Session<'_>, task: KilnTask) -> Result<(), Failure> {
    match task {
        KilnTask::List(task) => list(session, &task),
        KilnTask::Add(task) => add(session, *task),
        KilnTask::Change(task) => kiln_change::change(session, *task),
        KilnTask::SetAside(task) => kiln_change::set_aside(session, &task, true),
        KilnTask::TakeUp(task) => kiln_change::set_aside(session, &task, false),
        KilnTask::Log(task) => kiln_log::log(session, *task),
        KilnTask::Day(task) => kiln_days::day(session, *task),
        KilnTask::Fit(task) => fitted(session, &task),
        KilnTask::Plan(task) => kiln_plan::plan(session, &task),
    }
}

/// A figure that must be given where a kiln is electric; the argument reader has seen to it.
fn given<T>(field: &str, value: Option<T>) -> Result<T, Failure> {
    value.ok_or_else(|| Failure::invalid(format!("{field}: nothing was given; a figure is accepted")))
}

/// JSON: `done`, and `kiln`: the fields of one of `kiln list`.
fn add(session: &mut Session<'_>, task: KilnAdd) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let preferences = Preferences::from(&*actions::snapshot(&book)?.settings);
    let heat = if task.torch {
        HeatSource::Torch
    } else {
        let since = task.since.unwrap_or_else(|| session.today());
        let heat = |field: &str, text: &str| typed::temperature(field, text, &preferences);
        HeatSource::Electric(Box::new(ElectricKiln {
            rated_kw: given("kw", task.kw)?,
            warm_up_minutes: minutes("warm-up", &given("warm-up", task.warm_up)?, &preferences)?,
            working_celsius: heat("working", &given("working", task.working)?)?,
            duty: typed::share("duty", &given("duty", task.duty)?, &preferences)?,
            room_celsius: heat("room", &task.room)?,
            rated_max_celsius: heat("max", &given("max", task.max)?)?,
            shelf_cm2: given("shelf", task.shelf)?,
            furniture_g: task.furniture,
            door_kwh: task.door,
            share_by: ShareLoadBy::default(),
            fitted: None,
            elements_since: since,
            thermocouple_since: since,
        }))
    };
    let kiln = Kiln { name: task.name.trim().to_owned(), heat, note: task.note, retired: false };
    let outcome = session.perform(&mut book, Action::SaveKiln { id: None, kiln: kiln.clone() })?;
    if task.form.format == Format::Json {
        return session.json(&json!({ "done": outcome.name, "kiln": kiln_json(&kiln, None) }));
    }
    session.say(&outcome.name)?;
    match hottest(&kiln) {
        Some(celsius) => {
            let heat = plain(&display::temperature(celsius, &preferences));
            session.say(&format!("{} can hold {heat} at most", kiln.name))
        }
        None => Ok(()),
    }
}

/// The hottest a kiln can hold, °C; none for a torch and where its figures give no model.
pub(super) fn hottest(kiln: &Kiln) -> Option<Decimal> {
    let HeatSource::Electric(electric) = &kiln.heat else { return None };
    HeatModel::of(electric).ok()?.hottest().ok().map(|hottest| hottest.celsius)
}

/// JSON: `kilns`: list of `name`, `heat` (`electric` or `torch`), `note`, `retired`, and of an electric one (else null)
/// `rated_kw`, `warm_up_minutes`, `working_celsius`, `duty`, `room_celsius`, `rated_max_celsius`, `shelf_cm2`,
/// `furniture_g`, `door_kwh`, `fitted` (its figures are those of its meter readings), `capacity_kwh_per_k`,
/// `loss_kw_per_k`, `hottest_celsius`, `elements` and `thermocouple`: `since`, `hours`, `lasts`, `left`, `wearing`
/// (`fine`, `soon`, `due`).
fn list(session: &mut Session<'_>, task: &KilnList) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let preferences = Preferences::from(&*snapshot.settings);
    let mut kilns = Vec::new();
    for kiln in snapshot.kilns.iter().filter(|kiln| task.all || !kiln.kiln.retired) {
        kilns.push((&kiln.kiln, actions::hot_hours(&book, kiln.id, session.today())?));
    }
    if task.form.format == Format::Json {
        let rows: Vec<Value> = kilns.iter().map(|(kiln, hours)| kiln_json(kiln, hours.as_ref())).collect();
        return session.json(&json!({ "kilns": rows }));
    }
    if kilns.is_empty() {
        return session.say("There is no kiln yet; `kiln add` writes one down.");
    }
    let mut table = Table::new(&[
        ("Kiln", Align::Left),
        ("kW", Align::Right),
        ("Holds at most", Align::Right),
        ("Shelf cm²", Align::Right),
        ("Elements, hours", Align::Right),
        ("Thermocouple, hours", Align::Right),
        ("", Align::Left),
    ]);
    for (kiln, hours) in &kilns {
        let part = |part: &PartHours| {
            let due = match part.wearing {
                Wearing::Fine => "",
                Wearing::Soon => " soon due",
                Wearing::Due => " due",
            };
            format!("{} of {}{due}", number(part.used, &preferences), number(part.lasts, &preferences))
        };
        let (kw, shelf, remark) = match &kiln.heat {
            HeatSource::Torch => (String::new(), String::new(), "torch"),
            HeatSource::Electric(electric) => (
                number(electric.rated_kw, &preferences),
                number(electric.shelf_cm2, &preferences),
                if electric.fitted.is_some() { "by its meter" } else { "by three measurements" },
            ),
        };
        let heat = hottest(kiln).map(|celsius| plain(&display::temperature(celsius, &preferences)));
        table.row([
            kiln.name.clone(),
            kw,
            heat.unwrap_or_default(),
            shelf,
            hours.as_ref().map(|hours| part(&hours.elements)).unwrap_or_default(),
            hours.as_ref().map(|hours| part(&hours.thermocouple)).unwrap_or_default(),
            if kiln.retired { format!("{remark}, set aside") } else { remark.to_owned() },
        ]);
    }
    session.write(table)
}

pub(super) fn kiln_json(kiln: &Kiln, hours: Option<&HotHours>) -> Value {
    let electric = match &kiln.heat {
        HeatSource::Electric(electric) => Some(&**electric),
        HeatSource::Torch => None,
    };
    let model = electric.and_then(|electric| HeatModel::of(electric).ok());
    let figure = |of: fn(&ElectricKiln) -> Decimal| electric.map(of).map(|value| value.normalize().to_string());
    let part = |part: &PartHours| {
        let wearing = match part.wearing {
            Wearing::Fine => "fine",
            Wearing::Soon => "soon",
            Wearing::Due => "due",
        };
        json!({
            "since": part.since, "hours": part.used.to_string(), "lasts": part.lasts.to_string(),
            "left": part.left.to_string(), "wearing": wearing,
        })
    };
    json!({
        "name": kiln.name, "heat": if electric.is_some() { "electric" } else { "torch" }, "note": kiln.note,
        "retired": kiln.retired, "rated_kw": figure(|kiln| kiln.rated_kw),
        "warm_up_minutes": figure(|kiln| kiln.warm_up_minutes), "working_celsius": figure(|kiln| kiln.working_celsius),
        "duty": figure(|kiln| kiln.duty), "room_celsius": figure(|kiln| kiln.room_celsius),
        "rated_max_celsius": figure(|kiln| kiln.rated_max_celsius), "shelf_cm2": figure(|kiln| kiln.shelf_cm2),
        "furniture_g": figure(|kiln| kiln.furniture_g), "door_kwh": figure(|kiln| kiln.door_kwh),
        "fitted": model.as_ref().map(|model| model.from() == HeatFrom::Readings),
        "capacity_kwh_per_k": model.as_ref().and_then(|model| model.capacity().ok()).map(|value| value.to_string()),
        "loss_kw_per_k": model.as_ref().and_then(|model| model.loss().ok()).map(|value| value.to_string()),
        "hottest_celsius": hottest(kiln).map(|value| value.normalize().to_string()),
        "elements": hours.map(|hours| part(&hours.elements)),
        "thermocouple": hours.map(|hours| part(&hours.thermocouple)),
    })
}

/// JSON: `done` (null where nothing was changed), `kiln` (its name), `readings`: how many; `capacity_kwh_per_k`,
/// `loss_kw_per_k`, `door_kwh`, `norm_kwh` (root of the summed squares), `residuals`: list of `date`, `kwh` (the meter's),
/// `fitted_kwh`, `residual_kwh`.
fn fitted(session: &mut Session<'_>, task: &KilnFit) -> Result<(), Failure> {
    let mut book = if task.accept || task.measurements { session.open_to_write()? } else { session.open_to_read()? };
    let snapshot = actions::snapshot(&book)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let kiln = find_kiln(&snapshot, Some(&task.kiln))?;
    if task.measurements {
        let outcome = session.perform(&mut book, Action::AcceptFit { kiln: kiln.id, fitted: None })?;
        if task.form.format == Format::Json {
            return session
                .json(&json!({ "done": outcome.name, "kiln": kiln.kiln.name, "readings": 0, "residuals": [] }));
        }
        return session.say(&outcome.name);
    }
    let readings = actions::meter_readings(&book, kiln.id)?;
    let Some(found) = fit(&readings)? else {
        return Err(Failure::no(format!(
            "{} has {} with a meter reading; a fit takes {FEWEST_READINGS} or more: `kiln day --meter` writes one down",
            kiln.kiln.name,
            counted(readings.len(), "day", "days")
        )));
    };
    let done = if task.accept {
        let action = Action::AcceptFit { kiln: kiln.id, fitted: Some(found.accepted(session.today())) };
        Some(session.perform(&mut book, action)?.name)
    } else {
        None
    };
    if task.form.format == Format::Json {
        return session.json(&fit_json(&found, &kiln.kiln.name, done.as_deref()));
    }
    if let Some(done) = &done {
        session.say(done)?;
    }
    session.say(&format!(
        "{}: {} kWh to be a degree (K) hotter, {} kW lost a degree above the room, {} kWh at each opening",
        kiln.kiln.name, found.capacity_kwh_per_k, found.loss_kw_per_k, found.door_kwh
    ))?;
    let mut table = Table::new(&[
        ("Day", Align::Left),
        ("Meter kWh", Align::Right),
        ("Fit kWh", Align::Right),
        ("Apart", Align::Right),
    ]);
    for residual in &found.residuals {
        table.row([
            residual.reading.date.to_string(),
            number(residual.reading.kwh, &preferences),
            number(residual.fitted_kwh, &preferences),
            number(residual.residual_kwh, &preferences),
        ]);
    }
    session.write(table)?;
    if done.is_none() {
        session.say("Nothing is changed; --accept uses these figures from now on.")?;
    }
    Ok(())
}

fn fit_json(found: &HeatFit, kiln: &str, done: Option<&str>) -> Value {
    let residuals: Vec<Value> = found
        .residuals
        .iter()
        .map(|one| {
            json!({
                "date": one.reading.date, "kwh": one.reading.kwh.to_string(),
                "fitted_kwh": one.fitted_kwh.to_string(), "residual_kwh": one.residual_kwh.to_string(),
            })
        })
        .collect();
    json!({
        "done": done, "kiln": kiln, "readings": found.residuals.len(),
        "capacity_kwh_per_k": found.capacity_kwh_per_k.to_string(), "loss_kw_per_k": found.loss_kw_per_k.to_string(),
        "door_kwh": found.door_kwh.to_string(), "norm_kwh": found.norm_kwh.to_string(), "residuals": residuals,
    })
}
