//! Lines a dragged thing keeps to: edges and middles of the paper, its fold, the middles of its holes, and edges and
//! middles of what else is pinned to it. Lengths are millimetres, exact.

use super::arrange::{Grip, LEAST, Side};
use crate::measure::{Decimal, exact};
use crate::studio::{Fold, PaperDesign, Pinned};

/// A line something stands on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Guide {
    /// From top to bottom; else from left to right.
    pub upright: bool,
    /// Where: from the left edge for an upright one, else from the top.
    pub at_mm: Decimal,
    /// Where it begins.
    pub from_mm: Decimal,
    /// Where it ends.
    pub to_mm: Decimal,
}

/// One axis of a place: where it begins, and how long it is.
#[derive(Debug, Clone, Copy)]
struct Span {
    start: Decimal,
    length: Decimal,
}

impl Span {
    fn end(self) -> Decimal {
        self.start.saturating_add(self.length)
    }

    fn middle(self) -> Decimal {
        exact::mul(self.length, Decimal::new(5, 1)).map_or(self.start, |half| self.start.saturating_add(half))
    }

    fn lines(self) -> [Decimal; 3] {
        [self.start, self.middle(), self.end()]
    }
}

fn across(pinned: &Pinned) -> Span {
    Span { start: pinned.x_mm, length: pinned.width_mm }
}

fn down(pinned: &Pinned) -> Span {
    Span { start: pinned.y_mm, length: pinned.height_mm }
}

/// A line something may keep to, and how far what it belongs to reaches along it.
struct Line {
    at: Decimal,
    along: Span,
}

fn lines(paper: &PaperDesign, thing: usize, upright: bool) -> Vec<Line> {
    let whole = |length| Span { start: Decimal::ZERO, length };
    let (own, along) = if upright {
        (whole(paper.width_mm), whole(paper.height_mm))
    } else {
        (whole(paper.height_mm), whole(paper.width_mm))
    };
    let mut lines: Vec<Line> = own.lines().into_iter().map(|at| Line { at, along }).collect();
    match (paper.fold, upright) {
        (Some(Fold::Upright(at)), true) | (Some(Fold::Across(at)), false) => lines.push(Line { at, along }),
        _ => {}
    }
    lines.extend(paper.holes.iter().map(|hole| {
        let (at, other) = if upright { (hole.x_mm, hole.y_mm) } else { (hole.y_mm, hole.x_mm) };
        Line { at, along: Span { start: other, length: Decimal::ZERO } }
    }));
    for (_, other) in paper.pinned.iter().enumerate().filter(|(place, _)| *place != thing) {
        let (own, along) = if upright { (across(other), down(other)) } else { (down(other), across(other)) };
        lines.extend(own.lines().into_iter().map(|at| Line { at, along }));
    }
    lines
}

/// What of a place follows the hand, and so may come to stand on a line.
fn followers(span: Span, side: Side, whole: bool) -> Vec<Decimal> {
    match (side, whole) {
        (Side::Before, _) => vec![span.start],
        (Side::After, _) => vec![span.end()],
        (Side::Neither, true) => span.lines().to_vec(),
        (Side::Neither, false) => Vec::new(),
    }
}

/// By how much the nearest line is away, within reach.
fn nearest(lines: &[Line], followers: &[Decimal], reach: Decimal) -> Option<Decimal> {
    let away = lines.iter().flat_map(|line| followers.iter().map(|at| line.at.saturating_sub(*at)));
    away.filter(|away| away.abs() <= reach).min_by_key(Decimal::abs)
}

/// The axis after it kept to a line; as it was where it would leave the paper or become too small.
fn kept_span(span: Span, side: Side, by: Decimal, most: Decimal) -> Span {
    let moved = match side {
        Side::Neither => Span { start: span.start.saturating_add(by), ..span },
        Side::Before => Span { start: span.start.saturating_add(by), length: span.length.saturating_sub(by) },
        Side::After => Span { length: span.length.saturating_add(by), ..span },
    };
    // A place larger than the paper is let go beyond its edges, as far as it was before.
    let leaves = moved.start < Decimal::ZERO.min(span.start) || moved.end() > most.max(span.end());
    if leaves || moved.length < LEAST { span } else { moved }
}

/// A thing that was dragged, put onto the lines that are within reach, with the lines it stands on now. A reach of nought
/// leaves it where it is.
pub fn kept(paper: &PaperDesign, thing: usize, moved: &Pinned, grip: Grip, reach_mm: Decimal) -> (Pinned, Vec<Guide>) {
    let mut kept = moved.clone();
    if reach_mm <= Decimal::ZERO {
        return (kept, Vec::new());
    }
    let whole = grip == Grip::WHOLE;
    let (upright, level) = (lines(paper, thing, true), lines(paper, thing, false));
    let put = |lines: &[Line], span: Span, side: Side, most: Decimal| match nearest(
        lines,
        &followers(span, side, whole),
        reach_mm,
    ) {
        Some(by) => kept_span(span, side, by, most),
        None => span,
    };
    let x = put(&upright, across(moved), grip.across, paper.width_mm);
    let y = put(&level, down(moved), grip.down, paper.height_mm);
    (kept.x_mm, kept.width_mm) = (x.start.normalize(), x.length.normalize());
    (kept.y_mm, kept.height_mm) = (y.start.normalize(), y.length.normalize());
    let mut guides = stands_on(&upright, &followers(x, grip.across, whole), y, true);
    guides.extend(stands_on(&level, &followers(y, grip.down, whole), x, false));
    (kept, guides)
}

/// The lines that what follows the hand stands on, each once, as long as all that stands on it.
fn stands_on(lines: &[Line], followers: &[Decimal], along: Span, upright: bool) -> Vec<Guide> {
    let mut guides: Vec<Guide> = Vec::new();
    for line in lines.iter().filter(|line| followers.contains(&line.at)) {
        let (from, to) = (line.along.start.min(along.start), line.along.end().max(along.end()));
        match guides.iter_mut().find(|guide| guide.at_mm == line.at) {
            Some(guide) => {
                guide.from_mm = guide.from_mm.min(from);
                guide.to_mm = guide.to_mm.max(to);
            }
            None => guides.push(Guide { upright, at_mm: line.at, from_mm: from, to_mm: to }),
        }
    }
    guides
}

#[cfg(test)]
mod tests {
    use super::super::arrange::{dragged, fresh};
    use super::super::pinned::ready;
    use super::*;
    use crate::studio::{PaperKind, What};
    use proptest::prelude::*;

    fn mm(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    /// 50 × 28 mm with a hole at 5 mm, 14 mm, and one thing of 20 × 4 mm at 10 mm, 5 mm.
    fn paper() -> PaperDesign {
        let mut paper = ready::of(PaperKind::Tag).remove(0).design;
        let thing = Pinned {
            x_mm: mm("10"),
            y_mm: mm("5"),
            width_mm: mm("20"),
            height_mm: mm("4"),
            ..fresh(&paper, What::Name)
        };
        paper.pinned = vec![thing.clone(), Pinned { width_mm: mm("7"), height_mm: mm("3"), ..thing }];
        paper
    }

    fn at(x: &str, y: &str) -> Pinned {
        Pinned { x_mm: mm(x), y_mm: mm(y), ..paper().pinned[1].clone() }
    }

    fn put(x: &str, y: &str, reach: &str) -> ([Decimal; 2], Vec<(bool, Decimal)>) {
        let (kept, guides) = kept(&paper(), 1, &at(x, y), Grip::WHOLE, mm(reach));
        ([kept.x_mm, kept.y_mm], guides.iter().map(|guide| (guide.upright, guide.at_mm)).collect())
    }

    /// Worked out by hand.
    #[test]
    fn a_thing_keeps_to_what_is_near() {
        // Its left edge to that of the other.
        assert_eq!(put("10.3", "16.6", "0.4"), ([mm("10"), mm("16.6")], vec![(true, mm("10"))]));
        // Its right edge to the other's right one, its top to the other's bottom.
        assert_eq!(put("23.2", "9.2", "0.4"), ([mm("23"), mm("9")], vec![(true, mm("30")), (false, mm("9"))]));
        // Its middles to those of the paper: 21.5 + 3.5 = 25, 12.5 + 1.5 = 14, the hole's middle as well.
        let ([x, y], guides) = put("21.7", "12.4", "0.3");
        assert_eq!(([x, y], guides), ([mm("21.5"), mm("12.5")], vec![(true, mm("25")), (false, mm("14"))]));
        // Nothing is near, or nothing is asked for.
        assert_eq!(put("33", "18.2", "0.4"), ([mm("33"), mm("18.2")], Vec::new()));
        assert_eq!(put("10.3", "5.1", "0"), ([mm("10.3"), mm("5.1")], Vec::new()));
    }

    #[test]
    fn an_edge_that_is_dragged_keeps_to_lines_and_the_others_stay() {
        let grip = Grip { across: Side::After, down: Side::Neither };
        let wide = Pinned { width_mm: mm("13.2"), ..at("16.6", "20") };
        let (kept_wide, guides) = kept(&paper(), 1, &wide, grip, mm("0.4"));
        assert_eq!((kept_wide.x_mm, kept_wide.width_mm, kept_wide.y_mm), (mm("16.6"), mm("13.4"), mm("20")));
        assert_eq!(
            guides,
            [Guide { upright: true, at_mm: mm("30"), from_mm: mm("5"), to_mm: mm("23") }],
            "from the other's top to its own bottom"
        );
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

        /// Nothing moves further than the reach, and what lay on the paper stays on it.
        #[test]
        fn a_thing_never_jumps_or_leaves_the_paper(
            x in 0_i64..430, y in 0_i64..250, right in -300_i64..300, below in -300_i64..300, grip in 0_usize..9, reach in 1_i64..20,
        ) {
            let paper = paper();
            let start = Pinned { x_mm: Decimal::new(x, 1), y_mm: Decimal::new(y, 1), ..paper.pinned[1].clone() };
            let grip = Grip::EDGES.get(grip).copied().unwrap_or(Grip::WHOLE);
            let moved = dragged(&paper, &start, grip, [Decimal::new(right, 1), Decimal::new(below, 1)]);
            let reach = Decimal::new(reach, 1);
            let (kept, guides) = kept(&paper, 1, &moved, grip, reach);
            for (one, other) in [
                (kept.x_mm, moved.x_mm),
                (kept.y_mm, moved.y_mm),
                (kept.x_mm + kept.width_mm, moved.x_mm + moved.width_mm),
                (kept.y_mm + kept.height_mm, moved.y_mm + moved.height_mm),
            ] {
                prop_assert!((one - other).abs() <= reach);
            }
            prop_assert!(kept.x_mm >= Decimal::ZERO && kept.x_mm + kept.width_mm <= paper.width_mm);
            prop_assert!(kept.y_mm >= Decimal::ZERO && kept.y_mm + kept.height_mm <= paper.height_mm);
            prop_assert!(kept.width_mm >= LEAST && kept.height_mm >= LEAST);
            for guide in guides {
                prop_assert!(guide.from_mm <= guide.to_mm);
            }
        }
    }
}
