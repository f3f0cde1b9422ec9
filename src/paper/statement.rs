//! Papers that go out under a number: order form, invoice, consignment note and certificate share one layout.

use super::cards::PaperSize;
use super::page::{Document, Rect};
use super::picture::Image;
use super::running::Running;
use super::shaper::Shaper;
use super::statement_press::Press;
use super::warning::PaperProblem;
use crate::studio::Language;
use std::sync::Arc;

/// Most lines one such paper may have.
pub const MOST_LINES: usize = 1_000;
/// Most lines of a recipient's name and address; what is over is left out and told.
pub const MOST_RECIPIENT_LINES: usize = 10;
/// The place of a certificate's photo, mm.
pub const PHOTO_MM: [f64; 2] = [72.0, 72.0];

/// A paper that goes out. Every text is printed as it is given.
#[derive(Debug, Clone, PartialEq)]
pub struct Statement {
    /// The language it is in.
    pub language: Language,
    /// What it is, with its number where it has one: `Invoice no. 7`.
    pub title: String,
    /// The studio's name.
    pub studio: String,
    /// Where it is; may be empty.
    pub place: String,
    /// What stands over the recipient.
    pub recipient_label: String,
    /// Name and address, line by line.
    pub recipient: Vec<String>,
    /// Facts beside the recipient: what, and a grey word over it, which may be empty.
    pub facts: Vec<[String; 2]>,
    /// What stands over the table; may be empty.
    pub opening: String,
    /// The one piece a certificate is of, told in full in the place of the table.
    pub piece: Option<OnePiece>,
    /// The table.
    pub table: Table,
    /// The sums, under the table; the last is what it comes to.
    pub sums: Vec<SumLine>,
    /// Sentences under them: when it is to be paid, what tax is in the prices.
    pub sentences: Vec<String>,
    /// Parts of running text, each under a heading: terms, cautions.
    pub parts: Vec<[String; 2]>,
    /// Over the lines to sign on; may be empty.
    pub signed_for: String,
    /// Who signs, and under it what is to be written: `Place, date, signature`. None or up to two.
    pub signatures: Vec<[String; 2]>,
    /// How a page is numbered, with `{page}` and `{pages}`.
    pub page_of: String,
    /// The page.
    pub paper: PaperSize,
}

/// The piece of a certificate.
#[derive(Debug, Clone, PartialEq)]
pub struct OnePiece {
    /// What it is called.
    pub name: String,
    /// What is known of it, a fact a line.
    pub facts: Vec<String>,
    /// That it bears lead; empty where it does not.
    pub lead: String,
    /// Its photo, where there is one.
    pub photo: Option<Arc<Image>>,
}

/// The lines with their headings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// Heading of codes.
    pub code: String,
    /// Heading of what each is.
    pub what: String,
    /// Heading of quantities; none where they are not told.
    pub quantity: Option<String>,
    /// Headings of price and sum; none where no money is told.
    pub money: Option<[String; 2]>,
    /// What the sum of a page is called at its foot, and at the top of the next.
    pub carried: [String; 2],
    /// The lines, at least one.
    pub lines: Vec<StatementLine>,
}

/// A line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StatementLine {
    /// Code or number; may be empty.
    pub code: String,
    /// What it is.
    pub words: String,
    /// What it is made of; may be empty.
    pub note: String,
    /// That it bears lead; empty where it does not.
    pub lead: String,
    /// How many.
    pub quantity: String,
    /// The price of one.
    pub price: String,
    /// Price of all of them.
    pub sum: String,
    /// The sum of this line and all before it.
    pub so_far: String,
}

/// A line of the sums.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SumLine {
    /// What it is.
    pub label: String,
    /// How much.
    pub amount: String,
    /// It is what the paper comes to.
    pub strong: bool,
}

const LEFT_MM: f64 = 22.0;
const RIGHT_MM: f64 = 18.0;
const TOP_MM: f64 = 17.0;
const BOTTOM_MM: f64 = 13.0;

/// Everything on the pages lies within this, mm.
pub fn margins(paper: PaperSize) -> Rect {
    Rect {
        x_mm: LEFT_MM,
        y_mm: TOP_MM,
        width_mm: paper.width_mm - LEFT_MM - RIGHT_MM,
        height_mm: paper.height_mm - TOP_MM - BOTTOM_MM,
    }
}

/// Lays the paper out: letterhead, recipient, title, the lines with their heading on every page and the sum carried
/// over, sums, sentences, terms, lines to sign on. The same paper gives the same document.
///
/// # Errors
/// When there is no line, more than [`MOST_LINES`], or no type at hand for the language.
pub fn layout(statement: &Statement, shaper: &mut Shaper) -> Result<Document, PaperProblem> {
    shaper.can_write(statement.language)?;
    let lines = statement.table.lines.len();
    if lines == 0 {
        return Err(PaperProblem::NothingListed);
    }
    if lines > MOST_LINES {
        return Err(PaperProblem::TooManyLines { asked: lines, most: MOST_LINES });
    }
    let date = statement.facts.first().map(|[_, date]| date.as_str()).unwrap_or_default();
    let reminder = joined(&[&statement.title, &statement.studio, date]);
    let mut running = Running::open(shaper, statement.paper, margins(statement.paper), reminder);
    running.foot(&joined(&[&statement.studio, &statement.place]), &statement.page_of);
    let mut press = Press::new(&statement.title, running);
    press.letterhead(statement);
    press.parties(statement);
    press.opening(statement);
    match &statement.piece {
        Some(piece) => press.one_piece(piece),
        None => press.table(statement),
    }
    press.sentences(statement);
    for [heading, text] in &statement.parts {
        press.part(heading, text);
    }
    press.signatures(statement);
    Ok(press.finish())
}

fn joined(parts: &[&str]) -> String {
    let told: Vec<&str> = parts.iter().copied().filter(|part| !part.trim().is_empty()).collect();
    told.join(" · ")
}
