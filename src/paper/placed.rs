//! Papers of her own on label sheets, or each on a page of its own.

use super::arrange;
use super::label_shape::Figure;
use super::marks::{self, FOLD_DASH_MM, LINE_MM};
use super::page::{Colour, DOT_MM, Document, Item, Page, Place, Rect, Shape};
use super::pdf::mm_of as mm;
use super::pinned::{Facts, Pictures, Speaks, lay_out};
use super::shaper::Shaper;
use super::sheets::{self, Grid};
use super::tags::MOST_LABELS;
use super::warning::{PaperProblem, Part, Warning, WarningKind};
use super::watch::{Unwatched, Watch};
use crate::measure::{Decimal, exact};
use crate::studio::{Fold, LabelShape, LabelSheet, PaperDesign};
use std::borrow::Cow;

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
/// stands in the middle of it; one with square corners on a label with rounded ones is printed inside of them.
///
/// # Errors
/// When there is nothing to print, too much, a start outside the sheet, a sheet whose measures do not work, a paper
/// larger than the sheet's labels, or something pinned to it that would reach beyond their outline.
pub fn layout(
    job: &Job,
    pictures: &Pictures,
    speeches: &[&dyn Speaks],
    shaper: &mut Shaper,
) -> Result<Document, PaperProblem> {
    layout_watched(job, pictures, speeches, shaper, &mut Unwatched)
}

/// As [`layout`], and tells paper by paper how far it has come.
///
/// # Errors
/// As [`layout`], and [`PaperProblem::Stopped`] where `watch` breaks it off.
pub fn layout_watched(
    job: &Job,
    pictures: &Pictures,
    speeches: &[&dyn Speaks],
    shaper: &mut Shaper,
    watch: &mut dyn Watch,
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
    let design = match (&job.sheet, &grid) {
        (Some(sheet), Some(grid)) => paper.inside(&job.design, sheet, grid)?,
        _ => Cow::Borrowed(&job.design),
    };
    let lines = match &job.sheet {
        Some(sheet) if sheet.cut_lines => paper.lines(&design, grid.as_ref()),
        _ => Vec::new(),
    };
    let crop_marks = match (&job.sheet, &grid) {
        (Some(sheet), Some(grid)) if sheet.crop_marks => marks::crop_marks(grid),
        _ => Vec::new(),
    };
    let dot_mm = job.dots_per_inch.filter(|dots| *dots > 0).map_or(DOT_MM, |dots| 25.4 / f64::from(dots));
    let mut document = Document::default();
    let mut slot = if grid.is_some() { job.start.saturating_sub(1) } else { 0 };
    let mut done = 0;
    for (entry, (facts, copies)) in job.papers.iter().enumerate().filter(|(_, (_, copies))| *copies > 0) {
        let panel = lay_out(shaper, &design, facts, pictures, speeches, job.dots_per_inch);
        let code = &facts.code;
        if let Some(part) = panel.warnings.iter().find_map(cut_caution) {
            return Err(PaperProblem::CautionCut { code: code.clone(), part, paper: job.design.name.clone() });
        }
        document.warnings.extend(panel.warnings.iter().map(|kind| Warning { code: code.clone(), kind: kind.clone() }));
        let items: Vec<&Item> = lines.iter().chain(&panel.items).collect();
        for _ in 0..*copies {
            let (labels, size) = match &grid {
                Some(grid) => (grid.labels(), [grid.page_width_mm, grid.page_height_mm]),
                None => (1, [paper.width, paper.height]),
            };
            if document.pages.is_empty() || slot == labels {
                slot %= labels;
                let [width_mm, height_mm] = size;
                document.pages.push(Page { width_mm, height_mm, items: crop_marks.clone(), ..Page::default() });
            }
            let rect = grid.as_ref().map_or_else(|| paper.rect([0.0, 0.0]), |grid| paper.within(&grid.rect(slot)));
            if let Some(page) = document.pages.last_mut() {
                let first = page.items.len();
                page.items.extend(items.iter().map(|item| item.moved_on_dots(rect.x_mm, rect.y_mm, dot_mm)));
                page.places.push(Place { rect, number: slot + 1, entry, items: first..page.items.len() });
            }
            slot += 1;
            done += 1;
            if watch.come(done, asked).is_break() {
                return Err(PaperProblem::Stopped);
            }
        }
    }
    Ok(document)
}

/// The caution a warning says was shortened or left out.
fn cut_caution(warning: &WarningKind) -> Option<Part> {
    match warning {
        WarningKind::Cut(part) | WarningKind::LeftOut(part) => {
            Some(*part).filter(|part| matches!(part, Part::Cautions | Part::LeadMark))
        }
        _ => None,
    }
}

/// A paper's measures, mm.
struct Measures {
    width: f64,
    height: f64,
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

    /// Where the paper stands in a label, from the label's top left corner.
    fn in_label(&self, grid: &Grid) -> Rect {
        let [width_mm, height_mm] = grid.label_mm();
        self.within(&Rect { x_mm: 0.0, y_mm: 0.0, width_mm, height_mm })
    }

    /// The paper as it may be printed on labels of an outline. The corners of a paper are rounded as far as it takes; else
    /// all that is pinned to it must stand inside.
    fn inside<'a>(
        &self,
        design: &'a PaperDesign,
        sheet: &LabelSheet,
        grid: &Grid,
    ) -> Result<Cow<'a, PaperDesign>, PaperProblem> {
        let (size, at) = (grid.label_mm(), self.in_label(grid));
        let half = exact::mul(design.width_mm.min(design.height_mm), Decimal::new(5, 1)).unwrap_or_default();
        let corners = match sheet.shape {
            LabelShape::Rectangle => return Ok(Cow::Borrowed(design)),
            LabelShape::Rounded(radius) => vec![radius.min(half), half],
            LabelShape::Round => vec![half],
            LabelShape::Barbell { .. } => Vec::new(),
        };
        for corner in std::iter::once(design.corner_mm).chain(corners) {
            if corner >= design.corner_mm && rounded_lies_inside(grid, at, mm(corner)) {
                return Ok(Cow::Owned(PaperDesign { corner_mm: corner, ..design.clone() }));
            }
        }
        let paper = self.rect([0.0, 0.0]);
        let beyond = design.pinned.iter().find(|pinned| {
            let place = Rect {
                x_mm: mm(pinned.x_mm).max(0.0),
                y_mm: mm(pinned.y_mm).max(0.0),
                width_mm: mm(pinned.width_mm) + mm(pinned.x_mm).min(0.0),
                height_mm: mm(pinned.height_mm) + mm(pinned.y_mm).min(0.0),
            };
            // What lies beyond the paper is not printed.
            let width_mm = place.width_mm.min(paper.width_mm - place.x_mm);
            let height_mm = place.height_mm.min(paper.height_mm - place.y_mm);
            let (x_mm, y_mm) = (at.x_mm + place.x_mm, at.y_mm + place.y_mm);
            let empty = width_mm <= 0.0 || height_mm <= 0.0;
            !empty && !grid.figure.holds(size, &Rect { x_mm, y_mm, width_mm, height_mm })
        });
        match beyond {
            None => Ok(Cow::Borrowed(design)),
            Some(pinned) => Err(PaperProblem::Sheet {
                sheet: sheet.name.clone(),
                field: "shape",
                value: shape_words(sheet.shape).to_owned(),
                accepted: format!(
                    "“{}” of {} would reach beyond it; a paper whose things all stand inside the outline is accepted",
                    arrange::name(&pinned.what),
                    design.name
                ),
            }),
        }
    }

    /// Outline, fold and holes, for cutting by hand: the label's outline where it has one of its own.
    fn lines(&self, design: &PaperDesign, grid: Option<&Grid>) -> Vec<Item> {
        let corner = mm(design.corner_mm).clamp(0.0, self.width.min(self.height) / 2.0);
        let mut lines = match grid {
            Some(grid) if grid.figure != Figure::Rectangle => {
                let at = self.in_label(grid);
                let outline = marks::outline(grid.figure, grid.label_mm(), false);
                outline.iter().map(|item| item.shifted(-at.x_mm, -at.y_mm)).collect()
            }
            _ => {
                let own = if corner > 0.0 { Figure::Rounded(corner) } else { Figure::Rectangle };
                marks::outline(own, [self.width, self.height], false)
            }
        };
        let fold = match design.fold {
            Some(Fold::Upright(at)) => Some([[mm(at), LINE_MM], [mm(at), self.height - LINE_MM]]),
            Some(Fold::Across(at)) => Some([[LINE_MM, mm(at)], [self.width - LINE_MM, mm(at)]]),
            None => None,
        };
        // A barbell's own fold is drawn already.
        let fold = fold.filter(|_| !grid.is_some_and(|grid| matches!(grid.figure, Figure::Barbell { .. })));
        let fold = fold.map(|[from, to]| Shape::line(from, to, Colour::CUT, LINE_MM, Some(FOLD_DASH_MM)));
        let holes = design.holes.iter().map(|hole| {
            Shape::circle([mm(hole.x_mm), mm(hole.y_mm)], mm(hole.diameter_mm) / 2.0, Colour::CUT, LINE_MM)
        });
        lines.extend(fold.into_iter().chain(holes).map(Item::Shape));
        lines
    }
}

/// What an outline is called.
const fn shape_words(shape: LabelShape) -> &'static str {
    match shape {
        LabelShape::Rectangle => "square corners",
        LabelShape::Rounded(_) => "rounded corners",
        LabelShape::Round => "round",
        LabelShape::Barbell { .. } => "a barbell",
    }
}

/// A paper with corners of a radius lies inside a label's outline.
fn rounded_lies_inside(grid: &Grid, at: Rect, corner: f64) -> bool {
    // A quarter of a circle is looked at in as many places.
    const PLACES: u32 = 16;
    let size = grid.label_mm();
    let corner = corner.clamp(0.0, at.width_mm.min(at.height_mm) / 2.0);
    let centres = [
        [at.right_mm() - corner, at.bottom_mm() - corner],
        [at.x_mm + corner, at.bottom_mm() - corner],
        [at.x_mm + corner, at.y_mm + corner],
        [at.right_mm() - corner, at.y_mm + corner],
    ];
    !matches!(grid.figure, Figure::Barbell { .. })
        && (0_u32..).zip(centres).all(|(quarter, [x, y])| {
            (0..=PLACES).all(|place| {
                let turns = f64::from(quarter) + f64::from(place) / f64::from(PLACES);
                let angle = turns * std::f64::consts::FRAC_PI_2;
                grid.figure.has(size, [x + corner * angle.cos(), y + corner * angle.sin()])
            })
        })
}
