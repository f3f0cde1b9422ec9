//! `kiln day`: a kiln's day is written down, or told with what it took.

use super::arguments::Format;
use super::bench::find_kiln;
use super::failure::Failure;
use super::kiln_arguments::KilnDayTask;
use super::session::Session;
use super::table::{Align, Table};
use super::typed;
use super::words::{fine_money, number, plain};
use crate::actions::{self, Action, KilnDayAccount};
use crate::book::Book;
use crate::kiln::day::{DayAccount, DayBasis};
use crate::measure::{Preferences, display};
use crate::studio::{BookKiln, HeatSource, KilnDay};
use chrono::NaiveDate;
use serde_json::{Value, json};

pub(super) fn day(session: &mut Session<'_>, task: KilnDayTask) -> Result<(), Failure> {
    let date = task.date.unwrap_or_else(|| session.today());
    let writes = task.on.is_some()
        || task.hot.is_some()
        || task.off.is_some()
        || task.hold.is_some()
        || task.meter.is_some()
        || task.note.is_some();
    if !writes {
        let (book, snapshot) = session.read()?;
        let kiln = find_kiln(&snapshot, task.kiln.as_deref())?;
        let preferences = Preferences::from(&*snapshot.settings);
        return tell(session, &book, kiln, date, None, task.form.format, &preferences);
    }
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let kiln = find_kiln(&snapshot, task.kiln.as_deref())?;
    let before = actions::kiln_days(&book, kiln.id, date, date)?.into_iter().find_map(|day| day.written);
    let on_at = match (task.on, &before) {
        (Some(on), _) => on.on(date),
        (None, Some(before)) => before.day.on_at,
        (None, None) => {
            return Err(Failure::invalid(format!(
                "on: nothing was given for {date}; a time it was switched on is accepted, such as --on 9:05"
            )));
        }
    };
    let old = before.as_ref().map(|before| &before.day);
    let hold_celsius = match (&task.hold, old, &kiln.kiln.heat) {
        (Some(text), ..) => typed::temperature("hold", text, &preferences)?,
        (None, Some(old), _) => old.hold_celsius,
        (None, None, HeatSource::Electric(electric)) => electric.working_celsius,
        (None, None, HeatSource::Torch) => {
            return Err(Failure::no(format!("{} is a torch; it has no days", kiln.kiln.name)));
        }
    };
    let day = KilnDay {
        kiln: kiln.id,
        date,
        on_at,
        hot_at: task.hot.map(|at| at.on(date)).or_else(|| old.and_then(|old| old.hot_at)),
        off_at: task.off.map(|at| at.on(date)).or_else(|| old.and_then(|old| old.off_at)),
        hold_celsius,
        meter_kwh: task.meter.or_else(|| old.and_then(|old| old.meter_kwh)),
        note: task.note.or_else(|| old.map(|old| old.note.clone())).unwrap_or_default(),
    };
    let outcome = session.perform(&mut book, Action::SaveKilnDay { id: before.map(|before| before.id), day })?;
    tell(session, &book, kiln, date, Some(&outcome.name), task.form.format, &preferences)
}

/// JSON: `done` (null where nothing was written), `kiln` (its name), `date`, `currency`, and of the day (null where it was
/// not written down) `on_at`, `hot_at`, `off_at`, `hold_celsius`, `meter_kwh`, `note`; `account` (null where the day has
/// neither times nor loads): `basis` (`metered`, `modelled`, `rates`, `torch`), `kwh`, `energy`, `wear`, `hot_hours`,
/// `warm_up` and `idle` (each `minutes`, `kwh`, `energy`, `wear`), `loads`: list of `load` (its row), `kwh`, `energy`,
/// `wear`; `problem`: why it cannot be said, where it cannot.
fn tell(
    session: &mut Session<'_>,
    book: &Book,
    kiln: &BookKiln,
    date: NaiveDate,
    done: Option<&str>,
    format: Format,
    preferences: &Preferences,
) -> Result<(), Failure> {
    let found = actions::kiln_days(book, kiln.id, date, date)?.into_iter().find(|day| day.date == date);
    if format == Format::Json {
        return session.json(&day_json(&kiln.kiln.name, date, found.as_ref(), done, preferences));
    }
    if let Some(done) = done {
        session.say(done)?;
    }
    let Some(found) = found else {
        return session.say(&format!("{} was not hot on {date}, as far as is written down.", kiln.kiln.name));
    };
    if let Some(day) = found.written.as_ref().map(|written| &written.day) {
        let mut said = vec![format!("on {}", day.on_at.format("%H:%M"))];
        said.extend(day.hot_at.map(|at| format!("hot {}", at.format("%H:%M"))));
        said.extend(day.off_at.map(|at| format!("off {}", at.format("%H:%M"))));
        said.push(format!("held {}", plain(&display::temperature(day.hold_celsius, preferences))));
        said.extend(day.meter_kwh.map(|kwh| format!("meter {} kWh", number(kwh, preferences))));
        session.say(&format!("{}, {date}: {}", kiln.kiln.name, said.join(", ")))?;
    }
    match &found.account {
        Ok(account) => account_text(session, account, preferences),
        Err(problem) => session.say(&format!("What it took cannot be said: {problem}")),
    }
}

const fn basis(account: &DayAccount) -> &'static str {
    match account.basis {
        DayBasis::Metered => "metered",
        DayBasis::Modelled => "modelled",
        DayBasis::Rates => "rates",
        DayBasis::Torch => "torch",
    }
}

fn account_text(session: &mut Session<'_>, account: &DayAccount, preferences: &Preferences) -> Result<(), Failure> {
    let mut table = Table::new(&[
        ("", Align::Left),
        ("Minutes", Align::Right),
        ("kWh", Align::Right),
        ("Energy", Align::Right),
        ("Wear", Align::Right),
    ]);
    let mut row = |words: String, part: &crate::kiln::day::DayPart| {
        table.row([
            words,
            number(part.minutes, preferences),
            number(part.kwh, preferences),
            fine_money(part.energy.amount(), preferences),
            fine_money(part.wear.amount(), preferences),
        ]);
    };
    row("Warming up".to_owned(), &account.warm_up);
    row("Holding, empty".to_owned(), &account.idle);
    for load in &account.loads {
        row(format!("Load {}, its own", load.load.0), &load.own);
    }
    table.row([
        format!("The day, {}", basis(account)),
        String::new(),
        number(account.kwh, preferences),
        fine_money(account.energy.amount(), preferences),
        fine_money(account.wear.amount(), preferences),
    ]);
    session.write(table)
}

fn day_json(
    kiln: &str,
    date: NaiveDate,
    found: Option<&KilnDayAccount>,
    done: Option<&str>,
    preferences: &Preferences,
) -> Value {
    let day = found.and_then(|found| found.written.as_ref()).map(|written| &written.day);
    let account = found.and_then(|found| found.account.as_ref().ok());
    let problem = found.and_then(|found| found.account.as_ref().err());
    let part = |part: &crate::kiln::day::DayPart| {
        json!({
            "minutes": part.minutes.to_string(), "kwh": part.kwh.to_string(), "energy": part.energy.to_string(),
            "wear": part.wear.to_string(),
        })
    };
    let account = account.map(|account| {
        let loads: Vec<Value> = account
            .loads
            .iter()
            .map(|load| {
                json!({
                    "load": load.load.0, "kwh": load.kwh.to_string(), "energy": load.energy.to_string(),
                    "wear": load.wear.to_string(),
                })
            })
            .collect();
        json!({
            "basis": basis(account), "kwh": account.kwh.to_string(), "energy": account.energy.to_string(),
            "wear": account.wear.to_string(), "hot_hours": account.hot_hours.to_string(),
            "warm_up": part(&account.warm_up), "idle": part(&account.idle), "loads": loads,
        })
    });
    json!({
        "done": done, "kiln": kiln, "date": date, "currency": preferences.currency.code(),
        "on_at": day.map(|day| day.on_at), "hot_at": day.and_then(|day| day.hot_at),
        "off_at": day.and_then(|day| day.off_at),
        "hold_celsius": day.map(|day| day.hold_celsius.normalize().to_string()),
        "meter_kwh": day.and_then(|day| day.meter_kwh).map(|kwh| kwh.normalize().to_string()),
        "note": day.map(|day| &day.note), "account": account, "problem": problem,
    })
}
