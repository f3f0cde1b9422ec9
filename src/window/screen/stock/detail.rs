//! The selected item's movements with their running balance, what is left of each lot, and what is to be traced.

use super::words;
use crate::book::{Snapshot, StockRow};
use crate::costing::stock::{self, Ledger, LedgerLine};
use crate::costing::trace::{Trace, trace};
use crate::measure::{Decimal, Money, Preferences, display};
use crate::studio::{ItemId, LotCorrection, LotId, Movement, MovementId, MovementKind};
use crate::window::widget::listing::Order;
use std::collections::BTreeMap;
use std::sync::Arc;

/// One movement, worded.
#[derive(Debug, Clone)]
pub(super) struct LedgerRow {
    pub(super) id: MovementId,
    pub(super) date: String,
    pub(super) kind: &'static str,
    pub(super) come: String,
    pub(super) gone: String,
    /// In or out, where there is one column for both.
    pub(super) quantity: String,
    pub(super) cost: String,
    pub(super) on_hand: String,
    pub(super) value: String,
    pub(super) lot: String,
    pub(super) note: String,
}

/// What is left of a lot, worded.
#[derive(Debug, Clone)]
pub(super) struct Lot {
    pub(super) id: Option<LotId>,
    /// What brought it.
    pub(super) movement: Option<MovementId>,
    /// It can go back to a supplier.
    pub(super) bought: bool,
    pub(super) words: String,
    pub(super) left: String,
    /// What is left of how much, what that is worth, and what all of it cost.
    pub(super) line: String,
}

/// The movements of one item, as they were when the stock was as in `stock`.
#[derive(Debug)]
pub(super) struct Detail {
    pub(super) item: ItemId,
    pub(super) movements: Vec<Movement>,
    /// Corrections of its lots, oldest first; none until the book has told them.
    pub(super) corrections: Vec<LotCorrection>,
    /// The movements valued, in their order.
    pub(super) lines: Vec<LedgerLine>,
    pub(super) trace: Trace,
    pub(super) rows: Vec<LedgerRow>,
    pub(super) lots: Vec<Lot>,
    pub(super) trouble: Option<String>,
    stock: Arc<Vec<StockRow>>,
}

impl Detail {
    /// Values and words an item's movements, ordered by date then row, by the book's method.
    pub(super) fn new(
        item: ItemId,
        movements: Vec<Movement>,
        order: Order,
        snapshot: &Snapshot,
        preferences: &Preferences,
    ) -> Self {
        let mut detail = Self {
            item,
            movements,
            corrections: Vec::new(),
            lines: Vec::new(),
            trace: Trace::default(),
            rows: Vec::new(),
            lots: Vec::new(),
            trouble: None,
            stock: Arc::clone(&snapshot.stock),
        };
        detail.value(order, snapshot, preferences);
        detail
    }

    /// Takes note of the corrections of its lots and marks what they moved.
    pub(super) fn correct(
        &mut self,
        corrections: Vec<LotCorrection>,
        order: Order,
        snapshot: &Snapshot,
        preferences: &Preferences,
    ) {
        if corrections != self.corrections {
            self.corrections = corrections;
            self.value(order, snapshot, preferences);
        }
    }

    fn value(&mut self, order: Order, snapshot: &Snapshot, preferences: &Preferences) {
        let Some(row) = snapshot.item(self.item) else { return };
        let method = snapshot.settings.valuation;
        let valued = stock::ledger(&self.movements, method).and_then(|ledger| Ok((ledger, trace(&self.movements)?)));
        let (ledger, trace) = match valued {
            Ok(valued) => valued,
            Err(error) => {
                self.trouble = Some(format!("These movements cannot be valued: {error}"));
                return;
            }
        };
        let before = if self.corrections.is_empty() { None } else { stock::ledger(&self.as_written(), method).ok() };
        self.trace = trace;
        self.word(&ledger, before.as_ref(), row, preferences);
        self.lines = ledger.lines;
        if order == Order::Falling {
            self.rows.reverse();
        }
    }

    /// The movements with each lot at what it was taken to cost before it was first corrected.
    fn as_written(&self) -> Vec<Movement> {
        let mut movements = self.movements.clone();
        for movement in &mut movements {
            if let Some(cost) = self.cost_before(movement.id) {
                movement.cost = Some(cost);
            }
        }
        movements
    }

    /// What a lot was taken to cost before it was first corrected.
    pub(super) fn cost_before(&self, lot: MovementId) -> Option<Money> {
        self.corrections.iter().find(|correction| correction.lot.0 == lot.0).map(|correction| correction.before)
    }

    /// True while it shows that item of that book.
    pub(super) fn is_of(&self, item: ItemId, snapshot: &Snapshot) -> bool {
        self.item == item && Arc::ptr_eq(&self.stock, &snapshot.stock)
    }

    /// A movement with its line.
    pub(super) fn movement(&self, id: MovementId) -> Option<(&Movement, &LedgerLine)> {
        self.movements.iter().zip(&self.lines).find(|(movement, _)| movement.id == id)
    }

    fn word(&mut self, ledger: &Ledger, before: Option<&Ledger>, row: &StockRow, preferences: &Preferences) {
        let unit = row.item.unit;
        let quantity = |amount: Decimal| display::quantity(amount, unit, preferences);
        let signed = |amount: Decimal, words: String| {
            if amount > Decimal::ZERO { format!("+{words}") } else { words }
        };
        let money = |amount: Decimal| display::money(amount, preferences);
        let by_id: BTreeMap<MovementId, &Movement> =
            self.movements.iter().map(|movement| (movement.id, movement)).collect();
        self.rows = ledger
            .lines
            .iter()
            .enumerate()
            .filter_map(|(place, line)| {
                let movement = by_id.get(&line.movement)?;
                let change = line.change.amount();
                let worth = line.value_change.amount();
                let moved = signed(change, quantity(change));
                let (come, gone) = if line.change.is_negative() {
                    (String::new(), moved.clone())
                } else if line.change.is_zero() {
                    (String::new(), String::new())
                } else {
                    (moved.clone(), String::new())
                };
                let was = before.and_then(|before| before.lines.get(place)).map(|line| line.value_change.amount());
                let was = was.filter(|was| *was != worth).map(|was| money(was.abs()));
                Some(LedgerRow {
                    id: movement.id,
                    date: movement.date.to_string(),
                    kind: words::done(movement.kind),
                    come,
                    gone,
                    quantity: moved,
                    cost: signed(worth, money(worth)),
                    on_hand: quantity(line.on_hand.amount()),
                    value: money(line.value.amount()),
                    lot: lot_number(movement, &by_id),
                    note: note(movement, &quantity(movement.quantity.amount()), was.as_deref()),
                })
            })
            .collect();
        let sources = self.trace.sources.iter().filter(|source| !source.left.is_zero());
        let lots = ledger.layers.iter().zip(sources).map(|(layer, source)| {
            let movement = by_id.get(&source.source.movement());
            let receipt = movement.filter(|movement| movement.kind.is_lot());
            let left = quantity(layer.quantity.amount());
            let mut line = format!("{left} of {} left", quantity(source.came.amount()));
            if !layer.value.is_zero() {
                line.push_str(&format!(" · worth {}", money(layer.value.amount())));
            }
            if let Some(receipt) = receipt {
                line.push_str(&format!(" · cost {}", money(receipt.cost.unwrap_or_default().amount())));
            }
            if let Some(cost) = self.cost_before(source.source.movement()) {
                line.push_str(&format!(", {} before it was corrected", money(cost.amount())));
            }
            Lot {
                id: layer.lot,
                movement: movement.map(|movement| movement.id),
                bought: receipt.is_some_and(|receipt| receipt.kind == MovementKind::Receipt),
                words: movement.map_or_else(String::new, |movement| lot_words(movement)),
                left,
                line,
            }
        });
        self.lots = lots.collect();
    }
}

/// A lot by its day and what is known of it.
pub(super) fn lot_words(from: &Movement) -> String {
    match from.kind {
        MovementKind::WashBack => format!("{}, washed back", from.date),
        MovementKind::Receipt => {
            let number = from.lot_number.trim();
            let supplier = from.supplier.trim();
            let number = if number.is_empty() { String::new() } else { format!(", lot {number}") };
            let supplier = if supplier.is_empty() { String::new() } else { format!(", {supplier}") };
            format!("{}{number}{supplier}", from.date)
        }
        _ => format!("{}, found by a count", from.date),
    }
}

/// The maker's number of the lot that came or goes back; without one the lot's own in the book.
fn lot_number(movement: &Movement, by_id: &BTreeMap<MovementId, &Movement>) -> String {
    let lot = match movement.lot {
        Some(lot) => by_id.get(&MovementId(lot.0)).copied(),
        None => Some(movement).filter(|movement| movement.kind.is_lot()),
    };
    lot.map_or_else(String::new, |lot| match lot.lot_number.trim() {
        "" => format!("no. {}", lot.id.0),
        number => number.to_owned(),
    })
}

/// Everything else a movement says, in one line; first what it cost before a lot was corrected.
fn note(movement: &Movement, quantity: &str, was: Option<&str>) -> String {
    let mut parts = Vec::new();
    if let Some(was) = was {
        parts.push(format!("{was} before a correction"));
    }
    if movement.kind == MovementKind::Count {
        parts.push(format!("counted {quantity}"));
    }
    let typed = movement.typed.trim();
    // What was typed is worth a word where it says it in another unit.
    if typed.chars().any(char::is_alphabetic) && typed.replace(' ', "") != quantity.replace(display::FIXED_SPACE, "") {
        parts.push(format!("typed {typed}"));
    }
    for text in [movement.supplier.trim(), movement.note.trim()] {
        if !text.is_empty() {
            parts.push(text.replace(['\n', '\r', '\t'], " "));
        }
    }
    parts.join(" · ")
}
