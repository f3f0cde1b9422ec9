//! A design under her hand: the last good figures, the raw text of the fields, and what was saved.

use super::field::{Field, RowKey};
use crate::studio::{BookDesign, Design, DesignId, Follows, StepKind};
use std::collections::BTreeMap;

/// What a field holds while it differs from the plain text of its figure.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Typed {
    /// As typed.
    pub text: String,
    /// Why it cannot be taken; none when it was.
    pub problem: Option<String>,
}

/// The parts of a design that are saved together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Content {
    /// The design.
    pub design: Design,
    /// What it takes from the studio.
    pub follows: Follows,
    /// Notes.
    pub notes: String,
}

impl Content {
    /// What a book holds of it.
    pub fn of(book: &BookDesign) -> Self {
        Self { design: book.design.clone(), follows: book.follows.clone(), notes: book.notes.clone() }
    }
}

/// A design being worked on.
#[derive(Debug)]
pub struct Draft {
    /// Its row; none for one that is not in the book yet.
    pub id: Option<DesignId>,
    /// The last good figures: every text that could be read is in them.
    pub content: Content,
    /// Raw texts by field.
    pub texts: BTreeMap<Field, Typed>,
    /// What the book holds.
    pub saved: Content,
    /// What was sent to the book and is not yet acknowledged.
    pub sent: Option<Content>,
    /// What the book refused; it is not sent again by itself.
    pub rejected: Option<Content>,
    /// Keys of the steps, beside them.
    pub step_keys: Vec<RowKey>,
    /// Keys of the materials.
    pub material_keys: Vec<RowKey>,
    /// Keys of the channels.
    pub channel_keys: Vec<RowKey>,
    next_key: u32,
}

impl Draft {
    /// Takes up a design of the book.
    pub fn of(book: &BookDesign) -> Self {
        let content = Content::of(book);
        let mut draft = Self {
            id: Some(book.id),
            saved: content.clone(),
            content,
            texts: BTreeMap::new(),
            sent: None,
            rejected: None,
            step_keys: Vec::new(),
            material_keys: Vec::new(),
            channel_keys: Vec::new(),
            next_key: 0,
        };
        draft.rekey();
        draft
    }

    /// A key that was not given before.
    pub fn fresh_key(&mut self) -> RowKey {
        self.next_key += 1;
        RowKey(self.next_key)
    }

    fn rekey(&mut self) {
        let counts =
            [self.content.design.steps.len(), self.content.design.materials.len(), self.content.design.channels.len()];
        let [steps, materials, channels] = counts.map(|count| (0..count).map(|_| self.fresh_key()).collect::<Vec<_>>());
        self.step_keys = steps;
        self.material_keys = materials;
        self.channel_keys = channels;
    }

    /// The book holds something else now. Keeps what is being typed when the change is her own; takes the book's
    /// figures when they changed otherwise (an undo, another page). True when the figures on screen may differ.
    pub fn refresh(&mut self, book: &BookDesign) -> bool {
        let held = Content::of(book);
        if held == self.saved {
            return false;
        }
        let own = self.sent.as_ref() == Some(&held) || self.content == held;
        self.saved = held.clone();
        self.sent = None;
        if own {
            return false;
        }
        self.replace(held);
        true
    }

    /// Replaces everything; keys stay with the steps that are the same at both ends.
    pub fn replace(&mut self, content: Content) {
        self.texts.clear();
        let old_steps = std::mem::take(&mut self.content.design.steps);
        let mut keys = std::mem::take(&mut self.step_keys);
        let new_steps = &content.design.steps;
        let head = old_steps.iter().zip(new_steps).take_while(|(old, new)| old == new).count();
        let most = old_steps.len().min(new_steps.len()) - head;
        let tail = old_steps.iter().rev().zip(new_steps.iter().rev()).take(most).take_while(|(a, b)| a == b).count();
        // Steps that changed but kept their place keep their key, so that the one in hand stays in hand.
        let same_place = old_steps.len() == new_steps.len();
        if !same_place {
            let end = keys.split_off(keys.len().saturating_sub(tail));
            keys.truncate(head);
            while keys.len() + end.len() < new_steps.len() {
                let key = self.fresh_key();
                keys.push(key);
            }
            keys.extend(end);
        }
        self.step_keys = keys;
        if content.design.materials.len() != self.material_keys.len() {
            self.material_keys = (0..content.design.materials.len()).map(|_| self.fresh_key()).collect();
        }
        if content.design.channels.len() != self.channel_keys.len() {
            self.channel_keys = (0..content.design.channels.len()).map(|_| self.fresh_key()).collect();
        }
        self.content = content;
    }

    /// Good figures that the book does not hold yet and that are not on their way.
    pub fn is_unsaved(&self) -> bool {
        self.content != self.saved
            && self.sent.as_ref() != Some(&self.content)
            && self.rejected.as_ref() != Some(&self.content)
    }

    /// A field holds something that cannot be taken.
    pub fn has_problem(&self) -> bool {
        self.texts.values().any(|typed| typed.problem.is_some())
    }

    /// Where the step of that key stands.
    pub fn step_place(&self, key: RowKey) -> Option<usize> {
        self.step_keys.iter().position(|other| *other == key)
    }

    /// Where the material of that key stands.
    pub fn material_place(&self, key: RowKey) -> Option<usize> {
        self.material_keys.iter().position(|other| *other == key)
    }

    /// Where the channel of that key stands.
    pub fn channel_place(&self, key: RowKey) -> Option<usize> {
        self.channel_keys.iter().position(|other| *other == key)
    }

    /// Goes back to the plain text of every field of a row.
    pub fn forget_texts(&mut self, row: RowKey) {
        self.texts.retain(|field, _| match field {
            Field::Step(key, _)
            | Field::Use(key, _)
            | Field::Material(key, _)
            | Field::Channel(key, _)
            | Field::Band(key, ..) => *key != row,
            _ => true,
        });
    }

    /// Texts that were taken go back to the plain form; those that cannot be taken stay where they are.
    pub fn settle(&mut self) {
        self.texts.retain(|_, typed| typed.problem.is_some());
    }

    /// Firings on the route.
    pub fn firings(&self) -> u32 {
        let count = self.content.design.steps.iter().filter(|step| matches!(step.kind, StepKind::Fire(_))).count();
        u32::try_from(count).unwrap_or(u32::MAX)
    }
}
