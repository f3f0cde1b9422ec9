//! What a spreadsheet holds, whatever file it came in.

use crate::measure::Decimal;
use chrono::NaiveDate;
use std::fmt;

/// What one cell holds.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Cell {
    /// Nothing.
    #[default]
    Empty,
    /// Text, exactly as it stands; every cell of a CSV file that is not empty is text.
    Text(String),
    /// A number, exact: of XLSX and ODS the shortest decimal that is the binary number in the file.
    Number(Decimal),
    /// A day; a time of day beside it is left out.
    Date(NaiveDate),
    /// True or false.
    Flag(bool),
    /// Something that cannot be taken: an error such as `#REF!`, a time without a day, a day that never was. Holds the
    /// words for it.
    Fault(String),
}

impl Cell {
    /// Nothing, or text of blanks only.
    pub fn is_blank(&self) -> bool {
        match self {
            Self::Empty => true,
            Self::Text(text) => text.trim().is_empty(),
            _ => false,
        }
    }

    /// The cell as text: numbers with a decimal point, days as `2026-03-14`, flags as `yes` and `no`.
    pub fn text(&self) -> String {
        match self {
            Self::Empty => String::new(),
            Self::Text(text) => text.clone(),
            Self::Number(number) => number.normalize().to_string(),
            Self::Date(date) => date.format("%Y-%m-%d").to_string(),
            Self::Flag(true) => "yes".to_owned(),
            Self::Flag(false) => "no".to_owned(),
            Self::Fault(words) => words.clone(),
        }
    }
}

/// A row with something in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Its number as people see it, from 1.
    pub number: u32,
    /// Its cells from column A; cells after the last one are empty.
    pub cells: Vec<Cell>,
}

impl Row {
    /// The cell of a column, from 1.
    pub fn cell(&self, column: u32) -> &Cell {
        const NOTHING: &Cell = &Cell::Empty;
        let place = usize::try_from(column).ok().and_then(|column| column.checked_sub(1));
        place.and_then(|place| self.cells.get(place)).unwrap_or(NOTHING)
    }

    /// The cells with their columns, from 1.
    pub fn columns(&self) -> impl Iterator<Item = (u32, &Cell)> {
        (1_u32..).zip(&self.cells)
    }
}

/// One sheet of a workbook.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Sheet {
    /// Its name; of a CSV file the file's name without its ending.
    pub name: String,
    /// The rows with something in them, from the top. Blank rows are left out, and cost nothing.
    pub rows: Vec<Row>,
}

/// All of a file.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Workbook {
    /// Its sheets in order, blank ones included.
    pub sheets: Vec<Sheet>,
    /// What should be known about how it was read, as sentences.
    pub remarks: Vec<String>,
}

/// A column's letters as people see them, from 1: `A`, `Z`, `AA`.
pub fn column_letters(column: u32) -> String {
    let mut letters = Vec::new();
    let mut rest = column;
    while rest > 0 {
        // From 0 to 25.
        let letter = u8::try_from((rest - 1) % 26).unwrap_or_default();
        letters.push(char::from(b'A' + letter));
        rest = (rest - 1) / 26;
    }
    letters.iter().rev().collect()
}

/// Where something stands in a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// The row, from 1.
    pub row: u32,
    /// The column, from 1; none for the whole row.
    pub column: Option<u32>,
}

/// `row 5, column B`.
impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "row {}", self.row)?;
        match self.column {
            Some(column) => write!(f, ", column {}", column_letters(column)),
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_lettered_as_in_base_26_without_a_zero() {
        // ECMA-376 Part 1, 18.3.1.4: the last column of a sheet, the 16,384th, is XFD (from memory).
        for (column, letters) in
            [(1, "A"), (26, "Z"), (27, "AA"), (52, "AZ"), (702, "ZZ"), (703, "AAA"), (16_384, "XFD")]
        {
            assert_eq!(column_letters(column), letters);
        }
        assert_eq!(Place { row: 5, column: Some(2) }.to_string(), "row 5, column B");
    }

    #[test]
    fn a_row_has_empty_cells_outside() {
        let row = Row { number: 3, cells: vec![Cell::Flag(true)] };
        assert_eq!(row.cell(1), &Cell::Flag(true));
        assert_eq!((row.cell(0), row.cell(2)), (&Cell::Empty, &Cell::Empty));
    }
}
