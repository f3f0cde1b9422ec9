//! Setting the parts of a paper that goes out, one below the other.

use super::page::{Colour, Document, Face, Item, MM_PER_POINT, Rect, Shape, TextRun};
use super::running::{Align, Block, Cell, Running};
use super::statement::{MOST_RECIPIENT_LINES, Statement, StatementLine, SumLine, Table};
use super::warning::{Part, WarningKind};
use crate::studio::Turn;

/// Size of the text, points.
const SIZE: f64 = 10.0;
/// From line to line of running text.
const LINE_MM: f64 = 4.4;
/// Running text is no wider than this: longer lines are hard to read.
const MEASURE_MM: f64 = 128.0;
/// Height of the line that carries a sum over to the next page.
const CARRY_MM: f64 = 7.0;
const HAIR: Colour = Colour([205, 205, 205]);
pub(super) const GROUND: Colour = Colour([240, 239, 236]);

/// Left edges and widths, from the left margin.
struct Columns {
    code: [f64; 2],
    what: [f64; 2],
    quantity: [f64; 2],
    price: [f64; 2],
    sum: [f64; 2],
}

impl Columns {
    fn of(table: &Table, width: f64) -> Self {
        let right = if table.money.is_some() { width - 57.0 } else { width };
        let quantity = [right - 19.0, 17.0];
        let what_right = if table.quantity.is_some() { quantity[0] - 2.0 } else { right };
        let code = if table.lines.iter().all(|line| line.code.trim().is_empty()) { [0.0, 0.0] } else { [0.0, 23.0] };
        let what = if code[1] > 0.0 { 25.0 } else { 0.0 };
        Self { code, what: [what, what_right - what], quantity, price: [width - 56.0, 26.0], sum: [width - 28.0, 28.0] }
    }
}

pub(super) fn cell(
    text: &str,
    face: Face,
    [left, width]: [f64; 2],
    align: Align,
    lines: usize,
    part: Part,
) -> Cell<'_> {
    let sizes = [if lines == 0 { 5.0 } else { 7.5 }, SIZE];
    Cell { face, text, sizes, colour: Colour::BLACK, left, width, align, lines, part }
}

pub(super) fn sized<'a>(cell: Cell<'a>, size: f64, colour: Colour) -> Cell<'a> {
    Cell { sizes: [cell.sizes[0].min(size), size], colour, ..cell }
}

/// A paper being set.
pub(super) struct Press<'a, 'b> {
    pub(super) running: Running<'a>,
    pub(super) width: f64,
    /// Names the paper in warnings.
    title: &'b str,
}

impl<'a, 'b> Press<'a, 'b> {
    pub(super) fn new(title: &'b str, running: Running<'a>) -> Self {
        Self { width: running.width(), title, running }
    }

    pub(super) fn finish(self) -> Document {
        self.running.finish()
    }

    pub(super) fn report(&mut self, texts: &[(Face, &str)]) {
        self.running.report_missing(self.title, texts);
    }

    pub(super) fn set(&mut self, block: &mut Block, cell: &Cell<'_>, top: f64) -> f64 {
        self.running.set(block, cell, top, self.title)
    }

    pub(super) fn letterhead(&mut self, statement: &Statement) {
        let (studio, place) = (statement.studio.as_str(), statement.place.as_str());
        self.report(&[(Face::Bold, studio), (Face::Regular, place)]);
        let mut block = Block::default();
        let whole = [0.0, self.width];
        let name = sized(cell(studio, Face::Bold, whole, Align::Left, 1, Part::Studio), 16.0, Colour::BLACK);
        let below = self.set(&mut block, &name, 0.0);
        block.height = if place.trim().is_empty() {
            below + 2.4
        } else {
            let place = sized(cell(place, Face::Regular, whole, Align::Left, 1, Part::Studio), 9.5, Colour::GREY);
            self.set(&mut block, &place, below + 0.2) + 2.4
        };
        block.rule(self.width, Colour::BLACK, 0.45);
        self.running.place(&block);
    }

    /// The recipient on the left, the day and what else is to be known at once on the right.
    pub(super) fn parties(&mut self, statement: &Statement) {
        let mut block = Block::default();
        let (left, right) = ([0.0, self.width * 0.54], [self.width * 0.6, self.width * 0.4]);
        let mut at = 9.0;
        if !statement.recipient.is_empty() {
            let label = cell(&statement.recipient_label, Face::Regular, left, Align::Left, 1, Part::Heading);
            at = self.set(&mut block, &sized(label, 8.5, Colour::GREY), at) + 0.4;
        }
        for (number, line) in statement.recipient.iter().take(MOST_RECIPIENT_LINES).enumerate() {
            let face = if number == 0 { Face::Semibold } else { Face::Regular };
            self.report(&[(face, line)]);
            let line = sized(cell(line, face, left, Align::Left, 2, Part::Recipient), 10.5, Colour::BLACK);
            at = self.set(&mut block, &line, at);
        }
        if statement.recipient.len() > MOST_RECIPIENT_LINES {
            self.running.warn(self.title, WarningKind::Cut(Part::Recipient));
        }
        let mut beside = 9.0;
        for [label, value] in &statement.facts {
            self.report(&[(Face::Regular, label), (Face::Regular, value)]);
            if !label.is_empty() {
                let label = cell(label, Face::Regular, right, Align::Left, 1, Part::Heading);
                beside = self.set(&mut block, &sized(label, 8.5, Colour::GREY), beside) + 0.4;
            }
            let value = sized(cell(value, Face::Regular, right, Align::Left, 2, Part::Note), 10.5, Colour::BLACK);
            beside = self.set(&mut block, &value, beside) + 1.8;
        }
        block.height = at.max(beside);
        self.running.place(&block);
    }

    pub(super) fn opening(&mut self, statement: &Statement) {
        self.report(&[(Face::Bold, &statement.title)]);
        let mut block = Block::default();
        let whole = [0.0, self.width];
        let title = cell(&statement.title, Face::Bold, whole, Align::Left, 1, Part::Heading);
        block.height = self.set(&mut block, &sized(title, 21.0, Colour::BLACK), 11.0) + 2.2;
        self.running.place(&block);
        if !statement.opening.trim().is_empty() {
            self.flow(Face::Regular, &statement.opening, 11.0, Colour::BLACK, Part::Words);
            self.running.place(&Block::space(3.0));
        }
    }

    pub(super) fn table(&mut self, statement: &Statement) {
        let table = &statement.table;
        let columns = Columns::of(table, self.width);
        let head = self.head(table, &columns);
        let sums = self.sums(&statement.sums);
        let rows: Vec<Block> = table.lines.iter().map(|line| self.row(table, &columns, line)).collect();
        let carries = table.money.is_some();
        let mut before: Option<&StatementLine> = None;
        let count = rows.len();
        for (number, (row, line)) in rows.iter().zip(&table.lines).enumerate() {
            let after = if number + 1 == count {
                sums.height
            } else if carries {
                CARRY_MM
            } else {
                0.0
            };
            let first = if number == 0 { head.height } else { 0.0 };
            if self.running.room() < first + row.height + after {
                if let Some(before) = before.filter(|_| carries) {
                    let carried = self.carried(&table.carried[0], &before.so_far);
                    self.running.place(&carried);
                }
                self.running.turn();
                self.running.place(&head);
                if let Some(before) = before.filter(|_| carries) {
                    let brought = self.carried(&table.carried[1], &before.so_far);
                    self.running.place(&brought);
                }
            } else if number == 0 {
                self.running.place(&head);
            }
            self.running.place(row);
            before = Some(line);
        }
        self.running.place(&sums);
    }

    fn head(&mut self, table: &Table, columns: &Columns) -> Block {
        let mut block = Block::default();
        let mut headings = vec![(table.what.as_str(), columns.what, Align::Left)];
        if columns.code[1] > 0.0 {
            headings.push((table.code.as_str(), columns.code, Align::Left));
        }
        if let Some(quantity) = &table.quantity {
            headings.push((quantity.as_str(), columns.quantity, Align::Right));
        }
        if let Some([price, sum]) = &table.money {
            headings.push((price.as_str(), columns.price, Align::Right));
            headings.push((sum.as_str(), columns.sum, Align::Right));
        }
        for (text, place, align) in headings {
            self.report(&[(Face::Regular, text)]);
            let heading = cell(text, Face::Regular, place, align, 1, Part::Heading);
            self.set(&mut block, &Cell { sizes: [6.0, 8.5], colour: Colour::GREY, ..heading }, 0.6);
        }
        block.height = 6.0;
        block.rule(self.width, Colour::BLACK, 0.3);
        block
    }

    fn row(&mut self, table: &Table, columns: &Columns, line: &StatementLine) -> Block {
        let code = if line.code.trim().is_empty() { self.title } else { line.code.as_str() };
        self.running.report_missing(
            code,
            &[
                (Face::Regular, &line.code),
                (Face::Semibold, &line.words),
                (Face::Regular, &line.note),
                (Face::Regular, &line.quantity),
                (Face::Regular, &line.sum),
            ],
        );
        let mut block = Block::default();
        let top = 2.0;
        let number = cell(&line.code, Face::Regular, columns.code, Align::Left, 1, Part::Code);
        self.running.set(&mut block, &number, top, code);
        let name = cell(&line.words, Face::Semibold, columns.what, Align::Left, 2, Part::Name);
        let mut below = self.running.set(&mut block, &name, top, code);
        for (text, face, colour, lines) in
            [(&line.note, Face::Regular, Colour::GREY, 3), (&line.lead, Face::Semibold, Colour::BLACK, 1)]
        {
            if !text.trim().is_empty() {
                let under = sized(cell(text, face, columns.what, Align::Left, lines, Part::Materials), 8.5, colour);
                below = self.running.set(&mut block, &under, below, code);
            }
        }
        if table.quantity.is_some() {
            let quantity = cell(&line.quantity, Face::Regular, columns.quantity, Align::Right, 0, Part::Quantity);
            self.running.set(&mut block, &quantity, top, code);
        }
        if table.money.is_some() {
            for (amount, place) in [(&line.price, columns.price), (&line.sum, columns.sum)] {
                let amount = cell(amount, Face::Regular, place, Align::Right, 0, Part::Amount);
                self.running.set(&mut block, &amount, top, code);
            }
        }
        block.height = below + 1.6;
        block.rule(self.width, HAIR, 0.15);
        block
    }

    /// The line that carries a sum from page to page.
    fn carried(&mut self, label: &str, amount: &str) -> Block {
        let mut block = Block::default();
        self.report(&[(Face::Italic, label)]);
        let (label_place, place) = ([0.0, self.width - 50.0], [self.width - 48.0, 48.0]);
        let label = cell(label, Face::Italic, label_place, Align::Right, 1, Part::Heading);
        self.set(&mut block, &sized(label, 9.0, Colour::GREY), 1.8);
        let amount = sized(cell(amount, Face::Italic, place, Align::Right, 0, Part::Amount), SIZE, Colour::GREY);
        self.set(&mut block, &amount, 1.5);
        block.height = CARRY_MM;
        block
    }

    fn sums(&mut self, sums: &[SumLine]) -> Block {
        let mut block = Block::space(if sums.is_empty() { 0.0 } else { 2.0 });
        for line in sums {
            let face = if line.strong { Face::Bold } else { Face::Regular };
            let size = if line.strong { 13.0 } else { SIZE };
            self.report(&[(face, &line.label), (face, &line.amount)]);
            let mut row = Block::default();
            let (top, height) = if line.strong { (2.6, 10.2) } else { (1.2, 5.8) };
            if line.strong {
                let left = self.width * 0.42;
                let ground = Rect { x_mm: left, y_mm: 0.8, width_mm: self.width - left, height_mm: height - 1.6 };
                row.items.push(Item::Shape(Shape::filled(ground, GROUND)));
            }
            // The ground of what it comes to ends a little to the right of its figures.
            let inset = if line.strong { 2.0 } else { 0.0 };
            let label_place = [self.width * 0.43, self.width * 0.57 - 46.0];
            let label = cell(&line.label, face, label_place, Align::Left, 1, Part::Heading);
            self.set(&mut row, &sized(label, size, Colour::BLACK), top);
            let place = [self.width - 44.0, 44.0 - inset];
            let amount = sized(cell(&line.amount, face, place, Align::Right, 0, Part::Amount), size, Colour::BLACK);
            self.set(&mut row, &amount, top);
            row.height = height;
            block.push(&row);
        }
        block
    }

    pub(super) fn sentences(&mut self, statement: &Statement) {
        if statement.sentences.is_empty() {
            return;
        }
        self.gap(5.0);
        for sentence in &statement.sentences {
            self.flow(Face::Regular, sentence, SIZE, Colour::BLACK, Part::Terms);
        }
    }

    /// A heading with running text under it; the heading stays with the first two lines.
    pub(super) fn part(&mut self, heading: &str, text: &str) {
        self.report(&[(Face::Semibold, heading)]);
        if self.running.room() < 6.0 + 5.0 + 2.0 * LINE_MM {
            self.running.turn();
        } else {
            self.running.place(&Block::space(5.0));
        }
        let mut block = Block::default();
        let heading = cell(heading, Face::Semibold, [0.0, self.width], Align::Left, 1, Part::Heading);
        block.height = self.set(&mut block, &heading, 0.0) + 0.4;
        self.running.place(&block);
        self.flow(Face::Regular, text, 9.5, Colour::BLACK, Part::Terms);
    }

    fn gap(&mut self, height: f64) {
        if self.running.room() > height {
            self.running.place(&Block::space(height));
        }
    }

    /// Running text, line by line over as many pages as it takes.
    fn flow(&mut self, face: Face, text: &str, size: f64, colour: Colour, part: Part) {
        let measure = self.width.min(MEASURE_MM);
        let height = LINE_MM.max(size * MM_PER_POINT * 1.25);
        for paragraph in text.lines() {
            if paragraph.trim().is_empty() {
                self.gap(LINE_MM * 0.6);
                continue;
            }
            self.report(&[(face, paragraph)]);
            let lines = self.running.shaper.lines(face, paragraph, size, measure);
            let count = lines.len();
            for (number, line) in lines.into_iter().enumerate() {
                // The first two lines of a paragraph stay together, and so do the last two.
                let together = if (number == 0 || number + 2 == count) && count > 1 { 2.0 } else { 1.0 };
                if self.running.room() < height * together {
                    self.running.turn();
                }
                let mut block = Block::space(height);
                block.items.push(Item::Text(TextRun {
                    x_mm: 0.0,
                    y_mm: size * MM_PER_POINT * 0.76,
                    size_pt: size,
                    colour,
                    width_mm: line.width_mm,
                    glyphs: line.glyphs,
                    turn: Turn::None,
                }));
                self.running.place(&block);
            }
            if count == 0 {
                self.running.warn(self.title, WarningKind::LeftOut(part));
            }
        }
    }

    /// Lines to sign on, side by side, never parted.
    pub(super) fn signatures(&mut self, statement: &Statement) {
        if statement.signatures.is_empty() {
            return;
        }
        let mut block = Block::space(8.0);
        if !statement.signed_for.trim().is_empty() {
            self.report(&[(Face::Regular, &statement.signed_for)]);
            let text = cell(&statement.signed_for, Face::Regular, [0.0, self.width], Align::Left, 2, Part::Words);
            let top = block.height;
            block.height = self.set(&mut block, &text, top);
        }
        block.height += 17.0;
        let (width, line_y) = (self.width * 0.44, block.height);
        let mut end = line_y;
        for ([who, what], left) in statement.signatures.iter().zip([0.0, self.width - width]) {
            self.report(&[(Face::Semibold, who), (Face::Regular, what)]);
            let line = Shape::line([left, line_y], [left + width, line_y], Colour::BLACK, 0.25, None);
            block.items.push(Item::Shape(line));
            let who = cell(who, Face::Semibold, [left, width], Align::Left, 1, Part::Heading);
            let below = self.set(&mut block, &sized(who, 9.5, Colour::BLACK), line_y + 1.2);
            let what = cell(what, Face::Regular, [left, width], Align::Left, 1, Part::Heading);
            end = self.set(&mut block, &sized(what, 8.5, Colour::GREY), below).max(end);
        }
        block.height = end;
        if self.running.room() < block.height {
            self.running.turn();
        }
        self.running.place(&block);
    }
}
