//! `piece …`: finished pieces, and each one's way back to lots, loads and minutes.

use super::arguments::Format;
use super::batch_arguments::{PieceList, PieceShow, PieceTask};
use super::failure::Failure;
use super::session::Session;
use super::table::{Align, Table};
use super::words::{counted, fine_money, money, number, plain};
use crate::actions::{self, PieceStory};
use crate::book::Snapshot;
use crate::measure::{Decimal, Preferences, display};
use crate::studio::FiringResult;
use chrono::NaiveDate;
use serde_json::{Value, json};

pub(super) fn piece(session: &mut Session<'_>, task: PieceTask) -> Result<(), Failure> {
    match task {
        PieceTask::List(task) => list(session, &task),
        PieceTask::Show(task) => show(session, &task),
    }
}

/// JSON: `currency`; `pieces`: list, newest first, of `number`, `design` (code), `name`, `batch` (its number), `finished`,
/// `second`, `note`, `ticket` (the one in force, null where none was accepted).
fn list(session: &mut Session<'_>, task: &PieceList) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let preferences = Preferences::from(&*snapshot.settings);
    // The first day a book can hold.
    let from = task.from.or(NaiveDate::from_ymd_opt(1900, 1, 1)).unwrap_or_default();
    let pieces = actions::finished_pieces(&book, from, task.to.unwrap_or_else(|| session.today()))?;
    if task.form.format == Format::Json {
        let rows: Vec<Value> = pieces
            .iter()
            .map(|one| {
                json!({
                    "number": one.piece.number, "design": one.code, "name": one.name, "batch": one.batch_number,
                    "finished": one.piece.finished, "second": one.piece.second, "note": one.piece.note,
                    "ticket": one.ticket.map(|ticket| ticket.to_string()),
                })
            })
            .collect();
        return session.json(&json!({ "currency": preferences.currency.code(), "pieces": rows }));
    }
    if pieces.is_empty() {
        return session.say("No piece was finished then; `batch finish` gives pieces their numbers.");
    }
    let mut table = Table::new(&[
        ("Number", Align::Left),
        ("Name", Align::Left),
        ("Batch", Align::Right),
        ("Finished", Align::Left),
        ("Ticket", Align::Right),
        ("", Align::Left),
    ]);
    for one in &pieces {
        table.row([
            one.piece.number.clone().unwrap_or_default(),
            one.name.clone(),
            one.batch_number.to_string(),
            one.piece.finished.map(|day| day.to_string()).unwrap_or_default(),
            one.ticket.map(|ticket| money(ticket.amount(), &preferences)).unwrap_or_default(),
            if one.piece.second { "second".to_owned() } else { String::new() },
        ]);
    }
    session.write(table)?;
    session.say(&counted(pieces.len(), "piece", "pieces"))
}

fn show(session: &mut Session<'_>, task: &PieceShow) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let preferences = Preferences::from(&*snapshot.settings);
    let missing = || Failure::no(format!("there is no piece {}; `piece list` shows the numbers", task.number));
    let number = task.number.trim().to_uppercase();
    let id = actions::piece_with_number(&book, &number)?.ok_or_else(missing)?;
    let story = actions::piece_story(&book, id)?.ok_or_else(missing)?;
    if task.form.format == Format::Json {
        return session.json(&story_json(&story, &snapshot));
    }
    text(session, &story, &preferences)
}

fn result_words(result: Option<&FiringResult>) -> String {
    match result {
        Some(FiringResult::Good) => "good".to_owned(),
        Some(FiringResult::Again) => "again".to_owned(),
        Some(FiringResult::Lost { cause, .. }) => format!("lost, {}", cause.words()),
        None => "fires".to_owned(),
    }
}

fn text(session: &mut Session<'_>, story: &PieceStory, preferences: &Preferences) -> Result<(), Failure> {
    let piece = &story.piece;
    let batches: Vec<String> = story.batches.iter().map(|(_, number)| number.to_string()).collect();
    session.say(&format!(
        "{}, {}, piece {} of batch {}{}{}",
        piece.number.clone().unwrap_or_default(),
        story.batch.name,
        piece.place,
        batches.join(", then batch "),
        piece.finished.map(|day| format!(", finished {day}")).unwrap_or_default(),
        if piece.second { ", a second" } else { "" }
    ))?;
    let mut cost = Table::new(&[("Cost", Align::Left), (preferences.currency.code(), Align::Right)]);
    for part in &story.parts {
        cost.row([part.words.to_owned(), fine_money(part.cost.amount(), preferences)]);
    }
    if let Some(all) = story.cost {
        cost.row(["All of it".to_owned(), fine_money(all.amount(), preferences)]);
    }
    if !cost.is_empty() {
        session.write(cost)?;
    }
    let mut lots = Table::new(&[
        ("Lot of", Align::Left),
        ("Quantity", Align::Right),
        ("Day", Align::Left),
        ("Lot", Align::Right),
        ("Maker's number", Align::Left),
        ("Supplier", Align::Left),
    ]);
    for lot in &story.lots {
        lots.row([
            lot.name.clone(),
            plain(&display::quantity(lot.quantity, lot.unit, preferences)),
            lot.date.to_string(),
            lot.lot.map_or_else(|| "counted".to_owned(), |lot| lot.0.to_string()),
            lot.lot_number.clone(),
            lot.supplier.clone(),
        ]);
    }
    let mut loads = Table::new(&[
        ("Load closed", Align::Left),
        ("Kiln", Align::Left),
        ("Step", Align::Right),
        ("Set", Align::Right),
        ("Result", Align::Left),
    ]);
    for load in &story.loads {
        loads.row([
            load.load.load.closed_at.format("%Y-%m-%d %H:%M").to_string(),
            load.kiln_name.clone(),
            (load.step + 1).to_string(),
            plain(&display::temperature(load.load.load.set_celsius, preferences)),
            result_words(load.result.as_ref()),
        ]);
    }
    let mut minutes = Table::new(&[("Minutes at", Align::Left), ("", Align::Right)]);
    for step in &story.minutes {
        minutes.row([step.step_name.clone(), number(step.minutes, preferences)]);
    }
    minutes.row(["All of them".to_owned(), number(story.all_minutes, preferences)]);
    for table in [lots, loads, minutes] {
        if !table.is_empty() {
            session.write("\n")?;
            session.write(table)?;
        }
    }
    Ok(())
}

/// JSON: `number`, `design` (code), `name`, `place`, `finished`, `second`, `note`, `batches`: their numbers in order;
/// `cost` (null while it is not finished), `parts`: list of `part`, `cost`; `lots`: list of `item` (its reference), `name`,
/// `unit`, `material`, `step`, `movement` (the issue), `date`, `lot` (null for stock a count found), `lot_number`,
/// `supplier`, `quantity`; `loads`: list of `load` (its row), `kiln`, `closed_at`, `opened_at`, `set_celsius`, `step`,
/// `result`; `minutes`: list of `step`, `name`, `minutes`; `all_minutes`.
fn story_json(story: &PieceStory, snapshot: &Snapshot) -> Value {
    let piece = &story.piece;
    let exact = |value: Decimal| value.normalize().to_string();
    let parts: Vec<Value> =
        story.parts.iter().map(|part| json!({ "part": part.words, "cost": part.cost.to_string() })).collect();
    let lots: Vec<Value> = story
        .lots
        .iter()
        .map(|lot| {
            json!({
                "item": snapshot.item(lot.item).map(|row| &row.item.reference), "name": lot.name,
                "unit": lot.unit.name(), "material": lot.material, "step": lot.step + 1, "movement": lot.issue.0,
                "date": lot.date, "lot": lot.lot.map(|lot| lot.0), "lot_number": lot.lot_number,
                "supplier": lot.supplier, "quantity": exact(lot.quantity),
            })
        })
        .collect();
    let loads: Vec<Value> = story
        .loads
        .iter()
        .map(|load| {
            json!({
                "load": load.load.id.0, "kiln": load.kiln_name, "closed_at": load.load.load.closed_at,
                "opened_at": load.load.load.opened_at, "set_celsius": exact(load.load.load.set_celsius),
                "step": load.step + 1, "result": result_words(load.result.as_ref()),
            })
        })
        .collect();
    let minutes: Vec<Value> = story
        .minutes
        .iter()
        .map(|step| json!({ "step": step.step + 1, "name": step.step_name, "minutes": exact(step.minutes) }))
        .collect();
    let batches: Vec<u32> = story.batches.iter().map(|(_, number)| *number).collect();
    json!({
        "number": piece.number, "design": story.batch.code, "name": story.batch.name, "place": piece.place,
        "finished": piece.finished, "second": piece.second, "note": piece.note, "batches": batches,
        "cost": story.cost.map(|cost| cost.to_string()), "parts": parts, "lots": lots, "loads": loads,
        "minutes": minutes, "all_minutes": exact(story.all_minutes),
    })
}
