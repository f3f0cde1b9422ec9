//! CSV as RFC 4180 has it: commas, CR LF, quotation marks where they are needed; UTF-8 without a mark.
//!
//! Numbers are exact with a decimal point, amounts of money with at least the decimals of the minor unit, days as
//! `2026-03-14`, flags `yes` and `no`. Text that begins like a formula gets an apostrophe; numbers never do.

use super::{WriteProblem, formula};
use crate::exchange::table::made::{Column, ColumnKind, Table, Value};
use crate::measure::Decimal;

/// One table as a CSV file, its headings in the first row.
///
/// # Errors
/// None that is known; the library that writes cannot fail into memory.
pub fn csv(table: &Table) -> Result<Vec<u8>, WriteProblem> {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).flexible(true).from_writer(Vec::new());
    let problem = |error: csv::Error| WriteProblem::Form(error.to_string());
    if table.columns.is_empty() {
        return Ok(Vec::new());
    }
    writer.write_record(table.headings().map(formula::neutral)).map_err(problem)?;
    for row in &table.rows {
        let nothing = std::iter::repeat(&Value::Empty);
        let cells = table.columns.iter().zip(row.iter().chain(nothing));
        writer.write_record(cells.map(|(column, value)| text(column.kind, value))).map_err(problem)?;
    }
    writer.into_inner().map_err(|error| WriteProblem::Form(error.to_string()))
}

/// Each table as a CSV file of its own: its name and its bytes.
///
/// # Errors
/// As [`csv()`].
pub fn csv_files(tables: &[Table]) -> Result<Vec<(String, Vec<u8>)>, WriteProblem> {
    tables.iter().map(|table| Ok((format!("{}.csv", table.name), csv(table)?))).collect()
}

/// All tables below each other in one file: before each a row with its name, after each an empty one. It is for looking
/// at; [`csv_files`] makes files that come in again.
///
/// # Errors
/// As [`csv()`].
pub fn csv_together(tables: &[Table]) -> Result<Vec<u8>, WriteProblem> {
    let mut all = Vec::new();
    for table in tables {
        let name = Table {
            name: String::new(),
            columns: vec![Column::new(table.name.clone(), ColumnKind::Text)],
            rows: Vec::new(),
        };
        if !all.is_empty() {
            all.extend(b"\r\n");
        }
        all.extend(csv(&name)?);
        all.extend(csv(table)?);
    }
    Ok(all)
}

fn text(kind: ColumnKind, value: &Value) -> String {
    match (value, kind) {
        (Value::Empty, _) => String::new(),
        (Value::Text(text), _) => formula::neutral(text),
        (Value::Number(amount), ColumnKind::Money { digits }) => money(*amount, digits),
        (Value::Number(number), _) => number.normalize().to_string(),
        (Value::Date(date), _) => date.format("%Y-%m-%d").to_string(),
        (Value::Flag(flag), _) => (if *flag { "yes" } else { "no" }).to_owned(),
    }
}

/// An amount with all its decimals, and at least those of the minor unit.
pub(super) fn money(amount: Decimal, digits: u32) -> String {
    let mut amount = amount.normalize();
    if amount.scale() < digits {
        amount.rescale(digits);
    }
    amount.to_string()
}
