//! Why a book cannot be opened, read or written, as plain sentences.

use std::path::PathBuf;

/// A fault of the book itself (not of what a person asked for).
#[derive(Debug, Clone, thiserror::Error)]
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
    /// SQLite said something unexpected.
    #[error("the book could not be read or written: {0}")]
    Sqlite(String),
    /// The thread that owns the book is gone.
    #[error("the book was closed by a fault; start Enamelwright again. Nothing acknowledged is lost")]
    Stopped,
}
