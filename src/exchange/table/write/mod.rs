//! Tables out: CSV, XLSX and JSON. The same tables give the same bytes.

mod csv;
mod file;
pub(super) mod formula;
mod json;
mod xlsx;

pub use csv::{csv, csv_files, csv_together};
pub use file::{Form, OutProblem, in_folder, write_out};
pub use json::{SCHEMA, json};
pub use xlsx::xlsx;

use super::cell::Place;

/// Why tables cannot be written in a form.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum WriteProblem {
    /// A text longer than a workbook's cell may be.
    #[error(
        "{table}, {place}: a text of {characters} characters; a workbook takes 32,767. Write CSV or JSON, or shorten it"
    )]
    TextTooLong {
        /// The table.
        table: String,
        /// The cell.
        place: Place,
        /// Its length.
        characters: usize,
    },
    /// More rows than a sheet may have.
    #[error("{table} has {rows} rows; a sheet takes 1,048,575 below its headings. Write CSV or JSON")]
    TooManyRows {
        /// The table.
        table: String,
        /// Its rows.
        rows: usize,
    },
    /// The form itself could not be made.
    #[error("the file cannot be made: {0}")]
    Form(String),
}
