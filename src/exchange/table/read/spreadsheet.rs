//! XLSX and ODS files.

use super::archive::Archive;
use super::{Counted, Gathered, OnProgress, ReadProblem, STRIDE, markup, tell};
use crate::exchange::table::cell::{Cell, Sheet, Workbook};
use crate::exchange::table::dates;
use crate::measure::Decimal;
use calamine::{Data, DataRef, ExcelDateTime, Ods, Reader, SheetType, Xlsx};
use std::io::Cursor;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::str::FromStr;

/// What there is to do, and how much of it is looking at the parts before any cell is read.
const WHOLE: u64 = 1_000;
const LOOKING: u64 = 400;

/// Parts that are read as XML.
const XML: [&str; 3] = [".xml", ".rels", ".vml"];

/// Reads a workbook from the bytes of a ZIP file.
pub(super) fn read(bytes: &[u8], progress: OnProgress<'_>) -> Result<Workbook, ReadProblem> {
    let archive = Archive::open(bytes)?;
    let has = |name: &str| archive.parts.iter().any(|part| part.name == name);
    let ods = has("content.xml") && has("mimetype");
    for (done, part) in (0_u64..).zip(&archive.parts) {
        tell(progress, LOOKING * done / archive.parts.len().max(1) as u64, WHOLE)?;
        let lower = part.name.to_lowercase();
        if XML.iter().any(|ending| lower.ends_with(ending)) {
            let xml = archive.unpack(part)?;
            markup::check(&part.name, &xml)?;
            if ods && part.name == "content.xml" {
                markup::check_repeats(&xml)?;
            }
        }
    }
    // The library that reads workbooks is not proof against every file: what it cannot cope with stops here instead of
    // the program. Nothing it was at work on is used afterwards.
    let read = AssertUnwindSafe(|| if ods { read_ods(bytes, progress) } else { read_xlsx(bytes, progress) });
    catch_unwind(read).unwrap_or_else(|_| Err(ReadProblem::Damaged("its cells make no sense".to_owned())))
}

fn damaged(error: impl std::fmt::Display) -> ReadProblem {
    let mut words: String = error.to_string().chars().filter(|letter| !letter.is_control()).take(200).collect();
    if words.is_empty() {
        words.push_str("it is damaged");
    }
    ReadProblem::Damaged(words)
}

/// How far reading is at a row of one of many sheets.
fn far(sheet: usize, sheets: usize, row: u64, rows: u64) -> u64 {
    let sheets = sheets.max(1) as u64;
    let share = WHOLE.saturating_sub(LOOKING) / sheets;
    LOOKING + share * (sheet as u64) + share.saturating_mul(row.min(rows)) / rows.max(1)
}

/// A row or column as people count it.
fn counted_from_one(place: u32) -> u32 {
    place.saturating_add(1)
}

fn read_xlsx(bytes: &[u8], progress: OnProgress<'_>) -> Result<Workbook, ReadProblem> {
    let mut file: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(damaged)?;
    let sheets = file.sheets_metadata().to_vec();
    let mut counted = Counted::default();
    let mut workbook = Workbook::default();
    let count = sheets.len();
    for (place, sheet) in sheets.into_iter().enumerate() {
        if sheet.typ != SheetType::WorkSheet {
            workbook.remarks.push(format!("{:?} has no cells and was left out", sheet.name));
            continue;
        }
        let mut gathered = Gathered::default();
        let mut cells = file.worksheet_cells_reader(&sheet.name).map_err(damaged)?;
        let last = u64::from(cells.dimensions().end.0) + 1;
        let mut told = 0;
        while let Some(cell) = cells.next_cell().map_err(damaged)? {
            let (row, column) = cell.get_position();
            let value = xlsx_cell(cell.get_value());
            gathered.put(&sheet.name, &mut counted, counted_from_one(row), counted_from_one(column), value)?;
            if u64::from(row) >= told + STRIDE {
                told = u64::from(row);
                tell(progress, far(place, count, told, last), WHOLE)?;
            }
        }
        workbook.sheets.push(Sheet { name: sheet.name, rows: gathered.rows() });
    }
    tell(progress, WHOLE, WHOLE)?;
    Ok(workbook)
}

fn read_ods(bytes: &[u8], progress: OnProgress<'_>) -> Result<Workbook, ReadProblem> {
    let mut file: Ods<_> = Ods::new(Cursor::new(bytes)).map_err(damaged)?;
    let mut counted = Counted::default();
    let mut workbook = Workbook::default();
    let names = file.sheet_names();
    let count = names.len();
    for (at, name) in names.into_iter().enumerate() {
        let range = file.worksheet_range(&name).map_err(damaged)?;
        let (top, left) = range.start().unwrap_or_default();
        let whole = range.height() as u64;
        let mut told = 0;
        let mut gathered = Gathered::default();
        for (row, column, value) in range.used_cells() {
            let place = |start: u32, step: usize| {
                u32::try_from(step).map_or(u32::MAX, |step| counted_from_one(start.saturating_add(step)))
            };
            gathered.put(&name, &mut counted, place(top, row), place(left, column), ods_cell(value))?;
            if row as u64 >= told + STRIDE {
                told = row as u64;
                tell(progress, far(at, count, told, whole), WHOLE)?;
            }
        }
        workbook.sheets.push(Sheet { name, rows: gathered.rows() });
    }
    tell(progress, WHOLE, WHOLE)?;
    Ok(workbook)
}

fn xlsx_cell(value: &DataRef<'_>) -> Cell {
    match value {
        DataRef::Empty => Cell::Empty,
        DataRef::Int(number) => Cell::Number(Decimal::from(*number)),
        DataRef::Float(number) => number_cell(*number),
        DataRef::String(text) => text_cell(text),
        DataRef::SharedString(text) => text_cell(text),
        DataRef::Bool(flag) => Cell::Flag(*flag),
        DataRef::DateTime(when) => date_cell(when),
        DataRef::DateTimeIso(text) => iso_cell(text),
        DataRef::DurationIso(text) => Cell::Fault(format!("{text}, a time without a day")),
        DataRef::Error(error) => Cell::Fault(error.to_string()),
    }
}

fn ods_cell(value: &Data) -> Cell {
    match value {
        Data::Empty => Cell::Empty,
        Data::Int(number) => Cell::Number(Decimal::from(*number)),
        Data::Float(number) => number_cell(*number),
        Data::String(text) => text_cell(text),
        Data::Bool(flag) => Cell::Flag(*flag),
        Data::DateTime(when) => date_cell(when),
        Data::DateTimeIso(text) => iso_cell(text),
        Data::DurationIso(text) => Cell::Fault(format!("{text}, a time without a day")),
        Data::Error(error) => Cell::Fault(error.to_string()),
    }
}

fn text_cell(text: &str) -> Cell {
    if text.is_empty() { Cell::Empty } else { Cell::Text(text.to_owned()) }
}

/// The shortest decimal that is this binary number, as Rust writes it; what does not fit 28 digits is a fault.
fn number_cell(number: f64) -> Cell {
    let text = number.to_string();
    match Decimal::from_str_exact(&text).or_else(|_| Decimal::from_str(&text)) {
        Ok(exact) => Cell::Number(exact.normalize()),
        Err(_) => Cell::Fault(format!("{number:e}, a number too large to be read")),
    }
}

/// A day by its serial number.
fn date_cell(when: &ExcelDateTime) -> Cell {
    let serial = when.as_f64();
    // Serial numbers end with 31 December 9999; the range also keeps the conversion from overflowing.
    if when.is_duration() || !(0.0..2_958_466.0).contains(&serial) {
        return Cell::Fault(format!("{serial}, a time without a day"));
    }
    match when.as_datetime().map(|moment| moment.date()) {
        Some(date) if (60.0..61.0).contains(&serial) && date == dates::BEFORE_NO_DAY => {
            Cell::Fault("29 February 1900, a day that never was".to_owned())
        }
        Some(_) if serial < 1.0 => Cell::Fault("a time without a day".to_owned()),
        Some(date) => Cell::Date(date),
        None => Cell::Fault(format!("{serial}, not a day")),
    }
}

/// A day in ISO 8601, with or without a time of day.
fn iso_cell(text: &str) -> Cell {
    match dates::iso(text) {
        Some(date) => Cell::Date(date),
        None => Cell::Fault(format!("{text}, not a day")),
    }
}

#[cfg(test)]
#[path = "tests.rs"]
mod tests;
