//! Lists that run over several pages: a heading, blocks that are never broken, and a foot with the page's number.

use super::cards::PaperSize;
use super::page::{Colour, Document, Face, Item, MM_PER_POINT, Page, Rect, Shape, TextRun};
use super::shaper::{Line, Shaper};
use super::stack::one_line;
use super::warning::{PaperProblem, Part, Warning, WarningKind};
use crate::studio::Turn;
use std::collections::BTreeSet;

/// Most lines one list may have.
pub const MOST_LINES: usize = 5_000;

/// Free on every side: what printers reach, and what a folder's rings take on the left.
const LEFT_MM: f64 = 18.0;
const RIGHT_MM: f64 = 13.0;
const TOP_MM: f64 = 14.0;
const BOTTOM_MM: f64 = 13.0;
/// The foot's line of type with the space above it.
const FOOT_MM: f64 = 8.0;
/// Height of the reminder at the top of a page.
const REMINDER_MM: f64 = 7.5;
/// From line to line, in parts of the size.
const LEADING: f64 = 1.18;
/// Baseline below the top of a line, in parts of the size (Source Sans 3: ascenders 0.712).
const ASCENDERS: f64 = 0.76;

/// Everything that is printed lies within this.
pub(super) fn margins(paper: PaperSize) -> Rect {
    Rect {
        x_mm: LEFT_MM,
        y_mm: TOP_MM,
        width_mm: paper.width_mm - LEFT_MM - RIGHT_MM,
        height_mm: paper.height_mm - TOP_MM - BOTTOM_MM,
    }
}

/// Where a text stands between its left and right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Align {
    Left,
    Right,
}

/// A text with the place it has.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cell<'a> {
    pub(super) face: Face,
    pub(super) text: &'a str,
    /// Least and most size, points.
    pub(super) sizes: [f64; 2],
    pub(super) colour: Colour,
    pub(super) left: f64,
    pub(super) width: f64,
    pub(super) align: Align,
    /// Most lines. A text of one line that may not be shortened has 0.
    pub(super) lines: usize,
    pub(super) part: Part,
}

/// Part of a page that is not broken, from its own top left; x counts from the left margin.
#[derive(Debug, Clone, Default)]
pub(super) struct Block {
    pub(super) items: Vec<Item>,
    pub(super) height: f64,
}

impl Block {
    /// A block of space.
    pub(super) fn space(height: f64) -> Self {
        Self { items: Vec::new(), height }
    }

    /// Another block below this one.
    pub(super) fn push(&mut self, below: &Self) {
        self.items.extend(below.items.iter().map(|item| item.moved(0.0, self.height)));
        self.height += below.height;
    }

    /// A line across at the foot.
    pub(super) fn rule(&mut self, width: f64, colour: Colour, thickness: f64) {
        let y = self.height - thickness / 2.0;
        self.items.push(Item::Shape(Shape::line([0.0, y], [width, y], colour, thickness, None)));
    }
}

/// Pages being filled.
pub(super) struct Running<'a> {
    pub(super) shaper: &'a mut Shaper,
    paper: PaperSize,
    /// What is printed lies within this.
    margins: Rect,
    /// What the pages after the first say at their top.
    reminder: String,
    /// How a page is numbered: `Page {page} of {pages}`.
    page_of: String,
    /// What stands at the left of every foot.
    at_foot: String,
    document: Document,
    at: f64,
    warned: BTreeSet<(String, String)>,
}

impl<'a> Running<'a> {
    /// A list of so many lines under its heading: what it is, the studio, the date. Refused without a line, or with more
    /// than [`MOST_LINES`].
    pub(super) fn begin(
        shaper: &'a mut Shaper,
        paper: PaperSize,
        [title, studio, date]: [&str; 3],
        lines: usize,
    ) -> Result<Self, PaperProblem> {
        if lines == 0 {
            return Err(PaperProblem::NothingListed);
        }
        if lines > MOST_LINES {
            return Err(PaperProblem::TooManyLines { asked: lines, most: MOST_LINES });
        }
        let told = [title, studio, date].into_iter().filter(|text| !text.trim().is_empty());
        let reminder = told.collect::<Vec<_>>().join(" · ");
        let mut running = Self::open(shaper, paper, margins(paper), reminder);
        running.heading(title, studio, date);
        Ok(running)
    }

    /// Pages without a heading: the first is the caller's.
    pub(super) fn open(shaper: &'a mut Shaper, paper: PaperSize, margins: Rect, reminder: String) -> Self {
        let mut running = Self {
            shaper,
            paper,
            margins,
            reminder,
            page_of: "Page {page} of {pages}".to_owned(),
            at_foot: String::new(),
            document: Document::default(),
            at: margins.y_mm,
            warned: BTreeSet::new(),
        };
        running.document.pages.push(running.blank_page());
        running
    }

    /// What the foot of every page says: at the left, and how the page is numbered, with `{page}` and `{pages}`.
    pub(super) fn foot(&mut self, at_foot: &str, page_of: &str) {
        self.at_foot = at_foot.to_owned();
        self.page_of = page_of.to_owned();
    }

    fn blank_page(&self) -> Page {
        Page { width_mm: self.paper.width_mm, height_mm: self.paper.height_mm, ..Page::default() }
    }

    /// Width between the margins.
    pub(super) fn width(&self) -> f64 {
        self.margins.width_mm
    }

    /// Height that is left on the page.
    pub(super) fn room(&self) -> f64 {
        self.margins.bottom_mm() - FOOT_MM - self.at
    }

    /// Height a page that was just turned to has for blocks.
    pub(super) fn fresh_room(&self) -> f64 {
        self.margins.height_mm - FOOT_MM - REMINDER_MM
    }

    /// Says what the pages after the first say at their top.
    pub(super) fn remind(&mut self, told: &[&str]) {
        let told = told.iter().copied().filter(|text| !text.trim().is_empty());
        self.reminder = told.collect::<Vec<_>>().join(" · ");
    }

    /// How wide a text is at a size.
    pub(super) fn wide(&mut self, face: Face, text: &str, size: f64) -> f64 {
        self.shaper.width(face, text, size).unwrap_or_default()
    }

    /// Places a block where the last one ended; the caller has seen to it that there is room.
    pub(super) fn place(&mut self, block: &Block) {
        let (left, at) = (self.margins.x_mm, self.at);
        if let Some(page) = self.document.pages.last_mut() {
            page.items.extend(block.items.iter().map(|item| item.moved(left, at)));
        }
        self.at += block.height;
    }

    /// Begins a page with a reminder of what the list is.
    pub(super) fn turn(&mut self) {
        self.document.pages.push(self.blank_page());
        self.at = self.margins.y_mm;
        let reminder = self.reminder.clone();
        let cell = Cell {
            face: Face::Regular,
            text: &reminder,
            sizes: [8.5, 8.5],
            colour: Colour::GREY,
            left: 0.0,
            width: self.width(),
            align: Align::Left,
            lines: 1,
            part: Part::Heading,
        };
        let mut block = Block::default();
        self.set(&mut block, &cell, 0.0, "");
        block.height = REMINDER_MM;
        self.place(&block);
    }

    /// Warns, each thing once.
    pub(super) fn warn(&mut self, code: &str, kind: WarningKind) {
        if self.warned.insert((code.to_owned(), format!("{kind:?}"))) {
            self.document.warnings.push(Warning { code: code.to_owned(), kind });
        }
    }

    /// Warns of characters of a line's texts that the type has no glyph for, all in one.
    pub(super) fn report_missing(&mut self, code: &str, texts: &[(Face, &str)]) {
        let mut missing = BTreeSet::new();
        for (face, text) in texts {
            missing.extend(self.shaper.shape(*face, text).missing.iter().copied());
        }
        if !missing.is_empty() {
            self.warn(code, WarningKind::MissingGlyphs(missing.into_iter().collect()));
        }
    }

    /// The lines of a cell at the size they fit at.
    fn fitted(&mut self, cell: &Cell<'_>, code: &str) -> (f64, Vec<Line>) {
        let [least, most] = cell.sizes;
        if self.shaper.shape(cell.face, cell.text).text.is_empty() {
            return (most, Vec::new());
        }
        if let Some((size, line)) = one_line(self.shaper, cell.face, cell.text, cell.width, [least, most])
            && (size >= most * 0.9 || cell.lines <= 1)
        {
            return (size, vec![line]);
        }
        if cell.lines == 0 {
            // Half a figure is a wrong figure.
            self.warn(code, WarningKind::LeftOut(cell.part));
            return (least, Vec::new());
        }
        // The largest size at which all of it stands in its lines with its words whole; else the least.
        let whole = |shaper: &mut Shaper, size: f64| {
            let lines = shaper.lines(cell.face, cell.text, size, cell.width);
            lines.len() <= cell.lines && !lines.iter().any(|line| line.breaks_word)
        };
        let mut size = most;
        if whole(self.shaper, least) {
            while size > least && !whole(self.shaper, size) {
                size = (size - 0.5).max(least);
            }
        } else {
            size = least;
        }
        let fitted = self.shaper.fit(cell.face, cell.text, size, cell.width, cell.lines);
        if fitted.lines.is_empty() {
            self.warn(code, WarningKind::LeftOut(cell.part));
        } else if fitted.cut {
            self.warn(code, WarningKind::Cut(cell.part));
        }
        (size, fitted.lines)
    }

    /// Sets a text into a block from `top` down; answers where it ends.
    pub(super) fn set(&mut self, block: &mut Block, cell: &Cell<'_>, top: f64, code: &str) -> f64 {
        let (size, lines) = self.fitted(cell, code);
        // The first line stands where one of the full size would, so that a row has one baseline.
        let mut baseline = top + cell.sizes[1] * MM_PER_POINT * ASCENDERS;
        let em = size * MM_PER_POINT;
        let count = lines.len();
        for (number, line) in lines.into_iter().enumerate() {
            let x_mm = match cell.align {
                Align::Left => cell.left,
                Align::Right => cell.left + cell.width - line.width_mm,
            };
            block.items.push(Item::Text(TextRun {
                x_mm,
                y_mm: baseline,
                size_pt: size,
                colour: cell.colour,
                width_mm: line.width_mm,
                glyphs: line.glyphs,
                turn: Turn::None,
            }));
            if number + 1 < count {
                baseline += em * LEADING;
            }
        }
        baseline + em * (LEADING - ASCENDERS)
    }

    /// The heading of the first page: what it is, whose, of which day.
    pub(super) fn heading(&mut self, title: &str, studio: &str, date: &str) {
        let width = self.width();
        self.report_missing(title, &[(Face::Bold, title), (Face::Semibold, studio), (Face::Regular, date)]);
        let mut block = Block::default();
        let cell = |face, text, size: f64, colour, left, width, align| Cell {
            face,
            text,
            sizes: [size * 0.7, size],
            colour,
            left,
            width,
            align,
            lines: 1,
            part: Part::Studio,
        };
        self.set(&mut block, &cell(Face::Bold, title, 19.0, Colour::BLACK, 0.0, width * 0.45, Align::Left), 0.0, title);
        let (left, right) = (width * 0.48, width * 0.52);
        self.set(&mut block, &cell(Face::Semibold, studio, 10.0, Colour::BLACK, left, right, Align::Right), 0.0, title);
        self.set(&mut block, &cell(Face::Regular, date, 10.0, Colour::GREY, left, right, Align::Right), 4.6, title);
        block.height = 10.5;
        block.rule(width, Colour::BLACK, 0.4);
        self.place(&block);
    }

    /// The box that marks what bears lead, as high as a line of `size` points; answers its right end.
    pub(super) fn lead_mark(&mut self, block: &mut Block, left: f64, top: f64, size: f64) -> f64 {
        let em = size * MM_PER_POINT;
        let Some((size, line)) = one_line(self.shaper, Face::Bold, "LEAD", 20.0, [6.0, size * 0.66]) else {
            return left;
        };
        let width = line.width_mm + 2.0;
        let rect = Rect { x_mm: left, y_mm: top + em * 0.04, width_mm: width, height_mm: em * 0.86 };
        block.items.push(Item::Shape(Shape::outline(rect, Colour::BLACK, 0.3)));
        block.items.push(Item::Text(TextRun {
            x_mm: left + 1.0,
            y_mm: rect.y_mm + rect.height_mm / 2.0 + size * MM_PER_POINT * super::stack::CAPITALS / 2.0,
            size_pt: size,
            colour: Colour::BLACK,
            width_mm: line.width_mm,
            glyphs: line.glyphs,
            turn: Turn::None,
        }));
        left + width
    }

    /// Numbers the pages and hands the document over.
    pub(super) fn finish(mut self) -> Document {
        let margins = self.margins;
        let count = self.document.pages.len();
        let at_foot = self.at_foot.clone();
        let pages = count.to_string();
        for number in 0..count {
            let text = self.page_of.replace("{pages}", &pages).replace("{page}", &(number + 1).to_string());
            let Some((size, line)) = one_line(self.shaper, Face::Regular, &text, margins.width_mm, [8.5, 8.5]) else {
                continue;
            };
            let run = |line: Line, x_mm: f64| {
                Item::Text(TextRun {
                    x_mm,
                    y_mm: margins.bottom_mm() - 1.0,
                    size_pt: size,
                    colour: Colour::GREY,
                    width_mm: line.width_mm,
                    glyphs: line.glyphs,
                    turn: Turn::None,
                })
            };
            let room = margins.width_mm - line.width_mm - 6.0;
            let right = margins.right_mm() - line.width_mm;
            let mut items = vec![run(line, right)];
            // One that is too long ends in an ellipsis; the studio's name was warned of where it stands in full.
            if !at_foot.is_empty() {
                let fitted = self.shaper.fit(Face::Regular, &at_foot, size, room, 1);
                items.extend(fitted.lines.into_iter().map(|line| run(line, margins.x_mm)));
            }
            if let Some(page) = self.document.pages.get_mut(number) {
                page.items.extend(items);
            }
        }
        self.document
    }
}
