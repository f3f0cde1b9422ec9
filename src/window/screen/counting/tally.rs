//! What is counted, shelf by shelf: what is typed, what it differs by and what that is worth.

use crate::actions::{self, Counted};
use crate::book::{Snapshot, StockRow};
use crate::costing::counting::{CountedItem, together};
use crate::measure::parse::{Typed, parse_quantity};
use crate::measure::{Decimal, Preferences, display};
use crate::paper::count_model::{OnShelf, by_shelf, same};
use crate::studio::ItemId;
use crate::window::desk::Request;
use crate::window::widget::Entry;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// One item of a shelf, worded.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub(super) id: ItemId,
    pub(super) name: String,
    pub(super) reference: String,
    pub(super) lead: bool,
    pub(super) aside: bool,
    pub(super) on_hand: String,
    /// The unit, or what was understood of what is typed.
    pub(super) unit: String,
    pub(super) problem: Option<String>,
    pub(super) difference: String,
    pub(super) value: String,
}

/// The items of a shelf.
#[derive(Debug, Clone)]
pub(super) struct Shelf {
    pub(super) name: String,
    pub(super) lines: Vec<Line>,
}

/// The count as it stands. What is typed stays when another shelf is looked at.
#[derive(Debug)]
pub(super) struct Tally {
    /// The shelf on screen; none for all of them.
    pub(super) shelf: Option<String>,
    pub(super) names: Vec<String>,
    pub(super) shown: Vec<Shelf>,
    typed: BTreeMap<ItemId, Entry>,
    /// The item that was typed for last.
    latest: Option<ItemId>,
    previews: BTreeMap<ItemId, CountedItem>,
    pub(super) date: Entry,
    pub(super) note: Entry,
    pub(super) date_problem: Option<String>,
    /// Why the book does not take it.
    pub(super) refusal: Option<String>,
    /// It was submitted once: what cannot be read is told from now on.
    pub(super) tried: bool,
    pub(super) progress: String,
    pub(super) total: String,
    /// Everything typed can be read and has its difference.
    pub(super) ready: bool,
    pub(super) lead: bool,
}

impl Tally {
    pub(super) fn new(today: NaiveDate) -> Self {
        Self {
            shelf: None,
            names: Vec::new(),
            shown: Vec::new(),
            typed: BTreeMap::new(),
            latest: None,
            previews: BTreeMap::new(),
            date: Entry::new(today.to_string()),
            note: Entry::default(),
            date_problem: None,
            refusal: None,
            tried: false,
            progress: String::new(),
            total: String::new(),
            ready: false,
            lead: false,
        }
    }

    /// What is typed for an item.
    pub(super) fn text(&self, id: ItemId) -> &str {
        self.typed.get(&id).map_or("", Entry::text)
    }

    /// Nothing was typed yet.
    pub(super) fn is_empty(&self) -> bool {
        self.typed.values().all(Entry::is_empty)
    }

    /// The book changed: nothing is known of the differences any longer.
    pub(super) fn follow(&mut self, snapshot: &Snapshot, preferences: &Preferences) {
        self.typed.retain(|id, _| snapshot.item(*id).is_some());
        self.previews.clear();
        self.names = by_shelf(on_shelves(snapshot)).into_iter().map(|(name, _)| name).collect();
        let here = |shelf: &String| self.names.iter().any(|name| same(name, shelf));
        if self.names.len() > 1 && self.shelf.as_ref().is_some_and(|shelf| !here(shelf)) {
            self.shelf = None;
        }
        self.word(snapshot, preferences);
    }

    /// Looks at another shelf.
    pub(super) fn choose(&mut self, shelf: Option<String>, snapshot: &Snapshot, preferences: &Preferences) {
        self.shelf = shelf;
        self.word(snapshot, preferences);
    }

    /// The first item on screen, or the one after another.
    pub(super) fn after(&self, id: Option<ItemId>) -> Option<ItemId> {
        let mut lines = self.shown.iter().flat_map(|shelf| &shelf.lines).map(|line| line.id);
        match id {
            Some(id) => lines.skip_while(|other| *other != id).nth(1),
            None => lines.next(),
        }
    }

    /// Takes note of what is typed for an item; what to ask the book about it.
    pub(super) fn type_in(
        &mut self,
        id: ItemId,
        text: String,
        snapshot: &Snapshot,
        preferences: &Preferences,
    ) -> Option<Request> {
        self.typed.entry(id).or_default().type_in(text);
        self.latest = Some(id);
        self.previews.remove(&id);
        self.refusal = None;
        self.word(snapshot, preferences);
        self.question(Some(id), snapshot, preferences)
    }

    /// Another day: all differences are asked for anew.
    pub(super) fn type_date(
        &mut self,
        text: String,
        snapshot: &Snapshot,
        preferences: &Preferences,
    ) -> Option<Request> {
        self.date.type_in(text);
        self.previews.clear();
        self.refusal = None;
        self.word(snapshot, preferences);
        self.question(None, snapshot, preferences)
    }

    /// What to ask the book: of everything that is typed and can be read, or of one item.
    pub(super) fn question(
        &mut self,
        of: Option<ItemId>,
        snapshot: &Snapshot,
        preferences: &Preferences,
    ) -> Option<Request> {
        let date = self.day()?;
        let mut counts = self.counts(snapshot, preferences);
        counts.retain(|count| of.is_none_or(|id| id == count.item));
        (!counts.is_empty()).then_some(Request::CountPreview { date, counts })
    }

    /// The day, and what is wrong with it.
    fn day(&mut self) -> Option<NaiveDate> {
        let text = self.date.trimmed();
        let day = text.parse().ok();
        self.date_problem =
            day.is_none().then(|| format!("{text:?} cannot be read: write the day as year-month-day, e.g. 2026-03-14"));
        day
    }

    fn read(&self, row: &StockRow, preferences: &Preferences) -> Option<Result<Typed, String>> {
        let entry = self.typed.get(&row.id).filter(|entry| !entry.is_empty())?;
        Some(parse_quantity(entry.trimmed(), row.item.unit, preferences).map_err(|problem| problem.to_string()))
    }

    /// What is typed and can be read.
    fn counts(&self, snapshot: &Snapshot, preferences: &Preferences) -> Vec<Counted> {
        let rows = self.typed.keys().filter_map(|id| snapshot.item(*id));
        rows.filter_map(|row| {
            let typed = self.read(row, preferences)?.ok()?;
            Some(Counted {
                item: row.id,
                quantity: typed.quantity(),
                typed: typed.text,
                note: self.note.trimmed().to_owned(),
            })
        })
        .collect()
    }

    /// Hears what counts come to. What was typed over meanwhile, or is of another day, is asked for already.
    pub(super) fn answered(
        &mut self,
        date: NaiveDate,
        found: Vec<CountedItem>,
        snapshot: &Snapshot,
        preferences: &Preferences,
    ) {
        if self.day() != Some(date) {
            return;
        }
        let counts = self.counts(snapshot, preferences);
        let current =
            |one: &CountedItem| counts.iter().any(|count| count.item == one.item && count.quantity == one.counted);
        self.previews.extend(found.into_iter().filter(current).map(|one| (one.item, one)));
        self.word(snapshot, preferences);
    }

    /// The first item whose count cannot be read; its shelf comes on screen.
    pub(super) fn first_problem(&mut self, snapshot: &Snapshot, preferences: &Preferences) -> Option<ItemId> {
        self.tried = true;
        let rows = self.typed.keys().filter_map(|id| snapshot.item(*id));
        let wrong = rows.filter(|row| matches!(self.read(row, preferences), Some(Err(_)))).map(|row| row.id);
        let wrong: Vec<ItemId> = wrong.collect();
        let on_screen = |id: &ItemId| self.shown.iter().flat_map(|shelf| &shelf.lines).any(|line| line.id == *id);
        if !wrong.is_empty() && !wrong.iter().any(on_screen) {
            self.shelf = None;
        }
        self.word(snapshot, preferences);
        let mut lines = self.shown.iter().flat_map(|shelf| &shelf.lines);
        lines.find(|line| wrong.contains(&line.id)).map(|line| line.id)
    }

    /// The action, once everything can be read.
    pub(super) fn action(&mut self, snapshot: &Snapshot, preferences: &Preferences) -> Option<actions::Action> {
        Some(actions::Action::CountMany { date: self.day()?, counts: self.counts(snapshot, preferences) })
    }

    /// It was accepted.
    pub(super) fn accepted(&mut self, snapshot: &Snapshot, preferences: &Preferences) {
        self.typed.clear();
        self.previews.clear();
        self.note.set("");
        self.tried = false;
        self.word(snapshot, preferences);
    }

    /// Gives the count typed last its former text back, else the day and the note; true when that changed something.
    pub(super) fn revert(&mut self, snapshot: &Snapshot, preferences: &Preferences) -> bool {
        let latest = self.latest.take();
        let count = latest.and_then(|id| self.typed.get_mut(&id)).is_some_and(Entry::revert);
        if count && let Some(id) = latest {
            self.previews.remove(&id);
        }
        let date = !count && self.date.revert();
        if date {
            // What is known is of another day; accepting asks anew.
            self.date_problem = None;
            self.previews.clear();
        }
        let reverted = count || date || self.note.revert();
        self.word(snapshot, preferences);
        reverted
    }

    pub(super) fn word(&mut self, snapshot: &Snapshot, preferences: &Preferences) {
        let all = by_shelf(on_shelves(snapshot));
        let wanted = |name: &str| self.shelf.as_ref().is_none_or(|shelf| same(shelf, name));
        let shown: Vec<Shelf> = all
            .into_iter()
            .filter(|(name, _)| wanted(name))
            .map(|(name, there)| Shelf {
                name,
                lines: there.iter().filter_map(|one| Some(self.line(snapshot.item(one.id)?, preferences))).collect(),
            })
            .collect();
        self.shown = shown;
        self.lead = self.shown.iter().flat_map(|shelf| &shelf.lines).any(|line| line.lead);
        let typed: Vec<ItemId> = self.typed.iter().filter(|(_, entry)| !entry.is_empty()).map(|(id, _)| *id).collect();
        let lines = || self.shown.iter().flat_map(|shelf| &shelf.lines);
        let here = lines().filter(|line| typed.contains(&line.id)).count();
        let elsewhere = typed.len().saturating_sub(here);
        self.progress = format!("{here} of {} counted", lines().count());
        if elsewhere > 0 {
            self.progress.push_str(&format!("; {elsewhere} on other shelves"));
        }
        self.ready = !typed.is_empty() && typed.iter().all(|id| self.previews.contains_key(id));
        let differ = self.previews.values().filter(|one| !one.difference.is_zero()).count();
        let worth = match together(self.previews.values().map(|one| one.value)) {
            Ok(value) => signed(value.amount(), display::money(value.amount(), preferences)),
            Err(error) => error.to_string(),
        };
        self.total = match differ {
            0 => "as the book says".to_owned(),
            1 => format!("1 differs: {worth}"),
            many => format!("{many} differ: {worth}"),
        };
    }

    fn line(&self, row: &StockRow, preferences: &Preferences) -> Line {
        let item = &row.item;
        let quantity = |amount: Decimal| display::quantity(amount, item.unit, preferences);
        let read = self.read(row, preferences);
        let unit = match &read {
            Some(Ok(typed)) if typed.text.chars().any(char::is_alphabetic) => {
                format!("= {}", quantity(typed.value))
            }
            _ => display::unit_label(item.unit, preferences).to_owned(),
        };
        let found = self.previews.get(&row.id);
        Line {
            id: row.id,
            name: item.name.clone(),
            reference: item.reference.clone(),
            lead: item.lead_bearing,
            aside: item.retired,
            on_hand: quantity(row.on_hand.amount()),
            unit,
            problem: read.and_then(Result::err).filter(|_| self.tried),
            difference: match found {
                Some(found) if found.difference.is_zero() => "none".to_owned(),
                Some(found) => signed(found.difference.amount(), quantity(found.difference.amount())),
                None => String::new(),
            },
            value: found
                .filter(|found| !found.difference.is_zero())
                .map(|found| signed(found.value.amount(), display::money(found.value.amount(), preferences)))
                .unwrap_or_default(),
        }
    }
}

/// Every item of the book with what is there.
pub(super) fn on_shelves(snapshot: &Snapshot) -> impl Iterator<Item = OnShelf<'_>> {
    snapshot.stock.iter().map(|row| OnShelf { id: row.id, item: &row.item, on_hand: row.on_hand })
}

fn signed(amount: Decimal, words: String) -> String {
    if amount > Decimal::ZERO { format!("+{words}") } else { words }
}
