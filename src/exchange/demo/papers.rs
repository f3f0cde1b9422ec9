//! Papers of the demo studio that went out under a number.

use super::table::{Row, Tables, decimal};
use super::{DemoProblem, days_before};
use crate::measure::{Decimal, Money};
use crate::studio::{DesignCode, NumberedKind};
use chrono::NaiveDate;

/// A paper that went out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DemoPaper {
    /// What it is.
    pub kind: NumberedKind,
    /// The day.
    pub date: NaiveDate,
    /// Whom it was for, line by line.
    pub recipient: String,
    /// Tax on top of the prices, a share.
    pub tax: Decimal,
    /// What the tax is called.
    pub tax_name: String,
    /// A gallery's commission, a share.
    pub commission: Option<Decimal>,
    /// Freight and packing.
    pub freight: Money,
    /// Days until it is paid, delivered, or comes back.
    pub days: Option<u32>,
    /// Terms.
    pub terms: String,
    /// Its lines, at least one.
    pub lines: Vec<DemoPaperLine>,
}

/// A line of a paper.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DemoPaperLine {
    /// The design, or the finished piece.
    pub of: DemoLineOf,
    /// How many.
    pub quantity: u32,
    /// The price of one.
    pub price: Money,
}

/// What a line is of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DemoLineOf {
    /// A design, by code.
    Design(DesignCode),
    /// A finished piece, by number.
    Piece(String),
}

/// Reads the papers, oldest first.
pub(super) fn read(today: NaiveDate) -> Result<Vec<DemoPaper>, DemoProblem> {
    let tables = Tables::read("papers.txt", include_str!("../../../assets/demo/papers.txt"))?;
    let lines = tables.rows("line")?;
    tables.rows("paper")?.iter().map(|row| paper(today, row, lines)).collect()
}

fn paper(today: NaiveDate, row: &Row, lines: &[Row]) -> Result<DemoPaper, DemoProblem> {
    let key = row.text("key")?;
    let mut own = Vec::new();
    for of in lines {
        if of.text("paper")? == key {
            own.push(line(of)?);
        }
    }
    if own.is_empty() {
        return Err(row.problem(format!("{key} has no lines")));
    }
    let recipient: Vec<&str> = row.text("to")?.split(';').map(str::trim).collect();
    Ok(DemoPaper {
        kind: row.parsed("kind", "a kind of paper", NumberedKind::from_name)?,
        date: days_before(today, row)?,
        recipient: recipient.join("\n"),
        tax: row.number("tax")?,
        tax_name: row.text("called")?.to_owned(),
        commission: row.optional("commission", "a share", decimal)?,
        freight: row.money("freight")?,
        days: row.optional("days", "a number of days", |text| text.parse().ok())?,
        terms: row.text("terms")?.to_owned(),
        lines: own,
    })
}

fn line(row: &Row) -> Result<DemoPaperLine, DemoProblem> {
    let of = match row.text("piece")? {
        "" => DemoLineOf::Design(row.parsed("design", "a code", |text| DesignCode::new(text).ok())?),
        number => DemoLineOf::Piece(number.to_owned()),
    };
    Ok(DemoPaperLine { of, quantity: row.whole("quantity")?, price: row.money("price")? })
}
