//! `batch show`: where a batch's pieces are, and what it cost.

use super::arguments::Format;
use super::batch_arguments::BatchShow;
use super::bench::{Found, find_batch};
use super::failure::Failure;
use super::session::Session;
use super::table::{Align, Table};
use super::words::{counted, fine_money, money, number};
use crate::actions;
use crate::book::Book;
use crate::costing::batch::{BatchAccount, PlannedActual, Stage, Standing, Variances};
use crate::measure::{Decimal, Money, Preferences};
use crate::paper::batch_words::spans;
use crate::studio::{Piece, PieceId};
use serde_json::{Value, json};

pub(super) fn show(session: &mut Session<'_>, task: &BatchShow) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let found = find_batch(&book, task.number)?;
    if task.form.format == Format::Json {
        let answer = batch_json(&book, &found)?;
        return session.json(&answer);
    }
    let preferences = Preferences::from(&*snapshot.settings);
    text(session, &book, &found, &preferences)
}

/// What was done, and the batch as it is now. JSON: the fields of `batch show` with `done`.
pub(super) fn tell(
    session: &mut Session<'_>,
    book: &Book,
    found: &Found,
    done: &str,
    format: Format,
) -> Result<(), Failure> {
    if format == Format::Json {
        let mut answer = batch_json(book, found)?;
        if let Value::Object(fields) = &mut answer {
            fields.insert("done".to_owned(), json!(done));
        }
        return session.json(&answer);
    }
    session.say(done)?;
    session.say(&places(found))
}

/// `Batch 4: 5 at step 3 Fire the base; 1 lost`.
fn places(found: &Found) -> String {
    let mut words = Vec::new();
    for (place, step) in found.record.batch.plan.steps.iter().enumerate() {
        let waiting = found.now.waiting(place);
        if !waiting.is_empty() {
            words.push(format!("{} at step {} {}", waiting.len(), place + 1, step.name));
        }
    }
    let count = |is: fn(Standing) -> bool| found.now.standings().filter(|(_, standing)| is(*standing)).count();
    for (pieces, said) in [
        (count(|standing| standing == Standing::Done), "to be finished"),
        (count(|standing| standing == Standing::Finished), "finished"),
        (count(|standing| matches!(standing, Standing::Lost { .. })), "lost"),
        (count(|standing| matches!(standing, Standing::Given(_))), "given to another batch"),
    ] {
        if pieces > 0 {
            words.push(format!("{pieces} {said}"));
        }
    }
    format!("Batch {}: {}", found.number(), if words.is_empty() { "no piece".to_owned() } else { words.join("; ") })
}

fn text(session: &mut Session<'_>, book: &Book, found: &Found, preferences: &Preferences) -> Result<(), Failure> {
    let batch = &found.record.batch;
    session.say(&format!(
        "Batch {}, {} ({}), begun {}, {}",
        batch.number,
        batch.name,
        batch.plan.code,
        batch.started,
        batch.state.name()
    ))?;
    if !batch.note.is_empty() {
        session.say(&batch.note)?;
    }
    session.say(&places(found))?;
    let account = actions::batch_account(book, found.record.id)?;
    let mut table = Table::new(&[
        ("Step", Align::Right),
        ("Name", Align::Left),
        ("In", Align::Right),
        ("Passed", Align::Right),
        ("Lost", Align::Right),
        ("Waiting", Align::Right),
        ("Minutes", Align::Right),
        ("Planned", Align::Right),
        ("Cost", Align::Right),
        ("Planned", Align::Right),
        ("Pieces waiting", Align::Left),
    ]);
    for (place, (step, counts)) in batch.plan.steps.iter().zip(found.now.counts()).enumerate() {
        let of_step = account.as_ref().and_then(|account| account.steps.get(place));
        let figure = |of: fn(&crate::costing::batch::StepAccount) -> PlannedActual| {
            of_step.map(of).map_or_else(Default::default, |both| [both.actual, both.planned])
        };
        let [minutes, planned_minutes] = figure(|step| step.minutes);
        let [cost, planned_cost] = figure(|step| step.cost);
        let waiting = found.names(&found.now.waiting(place));
        table.row([
            (place + 1).to_string(),
            step.name.clone(),
            counts.entered.to_string(),
            counts.passed.to_string(),
            counts.lost.to_string(),
            counts.waiting.to_string(),
            number(minutes, preferences),
            number(planned_minutes, preferences),
            money(cost, preferences),
            money(planned_cost, preferences),
            spans(waiting.iter().map(String::as_str)),
        ]);
    }
    session.write(table)?;
    let done = found.names(&found.now.done());
    if !done.is_empty() {
        session.say(&format!("To be finished: {}", spans(done.iter().map(String::as_str))))?;
    }
    match account {
        Some(account) => cost_text(session, &account, preferences),
        None => Ok(()),
    }
}

fn cost_text(session: &mut Session<'_>, account: &BatchAccount, preferences: &Preferences) -> Result<(), Failure> {
    let spent = &account.spent;
    let mut table = Table::new(&[("Spent", Align::Left), (preferences.currency.code(), Align::Right)]);
    for (words, amount) in [
        ("Materials", spent.materials),
        ("Labour", spent.labour),
        ("Overhead", spent.overhead),
        ("Kiln energy", spent.kiln_energy),
        ("Kiln wear", spent.kiln_wear),
        ("Came with pieces of other batches", spent.came),
    ] {
        table.row([words.to_owned(), fine_money(amount.amount(), preferences)]);
    }
    for (words, amount) in [
        ("less scrap", spent.scrap),
        ("less losses that are not usual", account.abnormal),
        ("less what went with pieces to other batches", gave(account)?),
    ] {
        if !amount.is_zero() {
            table.row([words.to_owned(), fine_money(amount.amount(), preferences)]);
        }
    }
    let cost = if matches!(account.stage, Stage::Complete(_)) { "Cost" } else { "Cost so far" };
    table.row([cost.to_owned(), fine_money(account.cost.amount(), preferences)]);
    session.write("\n")?;
    session.write(table)?;
    if let Stage::Complete(variances) = &account.stage {
        let good = usize::try_from(account.good).unwrap_or(usize::MAX);
        session.write("\n")?;
        session.say(&format!("{} good; against plan, above zero costs more:", counted(good, "piece", "pieces")))?;
        let mut table = Table::new(&[("Variance", Align::Left), (preferences.currency.code(), Align::Right)]);
        for (words, amount) in [
            ("Planned cost of the good pieces", variances.planned),
            ("Price", variances.price),
            ("Usage", variances.usage),
            ("Time", variances.time),
            ("Yield", variances.yield_loss),
            ("Difference", variances.difference),
        ] {
            table.row([words.to_owned(), fine_money(amount, preferences)]);
        }
        session.write(table)?;
    }
    Ok(())
}

/// What went with pieces to other batches.
fn gave(account: &BatchAccount) -> Result<Money, Failure> {
    let sum = account.gave.iter().try_fold(Money::ZERO, |sum, moved| sum.plus(moved.amount));
    sum.map_err(Failure::from)
}

/// JSON: `batch` (its number), `design` (code), `name`, `started`, `state`, `note`; `steps`: list of `step` (from 1),
/// `name`, `kind`, `entered`, `waiting`, `passed`, `skipped`, `sent_back`, `lost`, `given`, and of the account `minutes`,
/// `loads`, `kwh`, `hot_hours`, `cost` (each `planned` and `actual`, planned flexed to the pieces put in), `materials`: list
/// of `material`, `quantity` and `cost` (likewise); `pieces`: list of `piece` (its name in the batch), `standing` (`step`,
/// `done`, `finished`, `lost`, `given`), `step` (where it waits or was lost), `cause` and `loss` (`normal` or `abnormal`)
/// of one lost, `number` and `second` of one finished, `cost` (so far, of one at work or finished); `account`: `complete`,
/// `put_in`, `good`, `materials`, `labour`, `overhead`, `kiln_energy`, `kiln_wear`, `came`, `scrap`, `abnormal`, `gave`
/// (with pieces to other batches), `cost`, `unborne`, and `variances` (null while pieces are at work): `planned`, `price`, `usage`, `time`, `yield`, `difference`.
pub(super) fn batch_json(book: &Book, found: &Found) -> Result<Value, Failure> {
    let batch = &found.record.batch;
    let account = actions::batch_account(book, found.record.id)?;
    let counts = found.now.counts();
    let steps: Vec<Value> = batch
        .plan
        .steps
        .iter()
        .zip(&counts)
        .enumerate()
        .map(|(place, (step, counts))| {
            let of_step = account.as_ref().and_then(|account| account.steps.get(place));
            let materials: Vec<Value> = of_step
                .iter()
                .flat_map(|step| &step.materials)
                .map(|line| {
                    json!({ "material": line.material, "quantity": both(line.quantity), "cost": both(line.cost) })
                })
                .collect();
            json!({
                "step": place + 1, "name": step.name, "kind": step.kind.name(), "entered": counts.entered,
                "waiting": counts.waiting, "passed": counts.passed, "skipped": counts.skipped,
                "sent_back": counts.sent_back, "lost": counts.lost, "given": counts.given,
                "minutes": of_step.map(|step| both(step.minutes)), "loads": of_step.map(|step| both(step.loads)),
                "kwh": of_step.map(|step| both(step.kwh)), "hot_hours": of_step.map(|step| both(step.hot_hours)),
                "cost": of_step.map(|step| both(step.cost)), "materials": materials,
            })
        })
        .collect();
    let pieces: Vec<Value> = found
        .now
        .standings()
        .map(|(id, standing)| {
            let cost = account
                .as_ref()
                .and_then(|account| account.pieces.iter().find(|piece| piece.piece == id))
                .map(|piece| piece.cost);
            piece_json(found, id, standing, cost)
        })
        .collect();
    Ok(json!({
        "batch": batch.number, "design": batch.plan.code.to_string(), "name": batch.name, "started": batch.started,
        "state": batch.state.name(), "note": batch.note, "steps": steps, "pieces": pieces,
        "account": account.as_ref().map(account_json).transpose()?,
    }))
}

fn both(figure: PlannedActual) -> Value {
    json!({ "planned": plain(figure.planned), "actual": plain(figure.actual) })
}

fn plain(value: Decimal) -> String {
    value.normalize().to_string()
}

fn piece_json(found: &Found, id: PieceId, standing: Standing, cost: Option<Money>) -> Value {
    let piece: Option<&Piece> = found.record.pieces.iter().find(|piece| piece.id == id);
    let (words, step, lost) = match standing {
        Standing::At(step) => ("step", Some(step + 1), None),
        Standing::Done => ("done", None, None),
        Standing::Finished => ("finished", None, None),
        Standing::Lost { step, cause, kind } => ("lost", Some(step + 1), Some((cause, kind))),
        Standing::Given(_) => ("given", None, None),
    };
    json!({
        "piece": found.name(id), "standing": words, "step": step, "cause": lost.map(|(cause, _)| cause.name()),
        "loss": lost.map(|(_, kind)| kind.name()), "number": piece.and_then(|piece| piece.number.as_ref()),
        "second": piece.is_some_and(|piece| piece.second), "cost": cost.map(|cost| cost.to_string()),
    })
}

fn account_json(account: &BatchAccount) -> Result<Value, Failure> {
    let spent = &account.spent;
    let variances = match &account.stage {
        Stage::Complete(variances) => Some(variances_json(variances)),
        Stage::SoFar { .. } => None,
    };
    Ok(json!({
        "complete": variances.is_some(), "put_in": account.put_in, "good": account.good,
        "materials": spent.materials.to_string(), "labour": spent.labour.to_string(),
        "overhead": spent.overhead.to_string(), "kiln_energy": spent.kiln_energy.to_string(),
        "kiln_wear": spent.kiln_wear.to_string(), "came": spent.came.to_string(), "scrap": spent.scrap.to_string(),
        "abnormal": account.abnormal.to_string(), "gave": gave(account)?.to_string(),
        "cost": account.cost.to_string(), "unborne": account.unborne.to_string(), "variances": variances,
    }))
}

fn variances_json(variances: &Variances) -> Value {
    json!({
        "planned": plain(variances.planned), "price": plain(variances.price), "usage": plain(variances.usage),
        "time": plain(variances.time), "yield": plain(variances.yield_loss),
        "difference": plain(variances.difference),
    })
}
