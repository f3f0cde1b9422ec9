//! The list of jars, and the form of one.

use super::find::{self, Known, next_label};
use super::words;
use crate::actions;
use crate::book::Snapshot;
use crate::costing::jars::held_last;
use crate::measure::parse::parse_quantity;
use crate::measure::{Preferences, Quantity, Unit, edit};
use crate::studio::{BookJar, ItemId, Jar, JarId};
use crate::window::widget::Entry;
use crate::window::widget::listing::Order;
use chrono::NaiveDate;

/// One jar, worded.
#[derive(Debug, Clone)]
pub(super) struct JarRow {
    pub(super) id: JarId,
    pub(super) label: String,
    pub(super) name: String,
    pub(super) lead: bool,
    pub(super) aside: bool,
    pub(super) tare: String,
    pub(super) date: String,
    pub(super) held: String,
    keys: (Quantity, Option<NaiveDate>, Option<Quantity>),
}

/// Words every jar, by the column and order asked for.
pub(super) fn word_all(snapshot: &Snapshot, sort: (usize, Order), preferences: &Preferences) -> Vec<JarRow> {
    let mut rows: Vec<JarRow> = snapshot
        .jars
        .iter()
        .filter_map(|jar| {
            let item = &snapshot.item(jar.jar.item)?.item;
            let held = held_last(jar).ok().flatten();
            Some(JarRow {
                id: jar.id,
                label: jar.jar.label.clone(),
                name: item.name.clone(),
                lead: item.lead_bearing,
                aside: jar.jar.retired,
                tare: words::grams(jar.jar.tare, preferences),
                date: jar.latest.map_or_else(|| "never".to_owned(), |latest| latest.date.to_string()),
                held: held.map(|held| words::grams(held, preferences)).unwrap_or_default(),
                keys: (jar.jar.tare, jar.latest.map(|latest| latest.date), held),
            })
        })
        .collect();
    match sort.0 {
        1 => rows.sort_by_key(|row| row.name.to_lowercase()),
        2 => rows.sort_by_key(|row| row.keys.0),
        3 => rows.sort_by_key(|row| row.keys.1),
        4 => rows.sort_by_key(|row| row.keys.2),
        // By label, as the book keeps them.
        _ => {}
    }
    if sort.1 == Order::Falling {
        rows.reverse();
    }
    rows
}

/// A field of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Field {
    /// What is in it.
    Item,
    /// What stands on it.
    Label,
    /// The empty jar.
    Tare,
}

impl Field {
    /// What the focus is sent to.
    pub(super) const fn id(self) -> &'static str {
        match self {
            Self::Item => "jar-item",
            Self::Label => "jar-label",
            Self::Tare => "jar-tare",
        }
    }
}

/// What happens in the form.
#[derive(Debug, Clone)]
pub enum Change {
    /// Typed into a field.
    Typed(Field, String),
    /// Enter in a field.
    Enter(Field),
    /// Another item than the best one is meant.
    Item(ItemId),
    /// It no longer holds any of its item, or does again: turned round.
    Aside,
}

/// The form of a jar.
#[derive(Debug)]
pub(super) struct Form {
    /// None adds one.
    pub(super) id: Option<JarId>,
    pub(super) item: Entry,
    pub(super) label: Entry,
    pub(super) tare: Entry,
    pub(super) aside: bool,
    /// It was weighed, and stays a jar of its item.
    pub(super) fixed: bool,
    pub(super) tried: bool,
    pub(super) refusal: Option<String>,
    /// What was written down just now.
    pub(super) said: Option<String>,
    known: Vec<Known<ItemId>>,
    pub(super) meant: Option<(ItemId, String, bool)>,
    pub(super) others: Vec<(ItemId, String)>,
}

impl Form {
    /// The form of a new jar, or of that one.
    pub(super) fn new(of: Option<&BookJar>, snapshot: &Snapshot, preferences: &Preferences) -> Self {
        let item = of.and_then(|jar| snapshot.item(jar.jar.item)).map(|row| row.item.name.clone());
        let mut form = Self {
            id: of.map(|jar| jar.id),
            item: Entry::new(item.unwrap_or_default()),
            label: Entry::new(of.map(|jar| jar.jar.label.clone()).unwrap_or_default()),
            tare: Entry::new(
                of.map(|jar| edit::edit_quantity(jar.jar.tare.amount(), Unit::Gram, preferences)).unwrap_or_default(),
            ),
            aside: of.is_some_and(|jar| jar.jar.retired),
            fixed: of.is_some_and(|jar| jar.latest.is_some()),
            tried: false,
            refusal: None,
            said: None,
            known: Vec::new(),
            meant: None,
            others: Vec::new(),
        };
        form.follow(snapshot);
        if let Some(jar) = of {
            form.mean_item(jar.jar.item, snapshot);
        }
        form
    }

    /// The items that can be in a jar.
    pub(super) fn follow(&mut self, snapshot: &Snapshot) {
        self.known = snapshot
            .stock
            .iter()
            .filter(|row| row.item.unit == Unit::Gram && !row.item.retired)
            .map(|row| Known::new(row.id, &row.item.name, &row.item.reference, &row.item.shelf))
            .collect();
        if !self.fixed {
            self.mean(snapshot);
        }
    }

    fn mean(&mut self, snapshot: &Snapshot) {
        let places = find::meant(self.item.text(), &self.known, 4);
        let mut found = places.into_iter().filter_map(|place| self.known.get(place));
        let best = found.next().map(|one| one.id);
        self.others = found.map(|one| (one.id, format!("{}, {}", one.word, one.more))).collect();
        self.meant = best.and_then(|id| meant(id, snapshot));
    }

    fn mean_item(&mut self, id: ItemId, snapshot: &Snapshot) {
        self.meant = meant(id, snapshot);
        self.others.clear();
        if let Some(row) = snapshot.item(id) {
            self.item.set(row.item.name.clone());
        }
    }

    /// Takes note of a change; the field the focus goes to, or none where the form shall be saved or the focus stays.
    pub(super) fn change(&mut self, change: Change, snapshot: &Snapshot) -> Option<Field> {
        self.refusal = None;
        match change {
            Change::Typed(Field::Item, text) => {
                self.item.type_in(text);
                self.mean(snapshot);
            }
            Change::Typed(Field::Label, text) => self.label.type_in(text),
            Change::Typed(Field::Tare, text) => self.tare.type_in(text),
            Change::Enter(Field::Item) => {
                let (id, ..) = self.meant.clone()?;
                self.mean_item(id, snapshot);
                return Some(Field::Label);
            }
            Change::Enter(Field::Label) => return Some(Field::Tare),
            Change::Enter(Field::Tare) => {}
            Change::Item(id) => {
                self.mean_item(id, snapshot);
                return Some(Field::Label);
            }
            Change::Aside => self.aside = !self.aside,
        }
        None
    }

    /// What is wrong with a field; what is only missing is told once the form was submitted.
    pub(super) fn problem(&self, field: Field, preferences: &Preferences) -> Option<String> {
        let empty = match field {
            Field::Item => self.item.is_empty(),
            Field::Label => self.label.is_empty(),
            Field::Tare => self.tare.is_empty(),
        };
        if empty && !self.tried {
            return None;
        }
        match field {
            Field::Item if self.meant.is_some() => None,
            Field::Item if empty => {
                Some("nothing is typed: write the name of what is in it, or its reference".to_owned())
            }
            Field::Item => Some(format!(
                "no item kept in g answers to {:?}: write the name of one, or its reference",
                self.item.trimmed()
            )),
            Field::Label => empty.then(|| "nothing is typed: write what stands on the jar, e.g. A3-07".to_owned()),
            Field::Tare => {
                parse_quantity(self.tare.trimmed(), Unit::Gram, preferences).err().map(|problem| problem.to_string())
            }
        }
    }

    /// The first field that cannot be accepted.
    pub(super) fn first_problem(&self, preferences: &Preferences) -> Option<Field> {
        [Field::Item, Field::Label, Field::Tare].into_iter().find(|field| self.problem(*field, preferences).is_some())
    }

    /// The action, once every field can be read.
    pub(super) fn action(&self, preferences: &Preferences) -> Option<actions::Action> {
        let (item, ..) = self.meant.clone()?;
        let tare = parse_quantity(self.tare.trimmed(), Unit::Gram, preferences).ok()?.quantity();
        let jar = Jar { item, label: self.label.trimmed().to_owned(), tare, retired: self.aside };
        Some(actions::Action::SaveJar { id: self.id, jar })
    }

    /// A jar was added: the form is ready for the one after it.
    pub(super) fn next(&mut self, snapshot: &Snapshot) {
        let label = self.label.trimmed().to_owned();
        let free = |label: &String| !snapshot.jars.iter().any(|jar| jar.jar.label.eq_ignore_ascii_case(label));
        self.said = Some(format!("Jar {label} is written down; the next one:"));
        self.label.set(next_label(&label).filter(free).unwrap_or_default());
        self.item.set("");
        self.tare.set("");
        self.tried = false;
        self.aside = false;
        self.follow(snapshot);
    }

    /// Gives every field its former text back; true when that changed something.
    pub(super) fn revert(&mut self, snapshot: &Snapshot) -> bool {
        let reverted = [&mut self.item, &mut self.label, &mut self.tare].map(Entry::revert).contains(&true);
        if !self.fixed {
            self.mean(snapshot);
        }
        reverted
    }
}

/// An item with its name and whether it bears lead.
fn meant(id: ItemId, snapshot: &Snapshot) -> Option<(ItemId, String, bool)> {
    let item = &snapshot.item(id)?.item;
    Some((id, format!("{}, {}", item.name, item.reference), item.lead_bearing))
}
