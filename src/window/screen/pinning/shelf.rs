//! The papers of a kind: ready-made ones by mood, and hers.

use super::laid::{self, Laid, Tools};
use super::speech::Voice;
use super::subjects::Subject;
use crate::book::Snapshot;
use crate::measure::{Preferences, edit};
use crate::paper::pinned::ready;
use crate::studio::{PaperDesign, PaperDesignId, PaperKind};

/// A paper on the shelf.
#[derive(Debug)]
pub(super) struct Card {
    /// None for a ready-made one.
    pub(super) id: Option<PaperDesignId>,
    pub(super) paper: PaperDesign,
    /// Mood and size.
    pub(super) note: String,
    pub(super) retired: bool,
    pub(super) laid: Laid,
}

/// `50 × 28 mm`.
pub(super) fn size_words(paper: &PaperDesign, preferences: &Preferences) -> String {
    let number = |value| edit::edit_number(value, preferences);
    format!("{} × {} mm", number(paper.width_mm), number(paper.height_mm))
}

/// Hers first, then the ready-made ones.
pub(super) fn cards(
    snapshot: &Snapshot,
    kind: PaperKind,
    subject: Option<&Subject>,
    voice: &Voice,
    preferences: &Preferences,
    tools: &mut Tools,
) -> Vec<Card> {
    let Some(subject) = subject else { return Vec::new() };
    let mut card = |id, paper: PaperDesign, mood: Option<&str>, retired| {
        let size = size_words(&paper, preferences);
        let note = match (mood, retired) {
            (Some(mood), _) => format!("{mood} · {size}"),
            (None, true) => format!("set aside · {size}"),
            (None, false) => size,
        };
        let laid = laid::lay(&paper, &subject.facts, voice, None, tools);
        Card { id, paper, note, retired, laid }
    };
    let mut cards: Vec<Card> = Vec::new();
    for book in snapshot.paper_designs.iter().filter(|book| book.design.kind == kind) {
        cards.push(card(Some(book.id), book.design.clone(), None, book.retired));
    }
    for ready in ready::of(kind) {
        cards.push(card(None, ready.design, Some(ready.mood.name()), false));
    }
    cards
}

/// A name like this one that no paper of the book has.
pub(super) fn free_name(snapshot: &Snapshot, wanted: &str) -> String {
    let taken =
        |name: &str| snapshot.paper_designs.iter().any(|book| book.design.name.to_lowercase() == name.to_lowercase());
    if !taken(wanted) {
        return wanted.to_owned();
    }
    (2_u32..).map(|number| format!("{wanted} {number}")).find(|name| !taken(name)).unwrap_or_else(|| wanted.to_owned())
}
