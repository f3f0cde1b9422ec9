//! Row by row: what a file of movements says, and what is wrong with it.

use super::{Column, Fault, ImportItem, ImportMovement, MovementRow, MovementSheet, Planned, RowProblem, Shelf};
use crate::measure::money::{MONEY_LIMIT, MONEY_PLACES};
use crate::measure::quantity::{QUANTITY_LIMIT, QUANTITY_PLACES};
use crate::measure::{
    Decimal, LengthUnit, MassUnit, Money, ParseProblem, Preferences, Quantity, TemperatureUnit, ThicknessUnit, Unit,
    exact, parse,
};
use crate::studio::{Buying, Item, ItemDetails, MovementKind};
use chrono::{Datelike, NaiveDate};
use std::collections::BTreeMap;

/// What one line knows of its item.
#[derive(Clone, Copy)]
struct Known {
    item: ImportItem,
    unit: Unit,
}

/// A file being read.
pub(super) struct Reader<'a> {
    sheet: &'a MovementSheet,
    shelf: &'a Shelf,
    preferences: Preferences,
    references: BTreeMap<&'a str, Known>,
    /// References, then names, in lower case; none where two items share one.
    folded: BTreeMap<String, Option<Known>>,
    names: BTreeMap<String, Option<Known>>,
    pub(super) planned: Planned,
}

impl<'a> Reader<'a> {
    pub(super) fn new(sheet: &'a MovementSheet, shelf: &'a Shelf) -> Self {
        let (mut references, mut folded, mut names) = (BTreeMap::new(), BTreeMap::new(), BTreeMap::new());
        for (id, reference, name, unit) in &shelf.items {
            let known = Known { item: ImportItem::Known(*id), unit: *unit };
            references.insert(reference.as_str(), known);
            for (map, text) in [(&mut folded, reference), (&mut names, name)] {
                map.entry(text.to_lowercase()).and_modify(|one| *one = None).or_insert(Some(known));
            }
        }
        let preferences = Preferences {
            currency: shelf.currency,
            numbers: shelf.numbers,
            temperature: TemperatureUnit::Celsius,
            length: LengthUnit::Millimetre,
            mass: MassUnit::Gram,
            thickness: ThicknessUnit::Gauge,
        };
        Self { sheet, shelf, preferences, references, folded, names, planned: Planned::default() }
    }

    fn problem(&mut self, row: usize, column: Column, text: impl Into<String>, fault: Fault) {
        let label = self.sheet.labels.get(column.place()).map_or("", String::as_str);
        let column = if label.is_empty() { column.name() } else { label }.to_owned();
        self.planned.problems.push(RowProblem { row, column, text: text.into(), fault });
    }

    /// Reads one row.
    pub(super) fn row(&mut self, row: &MovementRow) {
        let number = row.row;
        let text = |column: Column| row.texts.get(column.place()).map_or("", |text| text.trim());
        let mut fine = true;
        let mut say = |this: &mut Self, column: Column, words: String| {
            this.problem(number, column, words, Fault::File);
            fine = false;
        };
        let date = match day(text(Column::Date)) {
            Ok(date) => Some(date),
            Err(words) => {
                say(self, Column::Date, words);
                None
            }
        };
        let unit_text = text(Column::Unit);
        let known = match self.item(text(Column::Item), unit_text) {
            Ok(known) => Some(known),
            Err((column, words)) => {
                say(self, column, words);
                None
            }
        };
        let kind = match kind(text(Column::Movement)) {
            Ok(kind) => Some(kind),
            Err(words) => {
                say(self, Column::Movement, words);
                None
            }
        };
        let quantity =
            known.and_then(|known| match self.quantity(text(Column::Quantity), unit_text, known.unit, kind) {
                Ok(quantity) => Some(quantity),
                Err((column, words)) => {
                    say(self, column, words);
                    None
                }
            });
        let cost = match self.cost(text(Column::Cost), kind, quantity) {
            Ok(cost) => cost,
            Err(words) => {
                say(self, Column::Cost, words);
                None
            }
        };
        let note = row.texts.get(Column::Note.place()).map_or("", String::as_str);
        if note.chars().count() > 10_000 || note.chars().any(|letter| letter.is_control() && !"\n\r\t".contains(letter))
        {
            say(
                self,
                Column::Note,
                "text of up to 10,000 characters without control characters is accepted".to_owned(),
            );
        }
        if let Some(date) = date
            && let Some(until) = self.shelf.closed_until.filter(|until| date <= *until)
        {
            let words = format!("the period up to {until} is closed; a day after it is accepted, {date} was given");
            self.problem(number, Column::Date, words, Fault::Book);
        }
        match (date, known, kind, quantity) {
            (Some(date), Some(known), Some(kind), Some(quantity)) if fine => {
                let typed = format!("{} {unit_text}", text(Column::Quantity)).trim_end().to_owned();
                let note = note.trim().to_owned();
                let item = known.item;
                self.planned.plan.movements.push(ImportMovement {
                    row: number,
                    item,
                    date,
                    kind,
                    quantity,
                    cost,
                    typed,
                    note,
                    lot_number: String::new(),
                    supplier: None,
                });
            }
            _ => {
                if let Some(known) = known {
                    self.planned.unsure.insert(known.item);
                }
            }
        }
    }

    /// The item of a line: one of the book, one already made by an earlier line, or one made now.
    fn item(&mut self, text: &str, unit: &str) -> Result<Known, (Column, String)> {
        let refuse = |words: &str| Err((Column::Item, words.to_owned()));
        if text.is_empty() {
            return refuse("nothing is written; the item's reference is accepted, e.g. EN-041");
        }
        if let Some(known) = self.references.get(text) {
            return Ok(*known);
        }
        let folded = text.to_lowercase();
        for map in [&self.folded, &self.names] {
            match map.get(&folded) {
                Some(Some(known)) => return Ok(*known),
                Some(None) => {
                    let words = format!("more than one item of the book is {text:?}; its reference is accepted");
                    return Err((Column::Item, words));
                }
                None => {}
            }
        }
        if text.chars().count() > 200 || text.chars().any(char::is_control) {
            return refuse("a reference or name of up to 200 characters on one line is accepted");
        }
        let kept = unit_of(unit, &self.preferences).ok_or_else(|| {
            let words = if unit.is_empty() {
                format!("nothing is written, and {text:?} is not in the book yet; the unit to keep it in is accepted: {UNITS}")
            } else {
                format!("{unit:?} is not a unit known here; {UNITS} are accepted")
            };
            (Column::Unit, words)
        })?;
        let new_items = &mut self.planned.plan.new_items;
        let known = Known { item: ImportItem::New(new_items.len()), unit: kept };
        new_items.push(Item {
            // A long text is a name; it is given a reference like any other item.
            reference: if text.chars().count() <= 40 { text.to_owned() } else { String::new() },
            name: text.to_owned(),
            unit: kept,
            details: ItemDetails::Consumable,
            maker: String::new(),
            maker_number: String::new(),
            supplier: String::new(),
            shelf: String::new(),
            note: String::new(),
            reorder_level: None,
            lead_bearing: false,
            retired: false,
            buying: Buying::default(),
        });
        self.folded.insert(folded, Some(known));
        Ok(known)
    }

    fn quantity(
        &self,
        text: &str,
        unit: &str,
        kept: Unit,
        kind: Option<MovementKind>,
    ) -> Result<Quantity, (Column, String)> {
        if text.is_empty() {
            return Err((Column::Quantity, "nothing is written; a number is accepted, e.g. 12.5".to_owned()));
        }
        let number = to_grain(text, QUANTITY_PLACES);
        let whole = if unit.is_empty() { number } else { format!("{number} {unit}") };
        let typed = parse::parse_quantity(&whole, kept, &self.preferences).map_err(|problem| match problem {
            ParseProblem::UnknownUnit { .. } => {
                let unit = if unit.is_empty() { text } else { unit };
                (Column::Unit, format!("{unit:?} was given; a unit that measures the same as {kept}, which the item is kept in, is accepted"))
            }
            other => (Column::Quantity, other.to_string()),
        })?;
        let quantity = typed.quantity();
        if quantity.is_zero() && kind != Some(MovementKind::Count) {
            return Err((Column::Quantity, format!("{text:?} is nothing; a number above 0 is accepted")));
        }
        if quantity.amount() > Decimal::from(QUANTITY_LIMIT) {
            return Err((
                Column::Quantity,
                format!("{text:?} is too large; up to {QUANTITY_LIMIT} {kept} is accepted"),
            ));
        }
        Ok(quantity)
    }

    fn cost(
        &self,
        text: &str,
        kind: Option<MovementKind>,
        quantity: Option<Quantity>,
    ) -> Result<Option<Money>, String> {
        let Some(kind) = kind else { return Ok(None) };
        if text.is_empty() {
            return match kind {
                MovementKind::Receipt => {
                    Err("nothing is written; the landed cost of the whole lot is accepted, 0 if it was free".to_owned())
                }
                MovementKind::WashBack => Ok(Some(Money::ZERO)),
                _ => Ok(None),
            };
        }
        let cost = parse::parse_money(&to_grain(text, MONEY_PLACES), &self.preferences)
            .map_err(|problem| problem.to_string())?;
        if !kind.is_lot() {
            return if cost.is_zero() {
                Ok(None)
            } else {
                Err(format!(
                    "{text:?} was given; nothing is accepted: the cost of {} {} comes from the lots",
                    if kind == MovementKind::Issue { "an" } else { "a" },
                    kind.name()
                ))
            };
        }
        let price = quantity.map(|quantity| exact::div(cost.amount(), quantity.amount()));
        if price.is_some_and(|price| price.is_err() || price.is_ok_and(|price| price > Decimal::from(MONEY_LIMIT))) {
            return Err(format!("{text:?} was given; a price of up to {MONEY_LIMIT} a unit is accepted"));
        }
        Ok(Some(cost))
    }
}

const UNITS: &str = "g, kg, oz, lb, mm, cm, m, in, ft, ml, l or each";

/// The unit an item is kept in whose first line is in `text`.
fn unit_of(text: &str, preferences: &Preferences) -> Option<Unit> {
    if text.is_empty() || text.starts_with(|first: char| first.is_ascii_digit()) {
        return None;
    }
    Unit::ALL.into_iter().find(|unit| parse::parse_quantity(&format!("1 {text}"), *unit, preferences).is_ok())
}

/// A plain number that is finer than the book's grain, as the sums of other programs often are, rounded half-even to it;
/// any other text as it is.
fn to_grain(text: &str, places: u32) -> String {
    let finer = text.split_once('.').is_some_and(|(whole, decimals)| {
        let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
        u32::try_from(decimals.len()).is_ok_and(|count| count > places) && digits(whole) && digits(decimals)
    });
    let number = finer.then(|| text.parse::<Decimal>().ok()).flatten();
    number.map_or_else(|| text.to_owned(), |number| exact::round(number, places).to_string())
}

/// A day as ISO 8601 writes it, 1900 to 2200.
fn day(text: &str) -> Result<NaiveDate, String> {
    const ACCEPTED: &str = "a day written year-month-day is accepted, e.g. 2026-03-14";
    if text.is_empty() {
        return Err(format!("nothing is written; {ACCEPTED}"));
    }
    let digits = text.len() == 10 && text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-');
    let date = digits.then(|| NaiveDate::parse_from_str(text, "%Y-%m-%d").ok()).flatten();
    date.filter(|date| (1900..=2200).contains(&date.year())).ok_or_else(|| format!("{text:?} was given; {ACCEPTED}"))
}

fn kind(text: &str) -> Result<MovementKind, String> {
    let name = text.to_lowercase().replace([' ', '_'], "-");
    MovementKind::from_name(&name).ok_or_else(|| {
        let given = if text.is_empty() { "nothing is written".to_owned() } else { format!("{text:?} was given") };
        format!("{given}; receipt, issue, return, count, write-off or wash-back is accepted")
    })
}
