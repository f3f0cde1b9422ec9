//! The pages in sight: laid out in the same frame where they are few, on a thread where that would be felt.

use super::Message;
use crate::exchange::fonts_found;
use crate::paper::fair_list::{self, FairList};
use crate::paper::page::{Item, Rect};
use crate::paper::picture::{Content, Image};
use crate::paper::preview::{Mark, Outliner};
use crate::paper::statement::{self, Statement};
use crate::paper::{Document, PaperProblem, Shaper};
use crate::studio::Language;
use crate::window::screen::Action;
use crate::window::work;
use iced::widget::canvas;
use iced::widget::image::Handle;
use std::sync::Arc;

/// Most lines or pieces that are laid out in the same frame.
const AT_ONCE: usize = 120;

/// Warnings told one by one; beyond it their number.
const MOST_WARNINGS: usize = 12;

/// What is laid out.
#[derive(Debug)]
pub(super) enum Job {
    /// A paper under a number.
    Paper(Box<Statement>),
    /// A price list.
    List(Box<FairList>),
}

impl Job {
    fn language(&self) -> Language {
        match self {
            Self::Paper(paper) => paper.language,
            Self::List(list) => list.language,
        }
    }

    /// What viewers call it.
    pub(super) fn title(&self) -> &str {
        match self {
            Self::Paper(paper) => &paper.title,
            Self::List(list) => &list.title,
        }
    }

    fn is_long(&self) -> bool {
        match self {
            Self::Paper(paper) => paper.table.lines.len() > AT_ONCE,
            Self::List(list) => list.pieces.len() > AT_ONCE,
        }
    }

    fn layout(&self, shaper: &mut Shaper) -> Result<Document, PaperProblem> {
        match self {
            Self::Paper(paper) => statement::layout(paper, shaper),
            Self::List(list) => fair_list::layout(list, shaper),
        }
    }
}

/// Pages that are shown.
#[derive(Debug)]
pub(super) struct Laid {
    pub(super) document: Arc<Document>,
    pub(super) title: String,
    pub(super) language: Language,
    pub(super) page: usize,
    pub(super) marks: Vec<Mark>,
    /// Photos with their places.
    pub(super) pictures: Vec<(Rect, Handle)>,
    pub(super) cache: canvas::Cache,
    /// `page 1 of 3`.
    pub(super) turner: String,
    /// Warnings in words.
    pub(super) warnings: Vec<String>,
}

impl Laid {
    /// `1 page`.
    pub(super) fn pages(&self) -> String {
        match self.document.pages.len() {
            1 => "1 page".to_owned(),
            pages => format!("{pages} pages"),
        }
    }

    /// Width and height of the page shown, mm.
    #[allow(clippy::cast_possible_truncation)] // at most a metre, to be drawn on a screen
    pub(super) fn size_mm(&self) -> [f32; 2] {
        let page = self.document.pages.get(self.page);
        page.map_or([1.0, 1.0], |page| [page.width_mm.max(1.0) as f32, page.height_mm.max(1.0) as f32])
    }
}

/// The easel the pages stand on.
#[derive(Debug)]
pub(super) struct Easel {
    shaper: Shaper,
    outliner: Outliner,
    /// Photos that were shown, ready for the screen.
    handles: Vec<(Arc<Image>, Handle)>,
    pub(super) laid: Option<Laid>,
    /// Why there are no pages.
    pub(super) problem: Option<String>,
    run: u64,
    pub(super) at_work: bool,
    /// Long pages wait until they are asked for.
    pub(super) waits: bool,
}

impl Easel {
    pub(super) fn new() -> Self {
        Self {
            shaper: Shaper::new(),
            outliner: Outliner::new(),
            handles: Vec::new(),
            laid: None,
            problem: None,
            run: 0,
            at_work: false,
            waits: false,
        }
    }

    /// Pages that cannot be laid out now wait until they are asked for.
    pub(super) fn wait(&mut self) {
        self.clear(None);
        self.waits = true;
    }

    /// Nothing is shown, and why.
    pub(super) fn clear(&mut self, why: Option<String>) {
        self.run += 1;
        self.at_work = false;
        self.waits = false;
        self.laid = None;
        self.problem = why;
    }

    /// Lays pages out anew; the page that is turned to stays.
    pub(super) fn lay(&mut self, job: Job) -> Action<Message> {
        self.run += 1;
        self.at_work = false;
        self.waits = false;
        if job.is_long() {
            let (run, language, title) = (self.run, job.language(), job.title().to_owned());
            self.at_work = true;
            self.problem = None;
            let laying = work::apart(move || {
                let mut shaper = fonts_found::shaper(&[language]).map_err(|problem| problem.to_string())?;
                job.layout(&mut shaper).map(Arc::new).map_err(|problem| problem.to_string())
            });
            return Action::Run(
                laying.map(move |done| Message::Laid(run, title.clone(), language, done.and_then(|laid| laid))),
            );
        }
        let ready = match self.shaper.can_write(job.language()) {
            Ok(()) => Ok(()),
            Err(_) => fonts_found::shaper(&[job.language()]).map(|shaper| self.shaper = shaper),
        };
        match ready.and_then(|()| job.layout(&mut self.shaper)) {
            Ok(document) => self.show(Arc::new(document), job.title().to_owned(), job.language()),
            Err(problem) => self.clear(Some(problem.to_string())),
        }
        Action::None
    }

    /// Long pages came back; those that were overtaken are dropped.
    pub(super) fn came(&mut self, run: u64, title: String, language: Language, done: Result<Arc<Document>, String>) {
        if run != self.run {
            return;
        }
        self.at_work = false;
        match done {
            Ok(document) => self.show(document, title, language),
            Err(reason) => self.clear(Some(reason)),
        }
    }

    fn show(&mut self, document: Arc<Document>, title: String, language: Language) {
        let page = self.laid.as_ref().map_or(0, |laid| laid.page);
        let mut warnings: Vec<String> = document.warnings.iter().take(MOST_WARNINGS).map(ToString::to_string).collect();
        let more = document.warnings.len().saturating_sub(MOST_WARNINGS);
        if more > 0 {
            warnings.push(format!("and {more} more"));
        }
        self.problem = None;
        self.laid = Some(Laid {
            document,
            title,
            language,
            page: 0,
            marks: Vec::new(),
            pictures: Vec::new(),
            cache: canvas::Cache::new(),
            turner: String::new(),
            warnings,
        });
        self.turn(page);
    }

    /// Shows another page; beyond the last, the last.
    pub(super) fn turn(&mut self, page: usize) {
        let Some(laid) = &mut self.laid else { return };
        let pages = laid.document.pages.len();
        laid.page = page.min(pages.saturating_sub(1));
        laid.marks.clear();
        laid.pictures.clear();
        for item in laid.document.pages.get(laid.page).map(|page| page.items.as_slice()).unwrap_or_default() {
            if let Item::Picture(placed) = item {
                let known = self.handles.iter().find(|(image, _)| Arc::ptr_eq(image, &placed.image));
                let handle = known.map_or_else(|| handle(&placed.image), |(_, handle)| handle.clone());
                if known.is_none() {
                    self.handles.push((Arc::clone(&placed.image), handle.clone()));
                }
                laid.pictures.push((placed.rect, handle));
            } else {
                laid.marks.push(self.outliner.mark(item));
            }
        }
        laid.cache.clear();
        laid.turner = format!("page {} of {pages}", laid.page + 1);
    }

    /// Photos of the book were read anew: those shown before are let go.
    pub(super) fn forget_photos(&mut self) {
        self.handles.clear();
    }
}

/// A picture for the screen.
fn handle(image: &Image) -> Handle {
    match &image.content {
        Content::Jpeg { bytes, .. } => Handle::from_bytes(bytes.to_vec()),
        Content::Pixels(pixels) => Handle::from_rgba(image.width, image.height, pixels.to_vec()),
    }
}
