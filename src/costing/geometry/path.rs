//! SVG 1.1 path data as closed curves (W3C SVG 1.1 Second Edition, sections 8.3 and F.6).

// Points are compared for being the very same, as the path gave them.
#![allow(clippy::float_cmp)]

use super::curve::{Curve, Point, minus};
use std::f64::consts::TAU;
use svgtypes::{PathParser, PathSegment};

/// Reads path data; every sub-path comes back closed. Sub-paths of a bare move are left out.
pub(super) fn read(svg: &str) -> Result<Vec<Vec<Curve>>, String> {
    if let Some(strange) = svg.chars().find(|character| !character.is_ascii()) {
        return Err(format!("{strange:?} is no part of SVG path data"));
    }
    let mut pen = Pen::default();
    for segment in PathParser::from(svg) {
        let segment = segment.map_err(|error| format!("not SVG path data: {error}"))?;
        pen.draw(segment)?;
    }
    pen.finish();
    if pen.done.is_empty() {
        return Err("the path draws nothing; accepted is SVG path data such as \"M0 0 H30 V20 Z\"".to_owned());
    }
    Ok(pen.done)
}

/// Where the drawing stands.
#[derive(Debug, Default)]
struct Pen {
    done: Vec<Vec<Curve>>,
    current: Vec<Curve>,
    start: Point,
    at: Point,
    /// Second control point of the cubic just drawn.
    cubic: Option<Point>,
    /// Control point of the quadratic just drawn.
    quadratic: Option<Point>,
}

impl Pen {
    fn draw(&mut self, segment: PathSegment) -> Result<(), String> {
        let [at_x, at_y] = self.at;
        let base = if segment.is_abs() { [0.0, 0.0] } else { self.at };
        let place = |x: f64, y: f64| {
            let [base_x, base_y] = base;
            [base_x + x, base_y + y]
        };
        let (cubic, quadratic) = (self.cubic.take(), self.quadratic.take());
        match segment {
            PathSegment::MoveTo { x, y, .. } => {
                self.finish();
                self.start = place(x, y);
                self.at = self.start;
            }
            PathSegment::LineTo { x, y, .. } => self.line(place(x, y)),
            PathSegment::HorizontalLineTo { x, .. } => {
                let [to_x, _] = place(x, 0.0);
                self.line([to_x, at_y]);
            }
            PathSegment::VerticalLineTo { y, .. } => {
                let [_, to_y] = place(0.0, y);
                self.line([at_x, to_y]);
            }
            PathSegment::CurveTo { x1, y1, x2, y2, x, y, .. } => {
                self.cubic_to(place(x1, y1), place(x2, y2), place(x, y));
            }
            PathSegment::SmoothCurveTo { x2, y2, x, y, .. } => {
                self.cubic_to(cubic.map_or(self.at, |control| mirror(control, self.at)), place(x2, y2), place(x, y));
            }
            PathSegment::Quadratic { x1, y1, x, y, .. } => self.quadratic_to(place(x1, y1), place(x, y)),
            PathSegment::SmoothQuadratic { x, y, .. } => {
                self.quadratic_to(quadratic.map_or(self.at, |control| mirror(control, self.at)), place(x, y));
            }
            PathSegment::EllipticalArc { rx, ry, x_axis_rotation, large_arc, sweep, x, y, .. } => {
                let to = place(x, y);
                let side = if large_arc == sweep { -1.0 } else { 1.0 };
                match arc(self.at, to, [rx.abs(), ry.abs()], x_axis_rotation.to_radians(), side, sweep) {
                    Some(curve) => self.current.push(curve),
                    None => self.line(to),
                }
                self.at = to;
            }
            PathSegment::ClosePath { .. } => self.finish(),
        }
        let within = |value: &f64| value.is_finite() && value.abs() <= FARTHEST_MM;
        let controls = [self.at, self.cubic.unwrap_or(self.at), self.quadratic.unwrap_or(self.at)];
        let drawn = self.current.last().map_or(self.at, |curve| match *curve {
            Curve::Cubic { first, .. } => first,
            Curve::Arc { radii, .. } => radii,
            Curve::Line { to, .. } => to,
        });
        if controls.iter().chain([&drawn]).flatten().all(within) {
            Ok(())
        } else {
            Err(format!("a coordinate lies farther than {FARTHEST_MM} mm from the origin"))
        }
    }

    fn line(&mut self, to: Point) {
        self.current.push(Curve::Line { from: self.at, to });
        self.at = to;
    }

    fn cubic_to(&mut self, first: Point, second: Point, to: Point) {
        self.current.push(Curve::Cubic { from: self.at, first, second, to });
        self.at = to;
        self.cubic = Some(second);
    }

    fn quadratic_to(&mut self, control: Point, to: Point) {
        // Raised to the cubic that draws the same curve.
        let toward = |end: Point| {
            let ([ex, ey], [cx, cy]) = (end, control);
            [ex + 2.0 / 3.0 * (cx - ex), ey + 2.0 / 3.0 * (cy - ey)]
        };
        self.current.push(Curve::Cubic { from: self.at, first: toward(self.at), second: toward(to), to });
        self.at = to;
        self.quadratic = Some(control);
    }

    /// Closes the sub-path being drawn; the next one starts where it started.
    fn finish(&mut self) {
        if !self.current.is_empty() {
            if self.at != self.start {
                self.line(self.start);
            }
            self.done.push(std::mem::take(&mut self.current));
        }
        self.at = self.start;
    }
}

/// Coordinates beyond a kilometre are no jewellery, and would cost the exact area its digits.
const FARTHEST_MM: f64 = 1_000_000.0;

fn mirror([cx, cy]: Point, [x, y]: Point) -> Point {
    [2.0 * x - cx, 2.0 * y - cy]
}

/// An arc from its end points to its centre (SVG 1.1, F.6.5), its radii raised where they are too small (F.6.6).
/// None where it is a straight line or nothing.
fn arc(from: Point, to: Point, radii: [f64; 2], turn: f64, side: f64, clockwise_on_screen: bool) -> Option<Curve> {
    let [mut a, mut b] = radii;
    if from == to {
        return None;
    }
    if a <= 0.0 || b <= 0.0 {
        return None;
    }
    let (sin, cos) = turn.sin_cos();
    let [dx, dy] = minus(from, to).map(|difference| difference / 2.0);
    let (x, y) = (cos * dx + sin * dy, cos * dy - sin * dx);
    let stretch = (x / a).powi(2) + (y / b).powi(2);
    if stretch > 1.0 {
        a *= stretch.sqrt();
        b *= stretch.sqrt();
    }
    let reach = (x / a).powi(2) + (y / b).powi(2);
    let factor = side * ((1.0 - reach).max(0.0) / reach).sqrt();
    let (centre_x, centre_y) = (factor * a * y / b, -factor * b * x / a);
    let ([from_x, from_y], [to_x, to_y]) = (from, to);
    let centre = [
        cos * centre_x - sin * centre_y + f64::midpoint(from_x, to_x),
        sin * centre_x + cos * centre_y + f64::midpoint(from_y, to_y),
    ];
    let start = ((y - centre_y) / b).atan2((x - centre_x) / a);
    let end = ((-y - centre_y) / b).atan2((-x - centre_x) / a);
    let mut sweep = (end - start).rem_euclid(TAU);
    if !clockwise_on_screen && sweep > 0.0 {
        sweep -= TAU;
    }
    Some(Curve::Arc { from, to, centre, radii: [a, b], turn, start, sweep })
}
