//! How the calibration page is drawn.

use super::calibration::{Calibration, Measured, TITLE, meant};
use super::cards::PaperSize;
use super::page::{Colour, Document, Face, Item, MM_PER_POINT, Page, Paint, Rect, Segment, Shape, TextRun, rectangle};
use super::pdf::mm_of;
use super::shaper::{Line, Shaper};
use super::sheets::Grid;
use super::warning::PaperProblem;
use crate::studio::Turn;

/// Lines to measure to, and outlines of labels, mm.
const LINE_MM: f64 = 0.15;
const OUTLINE_MM: f64 = 0.2;
/// Arms of a cross, and the ring around the one that is measured, mm.
const ARM_MM: f64 = 4.0;
const RING_MM: f64 = 1.8;
/// From the middle of a cross to the rulers, mm; less on a small page.
const RULER_GAP_MM: [f64; 2] = [6.0, 2.0];
/// Lengths of the lines of a ruler: each millimetre, each fifth, each tenth, and its ends, mm.
const TICKS_MM: [f64; 4] = [1.5, 2.5, 4.0, 6.0];
/// Stripes stand in blocks of this size with this much between them, mm.
const BLOCK_MM: f64 = 10.0;
const BLOCK_GAP_MM: f64 = 8.0;
/// Widths of the stripes, in dots.
const STRIPES: [u32; 4] = [1, 2, 3, 4];
/// Room for the stripes with their words, mm.
const STRIPES_MM: f64 = 20.0;
/// Sizes of the words, points.
const WORDS_MOST_PT: f64 = 9.5;
const WORDS_LEAST_PT: f64 = 6.5;
/// The numbers of a ruler, points.
const NUMBER_PT: f64 = 6.5;
/// A column of words is at least so wide, and at most, mm.
const COLUMN_LEAST_MM: f64 = 45.0;
const COLUMN_MOST_MM: f64 = 140.0;

pub(super) fn layout(
    asked: &Calibration,
    sheet: Option<(&str, &Grid)>,
    shaper: &mut Shaper,
) -> Result<Document, PaperProblem> {
    let Calibration { size, dots_per_inch } = *asked;
    let lengths = meant(size);
    for (ruler, field, side) in [(0, "page width", size.width_mm), (1, "page height", size.height_mm)] {
        if lengths.rulers_mm.get(ruler).is_none_or(|length| length.is_zero()) {
            return Err(PaperProblem::Sheet {
                sheet: sheet.map_or("of the calibration page", |(name, _)| name).to_owned(),
                field,
                value: format!("{side} mm"),
                accepted: "a page of at least 20 by 25 mm has room for rulers; give offset and scale instead"
                    .to_owned(),
            });
        }
    }
    let mut drawing = Drawing { shaper, size, small: size.width_mm.min(size.height_mm) < 80.0, items: Vec::new() };
    if let Some((_, grid)) = sheet {
        drawing.outlines(grid);
    }
    let [cross_x, cross_y] = lengths.cross_mm.map(mm_of);
    drawing.crosses([cross_x, cross_y]);
    let [level, upright] = lengths.rulers_mm.map(mm_of);
    let [usual, narrow] = RULER_GAP_MM;
    let gap = if drawing.small { narrow } else { usual };
    drawing.level_ruler([(size.width_mm - level) / 2.0, cross_y + gap], level);
    // Its room ends where the crosses at the foot are.
    drawing.upright_ruler([cross_x + gap, size.height_mm - cross_y - upright], upright);
    let column = Rect {
        x_mm: cross_x + 20.0,
        y_mm: cross_y + 26.0,
        width_mm: (size.width_mm - 2.0 * cross_x - 24.0).min(COLUMN_MOST_MM),
        height_mm: size.height_mm - 2.0 * cross_y - 32.0,
    };
    let stripes = dots_per_inch.filter(|dots| *dots > 0 && column.height_mm >= 90.0 && column.width_mm >= 72.0);
    if let Some(dots) = stripes {
        drawing.stripes([column.x_mm, column.bottom_mm() - STRIPES_MM + 2.0], dots);
    }
    let room = if stripes.is_some() { STRIPES_MM } else { 0.0 };
    let words = Rect { height_mm: column.height_mm - room, ..column };
    drawing.words(words, &told(asked, &lengths, sheet.map(|(name, _)| name), stripes.is_some()));
    let page = Page { width_mm: size.width_mm, height_mm: size.height_mm, items: drawing.items, places: Vec::new() };
    Ok(Document { pages: vec![page], warnings: Vec::new() })
}

/// What the page says.
fn told(asked: &Calibration, lengths: &Measured, sheet: Option<&str>, stripes: bool) -> Vec<(Face, String)> {
    let PaperSize { width_mm, height_mm } = asked.size;
    let dots = asked.dots_per_inch.map(|dots| format!(", {dots} dots per inch")).unwrap_or_default();
    let paper = sheet.unwrap_or("Plain paper");
    let [left, top] = lengths.cross_mm;
    let [level, upright] = lengths.rulers_mm;
    let mut told = vec![
        (Face::Bold, TITLE.to_owned()),
        (Face::Semibold, format!("{paper}, {width_mm} × {height_mm} mm{dots}")),
        (
            Face::Regular,
            "Print it at actual size, 100 %: not fitted to the page. Then measure in millimetres, to a tenth."
                .to_owned(),
        ),
        (
            Face::Regular,
            format!("Left edge of the paper to the middle of the ringed cross. Meant {left}, measured ________"),
        ),
        (
            Face::Regular,
            format!("Top edge of the paper to the middle of the ringed cross. Meant {top}, measured ________"),
        ),
        (Face::Regular, format!("Level ruler, from its first line to its last. Meant {level}, measured ________")),
        (Face::Regular, format!("Upright ruler, from its first line to its last. Meant {upright}, measured ________")),
        (
            Face::Regular,
            "Type the four figures into Printers: what is printed afterwards comes out where it belongs.".to_owned(),
        ),
    ];
    if sheet.is_some() {
        let words =
            "Hold the page against a sheet of labels, to the light: the outlines show how far the print is off.";
        told.push((Face::Regular, words.to_owned()));
    }
    if stripes {
        let words = "Stripes are 1, 2, 3 and 4 dots of the printer wide. Where some are broader than others, the page was scaled.";
        told.push((Face::Regular, words.to_owned()));
    }
    told
}

struct Drawing<'a> {
    shaper: &'a mut Shaper,
    size: PaperSize,
    /// Without numbers at its rulers.
    small: bool,
    items: Vec<Item>,
}

impl Drawing<'_> {
    fn line(&mut self, from: [f64; 2], to: [f64; 2]) {
        self.items.push(Item::Shape(Shape::line(from, to, Colour::BLACK, LINE_MM, None)));
    }

    /// Many lines as one path.
    fn lines(&mut self, lines: impl IntoIterator<Item = [[f64; 2]; 2]>) {
        let path = lines.into_iter().flat_map(|[from, to]| [Segment::Move(from), Segment::Line(to)]).collect();
        let paint = Paint::Line { colour: Colour::BLACK, width_mm: LINE_MM, dash_mm: None };
        self.items.push(Item::Shape(Shape { path, paint }));
    }

    fn outlines(&mut self, grid: &Grid) {
        let paint = Paint::Line { colour: Colour::CUT, width_mm: OUTLINE_MM, dash_mm: None };
        // Just inside, for a label may be the whole page.
        let outline = |slot| grid.figure.outline(grid.rect(slot), OUTLINE_MM / 2.0);
        let outlines = (0..grid.labels()).map(|slot| Item::Shape(Shape { path: outline(slot), paint }));
        self.items.extend(outlines);
    }

    /// Four crosses; the one at the top left, which is measured, has a ring.
    fn crosses(&mut self, [x, y]: [f64; 2]) {
        let (arm_x, arm_y) = (ARM_MM.min(x * 0.8), ARM_MM.min(y * 0.8));
        let (right, bottom) = (self.size.width_mm - x, self.size.height_mm - y);
        for [x, y] in [[x, y], [right, y], [x, bottom], [right, bottom]] {
            self.line([x - arm_x, y], [x + arm_x, y]);
            self.line([x, y - arm_y], [x, y + arm_y]);
        }
        let ring = Shape::circle([x, y], RING_MM.min(arm_x.min(arm_y) * 0.6), Colour::BLACK, LINE_MM);
        self.items.push(Item::Shape(ring));
    }

    /// The distances of a ruler's lines, with their lengths.
    fn ticks(&self, length: f64) -> Vec<(u32, f64)> {
        // At most 200.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let count = length.round() as u32;
        let [each, fifth, tenth, end] = TICKS_MM.map(|tick| if self.small { tick * 0.5 } else { tick });
        let tick = |at: u32| {
            if at == 0 || at == count {
                end
            } else if at.is_multiple_of(10) {
                tenth
            } else if at.is_multiple_of(5) {
                fifth
            } else {
                each
            }
        };
        (0..=count).map(|at| (at, tick(at))).collect()
    }

    fn level_ruler(&mut self, [x, y]: [f64; 2], length: f64) {
        let ticks = self.ticks(length);
        let lines = ticks.iter().map(|(at, tick)| [[x + f64::from(*at), y], [x + f64::from(*at), y + tick]]);
        self.lines(lines.chain([[[x, y], [x + length, y]]]));
        if !self.small {
            for (at, tick) in ticks.into_iter().filter(|(at, _)| at.is_multiple_of(10)) {
                self.number(at, |wide| [x + f64::from(at) - wide / 2.0, y + tick + 2.4]);
            }
        }
    }

    fn upright_ruler(&mut self, [x, y]: [f64; 2], length: f64) {
        let ticks = self.ticks(length);
        let lines = ticks.iter().map(|(at, tick)| [[x, y + f64::from(*at)], [x + tick, y + f64::from(*at)]]);
        self.lines(lines.chain([[[x, y], [x, y + length]]]));
        if !self.small {
            for (at, tick) in ticks.into_iter().filter(|(at, _)| at.is_multiple_of(10)) {
                self.number(at, |_| [x + tick + 0.8, y + f64::from(at) + 0.8]);
            }
        }
    }

    fn number(&mut self, number: u32, place: impl FnOnce(f64) -> [f64; 2]) {
        let lines = self.shaper.lines(Face::Regular, &number.to_string(), NUMBER_PT, 100.0);
        if let Some(line) = lines.into_iter().next() {
            let at = place(line.width_mm);
            self.run(line, NUMBER_PT, at);
        }
    }

    fn run(&mut self, line: Line, size_pt: f64, [x_mm, y_mm]: [f64; 2]) {
        self.items.push(Item::Text(TextRun {
            x_mm,
            y_mm,
            size_pt,
            colour: Colour::BLACK,
            width_mm: line.width_mm,
            glyphs: line.glyphs,
            turn: Turn::None,
        }));
    }

    /// Blocks of upright and of level stripes, each as wide as what is between them, on whole dots.
    fn stripes(&mut self, [x, y]: [f64; 2], dots_per_inch: u32) {
        let dot = 25.4 / f64::from(dots_per_inch);
        let snap = |value: f64| (value / dot).round() * dot;
        let mut left = x;
        for dots in STRIPES {
            let (wide, step) = (f64::from(dots) * dot, 2.0 * f64::from(dots) * dot);
            let (from, top) = (snap(left), snap(y));
            let half = snap(BLOCK_MM / 2.0);
            // Whole stripes that stay within the block.
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let fit = |length: f64| ((length - wide) / step).floor().max(0.0) as u32 + 1;
            let upright = (0..fit(BLOCK_MM)).map(|stripe| Rect {
                x_mm: from + f64::from(stripe) * step,
                y_mm: top,
                width_mm: wide,
                height_mm: half,
            });
            let level = (0..fit(half)).map(|stripe| Rect {
                x_mm: from,
                y_mm: top + half + step + f64::from(stripe) * step,
                width_mm: snap(BLOCK_MM),
                height_mm: wide,
            });
            let path = upright.chain(level).flat_map(rectangle).collect();
            self.items.push(Item::Shape(Shape { path, paint: Paint::Fill(Colour::BLACK) }));
            self.number(dots, |_| [from + BLOCK_MM + 1.2, top + half]);
            left += BLOCK_MM + BLOCK_GAP_MM;
        }
    }

    /// Paragraphs in a column, as large as they fit; none where they do not.
    fn words(&mut self, column: Rect, paragraphs: &[(Face, String)]) {
        if column.width_mm < COLUMN_LEAST_MM {
            return;
        }
        let mut size = WORDS_MOST_PT;
        while size >= WORDS_LEAST_PT {
            let em = size * MM_PER_POINT;
            let mut baseline = column.y_mm;
            let mut set = Vec::new();
            for (face, text) in paragraphs {
                let size = if *face == Face::Bold { size * 1.6 } else { size };
                for line in self.shaper.lines(*face, text, size, column.width_mm) {
                    baseline += size * MM_PER_POINT * 1.25;
                    set.push((line, size, baseline));
                }
                baseline += em * 0.7;
            }
            if baseline <= column.bottom_mm() {
                for (line, size, baseline) in set {
                    self.run(line, size, [column.x_mm, baseline]);
                }
                return;
            }
            size -= 0.5;
        }
    }
}
