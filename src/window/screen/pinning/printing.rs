//! A paper printed: of what, how often, on what sheet, from which label on.

use super::laid::{self, Layer, Outline, Tools};
use super::message::Message;
use super::speech::{Voice, ready_for};
use super::subjects::Subject;
use crate::book::Snapshot;
use crate::measure::{Preferences, display, parse};
use crate::paper::page::Rect;
use crate::paper::pinned::Pictures;
use crate::paper::placed::{self, Job};
use crate::paper::{Document, PaperProblem, Shaper, Watch, sheets};
use crate::studio::{LabelSheet, PaperDesign, PaperKind, PrintedTag, SheetId};
use crate::window::screen::papers::OnItsWay;
use crate::window::screen::way_out;
use crate::window::widget::{Entry, Listing};
use crate::window::work::{self, Underway};
use chrono::NaiveDate;
use iced::Task;
use iced::widget::combo_box;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Most copies of each.
pub(super) const MOST_COPIES: u32 = 2_000;
/// Longest run that is laid out in the same frame, papers.
const AT_ONCE: u64 = 200;
/// Each on a page of its own.
pub(super) const ONE_A_PAGE: &str = "one a page";
/// Warnings told one by one.
const MOST_WARNINGS: usize = 12;

/// A line of the list.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) tick: &'static str,
    pub(super) words: String,
    pub(super) ticket: String,
}

/// A long run that is being laid out.
#[derive(Debug)]
pub(super) struct Laying {
    pub(super) turn: u64,
    /// How far it is, a whole number of hundredths.
    pub(super) percent: u64,
    /// Dropping it breaks it off.
    _underway: Underway,
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
    /// The label the book says is free next on the chosen sheet, from 1.
    pub(super) begun: u32,
    /// What is printed is kept in mind.
    pub(super) note: bool,
    pub(super) run: Option<Run>,
    pub(super) problem: Option<String>,
    pub(super) laying: Option<Laying>,
    pub(super) turns: u64,
    pub(super) out: way_out::State,
    /// What is on its way out.
    pub(super) on_its_way: Option<OnItsWay>,
}

impl Printing {
    /// Of the one that is shown, one a page, or on the sheet that fits it.
    pub(super) fn new(snapshot: &Snapshot, paper: &PaperDesign, shown: usize) -> Self {
        let mut printing = Self {
            list: Listing::new("pinning-print"),
            rows: Vec::new(),
            ticked: BTreeSet::from([shown]),
            copies: Entry::new("1"),
            sheets: Vec::new(),
            sheet: ONE_A_PAGE.to_owned(),
            sheet_names: combo_box::State::new(Vec::new()),
            start: Entry::new("1"),
            begun: 1,
            note: !snapshot.read_only,
            run: None,
            problem: None,
            laying: None,
            turns: 0,
            out: way_out::State::new(),
            on_its_way: None,
        };
        printing.list.select(Some(shown));
        printing.follow(snapshot, paper);
        printing
    }

    /// Takes sheets from the book, and goes on where they were begun.
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
        self.go_on_sheet(snapshot, false);
    }

    fn chosen(&self) -> Option<&(Option<SheetId>, LabelSheet)> {
        self.sheets.iter().find(|(_, sheet)| sheet.name == self.sheet)
    }

    /// Another sheet: it begins at its next free label.
    pub(super) fn choose_sheet(&mut self, name: String, snapshot: &Snapshot) {
        self.sheet = name;
        self.go_on_sheet(snapshot, true);
    }

    fn go_on_sheet(&mut self, snapshot: &Snapshot, another: bool) {
        let next = self.book_sheet().and_then(|id| snapshot.begun_sheets.get(&id)).copied().unwrap_or(1);
        if another || next != self.begun {
            self.begun = next;
            self.start.set(next.to_string());
        }
    }

    /// The sheet, where it is one of the book.
    pub(super) fn book_sheet(&self) -> Option<SheetId> {
        self.chosen().and_then(|(id, _)| *id)
    }

    /// The dots per inch of the printer chosen, where they are known.
    pub(super) fn dots_per_inch(&self) -> Option<u32> {
        self.out.printer().map(|printer| printer.dots_per_inch)
    }

    /// Lays a long run out on a thread.
    pub(super) fn lay_apart(&mut self, job: Job, pictures: Pictures, voice: Voice) -> Task<Message> {
        let turn = self.turns;
        let (underway, task) = work::watched(
            move |watch| lay(&job, &pictures, &voice, &mut Shaper::new(), watch),
            move |word| Message::Laying(turn, word),
        );
        self.laying = Some(Laying { turn, percent: 0, _underway: underway });
        task
    }

    /// A long run is not laid out further; its pages wait until they are asked for.
    pub(super) fn stop_laying(&mut self) {
        if self.laying.take().is_some() {
            self.run = None;
            self.problem = None;
        }
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
        preferences: &Preferences,
    ) -> Result<Job, String> {
        let copies = self.typed_copies(preferences).map_err(|problem| format!("Copies: {problem}"))?;
        let start = if self.is_on_sheet() {
            self.typed_start(preferences).map_err(|problem| format!("Start at label: {problem}"))?
        } else {
            1
        };
        Ok(Job {
            design: paper.clone(),
            papers: self
                .ticked()
                .filter_map(|place| subjects.get(place))
                .map(|subject| (subject.facts.clone(), copies))
                .collect(),
            sheet: self.chosen().map(|(_, sheet)| sheet.clone()),
            start,
            dots_per_inch: self.dots_per_inch(),
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
        self.run.is_some() && self.laying.is_none()
    }

    /// `12 price tags on 1 page`.
    pub(super) fn summary(&self, kind: PaperKind) -> String {
        let Some(run) = &self.run else { return kind.words().to_lowercase() };
        let pages = run.document.pages.len();
        let papers = if run.count == 1 { "" } else { "s" };
        let sheets = if pages == 1 { "page" } else { "pages" };
        format!("{} {}{papers} on {pages} {sheets}", run.count, kind.words().to_lowercase())
    }

    /// What is to be kept in mind of the run that leaves now: the tags, and the sheet of the book.
    pub(super) fn leaves(&self, kind: PaperKind, subjects: &[Subject], today: NaiveDate) -> Option<OnItsWay> {
        let tag = |subject: &Subject| {
            Some(PrintedTag {
                design: subject.design?,
                channel: subject.channel.clone()?,
                piece: subject.piece,
                ticket: subject.facts.ticket?,
                date: today,
                copies: 1,
            })
        };
        let printed = self.ticked().filter_map(|place| subjects.get(place));
        let tags = match kind {
            PaperKind::Tag => printed.map(tag).collect(),
            _ => Vec::new(),
        };
        let sheet = self.chosen().and_then(|(id, sheet)| Some(((*id)?, sheet.columns.saturating_mul(sheet.rows))));
        Some(OnItsWay { document: Arc::clone(&self.run.as_ref()?.document), tags, sheet })
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

/// Lays a job out; `watch` is told how far it is and may break it off.
pub(super) fn lay(
    job: &Job,
    pictures: &Pictures,
    voice: &Voice,
    shaper: &mut Shaper,
    watch: &mut dyn Watch,
) -> Result<Arc<Document>, PaperProblem> {
    ready_for(shaper, &job.design.languages)?;
    voice.speaking(&job.design, |speeches| placed::layout_watched(job, pictures, speeches, shaper, watch)).map(Arc::new)
}
