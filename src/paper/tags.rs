//! Tags: what a tag says, and sheets of them.

use super::label::{self, Frame};
use super::language::Speech;
use super::marks;
use super::page::{DOT_MM, Document, Page, Place};
use super::shaper::Shaper;
use super::sheets::{self, Grid};
use super::symbol::Symbology;
use super::warning::{PaperProblem, Warning};
use super::watch::{Unwatched, Watch};
use super::words;
use crate::studio::{Design, LabelSheet, LengthUnit};

/// Labels one job may have; larger runs are better printed in parts.
pub const MOST_LABELS: u64 = 10_000;

/// What a tag says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TagModel {
    /// The piece's name.
    pub name: String,
    /// The item code, in letters and in the symbol.
    pub code: String,
    /// The ticket with its currency, as it shall be printed; none leaves the place empty.
    pub ticket: Option<String>,
    /// What the piece is made of, e.g. `glass enamel on copper, 45 cm chain`.
    pub materials_line: String,
    /// A line for a fair or channel.
    pub note_line: Option<String>,
    /// The piece bears lead.
    pub lead_bearing: bool,
}

/// The tag of a design in a language. `length` is the unit a chain's length is given in.
pub fn tag_model(design: &Design, ticket: Option<String>, length: LengthUnit, speech: Speech<'_>) -> TagModel {
    TagModel {
        name: design.name.clone(),
        code: design.code.as_str().to_owned(),
        ticket,
        materials_line: speech.materials_line(design, length),
        note_line: None,
        lead_bearing: words::bears_lead(design),
    }
}

/// Tags to print.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TagJob {
    /// The sheet.
    pub sheet: LabelSheet,
    /// Each tag with its number of copies.
    pub tags: Vec<(TagModel, u32)>,
    /// The first label to use on the first page, from 1, row by row; labels before it stay empty.
    pub start: u32,
    /// The kind of symbol.
    pub symbology: Symbology,
}

/// Lays out the job: as many pages as it takes. The same job gives the same document.
///
/// # Errors
/// When there is nothing to print, too much, a start outside the sheet, or a sheet whose measures do not work.
pub fn layout(job: &TagJob, shaper: &mut Shaper) -> Result<Document, PaperProblem> {
    layout_watched(job, shaper, &mut Unwatched)
}

/// As [`layout`], and tells label by label how far it has come.
///
/// # Errors
/// As [`layout`], and [`PaperProblem::Stopped`] where `watch` breaks it off.
pub fn layout_watched(job: &TagJob, shaper: &mut Shaper, watch: &mut dyn Watch) -> Result<Document, PaperProblem> {
    layout_for(job, None, shaper, watch)
}

/// As [`layout_watched`], for a printer of so many dots per inch: symbols are made of whole dots of it. Without it of
/// those of 300 dots per inch.
///
/// # Errors
/// As [`layout_watched`].
pub fn layout_for(
    job: &TagJob,
    dots_per_inch: Option<u32>,
    shaper: &mut Shaper,
    watch: &mut dyn Watch,
) -> Result<Document, PaperProblem> {
    let grid = sheets::grid(&job.sheet)?;
    let labels: u64 = job.tags.iter().map(|(_, copies)| u64::from(*copies)).sum();
    if labels == 0 {
        return Err(PaperProblem::Nothing);
    }
    if labels > MOST_LABELS {
        return Err(PaperProblem::TooMany { asked: labels, most: MOST_LABELS });
    }
    if job.start == 0 || job.start > grid.labels() {
        return Err(PaperProblem::Start { start: job.start, labels: grid.labels() });
    }
    let dot_mm = dots_per_inch.filter(|dots| *dots > 0).map_or(DOT_MM, |dots| 25.4 / f64::from(dots));
    let frame = frame(&grid, &job.sheet, dot_mm);
    let crop_marks = if job.sheet.crop_marks { marks::crop_marks(&grid) } else { Vec::new() };
    let mut document = Document::default();
    let mut slot = job.start - 1;
    let mut done = 0;
    for (entry, (tag, copies)) in job.tags.iter().enumerate().filter(|(_, (_, copies))| *copies > 0) {
        let laid = label::lay_out(shaper, tag, &frame, job.symbology);
        document
            .warnings
            .extend(laid.warnings.iter().map(|kind| Warning { code: tag.code.clone(), kind: kind.clone() }));
        for _ in 0..*copies {
            if document.pages.is_empty() || slot == grid.labels() {
                slot %= grid.labels();
                document.pages.push(Page {
                    width_mm: grid.page_width_mm,
                    height_mm: grid.page_height_mm,
                    items: crop_marks.clone(),
                    ..Page::default()
                });
            }
            if let Some(page) = document.pages.last_mut() {
                let (rect, first) = (grid.rect(slot), page.items.len());
                page.items.extend(laid.items.iter().map(|item| item.moved_on_dots(rect.x_mm, rect.y_mm, dot_mm)));
                page.places.push(Place { rect, number: slot + 1, entry, items: first..page.items.len() });
            }
            slot += 1;
            done += 1;
            if watch.come(done, labels).is_break() {
                return Err(PaperProblem::Stopped);
            }
        }
    }
    Ok(document)
}

fn frame(grid: &Grid, sheet: &LabelSheet, dot_mm: f64) -> Frame {
    Frame {
        width_mm: grid.label_width_mm,
        height_mm: grid.label_height_mm,
        figure: grid.figure,
        folded: sheet.folded,
        hole: sheet.hole,
        cut_lines: sheet.cut_lines,
        dot_mm,
    }
}

/// A page of the sheet with nothing printed: the outline, fold and holes of every label, and crop marks where they are
/// asked for. To be shown.
///
/// # Errors
/// When the sheet's measures do not work.
pub fn bare_page(sheet: &LabelSheet) -> Result<Page, PaperProblem> {
    let grid = sheets::grid(sheet)?;
    let outline = label::guides(&frame(&grid, sheet, DOT_MM));
    let mut items = if sheet.crop_marks { marks::crop_marks(&grid) } else { Vec::new() };
    for rect in (0..grid.labels()).map(|slot| grid.rect(slot)) {
        items.extend(outline.iter().map(|item| item.moved(rect.x_mm, rect.y_mm)));
    }
    Ok(Page { width_mm: grid.page_width_mm, height_mm: grid.page_height_mm, items, ..Page::default() })
}
