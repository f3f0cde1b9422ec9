//! The pure core against published values and its own laws: measures, costs and prices, stock.

mod cases;
mod costing;
mod cutting;
mod measure;
mod stock;
mod support;
