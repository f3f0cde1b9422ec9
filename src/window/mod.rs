//! See the crate's front page.

use std::path::PathBuf;

/// Opens the window.
pub fn run(book: Option<PathBuf>) -> Result<(), String> {
    let _ = book;
    Err(String::new())
}
