//! One writer a book: a lock of the operating system on a file beside it. The system lets go of it when the program
//! ends, however it ends.

use super::BookError;
use std::fs::{File, OpenOptions, TryLockError};
use std::path::{Path, PathBuf};

/// Holds a book for writing until dropped.
#[derive(Debug)]
pub(in crate::book) struct Lock {
    // Closing the file lets go of the lock. The file stays: taking it away would race with the next writer.
    _file: File,
}

/// The file the lock is on.
pub(in crate::book) fn lock_path(book: &Path) -> PathBuf {
    let mut name = book.as_os_str().to_owned();
    name.push(".lock");
    PathBuf::from(name)
}

/// Takes the book for writing.
pub(in crate::book) fn take(book: &Path) -> Result<Lock, BookError> {
    let path = lock_path(book);
    let file =
        OpenOptions::new().read(true).write(true).create(true).truncate(false).open(&path).map_err(
            |error| match error.kind() {
                std::io::ErrorKind::PermissionDenied | std::io::ErrorKind::ReadOnlyFilesystem => {
                    BookError::ReadOnly(book.to_owned())
                }
                _ => BookError::system(&path, &error),
            },
        )?;
    match file.try_lock() {
        Ok(()) => Ok(Lock { _file: file }),
        Err(TryLockError::WouldBlock) => Err(BookError::InUse(book.to_owned())),
        Err(TryLockError::Error(error)) => Err(BookError::system(&path, &error)),
    }
}
