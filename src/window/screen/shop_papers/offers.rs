//! What lines are picked from: designs and finished pieces, found as one types.

use crate::book::Snapshot;
use crate::studio::{DesignId, FinishedPiece, NumberedKind, PieceId};

/// Most that are offered at once.
const MOST_FOUND: usize = 6;

/// What a line can be of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Offered {
    /// A design.
    Design(DesignId),
    /// A finished piece.
    Piece(PieceId),
}

/// Something a line can be of, in words.
#[derive(Debug, Clone)]
pub(super) struct Offer {
    pub(super) what: Offered,
    pub(super) words: String,
    folded: String,
}

impl Offer {
    fn new(what: Offered, words: String, more: &str) -> Self {
        let folded = format!("{words} {more}").to_lowercase();
        Self { what, words, folded }
    }
}

/// Designs that are not set aside, and finished pieces.
pub(super) fn offers(snapshot: &Snapshot, pieces: &[FinishedPiece]) -> Vec<Offer> {
    let designs = snapshot.designs.iter().filter(|book| !book.retired).map(|book| {
        let design = &book.design;
        Offer::new(Offered::Design(book.id), format!("{} · {}", design.name, design.code), "design")
    });
    let pieces = pieces.iter().filter_map(|of| {
        let number = of.piece.number.as_deref()?;
        let second = if of.piece.second { " · second" } else { "" };
        let words = format!("{} · piece {number}, batch {}{second}", of.name, of.batch_number);
        Some(Offer::new(Offered::Piece(of.piece.id), words, &of.code))
    });
    designs.chain(pieces).collect()
}

/// The first that every word typed is found in; none while nothing is typed. A certificate is of a piece first.
pub(super) fn found(offers: &[Offer], text: &str, kind: NumberedKind) -> Vec<Offer> {
    let folded = text.to_lowercase();
    let typed: Vec<&str> = folded.split_whitespace().collect();
    if typed.is_empty() {
        return Vec::new();
    }
    let fits = |offer: &&Offer| typed.iter().all(|word| offer.folded.contains(word));
    let of_piece = |offer: &&Offer| matches!(offer.what, Offered::Piece(_));
    let first = kind == NumberedKind::Certificate;
    let before = offers.iter().filter(fits).filter(|offer| of_piece(offer) == first);
    let after = offers.iter().filter(fits).filter(|offer| of_piece(offer) != first);
    before.chain(after).take(MOST_FOUND).cloned().collect()
}
