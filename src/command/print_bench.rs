//! `print bench-sheet` and `print kiln-log`.

use super::bench::{find_batch, find_kiln};
use super::failure::Failure;
use super::kilns::hottest;
use super::print::write;
use super::print_arguments::{BenchSheet, KilnLogPage};
use super::session::Session;
use super::words::counted;
use crate::actions::{self, KilnDayAccount, LoadLine};
use crate::book::{Book, Snapshot};
use crate::measure::{Decimal, Preferences};
use crate::paper::bench_sheet_model::{SheetAsked, bench_sheet};
use crate::paper::kiln_page_model::{LoggedDay, LoggedLoad, LoggedPiece, PageAsked, kiln_page};
use crate::paper::{PaperSize, Shaper, bench_sheet as sheets, kiln_page as pages};
use crate::studio::{BookKiln, Kiln, LoadId, Piece};
use std::collections::BTreeMap;

const fn paper(letter: bool) -> PaperSize {
    if letter { PaperSize::LETTER } else { PaperSize::A4 }
}

pub(super) fn sheet(session: &mut Session<'_>, task: &BenchSheet) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let found = find_batch(&book, task.number)?;
    let at_work = found.now.at_work();
    let pieces: Vec<Piece> = found.record.pieces.iter().filter(|piece| at_work.contains(&piece.id)).cloned().collect();
    if pieces.is_empty() {
        return Err(Failure::no(format!("no piece of batch {} is at work any more", task.number)));
    }
    let kiln = match &task.kiln {
        Some(name) => {
            let kiln = &find_kiln(&snapshot, Some(name))?.kiln;
            hottest(kiln).map(|celsius| (kiln, celsius))
        }
        None => hottest_of(&snapshot),
    };
    let asked = SheetAsked {
        pieces: &pieces,
        kiln: kiln.map(|(kiln, celsius)| (kiln.name.as_str(), celsius)),
        paper: paper(task.letter),
        studio: &snapshot.settings.studio_name,
    };
    let preferences = Preferences::from(&*snapshot.settings);
    let sheet = bench_sheet(&found.record, &asked, &preferences).map_err(|error| Failure::no(error.to_string()))?;
    let document = sheets::layout(&sheet, &mut Shaper::new())?;
    let what = format!("the bench sheet of batch {}, {}", task.number, counted(pieces.len(), "piece", "pieces"));
    write(session, &snapshot, &document, "Bench sheet", &task.way, &what)
}

/// The kiln in use that gets hottest; of those alike the first.
fn hottest_of(snapshot: &Snapshot) -> Option<(&Kiln, Decimal)> {
    let used = snapshot.kilns.iter().filter(|kiln| !kiln.kiln.retired);
    let held = used.filter_map(|kiln| Some((&kiln.kiln, hottest(&kiln.kiln)?)));
    held.reduce(|best, other| if other.1 > best.1 { other } else { best })
}

pub(super) fn kiln_log(session: &mut Session<'_>, task: &KilnLogPage) -> Result<(), Failure> {
    let (book, snapshot) = session.read()?;
    let preferences = Preferences::from(&*snapshot.settings);
    let today = session.today();
    let from = task.from.or(task.to).unwrap_or(today);
    let to = task.to.unwrap_or(today);
    let rows = if task.empty { pages::rows_of_a_page() } else { usize::try_from(task.rows).unwrap_or_default() };
    let mut days: Vec<(&BookKiln, KilnDayAccount)> = Vec::new();
    if !task.empty {
        let named = task.kiln.as_deref().map(|name| find_kiln(&snapshot, Some(name))).transpose()?;
        for kiln in snapshot.kilns.iter().filter(|kiln| named.is_none_or(|named| named.id == kiln.id)) {
            days.extend(actions::kiln_days(&book, kiln.id, from, to)?.into_iter().map(|day| (kiln, day)));
        }
        days.sort_by_key(|(_, day)| day.date);
    }
    let lines = lines(&book, &days)?;
    let logged: Vec<LoggedDay<'_>> = days.iter().map(|(kiln, day)| logged_day(kiln, day, &lines)).collect();
    if logged.is_empty() && rows == 0 {
        return Err(Failure::no("no kiln was hot then; --empty prints rows to write on"));
    }
    let asked = PageAsked {
        studio: &snapshot.settings.studio_name,
        period: (from, to),
        blank_rows: rows,
        paper: paper(task.letter),
    };
    let document = pages::layout(&kiln_page(&logged, &asked, &preferences), &mut Shaper::new())?;
    let loads: usize = logged.iter().map(|day| day.loads.len()).sum();
    let what =
        if task.empty { "empty rows".to_owned() } else { format!("the kiln log, {}", counted(loads, "load", "loads")) };
    write(session, &snapshot, &document, "Kiln log", &task.way, &what)
}

/// The pieces of every load of these days.
fn lines(book: &Book, days: &[(&BookKiln, KilnDayAccount)]) -> Result<BTreeMap<LoadId, Vec<LoadLine>>, Failure> {
    let mut lines = BTreeMap::new();
    for load in days.iter().flat_map(|(_, day)| &day.loads) {
        if let Some(account) = actions::load_account(book, load.id)? {
            lines.insert(load.id, account.pieces);
        }
    }
    Ok(lines)
}

fn logged_day<'a>(
    kiln: &'a BookKiln,
    day: &'a KilnDayAccount,
    lines: &BTreeMap<LoadId, Vec<LoadLine>>,
) -> LoggedDay<'a> {
    let account = day.account.as_ref().ok();
    let loads = day
        .loads
        .iter()
        .map(|load| {
            let part = account.and_then(|account| account.loads.iter().find(|part| part.load == load.id));
            let charge = lines.get(&load.id).into_iter().flatten().map(|line| LoggedPiece {
                batch: line.batch_number,
                step: line.step_name.clone(),
                piece: line.place.to_string(),
                result: line.result.clone(),
            });
            LoggedLoad { load: &load.load, kwh: part.map(|part| part.kwh), charge: charge.collect() }
        })
        .collect();
    LoggedDay {
        kiln: &kiln.kiln,
        date: day.date,
        day: day.written.as_ref().map(|written| &written.day),
        loads,
        kwh: account.map(|account| account.kwh),
        curve: day.curve.iter().flat_map(|curve| &curve.points).map(|point| (point.at, point.celsius)).collect(),
    }
}
