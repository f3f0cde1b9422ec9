//! The count sheet on paper.

use super::tally::on_shelves;
use crate::book::Snapshot;
use crate::measure::Preferences;
use crate::paper::count_model::{self, Asked};
use crate::paper::{PaperSize, Shaper, count_sheet};
use crate::window::screen::way_out::{self, Laid, Leaving};
use chrono::NaiveDate;

/// The name of its file where nobody chose one.
pub(super) const FILE_NAME: &str = "count-sheet.pdf";

/// What is asked of it.
#[derive(Debug)]
pub(super) struct Sheet {
    pub(super) with_stock: bool,
    pub(super) letter: bool,
    pub(super) out: way_out::State,
}

impl Sheet {
    pub(super) fn new() -> Self {
        Self { with_stock: false, letter: false, out: way_out::State::new() }
    }

    /// The sheet of a shelf, or of all, laid out when it goes out.
    pub(super) fn leaving(
        &self,
        shelf: Option<&str>,
        today: NaiveDate,
        snapshot: &Snapshot,
        preferences: &Preferences,
    ) -> Leaving {
        let asked = Asked {
            shelf,
            with_stock: self.with_stock,
            paper: if self.letter { PaperSize::LETTER } else { PaperSize::A4 },
        };
        let studio = &snapshot.settings.studio_name;
        let sheet = count_model::count_sheet(on_shelves(snapshot), &asked, studio, &today.to_string(), preferences);
        Leaving::laid_by(
            move |_| {
                let document =
                    count_sheet::layout(&sheet, &mut Shaper::new()).map_err(|problem| problem.to_string())?;
                Ok(Laid::of("the count sheet", document))
            },
            "Count sheet",
            studio,
            FILE_NAME,
        )
    }
}
