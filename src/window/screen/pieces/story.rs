//! A piece from its beginning, worded; and the pieces a lot went into.

use crate::actions::{LoadOfPiece, LotInPiece, PieceOfLot, PieceStory};
use crate::measure::{Preferences, display};
use crate::studio::{BatchId, FiringResult, LoadId, LotId, PieceId};
use crate::window::screen::batches::words;
use crate::window::widget::Line;
use chrono::NaiveDate;

/// A line that leads somewhere.
#[derive(Debug, Clone)]
pub(super) struct Leads<To> {
    pub(super) to: Option<To>,
    pub(super) what: String,
    pub(super) detail: String,
    pub(super) figure: String,
}

/// A piece as it is shown.
#[derive(Debug, Clone)]
pub(super) struct Story {
    pub(super) number: String,
    pub(super) sentence: String,
    pub(super) batches: Vec<(BatchId, String)>,
    pub(super) second: bool,
    pub(super) note: String,
    pub(super) cost: String,
    pub(super) parts: Vec<Line>,
    pub(super) lots: Vec<Leads<LotId>>,
    pub(super) loads: Vec<Leads<LoadId>>,
    pub(super) minutes: Vec<Line>,
    pub(super) all_minutes: String,
}

impl Story {
    pub(super) fn new(of: &PieceStory, preferences: &Preferences, today: NaiveDate) -> Self {
        let finished = of.piece.finished.map(|day| format!(" · finished {}", words::day(day, today)));
        let state = finished.unwrap_or_else(|| " · still at work".to_owned());
        Self {
            number: words::piece(&of.piece),
            sentence: format!("{} · {}{state}", words::head_title(&of.batch), of.batch.code),
            batches: of.batches.iter().map(|(id, number)| (*id, format!("Batch {number}"))).collect(),
            second: of.piece.second,
            note: of.piece.note.clone(),
            cost: of.cost.map(|cost| display::money(cost.amount(), preferences)).unwrap_or_default(),
            parts: of
                .parts
                .iter()
                .map(|part| Line::new(capital(part.words), display::money(part.cost.amount(), preferences)))
                .collect(),
            lots: of.lots.iter().map(|lot| self::lot(lot, preferences, today)).collect(),
            loads: of.loads.iter().map(|load| self::load(load, preferences, today)).collect(),
            minutes: of
                .minutes
                .iter()
                .map(|at| Line::new(at.step_name.clone(), words::minutes(at.minutes, preferences)))
                .collect(),
            all_minutes: words::minutes(of.all_minutes, preferences),
        }
    }
}

/// A word at the beginning of a line.
fn capital(word: &str) -> String {
    let mut letters = word.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

fn lot(of: &LotInPiece, preferences: &Preferences, today: NaiveDate) -> Leads<LotId> {
    let mut told = vec![match of.lot {
        Some(lot) => format!("lot {}", lot.0),
        None => "found by a count".to_owned(),
    }];
    for (what, words) in [("maker’s lot", &of.lot_number), ("from", &of.supplier)] {
        if !words.trim().is_empty() {
            told.push(format!("{what} {}", words.trim()));
        }
    }
    told.push(format!("taken {}", words::day(of.date, today)));
    Leads {
        to: of.lot,
        what: of.name.clone(),
        detail: told.join(" · "),
        figure: display::quantity(of.quantity, of.unit, preferences),
    }
}

fn load(of: &LoadOfPiece, preferences: &Preferences, today: NaiveDate) -> Leads<LoadId> {
    let load = &of.load.load;
    let result = match &of.result {
        None => "in the fire",
        Some(FiringResult::Good) => "good",
        Some(FiringResult::Again) => "to be fired again",
        Some(FiringResult::Lost { cause, .. }) => cause.words(),
    };
    let day = words::day(load.closed_at.date(), today);
    Leads {
        to: Some(of.load.id),
        what: format!("{} at {}", of.kiln_name, display::temperature(load.set_celsius, preferences)),
        detail: format!("load {} · {day} {} · {result}", of.load.id.0, load.closed_at.format("%-H:%M")),
        figure: display::minutes(load.asked_minutes, preferences),
    }
}

/// The pieces a lot went into, as they are shown.
#[derive(Debug, Clone)]
pub(super) struct LotPage {
    pub(super) title: String,
    pub(super) rows: Vec<Leads<PieceId>>,
}

impl LotPage {
    pub(super) fn new(lot: LotId, found: &[PieceOfLot]) -> Self {
        Self {
            title: format!("Lot {}: {}", lot.0, words::pieces(found.len())),
            rows: found
                .iter()
                .map(|of| {
                    let issues = words::counted(of.issues.len(), "issue", "issues");
                    Leads {
                        to: Some(of.piece.id),
                        what: words::piece(&of.piece),
                        detail: format!("{}, batch {} · {} · {issues}", of.batch_name, of.batch_number, of.code),
                        figure: String::new(),
                    }
                })
                .collect(),
        }
    }
}
