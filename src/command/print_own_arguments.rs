//! `print own` from the command line.

use super::arguments::{Form, design_code};
use super::print_arguments::{Languages, MOST_COPIES, languages};
use super::print_way::PrintWay;
use crate::studio::DesignCode;
use clap::{ArgGroup, Args};

/// `print own`.
#[derive(Debug, Args)]
#[command(group(ArgGroup::new("of").args(["design", "piece", "item", "jar", "all", "list"]).multiple(true).required(true)))]
pub struct Own {
    /// The paper's name, yours or a ready-made one
    #[arg(required_unless_present = "list")]
    pub paper: Option<String>,
    /// Where it goes
    #[command(flatten)]
    pub way: PrintWay,
    /// Of a design, by code; may be given several times
    #[arg(long, value_name = "CODE", value_parser = design_code)]
    pub design: Vec<DesignCode>,
    /// Of a finished piece, by number; may be given several times
    #[arg(long, value_name = "NUMBER")]
    pub piece: Vec<String>,
    /// Of an item of stock, by reference, and of each jar it stands in; may be given several times
    #[arg(long, value_name = "REFERENCE")]
    pub item: Vec<String>,
    /// Of one jar, by its label; may be given several times
    #[arg(long, value_name = "LABEL")]
    pub jar: Vec<String>,
    /// Of every design that is in use, or of every jar or item
    #[arg(long, conflicts_with_all = ["design", "piece", "item", "jar"])]
    pub all: bool,
    /// Papers of each
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=MOST_COPIES))]
    pub copies: u32,
    /// The sheet, by name; without it, one a page
    #[arg(long, value_name = "NAME")]
    pub sheet: Option<String>,
    /// The first label of the sheet to print on, from 1; without it, the one after those printed last on that sheet
    #[arg(long, value_name = "N", requires = "sheet", value_parser = clap::value_parser!(u32).range(1..))]
    pub start: Option<u32>,
    /// Show this channel's tickets; without it, the one ticket of the retail channels
    #[arg(long, value_name = "ID")]
    pub channel: Option<String>,
    /// The language, such as de; two with a comma for both on one paper; without it, those of the paper
    #[arg(long, value_name = "LANGUAGE", value_parser = languages)]
    pub language: Option<Languages>,
    /// Print named designs even where a stop is among their cautions
    #[arg(long)]
    pub with_stops: bool,
    /// A trial: the book does not keep that tags were printed or labels used
    #[arg(long)]
    pub trial: bool,
    /// List the papers there are, and print nothing
    #[arg(long, conflicts_with_all = ["paper", "out", "send"])]
    pub list: bool,
    /// How the list of papers is written
    #[command(flatten)]
    pub form: Form,
}
