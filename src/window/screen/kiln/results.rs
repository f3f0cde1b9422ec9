//! What came of a load: piece by piece, with the cause of what was lost.

use super::fields::{self, Fields};
use super::words;
use crate::actions::DoorOpened;
use crate::book::Snapshot;
use crate::measure::Preferences;
use crate::studio::{BookLoad, FiringResult, LoadId, LossCause, LossKind, PieceId};
use chrono::NaiveDateTime;

/// A field of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// Temperature read.
    Read,
    /// Hands-on minutes.
    Attended,
    /// Anything else.
    Note,
}

impl Field {
    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        format!("result-{self:?}").to_lowercase()
    }
}

/// What came of a piece, as it is chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Came {
    /// As it should be.
    Good,
    /// Goes in again.
    Again,
    /// Lost.
    Lost,
}

/// What happens in it.
#[derive(Debug, Clone)]
pub enum Change {
    /// A piece came out so; by its place.
    Came(usize, Came),
    /// The cause of its loss.
    Cause(usize, LossCause),
    /// Its loss is not a usual one, or it is: turned round.
    Kind(usize),
    /// A field was typed in.
    Typed(Field, String),
}

/// A piece of the load.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) piece: PieceId,
    pub(super) words: String,
    pub(super) came: Came,
    pub(super) cause: LossCause,
    pub(super) kind: LossKind,
}

/// What came of a load, being written down.
#[derive(Debug, Clone)]
pub(super) struct Results {
    pub(super) load: LoadId,
    /// When the door opened.
    pub(super) opened: NaiveDateTime,
    pub(super) rows: Vec<Row>,
    pub(super) fields: Fields<Field>,
    pub(super) refusal: Option<String>,
}

impl Results {
    /// All good, opened at that moment; `read` is what stands in the field of the temperature read.
    pub(super) fn new(book: &BookLoad, opened: NaiveDateTime, read: &str, snapshot: &Snapshot) -> Self {
        let rows = book.load.charge.iter().map(|charged| Row {
            piece: charged.piece,
            words: words::piece(charged.piece, charged.batch, snapshot),
            came: Came::Good,
            cause: LossCause::Cracked,
            kind: LossKind::Normal,
        });
        let mut fields = Fields::default();
        fields.set(Field::Read, read);
        Self { load: book.id, opened, rows: rows.collect(), fields, refusal: None }
    }

    /// Takes note of a change.
    pub(super) fn change(&mut self, change: Change) {
        self.refusal = None;
        let row = |rows: &mut Vec<Row>, place: usize, change: &dyn Fn(&mut Row)| {
            if let Some(row) = rows.get_mut(place) {
                change(row);
            }
        };
        match change {
            Change::Came(place, came) => row(&mut self.rows, place, &|row| row.came = came),
            Change::Cause(place, cause) => row(&mut self.rows, place, &|row| row.cause = cause),
            Change::Kind(place) => row(&mut self.rows, place, &|row| {
                row.kind = match row.kind {
                    LossKind::Normal => LossKind::Abnormal,
                    LossKind::Abnormal => LossKind::Normal,
                };
            }),
            Change::Typed(field, text) => self.fields.type_in(field, text),
        }
    }

    /// What is wrong with a field, if anything.
    pub(super) fn problem(&self, field: Field, p: &Preferences) -> Option<String> {
        let text = self.fields.trimmed(field);
        match field {
            _ if text.is_empty() => None,
            Field::Read => fields::temperature(text, p).err(),
            Field::Attended => crate::measure::parse::parse_minutes(text, p).err().map(|problem| problem.to_string()),
            Field::Note => None,
        }
    }

    /// What is written down; the field that cannot be read.
    pub(super) fn opened(&self, p: &Preferences) -> Result<DoorOpened, Field> {
        for field in [Field::Read, Field::Attended] {
            if self.problem(field, p).is_some() {
                return Err(field);
            }
        }
        let text = |field| Some(self.fields.trimmed(field)).filter(|text| !text.is_empty());
        let results = self.rows.iter().filter(|row| row.came != Came::Good).map(|row| (row.piece, result(row)));
        Ok(DoorOpened {
            load: self.load,
            at: self.opened,
            read_celsius: text(Field::Read).and_then(|text| fields::temperature(text, p).ok()),
            attended_minutes: text(Field::Attended).and_then(|text| crate::measure::parse::parse_minutes(text, p).ok()),
            results: results.collect(),
            note: text(Field::Note).unwrap_or_default().to_owned(),
        })
    }
}

/// What came of a piece.
pub(super) fn result(row: &Row) -> FiringResult {
    match row.came {
        Came::Good => FiringResult::Good,
        Came::Again => FiringResult::Again,
        Came::Lost => FiringResult::Lost { cause: row.cause, kind: row.kind },
    }
}
