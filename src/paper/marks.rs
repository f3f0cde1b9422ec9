//! Marks for the hand that cuts: outlines and folds of labels, and crop marks in the margins of a sheet.

use super::label_shape::Figure;
use super::page::{Colour, Item, Paint, Rect, Shape};
use super::sheets::Grid;

/// Width of lines to cut and fold along, mm.
pub(super) const LINE_MM: f64 = 0.1;
/// Dash and gap of a line to fold along, mm.
pub(super) const FOLD_DASH_MM: [f64; 2] = [0.8, 0.8];
/// Crop marks begin so far from the labels and are at most so long, mm.
const MARK_GAP_MM: f64 = 2.0;
const MARK_LENGTH_MM: f64 = 4.0;
/// They keep so far from the page's edge, and a shorter one would not be seen, mm.
const PAGE_EDGE_MM: f64 = 1.0;
const MARK_LEAST_MM: f64 = 1.0;

/// The outline of a label of a size, just inside it, and where it is folded, from the label's top left corner.
pub(super) fn outline(figure: Figure, [width_mm, height_mm]: [f64; 2], folded: bool) -> Vec<Item> {
    let rect = Rect { x_mm: 0.0, y_mm: 0.0, width_mm, height_mm };
    let paint = Paint::Line { colour: Colour::CUT, width_mm: LINE_MM, dash_mm: None };
    let mut items = vec![Item::Shape(Shape { path: figure.outline(rect, LINE_MM / 2.0), paint })];
    items.extend(figure.fold([width_mm, height_mm], folded).map(|[[x, top], [_, bottom]]| {
        let (from, to) = ([x, top + LINE_MM], [x, bottom - LINE_MM]);
        Item::Shape(Shape::line(from, to, Colour::CUT, LINE_MM, Some(FOLD_DASH_MM)))
    }));
    items
}

/// Short lines in the margins of a sheet where its columns and rows are cut; none where a margin is too narrow. Above and
/// below all labels, left and right of all labels: never on one.
pub(super) fn crop_marks(grid: &Grid) -> Vec<Item> {
    let (first, last) = (grid.rect(0), grid.rect(grid.labels().saturating_sub(1)));
    let [columns, rows] = grid.across();
    let mut items = Vec::new();
    // At the page's edge nothing is cut.
    let cut = |at: &f64, page: f64| (PAGE_EDGE_MM..=page - PAGE_EDGE_MM).contains(at);
    // From `edge` of the labels outwards, `way` −1 or 1, to no nearer than the page's edge.
    let reach = |edge: f64, page: f64, way: f64| {
        let from = edge + way * MARK_GAP_MM;
        let room = if way < 0.0 { from - PAGE_EDGE_MM } else { page - PAGE_EDGE_MM - from };
        let length = room.min(MARK_LENGTH_MM);
        (length >= MARK_LEAST_MM).then_some([from, from + way * length])
    };
    let mut mark = |from: [f64; 2], to: [f64; 2]| {
        items.push(Item::Shape(Shape::line(from, to, Colour::CUT, LINE_MM, None)));
    };
    let above_and_below =
        [reach(first.y_mm, grid.page_height_mm, -1.0), reach(last.bottom_mm(), grid.page_height_mm, 1.0)];
    let across = edges((0..columns).map(|column| grid.rect(column)).map(|rect| [rect.x_mm, rect.right_mm()]));
    for x in across.into_iter().filter(|x| cut(x, grid.page_width_mm)) {
        for [from, to] in above_and_below.into_iter().flatten() {
            mark([x, from], [x, to]);
        }
    }
    let left_and_right = [reach(first.x_mm, grid.page_width_mm, -1.0), reach(last.right_mm(), grid.page_width_mm, 1.0)];
    let down = edges((0..rows).map(|row| grid.rect(row * columns)).map(|rect| [rect.y_mm, rect.bottom_mm()]));
    for y in down.into_iter().filter(|y| cut(y, grid.page_height_mm)) {
        for [from, to] in left_and_right.into_iter().flatten() {
            mark([from, y], [to, y]);
        }
    }
    items
}

/// Both edges of each, once where the next begins where the last ended.
fn edges(of: impl Iterator<Item = [f64; 2]>) -> Vec<f64> {
    const SAME_MM: f64 = 0.01;
    let mut found: Vec<f64> = Vec::new();
    for edge in of.flatten() {
        if found.last().is_none_or(|last| (edge - last).abs() > SAME_MM) {
            found.push(edge);
        }
    }
    found
}
