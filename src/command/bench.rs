//! What tasks about batches and kilns share: a batch by its number, pieces by their names, a kiln by its name.

use super::failure::Failure;
use crate::actions;
use crate::book::{Book, Snapshot};
use crate::costing::batch::BatchNow;
use crate::measure::{Decimal, Preferences, parse};
use crate::paper::batch_words::{batch_named, piece_names};
use crate::studio::{BatchRecord, BookKiln, LossCause, PieceId, Step};
use std::collections::BTreeMap;

/// A batch with its pieces by name, as the command line speaks of it.
pub(super) struct Found {
    pub(super) record: BatchRecord,
    pub(super) now: BatchNow,
    names: Vec<(PieceId, String)>,
}

impl Found {
    pub(super) fn of(record: BatchRecord) -> Self {
        let (now, names) = (BatchNow::of(&record), piece_names(&record.pieces));
        Self { record, now, names }
    }

    /// The batch's number.
    pub(super) fn number(&self) -> u32 {
        self.record.batch.number
    }

    /// A piece's name; its row where it is in the batch no more.
    pub(super) fn name(&self, piece: PieceId) -> String {
        let known = self.names.iter().find(|(id, _)| *id == piece);
        known.map_or_else(|| format!("row {}", piece.0), |(_, name)| name.clone())
    }

    /// Names of pieces, in order.
    pub(super) fn names(&self, pieces: &[PieceId]) -> Vec<String> {
        pieces.iter().map(|piece| self.name(*piece)).collect()
    }

    /// The pieces of `1-6,9`, in order of rows and each once.
    pub(super) fn pieces(&self, text: &str) -> Result<Vec<PieceId>, Failure> {
        let known: BTreeMap<&str, PieceId> = self.names.iter().map(|(id, name)| (name.as_str(), *id)).collect();
        let mut found = Vec::new();
        for part in text.split(',').map(str::trim) {
            let one = |name: &str| {
                known.get(name).copied().ok_or_else(|| {
                    Failure::no(format!(
                        "there is no piece {name} in batch {}; `batch show {}` names them",
                        self.number(),
                        self.number()
                    ))
                })
            };
            match part.split_once('-') {
                None if part.is_empty() => return Err(not_pieces(text)),
                None => found.push(one(part)?),
                Some((from, to)) => {
                    let (from, to) = (place(from, text)?, place(to, text)?);
                    if from > to || to - from >= MOST_PIECES {
                        return Err(not_pieces(text));
                    }
                    for place in from..=to {
                        found.push(one(&place.to_string())?);
                    }
                }
            }
        }
        found.sort_unstable();
        found.dedup();
        Ok(found)
    }

    /// A step of the route, from 1, with its place from 0.
    pub(super) fn step(&self, number: u32) -> Result<(usize, &Step), Failure> {
        let steps = &self.record.batch.plan.steps;
        let place = usize::try_from(number).ok().and_then(|number| number.checked_sub(1));
        place.and_then(|place| Some((place, steps.get(place)?))).ok_or_else(|| {
            Failure::no(format!("there is no step {number} in batch {}; its route has {}", self.number(), steps.len()))
        })
    }

    /// The pieces named, or all that wait for a step; it is the program's no where none does.
    pub(super) fn pieces_at(&self, named: Option<&str>, step: usize) -> Result<Vec<PieceId>, Failure> {
        if let Some(text) = named {
            return self.pieces(text);
        }
        let waiting = self.now.waiting(step);
        if waiting.is_empty() {
            return Err(Failure::no(format!("no piece of batch {} waits for step {}", self.number(), step + 1)));
        }
        Ok(waiting)
    }
}

/// Most pieces a batch can have.
const MOST_PIECES: u32 = 1_000;

fn place(text: &str, whole: &str) -> Result<u32, Failure> {
    text.trim().parse().map_err(|_| not_pieces(whole))
}

fn not_pieces(text: &str) -> Failure {
    Failure::invalid(format!("pieces: {text:?} was given; places such as 1-6,9 are accepted"))
}

/// The batch of that number; none is the program's no.
pub(super) fn find_batch(book: &Book, number: u32) -> Result<Found, Failure> {
    let missing = || Failure::no(format!("there is no batch {number}; `batch list --state all` shows them"));
    let id = actions::batch_with_number(book, number)?.ok_or_else(missing)?;
    Ok(Found::of(actions::batch(book, id)?.ok_or_else(missing)?))
}

/// The kiln of that name, upper and lower case alike; without a name the only one that is in use.
pub(super) fn find_kiln<'a>(snapshot: &'a Snapshot, name: Option<&str>) -> Result<&'a BookKiln, Failure> {
    let names = |kilns: &mut dyn Iterator<Item = &BookKiln>| {
        let names: Vec<&str> = kilns.map(|kiln| kiln.kiln.name.as_str()).collect();
        if names.is_empty() { "none; `kiln add` writes one down".to_owned() } else { names.join(", ") }
    };
    match name {
        Some(name) => {
            let folded = name.trim().to_lowercase();
            let found = snapshot.kilns.iter().find(|kiln| kiln.kiln.name.to_lowercase() == folded);
            found.ok_or_else(|| {
                Failure::no(format!("there is no kiln {name}; there are {}", names(&mut snapshot.kilns.iter())))
            })
        }
        None => {
            let mut used = snapshot.kilns.iter().filter(|kiln| !kiln.kiln.retired);
            match (used.next(), used.next()) {
                (Some(kiln), None) => Ok(kiln),
                (None, _) => Err(Failure::no("there is no kiln yet; `kiln add` writes one down")),
                (Some(_), Some(_)) => {
                    let mut used = snapshot.kilns.iter().filter(|kiln| !kiln.kiln.retired);
                    Err(Failure::no(format!("say which kiln with its name; there are {}", names(&mut used))))
                }
            }
        }
    }
}

/// Minutes of work or of heat.
pub(super) fn minutes(field: &str, text: &str, preferences: &Preferences) -> Result<Decimal, Failure> {
    parse::parse_minutes(text, preferences).map_err(|problem| Failure::invalid(format!("{field}: {problem}")))
}

/// `3,5:cracked`: what stands before the last colon, and the cause.
pub(super) fn with_cause<'a>(field: &str, text: &'a str) -> Result<(&'a str, LossCause), Failure> {
    let names: Vec<&str> = LossCause::ALL.into_iter().map(LossCause::name).collect();
    let refused = || {
        Failure::invalid(format!(
            "{field}: {text:?} was given; pieces with a cause are accepted, such as 3:cracked; causes are {}",
            names.join(", ")
        ))
    };
    let (pieces, cause) = text.rsplit_once(':').ok_or_else(refused)?;
    Ok((pieces, LossCause::from_name(cause.trim()).ok_or_else(refused)?))
}

/// `4:2`: a batch's number and a step or pieces after the mark.
pub(super) fn numbered<'a>(field: &str, text: &'a str, mark: char, form: &str) -> Result<(u32, &'a str), Failure> {
    let refused = || Failure::invalid(format!("{field}: {text:?} was given; {form} is accepted"));
    let (number, rest) = text.split_once(mark).ok_or_else(refused)?;
    Ok((number.trim().parse().map_err(|_| refused())?, rest))
}

/// A batch's number as it is typed, or as the symbol of its bench sheet reads.
pub(super) fn batch_number(text: &str) -> Result<u32, String> {
    let number = batch_named(text).or_else(|| text.trim().parse().ok().filter(|number| *number > 0));
    number.ok_or_else(|| format!("a batch is named by its number, such as 4; {text:?} is none"))
}
