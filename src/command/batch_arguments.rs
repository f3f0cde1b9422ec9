//! What can be asked about batches, finished pieces and what batches teach on the command line.

use super::arguments::{Form, date, design_code};
use super::bench::batch_number;
use crate::studio::DesignCode;
use chrono::NaiveDate;
use clap::{Args, Subcommand, ValueEnum};

/// What is said of the names of pieces.
const PIECES: &str = "Pieces are named by their place in the batch, as `batch show` does: 1-6,9";

/// `batch …`.
#[derive(Debug, Subcommand)]
pub enum BatchTask {
    /// Begin a batch of a design; says what is short and what to buy
    #[command(after_help = "A commission is a batch of one.\n\
                            Example: enamelwright batch start LN-DROP --pieces 12")]
    Start(BatchStart),
    /// Batches, newest first
    #[command(after_help = "Example: enamelwright batch list --state all")]
    List(BatchList),
    /// Where a batch's pieces are, and what it costs so far with its variances
    #[command(after_help = "Example: enamelwright batch show 4")]
    Show(BatchShow),
    /// Do a step for pieces that wait for it: time, materials, losses, and on
    #[command(
        after_help = "STEP counts from 1 along the route. Without --pieces all that wait for it. What --used does \
                            not name is taken as planned. A firing is done by `kiln log`.\n\
                            Heat, dust, lead, acid: the maker's safety data sheet and local rules come first.\n\
                            Example: enamelwright batch step 4 2 --minutes 35 --used counter-slate=12.5g --lost 3:chipped\n\
                            Example: enamelwright batch step 4 5 --pieces 2 --back-to 4 --why \"grit in the coat\""
    )]
    Step(Box<BatchStep>),
    /// Write down that pieces were lost
    #[command(after_help = "Example: enamelwright batch lose 4 2,5 --cause dropped")]
    Lose(BatchLose),
    /// Finish pieces that passed every step: each gets a number
    #[command(after_help = "Without --pieces all that are through the route.\n\
                            Example: enamelwright batch finish 4 --seconds 2,5")]
    Finish(BatchFinish),
    /// Make a batch of its own of some pieces
    #[command(after_help = "Example: enamelwright batch split 4 7-12 --name \"Lantern drop, matt\"")]
    Split(BatchSplit),
    /// Put all pieces at work of one batch into another of the same route
    #[command(after_help = "Example: enamelwright batch merge 5 4")]
    Merge(BatchMerge),
    /// Give a batch up: what it used is written off with its pieces
    #[command(after_help = "Example: enamelwright batch abandon 4 --why \"the shop closed\"")]
    Abandon(BatchAbandon),
    /// Write hands-on minutes down for a step
    #[command(
        after_help = "MINUTES as people write them: 35, 1:20:00, \"1 h 20 min\". One sitting at several batches \
                            is shared by their pieces.\n\
                            Example: enamelwright batch time 4 2 35 --also 5:2"
    )]
    Time(BatchTime),
}

/// `batch start`.
#[derive(Debug, Args)]
pub struct BatchStart {
    /// The design's code
    #[arg(value_parser = design_code)]
    pub design: DesignCode,
    /// Pieces to begin, up to 1,000
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=1000))]
    pub pieces: u32,
    /// The day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// What it is called; without it, the design's name
    #[arg(long, value_name = "NAME", default_value = "", hide_default_value = true)]
    pub name: String,
    /// Anything else, such as who a commission is for
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    pub note: String,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// Which batches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum StateAsked {
    /// Pieces are at work
    #[default]
    Open,
    /// No piece is at work any more
    Finished,
    /// Given up
    Abandoned,
    /// All of them
    All,
}

/// `batch list`.
#[derive(Debug, Args)]
pub struct BatchList {
    /// Which batches
    #[arg(long, value_enum, default_value_t)]
    pub state: StateAsked,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `batch show`.
#[derive(Debug, Args)]
pub struct BatchShow {
    /// The batch's number
    #[arg(value_parser = batch_number)]
    pub number: u32,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `batch step`.
#[derive(Debug, Args)]
pub struct BatchStep {
    /// The batch's number
    #[arg(value_parser = batch_number)]
    pub number: u32,
    /// The step, from 1
    #[arg(value_parser = clap::value_parser!(u32).range(1..))]
    pub step: u32,
    #[arg(long, value_name = "PIECES", help = PIECES)]
    /// The pieces
    pub pieces: Option<String>,
    /// Minutes it took; without it, as planned
    #[arg(long, value_name = "MINUTES", conflicts_with = "timed")]
    pub minutes: Option<String>,
    /// Its minutes were written down before, by the timer or `batch time`
    #[arg(long)]
    pub timed: bool,
    /// What was weighed or counted out: the material's id, name or item, and how much; may be given several times
    #[arg(long, value_name = "MATERIAL=QUANTITY")]
    pub used: Vec<String>,
    /// What of it was reclaimed and went back into its jar; may be given several times
    #[arg(long, value_name = "MATERIAL=QUANTITY", requires = "used")]
    pub back: Vec<String>,
    /// Pieces lost in it, and of what; may be given several times
    #[arg(long, value_name = "PIECES:CAUSE")]
    pub lost: Vec<String>,
    /// The losses are far outside the usual
    #[arg(long, requires = "lost")]
    pub abnormal: bool,
    /// Leave the step out for these pieces
    #[arg(long, conflicts_with_all = ["minutes", "timed", "used", "back", "lost", "back_to"])]
    pub skip: bool,
    /// Send these pieces back to an earlier step
    #[arg(long, value_name = "STEP", value_parser = clap::value_parser!(u32).range(1..),
          conflicts_with_all = ["minutes", "timed", "used", "back", "lost"])]
    pub back_to: Option<u32>,
    /// Why it is left out or sent back
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    pub why: String,
    /// The day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `batch lose`.
#[derive(Debug, Args)]
pub struct BatchLose {
    /// The batch's number
    #[arg(value_parser = batch_number)]
    pub number: u32,
    #[arg(help = PIECES)]
    /// The pieces
    pub pieces: String,
    /// Of what
    #[arg(long, value_enum)]
    pub cause: CauseName,
    /// Far outside the usual: kept out of the cost of the good pieces
    #[arg(long)]
    pub abnormal: bool,
    /// Anything else
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    pub note: String,
    /// The day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `batch finish`.
#[derive(Debug, Args)]
pub struct BatchFinish {
    /// The batch's number
    #[arg(value_parser = batch_number)]
    pub number: u32,
    #[arg(long, value_name = "PIECES", help = PIECES)]
    /// The pieces
    pub pieces: Option<String>,
    /// Which of them are seconds, by place
    #[arg(long, value_name = "PIECES")]
    pub seconds: Option<String>,
    /// The day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `batch split`.
#[derive(Debug, Args)]
pub struct BatchSplit {
    /// The batch's number
    #[arg(value_parser = batch_number)]
    pub number: u32,
    #[arg(help = PIECES)]
    /// The pieces
    pub pieces: String,
    /// What the new batch is called; without it, as the batch
    #[arg(long, value_name = "NAME", default_value = "", hide_default_value = true)]
    pub name: String,
    /// The day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `batch merge`.
#[derive(Debug, Args)]
pub struct BatchMerge {
    /// The batch that ends, by number
    #[arg(value_parser = batch_number)]
    pub from: u32,
    /// The batch its pieces go to, by number
    #[arg(value_parser = batch_number)]
    pub into: u32,
    /// The day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `batch abandon`.
#[derive(Debug, Args)]
pub struct BatchAbandon {
    /// The batch's number
    #[arg(value_parser = batch_number)]
    pub number: u32,
    /// Why
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    pub why: String,
    /// The day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `batch time`.
#[derive(Debug, Args)]
pub struct BatchTime {
    /// The batch's number
    #[arg(value_parser = batch_number)]
    pub number: u32,
    /// The step, from 1
    #[arg(value_parser = clap::value_parser!(u32).range(1..))]
    pub step: u32,
    /// Minutes
    pub minutes: String,
    /// Another batch and step the same sitting served; may be given several times
    #[arg(long, value_name = "NUMBER:STEP")]
    pub also: Vec<String>,
    /// The day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// Why a piece was lost.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum CauseName {
    /// The glass cracked
    Cracked,
    /// The glass chipped
    Chipped,
    /// Pits or bubbles
    Pitted,
    /// Over-fired
    BurntOut,
    /// The metal warped
    Warped,
    /// A soldered joint let go
    SolderLetGo,
    /// Dropped
    Dropped,
    /// Anything else
    Other,
}

impl From<CauseName> for crate::studio::LossCause {
    fn from(name: CauseName) -> Self {
        match name {
            CauseName::Cracked => Self::Cracked,
            CauseName::Chipped => Self::Chipped,
            CauseName::Pitted => Self::Pitted,
            CauseName::BurntOut => Self::BurntOut,
            CauseName::Warped => Self::Warped,
            CauseName::SolderLetGo => Self::SolderLetGo,
            CauseName::Dropped => Self::Dropped,
            CauseName::Other => Self::Other,
        }
    }
}

/// `piece …`.
#[derive(Debug, Subcommand)]
pub enum PieceTask {
    /// Finished pieces, newest first
    #[command(after_help = "Example: enamelwright piece list --from 2026-01-01")]
    List(PieceList),
    /// A piece from its beginning: batches, loads, lots, minutes, cost
    #[command(after_help = "Example: enamelwright piece show LN-DROP-0017")]
    Show(PieceShow),
}

/// `piece list`.
#[derive(Debug, Args)]
pub struct PieceList {
    /// Finished on or after this day
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub from: Option<NaiveDate>,
    /// Finished on or before this day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub to: Option<NaiveDate>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `piece show`.
#[derive(Debug, Args)]
pub struct PieceShow {
    /// The piece's number
    pub number: String,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `learn`.
#[derive(Debug, Args)]
pub struct Learn {
    /// The design's code
    #[arg(value_parser = design_code)]
    pub design: DesignCode,
    /// Take this proposal into the design, by its number in the list
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    pub accept: Option<u32>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}
