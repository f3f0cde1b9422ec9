//! Spreadsheets in and out.
//!
//! In: [`read()`] turns the bytes of a CSV, XLSX or ODS file into a [`Workbook`] of uniform [`Cell`]s with the rows and
//! columns people see; [`columns`] finds the headings and what each column is; [`preview()`] reads the rows as items or as
//! [`Line`]s of movement and lists every problem with its row and column. Nothing is put into a book here.
//!
//! Out: [`lists`] makes [`Table`]s of what a book holds, and [`mod@write`] writes tables as CSV, XLSX or JSON, the same bytes
//! for the same tables.

mod cell;
pub mod columns;
pub mod dates;
pub mod lists;
mod made;
pub mod preview;
pub mod read;
pub mod write;

pub use cell::{Cell, Place, Row, Sheet, Workbook, column_letters};
pub use columns::{Field, Heading, ImportKind, Mapping, Shape};
pub use dates::DayOrder;
pub use made::{Column, ColumnKind, Table, Value};
pub use preview::{Found, Line, Preview, Problem, preview};
pub use read::{Flow, Progress, ReadProblem, read};
