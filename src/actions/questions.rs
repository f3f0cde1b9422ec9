//! What the faces ask of a book. Nothing here changes it.

use crate::book::{Book, BookError, Snapshot, design, document, item, movement};
use crate::costing::stock::{self as valuation, Ledger, StockError};
use crate::measure::{Money, Quantity};
use crate::studio::{DesignId, ItemId, Movement, ValuationMethod};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// Reads everything the faces show at once. Parts that did not change since the last call on this book are shared with
/// the snapshot it gave.
pub fn snapshot(book: &Book) -> Result<Snapshot, BookError> {
    book.snapshot().map_err(|fault| fault.of_book(book.path()))
}

/// The value of an item and of the whole stock on a day: see [`crate::costing::stock`].
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct StockValue {
    /// One line an item with stock on that day, by name.
    pub lines: Vec<(ItemId, Quantity, Money)>,
    /// Their sum.
    pub total: Money,
}

/// The stock on a day by each method, from one reading of the movements.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct StockValues {
    /// First in, first out.
    pub fifo: StockValue,
    /// Moving weighted average.
    pub average: StockValue,
}

/// An item's movements in order of date then id.
pub fn movements(book: &Book, item: ItemId) -> Result<Vec<Movement>, BookError> {
    movement::of_item(book.reader(), item).map_err(|fault| fault.of_book(book.path()))
}

/// An item's movements valued by the book's method, with what is left of each lot.
pub fn ledger(book: &Book, item: ItemId) -> Result<Ledger, BookError> {
    let read = || {
        let method = document::settings(book.reader())?.valuation;
        let movements = movement::bare_of_item(book.reader(), item)?;
        valued(&movements, method)
    };
    read().map_err(|fault| fault.of_book(book.path()))
}

/// A design's photo, PNG bytes.
pub fn photo(book: &Book, id: DesignId) -> Result<Option<Vec<u8>>, BookError> {
    design::photo(book.reader(), id).map_err(|fault| fault.of_book(book.path()))
}

/// The designs that take a material from an item, by code.
pub fn item_designs(book: &Book, item: ItemId) -> Result<Vec<DesignId>, BookError> {
    design::of_item(book.reader(), item).map_err(|fault| fault.of_book(book.path()))
}

/// What the stock was worth at the end of a day.
pub fn stock_value(book: &Book, on: NaiveDate, method: ValuationMethod) -> Result<StockValue, BookError> {
    let values = values_on(book, on, &[method]).map_err(|fault| fault.of_book(book.path()))?;
    Ok(values.into_iter().next().unwrap_or_default())
}

/// What the stock was worth at the end of a day by both methods.
pub fn stock_values(book: &Book, on: NaiveDate) -> Result<StockValues, BookError> {
    let values = values_on(book, on, &[ValuationMethod::Fifo, ValuationMethod::Average])
        .map_err(|fault| fault.of_book(book.path()))?;
    let mut values = values.into_iter();
    Ok(StockValues { fifo: values.next().unwrap_or_default(), average: values.next().unwrap_or_default() })
}

fn values_on(book: &Book, on: NaiveDate, methods: &[ValuationMethod]) -> Result<Vec<StockValue>, BookError> {
    let mut ends: Vec<BTreeMap<ItemId, (Quantity, Money)>> = vec![BTreeMap::new(); methods.len()];
    movement::for_each_item(book.reader(), Some(on), |item, movements| -> Result<(), BookError> {
        for (method, ends) in methods.iter().zip(&mut ends) {
            let end = valuation::closing(movements, *method).map_err(|error| odd(&error))?;
            if !end.on_hand.is_zero() || !end.value.is_zero() {
                ends.insert(item, (end.on_hand, end.value));
            }
        }
        Ok(())
    })?;
    let names = item::names(book.reader())?;
    ends.iter()
        .map(|ends| {
            let mut value = StockValue::default();
            for (id, _) in &names {
                if let Some((quantity, worth)) = ends.get(id) {
                    value.lines.push((*id, *quantity, *worth));
                    value.total = value.total.plus(*worth).map_err(|error| BookError::TooLarge(error.to_string()))?;
                }
            }
            Ok(value)
        })
        .collect()
}

fn valued(movements: &[Movement], method: ValuationMethod) -> Result<Ledger, BookError> {
    valuation::ledger(movements, method).map_err(|error| odd(&error))
}

fn odd(error: &StockError) -> BookError {
    BookError::Odd(format!("movements that cannot be: {error}"))
}
