//! The studio book: one SQLite file. The only place with SQL.
//!
//! * `opened`: making, opening and closing a book; `lock`, `connection`, `inspection` and `migration` serve it.
//! * `change`: one transaction in the making, and reading inside or outside of it.
//! * `item`, `movement`, `correction`, `purchase`, `jar`, `cut`, `import_shape`, `item_state`,
//!   `kiln`, `load`, `batch`, `bench_entry`, `timer`, `tile`, `photo`, `paper_design`, `printing`, `wording`, `design`, `price_list`, `sheet`, `document`: a noun each, the SQL
//!   beside the Rust that binds it.
//! * `history`: actions, their keys, undo and redo.
//! * [`snapshot`] and `view`: everything the faces show, read in one go.
//! * [`backup`]: dated copies and how one is put back.
//! * `number`: exact numbers in and out.
//!
//! Facts are stored; what stock is worth is computed from them by [`crate::costing::stock`]. Only what a list must show
//! at once is kept beside them, in `item_state`.

pub mod backup;
pub(crate) mod batch;
pub(crate) mod bench_entry;
mod change;
mod connection;
pub(crate) mod correction;
pub(crate) mod cut;
pub(crate) mod design;
pub(crate) mod document;
pub mod error;
pub(crate) mod history;
pub(crate) mod import_shape;
mod inspection;
pub(crate) mod item;
pub(crate) mod item_state;
pub(crate) mod jar;
pub(crate) mod kiln;
pub(crate) mod load;
mod lock;
mod migration;
pub(crate) mod movement;
mod number;
pub(crate) mod on_paper;
mod opened;
pub(crate) mod paper_design;
mod photo;
pub(crate) mod price_list;
pub(crate) mod printing;
pub(crate) mod purchase;
pub(crate) mod reclaimed;
pub(crate) mod sheet;
pub mod snapshot;
pub(crate) mod tile;
pub(crate) mod timer;
mod view;
pub(crate) mod wording;

pub use backup::BackupFile;
pub(crate) use change::{Change, Reader};
pub use connection::APPLICATION_ID;
pub use error::BookError;
pub use history::UNDO_REACH;
pub use migration::KNOWN_VERSION;
pub use opened::{Access, Book};
pub use snapshot::{HistoryEntry, Snapshot, StockRow};
pub use wording::Numbered;
