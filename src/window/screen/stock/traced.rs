//! One movement followed: from a lot forward to all it went into, from what left back to its lots.

use super::detail::{Detail, lot_words};
use super::words;
use crate::costing::trace::Source;
use crate::measure::{Preferences, Unit, display};
use crate::studio::{LotId, Movement, MovementId};

/// A movement followed, worded.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Traced {
    pub(super) id: MovementId,
    pub(super) title: String,
    pub(super) sentence: String,
    /// Above the steps: which way they lead. Empty where there are none.
    pub(super) way: &'static str,
    pub(super) steps: Vec<Step>,
    /// What the lot was corrected from and to, oldest first.
    pub(super) corrections: Vec<String>,
    /// The lot, where it is one and its price can be corrected.
    pub(super) lot: Option<LotId>,
}

/// Another movement it leads to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Step {
    pub(super) to: MovementId,
    pub(super) words: String,
    pub(super) quantity: String,
}

/// Follows a movement of an item; none where it has no such movement.
pub(super) fn follow(detail: &Detail, id: MovementId, unit: Unit, preferences: &Preferences) -> Option<Traced> {
    let (movement, line) = detail.movement(id)?;
    let quantity = |amount| display::quantity(amount, unit, preferences);
    let money = |amount| display::money(amount, preferences);
    let word = |id: MovementId, as_lot: bool| {
        let Some((other, _)) = detail.movement(id) else { return String::new() };
        if as_lot { lot_words(other) } else { done(other) }
    };
    let source = if movement.kind.is_lot() { Source::Lot(LotId(id.0)) } else { Source::Found(id) };
    let title = match detail.trace.left_of(source) {
        Some(_) => format!("Lot of {}", lot_words(movement)),
        None => capital(&format!("{} {}", words::done(movement.kind), movement.date)),
    };
    let worth = money(line.value_change.amount().abs());
    if let Some(left) = detail.trace.left_of(source) {
        let mut sentence = format!("{} came in, {worth}", quantity(left.came.amount()));
        if let Some(before) = detail.cost_before(id) {
            sentence.push_str(&format!(" ({} before it was corrected)", money(before.amount())));
        }
        let rest = if left.left.is_zero() {
            "; none is left".to_owned()
        } else {
            format!("; {} is left", quantity(left.left.amount()))
        };
        sentence.push_str(&rest);
        let steps: Vec<Step> = detail
            .trace
            .taken_from(source)
            .map(|taken| Step {
                to: taken.movement,
                words: word(taken.movement, false),
                quantity: quantity(taken.quantity.amount()),
            })
            .collect();
        let corrections = detail.corrections.iter().filter(|correction| correction.lot.0 == id.0);
        let corrections = corrections
            .map(|correction| {
                let (before, cost) = (money(correction.before.amount()), money(correction.cost.amount()));
                let note = correction.note.trim();
                let note = if note.is_empty() { String::new() } else { format!(" · {note}") };
                format!("{}: {before} became {cost}{note}", correction.date)
            })
            .collect();
        return Some(Traced {
            id,
            title,
            sentence,
            way: if steps.is_empty() { "" } else { "Where it went" },
            steps,
            corrections,
            lot: source.lot(),
        });
    }
    let steps: Vec<Step> = detail
        .trace
        .taken_by(id)
        .map(|taken| Step {
            to: taken.source.movement(),
            words: word(taken.source.movement(), true),
            quantity: quantity(taken.quantity.amount()),
        })
        .collect();
    let sentence = if steps.is_empty() {
        "It moved nothing: what was counted is what the book said".to_owned()
    } else {
        format!("{} left, worth {worth}{}", quantity(line.change.amount().abs()), noted(movement))
    };
    Some(Traced {
        id,
        title,
        sentence,
        way: if steps.is_empty() { "" } else { "Where it came from" },
        steps,
        corrections: Vec::new(),
        lot: None,
    })
}

fn done(movement: &Movement) -> String {
    format!("{} {}{}", words::done(movement.kind), movement.date, noted(movement))
}

fn noted(movement: &Movement) -> String {
    match movement.note.trim() {
        "" => String::new(),
        note => format!(" · {note}"),
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}
