//! Reading the form of a paper: what is wrong with a field, and the paper as far as it can be read.

use super::form::{Field, Form, Line, Of, Part};
use crate::actions::Refusal;
use crate::book::Snapshot;
use crate::measure::{Decimal, Money, Preferences, parse};
use crate::paper::Speech;
use crate::paper::statement_lines::{
    MOST_DAYS, MOST_QUANTITY, NoPrice, PieceFacts, from, line_of_design, line_of_piece, price_in_force,
};
use crate::studio::{BookDesign, ChannelId, NumberedKind, NumberedPaper, PaperLine};
use crate::window::Shared;
use chrono::NaiveDate;

/// What stands in a field, or what is wrong with it.
pub(super) type Reading<T> = Result<T, String>;

/// A form and what it is read with.
#[derive(Clone, Copy)]
pub(super) struct Reader<'a> {
    form: &'a Form,
    snapshot: &'a Snapshot,
    preferences: &'a Preferences,
}

/// A day as typed.
pub(super) fn day(text: &str) -> Reading<NaiveDate> {
    text.trim()
        .parse()
        .map_err(|_| format!("{text:?} cannot be read: write the day as year-month-day, e.g. 2026-03-14"))
}

/// Which field a refusal of the book is about, where the form can tell.
pub(super) fn place_of(refusal: &Refusal, form: &Form) -> Option<Field> {
    let Refusal::Field { field, .. } = refusal else { return None };
    let long = |line: &&Line| form.trimmed(Field::Line(line.key, Part::Words)).chars().count() > 200;
    Some(match field.as_str() {
        "Recipient" => Field::Recipient,
        "Date" => Field::Date,
        "Lines" => Field::Add,
        "What it is" => Field::Line(form.lines.iter().find(long)?.key, Part::Words),
        "Tax" => Field::TaxName,
        "Freight" => Field::Freight,
        "Commission" => Field::Commission,
        "Days" => Field::Days,
        "Terms" => Field::Terms,
        _ => return None,
    })
}

impl<'a> Reader<'a> {
    pub(super) fn new(form: &'a Form, shared: &'a Shared) -> Self {
        Self { form, snapshot: &shared.snapshot, preferences: &shared.preferences }
    }
}

impl Reader<'_> {
    /// What is wrong with a field, if anything. What is only missing is told once the form was submitted.
    pub(super) fn problem(&self, field: Field) -> Option<String> {
        let form = self.form;
        if let Some((Some(at), why)) = &form.refusal
            && *at == field
        {
            return Some(why.clone());
        }
        match field {
            Field::Recipient => {
                let missing = form.recipient.text().is_empty() && form.kind != NumberedKind::Certificate;
                (missing && form.tried).then(|| "nobody is named: write the name and address it is for".to_owned())
            }
            Field::Add => {
                let none = form.lines.is_empty() && form.tried;
                none.then(|| "the paper has no lines: pick a design or a piece".to_owned())
            }
            Field::Date => self.date().err(),
            Field::Line(key, part) => self.line_problem(form.line(key)?, part),
            Field::Tax => self.tax().err(),
            Field::Freight => self.freight().err(),
            Field::Commission => self.commission().err(),
            Field::Days => self.days().err(),
            Field::TaxName | Field::Terms => None,
        }
    }

    fn line_problem(&self, line: &Line, part: Part) -> Option<String> {
        let text = self.form.trimmed(Field::Line(line.key, part));
        match part {
            Part::Words => {
                let missing = text.is_empty() && self.form.tried;
                missing.then(|| "nothing is written: write what it is".to_owned())
            }
            Part::Quantity => self.quantity(line).err(),
            // Where nothing was typed yet, a line in her own words only lacks its price.
            Part::Price if text.is_empty() && matches!(line.of, Of::Own) && !self.form.tried => None,
            Part::Price => self.price(line).err(),
        }
    }

    /// The first field that cannot be accepted.
    pub(super) fn first_problem(&self) -> Option<Field> {
        self.form.fields().find(|field| self.problem(*field).is_some())
    }

    pub(super) fn date(&self) -> Reading<NaiveDate> {
        day(self.form.trimmed(Field::Date))
    }

    fn is(&self, kind: NumberedKind) -> bool {
        self.form.kind == kind
    }

    fn share(&self, field: Field, what: &str) -> Reading<Option<Decimal>> {
        let text = self.form.trimmed(field);
        if text.is_empty() {
            return Ok(None);
        }
        let share = parse::parse_share(text, self.preferences).map_err(|problem| problem.to_string())?;
        if share >= Decimal::ONE {
            return Err(format!("{text:?} is the whole: {what} below 100 % is accepted"));
        }
        Ok(Some(share))
    }

    fn tax(&self) -> Reading<Decimal> {
        if self.is(NumberedKind::Certificate) {
            return Ok(Decimal::ZERO);
        }
        Ok(self.share(Field::Tax, "a tax")?.unwrap_or_default())
    }

    fn commission(&self) -> Reading<Option<Decimal>> {
        if self.is(NumberedKind::Consignment) { self.share(Field::Commission, "a commission") } else { Ok(None) }
    }

    fn freight(&self) -> Reading<Money> {
        match self.form.trimmed(Field::Freight) {
            "" => Ok(Money::ZERO),
            _ if self.is(NumberedKind::Certificate) => Ok(Money::ZERO),
            text => parse::parse_money(text, self.preferences).map_err(|problem| problem.to_string()),
        }
    }

    fn days(&self) -> Reading<Option<u32>> {
        match self.form.trimmed(Field::Days) {
            "" => Ok(None),
            _ if self.is(NumberedKind::Certificate) => Ok(None),
            text => parse::parse_count(text, 0..=MOST_DAYS, self.preferences)
                .map(Some)
                .map_err(|problem| problem.to_string()),
        }
    }

    fn quantity(&self, line: &Line) -> Reading<u32> {
        if matches!(line.of, Of::Piece(..)) {
            return Ok(1);
        }
        let text = self.form.trimmed(Field::Line(line.key, Part::Quantity));
        parse::parse_count(text, 1..=MOST_QUANTITY, self.preferences).map_err(|problem| problem.to_string())
    }

    fn design(&self, line: &Line) -> Option<&BookDesign> {
        match &line.of {
            Of::Design(id) => self.snapshot.design(*id),
            Of::Piece(of, _) => self.snapshot.design(of.design),
            Of::Own => None,
        }
    }

    /// The ticket in force of a line, or why there is none; nothing for a line that has no design.
    pub(super) fn ticket(&self, line: &Line) -> Option<Result<Money, NoPrice>> {
        let book = self.design(line)?;
        let accepted = |id: &ChannelId| self.snapshot.accepted(book.id, id).map(|(_, line)| line.ticket);
        Some(price_in_force(&book.design, self.form.channel.as_ref(), self.preferences.currency, accepted))
    }

    fn price(&self, line: &Line) -> Reading<Money> {
        if self.is(NumberedKind::Certificate) {
            return Ok(Money::ZERO);
        }
        let text = self.form.trimmed(Field::Line(line.key, Part::Price));
        if !text.is_empty() {
            return parse::parse_money(text, self.preferences).map_err(|problem| problem.to_string());
        }
        match self.ticket(line) {
            Some(Ok(price)) => Ok(price),
            Some(Err(problem @ NoPrice::NoTicket { .. })) => {
                Err(format!("{problem}: write its price, or accept a ticket in Prices"))
            }
            Some(Err(problem)) => Err(problem.to_string()),
            None => Err("nothing is typed: write the price of one".to_owned()),
        }
    }

    fn line(&self, line: &Line, speech: Speech<'_>) -> Option<PaperLine> {
        let (quantity, price) = (self.quantity(line).ok()?, self.price(line).ok()?);
        let length = self.snapshot.settings.length;
        let mut made = match &line.of {
            Of::Design(_) => line_of_design(self.design(line)?, quantity, price, length, speech),
            Of::Piece(of, firings) => {
                let facts = PieceFacts {
                    piece: &of.piece,
                    name: &of.name,
                    batch: of.batch_number,
                    firings: *firings,
                    design: self.design(line),
                };
                line_of_piece(&facts, self.form.kind, price, length, speech)
            }
            Of::Own => PaperLine {
                design: None,
                piece: None,
                code: String::new(),
                words: String::new(),
                note: String::new(),
                bears_lead: false,
                quantity,
                price,
            },
        };
        self.form.trimmed(Field::Line(line.key, Part::Words)).clone_into(&mut made.words);
        Some(made)
    }

    /// The paper as far as it can be read: what cannot is left out, and told at its field.
    pub(super) fn paper(&self) -> NumberedPaper {
        let form = self.form;
        let speech = Speech::new(form.language, &self.snapshot.own_words);
        NumberedPaper {
            language: form.language,
            from: from(&self.snapshot.settings),
            recipient: form.recipient.text(),
            lines: form.lines.iter().filter_map(|line| self.line(line, speech)).collect(),
            commission: self.commission().ok().flatten(),
            tax: self.tax().unwrap_or_default(),
            tax_name: form.trimmed(Field::TaxName).to_owned(),
            tax_in_price: form.tax_in_price,
            freight: self.freight().unwrap_or(Money::ZERO),
            days: self.days().ok().flatten(),
            terms: form.terms.text(),
        }
    }
}
