//! Files in: bytes of a CSV, XLSX or ODS file to a [`Workbook`].
//!
//! What a file is, is told by its first bytes; its name only says what it should be. A file is refused whole, with the
//! reason, rather than read in part. Nothing in a file can make the program stop: sizes are checked before anything is
//! unpacked, and parts that are not well-formed never reach the library that reads them.

mod archive;
mod delimited;
mod inflate;
mod markup;
mod spreadsheet;
mod text;

use super::cell::{Cell, Row, Sheet, Workbook};
use std::collections::BTreeMap;

/// Largest file that is read, bytes.
pub const FILE_LIMIT: usize = 50_000_000;

/// Most rows with something in them that are read of a sheet.
pub const ROW_LIMIT: usize = 200_000;

/// Most columns that are read.
pub const COLUMN_LIMIT: u32 = 200;

/// Most cells that are read of a workbook.
pub const CELL_LIMIT: usize = 4_000_000;

/// Most bytes of text that are read of a workbook, each cell counted for itself.
pub const TEXT_LIMIT: usize = 200_000_000;

/// Most bytes the parts of an XLSX or ODS file may unpack to.
pub const UNPACKED_LIMIT: u64 = 300_000_000;

/// Rows between two calls of the progress function.
const STRIDE: u64 = 500;

/// How far reading has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// What is done, 0 to `whole`.
    pub done: u64,
    /// What there is to do, above 0; an estimate that may change.
    pub whole: u64,
}

/// Whether to go on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Flow {
    /// Go on.
    Go,
    /// Stop: [`ReadProblem::Stopped`] is returned, and nothing is left behind.
    Stop,
}

/// Asked now and then while reading.
pub type OnProgress<'a> = &'a mut dyn FnMut(Progress) -> Flow;

/// Why a file is not read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ReadProblem {
    /// No bytes at all.
    #[error("the file is empty; a CSV, XLSX or ODS file with a line of headings is read")]
    Empty,
    /// More bytes than are read.
    #[error("the file has {bytes} bytes; at most {FILE_LIMIT} are read")]
    FileTooLarge {
        /// Its size.
        bytes: usize,
    },
    /// Named as a workbook, but something else.
    #[error("{name} is not a workbook inside, whatever its name says; a CSV, XLSX or ODS file is read")]
    NotWhatItSays {
        /// The file's name.
        name: String,
    },
    /// An older or a locked workbook.
    #[error(
        "the file is a workbook of an older kind or locked by a password; save it as XLSX, ODS or CSV and unlocked"
    )]
    OldOrLocked,
    /// Not text, and no workbook either.
    #[error("the file is neither text nor a workbook; a CSV, XLSX or ODS file is read")]
    NotText,
    /// A workbook that cannot be read, with the reason.
    #[error("the workbook cannot be read: {0}")]
    Damaged(String),
    /// It unpacks to more than is read.
    #[error("the workbook unpacks to {bytes} bytes; at most {UNPACKED_LIMIT} are read")]
    UnpacksTooLarge {
        /// What its parts say they unpack to.
        bytes: u64,
    },
    /// Too many rows.
    #[error("sheet {sheet:?} has more than {ROW_LIMIT} rows; split it into several files")]
    TooManyRows {
        /// The sheet.
        sheet: String,
    },
    /// Too many columns.
    #[error("row {row} of sheet {sheet:?} has something after column {COLUMN_LIMIT}; at most {COLUMN_LIMIT} are read")]
    TooManyColumns {
        /// The sheet.
        sheet: String,
        /// The row, from 1.
        row: u32,
    },
    /// Too many cells.
    #[error("the workbook has more than {CELL_LIMIT} cells; split it into several files")]
    TooManyCells,
    /// Too much text.
    #[error("the workbook has more than {TEXT_LIMIT} bytes of text; split it into several files")]
    TooMuchText,
    /// A quotation mark without its partner.
    #[error("row {row}: a quotation mark opens a text that never closes; close it or take it away")]
    OpenQuote {
        /// The row, from 1.
        row: u32,
    },
    /// The progress function said so.
    #[error("reading was stopped; nothing was taken from the file")]
    Stopped,
}

/// Reads a file. `name` is the file's name, which names the sheet of a CSV file.
///
/// # Errors
/// When it is no such file, is damaged or too large, or `progress` says [`Flow::Stop`].
pub fn read(bytes: &[u8], name: &str, progress: OnProgress<'_>) -> Result<Workbook, ReadProblem> {
    if bytes.is_empty() {
        return Err(ReadProblem::Empty);
    }
    if bytes.len() > FILE_LIMIT {
        return Err(ReadProblem::FileTooLarge { bytes: bytes.len() });
    }
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"PK\x05\x06") {
        return spreadsheet::read(bytes, progress);
    }
    if bytes.starts_with(&[0xd0, 0xcf, 0x11, 0xe0]) {
        return Err(ReadProblem::OldOrLocked);
    }
    let (stem, ending) = name.rsplit_once('.').unwrap_or((name, ""));
    if matches!(ending.to_lowercase().as_str(), "xlsx" | "xlsm" | "ods" | "xls") {
        return Err(ReadProblem::NotWhatItSays { name: name.to_owned() });
    }
    let (text, remark) = text::decode(bytes)?;
    let rows = delimited::rows(&text, stem, progress)?;
    Ok(Workbook {
        sheets: vec![Sheet { name: stem.to_owned(), rows }],
        remarks: remark.into_iter().map(ToOwned::to_owned).collect(),
    })
}

/// Tells how far reading has come, and stops it when told to.
fn tell(progress: OnProgress<'_>, done: u64, whole: u64) -> Result<(), ReadProblem> {
    let whole = whole.max(1);
    match progress(Progress { done: done.min(whole), whole }) {
        Flow::Go => Ok(()),
        Flow::Stop => Err(ReadProblem::Stopped),
    }
}

/// What has been read of a workbook, held against the limits.
#[derive(Debug, Default)]
struct Counted {
    cells: usize,
    text: usize,
}

/// Rows as their cells come in, in whatever order.
#[derive(Debug, Default)]
struct Gathered {
    rows: BTreeMap<u32, Vec<Cell>>,
}

impl Gathered {
    /// Puts a cell at its row and column, both from 1. An empty cell costs nothing.
    fn put(
        &mut self,
        sheet: &str,
        counted: &mut Counted,
        row: u32,
        column: u32,
        cell: Cell,
    ) -> Result<(), ReadProblem> {
        if cell == Cell::Empty {
            return Ok(());
        }
        if column > COLUMN_LIMIT {
            return Err(ReadProblem::TooManyColumns { sheet: sheet.to_owned(), row });
        }
        if !self.rows.contains_key(&row) && self.rows.len() >= ROW_LIMIT {
            return Err(ReadProblem::TooManyRows { sheet: sheet.to_owned() });
        }
        if let Cell::Text(text) = &cell {
            counted.text += text.len();
            if counted.text > TEXT_LIMIT {
                return Err(ReadProblem::TooMuchText);
            }
        }
        let cells = self.rows.entry(row).or_default();
        let place = usize::try_from(column.saturating_sub(1)).unwrap_or_default();
        if cells.len() <= place {
            counted.cells += place + 1 - cells.len();
            if counted.cells > CELL_LIMIT {
                return Err(ReadProblem::TooManyCells);
            }
            cells.resize(place + 1, Cell::Empty);
        }
        if let Some(slot) = cells.get_mut(place) {
            *slot = cell;
        }
        Ok(())
    }

    fn rows(self) -> Vec<Row> {
        self.rows.into_iter().map(|(number, cells)| Row { number, cells }).collect()
    }
}
