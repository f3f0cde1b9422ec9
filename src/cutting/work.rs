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
    begun: Option<u32>,
    until: u32,
    of: u32,
    next_word: u32,
    blanks: u32,
    ended: bool,
    heard: &'a mut dyn FnMut(Progress) -> Flow,
}

impl<'a> Work<'a> {
    /// A budget of tries.
    pub(super) fn new(of: u32, heard: &'a mut dyn FnMut(Progress) -> Flow) -> Self {
        Self { tried: 0, begun: None, until: 0, of, next_word: 0, blanks: 0, ended: false, heard }
    }

    /// Begins a round of so many tries; false where nothing is left, or the round before had nothing to try.
    pub(super) fn begin(&mut self, tries: u32) -> bool {
        if self.ended || self.tried >= self.of || self.begun == Some(self.tried) {
            return false;
        }
        self.begun = Some(self.tried);
        self.until = self.tried.saturating_add(tries).min(self.of);
        true
    }

    /// Takes tries off the budget. `Ok(false)` where the round has none left or the best so far will do.
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
        Ok(!self.ended && self.tried < self.until)
    }

    /// Tries left in the round.
    pub(super) fn left(&self) -> u32 {
        if self.ended { 0 } else { self.until.saturating_sub(self.tried) }
    }

    /// Notes a layout of so many blanks.
    pub(super) fn found(&mut self, blanks: usize) {
        self.blanks = self.blanks.max(u32::try_from(blanks).unwrap_or(u32::MAX));
    }
}
