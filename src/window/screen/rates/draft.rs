//! What is being edited: every field's text as it was typed, and the figure read from it. While a text cannot be read,
//! the figure is the book's.

use super::field::{BandPart, ChannelPart, Field, Kind, RowKey, StudioPart, TargetKind};
use crate::measure::{Decimal, Money, Preferences};
use crate::studio::{Band, Channel, ChannelId, OverheadItem, StudioRates, Target, TariffBand};
use crate::window::widget::Entry;
use std::collections::{BTreeMap, BTreeSet};

mod change;

pub use change::Towards;

/// A field: what was typed, the figure read from it, the book's figure, what is wrong with it.
#[derive(Debug, Clone, Default)]
struct Cell {
    entry: Entry,
    /// 0 for a name.
    value: Decimal,
    /// What the book says; what stood at first, for a field the book does not have yet.
    kept: Decimal,
    problem: Option<String>,
}

/// A channel of the list, but for its fields.
#[derive(Debug, Clone)]
pub(super) struct ChannelRow {
    pub(super) key: RowKey,
    /// Its id in the book; none before it is kept for the first time.
    pub(super) kept: Option<ChannelId>,
    pub(super) retail: bool,
    pub(super) tax_in_price: bool,
    pub(super) target: TargetKind,
    pub(super) bands: Vec<RowKey>,
}

/// The whole page as it is typed.
#[derive(Debug, Clone, Default)]
pub(super) struct Draft {
    cells: BTreeMap<Field, Cell>,
    /// What is wrong with a field beside others, each being readable by itself.
    crossed: BTreeMap<Field, String>,
    overhead: Vec<RowKey>,
    channels: Vec<ChannelRow>,
    /// Figures the page does not show; they stay as they are.
    unseen: Unseen,
    last_key: u64,
}

/// Figures of the studio that belong to the kiln's page.
#[derive(Debug, Clone, Default)]
struct Unseen {
    tariff: Vec<TariffBand>,
    heat_tolerance_c: Decimal,
    minutes_tolerance: Decimal,
}

/// The minutes in the heat of the load that stands as an example.
const EXAMPLE_MINUTES: Decimal = Decimal::from_parts(25, 0, 0, false, 1);

/// The price that price points are tried on.
const EXAMPLE_PRICE: Decimal = Decimal::from_parts(4630, 0, 0, false, 2);

impl Draft {
    /// What the book says.
    pub(super) fn of(rates: &StudioRates, preferences: &Preferences) -> Self {
        let unseen = Unseen {
            tariff: rates.tariff.clone(),
            heat_tolerance_c: rates.heat_tolerance_c,
            minutes_tolerance: rates.minutes_tolerance,
        };
        let mut draft = Self { unseen, ..Self::default() };
        for item in &rates.overhead {
            let key = draft.fresh_key();
            draft.overhead.push(key);
            draft.put_name(Field::OverheadName(key), &item.name);
            draft.put(Field::OverheadAmount(key), item.per_year.amount(), preferences);
        }
        for part in StudioPart::ALL {
            let value = match part {
                StudioPart::NormalHours => rates.normal_hours_per_year,
                StudioPart::Wage => rates.labour_per_hour.amount(),
                StudioPart::ElementsCost => rates.elements_cost.amount(),
                StudioPart::ElementsHours => rates.elements_hours,
                StudioPart::ThermocoupleCost => rates.thermocouple_cost.amount(),
                StudioPart::ThermocoupleHours => rates.thermocouple_hours,
                StudioPart::PricePerKwh => rates.price_per_kwh.amount(),
                StudioPart::KwhPerLoad => rates.kwh_per_load,
                StudioPart::Recovery => rates.recovery_minutes,
                StudioPart::SolderMargin => rates.solder_margin_c,
                StudioPart::ExampleMinutes => EXAMPLE_MINUTES,
            };
            draft.put(Field::Studio(part), value, preferences);
        }
        for channel in &rates.channels {
            let key = draft.fresh_key();
            draft.push_channel(key, Some(channel.id.clone()), channel, preferences);
        }
        draft
    }

    fn fresh_key(&mut self) -> RowKey {
        self.last_key = self.last_key.saturating_add(1);
        RowKey(self.last_key)
    }

    fn put(&mut self, field: Field, value: Decimal, preferences: &Preferences) {
        let entry = Entry::new(self.kind(field).write(value, preferences));
        let _ = self.cells.insert(field, Cell { entry, value, kept: value, problem: None });
    }

    fn put_name(&mut self, field: Field, name: &str) {
        let _ = self.cells.insert(field, Cell { entry: Entry::new(name), ..Cell::default() });
    }

    fn push_channel(&mut self, key: RowKey, kept: Option<ChannelId>, channel: &Channel, preferences: &Preferences) {
        let (target, reached) = match channel.target {
            Target::Margin(margin) => (TargetKind::Margin, margin),
            Target::Markup(markup) => (TargetKind::Markup, markup),
            Target::Hourly(hourly) => (TargetKind::Hourly, hourly),
        };
        self.channels.push(ChannelRow {
            key,
            kept,
            retail: channel.retail,
            tax_in_price: channel.tax_in_price,
            target,
            bands: Vec::new(),
        });
        self.put_name(Field::Channel(key, ChannelPart::Name), &channel.name);
        for (part, value) in [
            (ChannelPart::Commission, channel.commission),
            (ChannelPart::CardFee, channel.card_fee),
            (ChannelPart::CardFixed, channel.card_fee_fixed),
            (ChannelPart::Tax, channel.tax),
            (ChannelPart::Selling, channel.selling_cost),
            (ChannelPart::Target, reached),
            (ChannelPart::Example, preferences.currency.round(EXAMPLE_PRICE)),
        ] {
            self.put(Field::Channel(key, part), value, preferences);
        }
        for band in &channel.price_points {
            self.push_band(key, band, preferences);
        }
    }

    fn push_band(&mut self, channel: RowKey, band: &Band, preferences: &Preferences) {
        let key = self.fresh_key();
        if let Some(row) = self.channel_mut(channel) {
            row.bands.push(key);
        }
        for (part, value) in
            [(BandPart::UpTo, band.up_to.unwrap_or_default()), (BandPart::Step, band.step), (BandPart::Less, band.less)]
        {
            self.put(Field::Band(channel, key, part), value, preferences);
        }
    }

    // --- What it holds ------------------------------------------------------------------------------------------

    fn kind(&self, field: Field) -> Kind {
        match field {
            Field::OverheadName(_) | Field::Channel(_, ChannelPart::Name) => Kind::Name,
            Field::Studio(part) => match part {
                StudioPart::NormalHours | StudioPart::ElementsHours | StudioPart::ThermocoupleHours => {
                    Kind::NumberAboveZero
                }
                StudioPart::KwhPerLoad => Kind::Number,
                StudioPart::Recovery | StudioPart::ExampleMinutes => Kind::Minutes,
                StudioPart::SolderMargin => Kind::Difference,
                StudioPart::Wage
                | StudioPart::ElementsCost
                | StudioPart::ThermocoupleCost
                | StudioPart::PricePerKwh => Kind::Money,
            },
            Field::Channel(_, ChannelPart::Commission | ChannelPart::CardFee) => Kind::Share,
            Field::Channel(_, ChannelPart::Tax) => Kind::Rate,
            Field::Channel(key, ChannelPart::Target) => match self.channel(key).map(|row| row.target) {
                Some(TargetKind::Margin) => Kind::Share,
                Some(TargetKind::Markup) => Kind::Ratio,
                Some(TargetKind::Hourly) | None => Kind::Money,
            },
            Field::Band(_, _, BandPart::Step) => Kind::MoneyAboveZero,
            Field::OverheadAmount(_) | Field::Channel(..) | Field::Band(..) => Kind::Money,
        }
    }

    /// The lines of overhead, in order.
    pub(super) fn overhead(&self) -> &[RowKey] {
        &self.overhead
    }

    /// The channels, in order.
    pub(super) fn channels(&self) -> &[ChannelRow] {
        &self.channels
    }

    fn channel(&self, key: RowKey) -> Option<&ChannelRow> {
        self.channels.iter().find(|row| row.key == key)
    }

    fn channel_mut(&mut self, key: RowKey) -> Option<&mut ChannelRow> {
        self.channels.iter_mut().find(|row| row.key == key)
    }

    /// A field's text, as typed.
    pub(super) fn text(&self, field: Field) -> &str {
        self.cells.get(&field).map_or("", |cell| cell.entry.text())
    }

    /// A field's text without blanks at its ends.
    pub(super) fn name(&self, field: Field) -> &str {
        self.text(field).trim()
    }

    /// A field's figure.
    pub(super) fn value(&self, field: Field) -> Decimal {
        self.cells.get(&field).map(|cell| cell.value).unwrap_or_default()
    }

    /// What is wrong with a field.
    pub(super) fn problem(&self, field: Field) -> Option<&str> {
        let own = self.cells.get(&field).and_then(|cell| cell.problem.as_deref());
        own.or_else(|| self.crossed.get(&field).map(String::as_str))
    }

    /// Every field that cannot be kept, with what is wrong.
    pub(super) fn problems(&self) -> impl Iterator<Item = (Field, &str)> {
        self.cells
            .keys()
            .filter(|field| !field.is_example())
            .filter_map(move |&field| self.problem(field).map(|problem| (field, problem)))
    }

    /// The ids of the channels, in order: those of the book stay as they are, a new channel's is made from its name.
    pub(super) fn ids(&self) -> Vec<ChannelId> {
        let mut taken: BTreeSet<String> =
            self.channels.iter().filter_map(|row| row.kept.as_ref()).map(|id| id.0.clone()).collect();
        self.channels
            .iter()
            .map(|row| {
                row.kept.clone().unwrap_or_else(|| {
                    let id = fresh_id(self.name(Field::Channel(row.key, ChannelPart::Name)), &taken);
                    let _ = taken.insert(id.clone());
                    ChannelId(id)
                })
            })
            .collect()
    }

    /// A channel as it is typed.
    fn read_channel(&self, row: &ChannelRow, id: ChannelId) -> Channel {
        let value = |part| self.value(Field::Channel(row.key, part));
        let reached = value(ChannelPart::Target);
        let last = row.bands.last();
        Channel {
            id,
            name: self.name(Field::Channel(row.key, ChannelPart::Name)).to_owned(),
            retail: row.retail,
            commission: value(ChannelPart::Commission),
            card_fee: value(ChannelPart::CardFee),
            card_fee_fixed: value(ChannelPart::CardFixed),
            tax: value(ChannelPart::Tax),
            tax_in_price: row.tax_in_price,
            selling_cost: value(ChannelPart::Selling),
            target: match row.target {
                TargetKind::Margin => Target::Margin(reached),
                TargetKind::Markup => Target::Markup(reached),
                TargetKind::Hourly => Target::Hourly(reached),
            },
            price_points: row
                .bands
                .iter()
                .map(|band| {
                    let value = |part| self.value(Field::Band(row.key, *band, part));
                    Band {
                        up_to: (Some(band) != last).then(|| value(BandPart::UpTo)),
                        step: value(BandPart::Step),
                        less: value(BandPart::Less),
                    }
                })
                .collect(),
        }
    }

    /// The studio's figures as they are typed; where a text cannot be read, the book's figure.
    pub(super) fn rates(&self) -> StudioRates {
        let value = |part| self.value(Field::Studio(part));
        let money = |part| Money::rounded(value(part));
        StudioRates {
            overhead: self
                .overhead
                .iter()
                .map(|&key| OverheadItem {
                    name: self.name(Field::OverheadName(key)).to_owned(),
                    per_year: Money::rounded(self.value(Field::OverheadAmount(key))),
                })
                .collect(),
            normal_hours_per_year: value(StudioPart::NormalHours),
            labour_per_hour: money(StudioPart::Wage),
            elements_cost: money(StudioPart::ElementsCost),
            elements_hours: value(StudioPart::ElementsHours),
            thermocouple_cost: money(StudioPart::ThermocoupleCost),
            thermocouple_hours: value(StudioPart::ThermocoupleHours),
            price_per_kwh: money(StudioPart::PricePerKwh),
            kwh_per_load: value(StudioPart::KwhPerLoad),
            recovery_minutes: value(StudioPart::Recovery),
            solder_margin_c: value(StudioPart::SolderMargin),
            channels: self.channels.iter().zip(self.ids()).map(|(row, id)| self.read_channel(row, id)).collect(),
            tariff: self.unseen.tariff.clone(),
            heat_tolerance_c: self.unseen.heat_tolerance_c,
            minutes_tolerance: self.unseen.minutes_tolerance,
        }
    }
}

/// An id from a name: its letters a to z and digits in lower case with hyphens between; numbered where it is taken.
fn fresh_id(name: &str, taken: &BTreeSet<String>) -> String {
    const MOST: usize = 40;
    let mut id = String::new();
    for letter in name.chars() {
        if letter.is_ascii_alphanumeric() {
            id.push(letter.to_ascii_lowercase());
        } else if !id.is_empty() && !id.ends_with('-') {
            id.push('-');
        }
        if id.len() >= MOST {
            break;
        }
    }
    let id = match id.trim_end_matches('-') {
        "" => "channel",
        id => id,
    };
    if !taken.contains(id) {
        return id.to_owned();
    }
    // The list is finite, so that one of the numbers is free.
    (2_u32..).map(|number| format!("{id}-{number}")).find(|id| !taken.contains(id)).unwrap_or_default()
}

#[cfg(test)]
mod tests;
