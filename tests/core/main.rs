//! The pure core against published values and its own laws: measures, costs and prices, stock.

#![allow(clippy::expect_used, clippy::indexing_slicing, clippy::panic, clippy::unwrap_used)]

mod batch_cost;
mod cases;
mod costing;
mod cutting;
mod kiln_plan;
mod learning;
mod measure;
mod planning;
mod stock;
mod support;
