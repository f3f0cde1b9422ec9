//! What an order form, an invoice, a consignment note or a certificate says, in the language it is written in.

use super::cards::PaperSize;
use super::language::Speech;
use super::picture::Image;
use super::statement::{OnePiece, Statement, StatementLine, SumLine, Table};
use super::ticket;
use crate::costing::paper_sums::{PaperSums, paper_sums};
use crate::measure::display::MINUS;
use crate::measure::{Decimal, Preferences, TooLarge};
use crate::studio::{DesignId, NumberedKind, NumberedPaper};
use chrono::{Days, NaiveDate};
use std::sync::Arc;

/// What is told where such a paper is made, and not on the paper itself.
pub const LAW: &str =
    "Tax and consignment law differ from place to place: ask a licensed professional before you rely on this paper.";

/// A paper to be put into words.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// What it is.
    pub kind: NumberedKind,
    /// Its number; none before it has one.
    pub number: Option<u32>,
    /// The day.
    pub date: NaiveDate,
    /// The paper.
    pub paper: &'a NumberedPaper,
    /// The book's currency and how numbers are written in English.
    pub preferences: &'a Preferences,
    /// The language, with her own words.
    pub speech: Speech<'a>,
    /// The page.
    pub size: PaperSize,
    /// A photo of the piece a certificate is of, where there is one.
    pub photo: Option<&'a Arc<Image>>,
}

impl Asked<'_> {
    fn phrase(&self, name: &str) -> String {
        self.speech.phrase(name).into_owned()
    }

    fn money(&self, amount: Decimal) -> String {
        ticket::words(amount, self.preferences, self.speech)
    }

    fn less(&self, amount: Decimal) -> String {
        if amount.is_zero() { self.money(amount) } else { format!("{MINUS}{}", self.money(amount)) }
    }

    /// The name of the tax, and how much of it.
    fn tax(&self, phrase: &str) -> String {
        let name = match self.paper.tax_name.trim() {
            "" => self.phrase("tax"),
            own => own.to_owned(),
        };
        self.speech.with(phrase, &[("tax", &name), ("rate", &self.speech.share(self.paper.tax))])
    }

    fn after_days(&self) -> Option<String> {
        let days = self.paper.days?;
        let day = self.date.checked_add_days(Days::new(days.into()))?;
        Some(self.speech.date(day))
    }
}

/// The title with its number: `Invoice no. 7`; without one `Invoice`.
pub fn title(kind: NumberedKind, number: Option<u32>, speech: Speech<'_>) -> String {
    let (plain, numbered) = match kind {
        NumberedKind::Order => ("order-form", "order-number"),
        NumberedKind::Invoice => ("invoice", "invoice-number"),
        NumberedKind::Consignment => ("consignment-note", "consignment-number"),
        NumberedKind::Certificate => ("certificate", "certificate"),
    };
    match number {
        None => speech.phrase(plain).into_owned(),
        Some(number) if kind == NumberedKind::Certificate => format!("{} {number}", speech.phrase(numbered)),
        Some(number) => speech.with(numbered, &[("number", &number.to_string())]),
    }
}

/// Puts a paper into words.
///
/// # Errors
/// [`TooLarge`] where a sum does not fit in 28 digits.
pub fn statement(asked: &Asked<'_>) -> Result<Statement, TooLarge> {
    let paper = asked.paper;
    let sums = paper_sums(paper, asked.preferences.currency)?;
    let certificate = asked.kind == NumberedKind::Certificate;
    let lines_of = |text: &str| -> Vec<String> {
        text.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned).collect()
    };
    let mut from = lines_of(&paper.from).into_iter();
    let studio = from.next().unwrap_or_default();
    let single = matches!(paper.lines.as_slice(), [only] if only.quantity == 1);
    Ok(Statement {
        language: asked.speech.language(),
        title: title(asked.kind, asked.number, asked.speech),
        studio,
        place: from.collect::<Vec<_>>().join(", "),
        recipient_label: asked.phrase("for-whom"),
        recipient: lines_of(&paper.recipient),
        facts: facts(asked),
        opening: if certificate && single { asked.phrase("certificate-text") } else { String::new() },
        piece: certificate.then(|| one_piece(asked)).flatten(),
        table: Table {
            code: asked.phrase("column-code"),
            what: asked.phrase("column-piece"),
            quantity: (!certificate || !single).then(|| asked.phrase("column-quantity")),
            money: (!certificate).then(|| {
                let price =
                    if asked.kind == NumberedKind::Consignment { "column-retail-price" } else { "column-price" };
                [asked.phrase(price), asked.phrase("column-sum")]
            }),
            carried: [asked.phrase("carried-forward"), asked.phrase("brought-forward")],
            lines: lines(asked, &sums)?,
        },
        sums: sum_lines(asked, &sums),
        sentences: sentences(asked),
        parts: parts(asked),
        signed_for: if asked.kind == NumberedKind::Consignment {
            asked.phrase("received-whole")
        } else {
            String::new()
        },
        signatures: signatures(asked),
        page_of: asked.phrase("page-of"),
        paper: asked.size,
    })
}

/// The design whose photo a paper shows: that of the one piece a certificate is of.
pub fn pictured(kind: NumberedKind, paper: &NumberedPaper) -> Option<DesignId> {
    match paper.lines.as_slice() {
        [only] if kind == NumberedKind::Certificate && only.quantity == 1 => only.design,
        _ => None,
    }
}

/// The piece a certificate is of, where it is of one.
fn one_piece(asked: &Asked<'_>) -> Option<OnePiece> {
    let [line] = asked.paper.lines.as_slice() else { return None };
    if line.quantity != 1 {
        return None;
    }
    let number = match (line.piece, line.code.trim()) {
        (_, "") => None,
        (Some(_), code) => Some(asked.speech.with("piece-number", &[("number", code)])),
        (None, code) => Some(code.to_owned()),
    };
    let told = line.note.lines().map(str::trim).filter(|fact| !fact.is_empty()).map(str::to_owned);
    Some(OnePiece {
        name: line.words.clone(),
        facts: number.into_iter().chain(told).collect(),
        lead: if line.bears_lead { asked.phrase("contains-lead") } else { String::new() },
        photo: asked.photo.map(Arc::clone),
    })
}

/// The day, and until when.
fn facts(asked: &Asked<'_>) -> Vec<[String; 2]> {
    let mut facts = vec![[asked.phrase("date"), asked.speech.date(asked.date)]];
    let until = match asked.kind {
        NumberedKind::Order => "deliver-by",
        NumberedKind::Invoice if asked.paper.days == Some(0) => {
            facts.push([String::new(), asked.phrase("due-at-once")]);
            return facts;
        }
        NumberedKind::Invoice => "due-by",
        NumberedKind::Consignment => "return-by",
        NumberedKind::Certificate => return facts,
    };
    if let Some(day) = asked.after_days() {
        facts.push([String::new(), asked.speech.with(until, &[("date", &day)])]);
    }
    facts
}

fn lines(asked: &Asked<'_>, sums: &PaperSums) -> Result<Vec<StatementLine>, TooLarge> {
    let mut so_far = Decimal::ZERO;
    let mut lines = Vec::with_capacity(asked.paper.lines.len());
    for (line, sum) in asked.paper.lines.iter().zip(&sums.lines) {
        so_far = crate::measure::exact::add(so_far, *sum)?;
        lines.push(StatementLine {
            code: line.code.clone(),
            words: line.words.clone(),
            note: line.note.lines().map(str::trim).collect::<Vec<_>>().join(" · "),
            lead: if line.bears_lead { asked.phrase("contains-lead") } else { String::new() },
            quantity: asked.speech.number(line.quantity.into()),
            price: asked.money(line.price.amount()),
            sum: asked.money(*sum),
            so_far: asked.money(so_far),
        });
    }
    Ok(lines)
}

fn sum_lines(asked: &Asked<'_>, sums: &PaperSums) -> Vec<SumLine> {
    let paper = asked.paper;
    let line = |label: String, amount: String| SumLine { label, amount, strong: false };
    let total = |name: &str, amount| SumLine { label: asked.phrase(name), amount: asked.money(amount), strong: true };
    let mut lines = Vec::new();
    let taxed = !paper.tax.is_zero();
    let goods = line(asked.phrase("sum-of-goods"), asked.money(sums.goods));
    let freight = (!sums.freight.is_zero()).then(|| line(asked.phrase("freight"), asked.money(sums.freight)));
    match asked.kind {
        NumberedKind::Certificate => {}
        NumberedKind::Order | NumberedKind::Invoice => {
            // A single amount that is all there is to pay needs no sum of its own.
            if freight.is_some() || (taxed && !paper.tax_in_price) {
                lines.push(goods);
            }
            lines.extend(freight);
            if taxed && !paper.tax_in_price {
                lines.push(line(asked.tax("tax-plus"), asked.money(sums.tax)));
            }
            lines.push(total("total", sums.whole));
            if taxed && paper.tax_in_price {
                lines.push(line(asked.tax("tax-within"), asked.money(sums.tax)));
            }
        }
        NumberedKind::Consignment => {
            lines.push(goods);
            lines.extend(freight);
            if taxed && paper.tax_in_price {
                lines.push(line(asked.tax("tax-within"), asked.less(sums.tax)));
            }
            if let Some(commission) = paper.commission.filter(|share| !share.is_zero()) {
                let label = asked.speech.with("commission-of", &[("rate", &asked.speech.share(commission))]);
                lines.push(line(label, asked.less(sums.commission)));
            }
            lines.push(total("due-to-maker", sums.to_maker));
        }
    }
    lines
}

fn sentences(asked: &Asked<'_>) -> Vec<String> {
    let mut said = Vec::new();
    if asked.kind == NumberedKind::Consignment && !asked.paper.tax.is_zero() {
        let phrase = if asked.paper.tax_in_price { "prices-with-tax" } else { "prices-without-tax" };
        said.push(asked.tax(phrase));
    }
    said
}

/// Terms and cautions.
fn parts(asked: &Asked<'_>) -> Vec<[String; 2]> {
    let mut terms = Vec::new();
    if asked.kind == NumberedKind::Consignment {
        terms.push(asked.phrase("consignment-terms"));
    }
    if !asked.paper.terms.trim().is_empty() {
        terms.push(asked.paper.terms.trim().to_owned());
    }
    let mut parts = Vec::new();
    if !terms.is_empty() {
        parts.push([asked.phrase("terms"), terms.join("\n")]);
    }
    if asked.paper.lines.iter().any(|line| line.bears_lead) {
        parts.push([asked.phrase("heading-cautions"), asked.phrase("caution-lead")]);
    }
    parts
}

fn signatures(asked: &Asked<'_>) -> Vec<[String; 2]> {
    let under = format!("{} · {}", asked.phrase("place-and-date"), asked.phrase("signature"));
    let of = |who: &str| [asked.phrase(who), under.clone()];
    match asked.kind {
        NumberedKind::Order => vec![of("signature-customer")],
        NumberedKind::Invoice => Vec::new(),
        NumberedKind::Consignment => vec![of("signature-maker"), of("signature-gallery")],
        NumberedKind::Certificate => vec![of("signature-maker")],
    }
}
