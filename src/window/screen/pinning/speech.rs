//! The languages a paper is written in, ready to speak.

use crate::exchange::fonts_found;
use crate::measure::Preferences;
use crate::paper::language::OwnWords;
use crate::paper::pinned::{Facts, Panel, Pictures, Speaks, Spoken, lay_out};
use crate::paper::{PaperProblem, Shaper, Speech};
use crate::studio::{Language, PaperDesign};
use crate::window::Shared;
use std::sync::Arc;

/// What is said besides the facts: units and words of hers. Can be taken along to another thread.
#[derive(Debug, Clone)]
pub(super) struct Voice {
    preferences: Preferences,
    own: Arc<OwnWords>,
}

impl Voice {
    pub(super) fn new(shared: &Shared) -> Self {
        Self { preferences: shared.preferences, own: Arc::clone(&shared.snapshot.own_words) }
    }

    /// Does something with the languages of a paper at hand.
    pub(super) fn speaking<T>(&self, design: &PaperDesign, then: impl FnOnce(&[&dyn Speaks]) -> T) -> T {
        let languages = design.languages.iter();
        let spoken: Vec<Spoken<'_>> =
            languages.map(|language| Spoken::new(Speech::new(*language, &self.own), self.preferences)).collect();
        let spoken: Vec<&dyn Speaks> = spoken.iter().map(|language| language as &dyn Speaks).collect();
        then(&spoken)
    }

    /// Lays a paper out.
    pub(super) fn lay_out(
        &self,
        shaper: &mut Shaper,
        design: &PaperDesign,
        facts: &Facts,
        pictures: &Pictures,
        dots_per_inch: Option<u32>,
    ) -> Panel {
        self.speaking(design, |speeches| lay_out(shaper, design, facts, pictures, speeches, dots_per_inch))
    }
}

/// Sees to it that a shaper has the letters of these languages.
///
/// # Errors
/// When the type for one of them is not on this machine.
pub(in crate::window::screen) fn ready_for(shaper: &mut Shaper, languages: &[Language]) -> Result<(), PaperProblem> {
    if languages.iter().any(|language| shaper.can_write(*language).is_err()) {
        *shaper = fonts_found::shaper(languages)?;
    }
    Ok(())
}
