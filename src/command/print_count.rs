//! `print count-sheet`.

use super::failure::Failure;
use super::print::write;
use super::print_arguments::CountSheet;
use super::session::Session;
use super::words::counted;
use crate::book::Snapshot;
use crate::measure::Preferences;
use crate::paper::count_model::{self, Asked, OnShelf, by_shelf};
use crate::paper::{PaperSize, Shaper, count_sheet};

pub(super) fn print(session: &mut Session<'_>, task: &CountSheet) -> Result<(), Failure> {
    let (_, snapshot) = session.read()?;
    let asked = Asked {
        shelf: task.shelf.as_deref(),
        with_stock: task.with_stock,
        paper: if task.letter { PaperSize::LETTER } else { PaperSize::A4 },
    };
    let date = session.today().to_string();
    let studio = &snapshot.settings.studio_name;
    let sheet =
        count_model::count_sheet(items(&snapshot), &asked, studio, &date, &Preferences::from(&*snapshot.settings));
    if let Some(shelf) = &task.shelf
        && sheet.shelves.is_empty()
    {
        let known: Vec<String> = by_shelf(items(&snapshot)).into_iter().map(|(name, _)| name).collect();
        let known = if known.is_empty() { "none".to_owned() } else { known.join(", ") };
        return Err(Failure::no(format!("there is nothing to count on a shelf {shelf}; there are {known}")));
    }
    let lines = sheet.shelves.iter().map(|shelf| shelf.lines.len()).sum();
    let document = count_sheet::layout(&sheet, &mut Shaper::new())?;
    write(session, &snapshot, &document, "Count sheet", &task.way, &counted(lines, "item", "items"))
}

fn items(snapshot: &Snapshot) -> impl Iterator<Item = OnShelf<'_>> {
    snapshot.stock.iter().map(|row| OnShelf { id: row.id, item: &row.item, on_hand: row.on_hand })
}

#[cfg(test)]
mod tests {
    use crate::command::run;
    use chrono::NaiveDate;
    use std::ffi::OsString;
    use std::path::Path;

    /// Runs a task on a book; its exit status is told by what stands in which stream.
    fn task(book: &Path, words: &[&str]) -> (String, String) {
        let now = NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(9, 30, 0).unwrap();
        let (mut out, mut errors) = (Vec::new(), Vec::new());
        let start = ["enamelwright".into(), "--book".into(), book.as_os_str().to_owned()];
        let all = start.into_iter().chain(words.iter().map(OsString::from));
        let _ = run(all, now, |_| Ok(()), &mut out, &mut errors);
        (String::from_utf8(out).unwrap(), String::from_utf8(errors).unwrap())
    }

    #[test]
    fn a_shelf_is_printed_and_one_that_is_not_there_is_told_with_those_that_are() {
        let folder = tempfile::tempdir().unwrap();
        let book = folder.path().join("studio.studiobook");
        let (_, errors) = task(&book, &["demo"]);
        assert_eq!(errors, "");
        let pdf = folder.path().join("count.pdf");
        let path = pdf.to_str().unwrap();
        let (said, errors) = task(&book, &["print", "count-sheet", "--out", path, "--shelf", "a1", "--with-stock"]);
        assert!(said.contains("3 items on 1 page"), "{said}{errors}");
        assert!(std::fs::read(&pdf).unwrap().starts_with(b"%PDF"));
        let (said, errors) = task(&book, &["print", "count-sheet", "--out", path, "--shelf", "Z9"]);
        assert!(said.is_empty() && errors.contains("nothing to count on a shelf Z9; there are A1, A2"), "{errors}");
        let (said, _) = task(&book, &["print", "count-sheet", "--out", path, "--letter"]);
        assert!(said.contains("items on "), "{said}");
    }
}
