//! What a person does, one function each: one transaction, one name in the history, one undo.
//!
//! [`perform`] carries out an [`Action`]; the faces build actions and show outcomes, they never see a connection.
//! Everything a person typed is checked here before it reaches the book: a refusal names the field, what it holds and
//! what would be accepted, and changes nothing.

mod account_questions;
mod action;
mod batches;
mod bench_action;
mod bench_answer;
mod bench_questions;
mod bench_time;
mod check;
mod counts;
mod cuts;
mod demo;
mod demo_bench;
mod demo_papers;
mod designs;
mod heat_limits;
mod import;
mod items;
mod jars;
mod kiln_answer;
mod kiln_check;
mod kiln_days;
mod kiln_questions;
mod kilns;
mod limits;
pub mod lists;
mod loads;
mod lots;
mod not_ahead;
mod order;
mod orders;
mod outcome;
mod paper_makings;
mod papers;
mod perform;
mod period;
mod photos;
mod piece_questions;
mod plan_ask;
mod prices;
mod questions;
mod setup;
mod stock;
mod tiles;

pub use account_questions::batch_account;
pub use action::{Action, Counted, Delivered, Reading, Receipt, Taking, WashBackCost};
pub use bench_action::{
    DoorOpened, MaterialTaken, NewBatch, PieceLost, StepDone, StepMaterials, StepMinutes, TimeSpent,
};
pub use bench_answer::{
    BenchUse, CostOfPiece, LoadOfPiece, LotInPiece, MinutesOfPiece, NeededItem, PieceOfLot, PieceStory,
};
pub use bench_questions::{
    batch, batch_heads, batch_need, batch_with_number, bench_uses, finished_pieces, learned, losses,
};
pub use check::{CheckReport, check};
pub use kiln_answer::{KilnDayAccount, LeftOut, LoadAccount, LoadLine, PlanPiece, PlanQuestion};
pub use kiln_questions::{hot_hours, kiln_days, load, load_account, load_photo, loads, meter_readings, tile_photo};
pub use loads::OVERRIDE_WORDS;
pub use order::{ActionKey, Order};
pub use outcome::{Added, Outcome, Refusal};
pub use paper_makings::{PaperStore, design_making, paper_example, paper_store, paper_subjects};
pub use perform::{import, perform, redo, undo};
pub use piece_questions::{piece_story, piece_with_number, pieces_of_lot};
pub use plan_ask::plan_ask;
pub use questions::{
    StockValue, StockValues, all_movements, attachment, correction_effect, corrections, count_preview, import_problems,
    import_shape, item_designs, landed, ledger, lot, movements, numbered_papers, order, orders, photo, picture, plans,
    shelf, snapshot, stock_value, stock_values, weigh_in_preview,
};
