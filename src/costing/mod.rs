//! What a piece costs, what to ask for it, what the stock is worth, what to be careful of: pure functions on
//! [`crate::studio`]. The written method (sections are named in each file) is the specification of every number.

pub mod accept;
pub mod accepted;
pub mod answer;
pub mod batch;
pub mod buying_words;
pub mod cautions;
pub mod correction;
pub mod counting;
pub mod coverage;
pub mod cut;
pub mod delivery;
pub mod effect;
pub mod explain;
pub mod firing_clock;
pub mod geometry;
pub mod jars;
pub mod landed;
pub mod learning;
pub mod load_check;
pub mod load_limits;
pub mod order_quantity;
pub mod paper_sums;
pub mod piece;
pub mod planning;
pub mod points;
pub mod price;
pub mod price_sheet;
pub mod rates;
pub mod reason;
pub mod reclaim;
pub mod refire;
pub mod resolve;
pub mod running_out;
#[cfg(test)]
pub(crate) mod samples;
pub mod share;
pub mod shopping;
pub mod statistics;
pub mod stock;
pub mod suppose;
pub mod tile_of_load;
pub mod tile_search;
pub mod trace;
pub mod validate;
pub mod weekly_use;
pub mod weigh;

pub use accepted::{Standing, standing};
pub use answer::{Costing, costing, costing_with, to_json};
pub use cautions::{Caution, CautionCode, Level};
pub use geometry::BlankGeometry;
pub use piece::{CostError, MaterialLine, PieceCost, StepCost, piece_cost, piece_cost_with, with_pieces};
pub use price::{ChannelPrice, CommonTicket, PriceError, Priced};
pub use validate::{Problem, validate};
