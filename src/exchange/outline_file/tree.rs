//! The shapes of a plain SVG as closed curves in pixels, by way of usvg.

use super::{OutlineFileProblem, Remark};
use usvg::tiny_skia_path::{PathSegment, Point, Transform};

/// Stack of the thread that reads: nesting was limited before.
const STACK_BYTES: usize = 32 * 1024 * 1024;

/// A piece of a shape, in pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Piece {
    Move([f64; 2]),
    Line([f64; 2]),
    Cubic([f64; 2], [f64; 2], [f64; 2]),
    Close,
}

/// A shape: closed sub-paths that enclose something.
pub(super) type Shape = Vec<Piece>;

/// What a file draws.
#[derive(Debug, Default)]
pub(super) struct Drawn {
    pub(super) shapes: Vec<Shape>,
    pub(super) remarks: Vec<Remark>,
}

/// Reads the shapes in a thread of its own: should the reader of other people's files fail, it fails alone.
pub(super) fn shapes(svg: &str) -> Result<Drawn, OutlineFileProblem> {
    let not_read = |reason: String| OutlineFileProblem::NotSvg(reason);
    std::thread::scope(|scope| {
        let reader = std::thread::Builder::new().stack_size(STACK_BYTES).spawn_scoped(scope, || read(svg));
        let reader = reader.map_err(|error| not_read(error.to_string()))?;
        reader.join().map_err(|_| not_read("it cannot be followed".to_owned()))?
    })
}

fn read(svg: &str) -> Result<Drawn, OutlineFileProblem> {
    let options = usvg::Options {
        // Nothing is fetched, on no account.
        image_href_resolver: usvg::ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        ..usvg::Options::default()
    };
    let tree = usvg::Tree::from_str(svg, &options).map_err(|error| OutlineFileProblem::NotSvg(error.to_string()))?;
    let mut counts = Counts::default();
    let mut shapes = Vec::new();
    collect(tree.root(), &mut shapes, &mut counts);
    let remarks = [
        (counts.lines, Remark::LinesHaveNoWidth as fn(usize) -> Remark),
        (counts.not_drawn, Remark::NotDrawn),
        (counts.nothing, Remark::EncloseNothing),
        (counts.closed, Remark::Closed),
    ];
    let remarks = remarks.into_iter().filter(|(count, _)| *count > 0).map(|(count, remark)| remark(count)).collect();
    Ok(Drawn { shapes, remarks })
}

#[derive(Debug, Default)]
struct Counts {
    lines: usize,
    not_drawn: usize,
    nothing: usize,
    closed: usize,
}

fn collect(group: &usvg::Group, shapes: &mut Vec<Shape>, counts: &mut Counts) {
    for node in group.children() {
        match node {
            usvg::Node::Group(group) => collect(group, shapes, counts),
            usvg::Node::Path(path) => {
                if !path.is_visible() {
                    counts.not_drawn += 1;
                    continue;
                }
                let (shape, open) = closed(path);
                if shape.is_empty() {
                    counts.nothing += 1;
                    continue;
                }
                counts.lines += usize::from(path.stroke().is_some());
                counts.closed += usize::from(open);
                shapes.push(shape);
            }
            usvg::Node::Image(_) | usvg::Node::Text(_) => {}
        }
    }
}

/// The sub-paths that enclose something, closed, and whether one had to be.
fn closed(path: &usvg::Path) -> (Shape, bool) {
    let place = |point: Point| placed(path.abs_transform(), point);
    let mut shape = Shape::new();
    let mut current = SubPath::default();
    let mut open = false;
    for segment in path.data().segments() {
        match segment {
            PathSegment::MoveTo(to) => {
                open |= current.finish(&mut shape);
                current.begin(place(to));
            }
            PathSegment::LineTo(to) => current.push(Piece::Line(place(to))),
            PathSegment::QuadTo(control, to) => {
                let (control, to) = (place(control), place(to));
                // Raised to the cubic that draws the same curve.
                let toward =
                    |[ex, ey]: [f64; 2]| [ex + 2.0 / 3.0 * (control[0] - ex), ey + 2.0 / 3.0 * (control[1] - ey)];
                let from = current.at;
                current.push(Piece::Cubic(toward(from), toward(to), to));
            }
            PathSegment::CubicTo(first, second, to) => {
                current.push(Piece::Cubic(place(first), place(second), place(to)));
            }
            PathSegment::Close => {
                let start = current.start;
                current.was_closed = true;
                current.finish(&mut shape);
                current.begin(start);
            }
        }
    }
    open |= current.finish(&mut shape);
    (shape, open)
}

#[derive(Debug, Default)]
struct SubPath {
    start: [f64; 2],
    at: [f64; 2],
    pieces: Vec<Piece>,
    was_closed: bool,
}

impl SubPath {
    fn begin(&mut self, start: [f64; 2]) {
        *self = Self { start, at: start, ..Self::default() };
    }

    fn push(&mut self, piece: Piece) {
        if let Piece::Line(to) | Piece::Cubic(_, _, to) = piece {
            self.at = to;
        }
        self.pieces.push(piece);
    }

    /// Adds the sub-path to a shape where it encloses something; true where it was open.
    fn finish(&mut self, shape: &mut Shape) -> bool {
        let pieces = std::mem::take(&mut self.pieces);
        if !encloses(self.start, &pieces) {
            return false;
        }
        shape.push(Piece::Move(self.start));
        shape.extend(pieces);
        shape.push(Piece::Close);
        !self.was_closed && !near(self.at, self.start)
    }
}

fn near([ax, ay]: [f64; 2], [bx, by]: [f64; 2]) -> bool {
    // A thousandth of a pixel is far below what is written.
    (ax - bx).abs() <= 1e-3 && (ay - by).abs() <= 1e-3
}

/// Not all of it lies on one straight line.
fn encloses(start: [f64; 2], pieces: &[Piece]) -> bool {
    let mut points = vec![start];
    for piece in pieces {
        match *piece {
            Piece::Line(to) => points.push(to),
            Piece::Cubic(first, second, to) => points.extend([first, second, to]),
            Piece::Move(_) | Piece::Close => {}
        }
    }
    if !points.iter().flatten().all(|value| value.is_finite()) {
        return false;
    }
    let from = |[x, y]: [f64; 2]| [x - start[0], y - start[1]];
    let farthest = points.iter().map(|point| from(*point)).max_by(|a, b| a[0].hypot(a[1]).total_cmp(&b[0].hypot(b[1])));
    let Some([dx, dy]) = farthest else { return false };
    let length = dx.hypot(dy);
    points.iter().any(|point| {
        let [x, y] = from(*point);
        (x * dy - y * dx).abs() > 1e-6 * length * length
    })
}

fn placed(transform: Transform, point: Point) -> [f64; 2] {
    let [sx, kx, ky, sy, tx, ty] =
        [transform.sx, transform.kx, transform.ky, transform.sy, transform.tx, transform.ty].map(f64::from);
    let (x, y) = (f64::from(point.x), f64::from(point.y));
    [sx * x + kx * y + tx, ky * x + sy * y + ty]
}
