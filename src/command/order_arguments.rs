//! What can be asked about orders on the command line.

use super::arguments::{Form, date};
use chrono::NaiveDate;
use clap::{Args, Subcommand};

/// `stock order …`.
#[derive(Debug, Subcommand)]
pub enum OrderTask {
    /// The orders, those of which more is expected first
    #[command(after_help = "Example: enamelwright stock order list --open")]
    List(OrderList),
    /// An order with what each line costs landed and what came of it
    #[command(after_help = "Example: enamelwright stock order show 3")]
    Show(OrderShow),
    /// Receive packs of a line of an order, at its landed cost
    #[command(after_help = "ORDER is its number in `stock order list`, LINE the line's in `stock order show`.\n\
                            Example: enamelwright stock order receive 3 1 2 --lot 2231")]
    Receive(OrderReceive),
}

/// `stock order list`.
#[derive(Debug, Args)]
pub struct OrderList {
    /// Only orders of which more is expected
    #[arg(long)]
    pub open: bool,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `stock order show`.
#[derive(Debug, Args)]
pub struct OrderShow {
    /// The order, by its number in `stock order list`
    pub order: i64,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `stock order receive`.
#[derive(Debug, Args)]
pub struct OrderReceive {
    /// The order, by its number in `stock order list`
    pub order: i64,
    /// The line, by its number in `stock order show`
    pub line: usize,
    /// How many packs came
    pub packs: String,
    /// The day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// The maker's lot number
    #[arg(long, value_name = "NUMBER", default_value = "", hide_default_value = true)]
    pub lot: String,
    /// Anything else
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    pub note: String,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}
