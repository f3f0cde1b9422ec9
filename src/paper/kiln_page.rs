//! Pages of the kiln log laid out: a day's curve, a line a load, and empty rows to write on at the kiln.

use super::cards::PaperSize;
use super::kiln_page_model::{Curve, KilnPage, PageDay, PageLoad};
use super::page::{Colour, Document, Face, Item, Paint, Rect, Segment, Shape};
use super::running::{self, Align, Block, Cell, Running};
use super::shaper::Shaper;
use super::warning::{PaperProblem, Part};

/// Most empty rows.
pub const MOST_BLANK_ROWS: usize = 500;
/// Height of an empty row.
const WRITE_MM: f64 = 9.5;
const SIZE: f64 = 9.0;
const HAIR: Colour = Colour([200, 200, 200]);
/// Height of the curve's frame, and room for what stands beside and below it.
const CURVE_MM: f64 = 26.0;
const CURVE_LEFT_MM: f64 = 15.0;
const CURVE_FOOT_MM: f64 = 5.0;
/// From a day to the next.
const DAY_GAP_MM: f64 = 5.0;

/// A column: left edge and width, its label, and where its texts stand.
type Column = ([f64; 2], &'static str, Align);

/// Closed, opened, minutes, set, read, pieces, results, kWh.
fn columns(width: f64) -> [Column; 8] {
    const FIXED: [(f64, &str, Align); 5] = [
        (15.0, "Closed", Align::Left),
        (15.0, "Opened", Align::Left),
        (14.0, "Minutes", Align::Right),
        (17.0, "Set", Align::Right),
        (17.0, "Read", Align::Right),
    ];
    const GAP: f64 = 2.0;
    const KWH: f64 = 13.0;
    let mut left = 0.0;
    let [closed, opened, minutes, set, read] = FIXED.map(|(width, label, align)| {
        let column = ([left, width - GAP], label, align);
        left += width;
        column
    });
    let room = width - left - KWH - 2.0 * GAP;
    let pieces = ([left + GAP, room * 0.56 - GAP], "Pieces", Align::Left);
    let results = ([left + GAP + room * 0.56, room * 0.44 - GAP], "Results", Align::Left);
    let kwh = ([width - KWH, KWH], "kWh", Align::Right);
    [closed, opened, minutes, set, read, pieces, results, kwh]
}

/// Lays the pages out: a table a day, its heading repeated where it goes on. The same page gives the same document.
///
/// # Errors
/// When there is neither a load nor an empty row, or more than [`running::MOST_LINES`] of them.
pub fn layout(page: &KilnPage, shaper: &mut Shaper) -> Result<Document, PaperProblem> {
    let blank = page.blank_rows.min(MOST_BLANK_ROWS);
    let lines = page.days.iter().map(|day| day.loads.len().max(1)).sum::<usize>().saturating_add(blank);
    let mut running = Running::begin(shaper, page.paper, ["Kiln log", &page.studio, &page.period], lines)?;
    let cautions = cautions(&mut running, &page.cautions);
    running.place(&cautions);
    let columns = columns(running.width());
    for day in &page.days {
        let rows: Vec<Block> = day.loads.iter().map(|load| row(&mut running, &columns, load)).collect();
        let head = day_head(&mut running, &columns, day);
        let least = head.height + rows.first().map_or(0.0, |row| row.height);
        if running.room() < DAY_GAP_MM + least {
            running.turn();
        } else {
            running.place(&Block::space(DAY_GAP_MM));
        }
        running.place(&head);
        for row in &rows {
            if running.room() < row.height {
                running.turn();
                let again = labels(&mut running, &columns, &format!("{}, continued", day.heading));
                running.place(&again);
            }
            running.place(row);
        }
        let total = total(&mut running, &day.total);
        if running.room() >= total.height {
            running.place(&total);
        }
    }
    if blank > 0 {
        blank_rows(&mut running, &columns, blank, page.degrees);
    }
    Ok(running.finish())
}

/// Everything on the pages lies within this, mm.
pub fn margins(paper: PaperSize) -> Rect {
    running::margins(paper)
}

/// Empty rows that fill one page of that size.
pub const fn rows_of_a_page() -> usize {
    22
}

fn cell(text: &str, face: Face, [left, width]: [f64; 2], align: Align, lines: usize, part: Part) -> Cell<'_> {
    Cell { face, text, sizes: [6.5, SIZE], colour: Colour::BLACK, left, width, align, lines, part }
}

fn cautions(running: &mut Running<'_>, sentences: &[String]) -> Block {
    let width = running.width();
    let mut block = Block::default();
    let mut y = 1.4;
    for sentence in sentences {
        let line = cell(sentence, Face::Regular, [0.0, width], Align::Left, 2, Part::Care);
        y = running.set(&mut block, &line, y, "cautions");
    }
    block.height = y + 0.8;
    block
}

fn day_head(running: &mut Running<'_>, columns: &[Column; 8], day: &PageDay) -> Block {
    let width = running.width();
    running.report_missing(&day.heading, &[(Face::Semibold, &day.heading), (Face::Regular, &day.facts)]);
    let mut block = Block::default();
    let heading =
        Cell { sizes: [9.0, 12.5], ..cell(&day.heading, Face::Semibold, [0.0, width], Align::Left, 1, Part::Heading) };
    let mut y = running.set(&mut block, &heading, 0.0, &day.heading);
    if !day.facts.is_empty() {
        let facts = cell(&day.facts, Face::Regular, [0.0, width], Align::Left, 2, Part::Words);
        y = running.set(&mut block, &facts, y, &day.heading);
    }
    block.height = y + 1.0;
    if let Some(curve) = &day.curve {
        let drawn = drawn(running, curve);
        block.push(&drawn);
    }
    if !day.loads.is_empty() {
        let labels = label_row(running, columns);
        block.push(&labels);
    }
    block
}

/// The heading of a table that goes on.
fn labels(running: &mut Running<'_>, columns: &[Column; 8], heading: &str) -> Block {
    let width = running.width();
    let mut block = Block::default();
    let cell =
        Cell { sizes: [9.0, 12.5], ..cell(heading, Face::Semibold, [0.0, width], Align::Left, 1, Part::Heading) };
    block.height = running.set(&mut block, &cell, 0.0, heading) + 1.0;
    let labels = label_row(running, columns);
    block.push(&labels);
    block
}

fn label_row(running: &mut Running<'_>, columns: &[Column; 8]) -> Block {
    let mut block = Block::default();
    for (place, label, align) in columns {
        let label_cell = Cell {
            colour: Colour::GREY,
            sizes: [6.0, 8.0],
            ..cell(label, Face::Regular, *place, *align, 1, Part::Heading)
        };
        running.set(&mut block, &label_cell, 0.6, label);
    }
    block.height = 4.8;
    block.rule(running.width(), Colour::BLACK, 0.25);
    block
}

fn row(running: &mut Running<'_>, columns: &[Column; 8], load: &PageLoad) -> Block {
    let code = format!("load of {}", load.closed);
    let mut block = Block::default();
    let top = 1.4;
    let texts =
        [&load.closed, &load.opened, &load.minutes, &load.set, &load.read, &load.pieces, &load.results, &load.kwh];
    let mut below: f64 = 0.0;
    for ((place, label, align), text) in columns.iter().zip(texts) {
        running.report_missing(&code, &[(Face::Regular, text)]);
        let (lines, part) = match *label {
            "Pieces" => (6, Part::Words),
            "Results" => (6, Part::Reason),
            _ => (2, Part::Quantity),
        };
        let end = running.set(&mut block, &cell(text, Face::Regular, *place, *align, lines, part), top, &code);
        below = below.max(end);
    }
    block.height = below + 0.6;
    if !load.override_words.is_empty() {
        let said = format!("Fired past a stop: “{}”", load.override_words);
        past_stop(running, &mut block, &said, &code);
    }
    if !load.note.is_empty() {
        let width = running.width() - 30.0;
        running.report_missing(&code, &[(Face::Italic, &load.note)]);
        let note = cell(&load.note, Face::Italic, [30.0, width], Align::Left, 3, Part::Note);
        let top = block.height;
        block.height = running.set(&mut block, &note, top, &code) + 0.4;
    }
    block.height += 0.8;
    block.rule(running.width(), HAIR, 0.15);
    block
}

/// What was typed to fire past a stop, framed so that nobody overlooks it.
fn past_stop(running: &mut Running<'_>, block: &mut Block, said: &str, code: &str) {
    let width = running.width();
    let top = block.height + 0.2;
    running.report_missing(code, &[(Face::Semibold, said)]);
    let words = cell(said, Face::Semibold, [2.0, width - 4.0], Align::Left, 3, Part::Words);
    let below = running.set(block, &words, top + 0.8, code);
    let rect = Rect { x_mm: 0.0, y_mm: top, width_mm: width, height_mm: below + 0.8 - top };
    block.items.push(Item::Shape(Shape::outline(rect, Colour::BLACK, 0.5)));
    block.height = rect.bottom_mm() + 0.6;
}

fn total(running: &mut Running<'_>, total: &str) -> Block {
    let width = running.width();
    let mut block = Block::default();
    if !total.is_empty() {
        let line = cell(total, Face::Semibold, [0.0, width], Align::Right, 1, Part::Quantity);
        block.height = running.set(&mut block, &line, 1.2, "total") + 0.6;
    }
    block
}

/// The day's temperature over its hours, with a bar where a load was in the heat.
fn drawn(running: &mut Running<'_>, curve: &Curve) -> Block {
    let width = running.width() - CURVE_LEFT_MM - 1.0;
    let top = 1.6;
    let at = |[x, y]: [f64; 2]| [CURVE_LEFT_MM + x * width, top + (1.0 - y) * CURVE_MM];
    let mut block = Block::default();
    for [from, to] in &curve.loads {
        let ([left, foot], [right, _]) = (at([*from, 0.0]), at([*to, 0.0]));
        // At least a printer's line wide, so that a load of two minutes is seen.
        let rect = Rect { x_mm: left, y_mm: foot - 2.2, width_mm: (right - left).max(0.4), height_mm: 2.2 };
        block.items.push(Item::Shape(Shape::filled(rect, Colour::BLACK)));
    }
    for (share, words) in &curve.heats {
        let [left, y] = at([0.0, *share]);
        block.items.push(Item::Shape(Shape::line([left, y], [left + width, y], HAIR, 0.15, None)));
        let label = Cell {
            colour: Colour::GREY,
            sizes: [6.0, 7.5],
            ..cell(words, Face::Regular, [0.0, CURVE_LEFT_MM - 1.5], Align::Right, 1, Part::Quantity)
        };
        running.set(&mut block, &label, y - 1.3, words);
    }
    let hours = curve.hours.len();
    for (place, (share, words)) in curve.hours.iter().enumerate() {
        let [x, y] = at([*share, 0.0]);
        block.items.push(Item::Shape(Shape::line([x, y], [x, y + 1.0], Colour::GREY, 0.2, None)));
        // The last one ends at the frame.
        let (left, align) = if place + 1 == hours { (x - 12.0, Align::Right) } else { (x, Align::Left) };
        let label = Cell {
            colour: Colour::GREY,
            sizes: [6.0, 7.0],
            ..cell(words, Face::Regular, [left, 12.0], align, 1, Part::Quantity)
        };
        running.set(&mut block, &label, y + 1.0, words);
    }
    let [left, foot] = at([0.0, 0.0]);
    block.items.push(Item::Shape(Shape::line([left, foot], [left + width, foot], Colour::GREY, 0.25, None)));
    let mut points = curve.points.iter().map(|point| at(*point));
    if let Some(first) = points.next() {
        let mut path = vec![Segment::Move(first)];
        path.extend(points.map(Segment::Line));
        let paint = Paint::Line { colour: Colour::BLACK, width_mm: 0.35, dash_mm: None };
        block.items.push(Item::Shape(Shape { path, paint }));
    }
    block.height = top + CURVE_MM + CURVE_FOOT_MM;
    block
}

/// Rows to write on: the labels above, a cell a column.
fn blank_rows(running: &mut Running<'_>, columns: &[Column; 8], rows: usize, degrees: &str) {
    let head = |running: &mut Running<'_>| {
        let width = running.width();
        let mut block = Block::space(3.0);
        let top = block.height;
        let said = format!("Kiln and day; temperatures in {degrees}");
        let line =
            Cell { colour: Colour::GREY, ..cell(&said, Face::Regular, [0.0, 62.0], Align::Left, 1, Part::Heading) };
        running.set(&mut block, &line, top, "rows");
        let y = top + 3.6;
        block.items.push(Item::Shape(Shape::line([64.0, y], [width, y], Colour::GREY, 0.2, None)));
        block.height = top + 6.0;
        let labels = label_row(running, columns);
        block.push(&labels);
        block
    };
    let first = head(running);
    if running.room() < first.height + WRITE_MM {
        running.turn();
    }
    running.place(&first);
    let width = running.width();
    for _ in 0..rows {
        if running.room() < WRITE_MM {
            running.turn();
            let again = head(running);
            running.place(&again);
        }
        let mut block = Block::space(WRITE_MM);
        for ([left, _], _, _) in columns.iter().skip(1) {
            let x = left - 1.0;
            block.items.push(Item::Shape(Shape::line([x, 0.3], [x, WRITE_MM - 0.3], HAIR, 0.15, None)));
        }
        block.rule(width, Colour::GREY, 0.2);
        running.place(&block);
    }
}
