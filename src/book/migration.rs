//! The layouts a book has had, oldest first. A layout that a release has written is never changed; the next one is
//! added after it.

use super::BookError;
use rusqlite::Connection;
use rusqlite_migration::{M, Migrations};

const STEPS: &[M<'_>] = &[
    M::up(include_str!("../../migrations/0001_book.sql")).foreign_key_check(),
    M::up(include_str!("../../migrations/0002_stock.sql")).foreign_key_check(),
    M::up(include_str!("../../migrations/0003_reclaimed.sql")).foreign_key_check(),
    M::up(include_str!("../../migrations/0004_bench.sql")).foreign_key_check(),
    M::up(include_str!("../../migrations/0005_papers.sql")).foreign_key_check(),
];

/// The newest layout this program knows.
pub const KNOWN_VERSION: i64 = 5;

/// Brings a book to the newest layout, each step in one transaction.
pub(in crate::book) fn to_latest(connection: &mut Connection) -> Result<(), BookError> {
    Migrations::from_slice(STEPS).to_latest(connection).map_err(|error| match error {
        rusqlite_migration::Error::RusqliteError { err, .. } => BookError::from(err),
        other => BookError::Sqlite(other.to_string()),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_steps_run_from_nothing_and_end_at_the_known_version() {
        let mut connection = Connection::open_in_memory().unwrap();
        to_latest(&mut connection).unwrap();
        let version: i64 = connection.pragma_query_value(None, "user_version", |row| row.get(0)).unwrap();
        assert_eq!(version, KNOWN_VERSION);
        assert_eq!(i64::try_from(STEPS.len()).unwrap(), KNOWN_VERSION);
        let id: i32 = connection.pragma_query_value(None, "application_id", |row| row.get(0)).unwrap();
        assert_eq!(id, crate::book::APPLICATION_ID);
    }

    #[test]
    fn every_foreign_key_has_an_index_that_starts_with_its_column() {
        let mut connection = Connection::open_in_memory().unwrap();
        to_latest(&mut connection).unwrap();
        let mut query = connection
            .prepare(
                "SELECT m.name, f.\"from\" FROM sqlite_schema m, pragma_foreign_key_list(m.name) f
                 WHERE m.type = 'table' ORDER BY 1, 2",
            )
            .unwrap();
        let keys: Vec<(String, String)> =
            query.query_map([], |row| Ok((row.get(0)?, row.get(1)?))).unwrap().map(Result::unwrap).collect();
        assert!(keys.len() >= 9, "{keys:?}");
        for (table, column) in keys {
            let found: i64 = connection
                .query_row(
                    "SELECT (SELECT count(*) FROM pragma_index_list(?1) l, pragma_index_info(l.name) i
                             WHERE i.seqno = 0 AND i.name = ?2)
                          + (SELECT count(*) FROM pragma_table_info(?1) WHERE name = ?2 AND pk = 1)",
                    [&table, &column],
                    |row| row.get(0),
                )
                .unwrap();
            assert!(found > 0, "{table}.{column} has no index");
        }
    }

    #[test]
    fn every_column_of_a_noun_can_be_undone() {
        let mut connection = Connection::open_in_memory().unwrap();
        to_latest(&mut connection).unwrap();
        for noun in crate::book::history::NOUNS {
            let mut query =
                connection.prepare("SELECT name FROM pragma_table_info(?1) WHERE name <> 'id' ORDER BY cid").unwrap();
            let columns: Vec<String> = query.query_map([noun], |row| row.get(0)).unwrap().map(Result::unwrap).collect();
            assert!(!columns.is_empty(), "{noun}");
            let trigger = |what: &str| -> Option<String> {
                connection
                    .query_row(
                        "SELECT sql FROM sqlite_schema WHERE type = 'trigger' AND name = ?1 AND tbl_name = ?2",
                        [format!("{noun}_{what}_inverse"), (*noun).to_owned()],
                        |row| row.get(0),
                    )
                    .ok()
            };
            assert!(trigger("insert").is_some(), "{noun}");
            for (what, needed) in
                [("update", !matches!(*noun, "movement" | "lot_correction" | "bench_entry")), ("delete", true)]
            {
                if needed {
                    let sql = trigger(what).unwrap();
                    for column in &columns {
                        assert!(sql.contains(&format!("quote(OLD.{column})")), "{noun} {what} {column}");
                    }
                }
            }
        }
    }

    #[test]
    fn every_table_is_strict() {
        let mut connection = Connection::open_in_memory().unwrap();
        to_latest(&mut connection).unwrap();
        let loose: i64 = connection
            .query_row(
                "SELECT count(*) FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND strict = 0
                 AND name NOT LIKE 'sqlite_%'",
                [],
                |row| row.get(0),
            )
            .unwrap();
        assert_eq!(loose, 0);
    }
}
