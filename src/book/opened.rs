//! Making, opening and holding a book.

use super::inspection::{self, Depth};
use super::lock::{self, Lock};
use super::view::Seen;
use super::{BookError, Change, Reader, Snapshot, backup, connection, document, history, item_state, migration, sheet};
use crate::studio::defaults;
use chrono::{NaiveDate, NaiveDateTime, NaiveTime};
use rusqlite::Connection;
use std::cell::RefCell;
use std::path::{Path, PathBuf};

/// How a book is opened.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Access {
    /// To work in it; refused with [`BookError::InUse`] when another window has it.
    Write,
    /// To look at it.
    Read,
}

/// Books up to this size are read page by page at every opening (about 5 ms a MB). Larger ones are when the day's
/// backup is due and after a stop in the middle of something; between those, their header and layout are.
const ALWAYS_READ_WHOLE: u64 = 4 * 1024 * 1024;

/// An open studio book. Owns its connection; may move to another thread, is not shared between threads.
pub struct Book {
    // Before `lock`: fields are dropped in order, and the book is closed before another may write.
    connection: Connection,
    path: PathBuf,
    access: Access,
    seen: RefCell<Option<Seen>>,
    backup_fault: Option<BookError>,
    _lock: Option<Lock>,
}

impl std::fmt::Debug for Book {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Book").field("path", &self.path).field("access", &self.access).finish_non_exhaustive()
    }
}

impl Book {
    /// Makes a new book with the default settings, rates and sheets; refuses a path that exists. The directory must
    /// exist. The file appears under its name only when it is whole.
    pub fn create(path: &Path) -> Result<Self, BookError> {
        if path.try_exists().map_err(|error| BookError::system(path, &error))? {
            return Err(BookError::Exists(path.to_owned()));
        }
        let lock = lock::take(path)?;
        let beside = with_ending(path, ".new");
        let made = Self::make(&beside).and_then(|()| {
            // Another program may have made the file meanwhile; a hard link refuses to replace it where there are any.
            match std::fs::hard_link(&beside, path) {
                Ok(()) => Ok(()),
                Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => {
                    Err(BookError::Exists(path.to_owned()))
                }
                Err(_) => std::fs::rename(&beside, path).map_err(|error| BookError::system(path, &error)),
            }
        });
        for ending in ["", "-wal", "-shm"] {
            remove_if_there(&with_ending(&beside, ending));
        }
        made.map_err(|fault| fault.of_book(path))?;
        backup::flush_directory(path);
        let connection = connection::writing(path).map_err(|fault| fault.of_book(path))?;
        Ok(Self {
            connection,
            path: path.to_owned(),
            access: Access::Write,
            seen: RefCell::new(None),
            backup_fault: None,
            _lock: Some(lock),
        })
    }

    fn make(path: &Path) -> Result<(), BookError> {
        for ending in ["", "-wal", "-shm"] {
            remove_if_there(&with_ending(path, ending));
        }
        std::fs::OpenOptions::new().write(true).create_new(true).open(path).map_err(|error| match error.kind() {
            std::io::ErrorKind::PermissionDenied => BookError::ReadOnly(path.to_owned()),
            _ => BookError::system(path, &error),
        })?;
        let mut connection = connection::writing(path)?;
        migration::to_latest(&mut connection)?;
        let change = Change::begin(&mut connection)?;
        document::set_settings(&change, &defaults::settings())?;
        document::set_rates(&change, &defaults::studio_rates())?;
        for label_sheet in defaults::label_sheets() {
            sheet::insert(&change, &label_sheet)?;
        }
        change.keep()?;
        // Closing moves the log into the file.
        connection.close().map_err(|(_, error)| BookError::from(error))
    }

    /// Opens a book: checks that it is one, that it is whole and not newer than this program, keeps a copy and
    /// migrates when it is older, takes the day's backup when the last is older than a day. A backup that cannot be
    /// made does not hinder opening: see [`Book::backup_fault`].
    pub fn open(path: &Path, access: Access, today: NaiveDate) -> Result<Self, BookError> {
        match access {
            Access::Read => Self::open_to_read(path),
            Access::Write => Self::open_to_write(path, today.and_time(NaiveTime::MIN)),
        }
    }

    fn open_to_read(path: &Path) -> Result<Self, BookError> {
        let version = inspection::inspect(path, depth(path, false))?;
        if version < migration::KNOWN_VERSION {
            return Err(BookError::System {
                path: path.to_owned(),
                detail:
                    "it was written by an older Enamelwright; open it to work in it once, which brings it up to date"
                        .to_owned(),
            });
        }
        let connection = connection::reading(path).map_err(|fault| fault.of_book(path))?;
        Ok(Self {
            connection,
            path: path.to_owned(),
            access: Access::Read,
            seen: RefCell::new(None),
            backup_fault: None,
            _lock: None,
        })
    }

    fn open_to_write(path: &Path, at: NaiveDateTime) -> Result<Self, BookError> {
        // A file that is no book gets no lock file beside it.
        inspection::inspect(path, Depth::Header)?;
        if is_read_only(path) {
            return Err(BookError::ReadOnly(path.to_owned()));
        }
        let lock = lock::take(path)?;
        let backup_due = backup::is_due(path, at.date());
        let version = inspection::inspect(path, depth(path, backup_due))?;
        let mut connection = connection::writing(path).map_err(|fault| fault.of_book(path))?;
        // A lock of another program shows now rather than at the first action.
        connection.execute_batch("BEGIN IMMEDIATE; ROLLBACK").map_err(|error| BookError::from(error).of_book(path))?;
        let mut backup_fault = None;
        if version < migration::KNOWN_VERSION {
            backup::before_migration(&connection, path, migration::KNOWN_VERSION, at)?;
            migration::to_latest(&mut connection).map_err(|fault| fault.of_book(path))?;
        } else if backup_due {
            backup_fault = backup::dated(&connection, path, at).err();
        }
        Ok(Self {
            connection,
            path: path.to_owned(),
            access: Access::Write,
            seen: RefCell::new(None),
            backup_fault,
            _lock: Some(lock),
        })
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// How it was opened.
    pub const fn access(&self) -> Access {
        self.access
    }

    /// Why the day's backup could not be made at opening, if it could not.
    pub const fn backup_fault(&self) -> Option<&BookError> {
        self.backup_fault.as_ref()
    }

    /// Writes a verified copy: to a path of its own, or dated into the folder of backups beside the book. Returns
    /// where it is. Refuses to write over a file that exists.
    pub fn backup(&self, to: Option<&Path>, at: NaiveDateTime) -> Result<PathBuf, BookError> {
        match to {
            Some(to) => backup::copy_to(&self.connection, &self.path, to),
            None => backup::dated(&self.connection, &self.path, at),
        }
    }

    /// Keeps the book's file from growing past so many bytes (rounded to whole pages; never below what it has): an
    /// action that would is refused whole with [`BookError::DiskFull`]. Holds while the book is open.
    pub fn limit_size(&self, bytes: u64) -> Result<(), BookError> {
        let page: i64 = self.connection.pragma_query_value(None, "page_size", |row| row.get(0))?;
        let bytes = i64::try_from(bytes).unwrap_or(i64::MAX);
        let pages = bytes.checked_div(page).unwrap_or(1).max(1);
        self.connection.pragma_update(None, "max_page_count", pages)?;
        Ok(())
    }

    /// Begins a change; only actions do.
    pub(crate) fn begin(&mut self) -> Result<Change<'_>, BookError> {
        if self.access == Access::Read {
            return Err(BookError::ReadOnly(self.path.clone()));
        }
        Change::begin(&mut self.connection)
    }

    /// Reads what is committed.
    pub(crate) fn reader(&self) -> Reader<'_> {
        Reader::new(&self.connection)
    }

    /// Everything the faces show, sharing what did not change since it was last read from this book.
    pub(crate) fn snapshot(&self) -> Result<Snapshot, BookError> {
        // One read transaction, so that all parts are of the same moment although another process may write.
        let moment = self.connection.unchecked_transaction()?;
        let before = self.seen.take();
        let now = Seen::read(self.reader(), before, self.access)?;
        let snapshot = now.snapshot.clone();
        self.seen.replace(Some(now));
        drop(moment);
        Ok(snapshot)
    }

    /// SQLite's own checks and those of every noun, a sentence a problem.
    pub(crate) fn problems(&self) -> Result<Vec<String>, BookError> {
        let reader = self.reader();
        let mut problems = inspection::integrity_check(reader)?;
        problems.extend(inspection::foreign_key_check(reader)?);
        problems.extend(history::problems(reader)?);
        problems.extend(super::item::problems(reader)?);
        problems.extend(super::movement::problems(reader)?);
        problems.extend(super::correction::problems(reader)?);
        problems.extend(super::purchase::problems(reader)?);
        problems.extend(super::jar::problems(reader)?);
        problems.extend(super::cut::problems(reader)?);
        problems.extend(super::reclaimed::problems(reader)?);
        problems.extend(super::design::problems(reader)?);
        problems.extend(super::price_list::problems(reader)?);
        problems.extend(sheet::problems(reader)?);
        problems.extend(super::batch::problems(reader)?);
        problems.extend(super::bench_entry::problems(reader)?);
        problems.extend(super::timer::problems(reader)?);
        for (what, fault) in
            [("settings", document::settings(reader).err()), ("studio's rates", document::rates(reader).err())]
        {
            problems.extend(fault.map(|fault| format!("the {what}: {fault}")));
        }
        if let Err(fault) = item_state::all(reader) {
            problems.push(fault.to_string());
        }
        Ok(problems)
    }
}

/// How closely to look at a book of this size.
fn depth(path: &Path, backup_due: bool) -> Depth {
    let small = std::fs::metadata(path).is_ok_and(|found| found.len() <= ALWAYS_READ_WHOLE);
    if small || backup_due || connection::has_log(path) { Depth::Pages } else { Depth::Header }
}

/// The file or its directory is marked as not to be written. A person who marks it so is heeded even where the system
/// would let the program write.
fn is_read_only(path: &Path) -> bool {
    let marked = |path: &Path| std::fs::metadata(path).is_ok_and(|found| found.permissions().readonly());
    // On Windows the mark means nothing on a directory.
    marked(path) || (cfg!(unix) && path.parent().is_some_and(|folder| !folder.as_os_str().is_empty() && marked(folder)))
}

fn with_ending(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(ending);
    PathBuf::from(name)
}

/// Takes away a file this program made and no longer needs. One that stays does no harm.
fn remove_if_there(path: &Path) {
    drop(std::fs::remove_file(path));
}
