//! What the stock was worth on a day, by either method.

use crate::actions::StockValue;
use crate::book::Snapshot;
use crate::measure::{Preferences, display};
use crate::studio::ValuationMethod;
use crate::window::widget::listing::Event;
use crate::window::widget::{Entry, Listing};
use chrono::NaiveDate;

/// What happens on the page.
#[derive(Debug, Clone)]
pub enum Change {
    /// The day was typed in.
    Date(String),
    /// Another method.
    Method(ValuationMethod),
    /// Ask the book.
    Ask,
    /// In the list.
    List(Event),
}

/// One item with stock on that day.
#[derive(Debug, Clone)]
pub(super) struct WorthRow {
    pub(super) reference: String,
    pub(super) name: String,
    pub(super) quantity: String,
    pub(super) value: String,
}

/// The page as it stands.
#[derive(Debug)]
pub(super) struct Worth {
    pub(super) date: Entry,
    pub(super) method: ValuationMethod,
    pub(super) problem: Option<String>,
    /// The sentence with the total, and its lines.
    pub(super) answer: Option<(String, Vec<WorthRow>)>,
    pub(super) list: Listing,
    asked: Option<(NaiveDate, ValuationMethod)>,
}

impl Worth {
    /// The page, set to a day and to the book's own method.
    pub(super) fn new(today: NaiveDate, method: ValuationMethod) -> Self {
        Self {
            date: Entry::new(today.to_string()),
            method,
            problem: None,
            answer: None,
            list: Listing::new("stock-worth"),
            asked: None,
        }
    }

    /// The day and the method to ask the book for; none when the day cannot be read.
    pub(super) fn ask(&mut self) -> Option<(NaiveDate, ValuationMethod)> {
        match self.date.trimmed().parse::<NaiveDate>() {
            Ok(date) => {
                self.problem = None;
                self.asked = Some((date, self.method));
            }
            Err(_) => {
                self.problem = Some(format!(
                    "{:?} cannot be read: write the day as year-month-day, e.g. 2026-03-14",
                    self.date.trimmed()
                ));
                self.asked = None;
            }
        }
        self.asked
    }

    /// Words the book's answer.
    pub(super) fn answered(&mut self, value: &StockValue, snapshot: &Snapshot, preferences: &Preferences) {
        let Some((date, method)) = self.asked else { return };
        let total = display::money(value.total.amount(), preferences);
        let items = match value.lines.len() {
            0 => "nothing was on hand".to_owned(),
            1 => "1 item on hand".to_owned(),
            items => format!("{items} items on hand"),
        };
        let sentence = format!("Worth {total} at the end of {date} by {}; {items}", super::words::method(method));
        let rows = value
            .lines
            .iter()
            .filter_map(|(id, quantity, worth)| {
                let row = snapshot.item(*id)?;
                Some(WorthRow {
                    reference: row.item.reference.clone(),
                    name: row.item.name.clone(),
                    quantity: display::quantity(quantity.amount(), row.item.unit, preferences),
                    value: display::money(worth.amount(), preferences),
                })
            })
            .collect();
        self.answer = Some((sentence, rows));
    }
}
