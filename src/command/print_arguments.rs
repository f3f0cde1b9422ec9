//! What can be printed from the command line.

use super::arguments::{Form, date, design_code};
use super::bench::batch_number;
use super::print_own_arguments::Own;
use super::print_way::PrintWay;
use super::printer_arguments::CalibrationPage;
use super::statement_arguments::{Again, FairPrices, Statement};
use crate::studio::{DesignCode, Language};
use chrono::NaiveDate;
use clap::{Args, Subcommand, ValueEnum};

/// `print …`.
#[derive(Debug, Subcommand)]
pub enum PrintTask {
    /// Tags: name, code with its symbol, ticket, materials
    #[command(
        mut_arg("out", |out| out.required_unless_present("which_outdated")),
        after_help = "Without --design, one tag for each design.\nExample: enamelwright print tags --out tags.pdf \
                      --design LN-DROP --copies 12 --start 5"
    )]
    Tags(Tags),
    /// Care cards: materials, cautions, the maker's words
    #[command(
        after_help = "Example: enamelwright print cards --out cards.pdf --design LN-DROP --flat\nExample: enamelwright print cards \
                          --out cards.pdf --language de,fr"
    )]
    Cards(Cards),
    /// A count sheet: what stands on which shelf, with a box beside each for what is counted
    #[command(after_help = "Without --with-stock the count is blind.\nExample: enamelwright print count-sheet --out \
                            count.pdf --shelf B2")]
    CountSheet(CountSheet),
    /// A bench sheet of a batch: its route with coats, heats, ceiling, cautions and a box a piece at each step
    #[command(after_help = "Its symbol opens the batch in the window's find box.\nExample: enamelwright print \
                            bench-sheet 4 --out bench.pdf --letter")]
    BenchSheet(BenchSheet),
    /// Pages of the kiln log, with rows to write on at the kiln
    #[command(
        after_help = "Without --from and --to of today; with --rows N empty rows follow.\nExample: enamelwright \
                            print kiln-log --out log.pdf --from 2026-10-01 --to 2026-10-31\nExample: enamelwright \
                            print kiln-log --out rows.pdf --empty"
    )]
    KilnLog(KilnLogPage),
    /// A price list for a fair, every piece with its photo or its shape in its colour
    #[command(after_help = "Example: enamelwright print price-list --out prices.pdf --fair \"Harbour Fair\"")]
    PriceList(FairPrices),
    /// An order form for a shop, under the next number
    #[command(
        after_help = "Prices not told with @ are the tickets in force, on --channel or on the retail channels; tax not \
                      told is that of --channel.\nExample: enamelwright print order-form --to \"Skerry Gallery; 12 \
                      Mole Street\" --line LN-DROP:12@24 --out order.pdf"
    )]
    OrderForm(Statement),
    /// An invoice, under the next number
    #[command(
        after_help = "Prices not told with @ are the tickets in force, on --channel or on the retail channels; tax not \
                      told is that of --channel.\nExample: enamelwright print invoice --to skerry.txt --line LN-DROP:3 \
                      --tax 20% --tax-name VAT --days 30 --out invoice.pdf"
    )]
    Invoice(Statement),
    /// A consignment note with lines to sign on, under the next number
    #[command(after_help = "Prices are what the pieces are sold at there; commission not told is that of \
                      --channel.\nExample: enamelwright print consignment --to skerry.txt --line LN-DROP:6 \
                      --commission 40% --days 90 --out note.pdf")]
    Consignment(Statement),
    /// A certificate of one or several pieces, under the next number
    #[command(after_help = "Example: enamelwright print certificate --piece LN-DROP-0017 --out certificate.pdf")]
    Certificate(Statement),
    /// A paper of your own design or a ready-made one: tags, cards, jar and drawer labels, certificates, stall signs
    #[command(
        mut_arg("out", |out| out.required_unless_present("list")),
        after_help = "Example: enamelwright print own --list\nExample: enamelwright print own \"Quiet jar label\" --all \
                      --out jars.pdf\nExample: enamelwright print own \"My tag\" --design LN-DROP --copies 12 --sheet \
                      \"My sheet\" --out tags.pdf"
    )]
    Own(Box<Own>),
    /// A paper that went out under a number, once more
    #[command(after_help = "Example: enamelwright print again invoice 7 --out invoice-7.pdf")]
    Again(Again),
    /// A page with a cross and rulers to measure a printer by
    #[command(
        after_help = "Print it at actual size and measure it; `printer put-right` takes what was measured.\nExample: \
                      enamelwright print calibration --out calibration.pdf --dots 600\nExample: enamelwright print \
                      calibration --send --printer Office_Laser --sheet \"Strung tags\""
    )]
    Calibration(CalibrationPage),
    /// The papers that went out under a number, newest first
    #[command(after_help = "Example: enamelwright print papers")]
    Papers(Form),
}

/// `print tags`.
#[derive(Debug, Args)]
pub struct Tags {
    /// Where it goes
    #[command(flatten)]
    pub way: PrintWay,
    /// A design to print, by code; may be given several times
    #[arg(long, value_name = "CODE", value_parser = design_code)]
    pub design: Vec<DesignCode>,
    /// Tags of each design
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=MOST_COPIES))]
    pub copies: u32,
    /// The first label of the sheet to print on, from 1; without it, the one after those printed last on that sheet
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    pub start: Option<u32>,
    /// The sheet, by name; without it, the book's first, or tags to cut by hand
    #[arg(long, value_name = "NAME")]
    pub sheet: Option<String>,
    /// The symbol that holds the code
    #[arg(long, value_enum, default_value_t)]
    pub symbol: Symbol,
    /// Print this channel's tickets; without it, the one ticket of the retail channels
    #[arg(long, value_name = "ID")]
    pub channel: Option<String>,
    /// Print designs named with --design even where a stop is among their cautions
    #[arg(long)]
    pub with_stops: bool,
    /// The language, such as de; without it, the one of Setup
    #[arg(long, value_name = "LANGUAGE", value_parser = language)]
    pub language: Option<Language>,
    /// Print only tags that are out of date: the ticket in force is not the one printed last
    #[arg(long)]
    pub outdated: bool,
    /// List the tags that are out of date, and print nothing
    #[arg(long, conflicts_with_all = ["out", "send", "outdated"])]
    pub which_outdated: bool,
    /// A trial: the book does not keep that they were printed
    #[arg(long)]
    pub trial: bool,
    /// How the list of tags that are out of date is written
    #[command(flatten)]
    pub form: Form,
}

/// The most tags of one design that can be asked for in one go.
pub const MOST_COPIES: i64 = 10_000;

/// `print cards`.
#[derive(Debug, Args)]
pub struct Cards {
    /// Where it goes
    #[command(flatten)]
    pub way: PrintWay,
    /// A design to print, by code; may be given several times; without it, all
    #[arg(long, value_name = "CODE", value_parser = design_code)]
    pub design: Vec<DesignCode>,
    /// Cards of each design
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=MOST_COPIES))]
    pub copies: u32,
    /// Flat cards instead of folded ones
    #[arg(long)]
    pub flat: bool,
    /// The page
    #[arg(long, value_enum, default_value_t)]
    pub paper: Paper,
    /// The language, such as de; two with a comma for both on one card; without it, the one of Setup
    #[arg(long, value_name = "LANGUAGE", value_parser = languages)]
    pub language: Option<Languages>,
}

/// One language of a paper, or two.
#[derive(Debug, Clone)]
pub struct Languages(pub Vec<Language>);

/// A language of papers by its tag, such as de.
pub fn language(text: &str) -> Result<Language, String> {
    Language::from_tag(&text.to_ascii_lowercase()).ok_or_else(|| {
        let tags = Language::ALL.map(Language::tag).join(", ");
        format!("{text:?} is not a language of papers; accepted are {tags}")
    })
}

/// One language, or two different ones with a comma.
pub fn languages(text: &str) -> Result<Languages, String> {
    let found = text.split(',').map(|tag| language(tag.trim())).collect::<Result<Vec<_>, _>>()?;
    match found.as_slice() {
        [_] => Ok(Languages(found)),
        [first, second] if first != second => Ok(Languages(found)),
        _ => Err(format!("{text:?}: one language or two different ones are accepted, such as de or de,fr")),
    }
}

/// `print count-sheet`.
#[derive(Debug, Args)]
pub struct CountSheet {
    /// Where it goes
    #[command(flatten)]
    pub way: PrintWay,
    /// Only this shelf; without it, all of them
    #[arg(long, value_name = "SHELF")]
    pub shelf: Option<String>,
    /// Print what the book says is there, too
    #[arg(long)]
    pub with_stock: bool,
    /// On paper of 8.5 by 11 in; without it, on A4
    #[arg(long)]
    pub letter: bool,
}

/// `print bench-sheet`.
#[derive(Debug, Args)]
pub struct BenchSheet {
    /// The batch's number
    #[arg(value_parser = batch_number)]
    pub number: u32,
    /// Where it goes
    #[command(flatten)]
    pub way: PrintWay,
    /// The kiln it will be fired in, by name; without it, the one that gets hottest
    #[arg(long, value_name = "NAME")]
    pub kiln: Option<String>,
    /// On paper of 8.5 by 11 in; without it, on A4
    #[arg(long)]
    pub letter: bool,
}

/// `print kiln-log`.
#[derive(Debug, Args)]
pub struct KilnLogPage {
    /// Where it goes
    #[command(flatten)]
    pub way: PrintWay,
    /// Only this kiln, by name; without it, all of them
    #[arg(long, value_name = "NAME")]
    pub kiln: Option<String>,
    /// From this day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub from: Option<NaiveDate>,
    /// Up to this day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub to: Option<NaiveDate>,
    /// Empty rows to write on, after the loads
    #[arg(long, value_name = "N", default_value_t = 0, value_parser = clap::value_parser!(u32).range(0..=500))]
    pub rows: u32,
    /// Only a page of empty rows
    #[arg(long, conflicts_with_all = ["from", "to", "kiln", "rows"])]
    pub empty: bool,
    /// On paper of 8.5 by 11 in; without it, on A4
    #[arg(long)]
    pub letter: bool,
}

/// A page to print on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum Paper {
    /// ISO 216 A4, 210 by 297 mm
    #[default]
    A4,
    /// 8.5 by 11 in
    Letter,
}

/// A code symbol.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum Symbol {
    /// QR code, ISO/IEC 18004: telephones read it
    #[default]
    Qr,
    /// Data Matrix, ISO/IEC 16022: the smallest
    DataMatrix,
    /// Code 128, ISO/IEC 15417: line scanners read it
    #[value(name = "code-128")]
    Code128,
    /// No symbol; the code is printed all the same
    None,
}
