//! The connection to a book and how it is set up.

use super::BookError;
use rusqlite::{Connection, OpenFlags};
use std::path::Path;
use std::time::Duration;

/// Marks an SQLite file as a studio book: the letters `EnBk`.
pub const APPLICATION_ID: i32 = 0x456E_426B;

/// How long to wait for another program's lock.
const PATIENCE: Duration = Duration::from_millis(1500);

/// A connection that can write, with every safeguard on and read back.
pub(in crate::book) fn writing(path: &Path) -> Result<Connection, BookError> {
    let connection =
        Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX)?;
    prepare(&connection)?;
    // A book a backup was made into has its journal beside it as an ordinary file; from here on it is write-ahead.
    let mode: String = connection.pragma_update_and_check(None, "journal_mode", "WAL", |row| row.get(0))?;
    expect("journal_mode", &mode, "wal")?;
    // Acknowledged means on the disk: each commit is flushed, on macOS by the call that really flushes.
    set(&connection, "synchronous", 2)?;
    set(&connection, "fullfsync", 1)?;
    set(&connection, "checkpoint_fullfsync", 1)?;
    Ok(connection)
}

/// A connection that can only read, and sees what is committed.
pub(in crate::book) fn reading(path: &Path) -> Result<Connection, BookError> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let ordinary = Connection::open_with_flags(path, flags).map_err(BookError::from).and_then(|connection| {
        prepare(&connection)?;
        // The first read is where a directory that may not be written shows.
        connection.pragma_query_value(None, "schema_version", |row| row.get::<_, i64>(0))?;
        Ok(connection)
    });
    match ordinary {
        Ok(connection) => Ok(connection),
        Err(fault @ (BookError::Damaged { .. } | BookError::NotABook(_) | BookError::Locked(_))) => Err(fault),
        // In a directory that may not be written, the files shared with a writer cannot be made: there is no writer.
        // Only a book without a write-ahead log is whole by itself.
        Err(_) if !has_log(path) => still(path),
        Err(fault) => Err(fault),
    }
}

/// A connection to a file that nothing writes to; makes no file beside it.
pub(in crate::book) fn still(path: &Path) -> Result<Connection, BookError> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX | OpenFlags::SQLITE_OPEN_URI;
    let connection = Connection::open_with_flags(still_address(path)?, flags)?;
    prepare(&connection)?;
    Ok(connection)
}

/// A write-ahead log with something in it lies beside the book.
pub(in crate::book) fn has_log(path: &Path) -> bool {
    log_size(path).is_some_and(|size| size > 0)
}

/// A write-ahead log lies beside the book, as it does while a program has the book open.
pub(in crate::book) fn log_exists(path: &Path) -> bool {
    log_size(path).is_some()
}

fn log_size(path: &Path) -> Option<u64> {
    let mut log = path.as_os_str().to_owned();
    log.push("-wal");
    std::fs::metadata(log).ok().map(|log| log.len())
}

/// `file:` address of a file that does not change while it is open.
fn still_address(path: &Path) -> Result<String, BookError> {
    let full = std::path::absolute(path).map_err(|error| BookError::system(path, &error))?;
    let text = full.to_str().ok_or_else(|| BookError::System {
        path: path.to_owned(),
        detail: "its name is not valid Unicode, which a read-only book needs".to_owned(),
    })?;
    let mut address = String::from("file://");
    // A Windows path starts with its drive: `file:///C:/…`.
    if !text.starts_with('/') {
        address.push('/');
    }
    for byte in text.bytes() {
        match byte {
            b'\\' if cfg!(windows) => address.push('/'),
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'/' | b':' | b'-' | b'.' | b'_' | b'~' => {
                address.push(char::from(byte));
            }
            other => address.push_str(&format!("%{other:02X}")),
        }
    }
    address.push_str("?immutable=1");
    Ok(address)
}

fn prepare(connection: &Connection) -> Result<(), BookError> {
    connection.busy_timeout(PATIENCE)?;
    set(connection, "foreign_keys", 1)?;
    // A book that came from elsewhere may hold triggers and views of its own: they get no functions with side effects.
    set(connection, "trusted_schema", 0)?;
    set(connection, "cell_size_check", 1)
}

fn set(connection: &Connection, name: &str, value: i64) -> Result<(), BookError> {
    connection.pragma_update(None, name, value)?;
    let found: i64 = connection.pragma_query_value(None, name, |row| row.get(0))?;
    expect(name, &found, &value)
}

fn expect<T: PartialEq<U> + std::fmt::Display, U: std::fmt::Display + ?Sized>(
    name: &str,
    found: &T,
    wanted: &U,
) -> Result<(), BookError> {
    if found == wanted { Ok(()) } else { Err(BookError::Sqlite(format!("{name} is {found} where {wanted} is needed"))) }
}
