//! Printers as she measured them, and what was printed.

use super::batch::PieceId;
use super::channel::ChannelId;
use super::design::DesignId;
use super::language::Language;
use super::sheet::SheetId;
use crate::measure::{Decimal, Money};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// A printer's row in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct PrinterId(pub i64);

/// A printer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Printer {
    /// The name the system knows it by, unique in a book.
    pub name: String,
    /// Dots per inch; symbols are made of whole dots of it.
    pub dots_per_inch: u32,
    /// What was measured, sheet by sheet; each sheet once, none for plain paper.
    pub corrections: Vec<Correction>,
}

impl Printer {
    /// What puts this printer right for a sheet (none: plain paper): what was measured for that sheet, else what was
    /// measured for plain paper, since most of the offset is the printer's own; none where nothing was measured.
    pub fn correction_for(&self, sheet: Option<SheetId>) -> Option<Correction> {
        let of = |sheet| self.corrections.iter().find(|correction| correction.sheet == sheet).copied();
        of(sheet).or_else(|| of(None))
    }
}

/// What a printer does to a sheet, as measured on the calibration page, and is put right for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Correction {
    /// The sheet; none for plain paper.
    pub sheet: Option<SheetId>,
    /// Moves the page to the right, mm, −8 to 8.
    pub right_mm: Decimal,
    /// Moves the page down, mm, −8 to 8.
    pub down_mm: Decimal,
    /// Stretches it from left to right, 0.97 to 1.03.
    pub wide: Decimal,
    /// Stretches it from top to bottom, 0.97 to 1.03.
    pub high: Decimal,
}

/// Tags that were printed of a design at a ticket.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PrintedTag {
    /// The design.
    pub design: DesignId,
    /// The channel whose ticket they show.
    pub channel: ChannelId,
    /// The piece, where the tag is one piece's.
    pub piece: Option<PieceId>,
    /// The ticket they show.
    pub ticket: Money,
    /// The day.
    pub date: NaiveDate,
    /// How many, from 1.
    pub copies: u32,
}

/// A paper that goes out of the house under a number: it is kept as it was.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum NumberedKind {
    /// An order form.
    Order,
    /// An invoice.
    Invoice,
    /// A consignment note.
    Consignment,
    /// A certificate.
    Certificate,
}

impl NumberedKind {
    /// Every kind, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Order, Self::Invoice, Self::Consignment, Self::Certificate];

    /// The name in the book, in files and on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Order => "order",
            Self::Invoice => "invoice",
            Self::Consignment => "consignment",
            Self::Certificate => "certificate",
        }
    }

    /// The kind of that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }
}

/// A numbered paper's row in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct NumberedId(pub i64);

/// A numbered paper as it went out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct NumberedPaper {
    /// The language it is written in.
    pub language: Language,
    /// Who it is from, as it was then: the studio's name, and under it where it is.
    #[serde(default)]
    pub from: String,
    /// Who it is for: name and address, line by line.
    pub recipient: String,
    /// Its lines, at least one.
    pub lines: Vec<PaperLine>,
    /// Commission of a gallery, a share; consignment notes.
    pub commission: Option<Decimal>,
    /// Tax on the sum, a share; 0 for none.
    pub tax: Decimal,
    /// What the tax is called where it is sold, such as “VAT”.
    pub tax_name: String,
    /// Tax is in the prices.
    pub tax_in_price: bool,
    /// Freight and packing.
    pub freight: Money,
    /// Days until it is to be paid, or until goods on consignment come back.
    pub days: Option<u32>,
    /// Terms and anything else, in her words.
    pub terms: String,
}

/// A line of a numbered paper.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PaperLine {
    /// The design, where it is one of the book.
    pub design: Option<DesignId>,
    /// The piece, where it is one.
    pub piece: Option<PieceId>,
    /// Code or number.
    pub code: String,
    /// What it is.
    pub words: String,
    /// What it is made of, or anything else under its name; may be empty.
    #[serde(default)]
    pub note: String,
    /// It bears lead.
    #[serde(default)]
    pub bears_lead: bool,
    /// How many, from 1.
    pub quantity: u32,
    /// The price of one.
    pub price: Money,
}

/// A numbered paper of a book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BookNumberedPaper {
    /// Its row.
    pub id: NumberedId,
    /// What it is.
    pub kind: NumberedKind,
    /// Its number, from 1, running without a gap for each kind.
    pub number: u32,
    /// The day.
    pub date: NaiveDate,
    /// The paper.
    pub paper: NumberedPaper,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sheet_without_figures_of_its_own_takes_those_of_plain_paper() {
        let correction = |sheet: Option<i64>, right: i64| Correction {
            sheet: sheet.map(SheetId),
            right_mm: Decimal::from(right),
            down_mm: Decimal::ZERO,
            wide: Decimal::ONE,
            high: Decimal::ONE,
        };
        let mut printer = Printer {
            name: "bench".to_owned(),
            dots_per_inch: 600,
            corrections: vec![correction(Some(7), 2), correction(None, 1)],
        };
        let right = |printer: &Printer, sheet: Option<i64>| {
            printer.correction_for(sheet.map(SheetId)).map(|correction| correction.right_mm)
        };
        assert_eq!(right(&printer, Some(7)), Some(Decimal::TWO));
        assert_eq!(right(&printer, Some(8)), Some(Decimal::ONE));
        assert_eq!(right(&printer, None), Some(Decimal::ONE));
        printer.corrections.pop();
        assert_eq!(right(&printer, Some(8)), None);
        assert_eq!(right(&printer, None), None);
    }
}
