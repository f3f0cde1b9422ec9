//! Dated, verified copies of a book in a folder beside it, and how one is put back.
//!
//! A copy is written under a passing name, flushed, opened and checked page by page, and only then gets its name: under
//! the name of a backup there is never a partial file. Of the dated ones, the latest of each of ten days and of each of
//! twelve months are kept; copies made before a migration or a restore are kept until a person takes them away.

use super::inspection::{self, Depth};
use super::{BookError, connection, lock};
use chrono::{Datelike, NaiveDate, NaiveDateTime, NaiveTime};
use rusqlite::Connection;
use std::collections::BTreeSet;
use std::fs::File;
use std::path::{Path, PathBuf};

/// The ending of a book's file name.
const ENDING: &str = ".studiobook";

/// Days and months whose latest backup is kept.
const DAYS_KEPT: usize = 10;
const MONTHS_KEPT: usize = 12;

/// A backup of a book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BackupFile {
    /// Where it is.
    pub path: PathBuf,
    /// When it was made; midnight for the one of a day made at opening.
    pub at: NaiveDateTime,
    /// Its size in bytes.
    pub bytes: u64,
    /// Why it was made, in words: empty for a dated one, `before restore`, `before version 2`.
    pub occasion: String,
}

/// The folder of a book's backups: `<name> backups` beside it.
pub fn folder(book: &Path) -> PathBuf {
    book.with_file_name(format!("{} backups", stem(book)))
}

fn stem(book: &Path) -> String {
    let name = book.file_name().unwrap_or_default().to_string_lossy();
    name.strip_suffix(ENDING).unwrap_or(&name).to_owned()
}

fn file_name(book: &Path, occasion: &str, at: NaiveDateTime) -> String {
    let mut name = stem(book);
    if !occasion.is_empty() {
        name.push(' ');
        name.push_str(occasion);
    }
    name.push_str(&at.format(" %Y-%m-%d").to_string());
    if at.time() != NaiveTime::MIN {
        name.push_str(&at.format(" %H%M%S").to_string());
    }
    name.push_str(ENDING);
    name
}

/// Reads occasion and time back from a name [`file_name`] gave.
fn parse_name(book: &Path, name: &str) -> Option<(String, NaiveDateTime)> {
    let middle = name.strip_prefix(&stem(book))?.strip_suffix(ENDING)?;
    // A number at the end, ` (2)`, tells two of the same second apart.
    let middle = match middle.rsplit_once(" (") {
        Some((start, number)) if number.strip_suffix(')').is_some_and(|number| number.parse::<u32>().is_ok()) => start,
        _ => middle,
    };
    let with_time = middle.rsplit_once(' ').and_then(|(start, time)| {
        let time = NaiveTime::parse_from_str(time, "%H%M%S").ok().filter(|_| time.len() == 6)?;
        Some((start, time))
    });
    let (rest, time) = with_time.unwrap_or((middle, NaiveTime::MIN));
    let (occasion, date) = rest.rsplit_once(' ')?;
    let date = NaiveDate::parse_from_str(date, "%Y-%m-%d").ok().filter(|_| date.len() == 10)?;
    Some((occasion.trim().to_owned(), date.and_time(time)))
}

/// Every backup beside a book, newest first.
pub fn list(book: &Path) -> Result<Vec<BackupFile>, BookError> {
    let folder = folder(book);
    let entries = match std::fs::read_dir(&folder) {
        Ok(entries) => entries,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(error) => return Err(BookError::system(&folder, &error)),
    };
    let mut backups = Vec::new();
    for entry in entries {
        let entry = entry.map_err(|error| BookError::system(&folder, &error))?;
        let Some((occasion, at)) = entry.file_name().to_str().and_then(|name| parse_name(book, name)) else {
            continue;
        };
        let found = entry.metadata().map_err(|error| BookError::system(&entry.path(), &error))?;
        if found.is_file() {
            backups.push(BackupFile { path: entry.path(), at, bytes: found.len(), occasion });
        }
    }
    backups.sort_by(|a, b| b.at.cmp(&a.at).then_with(|| b.path.cmp(&a.path)));
    Ok(backups)
}

/// The latest dated backup is of an earlier day, or there is none.
pub(in crate::book) fn is_due(book: &Path, today: NaiveDate) -> bool {
    list(book).is_ok_and(|backups| {
        backups.iter().filter(|backup| backup.occasion.is_empty()).all(|backup| backup.at.date() < today)
    })
}

/// Makes the dated backup and lets old ones go.
pub(in crate::book) fn dated(connection: &Connection, book: &Path, at: NaiveDateTime) -> Result<PathBuf, BookError> {
    let path = place(book, "", at)?;
    copy_to(connection, book, &path)?;
    // Only now that the new one is known to be good.
    for old in superseded(&list(book)?) {
        std::fs::remove_file(&old).map_err(|error| BookError::system(&old, &error))?;
    }
    Ok(path)
}

/// Keeps a copy of a book that is about to be brought to another layout.
pub(in crate::book) fn before_migration(
    connection: &Connection,
    book: &Path,
    version: i64,
    at: NaiveDateTime,
) -> Result<PathBuf, BookError> {
    let path = place(book, &format!("before version {version}"), at)?;
    copy_to(connection, book, &path)?;
    Ok(path)
}

/// A free name in the folder of backups, which is made when it is not there.
fn place(book: &Path, occasion: &str, at: NaiveDateTime) -> Result<PathBuf, BookError> {
    let folder = folder(book);
    std::fs::create_dir_all(&folder).map_err(|error| BookError::system(&folder, &error))?;
    let name = file_name(book, occasion, at);
    let plain = folder.join(&name);
    if !plain.exists() {
        return Ok(plain);
    }
    let start = name.strip_suffix(ENDING).unwrap_or(&name);
    (2..1000_u32)
        .map(|number| folder.join(format!("{start} ({number}){ENDING}")))
        .find(|path| !path.exists())
        .ok_or(BookError::Exists(plain))
}

/// Dated backups that later ones stand for: all but the latest of each of the last ten days and twelve months that
/// have any, and all of the newest day.
fn superseded(newest_first: &[BackupFile]) -> Vec<PathBuf> {
    let mut days = BTreeSet::new();
    let mut months = BTreeSet::new();
    let newest_day = newest_first.iter().find(|backup| backup.occasion.is_empty()).map(|backup| backup.at.date());
    let mut old = Vec::new();
    for backup in newest_first.iter().filter(|backup| backup.occasion.is_empty()) {
        let day = backup.at.date();
        let keeps_day = days.len() < DAYS_KEPT && days.insert(day);
        let keeps_month = months.len() < MONTHS_KEPT && months.insert((day.year(), day.month()));
        if !keeps_day && !keeps_month && Some(day) != newest_day {
            old.push(backup.path.clone());
        }
    }
    old
}

/// Writes a verified copy of an open book under a name of its own.
pub(in crate::book) fn copy_to(connection: &Connection, book: &Path, to: &Path) -> Result<PathBuf, BookError> {
    if to.exists() {
        return Err(BookError::Exists(to.to_owned()));
    }
    let passing = passing_name(to);
    let copy = || -> Result<(), BookError> {
        discard(&passing)?;
        let name = passing.to_str().ok_or_else(|| BookError::System {
            path: to.to_owned(),
            detail: "a backup needs a name in valid Unicode".to_owned(),
        })?;
        connection.execute("VACUUM INTO ?1", [name]).map_err(|error| BookError::from(error).of_book(book))?;
        finish(&passing, to)
    };
    let done = copy();
    if done.is_err() {
        drop(std::fs::remove_file(&passing));
    }
    done.map(|()| to.to_owned())
}

/// Flushes and checks a copy, then gives it its name.
fn finish(passing: &Path, to: &Path) -> Result<(), BookError> {
    flush(passing)?;
    inspection::inspect(passing, Depth::Pages)?;
    std::fs::rename(passing, to).map_err(|error| BookError::system(to, &error))?;
    flush_directory(to);
    Ok(())
}

fn passing_name(to: &Path) -> PathBuf {
    let mut name = to.as_os_str().to_owned();
    name.push(".part");
    PathBuf::from(name)
}

fn discard(path: &Path) -> Result<(), BookError> {
    match std::fs::remove_file(path) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => Err(BookError::system(path, &error)),
        _ => Ok(()),
    }
}

fn flush(path: &Path) -> Result<(), BookError> {
    let flushed = std::fs::OpenOptions::new().write(true).open(path).and_then(|file| file.sync_all());
    flushed.map_err(|error| BookError::system(path, &error))
}

/// Makes a rename lasting. Systems that cannot flush a directory (Windows) make renames lasting by themselves.
pub(in crate::book) fn flush_directory(file: &Path) {
    if let Some(folder) = file.parent() {
        let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
        drop(File::open(folder).and_then(|folder| folder.sync_all()));
    }
}

/// Puts a backup in the place of a book. The backup is checked first; the present book is kept as a dated copy, whose
/// path is returned (none when there was no book). Refused while the book is open elsewhere.
pub fn restore(book: &Path, from: &Path, at: NaiveDateTime) -> Result<Option<PathBuf>, BookError> {
    inspection::inspect(from, Depth::Pages)?;
    let _lock = lock::take(book)?;
    let passing = passing_name(book);
    let put = || -> Result<Option<PathBuf>, BookError> {
        discard(&passing)?;
        if connection::has_log(from) {
            // A book, rather than a backup, whose latest changes still lie in its log.
            let source = connection::reading(from).map_err(|fault| fault.of_book(from))?;
            copy_to(&source, from, &passing)?;
        } else {
            std::fs::copy(from, &passing).map_err(|error| BookError::system(&passing, &error))?;
        }
        flush(&passing)?;
        inspection::inspect(&passing, Depth::Pages)?;
        let kept = keep_present(book, at)?;
        // The log of the present book must not be read into the one that takes its place.
        for ending in ["-wal", "-shm"] {
            let mut name = book.as_os_str().to_owned();
            name.push(ending);
            discard(Path::new(&name))?;
        }
        std::fs::rename(&passing, book).map_err(|error| BookError::system(book, &error))?;
        flush_directory(book);
        Ok(kept)
    };
    let done = put();
    if done.is_err() {
        drop(std::fs::remove_file(&passing));
    }
    done
}

/// Copies the present book, sound or damaged, into the folder of backups.
fn keep_present(book: &Path, at: NaiveDateTime) -> Result<Option<PathBuf>, BookError> {
    if !book.exists() {
        return Ok(None);
    }
    // Moves the log of a sound book into its file. A damaged one is kept as it lies, its log beside it.
    if connection::has_log(book) && inspection::inspect(book, Depth::Pages).is_ok() {
        let open = connection::writing(book).map_err(|fault| fault.of_book(book))?;
        let busy = open
            .query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |row| row.get::<_, i64>(0))
            .map_err(|error| BookError::from(error).of_book(book))?;
        if busy != 0 {
            return Err(BookError::Locked(book.to_owned()));
        }
    }
    let kept = place(book, "before restore", at)?;
    copy_flushed(book, &kept)?;
    if connection::has_log(book) {
        let (mut from, mut to) = (book.as_os_str().to_owned(), kept.as_os_str().to_owned());
        from.push("-wal");
        to.push("-wal");
        copy_flushed(Path::new(&from), Path::new(&to))?;
    }
    flush_directory(&kept);
    Ok(Some(kept))
}

fn copy_flushed(from: &Path, to: &Path) -> Result<(), BookError> {
    std::fs::copy(from, to).map_err(|error| BookError::system(to, &error))?;
    flush(to)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn backup(day: &str) -> BackupFile {
        let at = NaiveDate::parse_from_str(day, "%Y-%m-%d").unwrap().and_time(NaiveTime::MIN);
        BackupFile { path: PathBuf::from(day), at, bytes: 0, occasion: String::new() }
    }

    #[test]
    fn names_say_when_and_why() {
        let book = Path::new("/studio/Harbour bench.studiobook");
        let noon = NaiveDate::from_ymd_opt(2026, 3, 14).unwrap().and_hms_opt(12, 5, 9).unwrap();
        let midnight = noon.date().and_time(NaiveTime::MIN);
        for (occasion, at, name) in [
            ("", midnight, "Harbour bench 2026-03-14.studiobook"),
            ("", noon, "Harbour bench 2026-03-14 120509.studiobook"),
            ("before restore", noon, "Harbour bench before restore 2026-03-14 120509.studiobook"),
            ("before version 2", midnight, "Harbour bench before version 2 2026-03-14.studiobook"),
        ] {
            assert_eq!(file_name(book, occasion, at), name);
            assert_eq!(parse_name(book, name), Some((occasion.to_owned(), at)));
        }
        assert_eq!(parse_name(book, "Harbour bench 2026-03-14 120509 (2).studiobook"), Some((String::new(), noon)),);
        for other in ["Harbour bench.studiobook", "Other 2026-03-14.studiobook", "Harbour bench 2026-03-14.txt"] {
            assert_eq!(parse_name(book, other), None, "{other}");
        }
    }

    #[test]
    fn ten_days_and_twelve_months_are_kept() {
        let start = NaiveDate::from_ymd_opt(2024, 1, 1).unwrap();
        let mut kept: Vec<BackupFile> = Vec::new();
        for day in start.iter_days().take(800) {
            kept.insert(0, backup(&day.to_string()));
            let old = superseded(&kept);
            kept.retain(|backup| !old.contains(&backup.path));
        }
        // 2024-01-01 and 800 days: the last is 2026-03-10. Ten dailies of March 2026, and the last days of the eleven
        // months before it.
        let days: Vec<String> = kept.iter().map(|backup| backup.at.date().to_string()).collect();
        assert_eq!(days.len(), 21, "{days:?}");
        assert_eq!(days.first().unwrap(), "2026-03-10");
        assert_eq!(days.get(9).unwrap(), "2026-03-01");
        assert_eq!(days.get(10).unwrap(), "2026-02-28");
        assert_eq!(days.last().unwrap(), "2025-04-30");
    }
}
