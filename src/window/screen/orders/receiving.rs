//! What came of an order, being written down.

use super::read::{day, number_of_packs};
use super::words;
use crate::actions::{self, Delivered};
use crate::book::Snapshot;
use crate::costing::delivery::DeliveryProblem;
use crate::measure::{Preferences, Quantity, edit};
use crate::studio::{BookOrder, OrderId, OrderLineId};
use crate::window::widget::Entry;
use chrono::NaiveDate;

/// A field of the form; lines by their place, from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Field {
    /// The day.
    Date,
    /// Packs that came of a line.
    Packs(usize),
    /// Their lot number.
    Lot(usize),
}

impl Field {
    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        match self {
            Self::Date => "delivery-date".to_owned(),
            Self::Packs(place) => format!("delivery-packs-{place}"),
            Self::Lot(place) => format!("delivery-lot-{place}"),
        }
    }
}

/// What happens in the form.
#[derive(Debug, Clone)]
pub enum Change {
    /// A field was typed in.
    Typed(Field, String),
}

/// A line something is still to come of.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub(super) row: OrderLineId,
    pub(super) name: String,
    pub(super) lead: bool,
    /// `of 3 × 1 lb jar still to come`.
    pub(super) words: String,
    left: Quantity,
    packs: Entry,
    lot: Entry,
}

/// The form as it stands.
#[derive(Debug, Clone)]
pub(super) struct Receiving {
    pub(super) order: OrderId,
    pub(super) title: String,
    ordered: NaiveDate,
    date: Entry,
    pub(super) lines: Vec<Line>,
    pub(super) tried: bool,
    pub(super) refusal: Option<String>,
}

impl Receiving {
    /// All that is still to come, on that day.
    pub(super) fn new(of: &BookOrder, snapshot: &Snapshot, today: NaiveDate, preferences: &Preferences) -> Self {
        let mut lines = Vec::new();
        for (line, left) in of.order.lines.iter().zip(of.to_come()) {
            if let (Some(row), Some(item), false) = (line.id, snapshot.item(line.item), left.is_zero()) {
                lines.push(Line {
                    row,
                    name: item.item.name.clone(),
                    lead: item.item.lead_bearing,
                    words: format!("{} still to come", words::packs(left, line, item.item.unit, preferences)),
                    left,
                    packs: Entry::new(edit::edit_number(left.amount(), preferences)),
                    lot: Entry::default(),
                });
            }
        }
        Self {
            order: of.id,
            title: format!("What came of order {}", of.order.title()),
            ordered: of.order.date,
            date: Entry::new(today.max(of.order.date).to_string()),
            lines,
            tried: false,
            refusal: None,
        }
    }

    fn entry(&mut self, field: Field) -> Option<&mut Entry> {
        match field {
            Field::Date => Some(&mut self.date),
            Field::Packs(place) => self.lines.get_mut(place.checked_sub(1)?).map(|line| &mut line.packs),
            Field::Lot(place) => self.lines.get_mut(place.checked_sub(1)?).map(|line| &mut line.lot),
        }
    }

    /// What a field holds, as typed.
    pub(super) fn text(&self, field: Field) -> &str {
        let line = |place: usize| place.checked_sub(1).and_then(|place| self.lines.get(place));
        match field {
            Field::Date => self.date.text(),
            Field::Packs(place) => line(place).map_or("", |line| line.packs.text()),
            Field::Lot(place) => line(place).map_or("", |line| line.lot.text()),
        }
    }

    /// Takes note of a change.
    pub(super) fn change(&mut self, change: Change) {
        self.refusal = None;
        let Change::Typed(field, text) = change;
        if let Some(entry) = self.entry(field) {
            entry.type_in(text);
        }
    }

    /// Gives every field its former text back; true when that changed something.
    pub(super) fn revert(&mut self) -> bool {
        let mut reverted = self.date.revert();
        for line in &mut self.lines {
            reverted |= line.packs.revert();
            reverted |= line.lot.revert();
        }
        reverted
    }

    fn date(&self) -> Result<NaiveDate, String> {
        let date = day(self.date.trimmed())?;
        if date < self.ordered {
            return Err(format!("{date} is before the order: write {} or later", self.ordered));
        }
        Ok(date)
    }

    /// Packs that came of a line; nothing typed is none.
    fn packs(line: &Line, preferences: &Preferences) -> Result<Quantity, String> {
        if line.packs.is_empty() {
            return Ok(Quantity::ZERO);
        }
        let came = number_of_packs(line.packs.trimmed(), preferences)?;
        if came > line.left {
            return Err(DeliveryProblem::MoreThanOrdered { came, left: line.left }.to_string());
        }
        Ok(came)
    }

    /// What is wrong with a field, if anything.
    pub(super) fn problem(&self, field: Field, preferences: &Preferences) -> Option<String> {
        match field {
            Field::Date => self.date().err().filter(|_| self.tried || !self.date.is_empty()),
            Field::Packs(place) => {
                let line = place.checked_sub(1).and_then(|place| self.lines.get(place))?;
                Self::packs(line, preferences).err()
            }
            Field::Lot(_) => None,
        }
    }

    /// The first field that cannot be accepted.
    pub(super) fn first_problem(&self, preferences: &Preferences) -> Option<Field> {
        let lines = (1..=self.lines.len()).map(Field::Packs);
        std::iter::once(Field::Date).chain(lines).find(|field| self.problem(*field, preferences).is_some())
    }

    /// The action, once every field can be read; why there is none where nothing came.
    pub(super) fn action(&self, preferences: &Preferences) -> Result<actions::Action, String> {
        let mut came = Vec::new();
        for line in &self.lines {
            let packs = Self::packs(line, preferences)?;
            if !packs.is_zero() {
                came.push(Delivered {
                    line: line.row,
                    packs,
                    lot_number: line.lot.trimmed().to_owned(),
                    note: String::new(),
                });
            }
        }
        if came.is_empty() {
            return Err("Nothing came: write the packs that came of at least one line.".to_owned());
        }
        Ok(actions::Action::ReceiveOrder { order: self.order, date: self.date()?, lines: came })
    }
}
