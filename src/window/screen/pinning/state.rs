//! What the room keeps, and how it brings itself up to date.

use super::asking::Asking;
use super::draft::Draft;
use super::laid::{self, Tools};
use super::message::Message;
use super::printing::{self, Printing};
use super::shelf::{self, Card};
use super::speech::Voice;
use super::subjects::{self, Channels, Subject};
use crate::actions::PaperStore;
use crate::book::{Numbered, Snapshot, StockRow};
use crate::paper::language::OwnWords;
use crate::paper::pinned::Facts;
use crate::paper::{Unwatched, arrange};
use crate::studio::{
    BatchRecord, BookDesign, BookJar, BookPaperDesign, ChannelId, DesignId, LabelSheet, Language, PaperDesign,
    PaperKind, PictureId, PriceList, Printer, PrinterId, Settings, SheetId, StudioRates, What,
};
use crate::window::Shared;
use crate::window::screen::Action;
use iced::widget::combo_box;
use std::collections::{BTreeMap, VecDeque};
use std::sync::Arc;

/// No second language.
pub(super) const NONE: &str = "none";

/// The parts of the book this room follows from.
#[derive(Debug, Clone)]
pub(super) struct Seen {
    designs: Arc<Vec<BookDesign>>,
    stock: Arc<Vec<StockRow>>,
    jars: Arc<Vec<BookJar>>,
    batches: Arc<Vec<BatchRecord>>,
    rates: Arc<StudioRates>,
    settings: Arc<Settings>,
    lists: Arc<Vec<PriceList>>,
    sheets: Arc<Vec<(SheetId, LabelSheet)>>,
    papers: Arc<Vec<BookPaperDesign>>,
    own_words: Arc<OwnWords>,
    numbers: Arc<BTreeMap<Numbered, String>>,
    pictures: Arc<Vec<(PictureId, String)>>,
    printers: Arc<Vec<(PrinterId, Printer)>>,
    begun: Arc<BTreeMap<SheetId, u32>>,
}

impl Seen {
    fn of(snapshot: &Snapshot) -> Self {
        Self {
            designs: Arc::clone(&snapshot.designs),
            stock: Arc::clone(&snapshot.stock),
            jars: Arc::clone(&snapshot.jars),
            batches: Arc::clone(&snapshot.batches),
            rates: Arc::clone(&snapshot.rates),
            settings: Arc::clone(&snapshot.settings),
            lists: Arc::clone(&snapshot.price_lists),
            sheets: Arc::clone(&snapshot.sheets),
            papers: Arc::clone(&snapshot.paper_designs),
            own_words: Arc::clone(&snapshot.own_words),
            numbers: Arc::clone(&snapshot.trade_numbers),
            pictures: Arc::clone(&snapshot.pictures),
            printers: Arc::clone(&snapshot.printers),
            begun: Arc::clone(&snapshot.begun_sheets),
        }
    }

    /// Designs, pieces and items are as they were.
    fn has_subjects_of(&self, snapshot: &Snapshot) -> bool {
        Arc::ptr_eq(&self.designs, &snapshot.designs)
            && Arc::ptr_eq(&self.stock, &snapshot.stock)
            && Arc::ptr_eq(&self.jars, &snapshot.jars)
            && Arc::ptr_eq(&self.batches, &snapshot.batches)
            && Arc::ptr_eq(&self.rates, &snapshot.rates)
            && Arc::ptr_eq(&self.settings, &snapshot.settings)
            && Arc::ptr_eq(&self.lists, &snapshot.price_lists)
            && Arc::ptr_eq(&self.numbers, &snapshot.trade_numbers)
    }

    pub(super) fn is(&self, snapshot: &Snapshot) -> bool {
        self.has_subjects_of(snapshot)
            && Arc::ptr_eq(&self.sheets, &snapshot.sheets)
            && Arc::ptr_eq(&self.papers, &snapshot.paper_designs)
            && Arc::ptr_eq(&self.own_words, &snapshot.own_words)
            && Arc::ptr_eq(&self.pictures, &snapshot.pictures)
            && Arc::ptr_eq(&self.printers, &snapshot.printers)
            && Arc::ptr_eq(&self.begun, &snapshot.begun_sheets)
    }
}

/// What an answer of the book will be about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Waiting {
    /// The paper was saved.
    Save,
    /// A picture was stored; it is pinned.
    Pin,
    /// A picture of a paper that is brought in was stored.
    Bring,
    /// Something that needs no more than the toast.
    Other,
}

/// The batches and the stock of a book at one moment.
pub(super) type BatchesAndStock = (Arc<Vec<BatchRecord>>, Arc<Vec<StockRow>>);

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    pub(super) seen: Option<Seen>,
    pub(super) kind: PaperKind,
    pub(super) cards: Vec<Card>,
    pub(super) subjects: Vec<Subject>,
    pub(super) subject_names: combo_box::State<String>,
    pub(super) shown: usize,
    /// What the snapshot does not hold of what papers are made of, and the batches and stock it was asked for.
    pub(super) store: PaperStore,
    pub(super) asked_for: Option<BatchesAndStock>,
    /// The channel whose tickets are shown; none is the retail ticket.
    pub(super) channel: Option<ChannelId>,
    pub(super) channels: Channels,
    pub(super) channel_names: combo_box::State<String>,
    pub(super) draft: Option<Draft>,
    /// The paper is on screen, not the shelf.
    pub(super) on_paper: bool,
    pub(super) printing: Option<Printing>,
    pub(super) asking: Option<Asking>,
    offers: Vec<(String, What)>,
    pub(super) offer_names: combo_box::State<String>,
    pub(super) languages: combo_box::State<String>,
    pub(super) seconds: combo_box::State<String>,
    pub(super) waiting: VecDeque<Waiting>,
    pub(super) tools: Tools,
}

impl State {
    /// The room before anyone looked into it.
    pub(super) fn empty() -> Self {
        let names = || Language::ALL.into_iter().map(|language| language.name().to_owned());
        Self {
            seen: None,
            kind: PaperKind::Tag,
            cards: Vec::new(),
            subjects: Vec::new(),
            subject_names: combo_box::State::new(Vec::new()),
            shown: 0,
            store: PaperStore::default(),
            asked_for: None,
            channel: None,
            channels: Vec::new(),
            channel_names: combo_box::State::new(Vec::new()),
            draft: None,
            on_paper: false,
            printing: None,
            asking: None,
            offers: Vec::new(),
            offer_names: combo_box::State::new(Vec::new()),
            languages: combo_box::State::new(names().collect()),
            seconds: combo_box::State::new(std::iter::once(NONE.to_owned()).chain(names()).collect()),
            waiting: VecDeque::new(),
            tools: Tools::default(),
        }
    }

    /// The paper that is being changed, as it is now.
    pub fn paper(&self) -> Option<&PaperDesign> {
        self.draft.as_ref().map(|draft| &draft.paper)
    }

    /// The pinned thing that is selected; none is the paper itself.
    pub fn selected(&self) -> Option<usize> {
        self.draft.as_ref().and_then(|draft| draft.selected)
    }

    /// What is printed begins at that label.
    pub fn begins_at(&self, label: u32) -> bool {
        self.printing.as_ref().is_some_and(|printing| printing.start.trimmed() == label.to_string())
    }

    pub(super) fn voice(shared: &Shared) -> Voice {
        Voice::new(shared)
    }

    /// Takes everything from the book.
    pub(super) fn follow(&mut self, shared: &Shared) {
        let snapshot = &shared.snapshot;
        let same = self.seen.as_ref().is_some_and(|seen| seen.has_subjects_of(snapshot));
        self.tools.gallery.follow(snapshot, !same);
        if !same || self.subjects.is_empty() {
            self.take_subjects(shared);
        }
        self.seen = Some(Seen::of(snapshot));
        self.take_offers(snapshot);
        if let Some(draft) = &mut self.draft {
            draft.follow(&snapshot.paper_designs, shared.preferences);
            if let Some(printing) = &mut self.printing {
                printing.follow(snapshot, &draft.paper);
                printing.word(&self.subjects, &shared.preferences);
            }
        }
        if !self.on_paper {
            self.stock_shelf(shared);
        }
    }

    pub(super) fn take_subjects(&mut self, shared: &Shared) {
        let before = self.subjects.get(self.shown).map(|subject| subject.words.clone());
        let ticked: Vec<String> = self
            .printing
            .iter()
            .flat_map(Printing::ticked)
            .filter_map(|place| self.subjects.get(place).map(|subject| subject.words.clone()))
            .collect();
        let channel = self.channel.clone();
        let (made, channels) =
            subjects::subjects(&shared.snapshot, &self.store, self.kind, channel.as_ref(), shared.today);
        self.subjects = made;
        if self.channels != channels {
            self.channel_names = combo_box::State::new(channels.iter().map(|(_, words)| words.clone()).collect());
            self.channels = channels;
        }
        let place_of = |words: &String| self.subjects.iter().position(|subject| subject.words == *words);
        self.shown = before.as_ref().and_then(place_of).unwrap_or_default();
        // What is printed stays what it was, wherever it stands in the list now.
        let places: Vec<usize> = ticked.iter().filter_map(place_of).collect();
        if let Some(printing) = &mut self.printing {
            printing.all(false, 0);
            for place in places {
                printing.toggle(place);
            }
        }
        let mut names: Vec<String> = self.subjects.iter().map(|subject| subject.words.clone()).collect();
        names.dedup();
        self.subject_names = combo_box::State::new(names);
    }

    fn take_offers(&mut self, snapshot: &Snapshot) {
        self.offers = arrange::offered(self.kind)
            .into_iter()
            .map(|what| (arrange::listed(&what), what))
            .chain(snapshot.pictures.iter().map(|(id, name)| (format!("Picture: {name}"), What::Picture(*id))))
            .collect();
        self.offer_names = combo_box::State::new(self.offers.iter().map(|(name, _)| name.clone()).collect());
    }

    /// What is offered under that name.
    pub(super) fn offered(&self, name: &str) -> Option<What> {
        self.offers.iter().find(|(offered, _)| offered == name).map(|(_, what)| what.clone())
    }

    /// Papers of another kind: other pieces, other things to pin.
    pub(super) fn enter_kind(&mut self, kind: PaperKind, shared: &Shared) {
        if self.kind != kind {
            self.kind = kind;
            self.shown = 0;
            self.take_subjects(shared);
        }
        self.take_offers(&shared.snapshot);
    }

    /// Lays the papers of the shelf out.
    pub(super) fn stock_shelf(&mut self, shared: &Shared) {
        let voice = Self::voice(shared);
        let subject = self.shown_subject();
        self.cards =
            shelf::cards(&shared.snapshot, self.kind, subject.as_ref(), &voice, &shared.preferences, &mut self.tools);
    }

    /// The piece that is shown, with its photo.
    pub(super) fn shown_subject(&self) -> Option<Subject> {
        let mut subject = self.subjects.get(self.shown)?.clone();
        subject.facts = self.facts(&subject);
        Some(subject)
    }

    fn facts(&self, subject: &Subject) -> Facts {
        let photo = subject.design.and_then(|design| self.tools.gallery.photo(design));
        Facts { photo, ..subject.facts.clone() }
    }

    /// Lays the paper out as it is now; asks for the pictures it lacks.
    pub(super) fn relay(&mut self, shared: &Shared) -> Action<Message> {
        let subject = self.shown_subject();
        let voice = Self::voice(shared);
        let Some(draft) = &mut self.draft else { return Action::None };
        if let Some(subject) = &subject {
            let dots = self.printing.as_ref().and_then(Printing::dots_per_inch);
            draft.laid = laid::lay(&draft.paper, &subject.facts, &voice, dots, &mut self.tools);
        }
        let paper = draft.paper.clone();
        self.wants(&paper)
    }

    /// Asks for pictures and photos that a paper needs.
    pub(super) fn wants(&mut self, paper: &PaperDesign) -> Action<Message> {
        let shown = self.subjects.get(self.shown).and_then(|subject| subject.design);
        let printed: Vec<DesignId> = match &self.printing {
            Some(printing) => printing
                .ticked()
                .filter_map(|place| self.subjects.get(place).and_then(|subject| subject.design))
                .collect(),
            None => Vec::new(),
        };
        let requests = self.tools.gallery.wanted(paper, printed.into_iter().chain(shown));
        if requests.is_empty() { Action::None } else { Action::Many(requests.into_iter().map(Action::Ask).collect()) }
    }

    /// Lays out what is printed: at once, or on a thread when that would be felt.
    pub(super) fn lay_run(&mut self, shared: &Shared) -> Action<Message> {
        let Some(paper) = self.draft.as_ref().map(|draft| draft.paper.clone()) else { return Action::None };
        let asked = self.wants(&paper);
        let subjects: Vec<Subject> =
            self.subjects.iter().map(|subject| Subject { facts: self.facts(subject), ..subject.clone() }).collect();
        let complete = self.tools.gallery.is_complete();
        let voice = Self::voice(shared);
        let Some(printing) = &mut self.printing else { return asked };
        printing.turns += 1;
        printing.laying = None;
        printing.word(&subjects, &shared.preferences);
        if !complete {
            printing.run = None;
            printing.problem = Some("The pictures are being fetched from the book.".to_owned());
            return asked;
        }
        let job = match printing.job(&paper, &subjects, &shared.preferences) {
            Ok(job) => job,
            Err(problem) => {
                printing.run = None;
                printing.problem = Some(problem);
                return asked;
            }
        };
        if printing::is_long(&job) {
            let pictures = self.tools.gallery.pictures.clone();
            let laying = printing.lay_apart(job, pictures, voice);
            return Action::Many(vec![asked, Action::Run(laying)]);
        }
        match printing::lay(&job, &self.tools.gallery.pictures, &voice, &mut self.tools.shaper, &mut Unwatched) {
            Ok(document) => printing.show(document, printing::count(&job), &mut self.tools),
            Err(problem) => {
                printing.run = None;
                printing.problem = Some(problem.to_string());
            }
        }
        asked
    }

    /// Puts a paper on the table.
    pub(super) fn lay_open(&mut self, draft: Draft, shared: &Shared) -> Action<Message> {
        self.enter_kind(draft.paper.kind, shared);
        self.draft = Some(draft);
        self.on_paper = true;
        self.printing = None;
        self.relay(shared)
    }

    /// Back among the papers.
    pub(super) fn back_to_shelf(&mut self, shared: &Shared) -> Action<Message> {
        if self.draft.as_ref().is_some_and(|draft| !draft.is_changed()) {
            self.draft = None;
        }
        self.on_paper = false;
        self.printing = None;
        self.stock_shelf(shared);
        Action::None
    }

    /// The file a paper is proposed to be saved as: beside the book, named after the paper.
    pub(super) fn proposed(shared: &Shared, name: &str, extension: &str) -> String {
        shared.path.with_file_name(Self::file_name(name, extension)).display().to_string()
    }

    /// A file named after a paper.
    pub(super) fn file_name(name: &str, extension: &str) -> String {
        let plain: String =
            name.to_lowercase().chars().map(|letter| if letter.is_alphanumeric() { letter } else { '-' }).collect();
        let plain = plain.trim_matches('-');
        let plain = if plain.is_empty() { "paper" } else { plain };
        format!("{plain}.{extension}")
    }
}
