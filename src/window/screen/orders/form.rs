//! The form of an order: what is typed and chosen in it. `read` makes an order of it, `landed` says what it comes to.

use super::rows::{self, ItemOption};
use super::words;
use crate::book::StockRow;
use crate::costing::landed::SpreadBy;
use crate::measure::{Currency, Money, Preferences, Quantity, Unit, edit};
use crate::studio::{BookOrder, ItemId, OrderId, OrderLine, OrderLineId};
use crate::window::widget::Entry;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// The name of the field another line is picked in.
pub(super) const FIND: &str = "order-add";

/// A field of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// How many packs.
    Packs,
    /// The pack as it is bought.
    Pack,
    /// Price of all packs.
    Price,
    /// Weight of all packs.
    Weight,
}

/// A field of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// From whom.
    Supplier,
    /// The supplier's number of it, or her own.
    Reference,
    /// The day.
    Date,
    /// The order's currency.
    Currency,
    /// Units of the book's currency for one of the order's.
    Rate,
    /// Of the line with that key.
    Line(u32, Part),
    /// Freight and handling.
    Freight,
    /// Duty and tax.
    Duty,
    /// Taken off.
    Discount,
    /// Anything else.
    Note,
}

impl Field {
    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        match self {
            Self::Line(key, part) => format!("order-{part:?}-{key}").to_lowercase(),
            own => format!("order-{own:?}").to_lowercase(),
        }
    }
}

/// What happens in the form.
#[derive(Debug, Clone)]
pub enum Change {
    /// A field was typed in.
    Typed(Field, String),
    /// A line is taken away.
    Remove(u32),
    /// Charges are spread another way.
    Spread(SpreadBy),
    /// More is expected, or not: turned round.
    Closed,
}

/// A line of the form; what is typed of it lies with the other fields.
#[derive(Debug, Clone)]
pub(super) struct Line {
    /// Names its fields; from 1, never used again.
    pub(super) key: u32,
    pub(super) item: ItemId,
    pub(super) name: String,
    pub(super) unit: Unit,
    pub(super) lead: bool,
    /// The line as it is in the book, where it is there.
    pub(super) before: Option<OrderLine>,
    /// Packs that came of it.
    pub(super) came: Quantity,
    /// What it cost landed as the book has it, where something came of it.
    pub(super) was: Option<Money>,
    /// What it costs landed, worded: the figure, how it comes about, what moves.
    pub(super) landed: String,
    pub(super) how: String,
    pub(super) moves: Option<String>,
}

impl Line {
    /// Its row in the book.
    pub(super) fn row(&self) -> Option<OrderLineId> {
        self.before.as_ref().and_then(|before| before.id)
    }

    /// Something of it came: its item and pack stay.
    pub(super) fn is_held(&self) -> bool {
        !self.came.is_zero()
    }
}

/// The form as it stands.
#[derive(Debug, Clone)]
pub(super) struct Form {
    pub(super) id: Option<OrderId>,
    pub(super) title: String,
    entries: BTreeMap<Field, Entry>,
    pub(super) lines: Vec<Line>,
    /// What another line shall be of, as typed, and the items like it.
    pub(super) wanted: String,
    pub(super) found: Vec<ItemOption>,
    next_key: u32,
    pub(super) spread: SpreadBy,
    /// Nothing more is expected.
    pub(super) closed: bool,
    /// It was submitted once: what is missing is told from now on.
    pub(super) tried: bool,
    /// Why it was refused.
    pub(super) refusal: Option<String>,
    /// What the lines add up to, worded.
    pub(super) sum: String,
    /// Why what it comes to cannot be said.
    pub(super) trouble: Option<String>,
}

impl Form {
    /// An order of that day, in the book's currency.
    pub(super) fn new(today: NaiveDate, currency: Currency) -> Self {
        let entries = [(Field::Date, Entry::new(today.to_string())), (Field::Currency, Entry::new(currency.code()))];
        Self {
            id: None,
            title: "A new order".to_owned(),
            entries: entries.into_iter().collect(),
            lines: Vec::new(),
            wanted: String::new(),
            found: Vec::new(),
            next_key: 1,
            spread: SpreadBy::Value,
            closed: false,
            tried: false,
            refusal: None,
            sum: String::new(),
            trouble: None,
        }
    }

    /// An order as it is; `stock` gives its items, `was` what its lines cost landed.
    pub(super) fn of<'s>(
        book: &BookOrder,
        was: &[Money],
        stock: impl Fn(ItemId) -> Option<&'s StockRow>,
        preferences: &Preferences,
    ) -> Self {
        let order = &book.order;
        let own = words::with_currency(preferences, order.currency);
        let mut form = Self::new(order.date, order.currency);
        form.id = Some(book.id);
        form.title = format!("Order {}", order.title());
        form.spread = order.spread;
        form.closed = order.closed;
        let charge = |amount: Money| {
            if amount.is_zero() { String::new() } else { edit::edit_money(amount.amount(), &own) }
        };
        for (field, text) in [
            (Field::Supplier, order.supplier.clone()),
            (Field::Reference, order.reference.clone()),
            (Field::Rate, edit::edit_number(order.rate, preferences)),
            (Field::Freight, charge(order.freight)),
            (Field::Duty, charge(order.duty)),
            (Field::Discount, charge(order.discount)),
            (Field::Note, order.note.clone()),
        ] {
            form.set(field, text);
        }
        let left = book.to_come();
        for ((line, left), was) in order.lines.iter().zip(left).zip(was) {
            let Some(row) = stock(line.item) else { continue };
            let key = form.add(row);
            let pack = pack_text(line, row.item.unit, preferences);
            form.set(Field::Line(key, Part::Packs), edit::edit_number(line.packs.amount(), preferences));
            form.set(Field::Line(key, Part::Pack), pack);
            form.set(Field::Line(key, Part::Price), edit::edit_money(line.price.amount(), &own));
            if let Some(weight) = line.weight_g {
                form.set(Field::Line(key, Part::Weight), edit::edit_quantity(weight.amount(), Unit::Gram, preferences));
            }
            if let Some(added) = form.lines.last_mut() {
                added.before = Some(line.clone());
                added.came = line.packs.minus(left).unwrap_or_default();
                added.was = added.is_held().then_some(*was);
            }
        }
        form
    }

    /// A line of an item; its key. The pack it is usually bought in is filled in.
    pub(super) fn add(&mut self, row: &StockRow) -> u32 {
        let key = self.next_key;
        self.next_key = self.next_key.saturating_add(1);
        self.refusal = None;
        self.wanted.clear();
        self.found.clear();
        let usual = row.item.buying.pack.as_ref().map_or_else(String::new, |pack| pack.words.clone());
        self.set(Field::Line(key, Part::Pack), usual);
        self.lines.push(Line {
            key,
            item: row.id,
            name: row.item.name.clone(),
            unit: row.item.unit,
            lead: row.item.lead_bearing,
            before: None,
            came: Quantity::ZERO,
            was: None,
            landed: String::new(),
            how: String::new(),
            moves: None,
        });
        key
    }

    /// What another line shall be of was typed.
    pub(super) fn find(&mut self, text: String, options: &[ItemOption]) {
        self.found = rows::found(options, &text);
        self.wanted = text;
    }

    fn set(&mut self, field: Field, text: impl Into<String>) {
        self.entries.entry(field).or_default().set(text);
    }

    /// What a field holds, as typed.
    pub(super) fn text(&self, field: Field) -> &str {
        self.entries.get(&field).map_or("", Entry::text)
    }

    /// The same without blanks at its ends.
    pub(super) fn trimmed(&self, field: Field) -> &str {
        self.text(field).trim()
    }

    /// Takes note of a change.
    pub(super) fn change(&mut self, change: Change) {
        self.refusal = None;
        match change {
            Change::Typed(field, text) => self.entries.entry(field).or_default().type_in(text),
            Change::Remove(key) => self.lines.retain(|line| line.key != key || line.is_held()),
            Change::Spread(spread) => self.spread = spread,
            Change::Closed => self.closed = !self.closed,
        }
    }

    /// Gives every field its former text back; true when that changed something.
    #[allow(clippy::unnecessary_fold)] // `any` would stop at the first; every field goes back
    pub(super) fn revert(&mut self) -> bool {
        self.entries.values_mut().fold(false, |reverted, entry| entry.revert() || reverted)
    }

    /// Every field there is, in reading order.
    pub(super) fn fields(&self) -> impl Iterator<Item = Field> + '_ {
        let parts = [Part::Packs, Part::Pack, Part::Price, Part::Weight];
        let lines = self.lines.iter().flat_map(move |line| parts.map(|part| Field::Line(line.key, part)));
        [Field::Supplier, Field::Reference, Field::Date, Field::Currency, Field::Rate].into_iter().chain(lines).chain([
            Field::Freight,
            Field::Duty,
            Field::Discount,
            Field::Note,
        ])
    }

    /// The line with that key.
    pub(super) fn line(&self, key: u32) -> Option<&Line> {
        self.lines.iter().find(|line| line.key == key)
    }
}

/// The pack of a line as it stands in the form.
pub(super) fn pack_text(line: &OrderLine, unit: Unit, preferences: &Preferences) -> String {
    if line.pack_words.is_empty() {
        edit::edit_quantity(line.pack.amount(), unit, preferences)
    } else {
        line.pack_words.clone()
    }
}
