//! The lists of a book as tables: pure functions of what is handed over.
//!
//! The tables of items and of movements have the headings they are read by, so that what is written out comes in again.

mod designs;
mod shopping;
mod stock;

pub use designs::{accepted, designs, prices};
pub use shopping::shopping;
pub use stock::{ItemLots, ItemMovements, items, lots, movements, stock_value, value_on};

#[cfg(test)]
mod tests;
