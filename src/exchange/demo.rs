//! The demo studio: an invented enamelist's book, so that every page has something to show on the first day.
//!
//! The tables and design files under `assets/demo` are part of the program. Days in them are counted back from the day
//! the studio is loaded, so that it never looks old.

pub mod bench;
mod designs;
mod history;
pub mod papers;
mod prices;
mod stock;
mod studio;
mod table;

use crate::measure::{Decimal, Money, Quantity};
use crate::studio::{
    ChannelId, Design, DesignCode, Follows, Item, LabelSheet, MaterialId, MovementKind, Settings, StudioRates,
};
use chrono::{Days, NaiveDate};

/// Everything a demo book is filled with.
#[derive(Debug, Clone, PartialEq)]
pub struct DemoStudio {
    /// Setup, with a fair soon after the day of loading.
    pub settings: Settings,
    /// Rates and channels.
    pub rates: StudioRates,
    /// Items of stock; references are unique.
    pub items: Vec<Item>,
    /// Jars that stand on the scale; labels are unique.
    pub jars: Vec<DemoJar>,
    /// Movements in order of date; those of one day are in the order they happened.
    pub movements: Vec<DemoMovement>,
    /// Designs; codes are unique.
    pub designs: Vec<DemoDesign>,
    /// Earlier accepted price lists, oldest first.
    pub price_lists: Vec<DemoPriceList>,
    /// Label sheets; names are unique.
    pub sheets: Vec<LabelSheet>,
    /// What happens at its bench.
    pub bench: bench::DemoBench,
    /// Papers that went out, oldest first.
    pub papers: Vec<papers::DemoPaper>,
}

/// A movement of stock that names its item by reference.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DemoMovement {
    /// The item's reference.
    pub item: String,
    /// The day.
    pub date: NaiveDate,
    /// What it does.
    pub kind: MovementKind,
    /// In the item's unit; see [`MovementKind`] for its meaning.
    pub quantity: Quantity,
    /// As it was typed, e.g. `8 oz`.
    pub typed: String,
    /// Receipts: the whole landed cost. Others: none.
    pub cost: Option<Money>,
    /// Receipts: the lot number.
    pub lot_number: String,
    /// Receipts and returns: the supplier.
    pub supplier: String,
    /// Why.
    pub note: String,
}

/// A jar that names its item by reference.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DemoJar {
    /// What stands on it.
    pub label: String,
    /// The item's reference; kept in grams.
    pub item: String,
    /// The empty jar, g.
    pub tare: Quantity,
}

/// A design and what it takes from the studio.
#[derive(Debug, Clone, PartialEq)]
pub struct DemoDesign {
    /// The design with its own figures.
    pub design: Design,
    /// What it follows; its `materials` are empty here and stand in `links` instead, by reference.
    pub follows: Follows,
    /// Materials taken from stock, with the reference of their item.
    pub links: Vec<(MaterialId, String)>,
    /// Notes.
    pub notes: String,
}

/// An accepted price list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DemoPriceList {
    /// The day its tickets hold from.
    pub date: NaiveDate,
    /// Its name.
    pub name: String,
    /// Its lines, by design code then channel order.
    pub lines: Vec<DemoPriceLine>,
}

/// A ticket of a price list that names its design by code.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DemoPriceLine {
    /// The design's code.
    pub code: DesignCode,
    /// The design's name.
    pub name: String,
    /// The channel.
    pub channel: ChannelId,
    /// The channel's name.
    pub channel_name: String,
    /// What the ticket shows.
    pub ticket: Decimal,
    /// Full cost per good piece on that day.
    pub full_cost: Money,
    /// The ticket is the common ticket of the retail channels.
    pub common: bool,
}

/// A line of the demo studio's files that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("demo studio, {file}, line {line}: {reason}")]
pub struct DemoProblem {
    /// The file under `assets/demo`.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// What is wrong with it.
    pub reason: String,
}

/// The demo studio as it is when it is loaded on `today`.
pub fn demo(today: NaiveDate) -> Result<DemoStudio, DemoProblem> {
    let setup = studio::read(today)?;
    let (items, jars) = stock::read()?;
    let movements = history::read(today, &items)?;
    let designs = designs::read(&setup.designs, &setup.rates, &items)?;
    let price_lists = prices::read(today, &designs, &setup.rates)?;
    Ok(DemoStudio {
        settings: setup.settings,
        rates: setup.rates,
        items,
        jars,
        movements,
        designs,
        price_lists,
        sheets: setup.sheets,
        bench: bench::read(today)?,
        papers: papers::read(today)?,
    })
}

/// The day so many days before `today`.
fn days_before(today: NaiveDate, row: &table::Row) -> Result<NaiveDate, DemoProblem> {
    let days = row.whole("days ago")?;
    today
        .checked_sub_days(Days::new(u64::from(days)))
        .ok_or_else(|| row.problem(format!("{days} days before {today} is not a date")))
}

#[cfg(test)]
mod tests;
