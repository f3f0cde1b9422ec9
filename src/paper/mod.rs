//! Tags, care cards, count sheets and shopping lists: what they say, where it stands in millimetres, and the PDF.
//!
//! Three pure steps, each a function of the one before:
//!
//! 1. model: [`tags::TagModel`], [`cards::CareModel`], from a design and the settings; [`count_sheet::CountSheet`],
//!    [`shopping::ShoppingList`], [`statement::Statement`], [`fair_list::FairList`], whose caller has written every
//!    figure as it shall be printed;
//! 2. layout: `layout` of each, such as [`tags::layout`], gives a [`page::Document`] of placed items with warnings;
//! 3. bytes: [`pdf::write`]; or paths for the screen: [`preview::Outliner`].
//!
//! No clock, no files, no screen: the date of a PDF is passed in, its bytes are handed back.

pub mod arrange;
pub mod batch_words;
pub mod bench_cautions;
pub mod bench_sheet;
pub mod bench_sheet_model;
pub mod calibration;
mod calibration_page;
mod card;
pub mod cards;
pub mod count_model;
pub mod count_sheet;
pub mod fair_list;
pub mod fair_model;
pub mod fonts;
pub mod kiln_page;
pub mod kiln_page_model;
mod label;
mod label_shape;
pub mod language;
mod marks;
pub mod page;
pub mod page_range;
pub mod pdf;
mod pdf_content;
mod pdf_font;
mod pdf_picture;
pub mod picture;
pub mod pinned;
pub mod placed;
pub mod preview;
pub mod printed;
mod running;
mod shaper;
pub mod sheets;
pub mod shopping;
pub mod shopping_model;
mod stack;
pub mod statement;
pub mod statement_lines;
pub mod statement_model;
mod statement_panel;
mod statement_press;
pub mod symbol;
pub mod symbol_choice;
pub mod tags;
pub mod ticket;
pub mod trade_number;
mod usual_sheets;
pub mod warning;
pub mod watch;
pub mod words;

pub use bench_sheet_model::BenchSheet;
pub use cards::{CardJob, CardStyle, CareModel, PaperSize, care_model};
pub use count_sheet::CountSheet;
pub use fair_list::FairList;
pub use fonts::Japanese;
pub use kiln_page_model::KilnPage;
pub use label::{MODULE_GOOD_MM, MODULE_LEAST_MM};
pub use language::{OwnWords, Speech};
pub use page::Document;
pub use page_range::{PageRange, PagesProblem};
pub use pdf::{Finish, Properties};
pub use shaper::Shaper;
pub use shopping::ShoppingList;
pub use shopping_model::shopping_model;
pub use statement::Statement;
pub use symbol::Symbology;
pub use symbol_choice::{SymbolChoice, SymbolProblem, SymbolWarning, choose};
pub use tags::{TagJob, TagModel, tag_model};
pub use warning::{PaperProblem, Part, Warning, WarningKind};
pub use watch::{Unwatched, Watch};
