//! A paper printed: of what, how often, on what sheet, from which label on.

use super::laid::{self, Layer, Outline, Tools};
use super::speech::{Voice, ready_for};
use super::subjects::Subject;
use crate::book::Snapshot;
use crate::measure::{Preferences, display, parse};
use crate::paper::page::Rect;
use crate::paper::pinned::Pictures;
use crate::paper::placed::{self, Job};
use crate::paper::{Document, PaperProblem, Shaper, sheets};
use crate::studio::{LabelSheet, PaperDesign, PaperKind, PrintedTag, SheetId};
use crate::window::screen::papers::Target;
use crate::window::widget::{Entry, Listing};
use chrono::NaiveDate;
use iced::widget::combo_box;
use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::Arc;

/// Most copies of each.
pub(super) const MOST_COPIES: u32 = 2_000;
/// Longest run that is laid out in the same frame, papers.
const AT_ONCE: u64 = 200;
/// Each on a page of its own.
pub(super) const ONE_A_PAGE: &str = "one a page";
/// No printer chosen.
pub(super) const NO_PRINTER: &str = "not known";
/// Warnings told one by one.
const MOST_WARNINGS: usize = 12;

/// Tags that were printed, and a sheet with its next free label.
pub(super) type Noted = (Vec<PrintedTag>, Option<(SheetId, u32)>);

/// A line of the list.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) tick: &'static str,
    pub(super) words: String,
    pub(super) ticket: String,
}

/// The question before a PDF is made.
#[derive(Debug, Clone)]
pub(super) struct Question {
    pub(super) target: Target,
    pub(super) stops: Vec<String>,
    pub(super) replaces: Option<PathBuf>,
}

/// A laid-out run with the page that is shown of it.
#[derive(Debug)]
pub(super) struct Run {
    pub(super) document: Arc<Document>,
    pub(super) count: u64,
    pub(super) page: usize,
    pub(super) outline: Outline,
    pub(super) layers: Vec<Layer>,
    pub(super) slots: Vec<Rect>,
    pub(super) turner: String,
    pub(super) warnings: Vec<String>,
}

/// What is printed.
#[derive(Debug)]
pub(super) struct Printing {
    pub(super) list: Listing,
    pub(super) rows: Vec<Row>,
    ticked: BTreeSet<usize>,
    pub(super) copies: Entry,
    pub(super) sheets: Vec<(Option<SheetId>, LabelSheet)>,
    pub(super) sheet: String,
    pub(super) sheet_names: combo_box::State<String>,
    pub(super) start: Entry,
    pub(super) dots: String,
    pub(super) dots_names: combo_box::State<String>,
    /// What is printed is kept in mind.
    pub(super) note: bool,
    pub(super) run: Option<Run>,
    pub(super) problem: Option<String>,
    /// A long run is being laid out: its number.
    pub(super) laying: Option<u64>,
    pub(super) turns: u64,
    pub(super) path: Entry,
    pub(super) path_problem: Option<String>,
    pub(super) printer: Entry,
    pub(super) making: bool,
    pub(super) question: Option<Question>,
}

impl Printing {
    /// Of the one that is shown, one a page, or on the sheet that fits it.
    pub(super) fn new(snapshot: &Snapshot, paper: &PaperDesign, shown: usize, path: String) -> Self {
        let mut printing = Self {
            list: Listing::new("pinning-print"),
            rows: Vec::new(),
            ticked: BTreeSet::from([shown]),
            copies: Entry::new("1"),
            sheets: Vec::new(),
            sheet: ONE_A_PAGE.to_owned(),
            sheet_names: combo_box::State::new(Vec::new()),
            start: Entry::new("1"),
            dots: NO_PRINTER.to_owned(),
            dots_names: combo_box::State::new(Vec::new()),
            note: !snapshot.read_only,
            run: None,
            problem: None,
            laying: None,
            turns: 0,
            path: Entry::new(path),
            path_problem: None,
            printer: Entry::default(),
            making: false,
            question: None,
        };
        printing.list.select(Some(shown));
        printing.follow(snapshot, paper);
        printing
    }

    /// Takes sheets and printers from the book.
    pub(super) fn follow(&mut self, snapshot: &Snapshot, paper: &PaperDesign) {
        self.sheets = snapshot.sheets.iter().map(|(id, sheet)| (Some(*id), sheet.clone())).collect();
        for usual in sheets::usual_sheets() {
            if !self.sheets.iter().any(|(_, sheet)| sheet.name == usual.name) {
                self.sheets.push((None, usual));
            }
        }
        // Only sheets whose labels the paper fits on are offered.
        self.sheets
            .retain(|(_, sheet)| sheet.label_width_mm >= paper.width_mm && sheet.label_height_mm >= paper.height_mm);
        if self.chosen().is_none() {
            ONE_A_PAGE.clone_into(&mut self.sheet);
        }
        let names = std::iter::once(ONE_A_PAGE.to_owned());
        self.sheet_names =
            combo_box::State::new(names.chain(self.sheets.iter().map(|(_, sheet)| sheet.name.clone())).collect());
        let printers = std::iter::once(NO_PRINTER.to_owned());
        self.dots_names = combo_box::State::new(
            printers.chain(snapshot.printers.iter().map(|(_, printer)| printer.name.clone())).collect(),
        );
    }

    fn chosen(&self) -> Option<&(Option<SheetId>, LabelSheet)> {
        self.sheets.iter().find(|(_, sheet)| sheet.name == self.sheet)
    }

    /// Another sheet: it begins at its next free label.
    pub(super) fn choose_sheet(&mut self, name: String, snapshot: &Snapshot) {
        self.sheet = name;
        let next = self.chosen().and_then(|(id, _)| *id).and_then(|id| snapshot.begun_sheets.get(&id));
        self.start.set(next.copied().unwrap_or(1).to_string());
    }

    pub(super) fn is_on_sheet(&self) -> bool {
        self.chosen().is_some()
    }

    /// Words the list.
    pub(super) fn word(&mut self, subjects: &[Subject], preferences: &Preferences) {
        self.ticked.retain(|place| *place < subjects.len());
        self.rows = subjects
            .iter()
            .enumerate()
            .map(|(place, subject)| Row {
                tick: if self.ticked.contains(&place) { "×" } else { "" },
                words: subject.words.clone(),
                ticket: subject
                    .facts
                    .ticket
                    .map_or_else(String::new, |ticket| display::money(ticket.amount(), preferences)),
            })
            .collect();
    }

    pub(super) fn toggle(&mut self, place: usize) {
        if !self.ticked.remove(&place) {
            let _ = self.ticked.insert(place);
        }
    }

    pub(super) fn all(&mut self, all: bool, count: usize) {
        self.ticked = if all { (0..count).collect() } else { BTreeSet::new() };
    }

    pub(super) fn ticked(&self) -> impl Iterator<Item = usize> + '_ {
        self.ticked.iter().copied()
    }

    pub(super) fn typed_copies(&self, preferences: &Preferences) -> Result<u32, String> {
        parse::parse_count(self.copies.text(), 1..=MOST_COPIES, preferences).map_err(|problem| problem.to_string())
    }

    pub(super) fn typed_start(&self, preferences: &Preferences) -> Result<u32, String> {
        let grid = self.chosen().and_then(|(_, sheet)| sheets::grid(sheet).ok());
        let labels = grid.map_or(u32::MAX, |grid| grid.labels());
        parse::parse_count(self.start.text(), 1..=labels, preferences).map_err(|problem| problem.to_string())
    }

    /// What is to be laid out, as it is chosen now.
    pub(super) fn job(
        &self,
        paper: &PaperDesign,
        subjects: &[Subject],
        snapshot: &Snapshot,
        preferences: &Preferences,
    ) -> Result<Job, String> {
        let copies = self.typed_copies(preferences).map_err(|problem| format!("Copies: {problem}"))?;
        let start = if self.is_on_sheet() {
            self.typed_start(preferences).map_err(|problem| format!("Start at label: {problem}"))?
        } else {
            1
        };
        let printer = snapshot.printers.iter().find(|(_, printer)| printer.name == self.dots);
        Ok(Job {
            design: paper.clone(),
            papers: self
                .ticked()
                .filter_map(|place| subjects.get(place))
                .map(|subject| (subject.facts.clone(), copies))
                .collect(),
            sheet: self.chosen().map(|(_, sheet)| sheet.clone()),
            start,
            dots_per_inch: printer.map(|(_, printer)| printer.dots_per_inch),
        })
    }

    /// Shows a run.
    pub(super) fn show(&mut self, document: Arc<Document>, job_count: u64, tools: &mut Tools) {
        let page = self.run.as_ref().map_or(0, |run| run.page);
        let grid = self.chosen().and_then(|(_, sheet)| sheets::grid(sheet).ok());
        let slots = grid.map(|grid| (0..grid.labels()).map(|slot| grid.rect(slot)).collect()).unwrap_or_default();
        let mut warnings: Vec<String> = document.warnings.iter().take(MOST_WARNINGS).map(ToString::to_string).collect();
        let more = document.warnings.len().saturating_sub(MOST_WARNINGS);
        if more > 0 {
            warnings.push(format!("and {more} more; print fewer at once to see each"));
        }
        self.problem = None;
        self.run = Some(Run {
            document,
            count: job_count,
            page: 0,
            outline: Outline::default(),
            layers: Vec::new(),
            slots,
            turner: String::new(),
            warnings,
        });
        self.turn(page, tools);
    }

    /// Shows another page; beyond the last, the last.
    pub(super) fn turn(&mut self, page: usize, tools: &mut Tools) {
        let Some(run) = &mut self.run else { return };
        let pages = run.document.pages.len();
        run.page = page.min(pages.saturating_sub(1));
        run.turner = format!("page {} of {pages}", run.page + 1);
        let Some(page) = run.document.pages.get(run.page) else { return };
        // Pages are at most a metre wide.
        #[allow(clippy::cast_possible_truncation)]
        let size = [page.width_mm as f32, page.height_mm as f32];
        let [width, height] = size.map(|side| side.max(1.0));
        run.outline = Outline { width, height, ..Outline::default() };
        run.layers = laid::layers(&page.items, tools);
    }

    pub(super) fn is_ready(&self) -> bool {
        self.run.is_some() && self.laying.is_none() && !self.making
    }

    /// `12 price tags on 1 page`.
    pub(super) fn summary(&self, kind: PaperKind) -> String {
        let Some(run) = &self.run else { return kind.words().to_lowercase() };
        let pages = run.document.pages.len();
        let papers = if run.count == 1 { "" } else { "s" };
        let sheets = if pages == 1 { "page" } else { "pages" };
        format!("{} {}{papers} on {pages} {sheets}", run.count, kind.words().to_lowercase())
    }

    /// What is kept in mind of it: the tags, and the next free label of a sheet of the book.
    pub(super) fn noted(
        &self,
        kind: PaperKind,
        subjects: &[Subject],
        today: NaiveDate,
        preferences: &Preferences,
    ) -> Option<Noted> {
        let copies = self.typed_copies(preferences).ok()?;
        let tags: Vec<PrintedTag> = match kind {
            PaperKind::Tag => self
                .ticked()
                .filter_map(|place| subjects.get(place))
                .filter_map(|subject| {
                    Some(PrintedTag {
                        design: subject.design?,
                        channel: subject.channel.clone()?,
                        piece: subject.piece,
                        ticket: subject.facts.ticket?,
                        date: today,
                        copies,
                    })
                })
                .collect(),
            _ => Vec::new(),
        };
        let sheet = self.chosen().and_then(|(id, sheet)| {
            let next = self.run.as_ref()?.document.pages.last()?.places.last()?.number;
            let labels = sheet.columns.saturating_mul(sheet.rows).max(1);
            Some(((*id)?, next % labels + 1))
        });
        (!tags.is_empty() || sheet.is_some()).then_some((tags, sheet))
    }
}

/// Papers in a job.
pub(super) fn count(job: &Job) -> u64 {
    job.papers.iter().map(|(_, copies)| u64::from(*copies)).sum()
}

/// So long that laying it out would be felt.
pub(super) fn is_long(job: &Job) -> bool {
    count(job) > AT_ONCE || job.papers.len() > 40
}

/// Lays a job out.
pub(super) fn lay(
    job: &Job,
    pictures: &Pictures,
    voice: &Voice,
    shaper: &mut Shaper,
) -> Result<Arc<Document>, PaperProblem> {
    ready_for(shaper, &job.design.languages)?;
    voice.speaking(&job.design, |speeches| placed::layout(job, pictures, speeches, shaper)).map(Arc::new)
}
