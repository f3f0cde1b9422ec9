//! A movement being written down: what is typed, what it would come to, and the action it makes.

use super::words;
use crate::actions::{self, Receipt, Taking, WashBackCost};
use crate::book::{Snapshot, StockRow};
use crate::costing::reclaim::{reclaimed_cost, reclaimed_price};
use crate::costing::stock::{self, LedgerLine, StockError};
use crate::measure::{Money, Preferences, Quantity, Typed, display, parse};
use crate::studio::{ItemId, LotId, Movement, MovementId, MovementKind, ValuationMethod};
use crate::window::widget::Entry;
use crate::window::widget::mark::Mark;
use chrono::NaiveDate;
use iced::widget::combo_box;
use std::collections::BTreeMap;
use std::fmt;

/// A field of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// How much.
    Quantity,
    /// Whole landed cost of a receipt, or what a wash-back is taken in at.
    Cost,
    /// The item a wash-back was reclaimed from.
    From,
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
    pub(super) const ALL: [Self; 7] =
        [Self::Quantity, Self::Cost, Self::From, Self::Date, Self::LotNumber, Self::Supplier, Self::Note];

    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        format!("movement-{self:?}").to_lowercase()
    }
}

/// What reclaimed enamel is taken in at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TakenAt {
    /// Nothing.
    Nothing,
    /// A cost that is typed.
    Stated,
    /// What that much of an item costs; it follows the item.
    Item,
}

/// An item that enamel can be reclaimed from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Origin {
    /// The item.
    pub id: ItemId,
    words: String,
}

impl fmt::Display for Origin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.words)
    }
}

/// The item it was reclaimed from has no price on that day.
struct NoPrice;

/// What happens in the form.
#[derive(Debug, Clone)]
pub enum Change {
    /// A field was typed in.
    Typed(Field, String),
    /// Another kind of movement; what is typed stays.
    Kind(MovementKind),
    /// The lot a return goes back from; none is the latest that can give it.
    Lot(Option<LotId>),
    /// What a wash-back is taken in at.
    TakenAt(TakenAt),
    /// The item it was reclaimed from.
    From(ItemId),
}

/// The form as it stands.
#[derive(Debug, Clone)]
pub(super) struct Moving {
    pub(super) item: ItemId,
    pub(super) kind: MovementKind,
    entries: BTreeMap<Field, Entry>,
    pub(super) lot: Option<LotId>,
    pub(super) taken_at: TakenAt,
    /// The item a wash-back was reclaimed from, as chosen.
    pub(super) from: Option<Origin>,
    /// The items it can be reclaimed from.
    pub(super) origins: combo_box::State<Origin>,
    /// The movements of the item it was reclaimed from, by date then row.
    origin_movements: Option<Vec<Movement>>,
    /// It was submitted once: what is missing is told from now on.
    pub(super) tried: bool,
    /// Why the book refused it.
    pub(super) refusal: Option<String>,
    /// What it would come to, worded.
    pub(super) preview: Option<(Mark, String)>,
}

impl Moving {
    /// A form for an item, on that day.
    pub(super) fn new(row: &StockRow, kind: MovementKind, today: NaiveDate, snapshot: &Snapshot) -> Self {
        let alike = snapshot.stock.iter().filter(|other| other.item.unit == row.item.unit && !other.item.retired);
        let origins = alike
            .map(|other| Origin { id: other.id, words: format!("{} · {}", other.item.name, other.item.reference) });
        let entries =
            [(Field::Date, Entry::new(today.to_string())), (Field::Supplier, Entry::new(row.item.supplier.clone()))];
        Self {
            item: row.id,
            kind,
            entries: entries.into_iter().collect(),
            lot: None,
            taken_at: TakenAt::Nothing,
            from: None,
            origins: combo_box::State::new(origins.collect()),
            origin_movements: None,
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
            Change::TakenAt(taken_at) => self.taken_at = taken_at,
            Change::From(id) => {
                self.from = self.origins.options().iter().find(|origin| origin.id == id).cloned();
                self.origin_movements = None;
            }
        }
    }

    /// The item whose movements must be asked for, to know what a unit of it costs.
    pub(super) fn asks_for(&self) -> Option<ItemId> {
        let wanted = self.uses(Field::From) && self.origin_movements.is_none();
        self.from.as_ref().filter(|_| wanted).map(|origin| origin.id)
    }

    /// An item's movements, as the book told them.
    pub(super) fn learn(&mut self, item: ItemId, movements: &[Movement]) {
        if self.from.as_ref().is_some_and(|origin| origin.id == item) {
            self.origin_movements = Some(movements.to_vec());
        }
    }

    /// The book changed: what was told of the item it was reclaimed from may no longer hold.
    pub(super) fn forget(&mut self) {
        self.origin_movements = None;
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
            Field::Cost => {
                self.kind == MovementKind::Receipt
                    || (self.kind == MovementKind::WashBack && self.taken_at == TakenAt::Stated)
            }
            Field::From => self.kind == MovementKind::WashBack && self.taken_at == TakenAt::Item,
            Field::LotNumber | Field::Supplier => self.kind == MovementKind::Receipt,
        }
    }

    /// What is wrong with a field, if anything; what is only missing is told once the form was submitted.
    pub(super) fn problem(&self, field: Field, row: &StockRow, preferences: &Preferences) -> Option<String> {
        if !self.tried && self.trimmed(field).is_empty() {
            return None;
        }
        match field {
            Field::Quantity => self.quantity(row, preferences).err(),
            Field::Cost => self.cost(preferences).err(),
            Field::From => self
                .from
                .is_none()
                .then(|| "nothing is chosen: choose the item it was reclaimed from, kept in the same unit".to_owned()),
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

    fn cost(&self, preferences: &Preferences) -> Result<Money, String> {
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
                let cost = match self.taken_at {
                    TakenAt::Nothing => WashBackCost::Nothing,
                    TakenAt::Stated => WashBackCost::Stated(self.cost(preferences).ok()?),
                    TakenAt::Item => WashBackCost::FromItem(self.from.as_ref()?.id),
                };
                actions::Action::WashBack { taking, cost }
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
        if let Some(without) = self.without_price(row, method, preferences) {
            self.preview = Some((Mark::Caution, without));
            return;
        }
        self.preview = self.trial(row, method, preferences).map(|trial| {
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

    /// What that much of the item it was reclaimed from costs at the end of that day; an error where it has no price
    /// then, none while that is not known.
    fn reclaimed(&self, quantity: Quantity, method: ValuationMethod) -> Option<Result<Money, NoPrice>> {
        let movements = self.origin_movements.as_ref()?;
        let ledger = stock::ledger(movements, method).ok()?;
        let price = reclaimed_price(movements, &ledger, (self.date().ok()?, MovementId(i64::MAX)));
        Some(price.and_then(|price| reclaimed_cost(price, quantity).ok()).ok_or(NoPrice))
    }

    /// A sentence where the item it was reclaimed from has no price on that day.
    fn without_price(&self, row: &StockRow, method: ValuationMethod, preferences: &Preferences) -> Option<String> {
        let typed = self.quantity(row, preferences).ok().filter(|_| self.uses(Field::From))?;
        let none = self.reclaimed(typed.quantity(), method)?.is_err();
        let origin = self.from.as_ref().filter(|_| none)?;
        Some(format!("{origin} has neither stock nor an issue up to that day, so there is no cost to take"))
    }

    /// The movement as it would be written down last of its day.
    fn trial(&self, row: &StockRow, method: ValuationMethod, preferences: &Preferences) -> Option<Movement> {
        let typed = self.quantity(row, preferences).ok()?;
        let cost = match (self.kind, self.taken_at) {
            (MovementKind::Receipt, _) | (MovementKind::WashBack, TakenAt::Stated) => {
                Some(self.cost(preferences).ok()?)
            }
            (MovementKind::WashBack, TakenAt::Nothing) => Some(Money::ZERO),
            (MovementKind::WashBack, TakenAt::Item) => Some(self.reclaimed(typed.quantity(), method)?.ok()?),
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
