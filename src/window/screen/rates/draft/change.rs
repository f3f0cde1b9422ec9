//! What is done to a draft: typed, added, moved, taken away.

use super::Draft;
use crate::measure::{Decimal, Preferences};
use crate::studio::{Band, Channel, ChannelId, Target};
use crate::window::screen::rates::field::{BandPart, ChannelPart, Field, Kind, RowKey, StudioPart, TargetKind};
use std::collections::BTreeMap;

/// Which way a channel moves in the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Towards {
    /// Towards the first.
    Up,
    /// Towards the last.
    Down,
}

impl Draft {
    /// A person typed.
    pub(in super::super) fn type_in(&mut self, field: Field, text: String, preferences: &Preferences) {
        if let Some(cell) = self.cells.get_mut(&field) {
            cell.entry.type_in(text);
        }
        self.read(field, preferences);
        self.cross(preferences);
    }

    fn read(&mut self, field: Field, preferences: &Preferences) {
        let kind = self.kind(field);
        if let Some(cell) = self.cells.get_mut(&field) {
            match kind.read(cell.entry.text(), preferences) {
                Ok(value) => {
                    cell.value = value;
                    cell.problem = None;
                }
                Err(problem) => {
                    cell.value = cell.kept;
                    cell.problem = Some(problem);
                }
            }
        }
    }

    /// Gives a field its former text back; true when that changed something.
    pub(in super::super) fn revert(&mut self, field: Field, preferences: &Preferences) -> bool {
        let reverted = self.cells.get_mut(&field).is_some_and(|cell| cell.entry.revert());
        if reverted {
            self.read(field, preferences);
            self.cross(preferences);
        }
        reverted
    }

    /// What was typed is in the book now.
    pub(in super::super) fn settle(&mut self) {
        for cell in self.cells.values_mut() {
            cell.entry.settle();
            cell.kept = cell.value;
        }
        let ids = self.ids();
        for (row, id) in self.channels.iter_mut().zip(ids) {
            row.kept = Some(id);
        }
    }

    /// The units have changed: figures are written anew, what cannot be read stays as it was typed.
    pub(in super::super) fn reword(&mut self, preferences: &Preferences) {
        let fields: Vec<Field> = self.cells.keys().copied().collect();
        for field in fields {
            let kind = self.kind(field);
            let Some(cell) = self.cells.get_mut(&field) else { continue };
            if cell.problem.is_some() {
                self.read(field, preferences);
            } else if kind != Kind::Name {
                cell.entry.set(kind.write(cell.value, preferences));
            }
        }
        self.cross(preferences);
    }

    /// A new line of overhead at the end, still without a name; the field of its name.
    pub(in super::super) fn add_overhead(&mut self, preferences: &Preferences) -> Field {
        let key = self.fresh_key();
        self.overhead.push(key);
        self.put(Field::OverheadAmount(key), Decimal::ZERO, preferences);
        self.put_name(Field::OverheadName(key), "");
        self.read(Field::OverheadName(key), preferences);
        Field::OverheadName(key)
    }

    /// A line of overhead goes.
    pub(in super::super) fn remove_overhead(&mut self, key: RowKey) {
        self.overhead.retain(|other| *other != key);
        let _ = self.cells.remove(&Field::OverheadName(key));
        let _ = self.cells.remove(&Field::OverheadAmount(key));
    }

    /// A new channel at the end: retail, without fees, at a margin of 35 % (a starting point, no source).
    pub(in super::super) fn add_channel(&mut self, preferences: &Preferences) -> RowKey {
        let key = self.fresh_key();
        let plain = Channel {
            id: ChannelId(String::new()),
            name: "New channel".to_owned(),
            retail: true,
            commission: Decimal::ZERO,
            card_fee: Decimal::ZERO,
            card_fee_fixed: Decimal::ZERO,
            tax: Decimal::ZERO,
            tax_in_price: false,
            selling_cost: Decimal::ZERO,
            target: Target::Margin(Decimal::new(35, 2)),
            price_points: Vec::new(),
        };
        self.push_channel(key, None, &plain, preferences);
        key
    }

    /// A channel goes.
    pub(in super::super) fn remove_channel(&mut self, key: RowKey, preferences: &Preferences) {
        self.channels.retain(|row| row.key != key);
        self.cells.retain(|field, _| !matches!(field, Field::Channel(of, _) | Field::Band(of, ..) if *of == key));
        self.cross(preferences);
    }

    /// A channel changes places with its neighbour.
    pub(in super::super) fn move_channel(&mut self, key: RowKey, towards: Towards) {
        let Some(place) = self.channels.iter().position(|row| row.key == key) else { return };
        let other = match towards {
            Towards::Up => place.checked_sub(1),
            Towards::Down => Some(place + 1).filter(|other| *other < self.channels.len()),
        };
        if let Some(other) = other {
            self.channels.swap(place, other);
        }
    }

    /// Takes part in the common ticket, or not.
    pub(in super::super) fn set_retail(&mut self, key: RowKey, retail: bool) {
        if let Some(row) = self.channel_mut(key) {
            row.retail = retail;
        }
    }

    /// The ticket includes the tax, or not.
    pub(in super::super) fn set_tax_in_price(&mut self, key: RowKey, included: bool) {
        if let Some(row) = self.channel_mut(key) {
            row.tax_in_price = included;
        }
    }

    /// Another kind of target, with a figure to start from.
    pub(in super::super) fn set_target(&mut self, key: RowKey, target: TargetKind, preferences: &Preferences) {
        let wage = self.value(Field::Studio(StudioPart::Wage));
        let Some(row) = self.channel_mut(key).filter(|row| row.target != target) else { return };
        row.target = target;
        let start = match target {
            TargetKind::Margin => Decimal::new(35, 2),
            TargetKind::Markup => Decimal::ONE,
            TargetKind::Hourly => wage,
        };
        self.put(Field::Channel(key, ChannelPart::Target), start, preferences);
    }

    /// A band more, for the prices above all others.
    pub(in super::super) fn add_band(&mut self, key: RowKey, preferences: &Preferences) {
        let bands = self.channel(key).map(|row| row.bands.clone()).unwrap_or_default();
        let part = |band, part| Field::Band(key, band, part);
        let reached = bands.iter().rev().nth(1).map(|band| self.value(part(*band, BandPart::UpTo))).unwrap_or_default();
        let step = bands.last().map_or(Decimal::ONE, |band| self.value(part(*band, BandPart::Step)));
        if let Some(last) = bands.last() {
            let up_to = reached.saturating_add(Decimal::from(50));
            self.put(part(*last, BandPart::UpTo), up_to, preferences);
        }
        self.push_band(key, &Band { up_to: None, step, less: Decimal::ZERO }, preferences);
        self.cross(preferences);
    }

    /// A band goes.
    pub(in super::super) fn remove_band(&mut self, key: RowKey, band: RowKey, preferences: &Preferences) {
        self.cells.retain(|field, _| !matches!(field, Field::Band(_, of, _) if *of == band));
        let Some(row) = self.channel_mut(key) else { return };
        row.bands.retain(|other| *other != band);
        // The last band has no end: what stood there says nothing any longer.
        if let Some(&last) = row.bands.last() {
            self.put(Field::Band(key, last, BandPart::UpTo), Decimal::ZERO, preferences);
        }
        self.cross(preferences);
    }

    /// Looks at what fields say beside each other: bands rise, and take off less than their step.
    fn cross(&mut self, preferences: &Preferences) {
        let mut crossed = BTreeMap::new();
        let money = |value| crate::measure::display::money_fine(value, preferences);
        for row in &self.channels {
            let mut reached: Option<Decimal> = None;
            for band in &row.bands {
                let field = |part| Field::Band(row.key, *band, part);
                let value = |part| self.value(field(part));
                if value(BandPart::Less) >= value(BandPart::Step) {
                    let step = money(value(BandPart::Step));
                    let _ = crossed.insert(field(BandPart::Less), format!("write less than the step, {step}"));
                }
                if Some(band) != row.bands.last() {
                    let up_to = value(BandPart::UpTo);
                    if let Some(before) = reached.filter(|before| up_to <= *before) {
                        let before = money(before);
                        let _ =
                            crossed.insert(field(BandPart::UpTo), format!("write more than the band before, {before}"));
                    }
                    reached = Some(up_to);
                }
            }
        }
        self.crossed = crossed;
    }
}
