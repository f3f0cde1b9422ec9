//! The shopping list out, as a PDF or a CSV file, on a thread of its own.

use crate::costing::shopping::ShoppingList;
use crate::exchange::file_out;
use crate::exchange::table::{lists, write};
use crate::measure::Preferences;
use crate::paper::{PaperSize, Properties, Shaper, pdf, shopping, shopping_model};
use crate::studio::Settings;
use crate::window::clock::Clock;
use chrono::NaiveDate;
use std::path::PathBuf;
use std::sync::Arc;

/// What the list is saved as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// To print and tick off.
    Pdf,
    /// For a spreadsheet.
    Csv,
}

impl Kind {
    /// How the name of its file ends.
    pub(super) const fn extension(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Csv => "csv",
        }
    }

    /// The file proposed for it.
    pub(super) const fn file_name(self) -> &'static str {
        match self {
            Self::Pdf => "shopping-list.pdf",
            Self::Csv => "shopping-list.csv",
        }
    }
}

/// A list to be saved.
#[derive(Debug, Clone)]
pub(super) struct Outgoing {
    pub(super) list: ShoppingList,
    pub(super) settings: Arc<Settings>,
    pub(super) day: NaiveDate,
    pub(super) kind: Kind,
    pub(super) paper: PaperSize,
    pub(super) path: PathBuf,
}

/// Writes the file; what was done, or why not, as a sentence.
pub(super) fn send(out: &Outgoing) -> Result<String, String> {
    let mut remark = String::new();
    let bytes = match out.kind {
        Kind::Csv => {
            let table = lists::shopping(&out.list, &Preferences::from(&*out.settings));
            write::csv(&table).map_err(|problem| problem.to_string())?
        }
        Kind::Pdf => {
            let model = shopping_model(&out.list, &out.settings, out.day, out.paper);
            let document = shopping::layout(&model, &mut Shaper::new()).map_err(|problem| problem.to_string())?;
            if let Some(first) = document.warnings.first() {
                remark = match document.warnings.len() {
                    1 => format!(". {first}"),
                    many => format!(". {first}, and {} more like it", many - 1),
                };
            }
            let properties = Properties {
                title: "Shopping list".to_owned(),
                author: out.settings.studio_name.clone(),
                created: Clock::system().now(),
                language: "en".to_owned(),
            };
            pdf::write(&document, &properties).map_err(|problem| problem.to_string())?
        }
    };
    file_out::write(&out.path, &bytes).map_err(|problem| problem.to_string())?;
    Ok(format!("Saved the shopping list to {}{remark}", out.path.display()))
}
