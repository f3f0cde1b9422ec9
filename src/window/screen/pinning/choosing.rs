//! What can be chosen for the paper being changed, and for the thing that is selected on it.

use super::draft::Draft;
use super::message::{Folding, Hold, InkChoice};
use crate::measure::Decimal;
use crate::paper::arrange::{self, Edge};
use crate::studio::{Across, Down, Fold, Hole, Ink, Language, Pinned, SymbolKind, SymbolOf, Weight, What};

impl Draft {
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

    pub(super) fn lift_whole(&mut self, thing: usize, to_front: bool) -> bool {
        let mut place = None;
        let done = self.choose(|paper| place = arrange::lifted_whole(paper, thing, to_front));
        if place.is_some() {
            self.select(place);
        }
        done
    }

    /// Pins a copy of a thing beside it and selects it.
    pub(super) fn double(&mut self, thing: usize) -> bool {
        let Some(copy) = self.paper.pinned.get(thing).map(|pinned| arrange::doubled(&self.paper, pinned)) else {
            return false;
        };
        let done = self.choose(|paper| paper.pinned.insert(thing + 1, copy));
        self.select(Some(thing + 1));
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
