//! The selected item's movements with their running balance, and what is left of each lot.

use super::words;
use crate::book::{Snapshot, StockRow};
use crate::costing::stock::{self, Ledger};
use crate::measure::{Decimal, Preferences, display};
use crate::studio::{ItemId, LotId, Movement, MovementId, MovementKind};
use crate::window::widget::listing::Order;
use std::collections::BTreeMap;
use std::sync::Arc;

/// One movement, worded.
#[derive(Debug, Clone)]
pub(super) struct LedgerRow {
    pub(super) date: String,
    pub(super) kind: &'static str,
    pub(super) quantity: String,
    pub(super) cost: String,
    pub(super) on_hand: String,
    pub(super) value: String,
    pub(super) note: String,
}

/// What is left of a lot, worded.
#[derive(Debug, Clone)]
pub(super) struct Lot {
    pub(super) id: Option<LotId>,
    pub(super) words: String,
    pub(super) left: String,
    pub(super) value: String,
}

/// The movements of one item, as they were when the stock was as in `stock`.
#[derive(Debug)]
pub(super) struct Detail {
    pub(super) item: ItemId,
    pub(super) movements: Vec<Movement>,
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
            rows: Vec::new(),
            lots: Vec::new(),
            trouble: None,
            stock: Arc::clone(&snapshot.stock),
        };
        if let Some(row) = snapshot.item(item) {
            match stock::ledger(&detail.movements, snapshot.settings.valuation) {
                Ok(ledger) => detail.word(&ledger, row, preferences),
                Err(error) => detail.trouble = Some(format!("These movements cannot be valued: {error}")),
            }
        }
        if order == Order::Falling {
            detail.rows.reverse();
        }
        detail
    }

    /// True while it shows that item of that book.
    pub(super) fn is_of(&self, item: ItemId, snapshot: &Snapshot) -> bool {
        self.item == item && Arc::ptr_eq(&self.stock, &snapshot.stock)
    }

    fn word(&mut self, ledger: &Ledger, row: &StockRow, preferences: &Preferences) {
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
            .filter_map(|line| {
                let movement = by_id.get(&line.movement)?;
                let change = line.change.amount();
                let worth = line.value_change.amount();
                Some(LedgerRow {
                    date: movement.date.to_string(),
                    kind: words::done(movement.kind),
                    quantity: signed(change, quantity(change)),
                    cost: signed(worth, money(worth)),
                    on_hand: quantity(line.on_hand.amount()),
                    value: money(line.value.amount()),
                    note: note(movement, &quantity(movement.quantity.amount())),
                })
            })
            .collect();
        self.lots = ledger
            .layers
            .iter()
            .map(|layer| {
                let receipt = layer.lot.and_then(|lot| by_id.get(&MovementId(lot.0)));
                let words = match receipt {
                    Some(receipt) => lot_words(receipt),
                    None => "found by a count".to_owned(),
                };
                Lot {
                    id: layer.lot,
                    words,
                    left: quantity(layer.quantity.amount()),
                    value: if layer.value.is_zero() { String::new() } else { money(layer.value.amount()) },
                }
            })
            .collect();
    }
}

/// A lot by its day and what is known of it.
fn lot_words(receipt: &Movement) -> String {
    let number = receipt.lot_number.trim();
    let supplier = receipt.supplier.trim();
    let number = if number.is_empty() { String::new() } else { format!(", lot {number}") };
    let supplier = if supplier.is_empty() { String::new() } else { format!(", {supplier}") };
    format!("{}{number}{supplier}", receipt.date)
}

/// Everything else a movement says, in one line.
fn note(movement: &Movement, quantity: &str) -> String {
    let mut parts = Vec::new();
    if movement.kind == MovementKind::Count {
        parts.push(format!("counted {quantity}"));
    }
    let typed = movement.typed.trim();
    // What was typed is worth a word where it says it in another unit.
    if typed.chars().any(char::is_alphabetic) && typed.replace(' ', "") != quantity.replace(display::FIXED_SPACE, "") {
        parts.push(format!("typed {typed}"));
    }
    if !movement.lot_number.trim().is_empty() {
        parts.push(format!("lot {}", movement.lot_number.trim()));
    }
    for text in [movement.supplier.trim(), movement.note.trim()] {
        if !text.is_empty() {
            parts.push(text.replace(['\n', '\r', '\t'], " "));
        }
    }
    parts.join(" · ")
}
