//! A sheet as it would be read, with every problem by row and column.

mod items;
mod lines;
mod reading;

use super::cell::{Place, Row, Sheet, column_letters};
use super::columns::{Field, Heading, ImportKind, Mapping};
use crate::measure::{Currency, Money};
use crate::studio::{Item, MovementKind};
use chrono::NaiveDate;
use std::fmt;

/// Rows whose texts are kept to be shown.
pub const SHOWN: usize = 50;

/// Something to be mended, or known, at one place of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// Where.
    pub place: Place,
    /// The column's field; none for the whole row.
    pub field: Option<Field>,
    /// What is there and what would be accepted.
    pub words: String,
}

/// `row 5, column B (quantity): …`.
impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.field {
            Some(field) => write!(f, "{} ({}): {}", self.place, field.heading(), self.words),
            None => write!(f, "{}: {}", self.place, self.words),
        }
    }
}

/// One movement as a file has it. What it means for an item is for whoever brings it in to say: whether
/// the item is known, whether its unit fits, whether there is enough.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Its row, from 1.
    pub row: u32,
    /// The day.
    pub date: NaiveDate,
    /// The item's reference or name, as written; never empty.
    pub item: String,
    /// What it does.
    pub kind: MovementKind,
    /// The quantity as a decimal with a point, or as the fraction that was written (`1 3/4`); 0 or more.
    pub quantity: String,
    /// The unit it is in, as written; empty for the item's own.
    pub unit: String,
    /// The whole landed cost.
    pub cost: Option<Money>,
    /// Anything else.
    pub note: String,
    /// The maker's lot number.
    pub lot_number: String,
    /// The supplier.
    pub supplier: String,
}

impl Line {
    /// The texts of a row of a movement file: `date,item,movement,quantity,unit,cost,note`; decimals have a point.
    pub fn texts(&self) -> [String; 7] {
        [
            self.date.format("%Y-%m-%d").to_string(),
            self.item.clone(),
            self.kind.name().to_owned(),
            self.quantity.clone(),
            self.unit.clone(),
            self.cost.map(|cost| cost.to_string()).unwrap_or_default(),
            self.note.clone(),
        ]
    }
}

/// What the rows of a sheet are; rows with a problem are left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Found {
    /// Items, with their rows.
    Items(Vec<(u32, Item)>),
    /// Movements, in the file's order.
    Lines(Vec<Line>),
}

impl Found {
    /// How many there are.
    pub fn count(&self) -> usize {
        match self {
            Self::Items(items) => items.len(),
            Self::Lines(lines) => lines.len(),
        }
    }
}

/// A sheet as it would be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Preview {
    /// The fields in the order of `shown`.
    pub fields: Vec<Field>,
    /// The first [`SHOWN`] rows: number, and the texts as they would be read; empty where a cell has a problem.
    pub shown: Vec<(u32, Vec<String>)>,
    /// What was found.
    pub found: Found,
    /// Every problem, by row then column; nothing may be brought in while there is one.
    pub problems: Vec<Problem>,
    /// What should be known, but stops nothing.
    pub remarks: Vec<Problem>,
}

impl Preview {
    /// True when every row was read.
    pub fn is_whole(&self) -> bool {
        self.problems.is_empty()
    }
}

/// Names a column the way problems do: `column B (Qty)`.
pub fn label(heading: &Heading, column: u32) -> String {
    let text = heading.text(column);
    let letters = column_letters(column);
    if text.is_empty() { format!("column {letters}") } else { format!("column {letters} ({text})") }
}

/// What problems call each of [`Line::texts`]: the column it is read from, else the word for it.
pub fn labels(heading: &Heading, mapping: &Mapping) -> [String; 7] {
    const FIELDS: [Field; 7] =
        [Field::Date, Field::Item, Field::Movement, Field::Quantity, Field::Unit, Field::Cost, Field::Note];
    FIELDS.map(|field| match mapping.column(field) {
        Some(mapped) => label(heading, mapped.column),
        None => field.heading().to_owned(),
    })
}

/// Reads the rows below the headings.
///
/// `day` is the day of rows in a file without a column of days. Numbers without a unit are in the unit of their heading,
/// else in the item's own; lengths in mm, temperatures in °C. Blank rows are passed over.
pub fn preview(
    sheet: &Sheet,
    heading: &Heading,
    mapping: &Mapping,
    currency: Currency,
    day: Option<NaiveDate>,
) -> Preview {
    let fields: Vec<Field> = mapping.columns.iter().map(|mapped| mapped.field).collect();
    let mut problems: Vec<Problem> = mapping
        .missing()
        .into_iter()
        .map(|field| Problem {
            place: Place { row: heading.row, column: None },
            field: None,
            words: format!("no column is picked for {}", field.heading()),
        })
        .collect();
    let nothing = match mapping.kind {
        ImportKind::Items => Found::Items(Vec::new()),
        _ => Found::Lines(Vec::new()),
    };
    let mut preview = Preview { fields, shown: Vec::new(), found: nothing, problems: Vec::new(), remarks: Vec::new() };
    if problems.is_empty() {
        let preferences = mapping.preferences(currency);
        let mut seen = items::Seen::default();
        for row in sheet.rows.iter().filter(|row| row.number > heading.row && holds_something(row, mapping)) {
            let mut reading = reading::Reading::new(row, mapping, &preferences);
            match &mut preview.found {
                Found::Items(items) => {
                    items.extend(items::item(&mut reading, &mut seen).map(|item| (row.number, item)))
                }
                Found::Lines(lines) => lines.extend(lines::line(&mut reading, day)),
            }
            if preview.shown.len() < SHOWN {
                preview.shown.push((row.number, reading.texts()));
            }
            problems.append(&mut reading.problems);
            preview.remarks.append(&mut reading.remarks);
        }
    }
    problems.sort_by_key(|problem| problem.place);
    preview.problems = problems;
    preview
}

fn holds_something(row: &Row, mapping: &Mapping) -> bool {
    mapping.columns.iter().any(|mapped| !row.cell(mapped.column).is_blank())
}

#[cfg(test)]
mod tests;
