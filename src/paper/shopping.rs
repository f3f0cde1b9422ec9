//! The shopping list: what to buy where, in whole packs, with the reason.

use super::cards::PaperSize;
use super::page::{Colour, Document, Face, Item, Rect, Shape};
use super::running::{self, Align, Block, Cell, Running};
use super::shaper::Shaper;
use super::warning::{PaperProblem, Part};

pub use super::running::MOST_LINES;

/// A shopping list. Every text is printed as it is given.
#[derive(Debug, Clone, PartialEq)]
pub struct ShoppingList {
    /// The studio's name.
    pub studio: String,
    /// The day it was made.
    pub date: String,
    /// The suppliers, in the order they are gone to.
    pub suppliers: Vec<ShoppingSupplier>,
    /// What all of it costs; none where a price is not known or currencies differ.
    pub total: Option<String>,
    /// The page.
    pub paper: PaperSize,
}

/// What to buy from one supplier.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShoppingSupplier {
    /// The supplier's name.
    pub name: String,
    /// What to buy.
    pub lines: Vec<ShoppingLine>,
    /// What it costs together; none where a price is not known.
    pub sum: Option<String>,
}

/// One thing to buy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShoppingLine {
    /// The item's reference.
    pub reference: String,
    /// Its name.
    pub name: String,
    /// It bears lead.
    pub lead_bearing: bool,
    /// How many packs, e.g. `3`.
    pub packs: String,
    /// What a pack is, e.g. `1 lb jar`.
    pub pack: String,
    /// Price of a pack; none where it is not known.
    pub price: Option<String>,
    /// Price of the packs together; none where it is not known.
    pub sum: Option<String>,
    /// Why, in a sentence or two.
    pub reason: String,
}

/// Size of the text, points.
const SIZE: f64 = 10.0;
/// Side of the box to tick.
const TICK_MM: f64 = 4.2;
const SUPPLIER_GAP_MM: f64 = 6.0;
const HAIR: Colour = Colour([200, 200, 200]);

/// Lays the list out: a table a supplier, its heading kept with its first line and its sum with its last. The same
/// list gives the same document.
///
/// # Errors
/// When there is no line, or more than [`MOST_LINES`].
pub fn layout(list: &ShoppingList, shaper: &mut Shaper) -> Result<Document, PaperProblem> {
    let lines: usize = list.suppliers.iter().map(|supplier| supplier.lines.len()).sum();
    let mut running = Running::begin(shaper, list.paper, ["Shopping list", &list.studio, &list.date], lines)?;
    let columns = Columns::new(running.width());
    let last = list.suppliers.iter().rposition(|supplier| !supplier.lines.is_empty());
    for (index, supplier) in list.suppliers.iter().enumerate() {
        if supplier.lines.is_empty() {
            continue;
        }
        running.report_missing(&supplier.name, &[(Face::Semibold, &supplier.name)]);
        let mut rows: Vec<Block> = supplier.lines.iter().map(|line| row(&mut running, &columns, line)).collect();
        if let Some(row) = rows.last_mut() {
            if let Some(sum) = &supplier.sum {
                row.push(&sum_line(&mut running, &columns, "Together", sum, SIZE));
            }
            if let Some(total) = list.total.as_ref().filter(|_| last == Some(index)) {
                row.push(&Block::space(3.0));
                row.push(&sum_line(&mut running, &columns, "All suppliers", total, SIZE + 2.0));
            }
        }
        let head = head(&mut running, &columns, &supplier.name);
        let first = rows.first().map_or(0.0, |row| row.height);
        if running.room() < SUPPLIER_GAP_MM + head.height + first {
            running.turn();
        } else {
            running.place(&Block::space(SUPPLIER_GAP_MM));
        }
        running.place(&head);
        for row in &rows {
            if running.room() < row.height {
                running.turn();
                let again = self::head(&mut running, &columns, &format!("{}, continued", supplier.name.trim()));
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

/// Left edges and widths, from the left margin.
struct Columns {
    width: f64,
    packs: [f64; 2],
    pack: [f64; 2],
    what: [f64; 2],
    price: [f64; 2],
    sum: [f64; 2],
}

impl Columns {
    fn new(width: f64) -> Self {
        let sum = [width - 24.0, 24.0];
        let price = [sum[0] - 26.0, 24.0];
        let (packs, pack) = ([TICK_MM + 1.5, 12.0], [TICK_MM + 15.5, 31.0]);
        let what = pack[0] + pack[1] + 2.0;
        Self { width, packs, pack, what: [what, price[0] - what - 2.0], price, sum }
    }
}

fn cell(text: &str, face: Face, [left, width]: [f64; 2], align: Align, lines: usize, part: Part) -> Cell<'_> {
    let sizes = [if lines == 0 { 5.0 } else { 7.5 }, SIZE];
    Cell { face, text, sizes, colour: Colour::BLACK, left, width, align, lines, part }
}

fn head(running: &mut Running<'_>, columns: &Columns, name: &str) -> Block {
    let mut block = Block::default();
    let supplier =
        Cell { sizes: [9.0, 12.5], ..cell(name, Face::Semibold, [0.0, columns.width], Align::Left, 1, Part::Heading) };
    let below = running.set(&mut block, &supplier, 0.0, name);
    let mut label = |text: &str, place: [f64; 2], align: Align| {
        let label = Cell {
            colour: Colour::GREY,
            sizes: [7.0, 8.0],
            ..cell(text, Face::Regular, place, align, 1, Part::Heading)
        };
        running.set(&mut block, &label, below + 0.8, text);
    };
    label("Packs", columns.packs, Align::Right);
    label("Pack", columns.pack, Align::Left);
    label("What", columns.what, Align::Left);
    label("A pack", columns.price, Align::Right);
    label("Sum", columns.sum, Align::Right);
    block.height = below + 5.0;
    block.rule(columns.width, Colour::BLACK, 0.25);
    block
}

fn row(running: &mut Running<'_>, columns: &Columns, line: &ShoppingLine) -> Block {
    let code = line.reference.as_str();
    let [price, sum] = [&line.price, &line.sum].map(|amount| amount.as_deref().unwrap_or("–"));
    running.report_missing(
        code,
        &[
            (Face::Regular, code),
            (Face::Semibold, &line.name),
            (Face::Semibold, &line.packs),
            (Face::Regular, &line.pack),
            (Face::Regular, price),
            (Face::Regular, sum),
            (Face::Italic, &line.reason),
        ],
    );
    let mut block = Block::default();
    let top = 2.0;
    let tick = Rect { x_mm: 0.0, y_mm: top - 0.2, width_mm: TICK_MM, height_mm: TICK_MM };
    block.items.push(Item::Shape(Shape::outline(tick, Colour::BLACK, 0.3)));
    let packs = cell(&line.packs, Face::Semibold, columns.packs, Align::Right, 0, Part::Quantity);
    running.set(&mut block, &packs, top, code);
    let pack = cell(&line.pack, Face::Regular, columns.pack, Align::Left, 2, Part::Quantity);
    let mut below = running.set(&mut block, &pack, top, code);
    let [mut left, mut width] = columns.what;
    if line.lead_bearing {
        let right = running.lead_mark(&mut block, left, top, SIZE);
        width -= right + 1.6 - left;
        left = right + 1.6;
    }
    let name = cell(&line.name, Face::Semibold, [left, width], Align::Left, 2, Part::Name);
    let mut under = running.set(&mut block, &name, top, code);
    for (amount, place) in [(price, columns.price), (sum, columns.sum)] {
        running.set(&mut block, &cell(amount, Face::Regular, place, Align::Right, 0, Part::Amount), top, code);
    }
    let [what, _] = columns.what;
    let quiet = |text, face, lines, part| Cell {
        colour: Colour::GREY,
        sizes: [7.0, 8.5],
        ..cell(text, face, [what, columns.width - what], Align::Left, lines, part)
    };
    under = running.set(&mut block, &quiet(code, Face::Regular, 1, Part::Code), under, code);
    if !line.reason.trim().is_empty() {
        under = running.set(&mut block, &quiet(&line.reason, Face::Italic, 3, Part::Reason), under, code);
    }
    below = below.max(under);
    block.height = below + 1.6;
    block.rule(columns.width, HAIR, 0.15);
    block
}

fn sum_line(running: &mut Running<'_>, columns: &Columns, label: &str, sum: &str, size: f64) -> Block {
    let mut block = Block::default();
    running.report_missing(label, &[(Face::Bold, sum)]);
    let [price, _] = columns.price;
    let label_cell = Cell {
        sizes: [size, size],
        ..cell(label, Face::Semibold, [columns.what[0], price - columns.what[0]], Align::Left, 1, Part::Heading)
    };
    running.set(&mut block, &label_cell, 1.6, label);
    let amount = Cell {
        sizes: [5.0, size],
        ..cell(sum, Face::Bold, [price, columns.width - price], Align::Right, 0, Part::Amount)
    };
    block.height = running.set(&mut block, &amount, 1.6, label) + 0.4;
    block
}
