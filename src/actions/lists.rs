//! The lists of a book that can be written out, as tables.

use super::StockValue;
use crate::book::{BookError, Snapshot};
use crate::costing::price_sheet::{PriceRow, Tickets};
use crate::costing::stock::{Ledger, ledger};
use crate::exchange::table::{Table, lists};
use crate::studio::{Item, ItemId, Movement};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// A list of a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ListOut {
    /// Items as they are described.
    Items,
    /// What is on hand and what it is worth.
    Stock,
    /// Every movement.
    Movements,
    /// Every lot, and what is left of it.
    Lots,
    /// What the stock was worth at the end of a day.
    Value,
    /// Designs.
    Designs,
    /// What every design costs and is sold at, as it is priced now.
    Prices,
    /// Price lists that were accepted.
    Accepted,
    /// All of them but the value on a day.
    Book,
}

impl ListOut {
    /// Every list, in the order they are offered.
    pub const ALL: [Self; 9] = [
        Self::Items,
        Self::Stock,
        Self::Movements,
        Self::Lots,
        Self::Value,
        Self::Designs,
        Self::Prices,
        Self::Accepted,
        Self::Book,
    ];

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Items => "items",
            Self::Stock => "stock",
            Self::Movements => "movements",
            Self::Lots => "lots",
            Self::Value => "value on a day",
            Self::Designs => "designs",
            Self::Prices => "prices",
            Self::Accepted => "accepted prices",
            Self::Book => "the whole book",
        }
    }

    /// It is made of the movements of all items: see [`super::all_movements`].
    pub const fn needs_movements(self) -> bool {
        matches!(self, Self::Movements | Self::Lots | Self::Book)
    }
}

/// What lists are made of.
#[derive(Debug, Clone, Copy)]
pub struct ListSource<'a> {
    /// The book as it is.
    pub snapshot: &'a Snapshot,
    /// Every movement of every item where the list needs them, as [`super::all_movements`] gives them.
    pub movements: &'a [(ItemId, Vec<Movement>)],
    /// The stock on a day, for [`ListOut::Value`].
    pub value: Option<(NaiveDate, &'a StockValue)>,
}

/// A list as tables; one, but for the whole book.
///
/// # Errors
/// When a design's figures are too large to compute, or the book holds movements that cannot be.
pub fn tables(list: ListOut, source: &ListSource<'_>) -> Result<Vec<Table>, BookError> {
    let snapshot = source.snapshot;
    let currency = snapshot.settings.currency;
    Ok(match list {
        ListOut::Items => vec![lists::items(snapshot.stock.iter().map(|row| &row.item))],
        ListOut::Stock => vec![lists::stock_value(&snapshot.stock, currency)],
        ListOut::Movements => {
            let all: Vec<lists::ItemMovements<'_>> =
                moved(source).map(|(item, movements)| lists::ItemMovements { item, movements }).collect();
            vec![lists::movements(&all, currency)]
        }
        ListOut::Lots => vec![lots(source)?],
        ListOut::Value => source.value.map(|(on, value)| value_on(snapshot, on, value)).into_iter().collect(),
        ListOut::Designs => vec![lists::designs(&snapshot.designs)],
        ListOut::Prices => vec![prices(snapshot)?],
        ListOut::Accepted => vec![lists::accepted(&snapshot.price_lists, currency)],
        ListOut::Book => {
            let parts = [
                ListOut::Items,
                ListOut::Stock,
                ListOut::Movements,
                ListOut::Lots,
                ListOut::Designs,
                ListOut::Prices,
                ListOut::Accepted,
            ];
            let mut all = Vec::with_capacity(parts.len());
            for part in parts {
                all.extend(tables(part, source)?);
            }
            all
        }
    })
}

/// The items that moved, with their movements.
fn moved<'a>(source: &ListSource<'a>) -> impl Iterator<Item = (&'a Item, &'a [Movement])> {
    let items: BTreeMap<ItemId, &'a Item> = source.snapshot.stock.iter().map(|row| (row.id, &row.item)).collect();
    source.movements.iter().filter_map(move |(id, movements)| Some((*items.get(id)?, movements.as_slice())))
}

fn lots(source: &ListSource<'_>) -> Result<Table, BookError> {
    let settings = &source.snapshot.settings;
    let mut ledgers: Vec<(&Item, &[Movement], Ledger)> = Vec::new();
    for (item, movements) in moved(source) {
        let ledger = ledger(movements, settings.valuation)
            .map_err(|error| BookError::Odd(format!("movements of {} that cannot be: {error}", item.name)))?;
        ledgers.push((item, movements, ledger));
    }
    let all: Vec<lists::ItemLots<'_>> =
        ledgers.iter().map(|(item, movements, ledger)| lists::ItemLots { item, movements, ledger }).collect();
    Ok(lists::lots(&all, settings.currency))
}

fn value_on(snapshot: &Snapshot, on: NaiveDate, value: &StockValue) -> Table {
    let items: BTreeMap<ItemId, &Item> = snapshot.stock.iter().map(|row| (row.id, &row.item)).collect();
    let lines: Vec<_> =
        value.lines.iter().filter_map(|(id, held, worth)| Some((*items.get(id)?, *held, *worth))).collect();
    lists::value_on(&lines, value.total, on, snapshot.settings.currency)
}

fn prices(snapshot: &Snapshot) -> Result<Table, BookError> {
    let priced: Vec<PriceRow> = snapshot
        .designs
        .iter()
        .filter(|book| !book.retired)
        .map(|book| Ok(PriceRow::new(book.id, snapshot.resolved(book)?)))
        .collect::<Result<_, crate::measure::TooLarge>>()
        .map_err(|error| BookError::TooLarge(error.to_string()))?;
    Ok(lists::prices(&priced, Tickets::Common, snapshot.settings.currency))
}
