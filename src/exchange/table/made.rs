//! A table to be written.

use crate::measure::Decimal;
use chrono::NaiveDate;
use std::borrow::Cow;

/// A list with its headings, ready to be written in any form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// Its name: a sheet of XLSX, a file of CSV.
    pub name: String,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows, each with one value a column.
    pub rows: Vec<Vec<Value>>,
}

/// One column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// Its heading, unlike the others of its table.
    pub heading: Cow<'static, str>,
    /// What stands in it.
    pub kind: ColumnKind,
}

impl Column {
    /// A column of that heading and kind.
    pub fn new(heading: impl Into<Cow<'static, str>>, kind: ColumnKind) -> Self {
        Self { heading: heading.into(), kind }
    }
}

/// What stands in a column, apart from empty cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ColumnKind {
    /// Text.
    Text,
    /// Numbers.
    Number,
    /// Amounts of money, shown with at least this many decimals.
    Money {
        /// Decimals of the currency's minor unit.
        digits: u32,
    },
    /// Days.
    Date,
    /// Yes or no.
    Flag,
}

impl ColumnKind {
    /// The word for it in a JSON file.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Text => "text",
            Self::Number => "number",
            Self::Money { .. } => "money",
            Self::Date => "date",
            Self::Flag => "flag",
        }
    }
}

/// What stands in a cell.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Value {
    /// Nothing.
    #[default]
    Empty,
    /// Text; an empty one is nothing.
    Text(String),
    /// An exact number or amount.
    Number(Decimal),
    /// A day.
    Date(NaiveDate),
    /// Yes or no.
    Flag(bool),
}

impl Value {
    /// Text.
    pub fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    /// The value, or nothing.
    pub fn maybe<T>(value: Option<T>, make: impl FnOnce(T) -> Self) -> Self {
        value.map_or(Self::Empty, make)
    }
}

impl Table {
    /// The headings.
    pub fn headings(&self) -> impl Iterator<Item = &str> {
        self.columns.iter().map(|column| column.heading.as_ref())
    }
}
