//! What can be asked about lots, closed periods and files of movements on the command line.

use super::arguments::{Form, date};
use super::stock_arguments::{Method, Take};
use chrono::NaiveDate;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// `stock import`.
#[derive(Debug, Args)]
pub struct Import {
    /// The file: comma-separated values in UTF-8, XLSX or ODS
    pub file: PathBuf,
    /// The sheet of a workbook; without it, the first with headings that are known
    #[arg(long, value_name = "NAME")]
    pub sheet: Option<String>,
    /// Only show what would be brought in
    #[arg(long)]
    pub preview: bool,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// A list that can be written out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ListName {
    /// Items as they are described; comes in again in the window
    Items,
    /// What is on hand and what it is worth
    Stock,
    /// Every movement; comes in again with `stock import`
    Movements,
    /// Every lot, and what is left of it
    Lots,
    /// What the stock was worth at the end of a day
    Value,
    /// Designs
    Designs,
    /// What every design costs and is sold at
    Prices,
    /// Tickets of all accepted price lists
    Accepted,
    /// All of these but the value on a day
    Book,
}

/// `stock export`.
#[derive(Debug, Args)]
pub struct Export {
    /// The list
    #[arg(value_enum)]
    pub list: ListName,
    /// The file to write; its name ends in .csv, .xlsx or .json
    #[arg(long, value_name = "FILE")]
    pub out: PathBuf,
    /// The day of the list `value`; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub on: Option<NaiveDate>,
    /// How issues are costed in the list `value`; without it, as the book does
    #[arg(long, value_enum)]
    pub method: Option<Method>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `stock wash-back`.
#[derive(Debug, Args)]
pub struct WashBack {
    /// What comes in
    #[command(flatten)]
    pub take: Take,
    /// What all of it is taken in at; without it and --from, nothing
    #[arg(long, value_name = "AMOUNT", conflicts_with = "from")]
    pub cost: Option<String>,
    /// The item it was reclaimed from, by reference: it is taken in at what that costs
    #[arg(long, value_name = "REFERENCE")]
    pub from: Option<String>,
}

/// `stock trace`.
#[derive(Debug, Args)]
pub struct Trace {
    /// The item's reference
    pub reference: String,
    /// Only this lot, by the number of its movement in `stock show`
    #[arg(long, value_name = "ID")]
    pub lot: Option<i64>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `stock correct`.
#[derive(Debug, Args)]
pub struct Correct {
    /// The lot, by the number of its receipt in `stock show`
    pub lot: i64,
    /// What the whole lot cost after all, landed
    pub cost: String,
    /// The day of the correction; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// Why
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    pub note: String,
    /// Only show what would move
    #[arg(long)]
    pub preview: bool,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `stock close`.
#[derive(Debug, Args)]
pub struct Close {
    /// The last day of the period to close
    #[arg(value_name = "YYYY-MM-DD", value_parser = date, required_unless_present = "open")]
    pub until: Option<NaiveDate>,
    /// Open the closed period again
    #[arg(long, conflicts_with = "until")]
    pub open: bool,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `stock jar`.
#[derive(Debug, Args)]
pub struct JarTask {
    /// What stands on the jar, unique in the book, e.g. A3-07
    pub label: String,
    /// The reference of what is in it
    pub reference: String,
    /// The jar with its lid and without anything in it, e.g. 82g
    pub tare: String,
    /// The jar no longer holds any of it
    #[arg(long)]
    pub aside: bool,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `stock weigh`.
#[derive(Debug, Args)]
pub struct Weigh {
    /// A jar's label, then what it weighs with its lid and all; more such pairs after it
    #[arg(value_names = ["JAR", "WEIGHT"], num_args = 2.., required = true)]
    pub readings: Vec<String>,
    /// The day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// Why it differs; needed where the difference is large
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    pub cause: String,
    /// Only show what would change
    #[arg(long)]
    pub preview: bool,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}
