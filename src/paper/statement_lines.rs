//! What goes onto a paper that goes out: lines with the ticket in force, what a channel says of tax and commission, and
//! the number it will have. Every face makes its papers of these.

use super::language::Speech;
use super::ticket;
use super::words::bears_lead;
use crate::costing::paper_sums::PaperSums;
use crate::measure::{Currency, Decimal, Money};
use crate::studio::{
    BookDesign, BookNumberedPaper, Channel, ChannelId, Design, LengthUnit, NumberedKind, PaperLine, Piece, Settings,
    StudioRates,
};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// Most of one thing on a line.
pub const MOST_QUANTITY: u32 = 100_000;
/// Most days until a paper is paid, delivered or its pieces come back.
pub const MOST_DAYS: u32 = 3_650;

/// Why a design has no price that could stand on a paper.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NoPrice {
    /// No ticket was accepted.
    #[error("{code} has no ticket in force{}", .channel.as_ref().map(|id| format!(" on {id}")).unwrap_or_default())]
    NoTicket {
        /// The design's code.
        code: String,
        /// The channel it was asked for.
        channel: Option<ChannelId>,
    },
    /// Its ticket is in another currency than the book's.
    #[error("the ticket of {code} is in {currency}; say its price in {wanted}")]
    OtherCurrency {
        /// The design's code.
        code: String,
        /// Its currency.
        currency: Currency,
        /// The book's.
        wanted: Currency,
    },
    /// The ticket does not fit.
    #[error("the ticket of {code} is {amount}, too large")]
    TooLarge {
        /// The design's code.
        code: String,
        /// The ticket.
        amount: Decimal,
    },
}

/// The ticket in force of a design on a channel, or without one on its retail channels, in the book's currency.
///
/// # Errors
/// Where none was accepted, or it is in another currency.
pub fn price_in_force(
    design: &Design,
    channel: Option<&ChannelId>,
    currency: Currency,
    accepted: impl Fn(&ChannelId) -> Option<Decimal>,
) -> Result<Money, NoPrice> {
    let code = || design.code.as_str().to_owned();
    let found = ticket::chosen(design, &[], channel, accepted)
        .ok_or_else(|| NoPrice::NoTicket { code: code(), channel: channel.cloned() })?;
    if design.currency != currency {
        return Err(NoPrice::OtherCurrency { code: code(), currency: design.currency, wanted: currency });
    }
    Money::new(found.amount).ok_or_else(|| NoPrice::TooLarge { code: code(), amount: found.amount })
}

/// What a channel says of tax and commission.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct SalesTerms {
    /// Tax on the sum, a share.
    pub tax: Decimal,
    /// The tax is in the prices.
    pub tax_in_price: bool,
    /// A gallery's commission, a share; consignment notes only.
    pub commission: Option<Decimal>,
}

/// What a paper of a kind takes from a channel; no tax and no commission without one.
pub fn sales_terms(kind: NumberedKind, channel: Option<&Channel>) -> SalesTerms {
    channel.map_or_else(SalesTerms::default, |channel| SalesTerms {
        tax: channel.tax,
        tax_in_price: channel.tax_in_price,
        commission: (kind == NumberedKind::Consignment).then_some(channel.commission),
    })
}

/// Every channel there is, by id: the studio's in their order, then those only designs have.
pub fn channels<'a>(rates: &'a StudioRates, designs: impl IntoIterator<Item = &'a Design>) -> Vec<&'a Channel> {
    let mut all: Vec<&Channel> = rates.channels.iter().collect();
    let mut own: BTreeMap<&ChannelId, &Channel> = BTreeMap::new();
    for channel in designs.into_iter().flat_map(|design| &design.channels) {
        let _ = own.entry(&channel.id).or_insert(channel);
    }
    own.retain(|id, _| !all.iter().any(|known| known.id == **id));
    all.extend(own.into_values());
    all
}

/// A line of a design. `length` is the unit a chain's length is given in.
pub fn line_of_design(
    book: &BookDesign,
    quantity: u32,
    price: Money,
    length: LengthUnit,
    speech: Speech<'_>,
) -> PaperLine {
    PaperLine {
        design: Some(book.id),
        piece: None,
        code: book.design.code.as_str().to_owned(),
        words: book.design.name.clone(),
        note: speech.materials_line(&book.design, length),
        bears_lead: bears_lead(&book.design),
        quantity,
        price,
    }
}

/// A finished piece, as a paper tells of it.
#[derive(Debug, Clone, Copy)]
pub struct PieceFacts<'a> {
    /// The piece.
    pub piece: &'a Piece,
    /// What it is called.
    pub name: &'a str,
    /// The number of its batch.
    pub batch: u32,
    /// How often it was fired; none where that is not known.
    pub firings: Option<usize>,
    /// Its design, where it is in the book.
    pub design: Option<&'a BookDesign>,
}

/// A line of one finished piece. On a certificate all that is known of it stands under its name, a fact a line: what it
/// is made of, how often it was fired, its batch, the day it was finished.
pub fn line_of_piece(
    facts: &PieceFacts<'_>,
    kind: NumberedKind,
    price: Money,
    length: LengthUnit,
    speech: Speech<'_>,
) -> PaperLine {
    let certificate = kind == NumberedKind::Certificate;
    let materials = facts.design.map(|book| speech.materials_line(&book.design, length));
    let materials = materials.map(|line| if certificate { capital(&line) } else { line });
    let told = materials.into_iter().chain(certificate.then_some(()).into_iter().flat_map(|()| {
        let fired = facts.firings.and_then(|firings| speech.fired(firings));
        let batch = speech.with("batch-of", &[("number", &facts.batch.to_string())]);
        let finished = facts.piece.finished.map(|day| speech.with("finished-on", &[("date", &speech.date(day))]));
        fired.into_iter().chain([batch]).chain(finished).map(|fact| capital(&fact))
    }));
    PaperLine {
        design: facts.design.map(|book| book.id),
        piece: Some(facts.piece.id),
        code: facts.piece.number.clone().unwrap_or_default(),
        words: facts.name.to_owned(),
        note: told.collect::<Vec<_>>().join("\n"),
        bears_lead: facts.design.is_some_and(|book| bears_lead(&book.design)),
        quantity: 1,
        price,
    }
}

/// A fact as a line of its own begins.
fn capital(fact: &str) -> String {
    let mut letters = fact.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Who a paper is from: the studio's name, and under it where it is.
pub fn from(settings: &Settings) -> String {
    let told = [settings.studio_name.trim(), settings.studio_place.trim()];
    told.into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join("\n")
}

/// What a paper comes to: what is to be paid, or what comes to the maker; nothing on a certificate.
pub fn comes_to(kind: NumberedKind, sums: &PaperSums) -> Option<Decimal> {
    match kind {
        NumberedKind::Certificate => None,
        NumberedKind::Consignment => Some(sums.to_maker),
        NumberedKind::Order | NumberedKind::Invoice => Some(sums.whole),
    }
}

/// The number the next paper of a kind will have, from 1.
pub fn next_number(kind: NumberedKind, issued: &[BookNumberedPaper]) -> u32 {
    let last = issued.iter().filter(|paper| paper.kind == kind).map(|paper| paper.number).max();
    last.unwrap_or_default().saturating_add(1)
}

/// Whom papers were for, each once, the latest first.
pub fn recipients(issued: &[BookNumberedPaper]) -> Vec<&str> {
    let mut told: Vec<(NaiveDate, &str)> = issued
        .iter()
        .map(|paper| (paper.date, paper.paper.recipient.trim()))
        .filter(|(_, recipient)| !recipient.is_empty())
        .collect();
    told.sort_by_key(|(date, _)| std::cmp::Reverse(*date));
    let mut once: Vec<&str> = Vec::new();
    for (_, recipient) in told {
        if !once.contains(&recipient) {
            once.push(recipient);
        }
    }
    once
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::studio::{BatchId, Language, NumberedId, NumberedPaper, PieceId};

    fn day(day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 3, day).unwrap()
    }

    fn issued(kind: NumberedKind, number: u32, date: NaiveDate, recipient: &str) -> BookNumberedPaper {
        BookNumberedPaper {
            id: NumberedId(i64::from(number)),
            kind,
            number,
            date,
            paper: NumberedPaper {
                language: Language::English,
                from: String::new(),
                recipient: recipient.to_owned(),
                lines: Vec::new(),
                commission: None,
                tax: Decimal::ZERO,
                tax_name: String::new(),
                tax_in_price: false,
                freight: Money::ZERO,
                days: None,
                terms: String::new(),
            },
        }
    }

    #[test]
    fn numbers_run_for_each_kind_and_recipients_are_told_once() {
        let book = [
            issued(NumberedKind::Invoice, 2, day(5), "Skerry Gallery\nLower Orrin"),
            issued(NumberedKind::Invoice, 1, day(3), "Mole Street Shop"),
            issued(NumberedKind::Order, 4, day(9), "Mole Street Shop"),
            issued(NumberedKind::Certificate, 1, day(9), " "),
        ];
        assert_eq!(NumberedKind::ALL.map(|kind| next_number(kind, &book)), [5, 3, 1, 2]);
        assert_eq!(recipients(&book), ["Mole Street Shop", "Skerry Gallery\nLower Orrin"]);
    }

    #[test]
    fn a_certificate_tells_what_is_known_of_a_piece() {
        let piece = Piece {
            id: PieceId(1),
            batch: BatchId(1),
            place: 3,
            number: Some("SUNDOWN-0002".to_owned()),
            finished: Some(day(14)),
            second: false,
            note: String::new(),
        };
        let facts = PieceFacts { piece: &piece, name: "Sundown panel", batch: 7, firings: Some(5), design: None };
        let line =
            |kind, language| line_of_piece(&facts, kind, Money::ZERO, LengthUnit::Millimetre, Speech::plain(language));
        let english = line(NumberedKind::Certificate, Language::English);
        assert_eq!((english.code.as_str(), english.quantity), ("SUNDOWN-0002", 1));
        assert_eq!(english.note, "Fired five times\nBatch 7\nFinished on 14 March 2026");
        let german = line(NumberedKind::Certificate, Language::German);
        assert!(german.note.starts_with("Fünfmal gebrannt\n"), "{}", german.note);
        assert_eq!(line(NumberedKind::Invoice, Language::English).note, "");
    }
}
