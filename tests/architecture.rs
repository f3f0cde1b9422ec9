//! Keeps the invariants of the architecture: who may know what, read off the sources.

use std::fs;
use std::path::{Path, PathBuf};

type TestResult = Result<(), Box<dyn std::error::Error>>;

/// Every Rust source below a folder of `src`, with its code: comments, and tests at the end of a file, left out.
fn sources(below: &str) -> Result<Vec<(PathBuf, String)>, std::io::Error> {
    fn walk(folder: &Path, found: &mut Vec<PathBuf>) -> Result<(), std::io::Error> {
        for entry in fs::read_dir(folder)? {
            let path = entry?.path();
            if path.is_dir() {
                walk(&path, found)?;
            } else if path.extension().is_some_and(|extension| extension == "rs") {
                found.push(path);
            }
        }
        Ok(())
    }
    let mut paths = Vec::new();
    walk(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src").join(below), &mut paths)?;
    paths.sort();
    paths
        .into_iter()
        .map(|path| {
            let text = fs::read_to_string(&path)?;
            let body = text.split("#[cfg(test)]").next().unwrap_or_default();
            let code: Vec<&str> = body.lines().filter(|line| !line.trim_start().starts_with("//")).collect();
            Ok((path, code.join("\n")))
        })
        .collect()
}

/// Fails with every place below `folders` where a forbidden word stands.
fn forbid(folders: &[&str], words: &[&str], why: &str) -> TestResult {
    let mut found = Vec::new();
    let mut read = 0;
    for folder in folders {
        for (path, code) in sources(folder)? {
            read += 1;
            for (number, line) in code.lines().enumerate() {
                for word in words {
                    // `priced::` ends in `iced::`: a word counts where a name begins.
                    let begins =
                        |at: usize| !line[..at].ends_with(|before: char| before.is_alphanumeric() || before == '_');
                    if line.match_indices(word).any(|(at, _)| begins(at)) {
                        found.push(format!("{}: code line {}: {word}", path.display(), number + 1));
                    }
                }
            }
        }
    }
    assert!(read > 0, "nothing was read below {folders:?}");
    assert!(found.is_empty(), "{why}:\n{}", found.join("\n"));
    Ok(())
}

const CLOCK: [&str; 4] = ["Local::now", "Utc::now", "SystemTime::now", "Local::today"];
const PURE: [&str; 4] = ["measure", "studio", "costing", "cutting"];

#[test]
fn the_core_knows_no_sql_no_screen_no_files_and_no_clock() -> TestResult {
    let words =
        ["rusqlite", "iced", "std::fs", "std::env", "Instant::now", "crate::window", "crate::book", "crate::command"];
    forbid(&PURE, &[&words[..], &CLOCK[..]].concat(), "the core is pure")
}

#[test]
fn papers_are_laid_out_without_sql_screen_files_or_clock() -> TestResult {
    let words = [
        "rusqlite",
        "iced::",
        "std::fs",
        "std::env",
        "crate::window",
        "crate::book",
        "crate::command",
        "crate::actions",
    ];
    forbid(&["paper"], &[&words[..], &CLOCK[..]].concat(), "a page is a pure function of its model")
}

#[test]
fn only_the_book_writes_sql() -> TestResult {
    forbid(
        &["measure", "studio", "costing", "cutting", "kiln", "exchange", "paper", "window", "command"],
        &["rusqlite", "SELECT ", "INSERT INTO", "DELETE FROM"],
        "SQL belongs to the book",
    )
}

#[test]
fn the_faces_never_see_a_connection() -> TestResult {
    forbid(&["window", "command"], &["Connection", "Transaction", "rusqlite"], "a face asks, it does not connect")
}

#[test]
fn nothing_below_the_faces_reads_the_clock() -> TestResult {
    forbid(
        &["measure", "studio", "costing", "cutting", "kiln", "exchange", "book", "actions", "paper"],
        &CLOCK,
        "the date is passed in",
    )
}

#[test]
fn the_domain_holds_no_binary_floats() -> TestResult {
    forbid(&["studio", "book", "actions"], &["f64", "f32"], "money and quantities are exact decimals")
}

#[test]
fn sql_columns_are_never_real() -> TestResult {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("migrations");
    let mut read = 0;
    for entry in fs::read_dir(folder)? {
        let text = fs::read_to_string(entry?.path())?.to_uppercase();
        read += 1;
        assert!(!text.contains(" REAL"), "no column of a book is a binary float");
        for table in text.split("CREATE TABLE").skip(1) {
            let declaration = table.split(';').next().unwrap_or_default();
            assert!(declaration.trim_end().ends_with("STRICT"), "every table is STRICT: {declaration}");
        }
    }
    assert!(read > 0);
    Ok(())
}
