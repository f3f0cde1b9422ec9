//! Typed fields out of TOML tables, each with its place and line.

use super::DesignFileProblem;
use crate::costing::validate::{Problem, quoted};
use crate::measure::Decimal;
use crate::measure::money::MONEY_PLACES;
use crate::measure::quantity::QUANTITY_PLACES;
use std::collections::BTreeMap;
use std::ops::Range;
use toml_edit::{Item, TableLike, Value};

/// The text being read, and what was found wrong with it so far.
pub(in crate::exchange) struct Source<'a> {
    text: &'a str,
    line_starts: Vec<usize>,
    problems: Vec<DesignFileProblem>,
    lines: BTreeMap<String, usize>,
}

/// A table with its place (`step 3`; empty for the file itself) and line.
#[derive(Clone)]
pub(in crate::exchange) struct Table<'t> {
    pub(in crate::exchange) table: &'t dyn TableLike,
    pub(in crate::exchange) place: String,
    line: usize,
}

impl Table<'_> {
    pub(in crate::exchange) fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    pub(in crate::exchange) fn place_of(&self, key: &str) -> String {
        if self.place.is_empty() { key.to_owned() } else { format!("{}, {key}", self.place) }
    }
}

/// How many decimals a number may be written with.
#[derive(Debug, Clone, Copy)]
pub(in crate::exchange) enum Places {
    Money,
    Other,
}

/// What stands for a key that is not there.
#[derive(Debug, Clone, Copy)]
pub(in crate::exchange) enum Absent<T> {
    /// The key is required; this stands in its place so that reading can go on.
    Missing(T),
    /// The key is optional and this is its default.
    Default(T),
}

impl<T: Copy> Absent<T> {
    const fn value(self) -> T {
        match self {
            Self::Missing(value) | Self::Default(value) => value,
        }
    }
}

impl<'a> Source<'a> {
    pub(in crate::exchange) fn new(text: &'a str) -> Self {
        let breaks = text.bytes().enumerate().filter(|&(_, byte)| byte == b'\n').map(|(at, _)| at + 1);
        let line_starts = std::iter::once(0).chain(breaks).collect();
        Self { text, line_starts, problems: Vec::new(), lines: BTreeMap::new() }
    }

    /// The line of a byte, from 1.
    pub(in crate::exchange) fn line_at(&self, byte: usize) -> usize {
        self.line_starts.partition_point(|&start| start <= byte).max(1)
    }

    /// The key written on a line, for text that is no TOML; `file` where there is none.
    pub(in crate::exchange) fn key_on(&self, line: usize) -> String {
        let text = self.text.lines().nth(line.saturating_sub(1)).unwrap_or_default();
        let key = text.split_once('=').map_or("", |(key, _)| key.trim());
        let plain = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'_' | b'-' | b'.');
        if key.is_empty() || !key.bytes().all(plain) { "file".to_owned() } else { clipped(key) }
    }

    pub(in crate::exchange) fn tell(&mut self, line: usize, key: impl Into<String>, reason: impl Into<String>) {
        self.problems.push(DesignFileProblem { line, key: key.into(), reason: reason.into() });
    }

    /// Refuses the value of a key that was found, or that should have been.
    pub(in crate::exchange) fn refuse(&mut self, table: &Table<'_>, key: &str, reason: impl Into<String>) {
        let place = table.place_of(key);
        let line = self.lines.get(&place).copied().unwrap_or(table.line);
        self.tell(line, place, reason);
    }

    pub(in crate::exchange) fn root(table: &dyn TableLike) -> Table<'_> {
        Table { table, place: String::new(), line: 1 }
    }

    /// Adds what the ranges say about what could be read, and gives back every problem in the order of lines.
    pub(in crate::exchange) fn finish(mut self, ranges: Vec<Problem>) -> Vec<DesignFileProblem> {
        let read: Vec<String> = self.problems.iter().map(|problem| problem.key.clone()).collect();
        for Problem { place, reason } in ranges {
            if !read.iter().any(|key| follows_from(&place, key)) {
                self.tell(self.line_of(&place), place, reason);
            }
        }
        self.problems.sort_by_key(|problem| problem.line);
        self.problems
    }

    /// The line of a place, or of the nearest place around it.
    fn line_of(&self, place: &str) -> usize {
        let mut place = place;
        loop {
            if let Some(&line) = self.lines.get(place) {
                return line;
            }
            let Some((around, _)) = place.rsplit_once(", ").or_else(|| place.rsplit_once(' ')) else { return 1 };
            place = around;
        }
    }

    /// Refuses keys that are not known here.
    pub(in crate::exchange) fn known(&mut self, table: &Table<'_>, keys: &[&str]) {
        for (key, item) in table.table.iter() {
            if !keys.contains(&key) {
                let line = self.key_line(table, key, item);
                let reason = format!("unknown key; accepted here are {}", keys.join(", "));
                self.tell(line, clipped(&table.place_of(key)), reason);
            }
        }
    }

    fn key_line(&self, table: &Table<'_>, key: &str, item: &Item) -> usize {
        let key_span = table.table.get_key_value(key).and_then(|(key, _)| key.span());
        key_span.or_else(|| item.span()).map_or(table.line, |span| self.line_at(span.start))
    }

    /// A key's item, its place noted; none where it is not there, which is told when it is required.
    fn find<'t>(&mut self, table: &Table<'t>, key: &str, required: bool) -> Option<(&'t Item, String, usize)> {
        let place = table.place_of(key);
        let Some(item) = table.table.get(key).filter(|item| !item.is_none()) else {
            if required {
                self.tell(table.line, place, "is missing");
            }
            return None;
        };
        let line = self.key_line(table, key, item);
        self.lines.insert(place.clone(), line);
        Some((item, place, line))
    }

    /// A table under a key that must be there.
    pub(in crate::exchange) fn section<'t>(
        &mut self,
        table: &Table<'t>,
        key: &str,
        missing: &str,
    ) -> Option<Table<'t>> {
        let Some((item, place, line)) = self.find(table, key, false) else {
            self.tell(table.line, table.place_of(key), missing);
            return None;
        };
        let Some(found) = item.as_table_like() else {
            self.tell(line, place, format!("is {}; accepted is a table", kind_of(item)));
            return None;
        };
        Some(Table { table: found, place, line })
    }

    /// The tables of a list: `[[step]]` or `uses = [ {…} ]`; empty where the key is absent.
    pub(in crate::exchange) fn tables<'t>(&mut self, table: &Table<'t>, key: &str) -> Vec<Table<'t>> {
        let Some((item, place, line)) = self.find(table, key, false) else { return Vec::new() };
        #[allow(clippy::type_complexity)] // named once, here
        let mut found: Vec<(Option<&'t dyn TableLike>, Option<Range<usize>>)> = Vec::new();
        match item {
            Item::ArrayOfTables(list) => {
                found.extend(list.iter().map(|table| (Some(table as &dyn TableLike), table.span())));
            }
            Item::Value(Value::Array(list)) => found.extend(list.iter().map(|value| {
                let table = value.as_inline_table().map(|table| table as &dyn TableLike);
                (table, value.span())
            })),
            other => self.tell(line, place.clone(), format!("is {}; accepted is a list of tables", kind_of(other))),
        }
        let mut tables = Vec::with_capacity(found.len());
        for (index, (found, span)) in found.into_iter().enumerate() {
            let place = format!("{place} {}", index + 1);
            let line = span.map_or(line, |span| self.line_at(span.start));
            self.lines.insert(place.clone(), line);
            match found {
                Some(table) => tables.push(Table { table, place, line }),
                None => self.tell(line, place, "is no table; accepted are keys with their values in { }"),
            }
        }
        tables
    }

    /// A text.
    pub(in crate::exchange) fn text(&mut self, table: &Table<'_>, key: &str) -> Option<String> {
        let (item, place, line) = self.find(table, key, true)?;
        let text = item.as_str().map(str::to_owned);
        if text.is_none() {
            self.tell(line, place, format!("is {}; accepted is a text in quotation marks", kind_of(item)));
        }
        text
    }

    /// A text that is one of a few, turned into what it means; none where it is absent or refused.
    pub(in crate::exchange) fn choice<T>(
        &mut self,
        table: &Table<'_>,
        key: &str,
        required: bool,
        names: &[&str],
        meaning: impl Fn(&str) -> Option<T>,
    ) -> Option<T> {
        let (item, place, line) = self.find(table, key, required)?;
        let named = item.as_str().and_then(&meaning);
        if named.is_none() {
            let found = item.as_str().map_or_else(|| kind_of(item).to_owned(), quoted);
            self.tell(line, place, format!("is {found}; accepted are {}", names.join(", ")));
        }
        named
    }

    /// True or false.
    pub(in crate::exchange) fn flag(&mut self, table: &Table<'_>, key: &str, default: bool) -> bool {
        let Some((item, place, line)) = self.find(table, key, false) else { return default };
        item.as_bool().unwrap_or_else(|| {
            self.tell(line, place, format!("is {}; accepted is true or false", kind_of(item)));
            default
        })
    }

    /// A decimal.
    pub(in crate::exchange) fn decimal(
        &mut self,
        table: &Table<'_>,
        key: &str,
        places: Places,
        absent: Absent<Decimal>,
    ) -> Decimal {
        self.optional_decimal(table, key, places, matches!(absent, Absent::Missing(_)))
            .unwrap_or_else(|| absent.value())
    }

    /// A decimal, or none where it is absent or refused.
    pub(in crate::exchange) fn optional_decimal(
        &mut self,
        table: &Table<'_>,
        key: &str,
        places: Places,
        required: bool,
    ) -> Option<Decimal> {
        let (item, place, line) = self.find(table, key, required)?;
        let Some(value) = item.as_value() else {
            self.tell(line, place, format!("is {}; accepted is a number", kind_of(item)));
            return None;
        };
        self.number(value, place, line, places)
    }

    /// A whole number, from 1 on.
    pub(in crate::exchange) fn count(&mut self, table: &Table<'_>, key: &str, absent: Absent<u32>) -> u32 {
        let required = matches!(absent, Absent::Missing(_));
        let Some(value) = self.optional_decimal(table, key, Places::Other, required) else { return absent.value() };
        let whole = value.is_integer().then(|| u32::try_from(value).ok()).flatten();
        if whole.is_none() {
            let place = table.place_of(key);
            let reason = format!("{} is out of range; accepted is a whole number from 1", value.normalize());
            self.tell(self.line_of(&place), place, reason);
        }
        whole.unwrap_or_else(|| absent.value())
    }

    /// A list of decimals; those refused are left out.
    pub(in crate::exchange) fn decimals(&mut self, table: &Table<'_>, key: &str) -> Vec<Decimal> {
        let Some((item, place, line)) = self.find(table, key, false) else { return Vec::new() };
        let Some(list) = item.as_array() else {
            self.tell(line, place, format!("is {}; accepted is a list of numbers", kind_of(item)));
            return Vec::new();
        };
        let mut numbers = Vec::with_capacity(list.len());
        for (index, value) in list.iter().enumerate() {
            numbers.extend(self.number(value, format!("{place} {}", index + 1), line, Places::Other));
        }
        numbers
    }

    /// A list of pairs of decimals.
    pub(in crate::exchange) fn points(&mut self, table: &Table<'_>, key: &str) -> Vec<[Decimal; 2]> {
        let Some((item, place, line)) = self.find(table, key, true) else { return Vec::new() };
        let Some(list) = item.as_array() else {
            self.tell(line, place, format!("is {}; accepted is a list of points such as [0, 0]", kind_of(item)));
            return Vec::new();
        };
        let mut points = Vec::with_capacity(list.len());
        for (index, value) in list.iter().enumerate() {
            let place = format!("{place} {}", index + 1);
            let pair = value.as_array().filter(|pair| pair.len() == 2);
            let mut coordinates = pair.into_iter().flat_map(|pair| pair.iter());
            if let (Some(x), Some(y)) = (coordinates.next(), coordinates.next()) {
                let x = self.number(x, place.clone(), line, Places::Other);
                let y = self.number(y, place, line, Places::Other);
                points.extend(x.zip(y).map(|(x, y)| [x, y]));
            } else {
                let line = value.span().map_or(line, |span| self.line_at(span.start));
                self.tell(line, place, "is no point; accepted are two numbers such as [0, 0]");
            }
        }
        points
    }

    /// A number as it is written, never through a binary float.
    fn number(&mut self, value: &Value, place: String, line: usize, places: Places) -> Option<Decimal> {
        let written = match value {
            Value::String(text) => Some(text.value().clone()),
            Value::Integer(_) | Value::Float(_) => {
                let text = value.span().and_then(|span| self.text.get(span));
                text.map(|text| text.trim_start_matches('+').replace('_', ""))
            }
            _ => None,
        };
        // A number in a list that runs over lines has its own line.
        let line = value.span().map_or(line, |span| self.line_at(span.start)).max(line);
        self.lines.insert(place.clone(), line);
        let Some(written) = written else {
            self.tell(line, place, format!("is {}; accepted is a number", words_for(value.type_name())));
            return None;
        };
        match parse(&written, places) {
            Ok(number) => Some(number),
            Err(reason) => {
                self.tell(line, place, reason);
                None
            }
        }
    }
}

/// A decimal from its text: digits with at most one point between them, a minus sign before them.
fn parse(written: &str, places: Places) -> Result<Decimal, String> {
    let digits = written.strip_prefix('-').unwrap_or(written);
    let (whole, fraction) = digits.split_once('.').map_or((digits, None), |(whole, part)| (whole, Some(part)));
    let all_digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    if !all_digits(whole) || !fraction.is_none_or(all_digits) {
        return Err(format!(
            "{} is no plain number; accepted are digits with a decimal point, such as 12.50 (no exponent, inf or nan)",
            quoted(written)
        ));
    }
    let (most, what) = match places {
        Places::Money => (MONEY_PLACES, "money has"),
        Places::Other => (QUANTITY_PLACES, "accepted are"),
    };
    let decimals = fraction.map_or(0, str::len);
    if u32::try_from(decimals).is_ok_and(|decimals| decimals <= most) {
        let number = Decimal::from_str_exact(written);
        let mut number = number.map_err(|_| format!("{} has more digits than can be kept", quoted(written)))?;
        if number.is_zero() {
            number.set_sign_positive(true);
        }
        Ok(number)
    } else {
        Err(format!("{} has {decimals} decimals; {what} at most {most}", quoted(written)))
    }
}

/// True where a problem of the ranges only comes from one that was told when reading.
fn follows_from(place: &str, key: &str) -> bool {
    let inside = |inner: &str, outer: &str| inner.strip_prefix(outer).is_some_and(|rest| rest.starts_with(", "));
    place == key
        || inside(place, key)
        || inside(key, place)
        || (place == "step" && key.starts_with("step ") && key.ends_with(", kind"))
        || (matches!(place, "step" | "material") && key.strip_prefix(place).is_some_and(|rest| !rest.contains(',')))
        || (place == "blank, holes_mm" && key.starts_with("blank, outline"))
        || (key.starts_with(place) && place.starts_with("blank, "))
}

fn clipped(place: &str) -> String {
    const MOST: usize = 120;
    if place.chars().count() > MOST { place.chars().take(MOST).chain(['…']).collect() } else { place.to_owned() }
}

fn kind_of(item: &Item) -> &'static str {
    words_for(item.type_name())
}

fn words_for(type_name: &str) -> &'static str {
    match type_name {
        "string" => "a text",
        "integer" | "float" => "a number",
        "boolean" => "true or false",
        "datetime" => "a date or time",
        "array" | "array of tables" => "a list",
        "inline table" | "table" => "a table",
        _ => "nothing",
    }
}
