//! JSON with a documented schema: [`SCHEMA`].

use super::csv::money;
use crate::exchange::table::made::{ColumnKind, Table, Value};
use serde_json::{Value as Json, json};

/// The JSON Schema (draft 2020-12) of what [`json()`] writes.
pub const SCHEMA: &str = include_str!("schema.json");

/// Tables as JSON: numbers and amounts are strings of the exact decimal, days are `2026-03-14`, nothing is `null`.
pub fn json(tables: &[Table]) -> Vec<u8> {
    let tables: Vec<Json> = tables
        .iter()
        .map(|table| {
            let columns: Vec<Json> = table
                .columns
                .iter()
                .map(|column| json!({ "heading": column.heading, "kind": column.kind.name() }))
                .collect();
            let rows: Vec<Json> = table.rows.iter().map(|row| cells(table, row)).collect();
            json!({ "name": table.name, "columns": columns, "rows": rows })
        })
        .collect();
    let mut text = format!("{:#}", json!({ "format": "enamelwright-tables", "version": 1, "tables": tables }));
    text.push('\n');
    text.into_bytes()
}

fn cells(table: &Table, row: &[Value]) -> Json {
    let nothing = std::iter::repeat(&Value::Empty);
    let cells = table.columns.iter().zip(row.iter().chain(nothing));
    Json::Array(cells.map(|(column, value)| cell(column.kind, value)).collect())
}

fn cell(kind: ColumnKind, value: &Value) -> Json {
    match (value, kind) {
        (Value::Empty, _) => Json::Null,
        (Value::Text(text), _) => Json::String(text.clone()),
        (Value::Number(amount), ColumnKind::Money { digits }) => Json::String(money(*amount, digits)),
        (Value::Number(number), _) => Json::String(number.normalize().to_string()),
        (Value::Date(date), _) => Json::String(date.format("%Y-%m-%d").to_string()),
        (Value::Flag(flag), _) => Json::Bool(*flag),
    }
}
