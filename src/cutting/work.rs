//! The work budget: tries counted, never time, and a word to whoever waits.

use super::CutError;

/// How far the search is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Tries made.
    pub tried: u32,
    /// Tries there may be.
    pub of: u32,
    /// Blanks on the best layout so far.
    pub blanks: u32,
}

/// What the one who waits says to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Flow {
    /// Search on.
    GoOn,
    /// The best layout so far will do.
    Enough,
    /// Give up; there is no layout.
    Cancel,
}

/// Tries between two words.
const TRIES_PER_WORD: u32 = 64;

/// Counts tries and asks whether to go on.
pub(super) struct Work<'a> {
    tried: u32,
    of: u32,
    next_word: u32,
    blanks: u32,
    ended: bool,
    heard: &'a mut dyn FnMut(Progress) -> Flow,
}

impl<'a> Work<'a> {
    /// A budget of tries.
    pub(super) fn new(of: u32, heard: &'a mut dyn FnMut(Progress) -> Flow) -> Self {
        Self { tried: 0, of, next_word: 0, blanks: 0, ended: false, heard }
    }

    /// Takes tries off the budget. `Ok(false)` where nothing is left or the best so far will do.
    ///
    /// # Errors
    /// [`CutError::Cancelled`].
    pub(super) fn spend(&mut self, tries: u32) -> Result<bool, CutError> {
        self.tried = self.tried.saturating_add(tries).min(self.of);
        if self.tried >= self.next_word {
            self.next_word = self.tried.saturating_add(TRIES_PER_WORD);
            match (self.heard)(Progress { tried: self.tried, of: self.of, blanks: self.blanks }) {
                Flow::GoOn => {}
                Flow::Enough => self.ended = true,
                Flow::Cancel => return Err(CutError::Cancelled),
            }
        }
        Ok(!self.ended && self.tried < self.of)
    }

    /// Tries left.
    pub(super) fn left(&self) -> u32 {
        if self.ended { 0 } else { self.of - self.tried }
    }

    /// Notes a layout of so many blanks.
    pub(super) fn found(&mut self, blanks: usize) {
        self.blanks = self.blanks.max(u32::try_from(blanks).unwrap_or(u32::MAX));
    }
}
