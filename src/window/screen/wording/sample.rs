//! The paper that is drawn beside a phrase.

use crate::measure::Preferences;
use crate::paper::phrase_sample::{self, SampleOf};
use crate::paper::pinned::StudioWords;
use crate::paper::{OwnWords, Speech};
use crate::studio::Language;
use crate::window::Shared;
use crate::window::screen::pinning::{Layer, Outline, Tools, layers, ready_for};
use std::sync::Arc;

/// A drawn paper.
#[derive(Debug, Default)]
pub(super) struct Drawn {
    /// What it is.
    pub(super) what: &'static str,
    pub(super) outline: Outline,
    pub(super) layers: Vec<Layer>,
    /// What could not be printed as asked.
    pub(super) warnings: Vec<String>,
}

/// A studio, and a piece of hers where the book has one, to make samples with.
pub(super) fn of(shared: &Shared) -> SampleOf {
    let design = shared.snapshot.designs.iter().find(|book| !book.retired).map(|book| &book.design);
    SampleOf {
        studio: Arc::new(StudioWords::from(shared.settings())),
        preferences: Preferences::from(shared.settings()),
        name: design.map_or_else(|| "Example".to_owned(), |design| design.name.clone()),
        code: design.map_or_else(|| "EXAMPLE".to_owned(), |design| design.code.as_str().to_owned()),
        today: shared.today,
    }
}

/// Draws the paper a phrase stands on.
///
/// # Errors
/// When there is no type for the language, or the paper has no room for the words.
pub(super) fn draw(
    phrase: &str,
    language: Language,
    own: &OwnWords,
    of: &SampleOf,
    tools: &mut Tools,
) -> Result<Drawn, String> {
    ready_for(&mut tools.shaper, &[language]).map_err(|problem| problem.to_string())?;
    let sample = phrase_sample::sample(phrase, Speech::new(language, own), of, &mut tools.shaper)
        .map_err(|problem| problem.to_string())?;
    // A paper is at most a few hundred millimetres wide.
    #[allow(clippy::cast_possible_truncation)]
    let [width, height] = [sample.width_mm, sample.height_mm].map(|side| (side as f32).max(1.0));
    Ok(Drawn {
        what: sample.what,
        outline: Outline { width, height, ..Outline::default() },
        layers: layers(&sample.items, tools),
        warnings: sample.warnings.iter().map(ToString::to_string).collect(),
    })
}
