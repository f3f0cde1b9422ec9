//! Why a book cannot be opened, read or written, as plain sentences.

use rusqlite::ErrorCode;
use std::path::{Path, PathBuf};

/// A fault of the book itself (not of what a person asked for).
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum BookError {
    /// No such file.
    #[error("there is no book at {0}")]
    Missing(PathBuf),
    /// The path is taken.
    #[error("{0} exists already; a new book needs a name of its own")]
    Exists(PathBuf),
    /// Not a studio book.
    #[error("{0} is not a studio book")]
    NotABook(PathBuf),
    /// Damaged; left as it is.
    #[error("{path} is damaged ({detail}); it was left as it is. Restore a backup, or keep the file for repair")]
    Damaged {
        /// The book.
        path: PathBuf,
        /// What the check said.
        detail: String,
    },
    /// Written by a newer program; left as it is.
    #[error(
        "{path} was written by a newer Enamelwright (book version {found}, this program knows {known}); it was left as it is"
    )]
    Newer {
        /// The book.
        path: PathBuf,
        /// Its version.
        found: i64,
        /// The newest this program knows.
        known: i64,
    },
    /// Another window or command has it.
    #[error("{0} is open in another window; close it there, or open it here to look only")]
    InUse(PathBuf),
    /// A program that is not Enamelwright holds it.
    #[error("{0} is locked by another program; close it there and try again")]
    Locked(PathBuf),
    /// The book may only be looked at.
    #[error("{0} is read-only: nothing can be changed in it")]
    ReadOnly(PathBuf),
    /// The disk is full; nothing was written.
    #[error("the disk is full: nothing was changed. Make room and try again")]
    DiskFull,
    /// The system refused.
    #[error("{path}: {detail}")]
    System {
        /// The file.
        path: PathBuf,
        /// What the system said.
        detail: String,
    },
    /// A number the book has no room for; it keeps money up to 9 million million with six decimals, quantities up to
    /// 9 thousand million with nine.
    #[error("{0} does not fit the book: amounts go up to 9,000,000,000,000 and quantities up to 9,000,000,000")]
    TooLarge(String),
    /// A row that this program did not write.
    #[error("the book holds something this program cannot read: {0}")]
    Odd(String),
    /// SQLite said something unexpected.
    #[error("the book could not be read or written: {0}")]
    Sqlite(String),
    /// The thread that owns the book is gone.
    #[error("the book was closed by a fault; start Enamelwright again. Nothing acknowledged is lost")]
    Stopped,
}

impl BookError {
    /// The same fault, naming the book it happened in. Faults inside the book do not know its path.
    #[must_use]
    pub(crate) fn of_book(self, book: &Path) -> Self {
        let path = book.to_owned();
        match self {
            Self::Damaged { path: empty, detail } if empty.as_os_str().is_empty() => Self::Damaged { path, detail },
            Self::NotABook(empty) if empty.as_os_str().is_empty() => Self::NotABook(path),
            Self::Locked(empty) if empty.as_os_str().is_empty() => Self::Locked(path),
            Self::ReadOnly(empty) if empty.as_os_str().is_empty() => Self::ReadOnly(path),
            other => other,
        }
    }

    /// What the system said about a file.
    pub(in crate::book) fn system(path: &Path, error: &std::io::Error) -> Self {
        match error.kind() {
            std::io::ErrorKind::NotFound => Self::Missing(path.to_owned()),
            std::io::ErrorKind::StorageFull | std::io::ErrorKind::QuotaExceeded => Self::DiskFull,
            std::io::ErrorKind::ReadOnlyFilesystem => Self::ReadOnly(path.to_owned()),
            _ => Self::System { path: path.to_owned(), detail: error.to_string() },
        }
    }
}

impl From<rusqlite::Error> for BookError {
    fn from(error: rusqlite::Error) -> Self {
        let Some(code) = error.sqlite_error_code() else { return Self::Sqlite(error.to_string()) };
        match code {
            ErrorCode::DiskFull => Self::DiskFull,
            ErrorCode::DatabaseCorrupt => Self::Damaged { path: PathBuf::new(), detail: error.to_string() },
            ErrorCode::NotADatabase => Self::NotABook(PathBuf::new()),
            ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked => Self::Locked(PathBuf::new()),
            ErrorCode::ReadOnly => Self::ReadOnly(PathBuf::new()),
            _ => Self::Sqlite(error.to_string()),
        }
    }
}

impl From<serde_json::Error> for BookError {
    fn from(error: serde_json::Error) -> Self {
        Self::Odd(error.to_string())
    }
}
