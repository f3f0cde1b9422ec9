//! What can be asked of papers that go out under a number, of price lists for fairs and of trade numbers.

use super::arguments::{Form, date, design_code};
use super::print_arguments::language;
use super::print_way::PrintWay;
use crate::paper::statement_lines::MOST_QUANTITY;
use crate::studio::{DesignCode, Language, NumberedKind};
use chrono::NaiveDate;
use clap::{Args, Subcommand};

/// `print order-form`, `print invoice`, `print consignment`, `print certificate`.
#[derive(Debug, Args)]
pub struct Statement {
    /// Where it goes
    #[command(flatten)]
    pub way: PrintWay,
    /// Who it is for: a text file with name and address, or the text itself with ; between its lines
    #[arg(long, value_name = "FILE_OR_TEXT", default_value = "", hide_default_value = true)]
    pub to: String,
    /// A line: a design's code, how many, the price of one, such as LN-DROP:3@48; may be given several times
    #[arg(long = "line", value_name = "CODE[:QUANTITY][@PRICE]", value_parser = line, required_unless_present = "pieces")]
    pub lines: Vec<AskedLine>,
    /// A line of one finished piece: its number, and its price where it is not the ticket; may be given several times
    #[arg(long = "piece", value_name = "NUMBER[@PRICE]", value_parser = piece)]
    pub pieces: Vec<AskedPiece>,
    /// The channel whose tickets, tax and commission are taken where none are told
    #[arg(long, value_name = "ID")]
    pub channel: Option<String>,
    /// Tax, such as 20%
    #[arg(long, value_name = "SHARE")]
    pub tax: Option<String>,
    /// What the tax is called, such as VAT
    #[arg(long, value_name = "NAME", default_value = "", hide_default_value = true)]
    pub tax_name: String,
    /// The tax of --tax is in the prices
    #[arg(long, requires = "tax")]
    pub tax_in_price: bool,
    /// Freight and packing
    #[arg(long, value_name = "MONEY")]
    pub freight: Option<String>,
    /// A gallery's commission, such as 40%; consignment notes
    #[arg(long, value_name = "SHARE")]
    pub commission: Option<String>,
    /// Days until it is to be delivered, paid, or until unsold pieces come back
    #[arg(long, value_name = "N")]
    pub days: Option<u32>,
    /// Terms and anything else: a text file, or the text itself with ; between its lines
    #[arg(long, value_name = "FILE_OR_TEXT", default_value = "", hide_default_value = true)]
    pub terms: String,
    /// The language, such as de; without it, the one of Setup
    #[arg(long, value_name = "LANGUAGE", value_parser = language)]
    pub language: Option<Language>,
    /// The day on it; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// Leave the photo off a certificate; without it, a certificate of one piece shows that of its design
    #[arg(long)]
    pub without_photos: bool,
    /// On paper of 8.5 by 11 in; without it, on A4
    #[arg(long)]
    pub letter: bool,
    /// Write the paper without a number, and keep nothing in the book
    #[arg(long)]
    pub preview: bool,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// A line as it was asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AskedLine {
    /// The design.
    pub code: DesignCode,
    /// How many, 1 to [`MOST_QUANTITY`].
    pub quantity: u32,
    /// The price of one as it was typed; none takes the ticket in force.
    pub price: Option<String>,
}

/// A finished piece as it was asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AskedPiece {
    /// Its number.
    pub number: String,
    /// Its price as it was typed; none takes the ticket in force.
    pub price: Option<String>,
}

/// `NUMBER[@PRICE]`.
fn piece(text: &str) -> Result<AskedPiece, String> {
    let (number, price) = match text.split_once('@') {
        Some((number, price)) => (number, Some(price.trim().to_owned())),
        None => (text, None),
    };
    match number.trim() {
        "" => Err(format!("{text:?} has no number; a piece's number such as LN-DROP-0017 is accepted")),
        number => Ok(AskedPiece { number: number.to_uppercase(), price }),
    }
}

/// `CODE[:QUANTITY][@PRICE]`.
fn line(text: &str) -> Result<AskedLine, String> {
    let (rest, price) = match text.split_once('@') {
        Some((rest, price)) => (rest, Some(price.trim().to_owned())),
        None => (text, None),
    };
    let (code, quantity) = match rest.split_once(':') {
        Some((code, quantity)) => {
            let refused =
                || format!("{quantity:?} is no quantity; a whole number from 1 to {MOST_QUANTITY} is accepted");
            let quantity: u32 = quantity.trim().parse().map_err(|_| refused())?;
            if !(1..=MOST_QUANTITY).contains(&quantity) {
                return Err(refused());
            }
            (code, quantity)
        }
        None => (rest, 1),
    };
    Ok(AskedLine { code: design_code(code.trim())?, quantity, price })
}

/// `print again`.
#[derive(Debug, Args)]
pub struct Again {
    /// What it is: order, invoice, consignment or certificate
    #[arg(value_parser = kind)]
    pub kind: NumberedKind,
    /// Its number
    #[arg(value_parser = clap::value_parser!(u32).range(1..))]
    pub number: u32,
    /// Where it goes
    #[command(flatten)]
    pub way: PrintWay,
    /// Leave the photo off a certificate
    #[arg(long)]
    pub without_photos: bool,
    /// On paper of 8.5 by 11 in; without it, on A4
    #[arg(long)]
    pub letter: bool,
}

fn kind(text: &str) -> Result<NumberedKind, String> {
    NumberedKind::from_name(text).ok_or_else(|| {
        let names = NumberedKind::ALL.map(NumberedKind::name).join(", ");
        format!("{text:?} is no such paper; there are {names}")
    })
}

/// `print price-list`.
#[derive(Debug, Args)]
pub struct FairPrices {
    /// Where it goes
    #[command(flatten)]
    pub way: PrintWay,
    /// A design to list, by code; may be given several times; without it, all
    #[arg(long, value_name = "CODE", value_parser = design_code)]
    pub design: Vec<DesignCode>,
    /// List this channel's tickets; without it, the one ticket of the retail channels
    #[arg(long, value_name = "ID")]
    pub channel: Option<String>,
    /// The fair's name; without it, the one of Setup
    #[arg(long, value_name = "NAME")]
    pub fair: Option<String>,
    /// The day the prices hold from; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// Say that the prices include this tax, such as VAT
    #[arg(long, value_name = "NAME")]
    pub tax_name: Option<String>,
    /// Show outlines instead of photos; without it, a design that has a photo shows it
    #[arg(long)]
    pub without_photos: bool,
    /// The language, such as de; without it, the one of Setup
    #[arg(long, value_name = "LANGUAGE", value_parser = language)]
    pub language: Option<Language>,
    /// On paper of 8.5 by 11 in; without it, on A4
    #[arg(long)]
    pub letter: bool,
}

/// `ean …`.
#[derive(Debug, Subcommand)]
pub enum EanTask {
    /// Give a design or an item its EAN-13
    #[command(after_help = "Example: enamelwright ean set LN-DROP 2000000000015")]
    Set {
        /// A design's code or an item's reference
        code: String,
        /// Thirteen digits, the last of them the check digit
        number: String,
        /// How the answer is written
        #[command(flatten)]
        form: Form,
    },
    /// The trade numbers of all designs and items that have one, or of one of them
    #[command(after_help = "Example: enamelwright ean show LN-DROP")]
    Show {
        /// A design's code or an item's reference
        code: Option<String>,
        /// How the answer is written
        #[command(flatten)]
        form: Form,
    },
    /// Take the trade number of a design or an item away
    #[command(after_help = "Example: enamelwright ean clear LN-DROP")]
    Clear {
        /// A design's code or an item's reference
        code: String,
        /// How the answer is written
        #[command(flatten)]
        form: Form,
    },
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_piece_is_its_number_with_its_price() {
        let read = |text| piece(text).map(|piece| (piece.number, piece.price));
        assert_eq!(read("ln-drop-0017"), Ok(("LN-DROP-0017".to_owned(), None)));
        assert_eq!(read("LN-DROP-0017@ 48"), Ok(("LN-DROP-0017".to_owned(), Some("48".to_owned()))));
        assert!(piece(" @48").is_err());
    }

    #[test]
    fn a_line_is_a_code_with_how_many_and_at_what_price() {
        let read = |text| line(text).map(|line| (line.code.as_str().to_owned(), line.quantity, line.price));
        assert_eq!(read("ln-drop"), Ok(("LN-DROP".to_owned(), 1, None)));
        assert_eq!(read("LN-DROP:12"), Ok(("LN-DROP".to_owned(), 12, None)));
        assert_eq!(read("LN-DROP:3@48,50"), Ok(("LN-DROP".to_owned(), 3, Some("48,50".to_owned()))));
        assert_eq!(read("LN-DROP@48"), Ok(("LN-DROP".to_owned(), 1, Some("48".to_owned()))));
        for wrong in ["", ":3", "LN-DROP:0", "LN-DROP:x", "LN-DROP:1.5", "LN_DROP", "LN-DROP:100001"] {
            assert!(line(wrong).is_err(), "{wrong}");
        }
    }
}
