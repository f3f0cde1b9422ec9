//! Check values published outside this project, as rows of `tests/data/*.csv`: each names its source and its basis
//! (published, computed from a published formula, or from memory).
#![allow(dead_code, unreachable_pub, clippy::unwrap_used, clippy::panic, clippy::expect_used)]

use serde_json::Value;
use std::collections::BTreeMap;

/// One check value.
#[derive(Debug, Clone)]
pub struct Row {
    /// Its id, e.g. `A-GA-20-MM`.
    pub id: String,
    /// What it is.
    pub quantity: String,
    /// Inputs, an object.
    pub inputs: Value,
    /// The expected value: a number, a text or JSON.
    pub expected: String,
    /// Where it comes from.
    pub source: String,
    /// `published-found`, `computed-from-formula`, `memory` …
    pub basis: String,
}

impl Row {
    /// An input as text, numbers as they are written.
    pub fn input(&self, name: &str) -> String {
        text(self.inputs.get(name).unwrap_or_else(|| panic!("{}: no input {name}", self.id)))
    }

    /// The expected value as JSON.
    pub fn answer(&self) -> Value {
        serde_json::from_str(&self.expected).unwrap_or_else(|_| panic!("{}: expected is not JSON", self.id))
    }
}

/// A JSON number or text as text.
pub fn text(value: &Value) -> String {
    value.as_str().map_or_else(|| value.to_string(), str::to_owned)
}

/// Every row of a file of `tests/data`, in its order.
pub fn rows(file: &str) -> Vec<Row> {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data").join(file);
    let mut reader = csv::Reader::from_path(path).unwrap();
    let records: Vec<BTreeMap<String, String>> = reader.deserialize().map(Result::unwrap).collect();
    let take = |record: &BTreeMap<String, String>, name: &str| record.get(name).cloned().unwrap_or_default();
    records
        .iter()
        .map(|record| Row {
            id: take(record, "id"),
            quantity: take(record, "quantity"),
            inputs: serde_json::from_str(&take(record, "inputs")).unwrap_or(Value::Null),
            expected: take(record, "expected"),
            source: take(record, "source"),
            basis: take(record, "basis"),
        })
        .collect()
}

/// The rows whose id begins with `prefix`; fails unless there are exactly `count`, so that none is skipped unseen.
pub fn rows_of(file: &str, prefix: &str, count: usize) -> Vec<Row> {
    let found: Vec<Row> = rows(file).into_iter().filter(|row| row.id.starts_with(prefix)).collect();
    assert_eq!(found.len(), count, "{file}: rows {prefix}");
    assert!(found.iter().all(|row| !row.source.is_empty()), "{file}: a row {prefix} has no source");
    found
}
