//! A load being put together: what waits, in offers of pieces that can share a load, what is picked, and what is found
//! about it before the door closes.

use super::fields::{self, Fields};
use super::{load_words, words};
use crate::actions::{self, OVERRIDE_WORDS};
use crate::costing::cautions::Level;
use crate::costing::load_check::{self, LoadCheck, LoadPiece};
use crate::costing::load_limits::limits_or_rated;
use crate::measure::{Decimal, Preferences, display, edit};
use crate::studio::{BatchId, Charged, KilnId, Load, PieceId};
use crate::window::Shared;
use chrono::{NaiveDateTime, Timelike};
use std::collections::{BTreeMap, BTreeSet};

/// A field of the load.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// Temperature set.
    Heat,
    /// Minutes in the heat.
    Minutes,
    /// What is typed to fire past a stop.
    Override,
    /// Anything else.
    Note,
}

impl Field {
    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        format!("load-{self:?}").to_lowercase()
    }
}

/// Pieces that can share a load.
#[derive(Debug, Clone)]
pub(super) struct OfferRow {
    pub(super) title: String,
    pub(super) heat: String,
    pub(super) celsius: f32,
    pub(super) detail: String,
    pub(super) pieces: Vec<PieceRow>,
    set: Decimal,
    minutes: Decimal,
}

/// A piece that waits.
#[derive(Debug, Clone)]
pub(super) struct PieceRow {
    pub(super) id: PieceId,
    pub(super) words: String,
}

/// Something to look at before the door closes.
#[derive(Debug, Clone)]
pub(super) struct Told {
    pub(super) stop: bool,
    pub(super) what: String,
    pub(super) way_out: String,
}

/// What is found about the load as it is picked, worded.
#[derive(Debug, Clone, Default)]
pub(super) struct Found {
    /// `5 Lantern drop · base coat`.
    pub(super) pieces: String,
    /// The strictest ceiling with what sets it; empty without pieces.
    pub(super) ceiling: String,
    /// `84.10 cm² of 300.00 cm²`.
    pub(super) shelf: String,
    /// How much of it is used, thousandths; above 1000 it is too full.
    pub(super) used: u16,
    pub(super) told: Vec<Told>,
    /// A stop is among them: it needs typed words.
    pub(super) stopped: bool,
    /// Something bears lead.
    pub(super) lead: bool,
    /// Why nothing can be found out.
    pub(super) trouble: Option<String>,
}

/// A load being put together.
#[derive(Debug, Default)]
pub(super) struct Loading {
    pub(super) offers: Vec<OfferRow>,
    /// Pieces that wait but can share no load in this kiln.
    pub(super) apart: Vec<PieceRow>,
    pub(super) picked: BTreeSet<PieceId>,
    /// A hand has picked: nothing is picked for it any more.
    touched: bool,
    pub(super) fields: Fields<Field>,
    pub(super) kiln: Option<KilnId>,
    pub(super) kilns: Vec<(KilnId, String)>,
    pub(super) found: Found,
    /// The door was tried: what is missing is told from now on.
    pub(super) tried: bool,
    pub(super) refusal: Option<String>,
}

impl Loading {
    /// Words what waits anew; keeps what is picked as far as it still waits.
    pub(super) fn refresh(&mut self, shared: &Shared) {
        let snapshot = &shared.snapshot;
        let kilns = snapshot.kilns.iter().filter(|kiln| !kiln.kiln.retired);
        self.kilns = kilns.map(|kiln| (kiln.id, kiln.kiln.name.clone())).collect();
        if !self.kiln.is_some_and(|id| self.kilns.iter().any(|(kiln, _)| *kiln == id)) {
            self.kiln = self.kilns.first().map(|(id, _)| *id);
        }
        self.offer(shared);
        self.check(shared);
    }

    /// Groups what waits for the kiln chosen.
    fn offer(&mut self, shared: &Shared) {
        let (snapshot, p) = (&shared.snapshot, &shared.preferences);
        let waiting = load_check::waiting(&snapshot.batches, &[], &snapshot.firing);
        let ids: BTreeSet<PieceId> = waiting.iter().map(|piece| piece.piece).collect();
        self.picked.retain(|piece| ids.contains(piece));
        let row = |piece: PieceId, batch: BatchId| PieceRow { id: piece, words: words::piece(piece, batch, snapshot) };
        let by_id: BTreeMap<PieceId, &LoadPiece<'_>> = waiting.iter().map(|piece| (piece.piece, piece)).collect();
        let kiln = self.kiln.and_then(|id| snapshot.kiln(id)).map(|kiln| limits_or_rated(&kiln.kiln));
        let offers = kiln.map(|kiln| load_check::offers(&waiting, &kiln, &snapshot.rates));
        self.found.trouble = match &offers {
            Some(Err(problem)) => Some(problem.to_string()),
            _ => None,
        };
        let offers = offers.and_then(Result::ok).unwrap_or_default();
        let offered: BTreeSet<PieceId> = offers.iter().flat_map(|offer| offer.pieces.iter().copied()).collect();
        self.apart = waiting
            .iter()
            .filter(|piece| !offered.contains(&piece.piece))
            .map(|piece| row(piece.piece, piece.batch))
            .collect();
        self.offers = offers
            .into_iter()
            .map(|offer| {
                let pieces: Vec<&LoadPiece<'_>> = offer.pieces.iter().filter_map(|id| by_id.get(id).copied()).collect();
                let charge: Vec<Charged> = pieces.iter().map(|piece| charged(piece)).collect();
                OfferRow {
                    title: words::charge(&charge, snapshot),
                    heat: display::temperature(offer.celsius, p),
                    celsius: words::celsius(offer.celsius),
                    detail: format!(
                        "{} in the heat · {} on the shelf",
                        display::minutes(offer.minutes, p),
                        display::area(offer.area_cm2, p)
                    ),
                    pieces: pieces.iter().map(|piece| row(piece.piece, piece.batch)).collect(),
                    set: offer.celsius,
                    minutes: offer.minutes,
                }
            })
            .collect();
        if !self.touched && self.picked.is_empty() {
            self.take(0, p);
        }
    }

    /// Picks all of an offer, and no other piece.
    fn take(&mut self, place: usize, preferences: &Preferences) {
        let Some(offer) = self.offers.get(place) else { return };
        self.picked = offer.pieces.iter().map(|piece| piece.id).collect();
        self.fields.set(Field::Heat, edit::edit_temperature(offer.set, preferences));
        self.fields.set(Field::Minutes, edit::edit_minutes(offer.minutes, preferences));
        self.fields.set(Field::Override, "");
    }

    /// An offer was pressed.
    pub(super) fn pick_offer(&mut self, place: usize, shared: &Shared) {
        self.touched = true;
        self.tried = false;
        self.take(place, &shared.preferences);
        self.check(shared);
    }

    /// A piece was pressed.
    pub(super) fn pick_piece(&mut self, piece: PieceId, shared: &Shared) {
        self.touched = true;
        if !self.picked.remove(&piece) {
            let _ = self.picked.insert(piece);
        }
        self.check(shared);
    }

    /// Another room proposes a load.
    pub(super) fn propose(&mut self, proposed: &super::Proposed, shared: &Shared) {
        self.touched = true;
        self.tried = false;
        self.kiln = Some(proposed.kiln);
        self.refresh(shared);
        self.picked = proposed.pieces.iter().copied().collect();
        let p = &shared.preferences;
        self.fields.set(Field::Heat, edit::edit_temperature(proposed.celsius, p));
        self.fields.set(Field::Minutes, edit::edit_minutes(proposed.minutes, p));
        self.fields.set(Field::Override, "");
        self.refresh(shared);
    }

    /// Another kiln.
    pub(super) fn choose_kiln(&mut self, kiln: KilnId, shared: &Shared) {
        self.kiln = Some(kiln);
        self.refresh(shared);
    }

    /// Typed in a field.
    pub(super) fn type_in(&mut self, field: Field, text: String, shared: &Shared) {
        self.fields.type_in(field, text);
        self.refusal = None;
        self.check(shared);
    }

    /// What is wrong with a field, if anything.
    pub(super) fn problem(&self, field: Field, preferences: &Preferences) -> Option<String> {
        let text = self.fields.trimmed(field);
        if !self.tried && text.is_empty() {
            return None;
        }
        match field {
            Field::Heat => fields::temperature(text, preferences).err(),
            Field::Minutes => fields::minutes(text, preferences).err(),
            Field::Override if self.found.stopped && !text.eq_ignore_ascii_case(OVERRIDE_WORDS) => Some(format!(
                "{text:?} is typed: write “{OVERRIDE_WORDS}” to fire past the stop; it is kept in the log"
            )),
            Field::Override | Field::Note => None,
        }
    }

    /// Finds out about the load as it is picked now.
    fn check(&mut self, shared: &Shared) {
        let (snapshot, p) = (&shared.snapshot, &shared.preferences);
        self.refusal = None;
        let waiting = load_check::waiting(&snapshot.batches, &[], &snapshot.firing);
        let pieces: Vec<LoadPiece<'_>> =
            waiting.into_iter().filter(|piece| self.picked.contains(&piece.piece)).collect();
        let charge: Vec<Charged> = pieces.iter().map(charged).collect();
        let trouble = self.found.trouble.take();
        self.found = Found { pieces: words::charge(&charge, snapshot), trouble, ..Found::default() };
        let Some(kiln) = self.kiln.and_then(|id| snapshot.kiln(id)) else { return };
        if pieces.is_empty() {
            return;
        }
        let set = fields::temperature(self.fields.trimmed(Field::Heat), p).unwrap_or_default();
        let minutes = fields::minutes(self.fields.trimmed(Field::Minutes), p).unwrap_or_default();
        match load_check::check(&pieces, &limits_or_rated(&kiln.kiln), set, minutes, &snapshot.rates) {
            Ok(check) => self.found.take(&check, &pieces, p),
            Err(problem) => self.found.trouble = Some(problem.to_string()),
        }
        self.found.lead = check_lead(&self.found.told);
        self.found.told.retain(|told| !told.what.is_empty());
    }

    /// The action that closes the door at that moment; the field or the sentence that keeps it open.
    pub(super) fn close_door(&mut self, at: NaiveDateTime, shared: &Shared) -> Result<actions::Action, Field> {
        self.tried = true;
        let p = &shared.preferences;
        let wrong = [Field::Heat, Field::Minutes, Field::Override];
        if let Some(field) = wrong.into_iter().find(|field| self.problem(*field, p).is_some()) {
            return Err(field);
        }
        let Some(kiln) = self.kiln else {
            self.refusal = Some("There is no kiln: write one down in Kilns first.".to_owned());
            return Err(Field::Note);
        };
        if self.picked.is_empty() {
            self.refusal = Some("Nothing is picked: pick at least one piece.".to_owned());
            return Err(Field::Note);
        }
        let waiting = load_check::waiting(&shared.snapshot.batches, &[], &shared.snapshot.firing);
        let charge = waiting.iter().filter(|piece| self.picked.contains(&piece.piece)).map(charged).collect();
        let text = |field| self.fields.trimmed(field);
        let read = || -> fields::Reading<(Decimal, Decimal)> {
            Ok((fields::temperature(text(Field::Heat), p)?, fields::minutes(text(Field::Minutes), p)?))
        };
        let Ok((set_celsius, asked_minutes)) = read() else { return Err(Field::Heat) };
        Ok(actions::Action::CloseDoor(Load {
            kiln,
            closed_at: at.with_nanosecond(0).unwrap_or(at),
            opened_at: None,
            set_celsius,
            read_celsius: None,
            asked_minutes,
            attended_minutes: None,
            charge,
            override_words: if self.found.stopped { text(Field::Override).to_owned() } else { String::new() },
            note: text(Field::Note).to_owned(),
        }))
    }

    /// The door closed on it: the next load begins anew.
    pub(super) fn closed(&mut self) {
        self.picked.clear();
        self.touched = false;
        self.tried = false;
        self.fields = Fields::default();
    }
}

/// A waiting piece as it stands in a load.
fn charged(piece: &LoadPiece<'_>) -> Charged {
    Charged {
        piece: piece.piece,
        batch: piece.batch,
        step: piece.step,
        area_cm2: load_check::shelf_area(piece.plan).unwrap_or_default(),
        result: None,
    }
}

/// Lead is told once, with what to do about it, instead of in a line of its own.
fn check_lead(told: &[Told]) -> bool {
    told.iter().any(|told| told.what.is_empty())
}

impl Found {
    fn take(&mut self, check: &LoadCheck, pieces: &[LoadPiece<'_>], p: &Preferences) {
        self.ceiling =
            check.ceiling.as_ref().map(|ceiling| load_words::ceiling(ceiling, pieces, p)).unwrap_or_default();
        let area = display::area(check.area_cm2, p);
        self.shelf = match check.shelf_cm2 {
            Some(shelf) => format!("{area} of {}", display::area(shelf, p)),
            None => area,
        };
        self.used = check.used_thousandths();
        self.told = check.cautions.iter().map(|caution| load_words::worded(caution, pieces, p)).collect();
        if !check.off_plan.is_empty() {
            self.told.push(Told {
                stop: false,
                what: format!(
                    "{} planned for another heat or time than this",
                    words::counted(check.off_plan.len(), "piece is", "pieces are")
                ),
                way_out: load_words::accepted(check, p),
            });
        }
        self.stopped = check.cautions.iter().any(|caution| caution.level == Level::Stop);
    }
}
