//! Arranging what is pinned to a paper: what there is to pin, and how a pinned thing is moved, sized, turned, aligned and
//! put in front of others. Lengths are millimetres, exact.

use super::language::program_words;
use super::pinned::phrase;
use crate::measure::{Decimal, exact};
use crate::studio::{
    Across, Down, Ink, Language, PaperDesign, PaperKind, Pinned, SymbolKind, SymbolOf, TextSet, Turn, Weight, What,
};

/// Least width and height a hand makes a place, mm.
pub(super) const LEAST: Decimal = Decimal::from_parts(2, 0, 0, false, 1);

/// Which edge follows the hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The left or the top one.
    Before,
    /// Neither.
    Neither,
    /// The right or the bottom one.
    After,
}

/// By what a place is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Grip {
    /// Its left or right edge.
    pub across: Side,
    /// Its top or bottom edge.
    pub down: Side,
}

impl Grip {
    /// The whole place: it is moved, not sized.
    pub const WHOLE: Self = Self { across: Side::Neither, down: Side::Neither };

    /// The corner at the right and bottom.
    pub const FAR: Self = Self { across: Side::After, down: Side::After };

    /// The corners and edges, clockwise from the top left.
    pub const EDGES: [Self; 8] = [
        Self { across: Side::Before, down: Side::Before },
        Self { across: Side::Neither, down: Side::Before },
        Self { across: Side::After, down: Side::Before },
        Self { across: Side::After, down: Side::Neither },
        Self::FAR,
        Self { across: Side::Neither, down: Side::After },
        Self { across: Side::Before, down: Side::After },
        Self { across: Side::Before, down: Side::Neither },
    ];
}

/// Where on the paper a thing is aligned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// At the paper's left edge.
    Left,
    /// In the middle across.
    Middle,
    /// At the right edge.
    Right,
    /// At the top.
    Top,
    /// In the middle down.
    Centre,
    /// At the bottom.
    Bottom,
}

/// Keeps a start inside, so that nothing stands beyond the paper's edge; a place longer than the paper covers it.
fn inside(start: Decimal, length: Decimal, whole: Decimal) -> Decimal {
    let far = whole.saturating_sub(length);
    start.clamp(far.min(Decimal::ZERO), far.max(Decimal::ZERO))
}

fn sized(start: Decimal, length: Decimal, side: Side, by: Decimal, whole: Decimal) -> (Decimal, Decimal) {
    let end = start.saturating_add(length);
    match side {
        Side::Neither => (start, length),
        Side::After => {
            let most = whole.max(end);
            let end = end.saturating_add(by).min(most).max(start.saturating_add(LEAST));
            (start, end.saturating_sub(start))
        }
        Side::Before => {
            let least = Decimal::ZERO.min(start);
            let start = start.saturating_add(by).max(least).min(end.saturating_sub(LEAST));
            (start, end.saturating_sub(start))
        }
    }
}

/// A thing after it was dragged by so many mm to the right and down: moved or sized, and kept on the paper.
pub fn dragged(paper: &PaperDesign, pinned: &Pinned, grip: Grip, [right, down]: [Decimal; 2]) -> Pinned {
    let mut moved = pinned.clone();
    if grip == Grip::WHOLE {
        moved.x_mm = inside(pinned.x_mm.saturating_add(right), pinned.width_mm, paper.width_mm);
        moved.y_mm = inside(pinned.y_mm.saturating_add(down), pinned.height_mm, paper.height_mm);
    } else {
        (moved.x_mm, moved.width_mm) = sized(pinned.x_mm, pinned.width_mm, grip.across, right, paper.width_mm);
        (moved.y_mm, moved.height_mm) = sized(pinned.y_mm, pinned.height_mm, grip.down, down, paper.height_mm);
    }
    tidied(moved)
}

/// Without noughts at the end of its figures, so that equal papers are equal.
fn tidied(mut pinned: Pinned) -> Pinned {
    for length in [&mut pinned.x_mm, &mut pinned.y_mm, &mut pinned.width_mm, &mut pinned.height_mm] {
        *length = length.normalize();
    }
    pinned
}

/// Half of a length, to a tenth of a millimetre.
fn half(length: Decimal) -> Decimal {
    exact::mul(length, Decimal::new(5, 1)).map(|half| exact::round(half, 1)).unwrap_or_default()
}

/// The largest radius a paper's corners may have: half its shorter side, mm.
pub fn most_corner(paper: &PaperDesign) -> Decimal {
    exact::mul(paper.width_mm.min(paper.height_mm), Decimal::new(5, 1)).unwrap_or_default().normalize()
}

/// The middle of a paper, to a tenth of a millimetre: where a new fold or hole begins.
pub fn middle(paper: &PaperDesign) -> [Decimal; 2] {
    [half(paper.width_mm), half(paper.height_mm)]
}

/// A thing turned a quarter clockwise about the middle of its place, which lies down or stands up with it.
pub fn turned(paper: &PaperDesign, pinned: &Pinned) -> Pinned {
    let mut turned = pinned.clone();
    turned.turn = match pinned.turn {
        Turn::None => Turn::Quarter,
        Turn::Quarter => Turn::Half,
        Turn::Half => Turn::ThreeQuarters,
        Turn::ThreeQuarters => Turn::None,
    };
    (turned.width_mm, turned.height_mm) = (pinned.height_mm, pinned.width_mm);
    let shift = half(pinned.width_mm.saturating_sub(pinned.height_mm));
    turned.x_mm = inside(pinned.x_mm.saturating_add(shift), turned.width_mm, paper.width_mm);
    turned.y_mm = inside(pinned.y_mm.saturating_sub(shift), turned.height_mm, paper.height_mm);
    tidied(turned)
}

/// A thing put to an edge or the middle of the paper.
pub fn aligned(paper: &PaperDesign, pinned: &Pinned, edge: Edge) -> Pinned {
    let mut aligned = pinned.clone();
    let (across, down) =
        (paper.width_mm.saturating_sub(pinned.width_mm), paper.height_mm.saturating_sub(pinned.height_mm));
    match edge {
        Edge::Left => aligned.x_mm = Decimal::ZERO,
        Edge::Middle => aligned.x_mm = half(across),
        Edge::Right => aligned.x_mm = across,
        Edge::Top => aligned.y_mm = Decimal::ZERO,
        Edge::Centre => aligned.y_mm = half(down),
        Edge::Bottom => aligned.y_mm = down,
    }
    tidied(aligned)
}

/// What can be pinned to a paper of a kind, in the order it is offered; her words are empty, stored pictures are not
/// among it.
pub fn offered(kind: PaperKind) -> Vec<What> {
    let mut what = vec![What::Words(String::new()), What::Name, What::Code];
    what.extend(match kind {
        PaperKind::Tag | PaperKind::Care | PaperKind::Earring | PaperKind::Certificate | PaperKind::Sign => vec![
            What::PieceNumber,
            What::Ticket,
            What::Materials,
            What::Care,
            What::Cautions,
            What::LeadMark,
            What::Firings,
            What::Photo,
            What::Story,
        ],
        PaperKind::Jar => vec![
            What::Swatch,
            What::EnamelKind,
            What::Mesh,
            What::Fusing,
            What::FiringRange,
            What::Lot,
            What::Tare,
            What::LeadMark,
            What::Shelf,
        ],
        PaperKind::Drawer => vec![What::Gauge, What::Size, What::Lot, What::LeadMark, What::Shelf],
    });
    what.extend(phrase::offered(kind).map(|name| What::Phrase(name.to_owned())));
    what.extend([
        What::Symbol { kind: SymbolKind::Qr, of: SymbolOf::Code },
        What::Band,
        What::Rule,
        What::Studio,
        What::Place,
        What::Date,
    ]);
    what
}

/// What a pinned thing is called.
pub const fn name(what: &What) -> &'static str {
    match what {
        What::Name => "Name",
        What::Code => "Code",
        What::PieceNumber => "Piece’s number",
        What::Ticket => "Ticket",
        What::Materials => "Materials",
        What::Words(_) => "Words of yours",
        What::Phrase(_) => "Phrase",
        What::Care => "Care",
        What::Cautions => "Cautions",
        What::Story => "Maker’s story",
        What::Studio => "Studio’s name",
        What::Place => "Studio’s place",
        What::Photo => "Photo",
        What::Picture(_) => "Picture",
        What::Symbol { .. } => "Symbol to scan",
        What::Rule => "Rule",
        What::Band => "Band of colour",
        What::Swatch => "Swatch",
        What::EnamelKind => "Kind of enamel",
        What::Mesh => "Mesh",
        What::Fusing => "Fusing class",
        What::FiringRange => "Firing range",
        What::Lot => "Lot",
        What::Tare => "Tare",
        What::LeadMark => "Lead mark",
        What::Gauge => "Gauge",
        What::Size => "Size",
        What::Shelf => "Shelf",
        What::Firings => "Firings",
        What::Date => "Date",
    }
}

/// What a pinned thing is called in a list, where things of a sort are told apart: a phrase by its English words.
pub fn listed(what: &What) -> String {
    match what {
        What::Phrase(name) => {
            let words = program_words(Language::English, name).unwrap_or(name);
            format!("Phrase: {}", words.replace(['{', '}'], ""))
        }
        other => name(other).to_owned(),
    }
}

/// It is set in type: weight, sizes, lines and alignment mean something.
pub const fn is_text(what: &What) -> bool {
    !matches!(what, What::Photo | What::Picture(_) | What::Symbol { .. } | What::Rule | What::Band | What::Swatch)
}

/// It has a colour of ink.
pub const fn has_ink(what: &What) -> bool {
    !matches!(what, What::Photo | What::Picture(_) | What::Symbol { .. } | What::Swatch)
}

/// A thing newly pinned: of a usual size, in the middle of the paper.
pub fn fresh(paper: &PaperDesign, what: What) -> Pinned {
    let (width, height, lines) = match &what {
        What::Symbol { kind: SymbolKind::Qr | SymbolKind::DataMatrix, .. } => (12, 12, 1),
        What::Symbol { .. } => (40, 14, 1),
        What::Photo | What::Picture(_) => (20, 20, 1),
        What::Swatch => (8, 8, 1),
        What::Care | What::Cautions | What::Story => (50, 24, 12),
        What::Materials => (30, 7, 2),
        What::Band => (20, 3, 1),
        What::Rule => (20, 1, 1),
        _ => (24, 5, 1),
    };
    let height_mm = if what == What::Rule { Decimal::new(3, 1) } else { Decimal::from(height) };
    let ink = match what {
        What::Band => Ink::Piece,
        What::Rule => Ink::Grey,
        _ => Ink::Black,
    };
    let (across, down) = if is_text(&what) { (Across::Left, Down::Top) } else { (Across::Middle, Down::Middle) };
    let pinned = Pinned {
        what,
        x_mm: Decimal::ZERO,
        y_mm: Decimal::ZERO,
        width_mm: Decimal::from(width).min(paper.width_mm),
        height_mm: height_mm.min(paper.height_mm),
        turn: Turn::None,
        set: TextSet {
            weight: Weight::Regular,
            most_pt: Decimal::from(8),
            least_pt: Decimal::from(5),
            lines,
            across,
            down,
            ink,
        },
    };
    aligned(paper, &aligned(paper, &pinned, Edge::Middle), Edge::Centre)
}

/// Draws a thing one further to the front, or to the back; where it stands now, none where there is no such thing.
pub fn lifted(paper: &mut PaperDesign, thing: usize, to_front: bool) -> Option<usize> {
    let other = if to_front { thing.checked_add(1)? } else { thing.checked_sub(1)? };
    if thing >= paper.pinned.len() || other >= paper.pinned.len() {
        return None;
    }
    paper.pinned.swap(thing, other);
    Some(other)
}

/// Draws a thing in front of all others, or behind them; where it stands now, none where nothing moved.
pub fn lifted_whole(paper: &mut PaperDesign, thing: usize, to_front: bool) -> Option<usize> {
    let end = if to_front { paper.pinned.len().checked_sub(1)? } else { 0 };
    if thing >= paper.pinned.len() || thing == end {
        return None;
    }
    let pinned = paper.pinned.remove(thing);
    paper.pinned.insert(end, pinned);
    Some(end)
}

/// A copy of a thing a little to the right and below it, kept on the paper.
pub fn doubled(paper: &PaperDesign, pinned: &Pinned) -> Pinned {
    let beside = dragged(paper, pinned, Grip::WHOLE, [Decimal::TWO, Decimal::TWO]);
    if beside != *pinned {
        return beside;
    }
    // In the corner at the right and bottom: to the other side, so that it is seen.
    dragged(paper, pinned, Grip::WHOLE, [-Decimal::TWO, -Decimal::TWO])
}

#[cfg(test)]
mod tests {
    use super::super::pinned::ready;
    use super::*;

    fn mm(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    fn paper() -> PaperDesign {
        ready::of(PaperKind::Tag).remove(0).design
    }

    fn place(pinned: &Pinned) -> [String; 4] {
        [pinned.x_mm, pinned.y_mm, pinned.width_mm, pinned.height_mm].map(|length| length.to_string())
    }

    /// Worked out by hand on the tag of 50 × 28 mm.
    #[test]
    fn a_place_moves_and_stays_on_the_paper() {
        let paper = paper();
        let thing =
            Pinned { x_mm: mm("10"), y_mm: mm("5"), width_mm: mm("20"), height_mm: mm("4"), ..paper.pinned[0].clone() };
        let by = |grip, right: &str, down: &str| place(&dragged(&paper, &thing, grip, [mm(right), mm(down)]));
        assert_eq!(by(Grip::WHOLE, "0.1", "-1"), ["10.1", "4", "20", "4"]);
        assert_eq!(by(Grip::WHOLE, "100", "-100"), ["30", "0", "20", "4"]);
        assert_eq!(by(Grip::FAR, "1.5", "100"), ["10", "5", "21.5", "23"]);
        assert_eq!(by(Grip::EDGES[0], "-100", "1"), ["0", "6", "30", "3"]);
        assert_eq!(by(Grip::EDGES[7], "100", "0"), ["29.8", "5", "0.2", "4"]);
    }

    #[test]
    fn four_quarters_are_a_whole_turn() {
        let paper = paper();
        let thing = Pinned {
            x_mm: mm("10"),
            y_mm: mm("11"),
            width_mm: mm("10"),
            height_mm: mm("6"),
            ..paper.pinned[0].clone()
        };
        let quarter = turned(&paper, &thing);
        assert_eq!((place(&quarter), quarter.turn), (["12", "9", "6", "10"].map(str::to_owned), Turn::Quarter));
        let back = (0..3).fold(quarter, |pinned, _| turned(&paper, &pinned));
        assert_eq!((place(&back), back.turn), (place(&thing), Turn::None));
    }

    #[test]
    fn things_are_aligned_and_put_in_order() {
        let mut paper = paper();
        let thing = Pinned { width_mm: mm("20"), height_mm: mm("4"), ..paper.pinned[1].clone() };
        assert_eq!(aligned(&paper, &thing, Edge::Right).x_mm, mm("30"));
        assert_eq!(aligned(&paper, &thing, Edge::Middle).x_mm, mm("15"));
        assert_eq!(aligned(&paper, &thing, Edge::Bottom).y_mm, mm("24"));
        let (first, last) = (paper.pinned[0].what.clone(), paper.pinned.len() - 1);
        assert_eq!(lifted(&mut paper, 0, false), None);
        assert_eq!(lifted(&mut paper, last, true), None);
        assert_eq!(lifted(&mut paper, 0, true), Some(1));
        assert_eq!(paper.pinned[1].what, first);
        assert_eq!(lifted_whole(&mut paper, 1, true), Some(last));
        assert_eq!((paper.pinned[last].what.clone(), lifted_whole(&mut paper, last, true)), (first.clone(), None));
        assert_eq!(lifted_whole(&mut paper, last, false), Some(0));
        assert_eq!(paper.pinned[0].what, first);
        let copy = doubled(&paper, &thing);
        assert_eq!((copy.x_mm, copy.y_mm), (thing.x_mm + mm("2"), thing.y_mm + mm("2")));
    }

    #[test]
    fn what_is_newly_pinned_lies_on_every_paper() {
        for ready in ready::all() {
            for what in offered(ready.design.kind) {
                let pinned = fresh(&ready.design, what);
                assert!(pinned.x_mm >= Decimal::ZERO && pinned.x_mm + pinned.width_mm <= ready.design.width_mm);
                assert!(pinned.y_mm >= Decimal::ZERO && pinned.y_mm + pinned.height_mm <= ready.design.height_mm);
            }
        }
    }
}
