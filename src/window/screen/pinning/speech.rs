//! The languages a paper is written in, ready to speak.

use crate::measure::Preferences;
use crate::window::Shared;
use crate::paper::pinned::{English, Panel, Pictures, Speaks, lay_out};
use crate::paper::pinned::Facts;
use crate::paper::Shaper;
use crate::studio::PaperDesign;

/// What is said besides the facts: units and words of hers. Can be taken along to another thread.
#[derive(Debug, Clone)]
pub(super) struct Voice {
    preferences: Preferences,
}

impl Voice {
    pub(super) fn new(shared: &Shared) -> Self {
        Self { preferences: shared.preferences }
    }

    /// Does something with the languages of a paper at hand.
    pub(super) fn speaking<T>(&self, design: &PaperDesign, then: impl FnOnce(&[&dyn Speaks]) -> T) -> T {
        let spoken: Vec<English> =
            design.languages.iter().map(|_| English { preferences: self.preferences }).collect();
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
