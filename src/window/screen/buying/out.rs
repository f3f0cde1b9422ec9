//! The shopping list out, as a PDF or a CSV file.

use crate::costing::shopping::ShoppingList;
use crate::exchange::file_out;
use crate::exchange::table::{lists, write};
use crate::measure::Preferences;
use crate::paper::{PaperSize, Shaper, shopping, shopping_model};
use crate::studio::Settings;
use crate::window::screen::way_out::{Laid, Leaving};
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
    /// The file proposed for it.
    pub(super) const fn file_name(self) -> &'static str {
        match self {
            Self::Pdf => "shopping-list.pdf",
            Self::Csv => "shopping-list.csv",
        }
    }
}

/// A list to be saved as a table.
#[derive(Debug, Clone)]
pub(super) struct Table {
    pub(super) list: ShoppingList,
    pub(super) settings: Arc<Settings>,
    pub(super) path: PathBuf,
}

/// Writes the table; what was done, or why not, as a sentence.
pub(super) fn save(out: &Table) -> Result<String, String> {
    let table = lists::shopping(&out.list, &Preferences::from(&*out.settings));
    let bytes = write::csv(&table).map_err(|problem| problem.to_string())?;
    file_out::write(&out.path, &bytes).map_err(|problem| problem.to_string())?;
    Ok(format!("Saved the shopping list to {}", out.path.display()))
}

/// The list on paper, laid out when it goes out.
pub(super) fn leaving(list: ShoppingList, settings: Arc<Settings>, day: NaiveDate, paper: PaperSize) -> Leaving {
    let author = settings.studio_name.clone();
    Leaving::laid_by(
        move |_| {
            let model = shopping_model(&list, &settings, day, paper);
            let document = shopping::layout(&model, &mut Shaper::new()).map_err(|problem| problem.to_string())?;
            Ok(Laid::of("the shopping list", document))
        },
        "Shopping list",
        author,
        Kind::Pdf.file_name(),
    )
}
