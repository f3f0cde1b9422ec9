//! A batch to be begun: design, pieces, day, name, note; what is missing for it, and what its route warns of.

use super::{lane, read};
use crate::actions::{self, NewBatch};
use crate::book::Snapshot;
use crate::costing::batch::{need, reserved, shortages};
use crate::costing::costing;
use crate::measure::{Preferences, display, parse};
use crate::studio::DesignId;
use crate::window::draw::batch_strip::LaneStep;
use crate::window::screen::designs::checks::{self, Check};
use crate::window::screen::designs::{figures, looks, words as design_words};
use crate::window::widget::{Entry, Mark};
use chrono::NaiveDate;
use iced::widget::combo_box;
use std::fmt;

/// Most pieces of a batch.
const MOST: u32 = 1000;

/// A field of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Field {
    /// How many pieces.
    Pieces,
    /// The day.
    Date,
    /// What it is called.
    Name,
    /// Anything else.
    Note,
}

impl Field {
    /// The name the focus is sent to.
    pub(super) const fn id(self) -> &'static str {
        match self {
            Self::Pieces => "batch-pieces",
            Self::Date => "batch-date",
            Self::Name => "batch-name",
            Self::Note => "batch-note",
        }
    }
}

/// What happens in the form.
#[derive(Debug, Clone)]
pub enum Change {
    /// A field was typed in.
    Typed(Field, String),
    /// A design was picked.
    Design(Choice),
}

/// A design to pick.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    id: DesignId,
    words: String,
}

impl fmt::Display for Choice {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.words)
    }
}

/// An item there is too little of.
#[derive(Debug, Clone)]
pub(super) struct Short {
    pub(super) name: String,
    pub(super) told: String,
}

/// The form as it stands.
#[derive(Debug)]
pub(super) struct Begin {
    pub(super) options: combo_box::State<Choice>,
    pub(super) design: Option<Choice>,
    pub(super) pieces: Entry,
    pub(super) date: Entry,
    pub(super) name: Entry,
    pub(super) note: Entry,
    pub(super) tried: bool,
    pub(super) refusal: Option<String>,
    pub(super) short: Vec<Short>,
    /// Nothing is missing, or why that cannot be said.
    pub(super) enough: String,
    pub(super) checks: Vec<Check>,
    pub(super) strip: Vec<LaneStep>,
}

impl Begin {
    pub(super) fn new(design: Option<DesignId>, snapshot: &Snapshot, today: NaiveDate) -> Self {
        let options: Vec<Choice> = snapshot
            .designs
            .iter()
            .filter(|book| !book.retired)
            .map(|book| Choice { id: book.id, words: format!("{} · {}", book.design.name, book.design.code) })
            .collect();
        let design = design.and_then(|id| options.iter().find(|option| option.id == id).cloned());
        let design = design.or_else(|| options.first().filter(|_| options.len() == 1).cloned());
        let mut begin = Self {
            options: combo_box::State::new(options),
            design: None,
            pieces: Entry::default(),
            date: Entry::new(today.to_string()),
            name: Entry::default(),
            note: Entry::default(),
            tried: false,
            refusal: None,
            short: Vec::new(),
            enough: String::new(),
            checks: Vec::new(),
            strip: Vec::new(),
        };
        if let Some(option) = design {
            begin.choose(option, snapshot);
        }
        begin
    }

    /// Takes a design with the pieces it is usually made in.
    fn choose(&mut self, option: Choice, snapshot: &Snapshot) {
        if let Some(book) = snapshot.design(option.id) {
            if !self.pieces.is_changed() {
                self.pieces.set(book.design.pieces.to_string());
            }
            self.design = Some(option);
        }
    }

    pub(super) fn change(&mut self, change: Change, snapshot: &Snapshot) {
        self.refusal = None;
        match change {
            Change::Typed(field, text) => self.entry(field).type_in(text),
            Change::Design(option) => self.choose(option, snapshot),
        }
    }

    fn entry(&mut self, field: Field) -> &mut Entry {
        match field {
            Field::Pieces => &mut self.pieces,
            Field::Date => &mut self.date,
            Field::Name => &mut self.name,
            Field::Note => &mut self.note,
        }
    }

    /// What a field holds, as typed.
    pub(super) fn text(&self, field: Field) -> &str {
        match field {
            Field::Pieces => self.pieces.text(),
            Field::Date => self.date.text(),
            Field::Name => self.name.text(),
            Field::Note => self.note.text(),
        }
    }

    /// Gives every field its former text back; true when that changed something.
    pub(super) fn revert(&mut self) -> bool {
        self.pieces.revert() | self.date.revert() | self.name.revert() | self.note.revert()
    }

    fn pieces(&self, preferences: &Preferences) -> Result<u32, String> {
        parse::parse_count(self.pieces.trimmed(), 1..=MOST, preferences).map_err(|problem| problem.to_string())
    }

    /// What is wrong with a field, if anything.
    pub(super) fn problem(&self, field: Field, preferences: &Preferences) -> Option<String> {
        match field {
            Field::Pieces if self.tried || !self.pieces.is_empty() => self.pieces(preferences).err(),
            Field::Date => read::day(self.date.trimmed()).err(),
            _ => None,
        }
    }

    /// No design was picked although it was to be begun.
    pub(super) fn design_problem(&self) -> Option<&'static str> {
        (self.tried && self.design.is_none()).then_some("nothing is picked: pick the design it is made after")
    }

    /// The action, once every field can be read.
    pub(super) fn action(&self, preferences: &Preferences) -> Result<actions::Action, String> {
        let design = self.design.as_ref().ok_or("Pick the design it is made after.")?;
        Ok(actions::Action::StartBatch(NewBatch {
            design: design.id,
            name: self.name.trimmed().to_owned(),
            pieces: self.pieces(preferences)?,
            date: read::day(self.date.trimmed())?,
            note: self.note.trimmed().to_owned(),
        }))
    }

    /// Says what is missing and what the route warns of.
    pub(super) fn word(&mut self, snapshot: &Snapshot, preferences: &Preferences) {
        self.short.clear();
        self.checks.clear();
        self.strip.clear();
        self.enough.clear();
        let Some(book) = self.design.as_ref().and_then(|option| snapshot.design(option.id)) else { return };
        let Ok(plan) = snapshot.resolved(book) else { return };
        if let Ok(answer) = costing(&plan) {
            let checks = checks::checks(&plan, &answer, preferences);
            self.strip = plan
                .steps
                .iter()
                .zip(&answer.cost.steps)
                .enumerate()
                .map(|(place, (step, cost))| LaneStep {
                    name: step.name.clone(),
                    word: design_words::step_word(step),
                    detail: String::new(),
                    weight: figures::drawn(cost.total),
                    colour: match &step.kind {
                        crate::studio::StepKind::Fire(firing) => Some(looks::heat(firing.celsius)),
                        crate::studio::StepKind::Coat(coat) => looks::enamel(book, &coat.material, snapshot),
                        _ => None,
                    },
                    mark: lane::mark(&checks, place),
                    dots: Vec::new(),
                    end: false,
                })
                .collect();
            self.checks = checks
                .into_iter()
                .filter(|check| check.step.is_some() && !check.what.is_empty() && check.mark != Mark::Good)
                .collect();
        }
        let Ok(pieces) = self.pieces(preferences) else { return };
        if book.follows.materials.is_empty() {
            "None of its materials is taken from stock, so nothing is counted off the shelf."
                .clone_into(&mut self.enough);
            return;
        }
        let missing = need(&plan, &book.follows.materials, pieces).ok().zip(reserved(&snapshot.batches).ok()).and_then(
            |(needed, reserved)| {
                let on_hand = snapshot.stock.iter().map(|row| (row.id, row.on_hand)).collect();
                shortages(&needed, &on_hand, &reserved).ok()
            },
        );
        let Some(missing) = missing else {
            "What it needs cannot be said: look at the design’s blank and amounts.".clone_into(&mut self.enough);
            return;
        };
        self.short = missing
            .iter()
            .filter_map(|short| {
                let row = snapshot.item(short.item)?;
                let amount = |quantity: crate::measure::Quantity| {
                    display::quantity(quantity.amount(), row.item.unit, preferences)
                };
                let pack = row.item.buying.pack.as_ref().map(|pack| format!(" · bought as {}", pack.words));
                Some(Short {
                    name: row.item.name.clone(),
                    told: format!(
                        "{} is missing: it needs {}, {} is free{}",
                        amount(short.missing),
                        amount(short.needed),
                        amount(short.free),
                        pack.unwrap_or_default()
                    ),
                })
            })
            .collect();
        if self.short.is_empty() {
            "Everything it takes from stock is there and free.".clone_into(&mut self.enough);
        }
    }
}
