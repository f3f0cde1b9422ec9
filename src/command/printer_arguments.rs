//! What can be asked about printers on the command line.

use super::arguments::{Form, decimal};
use super::print_way::PrintWay;
use crate::measure::Decimal;
use clap::{ArgGroup, Args, Subcommand};

/// `printer …`.
#[derive(Debug, Subcommand)]
pub enum PrinterTask {
    /// The book's printers with their dots and what is put right, and the printers of this computer
    #[command(after_help = "Example: enamelwright printer list")]
    List(Form),
    /// Write a printer down, or change its dots
    #[command(
        after_help = "NAME is what this computer calls it; `printer list` shows that. Symbols printed on it are made of \
                      whole dots.\nExample: enamelwright printer set Office_Laser --dots 600"
    )]
    Set(PrinterSet),
    /// Say what the printer does to a page, so that it is put right on paper
    #[command(
        after_help = "Print `print calibration` and measure it: where the ringed cross stands from the left and the top \
                      edge of the paper, and how long the level and the upright ruler came out. Without --sheet it is for plain \
                      paper, and for sheets that were not measured.\nExample: enamelwright printer put-right \
                      Office_Laser --cross 11.2,9.6 --rulers 149.5,199\nExample: enamelwright printer put-right \
                      Office_Laser --sheet \"Strung tags\" --right -1.2 --down 0.4"
    )]
    PutRight(PutRight),
    /// Take a printer out of the book, or what was measured of it on one paper
    #[command(after_help = "Example: enamelwright printer forget Office_Laser\nExample: enamelwright printer forget \
                            Office_Laser --sheet \"Strung tags\"")]
    Forget(Forget),
}

/// `printer set`.
#[derive(Debug, Args)]
pub struct PrinterSet {
    /// The printer's name
    pub name: String,
    /// Its dots per inch, such as 203, 300 or 600
    #[arg(long, value_name = "N")]
    pub dots: u32,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `printer put-right`.
#[derive(Debug, Args)]
#[command(group = ArgGroup::new("figures").args(["right", "down", "wide", "high", "cross"]).required(true).multiple(true))]
pub struct PutRight {
    /// The printer's name
    pub name: String,
    /// The sheet, by name; without it, plain paper
    #[arg(long, value_name = "NAME")]
    pub sheet: Option<String>,
    /// Move everything to the right by so much; to the left below 0
    #[arg(long, value_name = "MM", value_parser = decimal, allow_negative_numbers = true)]
    pub right: Option<Decimal>,
    /// Move everything down by so much; up below 0
    #[arg(long, value_name = "MM", value_parser = decimal, allow_negative_numbers = true)]
    pub down: Option<Decimal>,
    /// Stretch from left to right by this factor, such as 1.003; left out, it stays as it was
    #[arg(long, value_name = "FACTOR", value_parser = decimal)]
    pub wide: Option<Decimal>,
    /// Stretch from top to bottom by this factor; left out, it stays as it was
    #[arg(long, value_name = "FACTOR", value_parser = decimal)]
    pub high: Option<Decimal>,
    /// Where the ringed cross of the calibration page stands on paper: from the left and from the top edge
    #[arg(long, value_name = "MM,MM", value_parser = pair, requires = "rulers", conflicts_with_all = ["right", "down", "wide", "high"])]
    pub cross: Option<Pair>,
    /// How long its rulers came out on paper: the level one and the upright one
    #[arg(long, value_name = "MM,MM", value_parser = pair, requires = "cross")]
    pub rulers: Option<Pair>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// Two lengths, mm: across and down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pair(pub [Decimal; 2]);

/// Two plain numbers with a comma between.
pub fn pair(text: &str) -> Result<Pair, String> {
    let read = text.split_once(',').map(|(across, down)| (decimal(across.trim()), decimal(down.trim())));
    match read {
        Some((Ok(across), Ok(down))) => Ok(Pair([across, down])),
        _ => Err(format!("{text:?} is not two plain numbers of millimetres with a comma between, such as 11.2,9.6")),
    }
}

/// `printer forget`.
#[derive(Debug, Args)]
pub struct Forget {
    /// The printer's name
    pub name: String,
    /// Forget only what was measured on this sheet
    #[arg(long, value_name = "NAME")]
    pub sheet: Option<String>,
    /// Forget only what was measured on plain paper
    #[arg(long, conflicts_with = "sheet")]
    pub plain: bool,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `print calibration`.
#[derive(Debug, Args)]
pub struct CalibrationPage {
    /// Where it goes
    #[command(flatten)]
    pub way: PrintWay,
    /// The sheet of the book it is printed on, by name; without it, plain paper
    #[arg(long, value_name = "NAME")]
    pub sheet: Option<String>,
    /// On paper of 8.5 by 11 in; without it, on A4
    #[arg(long, conflicts_with = "sheet")]
    pub letter: bool,
    /// The printer's dots per inch, for stripes of whole dots; without it, those of --printer
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(72..=4800))]
    pub dots: Option<u32>,
    /// Put right as the printer was measured, to see whether it comes out now; without it, nothing is put right
    #[arg(long, requires = "printer")]
    pub put_right: bool,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pair_is_two_plain_numbers() {
        assert_eq!(pair("11.2, 9.6"), Ok(Pair([Decimal::new(112, 1), Decimal::new(96, 1)])));
        for wrong in ["", "31.2", "31,2,29,6", "a,b", "31.2;29.6", ","] {
            assert!(pair(wrong).is_err(), "{wrong}");
        }
    }
}
