//! The rows of the list of papers, worded, searched and sorted.

use crate::costing::paper_sums::paper_sums;
use crate::measure::{Decimal, Preferences, display};
use crate::paper::statement_lines::comes_to;
use crate::studio::{BookNumberedPaper, NumberedId, NumberedKind};
use crate::window::widget::listing::Order;
use chrono::NaiveDate;

/// The column of the number.
pub(super) const NUMBER: usize = 0;
/// The column of the day.
pub(super) const DATE: usize = 1;
/// The column of whom it is for.
pub(super) const RECIPIENT: usize = 2;
/// The column of what it comes to.
pub(super) const SUM: usize = 3;

/// A row of the list.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) id: NumberedId,
    /// `Invoice 7`.
    pub(super) name: String,
    pub(super) date: String,
    pub(super) recipient: String,
    pub(super) sum: String,
    kind: NumberedKind,
    number: u32,
    day: NaiveDate,
    amount: Option<Decimal>,
    /// What is searched.
    folded: String,
}

/// What a kind is called, at the beginning of a sentence.
pub(super) const fn kind_words(kind: NumberedKind) -> &'static str {
    match kind {
        NumberedKind::Order => "Order form",
        NumberedKind::Invoice => "Invoice",
        NumberedKind::Consignment => "Consignment note",
        NumberedKind::Certificate => "Certificate",
    }
}

/// Every paper, worded.
pub(super) fn word_all(issued: &[BookNumberedPaper], preferences: &Preferences) -> Vec<Row> {
    issued.iter().map(|paper| word(paper, preferences)).collect()
}

/// Papers every word typed is found in, sorted by a column.
pub(super) fn shown(all: &[Row], text: &str, (column, order): (usize, Order)) -> Vec<Row> {
    let folded = text.to_lowercase();
    let typed: Vec<&str> = folded.split_whitespace().collect();
    let fits = |row: &&Row| typed.iter().all(|word| row.folded.contains(word));
    let mut rows: Vec<Row> = all.iter().filter(fits).cloned().collect();
    rows.sort_by(|a, b| {
        let by = match column {
            NUMBER => a.kind.cmp(&b.kind).then(a.number.cmp(&b.number)),
            RECIPIENT => a.recipient.to_lowercase().cmp(&b.recipient.to_lowercase()),
            SUM => a.amount.cmp(&b.amount),
            _ => a.day.cmp(&b.day).then(a.id.cmp(&b.id)),
        };
        match order {
            Order::Rising => by,
            Order::Falling => by.reverse(),
        }
    });
    rows
}

fn word(paper: &BookNumberedPaper, preferences: &Preferences) -> Row {
    let sums = paper_sums(&paper.paper, preferences.currency).ok();
    let amount = sums.and_then(|sums| comes_to(paper.kind, &sums));
    let name = format!("{} {}", kind_words(paper.kind), paper.number);
    let lines = paper.paper.lines.iter().map(|line| format!("{} {}", line.code, line.words));
    let lines = lines.collect::<Vec<_>>().join(" ");
    Row {
        id: paper.id,
        folded: format!("{name} {} {} {lines}", paper.date, paper.paper.recipient).to_lowercase(),
        name,
        date: paper.date.to_string(),
        recipient: paper.paper.recipient.lines().next().unwrap_or_default().to_owned(),
        sum: amount.map(|amount| display::money(amount, preferences)).unwrap_or_default(),
        kind: paper.kind,
        number: paper.number,
        day: paper.date,
        amount,
    }
}

/// How many there are, and how many of them are shown.
pub(super) fn summary(all: usize, shown: usize) -> String {
    let told = if all == 1 { "1 paper".to_owned() } else { format!("{all} papers") };
    if all == shown { format!("{told} went out") } else { format!("{shown} of {told}") }
}
