//! `batch …`: begin, list, lose, finish, split, merge, abandon, and hands-on time.

use super::arguments::Format;
use super::batch_arguments::{
    BatchAbandon, BatchFinish, BatchList, BatchLose, BatchMerge, BatchSplit, BatchStart, BatchTask, BatchTime,
    StateAsked,
};
use super::bench::{Found, find_batch, minutes, numbered};
use super::designs;
use super::failure::Failure;
use super::session::Session;
use super::table::{Align, Table};
use super::words::{counted, quantity};
use super::{batch_show, batch_step};
use crate::actions::{self, Action, Added, NeededItem, NewBatch, Outcome, PieceLost, TimeSpent};
use crate::book::Book;
use crate::measure::Preferences;
use crate::studio::{BatchId, BatchState, LossKind, Timed, TimedWork};
use serde_json::{Value, json};

pub(super) fn batch(session: &mut Session<'_>, task: BatchTask) -> Result<(), Failure> {
    match task {
        BatchTask::Start(task) => start(session, task),
        BatchTask::List(task) => list(session, &task),
        BatchTask::Show(task) => batch_show::show(session, &task),
        BatchTask::Step(task) => batch_step::step(session, *task),
        BatchTask::Lose(task) => lose(session, task),
        BatchTask::Finish(task) => finish(session, &task),
        BatchTask::Split(task) => split(session, task),
        BatchTask::Merge(task) => merge(session, &task),
        BatchTask::Abandon(task) => abandon(session, task),
        BatchTask::Time(task) => time(session, &task),
    }
}

/// JSON: the fields of `batch show`, `done`, and `short`: list of `item` (its reference), `name`, `unit`, `needed`,
/// `on_hand`, `reserved` (for other open batches), `short`.
fn start(session: &mut Session<'_>, task: BatchStart) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let design = designs::find(&snapshot, &task.design)?.id;
    let short: Vec<NeededItem> =
        actions::batch_need(&book, design, task.pieces)?.into_iter().filter(|need| !need.short.is_zero()).collect();
    let date = task.date.unwrap_or_else(|| session.today());
    let new = NewBatch { design, name: task.name, pieces: task.pieces, date, note: task.note };
    let outcome = session.perform(&mut book, Action::StartBatch(new))?;
    let found = added(&book, &outcome)?;
    if task.form.format == Format::Json {
        let missing: Vec<Value> = short
            .iter()
            .map(|need| {
                json!({
                    "item": snapshot.item(need.item).map(|row| &row.item.reference), "name": need.name,
                    "unit": need.unit.name(), "needed": need.needed.to_string(), "on_hand": need.on_hand.to_string(),
                    "reserved": need.reserved.to_string(), "short": need.short.to_string(),
                })
            })
            .collect();
        let mut answer = batch_show::batch_json(&book, &found)?;
        if let Value::Object(fields) = &mut answer {
            fields.insert("done".to_owned(), json!(outcome.name));
            fields.insert("short".to_owned(), json!(missing));
        }
        return session.json(&answer);
    }
    session.say(&outcome.name)?;
    if short.is_empty() {
        return session.say(
            "What it needs of the items its design follows is on the shelf and reserved for it; a material without an item \
             is not looked at.",
        );
    }
    session.say("Short; to be bought or cut before its step:")?;
    let mut table =
        Table::new(&[("Item", Align::Left), ("Name", Align::Left), ("Needed", Align::Right), ("Short", Align::Right)]);
    for need in &short {
        table.row([
            snapshot.item(need.item).map_or_else(String::new, |row| row.item.reference.clone()),
            need.name.clone(),
            quantity(need.needed, need.unit, &preferences),
            quantity(need.short, need.unit, &preferences),
        ]);
    }
    session.write(table)
}

/// The batch an action added.
fn added(book: &Book, outcome: &Outcome) -> Result<Found, Failure> {
    let missing = || Failure::no("the batch that was begun is not in the book");
    let Some(Added::Batch(id)) = outcome.added else { return Err(missing()) };
    Ok(Found::of(actions::batch(book, id)?.ok_or_else(missing)?))
}

/// JSON: `batches`: list of `batch` (its number), `design` (code), `name`, `started`, `state`, `pieces`, `finished`.
fn list(session: &mut Session<'_>, task: &BatchList) -> Result<(), Failure> {
    let (book, _) = session.read()?;
    let state = match task.state {
        StateAsked::Open => Some(BatchState::Open),
        StateAsked::Finished => Some(BatchState::Finished),
        StateAsked::Abandoned => Some(BatchState::Abandoned),
        StateAsked::All => None,
    };
    let heads = actions::batch_heads(&book, state)?;
    if task.form.format == Format::Json {
        let rows: Vec<Value> = heads
            .iter()
            .map(|head| {
                json!({
                    "batch": head.number, "design": head.code, "name": head.name, "started": head.started,
                    "state": head.state.name(), "pieces": head.pieces, "finished": head.finished,
                })
            })
            .collect();
        return session.json(&json!({ "batches": rows }));
    }
    if heads.is_empty() {
        return session.say("No batch answers that; `batch start` begins one.");
    }
    let mut table = Table::new(&[
        ("Batch", Align::Right),
        ("Design", Align::Left),
        ("Name", Align::Left),
        ("Begun", Align::Left),
        ("Pieces", Align::Right),
        ("Finished", Align::Right),
        ("", Align::Left),
    ]);
    for head in &heads {
        table.row([
            head.number.to_string(),
            head.code.clone(),
            head.name.clone(),
            head.started.to_string(),
            head.pieces.to_string(),
            head.finished.to_string(),
            head.state.name().to_owned(),
        ]);
    }
    session.write(table)?;
    session.say(&counted(heads.len(), "batch", "batches"))
}

fn lose(session: &mut Session<'_>, task: BatchLose) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let found = find_batch(&book, task.number)?;
    let kind = if task.abnormal { LossKind::Abnormal } else { LossKind::Normal };
    let lost = found
        .pieces(&task.pieces)?
        .into_iter()
        .map(|piece| PieceLost { piece, cause: task.cause.into(), kind, note: task.note.clone() })
        .collect();
    let date = task.date.unwrap_or_else(|| session.today());
    let action = Action::LosePieces { batch: found.record.id, lost, date };
    tell(session, &mut book, action, found.record.id, task.form.format)
}

fn finish(session: &mut Session<'_>, task: &BatchFinish) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let found = find_batch(&book, task.number)?;
    let pieces = match &task.pieces {
        Some(text) => found.pieces(text)?,
        None => found.now.done(),
    };
    if pieces.is_empty() {
        return Err(Failure::no(format!("no piece of batch {} is through its route yet", task.number)));
    }
    let seconds = task.seconds.as_deref().map(|text| found.pieces(text)).transpose()?.unwrap_or_default();
    let date = task.date.unwrap_or_else(|| session.today());
    let action = Action::FinishPieces { batch: found.record.id, pieces, seconds, date };
    tell(session, &mut book, action, found.record.id, task.form.format)
}

fn split(session: &mut Session<'_>, task: BatchSplit) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let found = find_batch(&book, task.number)?;
    let pieces = found.pieces(&task.pieces)?;
    let date = task.date.unwrap_or_else(|| session.today());
    let action = Action::SplitBatch { batch: found.record.id, pieces, date, name: task.name };
    let outcome = session.perform(&mut book, action)?;
    let found = added(&book, &outcome)?;
    batch_show::tell(session, &book, &found, &outcome.name, task.form.format)
}

fn merge(session: &mut Session<'_>, task: &BatchMerge) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let (from, into) = (find_batch(&book, task.from)?.record.id, find_batch(&book, task.into)?.record.id);
    let date = task.date.unwrap_or_else(|| session.today());
    tell(session, &mut book, Action::MergeBatches { from, into, date }, into, task.form.format)
}

fn abandon(session: &mut Session<'_>, task: BatchAbandon) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let batch = find_batch(&book, task.number)?.record.id;
    let date = task.date.unwrap_or_else(|| session.today());
    tell(session, &mut book, Action::AbandonBatch { batch, date, why: task.why }, batch, task.form.format)
}

fn time(session: &mut Session<'_>, task: &BatchTime) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let preferences = Preferences::from(&*actions::snapshot(&book)?.settings);
    let found = find_batch(&book, task.number)?;
    let mut work = vec![TimedWork { batch: found.record.id, step: found.step(task.step)?.0 }];
    for also in &task.also {
        let form = "a batch and a step, such as 5:2,";
        let (number, step) = numbered("also", also, ':', form)?;
        let step = step
            .trim()
            .parse()
            .map_err(|_| Failure::invalid(format!("also: {also:?} was given; {form} is accepted")))?;
        let other = find_batch(&book, number)?;
        work.push(TimedWork { batch: other.record.id, step: other.step(step)?.0 });
    }
    let minutes = minutes("minutes", &task.minutes, &preferences)?;
    let date = task.date.unwrap_or_else(|| session.today());
    let action = Action::AddTime(TimeSpent { work, minutes, date, how: Timed::Typed });
    tell(session, &mut book, action, found.record.id, task.form.format)
}

/// Carries out an action on a batch and shows the batch.
pub(super) fn tell(
    session: &mut Session<'_>,
    book: &mut Book,
    action: Action,
    batch: BatchId,
    format: Format,
) -> Result<(), Failure> {
    let outcome = session.perform(book, action)?;
    let record = actions::batch(book, batch)?.ok_or_else(|| Failure::no("the batch is not in the book any more"))?;
    batch_show::tell(session, book, &Found::of(record), &outcome.name, format)
}
