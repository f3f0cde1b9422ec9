//! Which shape lies inside which: blanks with their holes, stencils with their openings.

use super::text::Extent;
use super::{MOST_FLAT_PIECES, Outline, OutlineFileProblem, Stencil};
use crate::costing::geometry;

/// Measures every shape alone, and refuses what is too fine together.
pub(super) fn check(shapes: &[Outline]) -> Result<(), OutlineFileProblem> {
    let mut pieces = 0_usize;
    for (index, shape) in shapes.iter().enumerate() {
        pieces = rings(shape, index)?.iter().map(Vec::len).fold(pieces, usize::saturating_add);
        if pieces > MOST_FLAT_PIECES {
            return Err(OutlineFileProblem::TooFine);
        }
    }
    Ok(())
}

fn rings(shape: &Outline, index: usize) -> Result<Vec<Vec<[f64; 2]>>, OutlineFileProblem> {
    geometry::rings(shape).map_err(|error| shape_problem(index, &error))
}

fn shape_problem(index: usize, error: &crate::costing::CostError) -> OutlineFileProblem {
    let reason = match error {
        crate::costing::CostError::Geometry(reason) => reason.clone(),
        other => other.to_string(),
    };
    OutlineFileProblem::Shape { number: index + 1, reason }
}

/// The path data of several outlines as one.
pub(super) fn joined(shapes: &[Outline]) -> Outline {
    let texts: Vec<&str> = shapes.iter().filter_map(path).collect();
    Outline::Path { svg: texts.join(" ") }
}

fn path(outline: &Outline) -> Option<&str> {
    match outline {
        Outline::Path { svg } => Some(svg),
        _ => None,
    }
}

/// One closed ring of a drawing.
struct Part<'a> {
    text: &'a str,
    shape: usize,
    points: Vec<[f64; 2]>,
    extent: Extent,
    /// How many others it lies in.
    depth: usize,
    /// The innermost of them.
    holder: Option<usize>,
}

/// Every sub-path with its place among the others.
fn parts(shapes: &[Outline]) -> Result<Vec<Part<'_>>, OutlineFileProblem> {
    let mut parts = Vec::new();
    for (shape, outline) in shapes.iter().enumerate() {
        for text in path(outline).into_iter().flat_map(|svg| svg.split_inclusive('Z')).map(str::trim) {
            let ring = rings(&Outline::Path { svg: text.to_owned() }, shape)?;
            for points in ring {
                let mut extent = Extent::default();
                for point in &points {
                    extent.include(*point);
                }
                parts.push(Part { text, shape, points, extent, depth: 0, holder: None });
            }
        }
    }
    let holders: Vec<Vec<usize>> = (0..parts.len()).map(|inner| holders_of(&parts, inner)).collect();
    for (index, holding) in holders.iter().enumerate() {
        let innermost = holding.iter().copied().max_by_key(|holder| holders.get(*holder).map_or(0, Vec::len));
        if let Some(part) = parts.get_mut(index) {
            part.depth = holding.len();
            part.holder = innermost;
        }
    }
    Ok(parts)
}

fn holders_of(parts: &[Part<'_>], inner: usize) -> Vec<usize> {
    let Some(part) = parts.get(inner) else { return Vec::new() };
    let Some(point) = part.points.first() else { return Vec::new() };
    let holds = |(index, other): &(usize, &Part<'_>)| {
        *index != inner && other.extent.holds(&part.extent) && surrounds(&other.points, *point)
    };
    parts.iter().enumerate().filter(holds).map(|(index, _)| index).collect()
}

/// True where a ray from the point to the right meets the ring an odd number of times.
fn surrounds(ring: &[[f64; 2]], [x, y]: [f64; 2]) -> bool {
    let next = ring.iter().cycle().skip(1);
    let meets = |&(&[ax, ay], &[bx, by]): &(&[f64; 2], &[f64; 2])| {
        (ay > y) != (by > y) && x < ax + (y - ay) / (by - ay) * (bx - ax)
    };
    ring.iter().zip(next).filter(meets).count() % 2 == 1
}

/// A part with everything that lies in it, and whatever lies in that, as long as `takes` says so.
fn gathered(parts: &[Part<'_>], root: usize, takes: impl Fn(&Part<'_>) -> bool) -> Result<Outline, OutlineFileProblem> {
    let mut texts = Vec::new();
    for (index, part) in parts.iter().enumerate() {
        let mut at = Some(index);
        // Holders lie ever farther out, so this ends.
        while at.is_some_and(|at| at != root) {
            at = at.and_then(|at| parts.get(at)).and_then(|part| part.holder);
        }
        if at.is_some() && (index == root || takes(part)) {
            texts.push(part.text);
        }
    }
    let outline = Outline::Path { svg: texts.join(" ") };
    let shape = parts.get(root).map_or(0, |part| part.shape);
    geometry::rings(&outline).map_err(|error| shape_problem(shape, &error))?;
    Ok(outline)
}

pub(super) fn blanks(shapes: &[Outline]) -> Result<Vec<Outline>, OutlineFileProblem> {
    let parts = parts(shapes)?;
    let outermost = parts.iter().enumerate().filter(|(_, part)| part.depth == 0);
    let blanks: Vec<Outline> = outermost.map(|(root, _)| gathered(&parts, root, |_| true)).collect::<Result<_, _>>()?;
    // Blanks that overlap could not both be cut.
    geometry::rings(&joined(&blanks)).map_err(|error| shape_problem(0, &error))?;
    Ok(blanks)
}

pub(super) fn stencil(shapes: &[Outline]) -> Result<Stencil, OutlineFileProblem> {
    let parts = parts(shapes)?;
    let holds = |root: usize| parts.iter().any(|part| part.holder == Some(root));
    let edged = parts.iter().any(|part| part.depth > 0);
    let mut stencil = Stencil { edges: Vec::new(), openings: Vec::new() };
    for (root, part) in parts.iter().enumerate() {
        if !edged {
            stencil.openings.push(gathered(&parts, root, |_| true)?);
        } else if part.depth == 0 && holds(root) {
            stencil.edges.push(gathered(&parts, root, |_| false)?);
        } else if part.depth % 2 == 1 {
            let inner = part.depth + 1;
            stencil.openings.push(gathered(&parts, root, |part| part.depth == inner)?);
        } else if part.depth == 0 {
            // Beside an edge: an opening drawn by itself.
            stencil.openings.push(gathered(&parts, root, |_| true)?);
        }
    }
    Ok(stencil)
}
