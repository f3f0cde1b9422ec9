//! One design under her hand: what is in hand, what is open, and the figures that follow every key.

use super::change::{self, Change};
use super::draft::{Content, Draft};
use super::field::{Field, RowKey};
use super::figures::{Figures, figures};
use super::hand::{self, Hand};
use super::options::{MaterialOption, StockOption, enamel_options, material_options, stock_options};
use super::read;
use super::rows::{Rows, rows};
use super::stairs::StairKind;
use crate::actions;
use crate::book::Snapshot;
use crate::measure::Preferences;
use crate::studio::{BookDesign, DesignId};
use crate::window::Shared;
use crate::window::draw::strip::StripEvent;
use iced::widget::{combo_box, image, text_editor};
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicU64, Ordering};

/// Longest notes, in bytes.
pub const NOTES_LIMIT: usize = 20_000;

/// What a field of the thing in hand shows.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct FieldText {
    /// Its text.
    pub text: String,
    /// What is wrong with it.
    pub problem: Option<String>,
}

/// The photo of a design.
#[derive(Debug, Clone)]
pub enum Photo {
    /// There is none.
    None,
    /// It was asked for.
    Coming,
    /// Here it is.
    Here(image::Handle),
    /// It cannot be shown.
    Broken(String),
}

/// What is open on a page.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Open {
    /// What lies open under the strip.
    pub hand: Option<Hand>,
    /// The step in hand.
    pub step: Option<RowKey>,
    /// The line of the staircase that is open.
    pub stair: Option<StairKind>,
    /// The tag whose computation is open.
    pub tag: Option<usize>,
    /// Firings as a table instead of a curve.
    pub table: bool,
    /// The kind of step is being asked for.
    pub adding: bool,
    /// The material that is being linked to stock.
    pub linking: Option<RowKey>,
    /// The channel whose terms are open.
    pub channel: Option<RowKey>,
    /// The material whose figures are open.
    pub material: Option<RowKey>,
}

/// A design's page.
#[derive(Debug)]
pub struct Page {
    /// The design.
    pub draft: Draft,
    /// What is open.
    pub open: Open,
    /// The last good figures.
    pub figures: Option<Figures>,
    /// Why they are not those of the design as it stands.
    pub fault: Option<String>,
    /// A change that was refused, until the next one.
    pub refused: Option<String>,
    /// Fields of what is in hand.
    pub form: BTreeMap<Field, FieldText>,
    /// Materials, channels and rates, worded.
    pub rows: Rows,
    /// Notes.
    pub notes: text_editor::Content,
    /// Photo.
    pub photo: Photo,
    /// Stock to pick from.
    pub stock: combo_box::State<StockOption>,
    /// Enamels for a coat.
    pub enamels: combo_box::State<MaterialOption>,
    /// Materials for a use.
    pub materials: combo_box::State<MaterialOption>,
    /// The field typed in last.
    pub last: Option<Field>,
    /// A save after a pause is on its way.
    pub pausing: bool,
    /// Something was typed since.
    pub typed: bool,
}

/// A number that was not used before, for pictures.
pub fn fresh_version() -> u64 {
    static NEXT: AtomicU64 = AtomicU64::new(1);
    NEXT.fetch_add(1, Ordering::Relaxed)
}

impl Page {
    /// The page of a draft.
    pub fn new(draft: Draft, shared: &Shared) -> Self {
        let mut page = Self {
            notes: text_editor::Content::with_text(&draft.content.notes),
            draft,
            open: Open::default(),
            figures: None,
            fault: None,
            refused: None,
            form: BTreeMap::new(),
            rows: Rows::default(),
            photo: Photo::None,
            stock: combo_box::State::new(stock_options(&shared.snapshot)),
            enamels: combo_box::State::new(Vec::new()),
            materials: combo_box::State::new(Vec::new()),
            last: None,
            pausing: false,
            typed: false,
        };
        page.recompute(shared);
        page.remake_options();
        page
    }

    /// The row it has in the book.
    pub fn id(&self) -> Option<DesignId> {
        self.draft.id
    }

    fn as_book(&self) -> BookDesign {
        BookDesign {
            id: self.draft.id.unwrap_or(DesignId(0)),
            design: self.draft.content.design.clone(),
            follows: self.draft.content.follows.clone(),
            notes: String::new(),
            retired: false,
            has_photo: false,
        }
    }

    /// New figures for the draft as it stands; the last good ones stay where it cannot be costed.
    pub fn recompute(&mut self, shared: &Shared) {
        let preferences = Preferences::from(shared.settings());
        match figures(&self.as_book(), &shared.snapshot, &preferences, fresh_version()) {
            Ok(figures) => {
                self.figures = Some(figures);
                self.fault = None;
            }
            Err(fault) => self.fault = Some(fault),
        }
        let resolved = self.figures.as_ref().map(|figures| &figures.resolved);
        self.rows = rows(&self.draft, resolved, &shared.snapshot, &preferences);
        self.remake_form(&preferences);
    }

    fn remake_form(&mut self, preferences: &Preferences) {
        let fields = hand::fields(&self.draft, &self.open);
        self.form = fields
            .into_iter()
            .map(|field| {
                let text = super::show::text_of(&self.draft, field, preferences);
                let problem = self.draft.texts.get(&field).and_then(|typed| typed.problem.clone());
                (field, FieldText { text, problem })
            })
            .collect();
    }

    /// Lists to pick from, after materials changed.
    pub fn remake_options(&mut self) {
        self.enamels = combo_box::State::new(enamel_options(&self.draft.content.design));
        self.materials = combo_box::State::new(material_options(&self.draft.content.design));
    }

    /// The figures on screen are not those of every text on screen.
    pub fn is_stale(&self) -> bool {
        self.fault.is_some() || self.draft.has_problem()
    }

    /// A person typed.
    pub fn type_in(&mut self, field: Field, text: String, shared: &Shared) {
        let preferences = Preferences::from(shared.settings());
        let own = self.draft.id;
        let snapshot: &Snapshot = &shared.snapshot;
        read::type_in(&mut self.draft, field, text, &preferences, |code| {
            snapshot.designs.iter().any(|other| other.design.code == *code && Some(other.id) != own)
        });
        self.last = Some(field);
        self.typed = true;
        self.refused = None;
        self.recompute(shared);
    }

    /// A person chose or pressed.
    pub fn change(&mut self, change: Change, shared: &Shared) {
        self.refused = change::make(&mut self.draft, change, &shared.snapshot).err();
        self.recompute(shared);
        self.remake_options();
    }

    /// What is in hand or open changes; no figure does.
    pub fn opened(&mut self, shared: &Shared) {
        self.refused = None;
        self.remake_form(&Preferences::from(shared.settings()));
    }

    /// Where the step in hand stands.
    pub fn place(&self) -> Option<usize> {
        self.open.step.and_then(|key| self.draft.step_place(key))
    }

    fn take_in_hand(&mut self, place: usize) {
        self.open.step = self.draft.step_keys.get(place).copied();
    }

    /// Something was done to the strip. True when the design changed.
    pub fn strip(&mut self, event: StripEvent, shared: &Shared) -> bool {
        match event {
            StripEvent::Choose(place) => {
                self.take_in_hand(place);
                self.open.hand = Some(Hand::Step);
                self.open.adding = false;
                self.opened(shared);
                false
            }
            StripEvent::Toggle => {
                self.open.hand = if self.open.hand == Some(Hand::Step) { None } else { Some(Hand::Step) };
                if self.open.step.is_none() {
                    self.take_in_hand(0);
                }
                self.opened(shared);
                false
            }
            StripEvent::Move { from, to } => {
                self.change(Change::MoveStep(from, to), shared);
                self.take_in_hand(to);
                self.remake_form(&Preferences::from(shared.settings()));
                true
            }
            StripEvent::Add => {
                self.open.adding = !self.open.adding;
                false
            }
            StripEvent::Copy => {
                let Some(place) = self.place() else { return false };
                self.change(Change::CopyStep(place), shared);
                self.take_in_hand(place + 1);
                self.remake_form(&Preferences::from(shared.settings()));
                true
            }
            StripEvent::Remove => {
                let Some(place) = self.place() else { return false };
                self.change(Change::RemoveStep(place), shared);
                if self.refused.is_none() {
                    let last = self.draft.content.design.steps.len().saturating_sub(1);
                    self.take_in_hand(place.min(last));
                }
                self.remake_form(&Preferences::from(shared.settings()));
                true
            }
        }
    }

    /// Gives the field typed in last its former text back; false when there is nothing to give back.
    pub fn revert(&mut self, shared: &Shared) -> bool {
        let Some(field) = self.last.take() else { return false };
        if self.draft.texts.remove(&field).is_none() || !(self.draft.is_unsaved() || self.typed) {
            return false;
        }
        self.typed = false;
        // The saved figure of that field, if it differs, is what the book holds: typing its text brings it back.
        let mut held = Draft::of(&BookDesign {
            id: DesignId(0),
            design: self.draft.saved.design.clone(),
            follows: self.draft.saved.follows.clone(),
            notes: String::new(),
            retired: false,
            has_photo: false,
        });
        held.step_keys.clone_from(&self.draft.step_keys);
        held.material_keys.clone_from(&self.draft.material_keys);
        held.channel_keys.clone_from(&self.draft.channel_keys);
        let preferences = Preferences::from(shared.settings());
        let text = super::show::text_of(&held, field, &preferences);
        read::type_in(&mut self.draft, field, text, &preferences, |_| false);
        self.draft.settle();
        self.recompute(shared);
        true
    }

    /// The book changed.
    pub fn refresh(&mut self, shared: &Shared) {
        if let Some(book) = self.draft.id.and_then(|id| shared.snapshot.design(id)) {
            if self.draft.refresh(book) {
                self.notes = text_editor::Content::with_text(&self.draft.content.notes);
            }
            if !book.has_photo {
                self.photo = Photo::None;
            }
        }
        if self.open.step.is_some() && self.place().is_none() {
            self.open.step = None;
            self.open.hand = None;
        }
        self.stock = combo_box::State::new(stock_options(&shared.snapshot));
        self.recompute(shared);
        self.remake_options();
    }

    /// What saves the draft, when there is something to save; it counts as sent.
    pub fn save(&mut self, shared: &Shared) -> Option<actions::Action> {
        if shared.read_only() || !self.draft.is_unsaved() {
            return None;
        }
        let Content { design, follows, notes } = self.draft.content.clone();
        self.draft.sent = Some(self.draft.content.clone());
        self.typed = false;
        Some(actions::Action::SaveDesign { id: self.draft.id, design, follows, notes })
    }
}
