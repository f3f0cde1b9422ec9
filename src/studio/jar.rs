//! Jars that stand on the scale.

use super::item::ItemId;
use super::movement::MovementId;
use crate::measure::Quantity;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// A jar's row in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct JarId(pub i64);

/// A jar with its tare.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Jar {
    /// What is in it; an item kept in grams.
    pub item: ItemId,
    /// What stands on it, unique in a book, e.g. `A3-07`.
    pub label: String,
    /// The jar with its lid and without anything in it, g, 0 or more.
    pub tare: Quantity,
    /// Set aside: it no longer holds any of its item.
    pub retired: bool,
}

/// A jar of a book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BookJar {
    /// Its row.
    pub id: JarId,
    /// The jar.
    pub jar: Jar,
    /// What it weighed last.
    pub latest: Option<Weighing>,
}

/// What the scale showed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Weighing {
    /// The day.
    pub date: NaiveDate,
    /// Jar and all, g.
    pub gross: Quantity,
    /// The count it led to.
    pub movement: Option<MovementId>,
}
