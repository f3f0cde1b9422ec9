//! Tables into files, by the form the file's name tells.

use super::{WriteProblem, csv, csv_files, csv_together, json, xlsx};
use crate::exchange::file_out::{self, FileProblem};
use crate::exchange::table::made::Table;
use std::path::{Path, PathBuf};

/// A form tables are written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Comma-separated values.
    Csv,
    /// A workbook.
    Xlsx,
    /// JSON, see [`SCHEMA`](super::SCHEMA).
    Json,
}

impl Form {
    /// Every form, in the order they are offered.
    pub const ALL: [Self; 3] = [Self::Csv, Self::Xlsx, Self::Json];

    /// How the names of such files end, without the dot.
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Csv => "csv",
            Self::Xlsx => "xlsx",
            Self::Json => "json",
        }
    }

    /// The form a file's name tells.
    pub fn of(path: &Path) -> Option<Self> {
        let ending = path.extension()?.to_str()?.to_lowercase();
        Self::ALL.into_iter().find(|form| form.ending() == ending)
    }
}

/// Why tables were not written.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum OutProblem {
    /// They cannot be written in that form.
    #[error(transparent)]
    Form(#[from] WriteProblem),
    /// The file cannot be written.
    #[error(transparent)]
    File(#[from] FileProblem),
}

/// True where several tables go into a folder, a file each: CSV, and a path that does not end in `.csv`.
pub fn in_folder(form: Form, path: &Path) -> bool {
    form == Form::Csv && (path.is_dir() || Form::of(path) != Some(Form::Csv))
}

/// Writes tables and answers the files written. XLSX and JSON take them in one file. CSV takes one in a file; several
/// together in a file whose name ends in `.csv`, else each in a file of its own in the folder of that name, which is
/// made where its own folder is there.
///
/// # Errors
/// When the tables cannot be written in that form, or the file cannot be written. Each file is written whole or not at
/// all; of several, those before the one that failed are there.
pub fn write_out(tables: &[Table], form: Form, path: &Path) -> Result<Vec<PathBuf>, OutProblem> {
    let files: Vec<(PathBuf, Vec<u8>)> = match (form, tables) {
        (Form::Xlsx, _) => vec![(path.to_owned(), xlsx(tables)?)],
        (Form::Json, _) => vec![(path.to_owned(), json(tables))],
        (Form::Csv, [table]) => vec![(path.to_owned(), csv(table)?)],
        (Form::Csv, _) if in_folder(form, path) => {
            csv_files(tables)?.into_iter().map(|(name, bytes)| (path.join(name), bytes)).collect()
        }
        (Form::Csv, _) => vec![(path.to_owned(), csv_together(tables)?)],
    };
    if tables.len() > 1 && in_folder(form, path) && !path.exists() {
        std::fs::create_dir(path).map_err(|error| FileProblem {
            path: path.to_owned(),
            reason: format!("no folder can be made: {error}"),
        })?;
    }
    for (path, bytes) in &files {
        file_out::write(path, bytes)?;
    }
    Ok(files.into_iter().map(|(path, _)| path).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exchange::table::made::{Column, ColumnKind, Value};

    fn table(name: &str) -> Table {
        Table {
            name: name.to_owned(),
            columns: vec![Column::new("what", ColumnKind::Text)],
            rows: vec![vec![Value::text("=1+1")]],
        }
    }

    fn names(written: &[PathBuf]) -> Vec<String> {
        written.iter().filter_map(|path| path.file_name()?.to_str().map(str::to_owned)).collect()
    }

    #[test]
    fn several_tables_are_a_folder_or_a_file_of_csv() {
        let folder = tempfile::tempdir().unwrap();
        let tables = [table("Items"), table("Lots")];
        let all = folder.path().join("all");
        assert_eq!(names(&write_out(&tables, Form::Csv, &all).unwrap()), ["Items.csv", "Lots.csv"]);
        assert_eq!(std::fs::read(all.join("Lots.csv")).unwrap(), b"what\r\n'=1+1\r\n");
        let one = folder.path().join("all.csv");
        assert_eq!(names(&write_out(&tables, Form::Csv, &one).unwrap()), ["all.csv"]);
        assert_eq!(std::fs::read(one).unwrap(), b"Items\r\nwhat\r\n'=1+1\r\n\r\nLots\r\nwhat\r\n'=1+1\r\n");
        let book = folder.path().join("all.xlsx");
        assert_eq!(names(&write_out(&tables, Form::Xlsx, &book).unwrap()), ["all.xlsx"]);
        assert!(write_out(&tables, Form::Csv, &folder.path().join("no/where")).is_err());
    }

    #[test]
    fn a_files_name_tells_its_form() {
        assert_eq!(Form::of(Path::new("a/b.XLSX")), Some(Form::Xlsx));
        assert_eq!(Form::of(Path::new("a/b.pdf")), None);
        assert_eq!(Form::of(Path::new("json")), None);
    }
}
