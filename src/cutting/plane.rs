//! Points, rings and distances on the sheet, mm.

/// A point or a step, mm.
pub(super) type Point = [f64; 2];

/// Distances this much too short are rounding, not a narrower kerf, mm.
pub(super) const ROUNDING_MM: f64 = 1e-7;

/// The smallest upright rectangle around something.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Bounds {
    /// Least x and y.
    pub(super) low: Point,
    /// Greatest x and y.
    pub(super) high: Point,
}

impl Bounds {
    /// Around points; of none, an inverted box that nothing meets.
    pub(super) fn of<'a>(points: impl IntoIterator<Item = &'a Point>) -> Self {
        let mut bounds = Self { low: [f64::INFINITY; 2], high: [f64::NEG_INFINITY; 2] };
        for &[x, y] in points {
            bounds.low = [bounds.low[0].min(x), bounds.low[1].min(y)];
            bounds.high = [bounds.high[0].max(x), bounds.high[1].max(y)];
        }
        bounds
    }

    /// Moved by a step.
    pub(super) fn moved(self, step: Point) -> Self {
        Self { low: plus(self.low, step), high: plus(self.high, step) }
    }

    /// Grown by a length on every side.
    pub(super) fn grown(self, by: f64) -> Self {
        Self { low: minus(self.low, [by, by]), high: plus(self.high, [by, by]) }
    }

    /// Width along x.
    pub(super) fn width(&self) -> f64 {
        self.high[0] - self.low[0]
    }

    /// Height along y.
    pub(super) fn height(&self) -> f64 {
        self.high[1] - self.low[1]
    }

    /// True where the two share more than an edge.
    pub(super) fn meets(&self, other: &Self) -> bool {
        self.low[0] < other.high[0]
            && other.low[0] < self.high[0]
            && self.low[1] < other.high[1]
            && other.low[1] < self.high[1]
    }

    /// True where `other` lies inside, its edge included, rounding forgiven.
    pub(super) fn holds(&self, other: &Self) -> bool {
        self.low[0] <= other.low[0] + ROUNDING_MM
            && self.low[1] <= other.low[1] + ROUNDING_MM
            && self.high[0] >= other.high[0] - ROUNDING_MM
            && self.high[1] >= other.high[1] - ROUNDING_MM
    }
}

pub(super) fn plus([ax, ay]: Point, [bx, by]: Point) -> Point {
    [ax + bx, ay + by]
}

pub(super) fn minus([ax, ay]: Point, [bx, by]: Point) -> Point {
    [ax - bx, ay - by]
}

pub(super) fn negative([x, y]: Point) -> Point {
    [-x, -y]
}

pub(super) fn cross([ax, ay]: Point, [bx, by]: Point) -> f64 {
    ax * by - ay * bx
}

pub(super) fn dot([ax, ay]: Point, [bx, by]: Point) -> f64 {
    ax * bx + ay * by
}

pub(super) fn length([x, y]: Point) -> f64 {
    x.hypot(y)
}

/// Points turned about the origin, counter-clockwise, radians. Quarter turns are exact.
pub(super) fn turned(points: &[Point], radians: f64) -> Vec<Point> {
    let (sine, cosine) = sine_and_cosine(radians);
    points.iter().map(|&[x, y]| [x * cosine - y * sine, x * sine + y * cosine]).collect()
}

/// Sine and cosine, exact at quarter turns.
pub(super) fn sine_and_cosine(radians: f64) -> (f64, f64) {
    let quarters = radians / std::f64::consts::FRAC_PI_2;
    if (quarters - quarters.round()).abs() < 1e-12 {
        let quarter = quarters.round().rem_euclid(4.0);
        return if quarter < 0.5 {
            (0.0, 1.0)
        } else if quarter < 1.5 {
            (1.0, 0.0)
        } else if quarter < 2.5 {
            (0.0, -1.0)
        } else {
            (-1.0, 0.0)
        };
    }
    radians.sin_cos()
}

/// Points moved by a step.
pub(super) fn moved(points: &[Point], step: Point) -> Vec<Point> {
    points.iter().map(|&point| plus(point, step)).collect()
}

/// The sides of a closed ring, in order.
pub(super) fn sides(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

/// Area inside a ring, positive counter-clockwise.
pub(super) fn signed_area(ring: &[Point]) -> f64 {
    let origin = ring.first().copied().unwrap_or_default();
    sides(ring).map(|(a, b)| cross(minus(a, origin), minus(b, origin)) / 2.0).sum()
}

/// True where a ray to the right meets the ring an odd number of times.
pub(super) fn surrounds(ring: &[Point], [x, y]: Point) -> bool {
    sides(ring)
        .filter(|&([ax, ay], [bx, by])| (ay > y) != (by > y) && x < ax + (y - ay) / (by - ay) * (bx - ax))
        .count()
        % 2
        == 1
}

/// True where two rings lie beside each other with at least `gap` between them; neither may hold the other.
pub(super) fn apart(a: &[Point], b: &[Point], gap: f64) -> bool {
    let (Some(&first_a), Some(&first_b)) = (a.first(), b.first()) else { return true };
    let reach = gap.max(0.0);
    let least = (gap - ROUNDING_MM).max(0.0);
    let around_b = Bounds::of(b).grown(reach);
    for (from, to) in sides(a) {
        let around = Bounds::of(&[from, to]).grown(reach);
        if !touches(&around, &around_b) {
            continue;
        }
        for (other_from, other_to) in sides(b) {
            if !touches(&around, &Bounds::of(&[other_from, other_to])) {
                continue;
            }
            if crosses([from, to], [other_from, other_to]) {
                return false;
            }
            let nearest = from_side(from, [other_from, other_to])
                .min(from_side(to, [other_from, other_to]))
                .min(from_side(other_from, [from, to]))
                .min(from_side(other_to, [from, to]));
            if nearest < least {
                return false;
            }
        }
    }
    if gap <= ROUNDING_MM && (within(a, b) || within(b, a)) {
        return false;
    }
    // Where nothing crosses, one point tells for the whole ring.
    !surrounds(a, inner_point(b).unwrap_or(first_b)) && !surrounds(b, inner_point(a).unwrap_or(first_a))
}

/// True where the middle of a side of `b` lies well inside `a`: rings that overlap along shared lines cross nowhere.
fn within(a: &[Point], b: &[Point]) -> bool {
    sides(b).any(|(from, to)| {
        let middle = [(from[0] + to[0]) / 2.0, (from[1] + to[1]) / 2.0];
        surrounds(a, middle) && sides(a).all(|(from, to)| from_side(middle, [from, to]) > 10.0 * ROUNDING_MM)
    })
}

/// As [`Bounds::meets`], an edge shared counting too.
fn touches(a: &Bounds, b: &Bounds) -> bool {
    a.low[0] <= b.high[0] && b.low[0] <= a.high[0] && a.low[1] <= b.high[1] && b.low[1] <= a.high[1]
}

/// A point inside a ring: the middle of a piece cut from it at half height.
fn inner_point(ring: &[Point]) -> Option<Point> {
    let bounds = Bounds::of(ring);
    // Not quite the middle: away from corners that symmetry puts there.
    let y = bounds.low[1] + bounds.height() * 0.487_321;
    let mut cuts: Vec<f64> = sides(ring)
        .filter(|&([_, ay], [_, by])| (ay > y) != (by > y))
        .map(|([ax, ay], [bx, by])| ax + (y - ay) / (by - ay) * (bx - ax))
        .collect();
    cuts.sort_by(f64::total_cmp);
    let mut cuts = cuts.into_iter();
    Some([(cuts.next()? + cuts.next()?) / 2.0, y])
}

/// True where two sides cross inside both.
fn crosses([a, b]: [Point; 2], [c, d]: [Point; 2]) -> bool {
    let side = |from: Point, to: Point, point: Point| cross(minus(to, from), minus(point, from));
    let scale = length(minus(b, a)) * length(minus(d, c)) * 1e-9;
    let differ = |one: f64, other: f64| (one > scale && other < -scale) || (one < -scale && other > scale);
    differ(side(a, b, c), side(a, b, d)) && differ(side(c, d, a), side(c, d, b))
}

/// Distance of a point from a side.
pub(super) fn from_side(point: Point, [from, to]: [Point; 2]) -> f64 {
    let along = minus(to, from);
    let squared = dot(along, along);
    let share = if squared > 0.0 { (dot(minus(point, from), along) / squared).clamp(0.0, 1.0) } else { 0.0 };
    length(minus(point, plus(from, [along[0] * share, along[1] * share])))
}
