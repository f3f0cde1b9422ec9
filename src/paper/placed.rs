//! Papers of her own on label sheets, or each on a page of its own.

use super::page::{Colour, Document, Item, Page, Paint, Place, Rect, Segment, Shape};
use super::pinned::{Facts, Panel, Pictures, Speaks, lay_out};
use super::shaper::Shaper;
use super::sheets::{self, Grid};
use super::tags::MOST_LABELS;
use super::warning::{PaperProblem, Warning};
use crate::measure::Decimal;
use crate::studio::{Fold, LabelSheet, PaperDesign};
use rust_decimal::prelude::ToPrimitive;

/// Width of lines to cut and fold along, mm.
const LINE_MM: f64 = 0.1;
/// A paper may be larger than its label by rounding only, mm.
const SLACK_MM: f64 = 0.01;

/// Papers to print.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// The paper.
    pub design: PaperDesign,
    /// What each shows, with its number of copies.
    pub papers: Vec<(Facts, u32)>,
    /// The sheet of labels; none prints one paper a page, on pages of its size.
    pub sheet: Option<LabelSheet>,
    /// The first label to use on the first page, from 1, row by row; of no effect without a sheet.
    pub start: u32,
    /// The printer's dots per inch, where it is known.
    pub dots_per_inch: Option<u32>,
}

/// Lays out the job: as many pages as it takes. The same job gives the same document. A paper smaller than its label
/// stands in the middle of it.
///
/// # Errors
/// When there is nothing to print, too much, a start outside the sheet, a sheet whose measures do not work, or a paper
/// larger than the sheet's labels.
pub fn layout(
    job: &Job,
    pictures: &Pictures,
    speeches: &[&dyn Speaks],
    shaper: &mut Shaper,
) -> Result<Document, PaperProblem> {
    let asked: u64 = job.papers.iter().map(|(_, copies)| u64::from(*copies)).sum();
    if asked == 0 {
        return Err(PaperProblem::Nothing);
    }
    if asked > MOST_LABELS {
        return Err(PaperProblem::TooMany { asked, most: MOST_LABELS });
    }
    let paper = Measures::of(&job.design);
    let grid = job.sheet.as_ref().map(|sheet| paper.grid(&job.design, sheet)).transpose()?;
    if let Some(grid) = &grid
        && (job.start == 0 || job.start > grid.labels())
    {
        return Err(PaperProblem::Start { start: job.start, labels: grid.labels() });
    }
    let lines = match &job.sheet {
        Some(sheet) if sheet.cut_lines => paper.lines(&job.design),
        _ => Vec::new(),
    };
    let mut document = Document::default();
    let mut slot = if grid.is_some() { job.start.saturating_sub(1) } else { 0 };
    for (entry, (facts, copies)) in job.papers.iter().enumerate().filter(|(_, (_, copies))| *copies > 0) {
        let panel = lay_out(shaper, &job.design, facts, pictures, speeches, job.dots_per_inch);
        let code = &facts.code;
        document.warnings.extend(panel.warnings.iter().map(|kind| Warning { code: code.clone(), kind: kind.clone() }));
        for _ in 0..*copies {
            let (labels, size) = match &grid {
                Some(grid) => (grid.labels(), [grid.page_width_mm, grid.page_height_mm]),
                None => (1, [paper.width, paper.height]),
            };
            if document.pages.is_empty() || slot == labels {
                slot %= labels;
                let [width_mm, height_mm] = size;
                document.pages.push(Page { width_mm, height_mm, ..Page::default() });
            }
            let rect = grid.as_ref().map_or_else(|| paper.rect([0.0, 0.0]), |grid| paper.within(&grid.rect(slot)));
            if let Some(page) = document.pages.last_mut() {
                place(page, &lines, &panel, rect, slot + 1, entry);
            }
            slot += 1;
        }
    }
    Ok(document)
}

fn place(page: &mut Page, lines: &[Item], panel: &Panel, rect: Rect, number: u32, entry: usize) {
    let first = page.items.len();
    let moved = lines.iter().chain(&panel.items).map(|item| item.moved(rect.x_mm, rect.y_mm));
    page.items.extend(moved);
    page.places.push(Place { rect, number, entry, items: first..page.items.len() });
}

/// A paper's measures, mm.
struct Measures {
    width: f64,
    height: f64,
}

fn mm(value: Decimal) -> f64 {
    value.to_f64().unwrap_or_default()
}

impl Measures {
    fn of(design: &PaperDesign) -> Self {
        Self { width: mm(design.width_mm), height: mm(design.height_mm) }
    }

    fn rect(&self, [x_mm, y_mm]: [f64; 2]) -> Rect {
        Rect { x_mm, y_mm, width_mm: self.width, height_mm: self.height }
    }

    fn within(&self, label: &Rect) -> Rect {
        let x = label.x_mm + (label.width_mm - self.width) / 2.0;
        self.rect([x, label.y_mm + (label.height_mm - self.height) / 2.0])
    }

    fn grid(&self, design: &PaperDesign, sheet: &LabelSheet) -> Result<Grid, PaperProblem> {
        let grid = sheets::grid(sheet)?;
        if self.width > grid.label_width_mm + SLACK_MM || self.height > grid.label_height_mm + SLACK_MM {
            return Err(PaperProblem::PaperTooLarge {
                paper: design.name.clone(),
                size_mm: [self.width, self.height],
                sheet: sheet.name.clone(),
                label_mm: [grid.label_width_mm, grid.label_height_mm],
            });
        }
        Ok(grid)
    }

    /// Outline, fold and holes, for cutting by hand.
    fn lines(&self, design: &PaperDesign) -> Vec<Item> {
        let whole = self.rect([0.0, 0.0]);
        let corner = mm(design.corner_mm).clamp(0.0, self.width.min(self.height) / 2.0);
        let outline = if corner > 0.0 { self.rounded(corner) } else { Shape::outline(whole, Colour::CUT, LINE_MM) };
        let mut lines = vec![outline];
        let fold = match design.fold {
            Some(Fold::Upright(at)) => Some([[mm(at), LINE_MM], [mm(at), self.height - LINE_MM]]),
            Some(Fold::Across(at)) => Some([[LINE_MM, mm(at)], [self.width - LINE_MM, mm(at)]]),
            None => None,
        };
        lines.extend(fold.map(|[from, to]| Shape::line(from, to, Colour::CUT, LINE_MM, Some([0.8, 0.8]))));
        lines.extend(design.holes.iter().map(|hole| {
            Shape::circle([mm(hole.x_mm), mm(hole.y_mm)], mm(hole.diameter_mm) / 2.0, Colour::CUT, LINE_MM)
        }));
        lines.into_iter().map(Item::Shape).collect()
    }

    /// The rounded outline, just inside the paper.
    fn rounded(&self, corner: f64) -> Shape {
        let half = LINE_MM / 2.0;
        let (left, top, right, bottom) = (half, half, self.width - half, self.height - half);
        let r = (corner - half).max(0.0);
        // The arm of a quarter circle as a cubic curve, from the corner: 1 − 4/3 · tan(π/8).
        let near = r * (1.0 - 4.0 / 3.0 * (std::f64::consts::PI / 8.0).tan());
        let path = vec![
            Segment::Move([left + r, top]),
            Segment::Line([right - r, top]),
            Segment::Cubic([right - near, top], [right, top + near], [right, top + r]),
            Segment::Line([right, bottom - r]),
            Segment::Cubic([right, bottom - near], [right - near, bottom], [right - r, bottom]),
            Segment::Line([left + r, bottom]),
            Segment::Cubic([left + near, bottom], [left, bottom - near], [left, bottom - r]),
            Segment::Line([left, top + r]),
            Segment::Cubic([left, top + near], [left + near, top], [left + r, top]),
            Segment::Close,
        ];
        Shape { path, paint: Paint::Line { colour: Colour::CUT, width_mm: LINE_MM, dash_mm: None } }
    }
}
