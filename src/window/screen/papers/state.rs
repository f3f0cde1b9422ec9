//! What the room keeps, and how it brings itself up to date.

use super::laying::{Choices, Job, Laid, What};
use super::message::{Message, Zoom};
use super::pieces::{self, Chosen, Filter, Piece, Row};
use super::printed::{self, Noted, OnItsWay, OutOfDate};
use super::sheet_form::SheetForm;
use crate::book::{Snapshot, StockRow};
use crate::exchange::fonts_found;
use crate::measure::parse;
use crate::paper::preview::Outliner;
use crate::paper::{CardStyle, Document, PaperProblem, PaperSize, Shaper, Symbology, Unwatched, sheets};
use crate::studio::{
    BookDesign, ChannelId, LabelSheet, Language, PriceList, PrintedTag, Printer, PrinterId, Settings, SheetId,
    StudioRates,
};
use crate::window::Shared;
use crate::window::screen::Action;
use crate::window::screen::way_out::{self, Going, Leaving};
use crate::window::widget::{Entry, Listing};
use crate::window::work::{self, Underway, Word};
use iced::widget::combo_box;
use std::collections::BTreeMap;
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
    pub(super) laying: Option<Laying>,
    run: u64,
    /// Why pages of a long run wait until they are asked for.
    pub(super) waits: Option<&'static str>,
    pub(super) problem: Option<String>,
    pub(super) form: Option<SheetForm>,
    pub(super) outdated: OutOfDate,
    /// Only tags that are out of date are shown.
    pub(super) outdated_only: bool,
    /// The label the book says is free next on the chosen sheet, from 1.
    pub(super) begun: u32,
    /// What is printed is kept in mind.
    pub(super) note: bool,
    pub(super) out: way_out::State,
    /// What is on its way out.
    on_its_way: Option<OnItsWay>,
    shaper: Shaper,
    /// The language the shaper must have the letters of.
    writes: Language,
    outliner: Outliner,
}

/// A long run that is being laid out.
#[derive(Debug)]
pub(super) struct Laying {
    run: u64,
    job: Job,
    /// How far it is, a whole number of hundredths.
    pub(super) percent: u64,
    /// Dropping it breaks it off.
    _underway: Underway,
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
    printers: Arc<Vec<(PrinterId, Printer)>>,
    begun: Arc<BTreeMap<SheetId, u32>>,
    printed: Arc<Vec<PrintedTag>>,
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
            printers: Arc::clone(&snapshot.printers),
            begun: Arc::clone(&snapshot.begun_sheets),
            printed: Arc::clone(&snapshot.printed_tags),
        }
    }

    /// Designs and all that their papers say are as they were.
    fn has_pieces_of(&self, snapshot: &Snapshot) -> bool {
        Arc::ptr_eq(&self.designs, &snapshot.designs)
            && Arc::ptr_eq(&self.stock, &snapshot.stock)
            && Arc::ptr_eq(&self.rates, &snapshot.rates)
            && Arc::ptr_eq(&self.settings, &snapshot.settings)
            && Arc::ptr_eq(&self.lists, &snapshot.price_lists)
    }

    pub(super) fn is(&self, snapshot: &Snapshot) -> bool {
        self.has_pieces_of(snapshot)
            && Arc::ptr_eq(&self.sheets, &snapshot.sheets)
            && Arc::ptr_eq(&self.printers, &snapshot.printers)
            && Arc::ptr_eq(&self.begun, &snapshot.begun_sheets)
            && Arc::ptr_eq(&self.printed, &snapshot.printed_tags)
    }
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
                dots_per_inch: None,
            },
            sheets: Vec::new(),
            sheet: String::new(),
            sheet_names: combo_box::State::new(Vec::new()),
            start: Entry::new("1"),
            zoom: Zoom::Fit,
            laid: None,
            laying: None,
            run: 0,
            waits: None,
            problem: None,
            form: None,
            outdated: OutOfDate::default(),
            outdated_only: false,
            begun: 1,
            note: true,
            out: way_out::State::new(),
            on_its_way: None,
            shaper: Shaper::new(),
            writes: Language::English,
            outliner: Outliner::new(),
        }
    }

    /// Takes designs, channels, sheets and what was printed from the book.
    pub(super) fn follow(&mut self, shared: &Shared) {
        let snapshot = &shared.snapshot;
        if !self.seen.as_ref().is_some_and(|seen| seen.has_pieces_of(snapshot)) {
            self.writes = snapshot.settings.paper_language;
            self.pieces = pieces::pieces(snapshot);
            self.channels = pieces::channels(snapshot, &self.pieces);
            if !self.channels.iter().any(|(id, _)| *id == self.choices.channel) {
                self.choices.channel = None;
            }
        }
        self.seen = Some(Seen::of(snapshot));
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
        self.go_on_sheet(shared, false);
        self.outdated = OutOfDate::of(snapshot, self.choices.channel.as_ref());
        if self.outdated_only {
            let outdated = &self.outdated;
            self.chosen.ticked.retain(|id| outdated.has(*id));
        }
        self.word(shared);
    }

    /// Another sheet, or one the book knows more of: it begins at its next free label.
    pub(super) fn go_on_sheet(&mut self, shared: &Shared, another: bool) {
        let labels = self.labels_on_sheet();
        let begun = self.chosen_sheet().and_then(|(id, _)| *id).and_then(|id| shared.snapshot.begun_sheets.get(&id));
        let next = begun.copied().filter(|next| labels.is_none_or(|labels| *next <= labels)).unwrap_or(1);
        if another || next != self.begun {
            self.begun = next;
            self.start.set(next.to_string());
        }
    }

    /// Labels on the chosen sheet, where its measures work.
    fn labels_on_sheet(&self) -> Option<u32> {
        self.chosen_sheet().and_then(|(_, sheet)| sheets::grid(sheet).ok()).map(|grid| grid.labels())
    }

    /// Only tags that are out of date are shown and printed, or all are shown.
    pub(super) fn turn_outdated(&mut self) {
        self.outdated_only = !self.outdated_only;
        if self.outdated_only {
            self.filter.clear();
            self.chosen.ticked = self.outdated.designs().collect();
        }
    }

    /// Another channel.
    pub(super) fn choose_channel(&mut self, channel: Option<ChannelId>, shared: &Shared) {
        self.choices.channel = channel;
        self.outdated.choose(&shared.snapshot, self.choices.channel.as_ref());
        if self.outdated_only {
            self.chosen.ticked = self.outdated.designs().collect();
        }
    }

    pub(super) fn chosen_sheet(&self) -> Option<&(Option<SheetId>, LabelSheet)> {
        self.sheets.iter().find(|(_, sheet)| sheet.name == self.sheet)
    }

    /// The sheet it is printed on, where it is one of the book: only tags are printed on sheets of labels.
    pub(super) fn book_sheet(&self) -> Option<SheetId> {
        self.chosen_sheet().and_then(|(id, _)| *id).filter(|_| self.choices.what == What::Tags)
    }

    /// Words the rows of the list anew.
    pub(super) fn word(&mut self, shared: &Shared) {
        let kept = self.selected().map(|row| row.id);
        let filter =
            Filter { words: &self.filter, outdated_only: self.outdated_only, channel: self.choices.channel.as_ref() };
        self.rows = pieces::rows(&self.pieces, &self.chosen, filter, &self.outdated, &shared.snapshot);
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
        let labels = self.labels_on_sheet().unwrap_or(u32::MAX);
        parse::parse_count(self.start.text(), 1..=labels, &shared.preferences).map_err(|problem| problem.to_string())
    }

    /// What is to be laid out, as it is chosen now.
    fn job(&mut self, shared: &Shared) -> Result<Job, String> {
        self.run += 1;
        self.laying = None;
        self.waits = None;
        let start = match (self.choices.what, self.typed_start(shared)) {
            (What::Cards, _) => 1,
            (What::Tags, typed) => typed.map_err(|problem| format!("Start at label: {problem}"))?,
        };
        let (_, sheet) = self.chosen_sheet().ok_or("there is no sheet to print on: make one")?;
        Ok(Job::new(&self.pieces, &self.chosen, &self.choices, sheet, start, &shared.snapshot))
    }

    /// The pages stand as they would be laid out.
    fn stands(&mut self, job: &Job) -> bool {
        let stands = self.laid.as_ref().is_some_and(|laid| laid.job == *job && laid.used == self.used());
        if stands {
            self.problem = None;
        }
        stands
    }

    /// Labels of the begun sheet that were used before.
    fn used(&self) -> u32 {
        self.begun.saturating_sub(1)
    }

    /// Lays the pages out anew: at once, or on a thread when that would be felt.
    pub(super) fn lay(&mut self, shared: &Shared) -> Action<Message> {
        match self.job(shared) {
            Ok(job) if self.stands(&job) => Action::None,
            Ok(job) if job.is_long() => {
                let run = self.run;
                let languages = [shared.settings().paper_language];
                let (underway, task) = work::watched(
                    {
                        let job = job.clone();
                        move |watch| job.layout(&mut fonts_found::shaper(&languages)?, watch).map(Arc::new)
                    },
                    move |word| Message::Laying(run, word),
                );
                self.laying = Some(Laying { run, job, percent: 0, _underway: underway });
                self.problem = None;
                Action::Run(task)
            }
            Ok(job) => {
                self.lay_now(job);
                Action::None
            }
            Err(problem) => self.cannot(problem),
        }
    }

    /// Lays a short run out anew where nothing can be set going; a long one waits until it is asked for.
    pub(super) fn renew(&mut self, shared: &Shared) {
        match self.job(shared) {
            Ok(job) if self.stands(&job) => {}
            Ok(job) if job.is_long() => self.wait("The book has changed."),
            Ok(job) => self.lay_now(job),
            Err(problem) => {
                let _ = self.cannot(problem);
            }
        }
    }

    fn wait(&mut self, why: &'static str) {
        self.laid = None;
        self.laying = None;
        self.problem = None;
        self.waits = Some(why);
    }

    /// A long run is not laid out further.
    pub(super) fn stop_laying(&mut self) {
        if self.laying.is_some() {
            self.run += 1;
            self.wait("The pages are not laid out.");
        }
    }

    fn lay_now(&mut self, job: Job) {
        if self.shaper.can_write(self.writes).is_err() {
            match fonts_found::shaper(&[self.writes]) {
                Ok(shaper) => self.shaper = shaper,
                Err(problem) => {
                    let _ = self.cannot(problem.to_string());
                    return;
                }
            }
        }
        match job.layout(&mut self.shaper, &mut Unwatched) {
            Ok(document) => self.show(Arc::new(document), job),
            Err(problem) => {
                let _ = self.cannot(problem.to_string());
            }
        }
    }

    /// Word of a long run; of one that was overtaken it is dropped.
    pub(super) fn laying_told(&mut self, run: u64, word: Word<Result<Arc<Document>, PaperProblem>>) -> Action<Message> {
        let Some(laying) = self.laying.as_mut().filter(|laying| laying.run == run) else { return Action::None };
        let done = match word {
            Word::Come(done, of) => {
                laying.percent = done.saturating_mul(100) / of.max(1);
                return Action::None;
            }
            Word::Done(done) => done,
        };
        let Some(laying) = self.laying.take() else { return Action::None };
        match done {
            Ok(Ok(document)) => {
                self.show(document, laying.job);
                Action::None
            }
            Ok(Err(problem)) => self.cannot(problem.to_string()),
            Err(reason) => self.cannot(reason),
        }
    }

    fn show(&mut self, document: Arc<Document>, job: Job) {
        let page = self.laid.as_ref().map_or(0, |laid| laid.page);
        let used = if self.book_sheet().is_some() { self.used() } else { 0 };
        self.laid = Some(Laid::new(document, job, used, page, &mut self.outliner));
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

    /// Pages stand ready.
    pub(super) fn is_ready(&self) -> bool {
        self.laid.is_some() && self.laying.is_none()
    }

    /// What goes out.
    fn leaving(&self, shared: &Shared) -> Result<Leaving, String> {
        let Some(laid) = self.laid.as_ref().filter(|_| self.laying.is_none()) else {
            return Err(self.problem.clone().unwrap_or_else(|| "the pages are not laid out yet".to_owned()));
        };
        let going = Going {
            document: Arc::clone(&laid.document),
            title: self.choices.what.title().to_owned(),
            author: shared.settings().studio_name.clone(),
            language: self.writes,
            summary: laid.summary(self.choices.what),
            file_name: self.choices.what.file_name().to_owned(),
            sheet: self.book_sheet(),
        };
        let printed = self.pieces.iter().filter(|piece| self.chosen.printed(piece.id) > 0);
        let stops = printed.flat_map(|piece| piece.stops.iter().cloned()).collect();
        Ok(Leaving::from(going).minding(stops))
    }

    /// Something happened on the way out.
    pub(super) fn on_way_out(&mut self, message: way_out::Message, shared: &Shared) -> Action<Message> {
        let worked = self.out.is_at_work();
        // What goes out is asked of all else that the room keeps.
        let mut out = std::mem::take(&mut self.out);
        let (action, then) = out.update_leaving(message, &|| self.leaving(shared), shared);
        self.out = out;
        let action = super::room::lifted(action);
        if self.out.is_at_work() && !worked {
            self.on_its_way = self.leaves(shared);
        }
        let dots = self.out.printer().map(|printer| printer.dots_per_inch);
        if std::mem::replace(&mut self.choices.dots_per_inch, dots) != dots {
            return Action::Many(vec![action, self.lay(shared)]);
        }
        match then {
            way_out::Then::Nothing => action,
            way_out::Then::Sent(_) => match self.noted().filter(|_| self.note && !shared.read_only()) {
                None => action,
                Some((tags, sheet)) => {
                    let note = crate::actions::Action::NotePrinted { tags, sheet };
                    Action::Many(vec![action, Action::Do(note)])
                }
            },
        }
    }

    /// What is kept of the run that leaves now.
    fn leaves(&self, shared: &Shared) -> Option<OnItsWay> {
        let laid = self.laid.as_ref().filter(|_| self.choices.what == What::Tags)?;
        let wanted = self.pieces.iter().filter(|piece| self.chosen.printed(piece.id) > 0);
        let channel = self.choices.channel.as_ref();
        Some(OnItsWay {
            document: Arc::clone(&laid.document),
            tags: wanted.map(|piece| printed::tag(piece, &shared.snapshot, channel, shared.today)).collect(),
            sheet: self.book_sheet().zip(self.labels_on_sheet()),
        })
    }

    fn noted(&mut self) -> Option<Noted> {
        let sent = self.out.sent();
        self.on_its_way.take()?.noted(sent.pages.as_ref(), sent.copies)
    }
}
