//! `kiln log`: a load that was fired is written down, or the loads of a range are listed.

use super::arguments::Format;
use super::bench::{Found, find_batch, find_kiln, minutes, numbered, with_cause};
use super::failure::Failure;
use super::kiln_arguments::KilnLog;
use super::session::Session;
use super::table::{Align, Table};
use super::typed;
use super::words::{counted, money, number, plain};
use crate::actions::{self, Action, Added, LoadAccount, LoadLine};
use crate::book::{Book, Snapshot};
use crate::costing::load_check::shelf_area;
use crate::measure::{Decimal, Preferences, display, exact};
use crate::paper::batch_words::spans;
use crate::studio::{Charged, FiringResult, Load, LoadId, LossKind, PieceId};
use serde_json::{Value, json};

pub(super) fn log(session: &mut Session<'_>, task: KilnLog) -> Result<(), Failure> {
    if task.batch.is_empty() { list(session, &task) } else { write(session, task) }
}

/// Results by piece, and whether each was used.
struct Results(Vec<(PieceId, FiringResult)>);

impl Results {
    fn of(task: &KilnLog, batches: &[Found]) -> Result<Self, Failure> {
        let mut results = Vec::new();
        let kind = if task.abnormal { LossKind::Abnormal } else { LossKind::Normal };
        let mut put = |field: &str, text: &str, result: &FiringResult| -> Result<(), Failure> {
            let (number, pieces) = numbered(field, text, '/', "a batch and pieces, such as 4/3,")?;
            let batch = batches.iter().find(|batch| batch.number() == number).ok_or_else(|| {
                Failure::invalid(format!("{field}: {text:?} was given; a batch that --batch names is accepted"))
            })?;
            results.extend(batch.pieces(pieces)?.into_iter().map(|piece| (piece, result.clone())));
            Ok(())
        };
        for text in &task.lost {
            let (pieces, cause) = with_cause("lost", text)?;
            put("lost", pieces, &FiringResult::Lost { cause, kind })?;
        }
        for text in &task.again {
            put("again", text, &FiringResult::Again)?;
        }
        for (place, (piece, _)) in results.iter().enumerate() {
            if results.iter().skip(place + 1).any(|(other, _)| other == piece) {
                return Err(Failure::invalid("results: a piece is named twice; one result a piece is accepted"));
            }
        }
        Ok(Self(results))
    }

    /// What came of a piece; good where nothing was said.
    fn take(&mut self, piece: PieceId) -> FiringResult {
        match self.0.iter().position(|(named, _)| *named == piece) {
            Some(place) => self.0.swap_remove(place).1,
            None => FiringResult::Good,
        }
    }
}

/// `4:3:1-5`: batch, step, pieces.
fn charged(text: &str, batches: &mut Vec<Found>, book: &Book) -> Result<Vec<Charged>, Failure> {
    const FORM: &str = "a batch, its firing and pieces, such as 4:3:1-5 or 4:3,";
    let (number, rest) = numbered("batch", text, ':', FORM)?;
    let (step, pieces) = rest.split_once(':').map_or((rest, None), |(step, pieces)| (step, Some(pieces)));
    let step: u32 =
        step.trim().parse().map_err(|_| Failure::invalid(format!("batch: {text:?} was given; {FORM} is accepted")))?;
    if !batches.iter().any(|known| known.number() == number) {
        batches.push(find_batch(book, number)?);
    }
    let Some(batch) = batches.iter().find(|known| known.number() == number) else { return Ok(Vec::new()) };
    let (place, _) = batch.step(step)?;
    let area_cm2 = shelf_area(&batch.record.batch.plan).map_err(|error| Failure::no(error.to_string()))?;
    let pieces = batch.pieces_at(pieces, place)?;
    let one = |piece| Charged { piece, batch: batch.record.id, step: place, area_cm2, result: None };
    Ok(pieces.into_iter().map(one).collect())
}

fn write(session: &mut Session<'_>, task: KilnLog) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let kiln = find_kiln(&snapshot, task.kiln.as_deref())?.id;
    let day = task.date.unwrap_or_else(|| session.today());
    // The argument reader has seen to it that these are there.
    let (Some(closed), Some(opened), Some(set)) = (task.closed, task.opened, task.set.as_deref()) else {
        return Err(Failure::invalid("a load needs --closed, --opened and --set"));
    };
    let (closed_at, opened_at) = (closed.on(day), opened.on(day));
    let mut batches = Vec::new();
    let mut charge = Vec::new();
    for text in &task.batch {
        charge.extend(charged(text, &mut batches, &book)?);
    }
    let mut results = Results::of(&task, &batches)?;
    for one in &mut charge {
        one.result = Some(results.take(one.piece));
    }
    if !results.0.is_empty() {
        return Err(Failure::invalid("results: only pieces that were in the load are accepted; --batch names them"));
    }
    let heat = |field: &str, text: &str| typed::temperature(field, text, &preferences);
    let time = |field: &str, text: Option<&str>| text.map(|text| minutes(field, text, &preferences)).transpose();
    let had = exact::div(Decimal::from(opened_at.signed_duration_since(closed_at).num_seconds()), Decimal::from(60))?;
    let load = Load {
        kiln,
        closed_at,
        opened_at: Some(opened_at),
        set_celsius: heat("set", set)?,
        read_celsius: task.read.as_deref().map(|text| heat("read", text)).transpose()?,
        asked_minutes: time("asked", task.asked.as_deref())?.unwrap_or_else(|| exact::round(had, 6)),
        attended_minutes: time("minutes", task.minutes.as_deref())?,
        charge,
        override_words: task.override_words,
        note: task.note,
    };
    let outcome = session.perform(&mut book, Action::LogLoad(load))?;
    let Some(Added::Load(id)) = outcome.added else { return session.say(&outcome.name) };
    tell(session, &book, id, &outcome.name, task.form.format, &preferences)
}

/// JSON: `done`, and `load`: the fields of one of `kiln log`.
fn tell(
    session: &mut Session<'_>,
    book: &Book,
    id: LoadId,
    done: &str,
    format: Format,
    preferences: &Preferences,
) -> Result<(), Failure> {
    let account = actions::load_account(book, id)?;
    if format == Format::Json {
        return session.json(&json!({ "done": done, "load": account.as_ref().map(load_json) }));
    }
    session.say(done)?;
    match account.as_ref().and_then(|account| account.part.as_ref()) {
        Some(part) => {
            let cost = exact::add(part.energy.amount(), part.wear.amount())?;
            session.say(&format!("{} kWh, energy and wear {}", number(part.kwh, preferences), money(cost, preferences)))
        }
        None => Ok(()),
    }
}

/// JSON: `currency`; `loads`: list, in order of time, of `load` (its row), `kiln` (its name), `closed_at`, `opened_at`,
/// `minutes` (in the heat), `set_celsius`, `read_celsius`, `asked_minutes`, `override`, `note`, `kwh`, `energy`, `wear`
/// (money; null while it fires), `pieces`: list of `batch` (its number), `step` (from 1), `step_name`, `place`, `number` (of
/// a finished piece), `result` (`good`, `again`, `lost`, null while it fires), `cause`, `loss` (`normal` or `abnormal`),
/// `energy`, `wear`.
fn list(session: &mut Session<'_>, task: &KilnLog) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let preferences = Preferences::from(&*snapshot.settings);
    let today = task.date.unwrap_or_else(|| session.today());
    let from = task.from.or(task.to).unwrap_or(today);
    let accounts = accounts(&book, &snapshot, task.kiln.as_deref(), (from, task.to.unwrap_or(today)))?;
    if task.form.format == Format::Json {
        let loads: Vec<Value> = accounts.iter().map(load_json).collect();
        return session.json(&json!({ "currency": preferences.currency.code(), "loads": loads }));
    }
    if accounts.is_empty() {
        return session.say("No load was fired then.");
    }
    let mut table = Table::new(&[
        ("Closed", Align::Left),
        ("Opened", Align::Left),
        ("Minutes", Align::Right),
        ("Kiln", Align::Left),
        ("Set", Align::Right),
        ("Read", Align::Right),
        ("kWh", Align::Right),
        ("Pieces", Align::Left),
        ("Results", Align::Left),
        ("", Align::Left),
    ]);
    for account in &accounts {
        let load = &account.load.load;
        let heat = |celsius: Decimal| plain(&display::temperature(celsius, &preferences));
        let past = if load.override_words.is_empty() { String::new() } else { "past a stop".to_owned() };
        table.row([
            load.closed_at.format("%Y-%m-%d %H:%M").to_string(),
            load.opened_at.map(|at| at.format("%H:%M").to_string()).unwrap_or_default(),
            account.minutes_in_heat.map(|minutes| display::minutes(minutes, &preferences)).unwrap_or_default(),
            account.kiln.name.clone(),
            heat(load.set_celsius),
            load.read_celsius.map(heat).unwrap_or_default(),
            account.part.as_ref().map(|part| number(part.kwh, &preferences)).unwrap_or_default(),
            pieces_words(&account.pieces),
            results_words(&account.pieces),
            past,
        ]);
    }
    session.write(table)?;
    session.say(&counted(accounts.len(), "load", "loads"))
}

/// The loads of a range with what each cost, of one kiln where it is named.
pub(super) fn accounts(
    book: &Book,
    snapshot: &Snapshot,
    kiln: Option<&str>,
    (from, to): (chrono::NaiveDate, chrono::NaiveDate),
) -> Result<Vec<LoadAccount>, Failure> {
    let kiln = kiln.map(|name| find_kiln(snapshot, Some(name))).transpose()?.map(|kiln| kiln.id);
    let mut accounts = Vec::new();
    for load in actions::loads(book, from, to)? {
        if kiln.is_none_or(|kiln| load.load.kiln == kiln) {
            accounts.extend(actions::load_account(book, load.id)?);
        }
    }
    Ok(accounts)
}

/// `4:3 1–5; 7:2 1`.
fn pieces_words(lines: &[LoadLine]) -> String {
    let mut groups: Vec<(u32, usize, Vec<String>)> = Vec::new();
    for line in lines {
        match groups.iter_mut().find(|(batch, step, _)| *batch == line.batch_number && *step == line.step) {
            Some((.., places)) => places.push(line.place.to_string()),
            None => groups.push((line.batch_number, line.step, vec![line.place.to_string()])),
        }
    }
    let words = groups
        .iter()
        .map(|(batch, step, places)| format!("{batch}:{} {}", step + 1, spans(places.iter().map(String::as_str))));
    words.collect::<Vec<_>>().join("; ")
}

fn results_words(lines: &[LoadLine]) -> String {
    let of = |is: fn(&FiringResult) -> bool| lines.iter().filter(|line| line.result.as_ref().is_some_and(is)).count();
    let counts = [
        (of(|result| *result == FiringResult::Good), "good"),
        (of(|result| *result == FiringResult::Again), "again"),
        (of(|result| matches!(result, FiringResult::Lost { .. })), "lost"),
    ];
    let said = counts.iter().filter(|(count, _)| *count > 0).map(|(count, words)| format!("{count} {words}"));
    said.collect::<Vec<_>>().join(", ")
}

fn load_json(account: &LoadAccount) -> Value {
    let load = &account.load.load;
    let pieces: Vec<Value> = account.pieces.iter().map(line_json).collect();
    let part = account.part.as_ref();
    json!({
        "load": account.load.id.0, "kiln": account.kiln.name, "closed_at": load.closed_at, "opened_at": load.opened_at,
        "minutes": account.minutes_in_heat.map(|minutes| minutes.to_string()),
        "set_celsius": load.set_celsius.normalize().to_string(),
        "read_celsius": load.read_celsius.map(|celsius| celsius.normalize().to_string()),
        "asked_minutes": load.asked_minutes.normalize().to_string(), "override": load.override_words,
        "note": load.note, "kwh": part.map(|part| part.kwh.to_string()),
        "energy": part.map(|part| part.energy.to_string()), "wear": part.map(|part| part.wear.to_string()),
        "pieces": pieces,
    })
}

fn line_json(line: &LoadLine) -> Value {
    let (result, lost) = match &line.result {
        Some(FiringResult::Good) => (Some("good"), None),
        Some(FiringResult::Again) => (Some("again"), None),
        Some(FiringResult::Lost { cause, kind }) => (Some("lost"), Some((cause.name(), kind.name()))),
        None => (None, None),
    };
    json!({
        "batch": line.batch_number, "step": line.step + 1, "step_name": line.step_name, "place": line.place,
        "number": line.number, "result": result, "cause": lost.map(|(cause, _)| cause),
        "loss": lost.map(|(_, kind)| kind), "energy": line.share.energy.to_string(),
        "wear": line.share.wear.to_string(),
    })
}
