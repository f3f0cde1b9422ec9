//! The pure core against published values and its own laws: measures, costs and prices, stock.

mod cases;
mod costing;
mod measure;
mod planning;
mod stock;
mod support;
