//! The outlines of labels as geometry: where they are cut and folded, and what of them may be printed on. Lengths are
//! millimetres from the label's top left corner.

use super::page::{Rect, Segment, corner_arm, rectangle};
use super::pdf::mm_of;
use crate::studio::LabelShape;

/// A cut comes out beside its line by as much; nothing is printed nearer to a curved edge, mm.
const CLEAR_MM: f64 = 0.3;
/// Slack when lengths are compared, mm.
const SLACK_MM: f64 = 0.001;
/// The rectangle that is printed on in a round label is so much of its width and height: the sides of a right-angled
/// triangle of 3, 4 and 5, so that its corners lie on the ellipse.
const ROUND_SHARE: [f64; 2] = [0.8, 0.6];

/// A label's outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Figure {
    /// Square corners.
    Rectangle,
    /// Rounded corners of a radius.
    Rounded(f64),
    /// An ellipse.
    Round,
    /// Two flags with a neck between them.
    Barbell { neck_length: f64, neck_height: f64 },
}

impl Figure {
    pub(super) fn of(shape: LabelShape) -> Self {
        match shape {
            LabelShape::Rectangle => Self::Rectangle,
            LabelShape::Rounded(radius) => Self::Rounded(mm_of(radius)),
            LabelShape::Round => Self::Round,
            LabelShape::Barbell { neck_length_mm, neck_height_mm } => {
                Self::Barbell { neck_length: mm_of(neck_length_mm), neck_height: mm_of(neck_height_mm) }
            }
        }
    }

    /// The flags of a barbell of a size, left and right; none of any other label.
    pub(super) fn flags(self, [width, height]: [f64; 2]) -> Option<[Rect; 2]> {
        let Self::Barbell { neck_length, .. } = self else { return None };
        let flag = (width - neck_length) / 2.0;
        let at = |x_mm| Rect { x_mm, y_mm: 0.0, width_mm: flag, height_mm: height };
        Some([at(0.0), at(width - flag)])
    }

    /// The rectangle that may be printed on: the largest usual one whose corners lie inside. The flags of a barbell are
    /// each printed on for themselves.
    pub(super) fn keep_in(self, [width, height]: [f64; 2]) -> Rect {
        let inset = |across: f64, down: f64| Rect {
            x_mm: across,
            y_mm: down,
            width_mm: width - 2.0 * across,
            height_mm: height - 2.0 * down,
        };
        match self {
            Self::Rectangle | Self::Barbell { .. } => inset(0.0, 0.0),
            // The corner of the rectangle lies on the arc's bisector.
            Self::Rounded(radius) => {
                let by = radius * (1.0 - std::f64::consts::FRAC_1_SQRT_2) + CLEAR_MM;
                inset(by, by)
            }
            Self::Round => {
                let [across, down] = ROUND_SHARE;
                inset(width * (1.0 - across) / 2.0 + CLEAR_MM, height * (1.0 - down) / 2.0 + CLEAR_MM)
            }
        }
    }

    /// A point of a label of a size may be printed on.
    pub(super) fn has(self, [width, height]: [f64; 2], [x, y]: [f64; 2]) -> bool {
        let within = |at: f64, most: f64| (-SLACK_MM..=most + SLACK_MM).contains(&at);
        if !within(x, width) || !within(y, height) {
            return false;
        }
        match self {
            Self::Rectangle => true,
            Self::Rounded(radius) => {
                // From the nearest centre of a corner, where the point lies in a corner's square.
                let beyond = |at: f64, most: f64| (radius - at).max(at - (most - radius)).max(0.0);
                beyond(x, width).hypot(beyond(y, height)) <= radius + SLACK_MM
            }
            Self::Round => {
                let part = |at: f64, whole: f64| (at - whole / 2.0) / (whole / 2.0 + SLACK_MM);
                part(x, width).hypot(part(y, height)) <= 1.0
            }
            Self::Barbell { neck_length, .. } => {
                let flag = (width - neck_length) / 2.0;
                x <= flag + SLACK_MM || x >= width - flag - SLACK_MM
            }
        }
    }

    /// A rectangle of a label of a size may be printed on.
    pub(super) fn holds(self, size: [f64; 2], rect: &Rect) -> bool {
        if let Some(flags) = self.flags(size) {
            return flags.iter().any(|flag| flag.holds(rect));
        }
        // The other outlines bulge outwards everywhere.
        let (right, bottom) = (rect.right_mm(), rect.bottom_mm());
        [[rect.x_mm, rect.y_mm], [right, rect.y_mm], [rect.x_mm, bottom], [right, bottom]]
            .into_iter()
            .all(|corner| self.has(size, corner))
    }

    /// The outline of a label at its place, clockwise on the page, `inside` it by so much.
    pub(super) fn outline(self, rect: Rect, inside: f64) -> Vec<Segment> {
        let (left, top) = (rect.x_mm + inside, rect.y_mm + inside);
        let (right, bottom) = (rect.right_mm() - inside, rect.bottom_mm() - inside);
        let inner = Rect { x_mm: left, y_mm: top, width_mm: right - left, height_mm: bottom - top };
        match self {
            Self::Rectangle => rectangle(inner),
            Self::Rounded(radius) => rounded(inner, [(radius - inside).max(0.0); 2]),
            Self::Round => rounded(inner, [inner.width_mm / 2.0, inner.height_mm / 2.0]),
            Self::Barbell { neck_length, neck_height } => {
                let (middle_x, middle_y) = (f64::midpoint(left, right), f64::midpoint(top, bottom));
                let (half, neck) = (neck_length / 2.0 + inside, neck_height / 2.0 - inside);
                let (from, to) = (middle_x - half, middle_x + half);
                let (upper, lower) = (middle_y - neck, middle_y + neck);
                vec![
                    Segment::Move([left, top]),
                    Segment::Line([from, top]),
                    Segment::Line([from, upper]),
                    Segment::Line([to, upper]),
                    Segment::Line([to, top]),
                    Segment::Line([right, top]),
                    Segment::Line([right, bottom]),
                    Segment::Line([to, bottom]),
                    Segment::Line([to, lower]),
                    Segment::Line([from, lower]),
                    Segment::Line([from, bottom]),
                    Segment::Line([left, bottom]),
                    Segment::Close,
                ]
            }
        }
    }

    /// The upper and the lower end of the line it is folded along, where it is folded: in the middle, and of a barbell
    /// that is the middle of the neck.
    pub(super) fn fold(self, [width, height]: [f64; 2], folded: bool) -> Option<[[f64; 2]; 2]> {
        let middle = width / 2.0;
        match self {
            Self::Barbell { neck_height, .. } => {
                let top = (height - neck_height) / 2.0;
                Some([[middle, top], [middle, height - top]])
            }
            _ => folded.then_some([[middle, 0.0], [middle, height]]),
        }
    }

    /// How far the centre of a hole of a radius lies from the left edge at half the height: no nearer than asked, and as
    /// far as it takes to leave `clear` of it all around.
    pub(super) fn hole_inset(self, size: [f64; 2], asked: f64, radius: f64, clear: f64) -> f64 {
        const STEP_MM: f64 = 0.25;
        const AROUND: u32 = 32;
        if self != Self::Round {
            return asked;
        }
        let [width, height] = size;
        let fits = |inset: f64| {
            (0..AROUND).all(|step| {
                let angle = f64::from(step) * std::f64::consts::TAU / f64::from(AROUND);
                let reach = radius + clear;
                self.has(size, [inset + reach * angle.cos(), height / 2.0 + reach * angle.sin()])
            })
        };
        let mut inset = asked;
        while inset < width / 2.0 && !fits(inset) {
            inset += STEP_MM;
        }
        inset.min(width / 2.0)
    }
}

/// A rectangle whose corners are quarters of an ellipse, clockwise on the page.
pub(super) fn rounded(rect: Rect, [across, down]: [f64; 2]) -> Vec<Segment> {
    let (left, top, right, bottom) = (rect.x_mm, rect.y_mm, rect.right_mm(), rect.bottom_mm());
    // How far the control points lie from the corner.
    let (near_x, near_y) = (across - corner_arm(across), down - corner_arm(down));
    vec![
        Segment::Move([left + across, top]),
        Segment::Line([right - across, top]),
        Segment::Cubic([right - near_x, top], [right, top + near_y], [right, top + down]),
        Segment::Line([right, bottom - down]),
        Segment::Cubic([right, bottom - near_y], [right - near_x, bottom], [right - across, bottom]),
        Segment::Line([left + across, bottom]),
        Segment::Cubic([left + near_x, bottom], [left, bottom - near_y], [left, bottom - down]),
        Segment::Line([left, top + down]),
        Segment::Cubic([left, top + near_y], [left + near_x, top], [left + across, top]),
        Segment::Close,
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    const FIGURES: [Figure; 5] = [
        Figure::Rectangle,
        Figure::Rounded(2.0),
        Figure::Rounded(10.0),
        Figure::Round,
        Figure::Barbell { neck_length: 16.0, neck_height: 4.0 },
    ];

    /// A 3-4-5 triangle (Euclid, Elements I.47): corners of the kept rectangle lie on the ellipse.
    #[test]
    fn what_may_be_printed_on_lies_inside_the_outline() {
        for size in [[40.0, 20.0], [40.0, 40.0], [20.0, 20.0]] {
            for figure in FIGURES {
                let kept = figure.flags(size).unwrap_or([figure.keep_in(size); 2]);
                for rect in kept {
                    assert!(figure.holds(size, &rect), "{figure:?} {size:?} {rect:?}");
                    assert!(rect.width_mm > 0.0 && rect.height_mm > 0.0);
                }
            }
        }
    }

    #[test]
    fn nothing_is_printed_on_corners_and_necks() {
        let size = [40.0, 20.0];
        for figure in [Figure::Rounded(2.0), Figure::Round] {
            assert!(!figure.has(size, [0.1, 0.1]) && figure.has(size, [20.0, 0.1]));
        }
        let barbell = Figure::Barbell { neck_length: 16.0, neck_height: 4.0 };
        assert!(barbell.has(size, [11.9, 1.0]) && !barbell.has(size, [20.0, 10.0]) && barbell.has(size, [28.1, 19.0]));
        assert!(!barbell.holds(size, &Rect { x_mm: 2.0, y_mm: 8.0, width_mm: 36.0, height_mm: 4.0 }));
        assert_eq!(barbell.fold(size, false), Some([[20.0, 8.0], [20.0, 12.0]]));
    }

    #[test]
    fn an_outline_stays_inside_its_rectangle() {
        let rect = Rect { x_mm: 3.0, y_mm: 4.0, width_mm: 40.0, height_mm: 20.0 };
        for figure in FIGURES {
            for segment in figure.outline(rect, 0.05) {
                let (Segment::Move([x, y]) | Segment::Line([x, y]) | Segment::Cubic(_, _, [x, y])) = segment else {
                    continue;
                };
                assert!((3.05..=42.95).contains(&x) && (4.05..=23.95).contains(&y), "{figure:?} {x} {y}");
            }
        }
    }

    #[test]
    fn a_hole_in_an_ellipse_keeps_clear_of_its_edge() {
        let size = [60.0, 12.0];
        let inset = Figure::Round.hole_inset(size, 2.5, 1.5, 0.8);
        // At the end of an ellipse of half axes a and b the curve has the radius b²/a: 1.2 mm here, less than the hole's.
        assert!(inset > 2.5 && inset < 10.0, "{inset}");
        assert!((Figure::Rectangle.hole_inset(size, 2.5, 1.5, 0.8) - 2.5).abs() < 1e-9);
    }
}
