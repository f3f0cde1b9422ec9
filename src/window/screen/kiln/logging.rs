//! A load that was fired already, being written down.

use super::fields::{self, Fields, Reading};
use super::results::{self, Came, Row, result};
use super::words;
use crate::actions;
use crate::costing::firing_clock::minutes_between;
use crate::costing::load_check::{self, LoadPiece};
use crate::measure::{Decimal, Preferences, parse};
use crate::studio::{Charged, KilnId, Load, LossCause, LossKind, PieceId};
use crate::window::Shared;
use chrono::{Days, NaiveDateTime};
use std::collections::BTreeSet;

/// A field of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// The day.
    Day,
    /// The door closed.
    Closed,
    /// The door opened.
    Opened,
    /// Temperature set.
    Set,
    /// Temperature read.
    Read,
    /// Hands-on minutes.
    Attended,
    /// What made it fire past a stop.
    Override,
    /// Anything else.
    Note,
}

impl Field {
    const ALL: [Self; 8] =
        [Self::Day, Self::Closed, Self::Opened, Self::Set, Self::Read, Self::Attended, Self::Override, Self::Note];

    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        format!("logged-{self:?}").to_lowercase()
    }
}

/// What happens in the form.
#[derive(Debug, Clone)]
pub enum Change {
    /// A field was typed in.
    Typed(Field, String),
    /// Another kiln.
    Kiln(KilnId),
    /// A piece was in it, or not: turned round.
    Pick(PieceId),
    /// What came of the pieces.
    Results(results::Change),
}

/// The form as it stands.
#[derive(Debug, Clone)]
pub(super) struct Logging {
    pub(super) fields: Fields<Field>,
    pub(super) kiln: Option<KilnId>,
    /// Pieces that wait for a firing.
    pub(super) waiting: Vec<(PieceId, String)>,
    pub(super) picked: BTreeSet<PieceId>,
    /// What came of those that were in it.
    pub(super) rows: Vec<Row>,
    pub(super) tried: bool,
    pub(super) refusal: Option<String>,
}

fn waiting(shared: &Shared) -> Vec<LoadPiece<'_>> {
    load_check::waiting(&shared.snapshot.batches, &[], &shared.snapshot.firing)
}

impl Logging {
    /// A load of today.
    pub(super) fn new(kiln: Option<KilnId>, shared: &Shared) -> Self {
        let mut fields = Fields::default();
        fields.set(Field::Day, shared.today.to_string());
        let pieces = waiting(shared).into_iter();
        Self {
            fields,
            kiln,
            waiting: pieces
                .map(|piece| (piece.piece, words::piece(piece.piece, piece.batch, &shared.snapshot)))
                .collect(),
            picked: BTreeSet::new(),
            rows: Vec::new(),
            tried: false,
            refusal: None,
        }
    }

    /// Takes note of a change.
    pub(super) fn change(&mut self, change: Change) {
        self.refusal = None;
        match change {
            Change::Typed(field, text) => self.fields.type_in(field, text),
            Change::Kiln(kiln) => self.kiln = Some(kiln),
            Change::Pick(piece) => {
                if self.picked.remove(&piece) {
                    self.rows.retain(|row| row.piece != piece);
                } else if let Some((_, words)) = self.waiting.iter().find(|(id, _)| *id == piece) {
                    let _ = self.picked.insert(piece);
                    self.rows.push(Row {
                        piece,
                        words: words.clone(),
                        came: Came::Good,
                        cause: LossCause::Cracked,
                        kind: LossKind::Normal,
                    });
                }
            }
            Change::Results(results::Change::Came(place, came)) => self.row(place, |row| row.came = came),
            Change::Results(results::Change::Cause(place, cause)) => self.row(place, |row| row.cause = cause),
            Change::Results(results::Change::Kind(place)) => self.row(place, |row| {
                row.kind = if row.kind == LossKind::Normal { LossKind::Abnormal } else { LossKind::Normal };
            }),
            Change::Results(results::Change::Typed(..)) => {}
        }
    }

    fn row(&mut self, place: usize, change: impl FnOnce(&mut Row)) {
        if let Some(row) = self.rows.get_mut(place) {
            change(row);
        }
    }

    fn closed(&self) -> Reading<NaiveDateTime> {
        let text = |field| self.fields.trimmed(field);
        Ok(fields::day(text(Field::Day))?.and_time(fields::time(text(Field::Closed))?))
    }

    /// A time before the door closed is of the next day.
    fn opened(&self) -> Reading<NaiveDateTime> {
        let closed = self.closed()?;
        let opened = closed.date().and_time(fields::time(self.fields.trimmed(Field::Opened))?);
        if opened > closed {
            return Ok(opened);
        }
        opened.checked_add_days(Days::new(1)).ok_or_else(|| "the day is too far away".to_owned())
    }

    /// What is wrong with a field, if anything. What is only missing is told once the form was submitted.
    pub(super) fn problem(&self, field: Field, p: &Preferences) -> Option<String> {
        let text = self.fields.trimmed(field);
        if text.is_empty() && !self.tried {
            return None;
        }
        match field {
            Field::Day => fields::day(text).err(),
            Field::Closed | Field::Opened => fields::time(text).err(),
            Field::Set => fields::temperature(text, p).err(),
            Field::Read if !text.is_empty() => fields::temperature(text, p).err(),
            Field::Attended if !text.is_empty() => {
                parse::parse_minutes(text, p).err().map(|problem| problem.to_string())
            }
            Field::Read | Field::Attended | Field::Override | Field::Note => None,
        }
    }

    /// The first field that cannot be accepted.
    pub(super) fn first_problem(&self, p: &Preferences) -> Option<Field> {
        Field::ALL.into_iter().find(|field| self.problem(*field, p).is_some())
    }

    /// The action, once every field can be read.
    pub(super) fn action(&self, shared: &Shared) -> Result<actions::Action, String> {
        let p = &shared.preferences;
        let kiln = self.kiln.ok_or("There is no kiln: write one down in Kilns first.")?;
        if self.rows.is_empty() {
            return Err("Nothing is picked: press the pieces that were in it.".to_owned());
        }
        let (closed, opened) = (self.closed()?, self.opened()?);
        let given = |field| Some(self.fields.trimmed(field)).filter(|text| !text.is_empty());
        let waiting = waiting(shared);
        let charge = self.rows.iter().filter_map(|row| {
            let piece = waiting.iter().find(|piece| piece.piece == row.piece)?;
            Some(Charged {
                piece: piece.piece,
                batch: piece.batch,
                step: piece.step,
                area_cm2: load_check::shelf_area(piece.plan).unwrap_or_default(),
                result: Some(result(row)),
            })
        });
        let asked = minutes_between(closed, opened).unwrap_or(Decimal::ZERO);
        Ok(actions::Action::LogLoad(Load {
            kiln,
            closed_at: closed,
            opened_at: Some(opened),
            set_celsius: fields::temperature(self.fields.trimmed(Field::Set), p)?,
            read_celsius: given(Field::Read).map(|text| fields::temperature(text, p)).transpose()?,
            asked_minutes: asked,
            attended_minutes: given(Field::Attended)
                .map(|text| parse::parse_minutes(text, p).map_err(|problem| problem.to_string()))
                .transpose()?,
            charge: charge.collect(),
            override_words: self.fields.trimmed(Field::Override).to_owned(),
            note: self.fields.trimmed(Field::Note).to_owned(),
        }))
    }
}
