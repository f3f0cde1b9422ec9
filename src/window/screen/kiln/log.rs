//! The log of loads, worded; the page of one load.

use super::words;
use crate::actions::LoadAccount;
use crate::book::Snapshot;
use crate::costing::firing_clock::minutes_between;
use crate::measure::{Money, Preferences, display};
use crate::studio::{BatchId, BookLoad, Charged, FiringResult, LoadId, PieceId};
use crate::window::widget::listing::Order;

/// The column of the day.
pub(super) const DAY: usize = 0;
/// The column of the heat.
const HEAT: usize = 2;

/// A load of the log.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) id: LoadId,
    /// `2026-10-14 10:14`.
    pub(super) when: String,
    pub(super) kiln: String,
    pub(super) heat: String,
    pub(super) celsius: f32,
    pub(super) minutes: String,
    pub(super) came: String,
    /// Something of it was lost, or it was fired past a stop.
    pub(super) marked: bool,
}

/// Loads worded, sorted by a column.
pub(super) fn rows(loads: &[BookLoad], snapshot: &Snapshot, p: &Preferences, sort: (usize, Order)) -> Vec<Row> {
    let mut all: Vec<&BookLoad> = loads.iter().collect();
    all.sort_by(|a, b| {
        let by = match sort.0 {
            HEAT => a.load.set_celsius.cmp(&b.load.set_celsius).then(a.load.closed_at.cmp(&b.load.closed_at)),
            _ => a.load.closed_at.cmp(&b.load.closed_at),
        };
        match sort.1 {
            Order::Rising => by,
            Order::Falling => by.reverse(),
        }
    });
    all.into_iter().map(|book| row(book, snapshot, p)).collect()
}

fn row(book: &BookLoad, snapshot: &Snapshot, p: &Preferences) -> Row {
    let load = &book.load;
    let minutes = load.opened_at.and_then(|opened| minutes_between(load.closed_at, opened));
    Row {
        id: book.id,
        when: load.closed_at.format("%Y-%m-%d %H:%M").to_string(),
        kiln: snapshot.kiln(load.kiln).map_or_else(String::new, |kiln| kiln.kiln.name.clone()),
        heat: display::temperature(load.set_celsius, p),
        celsius: words::celsius(load.set_celsius),
        minutes: minutes.map_or_else(|| "firing".to_owned(), |minutes| display::minutes(minutes, p)),
        came: came(&load.charge),
        marked: !load.override_words.is_empty()
            || load.charge.iter().any(|charged| matches!(charged.result, Some(FiringResult::Lost { .. }))),
    }
}

/// `5 pieces: 4 good, 1 lost`.
fn came(charge: &[Charged]) -> String {
    let count = |wanted: fn(&FiringResult) -> bool| {
        charge.iter().filter(|charged| charged.result.as_ref().is_some_and(wanted)).count()
    };
    let parts = [
        (count(|result| matches!(result, FiringResult::Good)), "good"),
        (count(|result| matches!(result, FiringResult::Again)), "once more"),
        (count(|result| matches!(result, FiringResult::Lost { .. })), "lost"),
    ];
    let parts: Vec<String> =
        parts.into_iter().filter(|(count, _)| *count > 0).map(|(count, word)| format!("{count} {word}")).collect();
    let pieces = words::counted(charge.len(), "piece", "pieces");
    if parts.is_empty() { pieces } else { format!("{pieces}: {}", parts.join(", ")) }
}

/// A line of a load's figures: what it is, and what it says.
pub(super) type Fact = (&'static str, String);

/// A piece of a load.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    pub(super) piece: PieceId,
    pub(super) batch: BatchId,
    pub(super) words: String,
    pub(super) step: String,
    pub(super) result: String,
    pub(super) lost: bool,
    pub(super) cost: String,
}

/// A load in hand.
#[derive(Debug, Clone)]
pub(super) struct Page {
    pub(super) id: LoadId,
    pub(super) title: String,
    pub(super) heat: String,
    pub(super) celsius: f32,
    pub(super) facts: Vec<Fact>,
    pub(super) past_stop: String,
    pub(super) note: String,
    pub(super) whole: String,
    pub(super) pieces: Vec<Piece>,
    pub(super) has_photo: bool,
}

/// A load worded, with its pieces and what each bears.
pub(super) fn page(of: &LoadAccount, p: &Preferences) -> Page {
    let load = &of.load.load;
    let mut facts =
        vec![("Kiln", of.kiln.name.clone()), ("Door closed", load.closed_at.format("%H:%M:%S").to_string())];
    if let Some(opened) = load.opened_at {
        facts.push(("Door opened", opened.format("%H:%M:%S").to_string()));
    }
    facts.push(("Asked", display::minutes(load.asked_minutes, p)));
    if let Some(minutes) = of.minutes_in_heat {
        facts.push(("In the heat", display::minutes(minutes, p)));
    }
    if let Some(read) = load.read_celsius {
        facts.push(("Read", display::temperature(read, p)));
    }
    if let Some(attended) = load.attended_minutes {
        facts.push(("Hands-on", display::minutes(attended, p)));
    }
    let pieces = of.pieces.iter().map(|line| {
        let name = match &line.number {
            Some(number) => number.clone(),
            None => format!("{} {} of batch {}", line.batch_name, line.place, line.batch_number),
        };
        Piece {
            piece: line.piece,
            batch: line.batch,
            words: name,
            step: line.step_name.clone(),
            result: words::result(line.result.as_ref()),
            lost: matches!(line.result, Some(FiringResult::Lost { .. })),
            cost: cost(line.share.energy, line.share.wear, p),
        }
    });
    Page {
        id: of.load.id,
        title: format!("Load of {}", load.closed_at.format("%Y-%m-%d %H:%M")),
        heat: display::temperature(load.set_celsius, p),
        celsius: words::celsius(load.set_celsius),
        facts,
        past_stop: load.override_words.clone(),
        note: load.note.clone(),
        whole: of
            .part
            .as_ref()
            .map(|part| format!("{} · {}", words::kwh(part.kwh, p), cost(part.energy, part.wear, p)))
            .unwrap_or_default(),
        pieces: pieces.collect(),
        has_photo: of.load.has_photo,
    }
}

/// `energy $0.12 · wear $0.05`.
pub(in crate::window::screen) fn cost(energy: Money, wear: Money, p: &Preferences) -> String {
    format!("energy {} · wear {}", small_money(energy.amount(), p), small_money(wear.amount(), p))
}

/// Money to a tenth of the minor unit: a piece's share of a load is little.
fn small_money(amount: crate::measure::Decimal, p: &Preferences) -> String {
    display::money_fine(crate::measure::exact::round_away(amount, p.currency.digits().saturating_add(1)), p)
}
