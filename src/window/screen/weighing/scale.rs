//! The jars put on the scale so far, and what they come to.

use super::find::{self, Known};
use super::words;
use crate::actions::{self, Reading};
use crate::book::Snapshot;
use crate::costing::counting::together;
use crate::costing::jars::{expected_in, never_weighed};
use crate::costing::weigh::WeighedItem;
use crate::costing::weigh::{self, Weighed};
use crate::measure::parse::{Typed, parse_quantity};
use crate::measure::{Preferences, Quantity, Unit};
use crate::studio::{BookJar, ItemId, JarId};
use crate::window::desk::Request;
use crate::window::widget::{Entry, Listing};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// Others offered below the field of the jar.
const MOST_MEANT: usize = 5;

/// A jar that was on the scale.
#[derive(Debug, Clone)]
pub(super) struct Read {
    pub(super) jar: JarId,
    pub(super) gross: Quantity,
    pub(super) typed: String,
}

/// One jar of the list, worded.
#[derive(Debug, Clone)]
pub(super) struct ReadRow {
    pub(super) label: String,
    pub(super) name: String,
    pub(super) lead: bool,
    pub(super) net: String,
    pub(super) expected: String,
    pub(super) difference: String,
}

/// What an item comes to, worded.
#[derive(Debug, Clone)]
pub(super) struct ItemRow {
    pub(super) name: String,
    pub(super) lead: bool,
    pub(super) counted: String,
    pub(super) expected: String,
    pub(super) difference: String,
    pub(super) value: String,
    pub(super) large: bool,
    pub(super) remark: String,
}

/// The jar that is meant by what is typed, worded.
#[derive(Debug, Clone)]
pub(super) struct Meant {
    pub(super) id: JarId,
    pub(super) label: String,
    /// `A3-07, Fern green`.
    pub(super) short: String,
    /// What is known of it.
    pub(super) facts: String,
    pub(super) lead: bool,
}

/// The page of the scale.
#[derive(Debug)]
pub(super) struct Scale {
    pub(super) jar: Entry,
    pub(super) gross: Entry,
    pub(super) date: Entry,
    pub(super) cause: Entry,
    pub(super) jar_problem: Option<String>,
    pub(super) gross_problem: Option<String>,
    pub(super) date_problem: Option<String>,
    pub(super) cause_problem: Option<String>,
    /// Why the book does not take what was read.
    pub(super) refusal: Option<String>,
    known: Vec<Known<JarId>>,
    /// The jar that is meant.
    pub(super) meant: Option<Meant>,
    /// Others that could be.
    pub(super) others: Vec<(JarId, String)>,
    /// What the weight being typed comes to.
    pub(super) ahead: String,
    /// Oldest first.
    pub(super) reads: Vec<Read>,
    previews: BTreeMap<ItemId, WeighedItem>,
    /// Newest first.
    pub(super) rows: Vec<ReadRow>,
    pub(super) items: Vec<ItemRow>,
    pub(super) list: Listing,
    pub(super) item_list: Listing,
    /// Sentences about items that wait for a jar.
    pub(super) waiting: Vec<String>,
    pub(super) asks_cause: bool,
    pub(super) total: String,
    /// Every item on the list has its preview.
    pub(super) ready: bool,
    pub(super) progress: String,
}

impl Scale {
    pub(super) fn new(today: NaiveDate) -> Self {
        Self {
            jar: Entry::default(),
            gross: Entry::default(),
            date: Entry::new(today.to_string()),
            cause: Entry::default(),
            jar_problem: None,
            gross_problem: None,
            date_problem: None,
            cause_problem: None,
            refusal: None,
            known: Vec::new(),
            meant: None,
            others: Vec::new(),
            ahead: String::new(),
            reads: Vec::new(),
            previews: BTreeMap::new(),
            rows: Vec::new(),
            items: Vec::new(),
            list: Listing::new("weighing-list"),
            item_list: Listing::new("weighing-items"),
            waiting: Vec::new(),
            asks_cause: false,
            total: String::new(),
            ready: false,
            progress: String::new(),
        }
    }

    /// The day, and what is wrong with it.
    fn day(&mut self) -> Option<NaiveDate> {
        let text = self.date.trimmed();
        let day = text.parse().ok();
        self.date_problem =
            day.is_none().then(|| format!("{text:?} cannot be read: write the day as year-month-day, e.g. 2026-03-14"));
        day
    }

    /// The book changed: jars that are gone are taken off the list, everything is worded anew.
    pub(super) fn follow(&mut self, snapshot: &Snapshot, preferences: &Preferences) {
        self.known = snapshot
            .jars
            .iter()
            .filter(|jar| !jar.jar.retired)
            .filter_map(|jar| {
                let item = &snapshot.item(jar.jar.item)?.item;
                Some(Known::new(jar.id, &jar.jar.label, &item.name, &item.reference))
            })
            .collect();
        self.reads.retain(|read| self.known.iter().any(|jar| jar.id == read.jar));
        self.previews.clear();
        self.mean(snapshot, preferences);
        self.word(snapshot, preferences);
    }

    /// Finds the jar that is meant by what is typed; without a word, the next one on the shelf that is not on the list.
    pub(super) fn mean(&mut self, snapshot: &Snapshot, preferences: &Preferences) {
        let places = if self.jar.is_empty() {
            self.next().into_iter().collect()
        } else {
            find::meant(self.jar.text(), &self.known, MOST_MEANT)
        };
        let mut found = places.into_iter().filter_map(|place| self.known.get(place));
        self.meant = found.next().and_then(|jar| {
            let held = jar_of(snapshot, jar.id)?;
            Some(Meant {
                id: jar.id,
                label: jar.word.clone(),
                short: format!("{}, {}", jar.word, jar.more),
                facts: self.facts(held, preferences),
                lead: snapshot.item(held.jar.item).is_some_and(|row| row.item.lead_bearing),
            })
        });
        self.others = found.map(|jar| (jar.id, format!("{}, {}", jar.word, jar.more))).collect();
        self.look_ahead(snapshot, preferences);
    }

    fn facts(&self, held: &BookJar, preferences: &Preferences) -> String {
        let tare = words::grams(held.jar.tare, preferences);
        if let Some(read) = self.reads.iter().find(|read| read.jar == held.id) {
            let gross = words::grams(read.gross, preferences);
            return format!("tare {tare}; on the list with {gross}, a new weight takes its place");
        }
        match held.latest {
            Some(latest) => {
                format!("tare {tare}; weighed {} on {}", words::grams(latest.gross, preferences), latest.date)
            }
            None => format!("tare {tare}; never weighed"),
        }
    }

    /// The place of the jar after the one read last, by label, that is not on the list.
    fn next(&self) -> Option<usize> {
        let is_read = |id: JarId| self.reads.iter().any(|read| read.jar == id);
        let last = self.reads.last().and_then(|read| self.known.iter().position(|jar| jar.id == read.jar));
        let start = last.map_or(0, |place| place + 1);
        let after = self.known.iter().enumerate().skip(start);
        after.chain(self.known.iter().enumerate().take(start)).find(|(_, jar)| !is_read(jar.id)).map(|(place, _)| place)
    }

    /// Takes the jar that is meant; true when there is one.
    pub(super) fn settle_jar(&mut self, snapshot: &Snapshot, preferences: &Preferences) -> bool {
        let Some(meant) = &self.meant else {
            self.jar_problem = Some(if self.jar.is_empty() {
                "every jar is on the list: accept it, or write a label to weigh one again".to_owned()
            } else {
                format!(
                    "no jar answers to {:?}: write what stands on it, or the name of what is in it",
                    self.jar.trimmed()
                )
            });
            return false;
        };
        let label = meant.label.clone();
        self.jar.set(label);
        self.jar_problem = None;
        self.mean(snapshot, preferences);
        true
    }

    /// Puts another jar into the field.
    pub(super) fn choose(&mut self, id: JarId, snapshot: &Snapshot, preferences: &Preferences) {
        if let Some(jar) = self.known.iter().find(|jar| jar.id == id) {
            self.jar.set(jar.word.clone());
            self.jar_problem = None;
            self.mean(snapshot, preferences);
        }
    }

    fn typed_gross(&self, preferences: &Preferences) -> Result<Typed, String> {
        parse_quantity(self.gross.trimmed(), Unit::Gram, preferences).map_err(|problem| problem.to_string())
    }

    /// What a jar comes to with a gross weight.
    fn weighed(&self, held: &BookJar, gross: Quantity, snapshot: &Snapshot) -> Result<Weighed, String> {
        let on_hand = match self.previews.get(&held.jar.item) {
            Some(preview) => preview.expected,
            None => snapshot.item(held.jar.item).map(|row| row.on_hand).unwrap_or_default(),
        };
        let expected = expected_in(held, &snapshot.jars, on_hand).map_err(|error| error.to_string())?;
        weigh::weigh(held.jar.tare, gross, expected).map_err(|problem| problem.to_string())
    }

    /// Words what the weight being typed comes to; nothing while it cannot be that of the jar.
    pub(super) fn look_ahead(&mut self, snapshot: &Snapshot, preferences: &Preferences) {
        let weighed = || {
            let held = jar_of(snapshot, self.meant.as_ref()?.id)?;
            self.weighed(held, self.typed_gross(preferences).ok()?.quantity(), snapshot).ok()
        };
        self.ahead = match weighed() {
            Some(weighed) if weighed.difference.is_zero() => {
                format!("{} in it", words::grams(weighed.net, preferences))
            }
            Some(weighed) => format!(
                "{} in it, {}",
                words::grams(weighed.net, preferences),
                words::signed(weighed.difference, preferences)
            ),
            None => String::new(),
        };
    }

    /// Puts what is typed on the list; the item it changes, or none where something is wrong.
    pub(super) fn take(&mut self, snapshot: &Snapshot, preferences: &Preferences) -> Option<ItemId> {
        if !self.settle_jar(snapshot, preferences) {
            return None;
        }
        let held = jar_of(snapshot, self.meant.as_ref()?.id)?;
        let typed = match self.typed_gross(preferences) {
            Ok(typed) => typed,
            Err(problem) => {
                self.gross_problem = Some(problem);
                return None;
            }
        };
        if let Err(problem) = self.weighed(held, typed.quantity(), snapshot) {
            self.gross_problem = Some(problem);
            return None;
        }
        self.reads.retain(|read| read.jar != held.id);
        self.reads.push(Read { jar: held.id, gross: typed.quantity(), typed: typed.text });
        self.clear();
        self.list.select(Some(0));
        self.changed(held.jar.item, snapshot, preferences);
        Some(held.jar.item)
    }

    /// Empties the two fields.
    pub(super) fn clear(&mut self) {
        self.jar.set("");
        self.gross.set("");
        (self.jar_problem, self.gross_problem) = (None, None);
    }

    fn changed(&mut self, item: ItemId, snapshot: &Snapshot, preferences: &Preferences) {
        self.previews.remove(&item);
        self.refusal = None;
        self.cause_problem = None;
        self.mean(snapshot, preferences);
        self.word(snapshot, preferences);
    }

    /// Takes the reading of a row off the list and gives it back with its item.
    pub(super) fn take_back(
        &mut self,
        row: usize,
        snapshot: &Snapshot,
        preferences: &Preferences,
    ) -> Option<(Read, ItemId)> {
        let place = self.reads.len().checked_sub(row + 1)?;
        let read = self.reads.remove(place);
        let item = jar_of(snapshot, read.jar)?.jar.item;
        self.list.select((!self.reads.is_empty()).then(|| row.min(self.reads.len() - 1)));
        self.changed(item, snapshot, preferences);
        Some((read, item))
    }

    /// What to ask the book: what all of the list, or what is on it of one item, comes to. Items that wait for a jar are left
    /// out.
    pub(super) fn question(&mut self, of: Option<ItemId>, snapshot: &Snapshot) -> Option<Request> {
        let date = self.day()?;
        let readings: Vec<Reading> = self
            .reads
            .iter()
            .filter(|read| {
                jar_of(snapshot, read.jar).is_some_and(|held| {
                    of.is_none_or(|item| item == held.jar.item) && self.waits(held.jar.item, snapshot).is_empty()
                })
            })
            .map(|read| Reading { jar: read.jar, gross: read.gross })
            .collect();
        (!readings.is_empty()).then_some(Request::WeighIn { date, readings })
    }

    fn waits<'a>(&self, item: ItemId, snapshot: &'a Snapshot) -> Vec<&'a BookJar> {
        never_weighed(item, &snapshot.jars, |id| self.reads.iter().any(|read| read.jar == id))
    }

    /// Another day was typed: nothing is known of it yet.
    pub(super) fn forget(&mut self, snapshot: &Snapshot, preferences: &Preferences) {
        self.previews.clear();
        self.refusal = None;
        self.word(snapshot, preferences);
    }

    /// Gives a half-typed field its former text back, the weight first; true when that changed something.
    pub(super) fn revert(&mut self, snapshot: &Snapshot, preferences: &Preferences) -> bool {
        let fields = [&mut self.gross, &mut self.jar, &mut self.cause];
        let typed = fields.into_iter().any(Entry::revert);
        let date = !typed && self.date.revert();
        if date {
            // What is known is of another day; accepting asks anew.
            self.date_problem = None;
            self.forget(snapshot, preferences);
        }
        self.mean(snapshot, preferences);
        typed || date
    }

    /// Hears what items come to.
    pub(super) fn answered(&mut self, found: Vec<WeighedItem>, snapshot: &Snapshot, preferences: &Preferences) {
        self.previews.extend(found.into_iter().map(|one| (one.item, one)));
        self.word(snapshot, preferences);
        self.look_ahead(snapshot, preferences);
    }

    /// The action, once nothing is missing.
    pub(super) fn action(&mut self) -> Option<actions::Action> {
        let date = self.day()?;
        let readings = self.reads.iter().map(|read| Reading { jar: read.jar, gross: read.gross }).collect();
        Some(actions::Action::WeighIn { date, readings, cause: self.cause.trimmed().to_owned() })
    }

    /// What is on the list was accepted.
    pub(super) fn accepted(&mut self, snapshot: &Snapshot, preferences: &Preferences) {
        self.reads.clear();
        self.previews.clear();
        self.cause.set("");
        self.clear();
        self.list.select(None);
        self.mean(snapshot, preferences);
        self.word(snapshot, preferences);
    }

    fn word(&mut self, snapshot: &Snapshot, preferences: &Preferences) {
        let grams = |weight| words::grams(weight, preferences);
        let mut rows = Vec::with_capacity(self.reads.len());
        let mut order: Vec<ItemId> = Vec::new();
        for read in self.reads.iter().rev() {
            let Some(held) = jar_of(snapshot, read.jar) else { continue };
            let Some(row) = snapshot.item(held.jar.item) else { continue };
            let Ok(weighed) = self.weighed(held, read.gross, snapshot) else { continue };
            let new =
                held.latest.is_none() && expected_in(held, &snapshot.jars, row.on_hand).is_ok_and(|e| e.is_none());
            rows.push(ReadRow {
                label: held.jar.label.clone(),
                name: row.item.name.clone(),
                lead: row.item.lead_bearing,
                net: grams(weighed.net),
                expected: if new { String::new() } else { grams(weighed.expected) },
                difference: if new { String::new() } else { words::signed(weighed.difference, preferences) },
            });
            if !order.contains(&row.id) {
                order.push(row.id);
            }
        }
        self.rows = rows;
        self.previews.retain(|item, _| order.contains(item));
        self.waiting = order.iter().filter_map(|item| self.waiting_words(*item, snapshot)).collect();
        self.items = order.iter().filter_map(|item| self.item_row(*item, snapshot, preferences)).collect();
        self.asks_cause = self.previews.values().any(|one| one.large);
        self.ready = !order.is_empty() && self.previews.len() == order.len();
        self.total = match together(self.previews.values().map(|one| one.value)) {
            Ok(value) => words::worth(value, preferences),
            Err(error) => error.to_string(),
        };
        let left = self.known.len().saturating_sub(self.reads.len());
        self.progress = match (self.reads.len(), left) {
            (0, left) => format!("{} on the shelves", words::jars(left)),
            (read, 0) => format!("{} on the list, and that is all of them", words::jars(read)),
            (read, left) => format!("{} on the list, {left} to go", words::jars(read)),
        };
    }

    fn waiting_words(&self, item: ItemId, snapshot: &Snapshot) -> Option<String> {
        let missing = self.waits(item, snapshot);
        let labels: Vec<&str> = missing.iter().map(|jar| jar.jar.label.as_str()).collect();
        let name = &snapshot.item(item)?.item.name;
        (!labels.is_empty()).then(|| format!("{name} waits for {}: never weighed, so weigh it too", labels.join(", ")))
    }

    fn item_row(&self, item: ItemId, snapshot: &Snapshot, preferences: &Preferences) -> Option<ItemRow> {
        let row = snapshot.item(item)?;
        let found = self.previews.get(&item);
        let figure = |of: &dyn Fn(&WeighedItem) -> String| found.map(of).unwrap_or_default();
        let remark = match found {
            Some(found) if !found.from_before.is_empty() => {
                let jars = snapshot.jars.iter().filter(|jar| found.from_before.contains(&jar.id));
                let labels: Vec<&str> = jars.map(|jar| jar.jar.label.as_str()).collect();
                format!("with {} as weighed before", labels.join(", "))
            }
            Some(_) => String::new(),
            None if !self.waits(item, snapshot).is_empty() => "waits".to_owned(),
            None => String::new(),
        };
        Some(ItemRow {
            name: row.item.name.clone(),
            lead: row.item.lead_bearing,
            counted: figure(&|one| words::grams(one.counted, preferences)),
            expected: figure(&|one| words::grams(one.expected, preferences)),
            difference: figure(&|one| words::signed(one.difference, preferences)),
            value: figure(&|one| words::worth(one.value, preferences)),
            large: found.is_some_and(|one| one.large),
            remark,
        })
    }
}

/// The jar of that row.
pub(super) fn jar_of(snapshot: &Snapshot, id: JarId) -> Option<&BookJar> {
    snapshot.jars.iter().find(|jar| jar.id == id)
}
