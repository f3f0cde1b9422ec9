//! XLSX: numbers are numbers, days are days, text is text and never a formula.
//!
//! A workbook keeps numbers as binary numbers of about 15 figures; CSV and JSON keep every figure. Days before 1900, which
//! a workbook does not have, are written as text.

use super::WriteProblem;
use crate::exchange::table::cell::Place;
use crate::exchange::table::dates;
use crate::exchange::table::made::{ColumnKind, Table, Value};
use rust_decimal::prelude::ToPrimitive;
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, Workbook, Worksheet, XlsxError};

/// Characters a cell takes.
const CELL_CHARACTERS: usize = 32_767;

/// Rows a sheet takes below its headings.
const ROWS: usize = 1_048_575;

/// Characters a sheet's name takes.
const NAME_CHARACTERS: usize = 31;

/// Tables as one workbook, a sheet each, the headings bold and kept in sight.
///
/// # Errors
/// When a text or a table is too long for a workbook.
pub fn xlsx(tables: &[Table]) -> Result<Vec<u8>, WriteProblem> {
    let mut workbook = Workbook::new();
    // A fixed moment, so that the same tables give the same bytes.
    let moment = ExcelDateTime::from_ymd(2000, 1, 1).map_err(form)?;
    workbook.set_properties(&DocProperties::new().set_creation_datetime(&moment));
    let mut names: Vec<String> = Vec::new();
    for table in tables {
        let name = sheet_name(&table.name, &names);
        let sheet = workbook.add_worksheet();
        sheet.set_name(&name).map_err(form)?;
        names.push(name.to_lowercase());
        fill(sheet, table)?;
    }
    if tables.is_empty() {
        workbook.add_worksheet();
    }
    workbook.save_to_buffer().map_err(form)
}

fn form(error: XlsxError) -> WriteProblem {
    WriteProblem::Form(error.to_string())
}

fn fill(sheet: &mut Worksheet, table: &Table) -> Result<(), WriteProblem> {
    if table.rows.len() > ROWS {
        return Err(WriteProblem::TooManyRows { table: table.name.clone(), rows: table.rows.len() });
    }
    let bold = Format::new().set_bold();
    let formats: Vec<Format> = table.columns.iter().map(|column| format(column.kind)).collect();
    for (place, (column, style)) in (0_u16..).zip(table.columns.iter().zip(&formats)) {
        check_text(table, 0, place, &column.heading)?;
        sheet.write_string_with_format(0, place, column.heading.as_ref(), &bold).map_err(form)?;
        sheet.set_column_width(place, width(column.kind, &column.heading)).map_err(form)?;
        for (row, cells) in (1_u32..).zip(&table.rows) {
            let cell = usize::from(place);
            write(sheet, table, (row, place), cells.get(cell).unwrap_or(&Value::Empty), style)?;
        }
    }
    sheet.set_freeze_panes(1, 0).map_err(form)?;
    Ok(())
}

fn format(kind: ColumnKind) -> Format {
    match kind {
        ColumnKind::Money { digits: 0 } => Format::new().set_num_format("#,##0.######"),
        ColumnKind::Money { digits } => {
            let digits = usize::try_from(digits).unwrap_or(2);
            let rest = 6_usize.saturating_sub(digits);
            Format::new().set_num_format(format!("#,##0.{}{}", "0".repeat(digits), "#".repeat(rest)))
        }
        ColumnKind::Date => Format::new().set_num_format("yyyy-mm-dd"),
        ColumnKind::Text | ColumnKind::Number | ColumnKind::Flag => Format::new(),
    }
}

fn write(
    sheet: &mut Worksheet,
    table: &Table,
    (row, column): (u32, u16),
    value: &Value,
    style: &Format,
) -> Result<(), WriteProblem> {
    match value {
        Value::Empty => return Ok(()),
        Value::Text(text) if text.is_empty() => return Ok(()),
        Value::Text(text) => {
            check_text(table, row, column, text)?;
            sheet.write_string(row, column, text)
        }
        Value::Number(number) => {
            // Every decimal has a nearest binary number.
            sheet.write_number_with_format(row, column, number.to_f64().unwrap_or_default(), style)
        }
        Value::Date(date) => match dates::serial(*date) {
            Some(serial) => sheet.write_number_with_format(row, column, f64::from(serial), style),
            None => sheet.write_string(row, column, date.format("%Y-%m-%d").to_string()),
        },
        Value::Flag(flag) => sheet.write_boolean(row, column, *flag),
    }
    .map_err(form)?;
    Ok(())
}

fn check_text(table: &Table, row: u32, column: u16, text: &str) -> Result<(), WriteProblem> {
    // A cell's length is counted in UTF-16.
    let characters = text.encode_utf16().count();
    if characters <= CELL_CHARACTERS {
        return Ok(());
    }
    let place = Place { row: row.saturating_add(1), column: Some(u32::from(column).saturating_add(1)) };
    Err(WriteProblem::TextTooLong { table: table.name.clone(), place, characters })
}

fn width(kind: ColumnKind, heading: &str) -> f64 {
    let least = match kind {
        ColumnKind::Text => 18,
        ColumnKind::Date => 12,
        ColumnKind::Number | ColumnKind::Money { .. } => 12,
        ColumnKind::Flag => 8,
    };
    let letters = u32::try_from(heading.chars().count()).unwrap_or(least).saturating_add(2);
    f64::from(letters.clamp(least, 40))
}

/// A name a sheet may have, unlike those before it: at most 31 characters, none of `[]:*?/\`, no apostrophe at its ends
/// (ECMA-376 Part 1, 18.2.19, and what readers of it ask for, from memory).
fn sheet_name(name: &str, taken: &[String]) -> String {
    let plain: String = name
        .chars()
        .map(|letter| if letter.is_control() || "[]:*?/\\".contains(letter) { ' ' } else { letter })
        .collect();
    let plain = plain.trim().trim_matches('\'').trim();
    let plain = if plain.is_empty() { "Sheet" } else { plain };
    let cut = |room: usize| {
        let mut used = 0;
        let fits = |letter: &char| {
            used += letter.len_utf16();
            used <= room
        };
        plain.chars().take_while(fits).collect::<String>().trim_end_matches(['\'', ' ']).to_owned()
    };
    let mut found = cut(NAME_CHARACTERS);
    for number in 2_u32.. {
        if !taken.contains(&found.to_lowercase()) {
            break;
        }
        let behind = format!(" {number}");
        found = format!("{}{behind}", cut(NAME_CHARACTERS - behind.len()));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sheets_have_names_a_workbook_takes() {
        assert_eq!(sheet_name("Stock: value [2026]", &[]), "Stock  value  2026");
        assert_eq!(sheet_name("'Prices'", &[]), "Prices");
        assert_eq!(sheet_name("", &[]), "Sheet");
        assert_eq!(sheet_name("Items", &["items".to_owned(), "items 2".to_owned()]), "Items 3");
        assert_eq!(sheet_name(&"long".repeat(20), &[]).len(), 31);
    }
}
