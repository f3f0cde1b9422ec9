//! Reading the form of an order: what is wrong with a field, and the order once nothing is.

use super::form::{Field, Form, Line, Part, pack_text};
use super::words;
use crate::costing::landed::{LandedProblem, SpreadBy};
use crate::measure::{Currency, Decimal, Money, Preferences, Quantity, Unit, parse};
use crate::studio::{OrderLine, Pack, PurchaseOrder};
use chrono::NaiveDate;

/// What stands in a field, or what is wrong with it.
pub(super) type Reading<T> = Result<T, String>;

/// A form and how it is read; the preferences are the book's.
#[derive(Clone, Copy)]
pub(super) struct Reader<'a> {
    pub(super) form: &'a Form,
    pub(super) preferences: &'a Preferences,
}

/// What is wrong with a field, if anything. What is only missing is told once the form was submitted.
pub(super) fn problem(form: &Form, field: Field, preferences: &Preferences) -> Option<String> {
    let with = Reader { form, preferences };
    if !form.tried && form.trimmed(field).is_empty() {
        return None;
    }
    match field {
        Field::Supplier | Field::Reference | Field::Note => None,
        Field::Date => with.date().err(),
        Field::Currency => with.currency().err(),
        Field::Rate => with.rate().err(),
        Field::Freight | Field::Duty | Field::Discount => with.charge(field).err(),
        Field::Line(key, part) => {
            let line = form.line(key)?;
            match part {
                Part::Packs => with.packs(line).err(),
                Part::Pack => with.pack(line).err().filter(|_| !line.is_held()),
                Part::Price => with.price(line).err(),
                Part::Weight => with.weight(line).err(),
            }
        }
    }
}

/// The first field that cannot be accepted.
pub(super) fn first_problem(form: &Form, preferences: &Preferences) -> Option<Field> {
    form.fields().find(|field| problem(form, *field, preferences).is_some())
}

/// The order, once every field can be read.
pub(super) fn order(form: &Form, preferences: &Preferences) -> Option<PurchaseOrder> {
    let with = Reader { form, preferences };
    let text = |field| form.trimmed(field).to_owned();
    let line = |line: &Line| {
        let pack = with.pack(line).ok()?;
        Some(OrderLine {
            id: line.row(),
            item: line.item,
            packs: with.packs(line).ok()?,
            pack: pack.quantity,
            pack_words: pack.words,
            price: with.price(line).ok()?,
            weight_g: with.weight(line).ok()?,
        })
    };
    Some(PurchaseOrder {
        supplier: text(Field::Supplier),
        reference: text(Field::Reference),
        date: with.date().ok()?,
        currency: with.currency().ok()?,
        rate: with.rate().ok()?,
        freight: with.charge(Field::Freight).ok()?,
        duty: with.charge(Field::Duty).ok()?,
        discount: with.charge(Field::Discount).ok()?,
        spread: form.spread,
        note: text(Field::Note),
        closed: form.closed,
        lines: form.lines.iter().map(line).collect::<Option<_>>()?,
    })
}

/// A day as typed.
pub(super) fn day(text: &str) -> Reading<NaiveDate> {
    text.parse().map_err(|_| format!("{text:?} cannot be read: write the day as year-month-day, e.g. 2026-03-14"))
}

/// Packs as typed; 0 is read too.
pub(super) fn number_of_packs(text: &str, preferences: &Preferences) -> Reading<Quantity> {
    let number = parse::parse_number(text, preferences).map_err(|problem| problem.to_string())?;
    Quantity::new(number).ok_or_else(|| format!("{text:?} has too many digits: write at most nine decimals"))
}

impl Reader<'_> {
    pub(super) fn date(&self) -> Reading<NaiveDate> {
        day(self.form.trimmed(Field::Date))
    }

    pub(super) fn currency(&self) -> Reading<Currency> {
        Currency::from_code(&self.form.trimmed(Field::Currency).to_uppercase())
            .map_err(|problem| format!("{problem}: write its three letters"))
    }

    /// True where the order's currency is not the book's.
    pub(super) fn is_foreign(&self) -> bool {
        self.currency().is_ok_and(|currency| currency != self.preferences.currency)
    }

    pub(super) fn rate(&self) -> Reading<Decimal> {
        if !self.is_foreign() {
            return Ok(Decimal::ONE);
        }
        let text = self.form.trimmed(Field::Rate);
        let rate = parse::parse_number(text, self.preferences).map_err(|problem| problem.to_string())?;
        if rate.is_zero() {
            let order = self.currency()?;
            let book = self.preferences.currency;
            return Err(LandedProblem::RateNotAboveZero { rate, order, book }.to_string());
        }
        Ok(rate)
    }

    fn money(&self, text: &str) -> Reading<Money> {
        let currency = self.currency().unwrap_or(self.preferences.currency);
        parse::parse_money(text, &words::with_currency(self.preferences, currency))
            .map_err(|problem| problem.to_string())
    }

    /// Freight, duty or discount; nothing typed is nothing to pay.
    pub(super) fn charge(&self, field: Field) -> Reading<Money> {
        match self.form.trimmed(field) {
            "" => Ok(Money::ZERO),
            text => self.money(text),
        }
    }

    pub(super) fn packs(&self, line: &Line) -> Reading<Quantity> {
        let text = self.form.trimmed(Field::Line(line.key, Part::Packs));
        let packs = number_of_packs(text, self.preferences)?;
        if packs.is_zero() {
            return Err(format!("{text:?} is none: write how many packs, above 0"));
        }
        if packs < line.came {
            let came = words::count(line.came, self.preferences);
            return Err(format!("{text:?} is less than the {came} that came: write {came} or more"));
        }
        Ok(packs)
    }

    pub(super) fn pack(&self, line: &Line) -> Reading<Pack> {
        let text = self.form.trimmed(Field::Line(line.key, Part::Pack));
        // What was read once is not read another way because other units were chosen since.
        if let Some(before) = &line.before
            && (line.is_held() || text == pack_text(before, line.unit, self.preferences))
        {
            return Ok(Pack { words: before.pack_words.clone(), quantity: before.pack });
        }
        Pack::typed(text, line.unit, self.preferences).map_err(|problem| problem.to_string())
    }

    pub(super) fn price(&self, line: &Line) -> Reading<Money> {
        self.money(self.form.trimmed(Field::Line(line.key, Part::Price)))
    }

    pub(super) fn weight(&self, line: &Line) -> Reading<Option<Quantity>> {
        let text = self.form.trimmed(Field::Line(line.key, Part::Weight));
        if text.is_empty() {
            let charges = [Field::Freight, Field::Duty, Field::Discount];
            let charged = charges.iter().any(|field| self.charge(*field).is_ok_and(|amount| !amount.is_zero()));
            return if self.form.spread == SpreadBy::Weight && charged {
                Err("no weight is typed: write what all its packs weigh, or spread by value".to_owned())
            } else {
                Ok(None)
            };
        }
        parse::parse_quantity(text, Unit::Gram, self.preferences)
            .map(|typed| Some(typed.quantity()))
            .map_err(|problem| problem.to_string())
    }
}
