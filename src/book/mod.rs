//! The studio book: one SQLite file. The only place with SQL.

pub mod backup;
pub mod error;
pub mod snapshot;

pub use error::BookError;
pub use snapshot::{HistoryEntry, Snapshot, StockRow};

use std::path::{Path, PathBuf};

/// How a book is opened.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Access {
    /// To work in it; refused with [`BookError::InUse`] when another window has it.
    Write,
    /// To look at it.
    Read,
}

/// An open studio book. Owns its connection; not shared between threads.
pub struct Book {
    path: PathBuf,
}

impl Book {
    /// Makes a new, empty book; refuses a path that exists.
    pub fn create(path: &Path) -> Result<Self, BookError> {
        Ok(Self { path: path.to_owned() })
    }

    /// Opens a book: checks that it is one, that it is whole and not newer than this program, keeps a copy and
    /// migrates when it is older, takes the day's backup when the last is older than a day.
    pub fn open(path: &Path, access: Access, today: chrono::NaiveDate) -> Result<Self, BookError> {
        let _ = (access, today);
        Ok(Self { path: path.to_owned() })
    }

    /// Makes a verified backup now; where it lies.
    pub fn backup(&self, to: Option<&Path>, at: chrono::NaiveDateTime) -> Result<PathBuf, BookError> {
        let _ = (to, at);
        Err(BookError::Stopped)
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        &self.path
    }
}
