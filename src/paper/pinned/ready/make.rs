//! Writing a paper down: lengths in tenths of a millimetre, sizes of type in tenths of a point.

use super::Mood;
use crate::measure::Decimal;
use crate::studio::{
    Across, Down, Fold, Hole, Ink, Language, PaperDesign, PaperKind, Pinned, SymbolKind, SymbolOf, TextSet, Turn,
    Weight, What,
};

pub(super) fn tenths(value: i64) -> Decimal {
    Decimal::new(value, 1).normalize()
}

/// An empty paper.
pub(super) fn paper(mood: Mood, what: &str, kind: PaperKind, [width, height]: [i64; 2]) -> PaperDesign {
    let mood = mood.pick("Quiet", "Kiln", "Garden");
    PaperDesign {
        name: format!("{mood} {what}"),
        kind,
        width_mm: tenths(width),
        height_mm: tenths(height),
        fold: None,
        holes: Vec::new(),
        corner_mm: Decimal::ZERO,
        languages: vec![Language::English],
        pinned: Vec::new(),
    }
}

/// More of a paper.
pub(super) trait Make {
    fn hole(self, x: i64, y: i64, diameter: i64) -> Self;
    fn corner(self, corner: i64) -> Self;
    fn folded(self, fold: Fold) -> Self;
    fn with(self, pinned: impl IntoIterator<Item = Pinned>) -> Self;
}

impl Make for PaperDesign {
    fn hole(mut self, x: i64, y: i64, diameter: i64) -> Self {
        self.holes.push(Hole { x_mm: tenths(x), y_mm: tenths(y), diameter_mm: tenths(diameter) });
        self
    }

    fn corner(mut self, corner: i64) -> Self {
        self.corner_mm = tenths(corner);
        self
    }

    fn folded(mut self, fold: Fold) -> Self {
        self.fold = Some(fold);
        self
    }

    fn with(mut self, pinned: impl IntoIterator<Item = Pinned>) -> Self {
        self.pinned.extend(pinned);
        self
    }
}

/// A thing at its place: left, top, width, height.
pub(super) fn pin(what: What, [x, y, width, height]: [i64; 4]) -> Pinned {
    Pinned {
        what,
        x_mm: tenths(x),
        y_mm: tenths(y),
        width_mm: tenths(width),
        height_mm: tenths(height),
        turn: Turn::None,
        set: TextSet {
            weight: Weight::Regular,
            most_pt: Decimal::from(8),
            least_pt: Decimal::from(5),
            lines: 1,
            across: Across::Left,
            down: Down::Top,
            ink: Ink::Black,
        },
    }
}

pub(super) fn band(place: [i64; 4]) -> Pinned {
    pin(What::Band, place).ink(Ink::Piece)
}

pub(super) fn rule(place: [i64; 4]) -> Pinned {
    pin(What::Rule, place).ink(Ink::Grey)
}

/// A phrase of papers, in whatever language the paper is.
pub(super) fn phrase(name: &str, place: [i64; 4]) -> Pinned {
    pin(What::Phrase(name.to_owned()), place)
}

/// The code as a QR code, in the middle of its place.
pub(super) fn qr(of: SymbolOf, place: [i64; 4]) -> Pinned {
    pin(What::Symbol { kind: SymbolKind::Qr, of }, place).middle().centred()
}

/// How a thing is set.
pub(super) trait Style {
    /// Largest and smallest size, tenths of a point.
    fn size(self, most: i64, least: i64) -> Self;
    fn lines(self, lines: u32) -> Self;
    fn bold(self) -> Self;
    fn semibold(self) -> Self;
    fn ink(self, ink: Ink) -> Self;
    fn grey(self) -> Self;
    fn white(self) -> Self;
    fn middle(self) -> Self;
    fn right(self) -> Self;
    fn centred(self) -> Self;
    fn bottom(self) -> Self;
    fn turned(self, turn: Turn) -> Self;
}

impl Style for Pinned {
    fn size(mut self, most: i64, least: i64) -> Self {
        self.set.most_pt = tenths(most);
        self.set.least_pt = tenths(least);
        self
    }

    fn lines(mut self, lines: u32) -> Self {
        self.set.lines = lines;
        self
    }

    fn bold(mut self) -> Self {
        self.set.weight = Weight::Bold;
        self
    }

    fn semibold(mut self) -> Self {
        self.set.weight = Weight::Semibold;
        self
    }

    fn ink(mut self, ink: Ink) -> Self {
        self.set.ink = ink;
        self
    }

    fn grey(self) -> Self {
        self.ink(Ink::Grey)
    }

    fn white(self) -> Self {
        self.ink(Ink::White)
    }

    fn middle(mut self) -> Self {
        self.set.across = Across::Middle;
        self
    }

    fn right(mut self) -> Self {
        self.set.across = Across::Right;
        self
    }

    fn centred(mut self) -> Self {
        self.set.down = Down::Middle;
        self
    }

    fn bottom(mut self) -> Self {
        self.set.down = Down::Bottom;
        self
    }

    fn turned(mut self, turn: Turn) -> Self {
        self.turn = turn;
        self
    }
}
