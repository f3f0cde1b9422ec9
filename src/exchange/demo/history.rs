//! The demo studio's movements of stock.

use super::table::Tables;
use super::{DemoMovement, DemoProblem, days_before};
use crate::studio::{Item, MovementKind};
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// Reads the movements; every one names an item that is there, and none lies before the one above it.
pub(super) fn read(today: NaiveDate, items: &[Item]) -> Result<Vec<DemoMovement>, DemoProblem> {
    let tables = Tables::read("movements.txt", include_str!("../../../assets/demo/movements.txt"))?;
    let references: BTreeSet<&str> = items.iter().map(|item| item.reference.as_str()).collect();
    let mut movements: Vec<DemoMovement> = Vec::new();
    for row in tables.rows("movement")? {
        let item = row.text("item")?;
        if !references.contains(item) {
            return Err(row.problem(format!("no item {item}")));
        }
        let date = days_before(today, row)?;
        if movements.last().is_some_and(|above| above.date > date) {
            return Err(row.problem("earlier than the row above it".to_owned()));
        }
        let kind = row.parsed("kind", "a kind of movement", MovementKind::from_name)?;
        movements.push(DemoMovement {
            item: item.to_owned(),
            date,
            kind,
            quantity: row.quantity("quantity")?,
            typed: row.text("typed")?.to_owned(),
            cost: if kind.is_lot() { Some(row.money("cost")?) } else { None },
            lot_number: row.text("lot")?.to_owned(),
            supplier: row.text("supplier")?.to_owned(),
            note: row.text("note")?.to_owned(),
        });
    }
    Ok(movements)
}
