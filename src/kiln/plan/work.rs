//! The work budget: loads tried, never time, and a word to whoever waits.

use super::PlanProblem;

/// How far the search is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Loads tried.
    pub tried: u32,
    /// Loads that may be tried.
    pub of: u32,
    /// The finish of the best plan so far, a second of the day.
    pub finish: Option<i64>,
}

/// Loads tried between two words.
const TRIES_PER_WORD: u32 = 256;

/// Counts the loads tried and asks whether to go on.
pub(super) struct Work<'a> {
    tried: u32,
    of: u32,
    /// What a load tried takes off the budget: more where there are many kinds to weigh.
    price: u32,
    next_word: u32,
    finish: Option<i64>,
    go_on: &'a mut dyn FnMut(Progress) -> bool,
}

impl<'a> Work<'a> {
    /// A budget of loads, for a question of so many kinds of firings.
    pub(super) fn new(of: u32, kinds: usize, go_on: &'a mut dyn FnMut(Progress) -> bool) -> Self {
        let price = 1 + u32::try_from(kinds / 256).unwrap_or(u32::MAX - 1);
        Self { tried: 0, of, price, next_word: 0, finish: None, go_on }
    }

    /// Says how far it is.
    ///
    /// # Errors
    /// [`PlanProblem::Cancelled`].
    pub(super) fn hear(&mut self) -> Result<(), PlanProblem> {
        let progress = Progress { tried: self.tried.min(self.of), of: self.of, finish: self.finish };
        if (self.go_on)(progress) { Ok(()) } else { Err(PlanProblem::Cancelled) }
    }

    /// Takes tries off the budget; false where none is left.
    ///
    /// # Errors
    /// [`PlanProblem::Cancelled`].
    pub(super) fn spend(&mut self, tries: u32) -> Result<bool, PlanProblem> {
        self.tried = self.tried.saturating_add(tries.saturating_mul(self.price));
        if self.tried >= self.next_word {
            self.next_word = self.tried.saturating_add(TRIES_PER_WORD);
            self.hear()?;
        }
        Ok(self.is_left())
    }

    /// Whether some of the budget is left.
    pub(super) fn is_left(&self) -> bool {
        self.tried < self.of
    }

    /// Notes the finish of a plan found.
    pub(super) fn found(&mut self, finish: i64) {
        self.finish = Some(self.finish.map_or(finish, |known| known.min(finish)));
    }
}
