//! The paper itself: its outline and holes, and what of a place is free to be printed on.

use super::super::page::{Rect, Segment, round};
use crate::studio::PaperDesign;
use rust_decimal::prelude::ToPrimitive;

/// Nothing is printed nearer to a hole, mm.
pub(super) const HOLE_CLEAR_MM: f64 = 1.0;
/// Slack when lengths are compared, mm.
const SLACK_MM: f64 = 0.001;
/// Corners of a rounded outline are drawn of so many straight pieces each.
const PIECES: u32 = 48;

/// What can be printed on.
#[derive(Debug, Clone)]
pub(super) struct Ground {
    width: f64,
    height: f64,
    corner: f64,
    /// Centre and radius, the clear ring around it included.
    holes: Vec<([f64; 2], f64)>,
}

pub(super) fn mm(value: crate::measure::Decimal) -> f64 {
    value.to_f64().unwrap_or_default()
}

impl Ground {
    pub(super) fn of(design: &PaperDesign) -> Self {
        let (width, height) = (mm(design.width_mm), mm(design.height_mm));
        let holes = design.holes.iter().map(|hole| {
            let radius = mm(hole.diameter_mm) / 2.0 + HOLE_CLEAR_MM;
            ([mm(hole.x_mm), mm(hole.y_mm)], radius)
        });
        let corner = mm(design.corner_mm).clamp(0.0, width.min(height) / 2.0);
        Self { width, height, corner, holes: holes.collect() }
    }

    fn whole(&self) -> Rect {
        Rect { x_mm: 0.0, y_mm: 0.0, width_mm: self.width, height_mm: self.height }
    }

    /// A point lies on the paper.
    fn has(&self, [x, y]: [f64; 2]) -> bool {
        let inside = |at: f64, most: f64| (-SLACK_MM..=most + SLACK_MM).contains(&at);
        if !inside(x, self.width) || !inside(y, self.height) {
            return false;
        }
        // From the nearest centre of a corner, where the point lies in a corner's square.
        let beyond = |at: f64, most: f64| (self.corner - at).max(at - (most - self.corner)).max(0.0);
        beyond(x, self.width).hypot(beyond(y, self.height)) <= self.corner + SLACK_MM
    }

    /// A rectangle lies on the paper and clear of its holes.
    pub(super) fn holds(&self, rect: &Rect) -> bool {
        let (right, bottom) = (rect.right_mm(), rect.bottom_mm());
        let corners = [[rect.x_mm, rect.y_mm], [right, rect.y_mm], [rect.x_mm, bottom], [right, bottom]];
        corners.into_iter().all(|corner| self.has(corner)) && self.holes.iter().all(|hole| !meets(rect, *hole))
    }

    /// A circle lies on the paper and clear of its holes.
    pub(super) fn holds_circle(&self, [x, y]: [f64; 2], radius: f64) -> bool {
        let on_paper = (0..PIECES * 4).all(|step| {
            let angle = f64::from(step) * std::f64::consts::TAU / f64::from(PIECES * 4);
            self.has([x + radius * angle.cos(), y + radius * angle.sin()])
        });
        on_paper
            && self
                .holes
                .iter()
                .all(|([hole_x, hole_y], clear)| (x - hole_x).hypot(y - hole_y) >= radius + clear - SLACK_MM)
    }

    /// The part of a place that lies on the paper's rectangle and clear of its holes; corners are not looked at.
    pub(super) fn clear(&self, place: &Rect) -> Option<Rect> {
        let mut free = common(place, &self.whole())?;
        for hole in &self.holes {
            if meets(&free, *hole) {
                free = beside(&free, *hole)?;
            }
        }
        Some(free)
    }

    /// The part of a place in which anything may stand.
    pub(super) fn room(&self, place: &Rect) -> Option<Rect> {
        let free = self.clear(place)?;
        if self.holds(&free) {
            return Some(free);
        }
        let shrunk = |share: f64| Rect {
            x_mm: free.x_mm + free.width_mm * (1.0 - share) / 2.0,
            y_mm: free.y_mm + free.height_mm * (1.0 - share) / 2.0,
            width_mm: free.width_mm * share,
            height_mm: free.height_mm * share,
        };
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..20 {
            let middle = f64::midpoint(low, high);
            if self.holds(&shrunk(middle)) {
                low = middle;
            } else {
                high = middle;
            }
        }
        (low > 0.01).then(|| shrunk(low))
    }

    /// A filled place as a path: no more of it than lies on the paper, with room around holes.
    pub(super) fn fill(&self, place: &Rect) -> Vec<Segment> {
        let Some(mut free) = common(place, &self.whole()) else { return Vec::new() };
        let mut rings = Vec::new();
        for (centre, radius) in &self.holes {
            let [x, y] = *centre;
            let square = Rect { x_mm: x - radius, y_mm: y - radius, width_mm: radius * 2.0, height_mm: radius * 2.0 };
            let ring_fits = free.holds(&square)
                && (0..PIECES).all(|step| {
                    let angle = f64::from(step) * std::f64::consts::TAU / f64::from(PIECES);
                    self.has([x + radius * angle.cos(), y + radius * angle.sin()])
                });
            if ring_fits {
                rings.push((*centre, *radius));
            } else if meets(&free, (*centre, *radius)) {
                match beside(&free, (*centre, *radius)) {
                    Some(part) => free = part,
                    None => return Vec::new(),
                }
            }
        }
        let mut path = closed(&self.clipped(&free));
        if path.is_empty() {
            return path;
        }
        for ([x, y], radius) in rings.into_iter().filter(|hole| meets(&free, *hole)) {
            // Against the direction of what is filled: a hole.
            let over = |[px, py]: [f64; 2]| [px, 2.0 * y - py];
            path.extend(round([x, y], radius).into_iter().map(|segment| match segment {
                Segment::Move(point) => Segment::Move(over(point)),
                Segment::Line(point) => Segment::Line(over(point)),
                Segment::Cubic(first, second, end) => Segment::Cubic(over(first), over(second), over(end)),
                Segment::Close => Segment::Close,
            }));
        }
        path
    }

    /// The corners of what a rectangle and the outline have in common, clockwise.
    fn clipped(&self, rect: &Rect) -> Vec<[f64; 2]> {
        let (right, bottom) = (rect.right_mm(), rect.bottom_mm());
        let corners = vec![[rect.x_mm, rect.y_mm], [right, rect.y_mm], [right, bottom], [rect.x_mm, bottom]];
        if corners.iter().all(|corner| self.has(*corner)) {
            return corners;
        }
        let keeps: [(usize, f64, f64); 4] =
            [(0, rect.x_mm, 1.0), (0, right, -1.0), (1, rect.y_mm, 1.0), (1, bottom, -1.0)];
        keeps.into_iter().fold(self.points(), |points, (axis, at, sign)| half(&points, axis, at, sign))
    }

    /// The outline as points, clockwise.
    fn points(&self) -> Vec<[f64; 2]> {
        let r = self.corner;
        let centres = [[self.width - r, r], [self.width - r, self.height - r], [r, self.height - r], [r, r]];
        let mut points = Vec::new();
        for (quarter, [x, y]) in (0_u32..).zip(centres) {
            for step in 0..=PIECES {
                let turns = (f64::from(quarter) - 1.0 + f64::from(step) / f64::from(PIECES)) / 4.0;
                let angle = turns * std::f64::consts::TAU;
                points.push([x + r * angle.cos(), y + r * angle.sin()]);
            }
        }
        points
    }
}

fn closed(points: &[[f64; 2]]) -> Vec<Segment> {
    let Some((first, rest)) = points.split_first() else { return Vec::new() };
    let mut path = vec![Segment::Move(*first)];
    path.extend(rest.iter().map(|point| Segment::Line(*point)));
    path.push(Segment::Close);
    path
}

/// The part of a convex outline on one side of a line (Sutherland and Hodgman, 1974).
fn half(points: &[[f64; 2]], axis: usize, at: f64, sign: f64) -> Vec<[f64; 2]> {
    let depth = |point: &[f64; 2]| (point.get(axis).copied().unwrap_or_default() - at) * sign;
    let mut kept = Vec::with_capacity(points.len() + 2);
    let ends = points.iter().skip(1).chain(points.first());
    for (from, to) in points.iter().zip(ends) {
        let (before, after) = (depth(from), depth(to));
        if before >= 0.0 {
            kept.push(*from);
        }
        if (before >= 0.0) != (after >= 0.0) {
            let share = before / (before - after);
            let ([fx, fy], [tx, ty]) = (*from, *to);
            kept.push([fx + (tx - fx) * share, fy + (ty - fy) * share]);
        }
    }
    kept
}

fn common(one: &Rect, other: &Rect) -> Option<Rect> {
    let (left, top) = (one.x_mm.max(other.x_mm), one.y_mm.max(other.y_mm));
    let (right, bottom) = (one.right_mm().min(other.right_mm()), one.bottom_mm().min(other.bottom_mm()));
    (right > left && bottom > top).then_some(Rect {
        x_mm: left,
        y_mm: top,
        width_mm: right - left,
        height_mm: bottom - top,
    })
}

fn meets(rect: &Rect, ([x, y], radius): ([f64; 2], f64)) -> bool {
    let away = |at: f64, from: f64, to: f64| (from - at).max(at - to).max(0.0);
    away(x, rect.x_mm, rect.right_mm()).hypot(away(y, rect.y_mm, rect.bottom_mm())) < radius - SLACK_MM
}

/// The largest part of a rectangle at one side of a circle.
fn beside(rect: &Rect, ([x, y], radius): ([f64; 2], f64)) -> Option<Rect> {
    let (left, top, right, bottom) = (rect.x_mm, rect.y_mm, rect.right_mm(), rect.bottom_mm());
    let parts = [
        [left, top, x - radius, bottom],
        [x + radius, top, right, bottom],
        [left, top, right, y - radius],
        [left, y + radius, right, bottom],
    ];
    parts
        .into_iter()
        .map(|[left, top, right, bottom]| Rect {
            x_mm: left,
            y_mm: top,
            width_mm: right - left,
            height_mm: bottom - top,
        })
        .filter(|part| part.width_mm > 0.0 && part.height_mm > 0.0)
        .max_by(|one, other| (one.width_mm * one.height_mm).total_cmp(&(other.width_mm * other.height_mm)))
}
