//! The paper being changed: as it is now, as it was step by step, and how it looks.

use super::fields::{Field, Fields};
use super::laid::Laid;
use crate::measure::{Decimal, Preferences};
use crate::paper::arrange::{self, Grip};
use crate::paper::guide::{self, Guide};
use crate::studio::{BookPaperDesign, PaperDesign, PaperDesignId, Pinned};
use rust_decimal::prelude::ToPrimitive;

/// Most steps that can be taken back.
const MOST_STEPS: usize = 200;

/// Why the paper changed: the same reason again is the same step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Why {
    Typed(Field, Option<usize>),
    Nudged(usize, bool),
    Dragged,
    Other,
}

/// The paper before a change.
#[derive(Debug, Clone)]
struct Step {
    why: Why,
    paper: PaperDesign,
    selected: Option<usize>,
}

/// A paper being changed.
#[derive(Debug)]
pub(super) struct Draft {
    /// None while it was never saved.
    pub(super) id: Option<PaperDesignId>,
    pub(super) retired: bool,
    pub(super) paper: PaperDesign,
    /// As the book has it.
    saved: Option<PaperDesign>,
    /// None is the paper itself.
    pub(super) selected: Option<usize>,
    pub(super) fields: Fields,
    pub(super) laid: Laid,
    steps: Vec<Step>,
    /// What was taken back, to be done again; gone with the next change.
    taken: Vec<Step>,
    /// Lines that what is dragged stands on: from and to, mm.
    pub(super) lines: Vec<[[f32; 2]; 2]>,
    /// The thing as it was when it was taken hold of.
    held: Option<(usize, Pinned)>,
    preferences: Preferences,
}

impl Draft {
    fn begin(paper: PaperDesign, preferences: Preferences) -> Self {
        let mut draft = Self {
            id: None,
            retired: false,
            paper,
            saved: None,
            selected: None,
            fields: Fields::default(),
            laid: Laid::default(),
            steps: Vec::new(),
            taken: Vec::new(),
            lines: Vec::new(),
            held: None,
            preferences,
        };
        draft.fill(None);
        draft
    }

    /// A paper that is not in the book yet.
    pub(super) fn fresh(paper: PaperDesign, preferences: Preferences) -> Self {
        Self::begin(paper, preferences)
    }

    /// A paper of the book.
    pub(super) fn of(book: &BookPaperDesign, preferences: Preferences) -> Self {
        let draft = Self::begin(book.design.clone(), preferences);
        Self { id: Some(book.id), retired: book.retired, saved: Some(book.design.clone()), ..draft }
    }

    /// It differs from what the book has.
    pub(super) fn is_changed(&self) -> bool {
        self.saved.as_ref() != Some(&self.paper) || self.fields.are_wrong()
    }

    /// It was saved under that row.
    pub(super) fn saved(&mut self, id: PaperDesignId) {
        self.id = Some(id);
        self.saved = Some(self.paper.clone());
        self.forget_steps();
        self.fill(None);
    }

    /// The book changed: takes its paper where nothing is half-done here.
    pub(super) fn follow(&mut self, papers: &[BookPaperDesign], preferences: Preferences) {
        self.preferences = preferences;
        let Some(id) = self.id else { return };
        match papers.iter().find(|paper| paper.id == id) {
            Some(book) => {
                self.retired = book.retired;
                if !self.is_changed() && self.paper != book.design {
                    self.paper = book.design.clone();
                    self.selected = self.selected.filter(|thing| *thing < self.paper.pinned.len());
                    self.forget_steps();
                    self.fill(None);
                }
                self.saved = Some(book.design.clone());
            }
            None => {
                self.id = None;
                self.saved = None;
            }
        }
    }

    fn forget_steps(&mut self) {
        self.steps.clear();
        self.taken.clear();
    }

    fn fill(&mut self, typing: Option<Field>) {
        self.fields.fill(&self.paper, self.selected, typing, &self.preferences);
    }

    /// Keeps the paper as it was before a change.
    fn keep(&mut self, why: Why) {
        self.taken.clear();
        let again = self.steps.last().is_some_and(|step| step.why == why && why != Why::Other);
        if !again {
            if self.steps.len() == MOST_STEPS {
                let _ = self.steps.remove(0);
            }
            self.steps.push(Step { why, paper: self.paper.clone(), selected: self.selected });
        }
    }

    fn change(&mut self, why: Why, changed: PaperDesign) -> bool {
        if changed == self.paper {
            return false;
        }
        self.keep(why);
        self.paper = changed;
        true
    }

    /// Takes the last step back; true when there was one.
    pub(super) fn revert(&mut self) -> bool {
        if self.fields.are_wrong() {
            self.fill(None);
            return true;
        }
        let Some(step) = self.steps.pop() else { return false };
        let now = self.become_as(step);
        self.taken.push(now);
        true
    }

    /// Does again what was taken back last; true when there was something.
    pub(super) fn again(&mut self) -> bool {
        let Some(step) = self.taken.pop() else { return false };
        let now = self.become_as(step);
        self.steps.push(now);
        true
    }

    /// Takes the paper of a step; what it was until now.
    fn become_as(&mut self, step: Step) -> Step {
        let paper = std::mem::replace(&mut self.paper, step.paper);
        let now = Step { why: Why::Other, paper, selected: self.selected };
        self.selected = step.selected.filter(|thing| *thing < self.paper.pinned.len());
        self.held = None;
        self.lines.clear();
        self.fill(None);
        now
    }

    /// There is something to take back.
    pub(super) fn can_revert(&self) -> bool {
        !self.steps.is_empty() || self.fields.are_wrong()
    }

    /// There is something to do again.
    pub(super) fn can_again(&self) -> bool {
        !self.taken.is_empty()
    }

    pub(super) fn thing(&self) -> Option<&Pinned> {
        self.selected.and_then(|thing| self.paper.pinned.get(thing))
    }

    pub(super) fn select(&mut self, thing: Option<usize>) {
        self.selected = thing.filter(|thing| *thing < self.paper.pinned.len());
        self.held = None;
        self.lines.clear();
        self.fill(None);
    }

    /// Drags a thing so many tenths of a millimetre from where it was taken hold of.
    ///
    /// It keeps to lines within so many hundredths of a millimetre.
    pub(super) fn drag(&mut self, thing: usize, grip: Grip, [right, down]: [i32; 2], reach: i32) -> bool {
        let held = match &self.held {
            Some((held, pinned)) if *held == thing => pinned.clone(),
            _ => {
                let Some(pinned) = self.paper.pinned.get(thing).cloned() else { return false };
                self.held = Some((thing, pinned.clone()));
                self.keep(Why::Dragged);
                pinned
            }
        };
        self.selected = Some(thing);
        let moved = arrange::dragged(&self.paper, &held, grip, tenths(right, down));
        let (kept, guides) = guide::kept(&self.paper, thing, &moved, grip, Decimal::new(i64::from(reach), 2));
        self.lines = guides.iter().map(drawn).collect();
        self.put(thing, kept);
        true
    }

    /// What is dragged is let go: the next drag is another step.
    pub(super) fn drop_held(&mut self) {
        self.held = None;
        self.lines.clear();
        if let Some(step) = self.steps.last_mut() {
            step.why = Why::Other;
        }
    }

    fn put(&mut self, thing: usize, pinned: Pinned) {
        if let Some(place) = self.paper.pinned.get_mut(thing) {
            *place = pinned;
        }
        self.fill(None);
    }

    pub(super) fn nudge(&mut self, thing: usize, grip: Grip, right: i32, down: i32) -> bool {
        let Some(pinned) = self.paper.pinned.get(thing) else { return false };
        let moved = arrange::dragged(&self.paper, pinned, grip, tenths(right, down));
        if moved == *pinned {
            return false;
        }
        self.selected = Some(thing);
        self.keep(Why::Nudged(thing, grip == Grip::WHOLE));
        self.put(thing, moved);
        true
    }

    /// Takes what was typed; true when the paper changed.
    pub(super) fn type_in(&mut self, field: Field, text: String) -> bool {
        let read = self.fields.type_in(field, text, &self.paper, self.selected, &self.preferences);
        let Some(changed) = read else { return false };
        let done = self.change(Why::Typed(field, self.selected), changed);
        self.fill(Some(field));
        done
    }

    /// Changes the paper by a choice.
    pub(super) fn choose(&mut self, choice: impl FnOnce(&mut PaperDesign)) -> bool {
        let mut changed = self.paper.clone();
        choice(&mut changed);
        let done = self.change(Why::Other, changed);
        self.selected = self.selected.filter(|thing| *thing < self.paper.pinned.len());
        self.fill(None);
        done
    }
}

/// A line for the screen.
fn drawn(guide: &Guide) -> [[f32; 2]; 2] {
    let mm = |value: Decimal| value.to_f32().unwrap_or_default();
    let [at, from, to] = [guide.at_mm, guide.from_mm, guide.to_mm].map(mm);
    if guide.upright { [[at, from], [at, to]] } else { [[from, at], [to, at]] }
}

fn tenths(right: i32, down: i32) -> [Decimal; 2] {
    [right, down].map(|tenths| Decimal::new(i64::from(tenths), 1))
}
