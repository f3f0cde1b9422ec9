//! What can be asked on the command line.

use super::batch_arguments::{BatchTask, Learn, PieceTask};
use super::kiln_arguments::KilnTask;
use super::outline_arguments::{Outline, Stencil};
use super::print_arguments::PrintTask;
use super::printer_arguments::PrinterTask;
use super::statement_arguments::EanTask;
use super::stock_arguments::StockTask;
use super::words_arguments::WordsTask;
use crate::measure::Decimal;
use crate::studio::DesignCode;
use chrono::NaiveDate;
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Stock, true cost, prices, tags and care cards for a small enamelling studio.
///
/// Without a task the window opens.
#[derive(Debug, Parser)]
#[command(name = "enamelwright", version)]
#[command(
    after_help = "Exit status: 0 done; 1 the program said no; 2 wrong arguments, or a file that cannot be read or \
                        is not valid.\nExample: enamelwright cost lantern-drop.toml --firings 6"
)]
pub struct Arguments {
    /// The studio book; without it, the book in this computer's data folder.
    #[arg(long, global = true, value_name = "FILE")]
    pub book: Option<PathBuf>,
    /// What to do.
    #[command(subcommand)]
    pub task: Option<Task>,
}

/// One task.
#[derive(Debug, Subcommand)]
pub enum Task {
    /// Open the window
    #[command(after_help = "Example: enamelwright window --book studio.studiobook")]
    Window,
    /// Make a new, empty book
    #[command(after_help = "Example: enamelwright new studio.studiobook --currency EUR")]
    New(New),
    /// Make a book filled with the demo studio, an invented one to try everything on
    #[command(after_help = "Example: enamelwright demo demo.studiobook")]
    Demo(Demo),
    /// What a good piece of a design costs, its price per channel, and what to be careful of
    #[command(
        after_help = "The JSON form holds every amount as a string of the exact decimal, rounded half-even to 8 \
                      places.\nExample: enamelwright cost lantern-drop.toml --firings 6 --format json"
    )]
    Cost(Cost),
    /// Designs: files in, files out, what is there
    #[command(subcommand)]
    Design(DesignTask),
    /// Stock: items, lots in, quantities out, counts, value
    #[command(subcommand)]
    Stock(StockTask),
    /// Batches: begin, follow through the route, finish; what they cost
    #[command(subcommand)]
    Batch(BatchTask),
    /// Finished pieces: the list, and each one's way back to lots, loads and minutes
    #[command(subcommand)]
    Piece(PieceTask),
    /// Kilns: their figures, the log of loads, kiln days, a plan of the day
    #[command(subcommand)]
    Kiln(KilnTask),
    /// What batches teach about a design: shares good, minutes, coat weights, with their intervals
    #[command(after_help = "Nothing changes by itself: --accept takes one proposal into the design.\n\
                            Example: enamelwright learn LN-DROP --accept 2")]
    Learn(Learn),
    /// Prices of all designs on all their channels; accept them into a dated price list
    #[command(after_help = "Example: enamelwright prices --accept \"Harbour Fair\" --date 2026-06-01")]
    Prices(Prices),
    /// Tags, care cards, price lists, order forms, invoices, consignment notes, count and bench sheets and the kiln log as
    /// PDF
    #[command(subcommand)]
    Print(PrintTask),
    /// Printers: their dots, and what was measured of them and is put right on paper
    #[command(subcommand)]
    Printer(PrinterTask),
    /// Trade numbers (EAN-13) of designs and items, for makers who have some
    #[command(subcommand)]
    Ean(EanTask),
    /// The wording of papers: its phrases in each language, and words of your own in their place
    #[command(subcommand)]
    Words(WordsTask),
    /// Area and mass of the blanks an SVG file draws, and their outlines for design files
    #[command(
        after_help = "No book is read. A shape inside another is a hole in it. A file whose width and height have no \
                      unit is read at 96 pixels to the inch; one without a size needs --long-side.\n\
                      Example: enamelwright outline leaf.svg --long-side 38mm --metal copper --gauge 18"
    )]
    Outline(Outline),
    /// How much of a blank a stencil leaves open, by its drawing or by a photo
    #[command(
        after_help = "No book is read. In a drawing, a shape that holds others is the stencil's own edge and what lies \
                      in it is open; without --blank or --outline the share is of that edge. Lay a stencil to be \
                      photographed flat, in even light, on a ground much lighter or darker than it.\n\
                      Example: enamelwright stencil fern.svg --outline leaf.svg\n\
                      Example: enamelwright stencil fern.jpg --open light --crop 200,150,1600,1600"
    )]
    Stencil(Stencil),
    /// Keep a verified copy of the book
    #[command(after_help = "Example: enamelwright backup --to /media/stick/studio.studiobook")]
    Backup(Backup),
    /// Put a kept copy in the book's place; the book as it was is kept too
    #[command(after_help = "Example: enamelwright restore --list")]
    Restore(Restore),
    /// Check a whole book: that the file is sound and that every sum adds up
    #[command(after_help = "Example: enamelwright check --book studio.studiobook")]
    Check(Form),
    /// Take back the latest action
    #[command(after_help = "Example: enamelwright undo")]
    Undo(Form),
    /// Do the latest undone action again
    #[command(after_help = "Example: enamelwright redo")]
    Redo(Form),
    /// What was done, newest first
    #[command(after_help = "Example: enamelwright history")]
    History(Form),
}

/// The form of an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum Format {
    /// Sentences and tables for people.
    #[default]
    Text,
    /// JSON for programs; every amount is a string of the exact decimal.
    Json,
}

/// How the answer is written.
#[derive(Debug, Clone, Copy, Args)]
pub struct Form {
    /// How the answer is written
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

/// `new`.
#[derive(Debug, Args)]
pub struct New {
    /// The book to make; without it, the book in this computer's data folder
    pub file: Option<PathBuf>,
    /// The book's currency, ISO 4217
    #[arg(long, value_name = "CODE")]
    pub currency: Option<String>,
    /// The studio's name, printed on papers
    #[arg(long, value_name = "NAME")]
    pub studio: Option<String>,
}

/// `demo`.
#[derive(Debug, Args)]
pub struct Demo {
    /// The book to make; without it, the book in this computer's data folder
    pub file: Option<PathBuf>,
}

/// `cost`.
#[derive(Debug, Args)]
pub struct Cost {
    /// A design file; no book is read
    #[arg(required_unless_present = "design")]
    pub file: Option<PathBuf>,
    /// A design of the book instead of a file
    #[arg(long, value_name = "CODE", value_parser = design_code, conflicts_with = "file")]
    pub design: Option<DesignCode>,
    /// Cost the route with this many firings: the last firing, with the cleaning before it, is repeated or taken out
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=MOST_FIRINGS))]
    pub firings: Option<u32>,
    /// Pieces started in the batch
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    pub pieces: Option<u32>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// The most firings that can be asked for: far beyond what metal and glass bear, and a route of that length is still
/// costed at once.
pub const MOST_FIRINGS: i64 = 1000;

/// `design …`.
#[derive(Debug, Subcommand)]
pub enum DesignTask {
    /// Read design files into the book; if one has a fault, none is taken
    #[command(after_help = "Example: enamelwright design import lantern-drop.toml")]
    Import {
        /// Design files
        #[arg(required = true)]
        files: Vec<PathBuf>,
        /// Put a file in the place of the book's design with the same code
        #[arg(long)]
        replace: bool,
        /// How the answer is written
        #[command(flatten)]
        form: Form,
    },
    /// Write a design of the book as a design file, with the rates and prices it is costed at today
    #[command(after_help = "Example: enamelwright design export LN-DROP --out lantern-drop.toml")]
    Export {
        /// The design's code
        #[arg(value_parser = design_code)]
        code: DesignCode,
        /// The file to write; without it, standard output
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
    },
    /// The book's designs
    #[command(after_help = "Example: enamelwright design list")]
    List {
        /// Designs that were set aside, too
        #[arg(long)]
        all: bool,
        /// How the answer is written
        #[command(flatten)]
        form: Form,
    },
}

/// `prices`.
#[derive(Debug, Args)]
pub struct Prices {
    /// Only this channel
    #[arg(long, value_name = "ID")]
    pub channel: Option<String>,
    /// Only these designs
    #[arg(long, value_name = "CODE", value_parser = design_code)]
    pub design: Vec<DesignCode>,
    /// Accept the tickets shown into a price list of this name; the common ticket for retail channels
    #[arg(long, value_name = "NAME")]
    pub accept: Option<String>,
    /// The day the accepted tickets hold from; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date, requires = "accept")]
    pub date: Option<NaiveDate>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `backup`.
#[derive(Debug, Args)]
pub struct Backup {
    /// Where to write the copy; without it, the dated set beside the book
    #[arg(long, value_name = "FILE")]
    pub to: Option<PathBuf>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `restore`.
#[derive(Debug, Args)]
pub struct Restore {
    /// The copy to put in the book's place
    #[arg(required_unless_present = "list")]
    pub file: Option<PathBuf>,
    /// The copies that are kept beside the book, newest first
    #[arg(long, conflicts_with = "file")]
    pub list: bool,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// A day as ISO 8601 writes it.
pub fn date(text: &str) -> Result<NaiveDate, String> {
    let refused = || format!("a date is written year-month-day, for instance 2026-03-14; {text:?} is not one");
    let digits = text.len() == 10 && text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-');
    if !digits {
        return Err(refused());
    }
    NaiveDate::parse_from_str(text, "%Y-%m-%d").map_err(|_| refused())
}

/// A design's code; lower case is taken as upper case, since a code has no lower case.
pub fn design_code(text: &str) -> Result<DesignCode, String> {
    DesignCode::new(&text.to_ascii_uppercase()).map_err(|error| error.to_string())
}

/// A plain decimal with a point.
pub fn decimal(text: &str) -> Result<Decimal, String> {
    Decimal::from_str_exact(text).map_err(|_| format!("{text:?} is not a plain number such as 12.5"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn the_arguments_are_consistent() {
        Arguments::command().debug_assert();
    }

    #[test]
    fn a_date_is_a_whole_day() {
        assert_eq!(date("2026-03-14").ok(), NaiveDate::from_ymd_opt(2026, 3, 14));
        for wrong in ["2026-3-14", "14.03.2026", "2026-02-30", "today", "2026-03-14 ", "+026-03-14"] {
            assert!(date(wrong).is_err(), "{wrong}");
        }
    }
}
