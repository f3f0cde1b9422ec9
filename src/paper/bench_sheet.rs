//! The bench sheet laid out: what the batch is, its ceiling and cautions, then the route with a box a piece at each step.

use super::bench_cautions::BoxedCaution;
use super::bench_sheet_model::{BenchSheet, Blank, Ceiling, SheetStep};
use super::cards::PaperSize;
use super::page::{Colour, DOT_MM, Document, Face, Item, PlacedSymbol, Rect, Shape};
use super::running::{self, Align, Block, Cell, Running};
use super::shaper::Shaper;
use super::symbol::{Symbology, symbol};
use super::warning::{PaperProblem, Part, WarningKind};
use std::sync::Arc;

/// A module of the symbol: six dots of a 300 dpi printer, for a scanner held in a dusty hand.
const MODULE_MM: f64 = 6.0 * DOT_MM;
/// A box to tick, and from one to the next.
const TICK_MM: f64 = 5.6;
const TICK_PITCH_MM: f64 = 6.6;
/// Where a step's text begins, right of its number.
const INDENT_MM: f64 = 9.0;
/// A row to write on.
const WRITE_MM: f64 = 7.6;
const HAIR: Colour = Colour([200, 200, 200]);
const WHITE: Colour = Colour([255, 255, 255]);

/// Lays the sheet out. A step is not broken, except that its boxes go on over pages where there are very many. The same
/// sheet gives the same document.
///
/// # Errors
/// When the route has no step, or the sheet more than [`running::MOST_LINES`] lines.
pub fn layout(sheet: &BenchSheet, shaper: &mut Shaper) -> Result<Document, PaperProblem> {
    let lines = sheet.steps.len().saturating_mul(rows_of(sheet.ticks.len(), running::margins(sheet.paper).width_mm));
    let mut running = Running::begin(shaper, sheet.paper, [&sheet.batch, &sheet.studio, &sheet.date], lines)?;
    running.remind(&[&sheet.batch, &sheet.name, &sheet.date]);
    let top = heading(&mut running, sheet);
    running.place(&top);
    if let Some(ceiling) = &sheet.ceiling {
        let block = ceiling_box(&mut running, ceiling);
        put(&mut running, &block);
    }
    for caution in &sheet.cautions {
        let block = caution_box(&mut running, caution);
        put(&mut running, &block);
    }
    let block = usual(&mut running, &sheet.usual);
    put(&mut running, &block);
    for step in &sheet.steps {
        let head = step_head(&mut running, step);
        let rows = ticks(&mut running, &sheet.ticks);
        let foot = step_foot(&mut running, step);
        let first = rows.first().map_or(0.0, |row| row.height);
        let whole = head.height + rows.iter().map(|row| row.height).sum::<f64>() + foot.height;
        // A step stays whole where a page can hold it; else its head keeps the first boxes with it.
        if running.room() < whole && (whole <= running.fresh_room() || running.room() < head.height + first) {
            running.turn();
        }
        running.place(&head);
        for row in &rows {
            put(&mut running, row);
        }
        put(&mut running, &foot);
    }
    Ok(running.finish())
}

/// Everything on the pages lies within this, mm.
pub fn margins(paper: PaperSize) -> Rect {
    running::margins(paper)
}

/// Places a block, on the next page where this one has no room.
fn put(running: &mut Running<'_>, block: &Block) {
    if running.room() < block.height {
        running.turn();
    }
    running.place(block);
}

fn text(face: Face, text: &str, size: f64, left: f64, width: f64, part: Part) -> Cell<'_> {
    Cell {
        face,
        text,
        sizes: [size * 0.75, size],
        colour: Colour::BLACK,
        left,
        width,
        align: Align::Left,
        lines: 1,
        part,
    }
}

/// Name, facts and the symbol.
fn heading(running: &mut Running<'_>, sheet: &BenchSheet) -> Block {
    let width = running.width();
    let mut block = Block::space(3.0);
    let art = symbol(Symbology::Qr, &sheet.symbol);
    let side = art.as_ref().map_or(0.0, |art| f64::from(art.columns) * MODULE_MM);
    let quiet = f64::from(Symbology::Qr.quiet_modules().first().copied().unwrap_or_default()) * MODULE_MM;
    let room = width - side - 2.0 * quiet;
    let code = sheet.batch.as_str();
    running.report_missing(code, &[(Face::Bold, &sheet.name)]);
    let name = Cell { lines: 2, ..text(Face::Bold, &sheet.name, 15.0, 0.0, room, Part::Name) };
    let top = block.height;
    let mut y = running.set(&mut block, &name, top, code) + 0.8;
    let noted = (!sheet.note.trim().is_empty()).then(|| ("Note".to_owned(), sheet.note.clone()));
    for (label, said) in sheet.facts.iter().chain(&noted) {
        running.report_missing(code, &[(Face::Regular, said)]);
        let label = Cell { colour: Colour::GREY, ..text(Face::Regular, label, 9.0, 0.0, 15.0, Part::Words) };
        running.set(&mut block, &label, y + 0.1, code);
        let said = Cell { lines: 3, ..text(Face::Regular, said, 10.0, 16.0, room - 16.0, Part::Words) };
        y = running.set(&mut block, &said, y, code) + 0.4;
    }
    block.height = y;
    match art {
        Some(art) => {
            // The quiet zone at the right is the page's margin as well.
            let [x_mm, y_mm] = [width - side - quiet, quiet * 0.6 + 1.0];
            block.items.push(Item::Symbol(PlacedSymbol {
                x_mm,
                y_mm,
                module_mm: MODULE_MM,
                row_mm: MODULE_MM,
                art: Arc::new(art),
            }));
            // Whole, so that it can be typed: below the facts, where there is room for it.
            let below = (y_mm + side + quiet * 0.6).max(y);
            let words = Cell {
                colour: Colour::GREY,
                align: Align::Right,
                ..text(Face::Regular, &sheet.symbol, 8.5, 0.0, width, Part::Code)
            };
            let end = running.set(&mut block, &words, below, code);
            block.height = block.height.max(end);
        }
        None => running.warn(code, WarningKind::SymbolLeftOut),
    }
    block.height += 2.0;
    block
}

/// The strictest bound, large, and where the bounds come from.
fn ceiling_box(running: &mut Running<'_>, ceiling: &Ceiling) -> Block {
    let width = running.width();
    let mut block = Block::default();
    let label = text(Face::Semibold, "Never above", 10.0, 3.0, 24.0, Part::Care);
    running.set(&mut block, &label, 2.9, "ceiling");
    let heat = text(Face::Bold, &ceiling.heat, 19.0, 27.0, 36.0, Part::Care);
    running.set(&mut block, &heat, 1.0, "ceiling");
    let mut y = 1.6;
    for bound in &ceiling.bounds {
        let line = text(Face::Regular, bound, 9.0, 66.0, width - 69.0, Part::Care);
        y = running.set(&mut block, &line, y, "ceiling");
    }
    block.height = y.max(9.4) + 1.2;
    outline(&mut block, width, 0.6);
    block.height += 1.6;
    block
}

/// A frame around the block as high as it is now.
fn outline(block: &mut Block, width: f64, thickness: f64) {
    let rect = Rect { x_mm: 0.0, y_mm: 0.0, width_mm: width, height_mm: block.height };
    block.items.push(Item::Shape(Shape::outline(rect, Colour::BLACK, thickness)));
}

/// A caution in its box: a stop has a black tab, a caution a framed one.
fn caution_box(running: &mut Running<'_>, caution: &BoxedCaution) -> Block {
    const TAB_MM: f64 = 20.0;
    let width = running.width();
    let mut block = Block::default();
    let left = TAB_MM + 3.0;
    let room = width - left - 2.0;
    let what = Cell { lines: 2, ..text(Face::Semibold, &caution.what, 10.0, left, room, Part::Care) };
    let y = running.set(&mut block, &what, 1.2, "caution");
    let way = Cell { lines: 2, ..text(Face::Regular, &caution.way, 9.5, left, room, Part::Care) };
    let y = running.set(&mut block, &way, y, "caution");
    block.height = y + 1.2;
    let tab = Rect { x_mm: 0.0, y_mm: 0.0, width_mm: TAB_MM, height_mm: block.height };
    let under = if caution.stop { Shape::filled(tab, Colour::BLACK) } else { Shape::outline(tab, Colour::BLACK, 0.3) };
    block.items.insert(0, Item::Shape(under));
    let (word, colour) = if caution.stop { ("STOP", WHITE) } else { ("CAUTION", Colour::BLACK) };
    let word = Cell { colour, ..text(Face::Bold, word, 10.0, 2.0, TAB_MM - 4.0, Part::Care) };
    let middle = block.height / 2.0 - 2.1;
    running.set(&mut block, &word, middle, "caution");
    outline(&mut block, width, if caution.stop { 0.6 } else { 0.3 });
    block.height += 1.2;
    block
}

/// Heat, dust, lead and acid.
fn usual(running: &mut Running<'_>, sentences: &[String]) -> Block {
    let width = running.width();
    let mut block = Block::default();
    let mut y = 0.6;
    for sentence in sentences {
        let line = Cell { lines: 2, ..text(Face::Regular, sentence, 9.0, 0.0, width, Part::Care) };
        y = running.set(&mut block, &line, y, "cautions");
    }
    block.height = y + 1.6;
    block.rule(width, Colour::BLACK, 0.4);
    block
}

/// Number, name, planned time; heat; materials.
fn step_head(running: &mut Running<'_>, step: &SheetStep) -> Block {
    let width = running.width();
    let code = format!("step {}", step.number);
    let mut block = Block::default();
    running.report_missing(&code, &[(Face::Semibold, &step.name)]);
    let top = 2.0;
    running.set(
        &mut block,
        &text(Face::Bold, &step.number, 13.0, 0.0, INDENT_MM - 1.0, Part::Heading),
        top - 0.6,
        &code,
    );
    let time_width = 62.0;
    let name = Cell {
        lines: 2,
        ..text(Face::Semibold, &step.name, 11.0, INDENT_MM, width - INDENT_MM - time_width - 2.0, Part::Name)
    };
    let mut y = running.set(&mut block, &name, top, &code);
    let time = Cell {
        colour: Colour::GREY,
        align: Align::Right,
        ..text(Face::Regular, &step.time, 9.0, width - time_width, time_width, Part::Quantity)
    };
    running.set(&mut block, &time, top + 0.5, &code);
    if let Some(heat) = &step.heat {
        let degrees = text(Face::Bold, &heat.temperature, 15.0, INDENT_MM, 32.0, Part::Quantity);
        running.set(&mut block, &degrees, y, &code);
        let minutes = text(Face::Bold, &heat.minutes, 15.0, INDENT_MM + 34.0, 34.0, Part::Quantity);
        running.set(&mut block, &minutes, y, &code);
        let load = text(Face::Regular, &heat.load, 10.0, INDENT_MM + 70.0, width - INDENT_MM - 70.0, Part::Quantity);
        running.set(&mut block, &load, y + 1.3, &code);
        y += 6.4;
    }
    for line in &step.lines {
        running.report_missing(&code, &[(Face::Regular, &line.text)]);
        let left = if line.lead { running.lead_mark(&mut block, INDENT_MM, y, 9.5) + 1.6 } else { INDENT_MM };
        let said = Cell { lines: 2, ..text(Face::Regular, &line.text, 9.5, left, width - left, Part::Materials) };
        y = running.set(&mut block, &said, y, &code);
    }
    block.height = y + 0.8;
    block
}

fn rows_of(pieces: usize, width: f64) -> usize {
    pieces.div_ceil(across(width)).max(1)
}

/// Boxes in a row.
fn across(width: f64) -> usize {
    // A few dozen; the cast cannot lose anything.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let number = ((width - INDENT_MM) / TICK_PITCH_MM).floor().clamp(1.0, 100.0) as usize;
    number
}

/// Rows of boxes, a box a piece with its name in it.
fn ticks(running: &mut Running<'_>, names: &[String]) -> Vec<Block> {
    let across = across(running.width());
    let mut rows = Vec::new();
    for row in names.chunks(across) {
        let mut block = Block::default();
        let mut left = INDENT_MM;
        for name in row {
            let rect = Rect { x_mm: left, y_mm: 0.4, width_mm: TICK_MM, height_mm: TICK_MM };
            block.items.push(Item::Shape(Shape::outline(rect, Colour::BLACK, 0.25)));
            let cell = Cell {
                colour: Colour::GREY,
                sizes: [4.0, 6.5],
                ..text(Face::Regular, name, 6.5, left + 0.5, TICK_MM - 1.0, Part::Code)
            };
            running.set(&mut block, &cell, 0.7, name);
            left += TICK_PITCH_MM;
        }
        block.height = TICK_MM + 0.8;
        rows.push(block);
    }
    rows
}

/// The rows to write on.
fn step_foot(running: &mut Running<'_>, step: &SheetStep) -> Block {
    let width = running.width();
    let mut block = Block::default();
    for row in &step.rows {
        write_row(running, &mut block, row, width);
    }
    block.height += 1.8;
    block.rule(width, HAIR, 0.2);
    block
}

/// Labels with a line after each.
fn write_row(running: &mut Running<'_>, block: &mut Block, row: &[Blank], width: f64) {
    let shares: f64 = row.iter().map(|blank| f64::from(blank.share)).sum();
    let room = width - INDENT_MM;
    let top = block.height + WRITE_MM - 4.2;
    let baseline = block.height + WRITE_MM - 0.9;
    let mut left = INDENT_MM;
    for blank in row {
        let wide = room * f64::from(blank.share) / shares;
        let label_width = running.wide(Face::Regular, blank.label, 8.5);
        let label = Cell { colour: Colour::GREY, ..text(Face::Regular, blank.label, 8.5, left, wide, Part::Heading) };
        running.set(block, &label, top, blank.label);
        let unit_width = if blank.unit.is_empty() { 0.0 } else { running.wide(Face::Regular, blank.unit, 8.5) + 0.8 };
        let (from, to) = (left + label_width + 1.0, left + wide - 2.5 - unit_width);
        block.items.push(Item::Shape(Shape::line([from, baseline], [to, baseline], Colour::GREY, 0.2, None)));
        if !blank.unit.is_empty() {
            let unit =
                Cell { colour: Colour::GREY, ..text(Face::Regular, blank.unit, 8.5, to + 0.8, 8.0, Part::Heading) };
            running.set(block, &unit, top, blank.label);
        }
        left += wide;
    }
    block.height += WRITE_MM;
}
