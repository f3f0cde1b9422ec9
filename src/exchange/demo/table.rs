//! The plain tables the demo studio is written in: a heading in brackets, a line of column names, then a line a row,
//! columns parted by `|`. Lines that start with `#` are remarks.

use super::DemoProblem;
use crate::measure::{Decimal, Money, Quantity};
use std::collections::BTreeMap;

/// A row of a table, its cells by column name.
#[derive(Debug, Clone)]
pub(super) struct Row {
    file: &'static str,
    line: usize,
    cells: BTreeMap<&'static str, &'static str>,
}

/// The tables of a file, by heading.
#[derive(Debug)]
pub(super) struct Tables {
    file: &'static str,
    tables: BTreeMap<&'static str, Vec<Row>>,
}

impl Tables {
    /// Reads the tables of a file.
    pub(super) fn read(file: &'static str, text: &'static str) -> Result<Self, DemoProblem> {
        let problem = |line, reason: &str| DemoProblem { file: file.to_owned(), line, reason: reason.to_owned() };
        let mut tables: BTreeMap<&'static str, Vec<Row>> = BTreeMap::new();
        let mut heading = None;
        let mut columns: Vec<&'static str> = Vec::new();
        for (index, text) in text.lines().enumerate() {
            let line = index + 1;
            let text = text.trim();
            if text.is_empty() || text.starts_with('#') {
                continue;
            }
            if let Some(name) = text.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
                if tables.insert(name, Vec::new()).is_some() {
                    return Err(problem(line, "this table was there before"));
                }
                heading = Some(name);
                columns.clear();
                continue;
            }
            let cells: Vec<&'static str> = text.split('|').map(str::trim).collect();
            let Some(rows) = heading.and_then(|name| tables.get_mut(name)) else {
                return Err(problem(line, "a row before the first heading"));
            };
            if columns.is_empty() {
                columns = cells;
            } else if cells.len() == columns.len() {
                rows.push(Row { file, line, cells: columns.iter().copied().zip(cells).collect() });
            } else {
                return Err(problem(line, &format!("{} cells, {} columns", cells.len(), columns.len())));
            }
        }
        Ok(Self { file, tables })
    }

    /// The rows under a heading.
    pub(super) fn rows(&self, heading: &str) -> Result<&[Row], DemoProblem> {
        self.tables.get(heading).map(Vec::as_slice).ok_or_else(|| DemoProblem {
            file: self.file.to_owned(),
            line: 1,
            reason: format!("no table {heading}"),
        })
    }

    /// The row of that name in a table of named values.
    pub(super) fn named(&self, heading: &str, name: &str) -> Result<&Row, DemoProblem> {
        self.rows(heading)?.iter().find(|row| row.cells.get("name") == Some(&name)).ok_or_else(|| DemoProblem {
            file: self.file.to_owned(),
            line: 1,
            reason: format!("no {name} in the table {heading}"),
        })
    }
}

impl Row {
    /// A problem at this row.
    pub(super) fn problem(&self, reason: String) -> DemoProblem {
        DemoProblem { file: self.file.to_owned(), line: self.line, reason }
    }

    /// A cell as it stands; may be empty.
    pub(super) fn text(&self, column: &str) -> Result<&'static str, DemoProblem> {
        self.cells.get(column).copied().ok_or_else(|| self.problem(format!("no column {column}")))
    }

    /// A cell that must read as a `T`.
    pub(super) fn parsed<T>(
        &self,
        column: &str,
        accepted: &str,
        read: impl Fn(&str) -> Option<T>,
    ) -> Result<T, DemoProblem> {
        let text = self.text(column)?;
        read(text).ok_or_else(|| self.problem(format!("{column}: {text:?} is not {accepted}")))
    }

    /// A cell that is empty or must read as a `T`.
    pub(super) fn optional<T>(
        &self,
        column: &str,
        accepted: &str,
        read: impl Fn(&str) -> Option<T>,
    ) -> Result<Option<T>, DemoProblem> {
        if self.text(column)?.is_empty() { Ok(None) } else { self.parsed(column, accepted, read).map(Some) }
    }

    /// A number.
    pub(super) fn number(&self, column: &str) -> Result<Decimal, DemoProblem> {
        self.parsed(column, "a number", decimal)
    }

    /// A whole number from 0.
    pub(super) fn whole(&self, column: &str) -> Result<u32, DemoProblem> {
        self.parsed(column, "a whole number", |text| text.parse().ok())
    }

    /// Numbers parted by spaces; an empty cell has none.
    pub(super) fn numbers(&self, column: &str) -> Result<Vec<Decimal>, DemoProblem> {
        self.parsed(column, "numbers parted by spaces", decimals)
    }

    /// Two numbers parted by a space.
    pub(super) fn pair(&self, column: &str) -> Result<[Decimal; 2], DemoProblem> {
        self.parsed(column, "two numbers", |text| decimals(text)?.try_into().ok())
    }

    /// An amount of money.
    pub(super) fn money(&self, column: &str) -> Result<Money, DemoProblem> {
        self.parsed(column, "an amount of money", |text| Money::new(decimal(text)?))
    }

    /// A quantity.
    pub(super) fn quantity(&self, column: &str) -> Result<Quantity, DemoProblem> {
        self.parsed(column, "a quantity", |text| Quantity::new(decimal(text)?))
    }

    /// `yes`, or empty for no.
    pub(super) fn yes(&self, column: &str) -> Result<bool, DemoProblem> {
        self.parsed(column, "yes or empty", |text| match text {
            "yes" => Some(true),
            "" => Some(false),
            _ => None,
        })
    }
}

/// A plain decimal.
pub(super) fn decimal(text: &str) -> Option<Decimal> {
    Decimal::from_str_exact(text).ok()
}

/// Decimals parted by spaces.
pub(super) fn decimals(text: &str) -> Option<Vec<Decimal>> {
    text.split_whitespace().map(decimal).collect()
}
