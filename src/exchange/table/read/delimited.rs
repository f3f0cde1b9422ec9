//! Text parted by commas, semicolons or tabs (RFC 4180 and its relatives).
//!
//! * Which mark parts cells is told by the first rows: the one that gives the most rows of one same width.
//! * A cell that begins with a quotation mark goes on to the next single one; two stand for one. A quotation mark inside
//!   a cell that does not begin with one is itself (`6 x 12"`).
//! * Rows end with CR LF, LF or CR.
//! * An apostrophe before a text that begins like a formula is taken off: it is how such texts are written, here and
//!   elsewhere, so that no spreadsheet computes them.

use super::{Counted, Gathered, OnProgress, ReadProblem, STRIDE, tell};
use crate::exchange::table::cell::{Cell, Row};
use crate::exchange::table::write::formula;

/// The marks that may part cells, likeliest first.
const MARKS: [u8; 3] = [b',', b';', b'\t'];

/// Rows and bytes looked at to tell which mark it is.
const LOOKED_AT_ROWS: usize = 30;
const LOOKED_AT_BYTES: usize = 100_000;

/// The rows of a text, with the numbers a spreadsheet gives them.
pub(super) fn rows(text: &str, sheet: &str, progress: OnProgress<'_>) -> Result<Vec<Row>, ReadProblem> {
    let mark = mark(text);
    let mut gathered = Gathered::default();
    let mut counted = Counted::default();
    let mut splitter = Splitter { text, at: 0, mark };
    let whole = text.len() as u64;
    let mut number = 0_u32;
    while let Some(cells) =
        splitter.row().map_err(|OpenQuote| ReadProblem::OpenQuote { row: number.saturating_add(1) })?
    {
        number = number.saturating_add(1);
        for (column, text) in (1_u32..).zip(cells) {
            let cell = if text.is_empty() { Cell::Empty } else { Cell::Text(formula::restored(text)) };
            gathered.put(sheet, &mut counted, number, column, cell)?;
        }
        if u64::from(number).is_multiple_of(STRIDE) {
            tell(progress, splitter.at as u64, whole)?;
        }
    }
    tell(progress, whole, whole)?;
    Ok(gathered.rows())
}

/// The mark that parts the cells.
fn mark(text: &str) -> u8 {
    let best = MARKS.into_iter().rev().max_by_key(|mark| {
        let mut splitter = Splitter { text, at: 0, mark: *mark };
        let mut widths = Vec::new();
        while widths.len() < LOOKED_AT_ROWS && splitter.at < LOOKED_AT_BYTES {
            match splitter.row() {
                Ok(Some(cells)) => widths.push(cells.len()),
                _ => break,
            }
        }
        widths.retain(|width| *width > 1);
        let same = |width: usize| widths.iter().filter(|other| **other == width).count();
        widths.iter().map(|width| (same(*width), *width)).max().unwrap_or_default()
    });
    best.unwrap_or(b',')
}

/// A quotation mark opens and never closes.
struct OpenQuote;

/// Takes a text apart, row after row.
struct Splitter<'a> {
    text: &'a str,
    at: usize,
    mark: u8,
}

impl Splitter<'_> {
    /// The next row's cells; none at the end.
    fn row(&mut self) -> Result<Option<Vec<String>>, OpenQuote> {
        if self.at >= self.text.len() {
            return Ok(None);
        }
        let mut cells = Vec::new();
        loop {
            let (cell, more) = self.cell().ok_or(OpenQuote)?;
            cells.push(cell);
            if !more {
                return Ok(Some(cells));
            }
        }
    }

    /// The next cell, and whether another follows in the row; none when a quotation mark never closes.
    fn cell(&mut self) -> Option<(String, bool)> {
        let mut cell = String::new();
        if self.peek() == Some(b'"') {
            self.at += 1;
            loop {
                let rest = self.text.as_bytes().get(self.at..)?;
                let length = rest.iter().position(|byte| *byte == b'"')?;
                cell.push_str(self.text.get(self.at..self.at + length)?);
                self.at += length + 1;
                if self.peek() != Some(b'"') {
                    break;
                }
                cell.push('"');
                self.at += 1;
            }
        }
        let rest = self.text.as_bytes().get(self.at..).unwrap_or_default();
        let ends = |byte: &u8| *byte == self.mark || matches!(byte, b'\n' | b'\r');
        let length = rest.iter().position(ends).unwrap_or(rest.len());
        // The bytes that end a cell are ASCII, so these are boundaries of letters.
        cell.push_str(self.text.get(self.at..self.at + length).unwrap_or_default());
        self.at += length;
        let more = match self.peek() {
            Some(b'\r') => {
                self.at += 1;
                if self.peek() == Some(b'\n') {
                    self.at += 1;
                }
                false
            }
            Some(b'\n') => {
                self.at += 1;
                false
            }
            Some(_) => {
                self.at += 1;
                true
            }
            None => false,
        };
        Some((cell, more))
    }

    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Flow, Progress};
    use super::*;

    fn read(text: &str) -> Vec<(u32, Vec<String>)> {
        let rows = rows(text, "x", &mut |_| Flow::Go).unwrap();
        rows.into_iter().map(|row| (row.number, row.cells.iter().map(Cell::text).collect())).collect()
    }

    fn row(number: u32, cells: &[&str]) -> (u32, Vec<String>) {
        (number, cells.iter().map(|cell| (*cell).to_owned()).collect())
    }

    #[test]
    fn the_examples_of_rfc_4180_section_2_are_read() {
        // RFC 4180, section 2, rules 1 to 7 (from memory).
        let plain = vec![row(1, &["aaa", "bbb", "ccc"]), row(2, &["zzz", "yyy", "xxx"])];
        assert_eq!(read("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"), plain);
        assert_eq!(read("aaa,bbb,ccc\r\nzzz,yyy,xxx"), plain);
        assert_eq!(read("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"), plain);
        assert_eq!(
            read("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"),
            vec![row(1, &["aaa", "b\r\nbb", "ccc"]), row(2, &["zzz", "yyy", "xxx"])]
        );
        assert_eq!(read("\"aaa\",\"b\"\"bb\",\"ccc\""), vec![row(1, &["aaa", "b\"bb", "ccc"])]);
    }

    #[test]
    fn the_mark_that_gives_even_rows_parts_the_cells() {
        assert_eq!(read("a;b\n1,5;2\n"), vec![row(1, &["a", "b"]), row(2, &["1,5", "2"])]);
        assert_eq!(read("a\tb\n1,5\t2;3\n"), vec![row(1, &["a", "b"]), row(2, &["1,5", "2;3"])]);
        assert_eq!(read("one\ntwo\n"), vec![row(1, &["one"]), row(2, &["two"])]);
    }

    #[test]
    fn blank_rows_count_but_are_not_kept() {
        assert_eq!(read("a,b\n\n,,\nc,d"), vec![row(1, &["a", "b"]), row(4, &["c", "d"])]);
    }

    #[test]
    fn quotation_marks_inside_stay_and_open_ones_are_refused() {
        assert_eq!(read("6 x 12\",b"), vec![row(1, &["6 x 12\"", "b"])]);
        assert_eq!(read("\"dark\" blue,b"), vec![row(1, &["dark blue", "b"])]);
        assert_eq!(rows("a,b\n\"c,d\n", "x", &mut |_| Flow::Go), Err(ReadProblem::OpenQuote { row: 2 }));
    }

    #[test]
    fn reading_stops_when_told_to() {
        let text = "a,b\n".repeat(2_000);
        let mut calls = Vec::new();
        let stopped = rows(&text, "x", &mut |progress: Progress| {
            calls.push(progress);
            if calls.len() == 2 { Flow::Stop } else { Flow::Go }
        });
        assert_eq!(stopped, Err(ReadProblem::Stopped));
        assert_eq!(calls.last(), Some(&Progress { done: 4_000, whole: 8_000 }));
    }
}
