//! Enamelwright: production and pricing manager for a small enamelling studio.
//!
//! The modules in reading order, from the ground up. Each may use those above it, never those below:
//!
//! * [`measure`]: exact numbers, money, quantities, units, gauges; what a person types and what is shown.
//! * [`studio`]: the domain, one file a noun.
//! * [`costing`]: cost, price, refires, route checks, stock value: pure functions on the domain.
//! * [`cutting`]: blanks laid out on a sheet, and what each costs: pure too.
//! * [`kiln`]: the heat of a kiln, what a day of it costs and who bears it, a day planned: pure too.
//! * [`exchange`]: design files in and out.
//! * [`book`]: the studio book, one SQLite file; the only place with SQL.
//! * [`actions`]: one function for each thing a person does; the only place that opens a transaction.
//! * [`paper`]: tags and care cards: model, layout in millimetres, PDF.
//! * [`window`] and [`command`]: the two faces. Nothing is computed in a face.

pub mod measure;
pub mod studio;

pub mod costing;

pub mod cutting;

pub mod kiln;

pub mod exchange;

pub mod book;

pub mod actions;

pub mod paper;

pub mod window;

pub mod command;
