//! What every task of the command line shares: the book, the day, where answers and remarks go.

use super::failure::Failure;
use super::table::one_line;
use crate::actions::{self, Action, ActionKey, Order, Outcome};
use crate::book::{Access, Book, Snapshot};
use chrono::{NaiveDate, NaiveDateTime};
use std::io::Write;
use std::path::{Path, PathBuf};

/// One run of the command line.
pub(super) struct Session<'a> {
    book: Option<PathBuf>,
    now: NaiveDateTime,
    out: &'a mut dyn Write,
    remarks: &'a mut dyn Write,
}

impl<'a> Session<'a> {
    pub(super) fn new(
        book: Option<PathBuf>,
        now: NaiveDateTime,
        out: &'a mut dyn Write,
        remarks: &'a mut dyn Write,
    ) -> Self {
        Self { book, now, out, remarks }
    }

    /// The day.
    pub(super) fn today(&self) -> NaiveDate {
        self.now.date()
    }

    /// Local date and time.
    pub(super) fn now(&self) -> NaiveDateTime {
        self.now
    }

    /// A fresh order for one action.
    pub(super) fn order(&self) -> Order {
        Order { key: ActionKey::fresh(), at: self.now }
    }

    /// The book's path: `--book`, or the one in the platform's data folder.
    pub(super) fn path(&self) -> Result<PathBuf, Failure> {
        match &self.book {
            Some(path) => Ok(path.clone()),
            None => standard_path(),
        }
    }

    /// Opens the book to look at it.
    pub(super) fn open_to_read(&self) -> Result<Book, Failure> {
        self.open(Access::Read)
    }

    /// Opens the book to work in it.
    pub(super) fn open_to_write(&self) -> Result<Book, Failure> {
        self.open(Access::Write)
    }

    fn open(&self, access: Access) -> Result<Book, Failure> {
        Ok(Book::open(&self.path()?, access, self.today())?)
    }

    /// Opens the book to look at it, and reads it.
    pub(super) fn read(&self) -> Result<(Book, Snapshot), Failure> {
        let book = self.open_to_read()?;
        let snapshot = actions::snapshot(&book)?;
        Ok((book, snapshot))
    }

    /// Carries out one action in a book.
    pub(super) fn perform(&self, book: &mut Book, action: Action) -> Result<Outcome, Failure> {
        Ok(actions::perform(book, action, self.order())?)
    }

    /// Writes a line of the answer.
    pub(super) fn say(&mut self, line: &str) -> Result<(), Failure> {
        Ok(writeln!(self.out, "{}", one_line(line))?)
    }

    /// Writes text of the answer as it is.
    pub(super) fn write(&mut self, text: impl std::fmt::Display) -> Result<(), Failure> {
        Ok(write!(self.out, "{text}")?)
    }

    /// Writes an answer as JSON.
    pub(super) fn json(&mut self, value: &serde_json::Value) -> Result<(), Failure> {
        Ok(writeln!(self.out, "{value:#}")?)
    }

    /// Says something on standard error that is no failure.
    pub(super) fn remark(&mut self, line: &str) {
        // A remark nobody can read changes nothing about what was done.
        let _ = writeln!(self.remarks, "{}", one_line(line));
    }

    /// Sends what was written on its way.
    pub(super) fn finish(&mut self) -> Result<(), Failure> {
        Ok(self.out.flush()?)
    }
}

/// The book in the platform's data folder.
fn standard_path() -> Result<PathBuf, Failure> {
    crate::command::standard_book()
        .ok_or_else(|| Failure::no("this computer has no data folder for you; say which book with --book FILE"))
}

/// Makes the folder of the standard book; a book elsewhere needs a folder that exists.
pub(super) fn prepare_folder(path: &Path) -> Result<(), Failure> {
    if let Some(folder) = path.parent()
        && crate::command::standard_book().is_some_and(|standard| standard == path)
    {
        std::fs::create_dir_all(folder)
            .map_err(|error| Failure::no(format!("{} cannot be made: {error}", folder.display())))?;
    }
    refuse_missing_folder(path)
}

/// A file out needs a folder that exists: a folder nobody made is more often a slip of the fingers than a wish.
pub(super) fn refuse_missing_folder(path: &Path) -> Result<(), Failure> {
    match path.parent().filter(|folder| !folder.as_os_str().is_empty() && !folder.is_dir()) {
        Some(folder) => Err(Failure::no(format!("there is no folder {}; make it first", folder.display()))),
        None => Ok(()),
    }
}
