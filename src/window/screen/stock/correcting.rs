//! A lot's price being corrected: what is typed, what it would move, and the action it makes.

use super::detail::lot_words;
use crate::actions;
use crate::book::Snapshot;
use crate::costing::correction::{CorrectionEffect, Shift};
use crate::measure::{Decimal, Money, Preferences, Unit, display, parse};
use crate::studio::{ItemId, LotId, Movement};
use crate::window::widget::Entry;
use chrono::NaiveDate;

/// A field of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Field {
    /// The whole landed cost.
    Cost,
    /// The day of the correction.
    Date,
    /// Why.
    Note,
}

impl Field {
    /// In reading order.
    const ALL: [Self; 3] = [Self::Cost, Self::Date, Self::Note];

    /// The name the focus is sent to.
    pub(super) const fn id(self) -> &'static str {
        match self {
            Self::Cost => "correction-cost",
            Self::Date => "correction-date",
            Self::Note => "correction-note",
        }
    }
}

/// A value before and after, worded.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Moved {
    pub(super) what: String,
    pub(super) before: String,
    pub(super) after: String,
}

/// What a cost would move, worded.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Effect {
    cost: Money,
    pub(super) lines: Vec<Moved>,
    pub(super) movements: String,
    pub(super) designs: String,
}

/// The form as it stands.
#[derive(Debug, Clone)]
pub(super) struct Correcting {
    pub(super) item: ItemId,
    pub(super) lot: LotId,
    pub(super) words: String,
    unit: Unit,
    came: NaiveDate,
    now: Money,
    cost: Entry,
    date: Entry,
    note: Entry,
    /// It was submitted once: what is missing is told from now on.
    pub(super) tried: bool,
    /// Why the book refused it.
    pub(super) refusal: Option<String>,
    /// The cost whose effect was asked for.
    asked: Option<Money>,
    pub(super) effect: Option<Effect>,
}

impl Correcting {
    /// A form for the lot a movement brought, on that day.
    pub(super) fn new(receipt: &Movement, unit: Unit, today: NaiveDate, preferences: &Preferences) -> Self {
        let now = receipt.cost.unwrap_or_default();
        Self {
            item: receipt.item,
            lot: LotId(receipt.id.0),
            words: format!("Lot of {}: it cost {}", lot_words(receipt), display::money(now.amount(), preferences)),
            unit,
            came: receipt.date,
            now,
            cost: Entry::default(),
            date: Entry::new(today.max(receipt.date).to_string()),
            note: Entry::default(),
            tried: false,
            refusal: None,
            asked: None,
            effect: None,
        }
    }

    /// What a field holds, as typed.
    pub(super) fn text(&self, field: Field) -> &str {
        match field {
            Field::Cost => self.cost.text(),
            Field::Date => self.date.text(),
            Field::Note => self.note.text(),
        }
    }

    /// Typed into a field.
    pub(super) fn type_in(&mut self, field: Field, text: String) {
        self.refusal = None;
        match field {
            Field::Cost => self.cost.type_in(text),
            Field::Date => self.date.type_in(text),
            Field::Note => self.note.type_in(text),
        }
    }

    /// Gives every field its former text back; true when that changed something.
    pub(super) fn revert(&mut self) -> bool {
        let fields = [self.cost.revert(), self.date.revert(), self.note.revert()];
        fields.contains(&true)
    }

    fn typed_cost(&self, preferences: &Preferences) -> Result<Money, String> {
        let cost = parse::parse_money(self.cost.trimmed(), preferences).map_err(|problem| problem.to_string())?;
        if cost == self.now {
            return Err(format!(
                "{:?} is what the lot costs already: write what it cost after all",
                self.cost.trimmed()
            ));
        }
        Ok(cost)
    }

    fn typed_date(&self) -> Result<NaiveDate, String> {
        let text = self.date.trimmed();
        let date: NaiveDate = text
            .parse()
            .map_err(|_| format!("{text:?} cannot be read: write the day as year-month-day, e.g. 2026-03-14"))?;
        if date < self.came {
            return Err(format!("{date} is before the lot came in: write {} or a later day", self.came));
        }
        Ok(date)
    }

    /// What is wrong with a field, if anything; what is only missing is told once the form was submitted.
    pub(super) fn problem(&self, field: Field, preferences: &Preferences) -> Option<String> {
        if !self.tried && self.text(field).trim().is_empty() {
            return None;
        }
        match field {
            Field::Cost => self.typed_cost(preferences).err(),
            Field::Date => self.typed_date().err(),
            Field::Note => None,
        }
    }

    /// The first field that cannot be accepted.
    pub(super) fn first_problem(&self, preferences: &Preferences) -> Option<Field> {
        Field::ALL.into_iter().find(|field| self.problem(*field, preferences).is_some())
    }

    /// The cost whose effect must be asked for, when another one is typed than was asked about.
    pub(super) fn ask(&mut self, preferences: &Preferences) -> Option<(LotId, Money)> {
        let typed = self.typed_cost(preferences).ok();
        if typed == self.asked {
            return None;
        }
        self.asked = typed;
        self.effect = None;
        typed.map(|cost| (self.lot, cost))
    }

    /// The book changed: what was told of the effect may no longer hold.
    pub(super) fn forget(&mut self) {
        self.asked = None;
        self.effect = None;
    }

    /// Words the book's answer.
    pub(super) fn answered(&mut self, effect: &CorrectionEffect, snapshot: &Snapshot, preferences: &Preferences) {
        if effect.lot == self.lot && self.asked == Some(effect.cost.after) {
            self.effect = Some(word(effect, (self.item, self.unit), snapshot, preferences));
        }
    }

    /// The action, once every field can be read and what it would move is on screen.
    pub(super) fn action(&self, preferences: &Preferences) -> Option<actions::Action> {
        let cost = self.typed_cost(preferences).ok()?;
        let date = self.typed_date().ok()?;
        self.effect.as_ref().filter(|effect| effect.cost == cost)?;
        Some(actions::Action::CorrectLot { lot: self.lot, date, cost, note: self.note.trimmed().to_owned() })
    }
}

fn word(
    effect: &CorrectionEffect,
    (item, unit): (ItemId, Unit),
    snapshot: &Snapshot,
    preferences: &Preferences,
) -> Effect {
    let money = |shift: Shift, what: String| Moved {
        what,
        before: display::money(shift.before.amount(), preferences),
        after: display::money(shift.after.amount(), preferences),
    };
    let mut lines = vec![
        money(effect.cost, "The lot, landed".to_owned()),
        money(effect.value, format!("On hand, {}", display::quantity(effect.on_hand.amount(), unit, preferences))),
        money(effect.issued, "Issued from the item".to_owned()),
    ];
    for (shift, what) in [(effect.written_off, "Written off"), (effect.returned, "Sent back")] {
        if shift.before != shift.after {
            lines.push(money(shift, what.to_owned()));
        }
    }
    let price = |price: Option<Decimal>| {
        price.map_or_else(|| "none".to_owned(), |price| display::unit_price(price, unit, preferences))
    };
    for (prices, what) in
        [(effect.book_price, "Unit price on hand"), (effect.replacement_price, "Unit price of the latest purchase")]
    {
        let [before, after] = prices;
        if before != after {
            lines.push(Moved { what: what.to_owned(), before: price(before), after: price(after) });
        }
    }
    let movements = match effect.lines.len() {
        0 => "No other movement costs anything else.".to_owned(),
        1 => "1 movement after it costs something else.".to_owned(),
        many => format!("{many} movements after it cost something else."),
    };
    Effect {
        cost: effect.cost.after,
        lines,
        movements: format!("{movements} What was cut or reclaimed from it follows."),
        designs: designs(effect, item, snapshot),
    }
}

/// The designs that take the item, and whether their price moves.
fn designs(effect: &CorrectionEffect, item: ItemId, snapshot: &Snapshot) -> String {
    let takes = snapshot.designs.iter().filter(|design| design.follows.materials.values().any(|id| *id == item));
    let names: Vec<String> = takes.map(|design| format!("{} {}", design.design.code, design.design.name)).collect();
    if names.is_empty() {
        return "No design takes its price from it.".to_owned();
    }
    let names = names.join(", ");
    let (prices, on) = if snapshot.settings.price_on_book_cost {
        (effect.book_price, "what the stock on hand cost")
    } else {
        (effect.replacement_price, "the latest purchase")
    };
    if prices[0] == prices[1] {
        format!("Designs that take it: {names}. Their price stays: they are costed on {on}.")
    } else {
        format!("Designs priced from it: {names}.")
    }
}
