//! What a person does, one function each: one transaction, one name in the history, one undo.
//!
//! [`perform`] carries out an [`Action`]; the faces build actions and show outcomes, they never see a connection.
//! Everything a person typed is checked here before it reaches the book: a refusal names the field, what it holds and
//! what would be accepted, and changes nothing.

mod action;
mod batches;
mod bench_action;
mod bench_time;
mod check;
mod counts;
mod cuts;
mod demo;
mod designs;
mod import;
mod items;
mod jars;
mod kilns;
mod limits;
pub mod lists;
mod loads;
mod lots;
mod order;
mod orders;
mod outcome;
mod papers;
mod perform;
mod period;
mod prices;
mod questions;
mod setup;
mod stock;
mod tiles;

pub use action::{Action, Counted, Delivered, Reading, Receipt, Taking, WashBackCost};
pub use bench_action::{
    DoorOpened, MaterialTaken, NewBatch, PieceLost, StepDone, StepMaterials, StepMinutes, TimeSpent,
};
pub use check::{CheckReport, check};
pub use order::{ActionKey, Order};
pub use outcome::{Added, Outcome, Refusal};
pub use perform::{import, perform, redo, undo};
pub use questions::{
    StockValue, StockValues, all_movements, attachment, correction_effect, corrections, count_preview, import_problems,
    import_shape, item_designs, landed, ledger, lot, movements, numbered_papers, order, orders, photo, plans, shelf,
    snapshot, stock_value, stock_values, weigh_in_preview,
};
