//! The paper being changed: as it is now, as it was step by step, and how it looks.

use super::fields::{Field, Fields};
use super::laid::Laid;
use super::message::{Folding, Hold, InkChoice};
use crate::measure::{Decimal, Preferences};
use crate::paper::arrange::{self, Edge, Grip};
use crate::studio::{
    Across, BookPaperDesign, Down, Fold, Hole, Ink, Language, PaperDesign, PaperDesignId, Pinned, SymbolKind, SymbolOf,
    Weight, What,
};

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
        self.steps.clear();
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
                    self.steps.clear();
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

    fn fill(&mut self, typing: Option<Field>) {
        self.fields.fill(&self.paper, self.selected, typing, &self.preferences);
    }

    /// Keeps the paper as it was before a change.
    fn keep(&mut self, why: Why) {
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
        self.paper = step.paper;
        self.selected = step.selected.filter(|thing| *thing < self.paper.pinned.len());
        self.held = None;
        self.fill(None);
        true
    }

    pub(super) fn thing(&self) -> Option<&Pinned> {
        self.selected.and_then(|thing| self.paper.pinned.get(thing))
    }

    pub(super) fn select(&mut self, thing: Option<usize>) {
        self.selected = thing.filter(|thing| *thing < self.paper.pinned.len());
        self.held = None;
        self.fill(None);
    }

    /// Drags a thing so many tenths of a millimetre from where it was taken hold of.
    pub(super) fn drag(&mut self, thing: usize, grip: Grip, right: i32, down: i32) -> bool {
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
        self.put(thing, moved);
        true
    }

    /// What is dragged is let go: the next drag is another step.
    pub(super) fn drop_held(&mut self) {
        self.held = None;
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

    /// Changes the selected thing by a choice.
    fn choose_thing(&mut self, choice: impl FnOnce(&mut Pinned)) -> bool {
        let Some(selected) = self.selected else { return false };
        self.choose(|paper| {
            if let Some(thing) = paper.pinned.get_mut(selected) {
                choice(thing);
            }
        })
    }

    pub(super) fn weight(&mut self, weight: Weight) -> bool {
        self.choose_thing(|thing| thing.set.weight = weight)
    }

    pub(super) fn across(&mut self, across: Across) -> bool {
        self.choose_thing(|thing| thing.set.across = across)
    }

    pub(super) fn down(&mut self, down: Down) -> bool {
        self.choose_thing(|thing| thing.set.down = down)
    }

    pub(super) fn ink(&mut self, choice: InkChoice, colour: [u8; 3]) -> bool {
        self.choose_thing(|thing| {
            thing.set.ink = match (choice, thing.set.ink) {
                (InkChoice::Black, _) => Ink::Black,
                (InkChoice::Grey, _) => Ink::Grey,
                (InkChoice::White, _) => Ink::White,
                (InkChoice::Piece, _) => Ink::Piece,
                (InkChoice::Own, own @ Ink::Own(_)) => own,
                (InkChoice::Own, _) => Ink::Own(colour),
            };
        })
    }

    pub(super) fn symbol(&mut self, wanted: SymbolKind) -> bool {
        self.choose_thing(|thing| {
            if let What::Symbol { kind, .. } = &mut thing.what {
                *kind = wanted;
            }
        })
    }

    pub(super) fn holds(&mut self, hold: Hold) -> bool {
        self.choose_thing(|thing| {
            if let What::Symbol { of, .. } = &mut thing.what {
                *of = match hold {
                    Hold::Code => SymbolOf::Code,
                    Hold::PieceNumber => SymbolOf::PieceNumber,
                    Hold::Number => SymbolOf::Number,
                    Hold::Text => SymbolOf::Text(String::new()),
                };
            }
        })
    }

    pub(super) fn align(&mut self, edge: Edge) -> bool {
        let Some(moved) = self.thing().map(|thing| arrange::aligned(&self.paper, thing, edge)) else { return false };
        self.choose_thing(|thing| *thing = moved)
    }

    pub(super) fn turn(&mut self, thing: usize) -> bool {
        let Some(turned) = self.paper.pinned.get(thing).map(|pinned| arrange::turned(&self.paper, pinned)) else {
            return false;
        };
        self.selected = Some(thing);
        self.choose_thing(|pinned| *pinned = turned)
    }

    pub(super) fn lift(&mut self, thing: usize, to_front: bool) -> bool {
        let mut place = None;
        let done = self.choose(|paper| place = arrange::lifted(paper, thing, to_front));
        if place.is_some() {
            self.select(place);
        }
        done
    }

    pub(super) fn remove(&mut self, thing: usize) -> bool {
        let done = self.choose(|paper| {
            if thing < paper.pinned.len() {
                let _ = paper.pinned.remove(thing);
            }
        });
        self.select(None);
        done
    }

    /// Pins something and selects it.
    pub(super) fn pin(&mut self, what: What) -> bool {
        let pinned = arrange::fresh(&self.paper, what);
        let done = self.choose(|paper| paper.pinned.push(pinned));
        self.select(self.paper.pinned.len().checked_sub(1));
        done
    }

    pub(super) fn fold(&mut self, folding: Folding) -> bool {
        let [across, down] = arrange::middle(&self.paper);
        self.choose(|paper| {
            paper.fold = match folding {
                Folding::None => None,
                Folding::Upright => Some(Fold::Upright(across)),
                Folding::Across => Some(Fold::Across(down)),
            };
        })
    }

    pub(super) fn add_hole(&mut self) -> bool {
        let [across, _] = arrange::middle(&self.paper);
        let (down, diameter) = (Decimal::from(4).min(self.paper.height_mm), Decimal::from(3));
        self.choose(|paper| paper.holes.push(Hole { x_mm: across, y_mm: down, diameter_mm: diameter }))
    }

    pub(super) fn remove_hole(&mut self, hole: usize) -> bool {
        self.choose(|paper| {
            if hole < paper.holes.len() {
                let _ = paper.holes.remove(hole);
            }
        })
    }

    /// The first language; where it was the second they change places.
    pub(super) fn first_language(&mut self, language: Language) -> bool {
        self.choose(|paper| {
            let second = paper.languages.get(1).copied().filter(|second| *second != language);
            let old = paper.languages.first().copied();
            let swapped = paper.languages.get(1) == Some(&language);
            paper.languages = vec![language];
            paper.languages.extend(if swapped { old } else { second });
        })
    }

    pub(super) fn second_language(&mut self, language: Option<Language>) -> bool {
        self.choose(|paper| {
            paper.languages.truncate(1);
            let first = paper.languages.first().copied();
            paper.languages.extend(language.filter(|language| Some(*language) != first));
        })
    }
}

fn tenths(right: i32, down: i32) -> [Decimal; 2] {
    [right, down].map(|tenths| Decimal::new(i64::from(tenths), 1))
}
