//! The count sheet on paper.

use super::tally::on_shelves;
use crate::book::Snapshot;
use crate::exchange::file_out;
use crate::measure::Preferences;
use crate::paper::count_model::{self, Asked};
use crate::paper::{CountSheet, PaperSize, Properties, Shaper, count_sheet, pdf};
use crate::window::clock::Clock;
use crate::window::widget::Entry;
use crate::window::widget::path_field::typed_path;
use chrono::NaiveDate;
use std::path::{Path, PathBuf};

/// What is asked of it.
#[derive(Debug)]
pub(super) struct Sheet {
    pub(super) with_stock: bool,
    pub(super) letter: bool,
    pub(super) path: Entry,
    pub(super) problem: Option<String>,
    /// A file is there already: it is replaced when asked for once more.
    pub(super) replaces: bool,
    pub(super) making: bool,
}

/// A sheet that is ready to be written.
#[derive(Debug)]
pub(super) struct Outgoing {
    sheet: CountSheet,
    author: String,
    path: PathBuf,
}

impl Sheet {
    pub(super) fn new() -> Self {
        Self { with_stock: false, letter: false, path: Entry::default(), problem: None, replaces: false, making: false }
    }

    /// Another path was typed or chosen.
    pub(super) fn type_path(&mut self, text: String) {
        self.path.type_in(text);
        self.problem = None;
        self.replaces = false;
    }

    /// The sheet of a shelf, or of all; nothing while something is missing.
    pub(super) fn outgoing(
        &mut self,
        shelf: Option<&str>,
        today: NaiveDate,
        snapshot: &Snapshot,
        preferences: &Preferences,
    ) -> Option<Outgoing> {
        if self.making {
            return None;
        }
        let Some(path) = typed_path(self.path.text()) else {
            self.problem = Some("nothing is typed: type a path, e.g. ~/count.pdf".to_owned());
            return None;
        };
        let path = if path.extension().is_some() { path } else { path.with_extension("pdf") };
        if path.exists() && !self.replaces {
            self.problem = Some(format!("{} is there already: press again to replace it", path.display()));
            self.replaces = true;
            return None;
        }
        let asked = Asked {
            shelf,
            with_stock: self.with_stock,
            paper: if self.letter { PaperSize::LETTER } else { PaperSize::A4 },
        };
        let studio = &snapshot.settings.studio_name;
        let sheet = count_model::count_sheet(on_shelves(snapshot), &asked, studio, &today.to_string(), preferences);
        self.problem = None;
        self.making = true;
        Some(Outgoing { sheet, author: studio.clone(), path })
    }
}

/// Makes the PDF and writes it; what was done, or why not, as a sentence.
pub(super) fn write(out: &Outgoing) -> Result<String, String> {
    let document = count_sheet::layout(&out.sheet, &mut Shaper::new()).map_err(|error| error.to_string())?;
    let properties = Properties {
        title: "Count sheet".to_owned(),
        author: out.author.clone(),
        created: Clock::system().now(),
        language: "en".to_owned(),
    };
    let bytes = pdf::write(&document, &properties).map_err(|error| error.to_string())?;
    let path: &Path = &out.path;
    file_out::write(path, &bytes).map_err(|error| error.to_string())?;
    let pages = document.pages.len();
    let pages = if pages == 1 { "1 page".to_owned() } else { format!("{pages} pages") };
    let warnings: String = document.warnings.iter().map(|warning| format!("; {warning}")).collect();
    Ok(format!("Saved the count sheet, {pages}, to {}{warnings}", path.display()))
}
