//! The book all benchmarks work on.

use crate::generator::{self, Size};
use chrono::{NaiveDate, NaiveDateTime};
use enamelwright::actions::{self, Action, ActionKey, Order, Outcome};
use enamelwright::book::{Access, Book};
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// The folder the book is kept in from one run to the next.
const KEPT: &str = "ENAMELWRIGHT_BENCH_BOOK";
/// Asks for a small book.
const SMALL: &str = "ENAMELWRIGHT_BENCH_SMALL";

/// The day of all benchmarks: soon after the ten years of the book.
pub(crate) fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 2).expect("a day")
}

/// The moment of all benchmarks.
pub(crate) fn now() -> NaiveDateTime {
    today().and_hms_opt(9, 30, 0).expect("a time")
}

/// A working copy of the book in a folder of its own.
#[derive(Debug)]
pub(crate) struct Studio {
    folder: TempDir,
}

impl Studio {
    /// Makes the book, or takes a copy of the one that is kept. The day's backup lies beside it, as it does from the
    /// first opening of a day on.
    pub(crate) fn prepare() -> Self {
        let size = if std::env::var_os(SMALL).is_some() { Size::SMALL } else { Size::TEN_YEARS };
        let studio = match std::env::var_os(KEPT).map(PathBuf::from) {
            None => {
                let studio = Self { folder: tempfile::tempdir().expect("a temporary folder") };
                generator::make(&studio.book(), size);
                studio
            }
            Some(kept) => {
                std::fs::create_dir_all(&kept).expect("the folder of the kept book");
                let whole = kept.join(format!("{}.studiobook", size.name));
                if !whole.exists() {
                    generator::make(&whole, size);
                }
                // Beside it, so that it is on the same disk.
                let folder = tempfile::Builder::new().prefix("working-copy-").tempdir_in(&kept).expect("a folder");
                let studio = Self { folder };
                let _ = std::fs::copy(&whole, studio.book()).expect("the book is copied");
                studio
            }
        };
        drop(studio.open());
        let bytes = std::fs::metadata(studio.book()).expect("the book is there").len();
        eprintln!("{}: {:.1} MB, in {}", size.name, bytes as f64 / 1e6, studio.folder().display());
        studio
    }

    /// Where the book lies.
    pub(crate) fn book(&self) -> PathBuf {
        self.folder().join("studio.studiobook")
    }

    /// The folder it lies in.
    pub(crate) fn folder(&self) -> &Path {
        self.folder.path()
    }

    /// Opens it to work in.
    pub(crate) fn open(&self) -> Book {
        open(&self.book())
    }
}

/// Opens a book to work in.
pub(crate) fn open(path: &Path) -> Book {
    Book::open(path, Access::Write, today()).expect("the book opens")
}

/// Carries out an action now.
pub(crate) fn perform(book: &mut Book, action: Action) -> Outcome {
    actions::perform(book, action, Order { key: ActionKey::fresh(), at: now() }).expect("the action is carried out")
}
