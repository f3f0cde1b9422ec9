//! A movement being written down: what is typed, what it would come to, and the action it makes.

use super::words;
use crate::actions::{self, Receipt, Taking};
use crate::book::StockRow;
use crate::costing::stock::{self, LedgerLine, StockError};
use crate::measure::{Money, Preferences, Typed, display, parse};
use crate::studio::{ItemId, LotId, Movement, MovementId, MovementKind, ValuationMethod};
use crate::window::widget::Entry;
use crate::window::widget::mark::Mark;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// A field of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// How much.
    Quantity,
    /// Whole landed cost of a receipt.
    Cost,
    /// The day.
    Date,
    /// The maker's lot number.
    LotNumber,
    /// The supplier.
    Supplier,
    /// Why, or anything else.
    Note,
}

impl Field {
    /// In reading order.
    pub(super) const ALL: [Self; 6] =
        [Self::Quantity, Self::Cost, Self::Date, Self::LotNumber, Self::Supplier, Self::Note];

    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        format!("movement-{self:?}").to_lowercase()
    }
}

/// What happens in the form.
#[derive(Debug, Clone)]
pub enum Change {
    /// A field was typed in.
    Typed(Field, String),
    /// Another kind of movement; what is typed stays.
    Kind(MovementKind),
    /// The lot a return goes back from; none is the latest that can give it.
    Lot(Option<LotId>),
}

/// The form as it stands.
#[derive(Debug, Clone)]
pub(super) struct Moving {
    pub(super) item: ItemId,
    pub(super) kind: MovementKind,
    entries: BTreeMap<Field, Entry>,
    pub(super) lot: Option<LotId>,
    /// It was submitted once: what is missing is told from now on.
    pub(super) tried: bool,
    /// Why the book refused it.
    pub(super) refusal: Option<String>,
    /// What it would come to, worded.
    pub(super) preview: Option<(Mark, String)>,
}

impl Moving {
    /// A form for an item, on that day.
    pub(super) fn new(row: &StockRow, kind: MovementKind, today: NaiveDate) -> Self {
        let entries =
            [(Field::Date, Entry::new(today.to_string())), (Field::Supplier, Entry::new(row.item.supplier.clone()))];
        Self {
            item: row.id,
            kind,
            entries: entries.into_iter().collect(),
            lot: None,
            tried: false,
            refusal: None,
            preview: None,
        }
    }

    /// What a field holds, as typed.
    pub(super) fn text(&self, field: Field) -> &str {
        self.entries.get(&field).map_or("", Entry::text)
    }

    fn trimmed(&self, field: Field) -> &str {
        self.text(field).trim()
    }

    /// Takes note of a change.
    pub(super) fn change(&mut self, change: Change) {
        self.refusal = None;
        match change {
            Change::Typed(field, text) => self.entries.entry(field).or_default().type_in(text),
            Change::Kind(kind) => self.kind = kind,
            Change::Lot(lot) => self.lot = lot,
        }
    }

    /// Gives every field its former text back; true when that changed something.
    #[allow(clippy::unnecessary_fold)] // `any` would stop at the first; every field goes back
    pub(super) fn revert(&mut self) -> bool {
        self.entries.values_mut().fold(false, |reverted, entry| entry.revert() || reverted)
    }

    /// True when a field counts for this kind of movement.
    pub(super) fn uses(&self, field: Field) -> bool {
        match field {
            Field::Quantity | Field::Date | Field::Note => true,
            Field::Cost => self.kind.is_lot(),
            Field::LotNumber | Field::Supplier => self.kind == MovementKind::Receipt,
        }
    }

    /// What is wrong with a field, if anything; what is only missing is told once the form was submitted.
    pub(super) fn problem(&self, field: Field, row: &StockRow, preferences: &Preferences) -> Option<String> {
        let free = field == Field::Cost && self.kind == MovementKind::WashBack;
        if (!self.tried || free) && self.trimmed(field).is_empty() {
            return None;
        }
        match field {
            Field::Quantity => self.quantity(row, preferences).err(),
            Field::Cost => self.cost(preferences).err(),
            Field::Date => self.date().err(),
            Field::LotNumber | Field::Supplier | Field::Note => None,
        }
    }

    /// The first field that cannot be accepted.
    pub(super) fn first_problem(&self, row: &StockRow, preferences: &Preferences) -> Option<Field> {
        Field::ALL.into_iter().find(|field| self.uses(*field) && self.problem(*field, row, preferences).is_some())
    }

    fn quantity(&self, row: &StockRow, preferences: &Preferences) -> Result<Typed, String> {
        let typed = parse::parse_quantity(self.trimmed(Field::Quantity), row.item.unit, preferences)
            .map_err(|problem| problem.to_string())?;
        if typed.value.is_zero() && self.kind != MovementKind::Count {
            return Err(format!("{:?} is nothing: write how much, above 0", typed.text));
        }
        Ok(typed)
    }

    /// The cost; a wash-back without one is taken in at nothing.
    fn cost(&self, preferences: &Preferences) -> Result<Money, String> {
        if self.kind == MovementKind::WashBack && self.trimmed(Field::Cost).is_empty() {
            return Ok(Money::ZERO);
        }
        parse::parse_money(self.trimmed(Field::Cost), preferences).map_err(|problem| problem.to_string())
    }

    fn date(&self) -> Result<NaiveDate, String> {
        let text = self.trimmed(Field::Date);
        text.parse().map_err(|_| format!("{text:?} cannot be read: write the day as year-month-day, e.g. 2026-03-14"))
    }

    /// The action, once every field can be read.
    pub(super) fn action(&self, row: &StockRow, preferences: &Preferences) -> Option<actions::Action> {
        let typed = self.quantity(row, preferences).ok()?;
        let date = self.date().ok()?;
        let note = self.trimmed(Field::Note).to_owned();
        let quantity = typed.quantity();
        if self.kind == MovementKind::Receipt {
            return Some(actions::Action::Receive(vec![Receipt {
                item: self.item,
                date,
                quantity,
                typed: typed.text,
                cost: self.cost(preferences).ok()?,
                lot_number: self.trimmed(Field::LotNumber).to_owned(),
                supplier: self.trimmed(Field::Supplier).to_owned(),
                note,
            }]));
        }
        let taking = Taking { item: self.item, date, quantity, typed: typed.text, note };
        Some(match self.kind {
            MovementKind::Issue => actions::Action::Issue(taking),
            MovementKind::Return => actions::Action::Return { taking, lot: self.lot },
            MovementKind::Count => actions::Action::Count(taking),
            MovementKind::WashBack => {
                actions::Action::WashBack { taking, cost: actions::WashBackCost::Stated(self.cost(preferences).ok()?) }
            }
            MovementKind::WriteOff | MovementKind::Receipt => actions::Action::WriteOff(taking),
        })
    }

    /// Words what the movement would come to after those there are (by date then row); nothing while it cannot be
    /// read.
    pub(super) fn look_ahead(
        &mut self,
        row: &StockRow,
        movements: &[Movement],
        method: ValuationMethod,
        preferences: &Preferences,
    ) {
        self.preview = self.trial(row, preferences).map(|trial| {
            let quantity = |amount| display::quantity(amount, row.item.unit, preferences);
            let mut all = movements.to_vec();
            let place = all.partition_point(|movement| movement.date <= trial.date);
            all.insert(place, trial.clone());
            match stock::ledger(&all, method) {
                Ok(ledger) => match ledger.lines.iter().find(|line| line.movement == trial.id) {
                    Some(line) => (Mark::Good, self.outcome(line, &trial, row, preferences)),
                    None => (Mark::Good, String::new()),
                },
                Err(StockError::NotEnough { date, on_hand, .. }) => {
                    (Mark::Caution, format!("Only {} on hand on {date}", quantity(on_hand.amount())))
                }
                Err(StockError::LotTooSmall { left, .. }) => {
                    (Mark::Caution, format!("The lot holds only {} on that day", quantity(left.amount())))
                }
                Err(error) => (Mark::Caution, error.to_string()),
            }
        });
        if let Some((_, words)) = &self.preview
            && words.is_empty()
        {
            self.preview = None;
        }
    }

    /// The movement as it would be written down last of its day.
    fn trial(&self, row: &StockRow, preferences: &Preferences) -> Option<Movement> {
        let typed = self.quantity(row, preferences).ok()?;
        let cost = match self.kind {
            MovementKind::Receipt | MovementKind::WashBack => Some(self.cost(preferences).ok()?),
            _ => None,
        };
        Some(Movement {
            id: MovementId(i64::MAX),
            item: self.item,
            date: self.date().ok()?,
            kind: self.kind,
            quantity: typed.quantity(),
            cost,
            lot: self.lot.filter(|_| self.kind == MovementKind::Return),
            lot_number: String::new(),
            supplier: String::new(),
            note: String::new(),
            typed: String::new(),
        })
    }

    fn outcome(&self, line: &LedgerLine, trial: &Movement, row: &StockRow, preferences: &Preferences) -> String {
        let unit = row.item.unit;
        let quantity = |amount| display::quantity(amount, unit, preferences);
        let worth = display::money(line.value_change.amount().abs(), preferences);
        let after = quantity(line.on_hand.amount());
        match self.kind {
            MovementKind::Receipt | MovementKind::WashBack => {
                let price = stock::unit_price(trial.cost.unwrap_or_default(), trial.quantity)
                    .map(|price| format!(" at {}", display::unit_price(price, unit, preferences)))
                    .unwrap_or_default();
                format!("{} come in{price}; {after} on hand after it", quantity(trial.quantity.amount()))
            }
            MovementKind::Count => {
                let Ok(before) = line.on_hand.minus(line.change) else { return String::new() };
                let book = format!("The book says {} on that day", quantity(before.amount()));
                let difference = quantity(line.change.amount().abs());
                if line.change.is_zero() {
                    format!("{book}, and so does the count")
                } else if line.change.is_negative() {
                    format!("{book}: {difference} less were counted, {worth} is written off")
                } else {
                    format!("{book}: {difference} more were counted, {worth} comes in")
                }
            }
            MovementKind::Issue | MovementKind::Return | MovementKind::WriteOff => {
                format!("{worth} is {}; {after} on hand after it", words::done(self.kind))
            }
        }
    }
}
