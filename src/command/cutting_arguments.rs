//! What can be asked about cutting blanks from sheet on the command line.

use super::arguments::{Form, date};
use crate::cutting::Turn;
use chrono::NaiveDate;
use clap::{Args, ValueEnum};

/// `stock nest`.
#[derive(Debug, Args)]
pub struct Nest {
    /// The sheet's reference
    pub sheet: String,
    /// A blank's reference, or an outline such as "disc 30" (mm), and how many; may be given several times
    #[arg(long, value_name = "BLANK[:QUANTITY]", required = true)]
    pub blank: Vec<String>,
    /// Size of the sheet, where its item does not say it
    #[arg(long, value_name = "LENGTH", num_args = 2)]
    pub size: Option<Vec<String>>,
    /// What the saw takes between two blanks
    #[arg(long, value_name = "LENGTH", default_value = "0.5mm")]
    pub kerf: String,
    /// What stays free along every edge
    #[arg(long, value_name = "LENGTH", default_value = "2mm")]
    pub margin: String,
    /// The shorter side of the smallest off-cut worth keeping
    #[arg(long, value_name = "LENGTH", default_value = "20mm")]
    pub off_cut: String,
    /// How blanks may be turned
    #[arg(long, value_enum, default_value_t = TurnName::Any)]
    pub turn: TurnName,
    /// Whole sets: QUANTITY is how many of each are in a set
    #[arg(long)]
    pub sets: bool,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `stock cut`.
#[derive(Debug, Args)]
pub struct CutTask {
    /// The sheet's reference
    pub sheet: String,
    /// How many sheets were cut
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=10_000))]
    pub sheets: u32,
    /// A blank's reference and how many of all sheets; may be given several times
    #[arg(long, value_name = "REFERENCE:QUANTITY", required = true)]
    pub blank: Vec<String>,
    /// An off-cut that is kept, as an item of sheet with a size, and how many; may be given several times
    #[arg(long, value_name = "REFERENCE:QUANTITY")]
    pub off_cut: Vec<String>,
    /// Size of one sheet, where its item does not say it
    #[arg(long, value_name = "LENGTH", num_args = 2)]
    pub size: Option<Vec<String>>,
    /// Time at the bench, e.g. 45 or "1 h 20 min"
    #[arg(long, value_name = "TIME")]
    pub bench_minutes: Option<String>,
    /// The blanks bear the bench time at the studio's wage
    #[arg(long, requires = "bench_minutes")]
    pub wage: bool,
    /// The scrap keeps its part of the cost: it is sold or melted again
    #[arg(long)]
    pub scrap_keeps_its_part: bool,
    /// The day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// Anything else
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    pub note: String,
    /// Only show what it would do
    #[arg(long)]
    pub preview: bool,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// How blanks may be turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum TurnName {
    /// By any angle
    Any,
    /// By quarter turns
    Quarters,
    /// Head to tail
    HeadToTail,
    /// As drawn
    AsDrawn,
}

impl From<TurnName> for Turn {
    fn from(name: TurnName) -> Self {
        match name {
            TurnName::Any => Self::Free,
            TurnName::Quarters => Self::QuarterTurns,
            TurnName::HeadToTail => Self::HalfTurns,
            TurnName::AsDrawn => Self::AsDrawn,
        }
    }
}
