//! The count sheet: what stands on which shelf, with an empty box beside each for what is counted.

use super::cards::PaperSize;
use super::page::{Colour, Document, Face, Item, Rect, Shape};
use super::running::{self, Align, Block, Cell, Running};
use super::shaper::Shaper;
use super::warning::{PaperProblem, Part};

pub use super::running::MOST_LINES;

/// A count sheet. Every text is printed as it is given.
#[derive(Debug, Clone, PartialEq)]
pub struct CountSheet {
    /// The studio's name.
    pub studio: String,
    /// The day it is for.
    pub date: String,
    /// The shelves, in the order they are walked along.
    pub shelves: Vec<CountShelf>,
    /// The page.
    pub paper: PaperSize,
}

/// What stands on one shelf.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CountShelf {
    /// The shelf's name.
    pub name: String,
    /// What stands there, in the order it stands.
    pub lines: Vec<CountLine>,
}

/// One item to count.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CountLine {
    /// The item's reference.
    pub reference: String,
    /// Its name.
    pub name: String,
    /// The unit it is counted in.
    pub unit: String,
    /// It bears lead.
    pub lead_bearing: bool,
    /// What the book says is there, with its unit; none where the count is to be blind.
    pub on_hand: Option<String>,
}

/// Height of the box for the count, and its width.
const BOX_MM: [f64; 2] = [34.0, 7.0];
/// Least height of a line of the list.
const LINE_MM: f64 = 8.6;
/// Size of the text, points.
const SIZE: f64 = 10.0;
const HAIR: Colour = Colour([200, 200, 200]);

/// Lays the sheet out: a table a shelf, its heading kept with its first lines and repeated where it goes on. The same
/// sheet gives the same document.
///
/// # Errors
/// When there is no line, or more than [`MOST_LINES`].
pub fn layout(sheet: &CountSheet, shaper: &mut Shaper) -> Result<Document, PaperProblem> {
    let lines: usize = sheet.shelves.iter().map(|shelf| shelf.lines.len()).sum();
    let mut running = Running::begin(shaper, sheet.paper, ["Count sheet", &sheet.studio, &sheet.date], lines)?;
    let counted = counted_by(&mut running);
    running.place(&counted);
    let columns = Columns::new(running.width(), shows_on_hand(sheet));
    for shelf in sheet.shelves.iter().filter(|shelf| !shelf.lines.is_empty()) {
        running.report_missing(&shelf.name, &[(Face::Semibold, &shelf.name)]);
        let rows: Vec<Block> = shelf.lines.iter().map(|line| row(&mut running, &columns, line)).collect();
        let head = head(&mut running, &columns, &shelf.name);
        // A heading takes its first two lines with it, and never stands at the foot alone.
        let least: f64 = rows.iter().take(2).map(|row| row.height).sum();
        if running.room() < SHELF_GAP_MM + head.height + least {
            running.turn();
        } else {
            running.place(&Block::space(SHELF_GAP_MM));
        }
        running.place(&head);
        for row in &rows {
            if running.room() < row.height {
                running.turn();
                let again = self::head(&mut running, &columns, &format!("{}, continued", shelf.name.trim()));
                running.place(&again);
            }
            running.place(row);
        }
    }
    Ok(running.finish())
}

/// Everything on the pages lies within this, mm.
pub fn margins(paper: PaperSize) -> Rect {
    running::margins(paper)
}

const SHELF_GAP_MM: f64 = 5.0;

fn shows_on_hand(sheet: &CountSheet) -> bool {
    sheet.shelves.iter().flat_map(|shelf| &shelf.lines).any(|line| line.on_hand.is_some())
}

/// Left edges and widths, from the left margin.
struct Columns {
    width: f64,
    reference: [f64; 2],
    name: [f64; 2],
    unit: [f64; 2],
    on_hand: Option<[f64; 2]>,
    count: f64,
}

impl Columns {
    fn new(width: f64, on_hand: bool) -> Self {
        let count = width - BOX_MM[0];
        let (on_hand, unit_right) =
            if on_hand { (Some([count - 29.0, 26.0]), count - 31.0) } else { (None, count - 3.0) };
        let unit = [unit_right - 13.0, 13.0];
        let reference = [0.0, 26.0];
        Self { width, reference, name: [28.0, unit[0] - 28.0 - 2.0], unit, on_hand, count }
    }
}

fn cell(text: &str, face: Face, [left, width]: [f64; 2], align: Align, lines: usize, part: Part) -> Cell<'_> {
    let sizes = [if lines == 0 { 5.0 } else { 7.5 }, SIZE];
    Cell { face, text, sizes, colour: Colour::BLACK, left, width, align, lines, part }
}

/// Who counted, to be filled in by hand.
fn counted_by(running: &mut Running<'_>) -> Block {
    let width = running.width();
    let mut block = Block::default();
    for (text, left, line_left, line_right) in
        [("Counted by", 0.0, 19.0, width * 0.5), ("Day and hour", width * 0.54, width * 0.54 + 22.0, width)]
    {
        let label = Cell {
            colour: Colour::GREY,
            sizes: [9.0, 9.0],
            ..cell(text, Face::Regular, [left, 30.0], Align::Left, 1, Part::Heading)
        };
        running.set(&mut block, &label, 6.0, text);
        let y = 9.2;
        block.items.push(Item::Shape(Shape::line([line_left, y], [line_right, y], Colour::GREY, 0.2, None)));
    }
    block.height = 10.0;
    block
}

fn head(running: &mut Running<'_>, columns: &Columns, name: &str) -> Block {
    let mut block = Block::default();
    let shelf =
        Cell { sizes: [9.0, 12.5], ..cell(name, Face::Semibold, [0.0, columns.width], Align::Left, 1, Part::Heading) };
    let below = running.set(&mut block, &shelf, 0.0, name);
    let mut label = |text: &str, place: [f64; 2], align: Align| {
        let label = Cell {
            colour: Colour::GREY,
            sizes: [7.0, 8.0],
            ..cell(text, Face::Regular, place, align, 1, Part::Heading)
        };
        running.set(&mut block, &label, below + 0.8, text);
    };
    label("Reference", columns.reference, Align::Left);
    label("Name", columns.name, Align::Left);
    label("Unit", columns.unit, Align::Left);
    if let Some(on_hand) = columns.on_hand {
        label("In the book", on_hand, Align::Right);
    }
    label("Counted", [columns.count, BOX_MM[0]], Align::Left);
    block.height = below + 5.0;
    block.rule(columns.width, Colour::BLACK, 0.25);
    block
}

fn row(running: &mut Running<'_>, columns: &Columns, line: &CountLine) -> Block {
    let code = line.reference.as_str();
    let on_hand = line.on_hand.as_deref().unwrap_or_default();
    running.report_missing(
        code,
        &[(Face::Semibold, code), (Face::Regular, &line.name), (Face::Regular, &line.unit), (Face::Regular, on_hand)],
    );
    let mut block = Block::default();
    let top = 2.4;
    running.set(&mut block, &cell(code, Face::Semibold, columns.reference, Align::Left, 1, Part::Code), top, code);
    let [mut left, mut width] = columns.name;
    if line.lead_bearing {
        let right = running.lead_mark(&mut block, left, top, SIZE);
        width -= right + 1.6 - left;
        left = right + 1.6;
    }
    let name = cell(&line.name, Face::Regular, [left, width], Align::Left, 2, Part::Name);
    let below = running.set(&mut block, &name, top, code);
    running.set(&mut block, &cell(&line.unit, Face::Regular, columns.unit, Align::Left, 1, Part::Quantity), top, code);
    if let Some(place) = columns.on_hand {
        running.set(&mut block, &cell(on_hand, Face::Regular, place, Align::Right, 0, Part::Quantity), top, code);
    }
    block.height = LINE_MM.max(below + 1.4);
    let [width_mm, height_mm] = BOX_MM;
    let rect = Rect { x_mm: columns.count, y_mm: (block.height - height_mm) / 2.0, width_mm, height_mm };
    block.items.push(Item::Shape(Shape::outline(rect, Colour::BLACK, 0.25)));
    block.rule(columns.count - 3.0, HAIR, 0.15);
    block
}
