//! What the room keeps, and how it brings itself up to date.

use super::laying::{Choices, Job, Laid, What};
use super::message::{LayoutFault, Message, Zoom};
use super::out::{self, Outgoing, Target};
use super::pieces::{self, Chosen, Piece, Row};
use super::sheet_form::SheetForm;
use crate::book::{Snapshot, StockRow};
use crate::exchange::fonts_found;
use crate::measure::parse;
use crate::paper::preview::Outliner;
use crate::paper::{CardStyle, Document, PaperSize, Shaper, Symbology, sheets};
use crate::studio::{BookDesign, ChannelId, LabelSheet, Language, PriceList, Settings, SheetId, StudioRates};
use crate::window::screen::{Action, Notice};
use crate::window::widget::{Entry, Listing, modal};
use crate::window::{Shared, work};
use iced::widget::combo_box;
use std::path::PathBuf;
use std::sync::Arc;

/// Most copies of one design in a run.
pub(super) const MOST_COPIES: u32 = 2_000;

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    /// The room was looked at: from then on it follows the book.
    pub(super) seen: Option<Seen>,
    pub(super) pieces: Vec<Piece>,
    pub(super) rows: Vec<Row>,
    pub(super) chosen: Chosen,
    pub(super) filter: String,
    pub(super) list: Listing,
    pub(super) copies: Entry,
    pub(super) channels: Vec<(Option<ChannelId>, String)>,
    pub(super) choices: Choices,
    pub(super) sheets: Vec<(Option<SheetId>, LabelSheet)>,
    pub(super) sheet: String,
    pub(super) sheet_names: combo_box::State<String>,
    pub(super) start: Entry,
    pub(super) zoom: Zoom,
    pub(super) laid: Option<Laid>,
    pub(super) laying: Option<(u64, Job)>,
    run: u64,
    /// The book changed under a long run: its pages wait until they are asked for.
    pub(super) stale: bool,
    pub(super) problem: Option<String>,
    pub(super) form: Option<SheetForm>,
    pub(super) path: Entry,
    pub(super) path_problem: Option<String>,
    pub(super) printer: Entry,
    pub(super) can_print: bool,
    pub(super) asking: Option<Asking>,
    pub(super) making: bool,
    shaper: Shaper,
    /// The language the shaper must have the letters of.
    writes: Language,
    outliner: Outliner,
}

/// The parts of the book the papers follow from.
#[derive(Debug, Clone)]
pub(super) struct Seen {
    designs: Arc<Vec<BookDesign>>,
    stock: Arc<Vec<StockRow>>,
    rates: Arc<StudioRates>,
    settings: Arc<Settings>,
    lists: Arc<Vec<PriceList>>,
    sheets: Arc<Vec<(SheetId, LabelSheet)>>,
}

impl Seen {
    fn of(snapshot: &Snapshot) -> Self {
        Self {
            designs: Arc::clone(&snapshot.designs),
            stock: Arc::clone(&snapshot.stock),
            rates: Arc::clone(&snapshot.rates),
            settings: Arc::clone(&snapshot.settings),
            lists: Arc::clone(&snapshot.price_lists),
            sheets: Arc::clone(&snapshot.sheets),
        }
    }

    pub(super) fn is(&self, snapshot: &Snapshot) -> bool {
        Arc::ptr_eq(&self.designs, &snapshot.designs)
            && Arc::ptr_eq(&self.stock, &snapshot.stock)
            && Arc::ptr_eq(&self.rates, &snapshot.rates)
            && Arc::ptr_eq(&self.settings, &snapshot.settings)
            && Arc::ptr_eq(&self.lists, &snapshot.price_lists)
            && Arc::ptr_eq(&self.sheets, &snapshot.sheets)
    }
}

/// The question before a PDF is made.
#[derive(Debug, Clone)]
pub(super) struct Asking {
    pub(super) target: Target,
    /// Stops of the designs on it.
    pub(super) stops: Vec<String>,
    /// A file that would be replaced.
    pub(super) replaces: Option<PathBuf>,
}

impl State {
    /// The room before anyone looked into it.
    pub(super) fn empty() -> Self {
        Self {
            seen: None,
            pieces: Vec::new(),
            rows: Vec::new(),
            chosen: Chosen::default(),
            filter: String::new(),
            list: Listing::new("papers"),
            copies: Entry::new("1"),
            channels: Vec::new(),
            choices: Choices {
                what: What::Tags,
                channel: None,
                symbology: Symbology::Qr,
                style: CardStyle::Flat,
                paper: PaperSize::A4,
            },
            sheets: Vec::new(),
            sheet: String::new(),
            sheet_names: combo_box::State::new(Vec::new()),
            start: Entry::new("1"),
            zoom: Zoom::Fit,
            laid: None,
            laying: None,
            run: 0,
            stale: false,
            problem: None,
            form: None,
            path: Entry::default(),
            path_problem: None,
            printer: Entry::default(),
            can_print: crate::exchange::print_queue::can_print(),
            asking: None,
            making: false,
            shaper: Shaper::new(),
            writes: Language::English,
            outliner: Outliner::new(),
        }
    }

    /// Takes designs, channels and sheets from the book.
    pub(super) fn follow(&mut self, shared: &Shared) {
        let snapshot = &shared.snapshot;
        self.seen = Some(Seen::of(snapshot));
        self.writes = snapshot.settings.paper_language;
        self.pieces = pieces::pieces(snapshot);
        self.channels = pieces::channels(snapshot, &self.pieces);
        if !self.channels.iter().any(|(id, _)| *id == self.choices.channel) {
            self.choices.channel = None;
        }
        self.sheets = snapshot.sheets.iter().map(|(id, sheet)| (Some(*id), sheet.clone())).collect();
        for usual in sheets::usual_sheets() {
            if !self.sheets.iter().any(|(_, sheet)| sheet.name == usual.name) {
                self.sheets.push((None, usual));
            }
        }
        if self.chosen_sheet().is_none() {
            self.sheet = self.sheets.first().map(|(_, sheet)| sheet.name.clone()).unwrap_or_default();
        }
        self.sheet_names = combo_box::State::new(self.sheets.iter().map(|(_, sheet)| sheet.name.clone()).collect());
        self.word(shared);
    }

    pub(super) fn chosen_sheet(&self) -> Option<&(Option<SheetId>, LabelSheet)> {
        self.sheets.iter().find(|(_, sheet)| sheet.name == self.sheet)
    }

    /// Words the rows of the list anew.
    pub(super) fn word(&mut self, shared: &Shared) {
        let kept = self.selected().map(|row| row.id);
        self.rows =
            pieces::rows(&self.pieces, &self.chosen, &self.filter, &shared.snapshot, self.choices.channel.as_ref());
        let place = kept.and_then(|id| self.rows.iter().position(|row| row.id == id));
        self.list.select(place.or((!self.rows.is_empty()).then_some(0)));
        self.word_copies(place.is_some());
    }

    /// Fills in the copies of the selected design; what is half-typed for the same one stays.
    fn word_copies(&mut self, same: bool) {
        if let Some(copies) = self.selected().map(|row| row.copies.clone())
            && !(same && self.copies.is_changed())
        {
            self.copies.set(copies);
        }
    }

    pub(super) fn selected(&self) -> Option<&Row> {
        self.list.selected().and_then(|place| self.rows.get(place))
    }

    /// Another row may be selected.
    pub(super) fn select(&mut self) {
        self.word_copies(false);
    }

    /// The first label to use, as typed.
    pub(super) fn typed_start(&self, shared: &Shared) -> Result<u32, String> {
        let labels =
            self.chosen_sheet().and_then(|(_, sheet)| sheets::grid(sheet).ok()).map_or(u32::MAX, |grid| grid.labels());
        parse::parse_count(self.start.text(), 1..=labels, &shared.preferences).map_err(|problem| problem.to_string())
    }

    /// What is to be laid out, as it is chosen now.
    fn job(&mut self, shared: &Shared) -> Result<Job, String> {
        self.run += 1;
        self.laying = None;
        self.stale = false;
        let start = match (self.choices.what, self.typed_start(shared)) {
            (What::Cards, _) => 1,
            (What::Tags, typed) => typed.map_err(|problem| format!("Start at label: {problem}"))?,
        };
        let (_, sheet) = self.chosen_sheet().ok_or("there is no sheet to print on: make one")?;
        Ok(Job::new(&self.pieces, &self.chosen, &self.choices, sheet, start, &shared.snapshot))
    }

    /// Lays the pages out anew: at once, or on a thread when that would be felt.
    pub(super) fn lay(&mut self, shared: &Shared) -> Action<Message> {
        match self.job(shared) {
            Ok(job) if job.is_long() => {
                let run = self.run;
                self.laying = Some((run, job.clone()));
                self.problem = None;
                let languages = [shared.settings().paper_language];
                let work = work::apart(move || job.layout(&mut fonts_found::shaper(&languages)?).map(Arc::new));
                Action::Run(work.map(move |done| Message::Laid(run, LayoutFault::of(done))))
            }
            Ok(job) => {
                self.lay_now(&job);
                Action::None
            }
            Err(problem) => self.cannot(problem),
        }
    }

    /// Lays a short run out anew where nothing can be set going; a long one waits until it is asked for.
    pub(super) fn renew(&mut self, shared: &Shared) {
        match self.job(shared) {
            Ok(job) if job.is_long() => {
                self.laid = None;
                self.problem = None;
                self.stale = true;
            }
            Ok(job) => self.lay_now(&job),
            Err(problem) => {
                let _ = self.cannot(problem);
            }
        }
    }

    fn lay_now(&mut self, job: &Job) {
        if self.shaper.can_write(self.writes).is_err() {
            match fonts_found::shaper(&[self.writes]) {
                Ok(shaper) => self.shaper = shaper,
                Err(problem) => {
                    let _ = self.cannot(problem.to_string());
                    return;
                }
            }
        }
        match job.layout(&mut self.shaper) {
            Ok(document) => self.show(Arc::new(document), job),
            Err(problem) => {
                let _ = self.cannot(problem.to_string());
            }
        }
    }

    /// A long run came back; one that was overtaken is dropped.
    pub(super) fn laid_out(&mut self, run: u64, done: Result<Arc<Document>, LayoutFault>) -> Action<Message> {
        match self.laying.take() {
            Some((wanted, job)) if wanted == run => match done {
                Ok(document) => {
                    self.show(document, &job);
                    Action::None
                }
                Err(fault) => self.cannot(fault.to_string()),
            },
            other => {
                self.laying = other;
                Action::None
            }
        }
    }

    fn show(&mut self, document: Arc<Document>, job: &Job) {
        let page = self.laid.as_ref().map_or(0, |laid| laid.page);
        self.laid = Some(Laid::new(document, job, page, &mut self.outliner));
        self.problem = None;
    }

    fn cannot(&mut self, problem: String) -> Action<Message> {
        self.laid = None;
        self.problem = Some(problem);
        Action::None
    }

    pub(super) fn turn(&mut self, page: usize) {
        if let Some(laid) = &mut self.laid {
            laid.turn(page, &mut self.outliner);
        }
    }

    /// Pages stand ready and nothing is being made.
    pub(super) fn is_ready(&self) -> bool {
        self.laid.is_some() && self.laying.is_none() && !self.making
    }

    /// Makes the PDF, after a question where there is a stop on a route or a file that would be replaced.
    pub(super) fn make(&mut self, target: Target, replaces: Option<PathBuf>, shared: &Shared) -> Action<Message> {
        if !self.is_ready() {
            let reason = self.problem.clone().unwrap_or_else(|| "the pages are not laid out yet".to_owned());
            return Action::Notify(Notice::Trouble(reason));
        }
        let printed = self.pieces.iter().filter(|piece| self.chosen.printed(piece.id) > 0);
        let stops: Vec<String> = printed.flat_map(|piece| piece.stops.iter().cloned()).collect();
        if stops.is_empty() && replaces.is_none() {
            return self.send(target, shared);
        }
        self.asking = Some(Asking { target, stops, replaces });
        Action::Run(modal::enter())
    }

    /// Makes the PDF on a thread.
    pub(super) fn send(&mut self, target: Target, shared: &Shared) -> Action<Message> {
        self.asking = None;
        let Some(laid) = &self.laid else { return Action::None };
        let outgoing = Outgoing {
            document: Arc::clone(&laid.document),
            what: self.choices.what,
            author: shared.settings().studio_name.clone(),
            language: self.writes,
            summary: laid.summary(self.choices.what),
            target,
        };
        self.making = true;
        let work = work::apart(move || out::send(&outgoing));
        Action::Run(work.map(|done| Message::Made(done.and_then(|made| made))))
    }
}
