//! One row being read.

use super::Problem;
use crate::exchange::table::cell::{Cell, Place, Row};
use crate::exchange::table::columns::{Field, Mapping, is_unit};
use crate::exchange::table::dates;
use crate::measure::{Decimal, Money, NumberStyle, ParseProblem, Preferences, exact, parse};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// Most characters of a name or another short text, as a book takes it.
const NAME_CHARACTERS: usize = 200;

/// Most characters of a free text.
const TEXT_CHARACTERS: usize = 10_000;

/// Decimals a number of a workbook keeps; finer ones are what computing left.
const PLACES: u32 = 9;

/// Significant figures a binary number of a workbook surely has.
const FIGURES: u32 = 15;

/// A row with what has been read of it.
pub(super) struct Reading<'a> {
    row: &'a Row,
    mapping: &'a Mapping,
    preferences: &'a Preferences,
    read: BTreeMap<Field, String>,
    pub(super) problems: Vec<Problem>,
    pub(super) remarks: Vec<Problem>,
}

/// A quantity as it is written: its number and its unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Amount {
    /// A decimal with a point, or a fraction.
    pub(super) number: String,
    /// Empty for the item's own.
    pub(super) unit: String,
}

impl<'a> Reading<'a> {
    pub(super) fn new(row: &'a Row, mapping: &'a Mapping, preferences: &'a Preferences) -> Self {
        let (problems, remarks) = (Vec::new(), Vec::new());
        Self { row, mapping, preferences, read: BTreeMap::new(), problems, remarks }
    }

    /// What the rows are.
    pub(super) fn kind(&self) -> crate::exchange::table::columns::ImportKind {
        self.mapping.kind
    }

    /// The row's number.
    pub(super) fn number(&self) -> u32 {
        self.row.number
    }

    /// The texts as they were read, in the order of the mapping's columns.
    pub(super) fn texts(&self) -> Vec<String> {
        let text = |field: &Field| self.read.get(field).cloned().unwrap_or_default();
        self.mapping.columns.iter().map(|mapped| text(&mapped.field)).collect()
    }

    fn at(&self, field: Field, words: String) -> Problem {
        let mapped = self.mapping.column(field);
        let place = Place { row: self.row.number, column: mapped.map(|mapped| mapped.column) };
        Problem { place, field: Some(field), words }
    }

    /// Something is wrong with a field.
    pub(super) fn refuse(&mut self, field: Field, words: impl Into<String>) {
        let problem = self.at(field, words.into());
        self.problems.push(problem);
    }

    /// Keeps what was read of a field, to be shown.
    pub(super) fn keep(&mut self, field: Field, text: impl Into<String>) {
        self.read.insert(field, text.into());
    }

    /// Something should be known about a field.
    pub(super) fn remark(&mut self, field: Field, words: impl Into<String>) {
        let remark = self.at(field, words.into());
        self.remarks.push(remark);
    }

    /// Something stands under the field.
    pub(super) fn stands(&self, field: Field) -> bool {
        self.cell(field).is_some()
    }

    /// The field has a column.
    pub(super) fn has(&self, field: Field) -> bool {
        self.mapping.column(field).is_some()
    }

    /// The cell of a field, if it has a column and something stands there.
    fn cell(&self, field: Field) -> Option<&'a Cell> {
        let mapped = self.mapping.column(field)?;
        Some(self.row.cell(mapped.column)).filter(|cell| !cell.is_blank())
    }

    /// Text as it can be kept: one line of up to 200 characters; of a note several, up to 10,000. Empty where nothing
    /// stands or something is wrong.
    pub(super) fn text(&mut self, field: Field) -> String {
        self.text_of(field, field == Field::Note)
    }

    /// Text of up to 10,000 characters.
    pub(super) fn long_text(&mut self, field: Field) -> String {
        self.text_of(field, true)
    }

    fn text_of(&mut self, field: Field, note: bool) -> String {
        let Some(cell) = self.cell(field) else { return String::new() };
        if let Cell::Fault(words) = cell {
            self.refuse(field, format!("{words} stands there; text is accepted"));
            return String::new();
        }
        let text = cell.text().trim().to_owned();
        let long = text.chars().count();
        let odd = |letter: char| letter.is_control() && !(note && matches!(letter, '\n' | '\r' | '\t'));
        if long > if note { TEXT_CHARACTERS } else { NAME_CHARACTERS } {
            let most = if note { "10,000" } else { "200" };
            self.refuse(field, format!("a text of {long} characters; up to {most} are accepted"));
            return String::new();
        }
        if text.chars().any(odd) {
            let lines = if note { "text without control characters" } else { "text on one line" };
            self.refuse(field, format!("{text:?} stands there; {lines} is accepted"));
            return String::new();
        }
        self.keep(field, text.clone());
        text
    }

    /// One of a few words.
    pub(super) fn word<T>(&mut self, field: Field, accepted: &str, find: impl Fn(&str) -> Option<T>) -> Option<T> {
        let text = self.text(field);
        if text.is_empty() {
            return None;
        }
        let plain: Vec<String> = text.split(|letter: char| !letter.is_alphanumeric()).map(str::to_lowercase).collect();
        let plain = plain.iter().filter(|word| !word.is_empty()).cloned().collect::<Vec<_>>().join("-");
        let found = find(&plain);
        if found.is_none() {
            self.read.remove(&field);
            self.refuse(field, format!("{text:?} stands there; {accepted} is accepted"));
        }
        found
    }

    /// Yes or no; nothing is no.
    pub(super) fn flag(&mut self, field: Field) -> bool {
        if let Some(Cell::Flag(flag)) = self.cell(field) {
            self.keep(field, if *flag { "yes" } else { "no" });
            return *flag;
        }
        let flag = self.word(field, "yes or no", |word| match word {
            "yes" | "y" | "x" | "true" | "1" | "lead" | "leaded" => Some(true),
            "no" | "n" | "false" | "0" | "none" | "free" | "lead-free" => Some(false),
            _ => None,
        });
        flag.unwrap_or(false)
    }

    /// A day.
    pub(super) fn day(&mut self, field: Field) -> Option<NaiveDate> {
        let mapped = self.mapping.column(field)?;
        match dates::read_day(self.row.cell(mapped.column), self.mapping.days) {
            Ok(date) => {
                self.keep(field, date.format("%Y-%m-%d").to_string());
                Some(date)
            }
            Err(words) => {
                self.refuse(field, words);
                None
            }
        }
    }

    /// The text of a cell that holds a number, with the heading's unit where it has none of its own, and how it is to be
    /// read. A number of a workbook finer than nine decimals is rounded half-even, and told.
    fn figures(&mut self, field: Field) -> Option<(String, Preferences)> {
        let mapped = self.mapping.column(field)?;
        let (mut text, preferences) = match self.cell(field)? {
            Cell::Number(number) => {
                let kept = number_kept(*number, if matches!(field, Field::Cost | Field::Price) { 6 } else { PLACES });
                if kept != number.round_sf(FIGURES).unwrap_or(*number) {
                    self.remark(field, format!("{number} is finer than can be kept; {kept} is taken"));
                }
                (kept.to_string(), Preferences { numbers: NumberStyle::Point, ..*self.preferences })
            }
            Cell::Text(text) => (text.trim().to_owned(), *self.preferences),
            other => {
                let words = format!("{} stands there; a number is accepted", other.text());
                self.refuse(field, words);
                return None;
            }
        };
        if !mapped.unit.is_empty() && ends_bare(&text) {
            text = format!("{text} {}", mapped.unit);
        }
        Some((text, preferences))
    }

    /// Something measured, read by one of the functions of [`parse`].
    pub(super) fn measure<T>(
        &mut self,
        field: Field,
        read: impl FnOnce(&str, &Preferences) -> Result<T, ParseProblem>,
    ) -> Option<T> {
        let (text, preferences) = self.figures(field)?;
        match read(&text, &preferences) {
            Ok(value) => {
                self.keep(field, text);
                Some(value)
            }
            Err(problem) => {
                self.refuse(field, problem.to_string());
                None
            }
        }
    }

    /// Several things parted by spaces, semicolons or a sign of the field's own; each is read alone, and a unit behind
    /// the last holds for all.
    pub(super) fn several<T>(
        &mut self,
        field: Field,
        marks: &[char],
        read: impl Fn(&str, &Preferences) -> Result<T, ParseProblem>,
    ) -> Option<Vec<T>> {
        let (text, preferences) = self.figures(field)?;
        let mut parts: Vec<String> = Vec::new();
        for part in text.split(marks).map(str::trim).filter(|part| !part.is_empty()) {
            // A unit behind a space belongs to the number before it.
            match parts.last_mut().filter(|_| !part.starts_with(|first: char| first.is_numeric())) {
                Some(number) => *number = format!("{number} {part}"),
                None => parts.push(part.to_owned()),
            }
        }
        let unit = parts.last().map(|part| parted(part).1.to_owned()).unwrap_or_default();
        let read = |part: &String| {
            let whole = if ends_bare(part) && !unit.is_empty() { format!("{part} {unit}") } else { part.clone() };
            read(&whole, &preferences)
        };
        match parts.iter().map(read).collect::<Result<Vec<T>, ParseProblem>>() {
            Ok(values) => {
                self.keep(field, text);
                Some(values)
            }
            Err(problem) => {
                self.refuse(field, problem.to_string());
                None
            }
        }
    }

    /// Money, at most six decimals.
    pub(super) fn money(&mut self, field: Field) -> Option<Money> {
        let money = self.measure(field, parse::parse_money)?;
        self.keep(field, money.to_string());
        Some(money)
    }

    /// A quantity with its unit: behind it, else in the column of units, else in the heading.
    pub(super) fn amount(&mut self, field: Field) -> Option<Amount> {
        let own = self.text(Field::Unit);
        let Some((text, preferences)) = self.figures(field) else {
            if self.cell(field).is_none() {
                self.refuse(field, "nothing stands there; a quantity such as 12.5 is accepted");
            }
            return None;
        };
        // A heading's unit gives way to that of the row.
        let bare = self.mapping.column(field).is_some_and(|mapped| !mapped.unit.is_empty())
            && self.cell(field).is_some_and(|cell| ends_bare(cell.text().trim()));
        let (number, written) = parted(&text);
        let unit = match (written, own.as_str()) {
            (written, "") => written,
            ("", own) => own,
            (_, own) if bare => own,
            (written, own) if written.eq_ignore_ascii_case(own) => own,
            (written, own) => {
                self.refuse(field, format!("{text:?} is in {written}, and the unit beside it is {own}"));
                return None;
            }
        }
        .to_owned();
        if !unit.is_empty() && !is_unit(&unit) {
            let field = if written.is_empty() || bare { Field::Unit } else { field };
            self.refuse(field, format!("{unit:?} is not a unit known here; {UNITS} are accepted"));
            return None;
        }
        match parse::parse_number(number, &preferences) {
            Ok(value) => {
                let number = if number.contains(['/', '½', '¼', '¾', '⅓', '⅔', '⅛', '⅜', '⅝', '⅞']) {
                    number.to_owned()
                } else {
                    value.to_string()
                };
                self.keep(field, format!("{number} {unit}").trim_end().to_owned());
                Some(Amount { number, unit })
            }
            Err(problem) => {
                self.refuse(field, problem.to_string());
                None
            }
        }
    }
}

pub(super) const UNITS: &str = "g, kg, oz, lb, mm, cm, m, in, ft, ml, l or each";

/// A number of a workbook as it is kept.
fn number_kept(number: Decimal, places: u32) -> Decimal {
    exact::round(number.round_sf(FIGURES).unwrap_or(number), places).normalize()
}

/// The text ends in a figure, so that no unit stands behind it.
fn ends_bare(text: &str) -> bool {
    text.ends_with(|last: char| last.is_numeric())
}

/// A quantity's number and its unit.
fn parted(text: &str) -> (&str, &str) {
    let starts = |letter: char| (letter.is_alphabetic() && !letter.is_numeric()) || matches!(letter, '"' | '″' | '”');
    let at = text.find(starts).unwrap_or(text.len());
    let (number, unit) = text.split_at_checked(at).unwrap_or((text, ""));
    (number.trim(), unit.trim())
}
