//! What energy costs by time of day, and how far firings may lie apart to share a load, being edited.

use super::super::kiln::fields::{self, Fields, Reading};
use crate::kiln::tariff;
use crate::measure::{Decimal, Preferences, edit, parse};
use crate::studio::{StudioRates, TariffBand};
use chrono::Weekday;

/// The days of a week.
pub(super) const DAYS: [(Weekday, &str); 7] = [
    (Weekday::Mon, "Mon"),
    (Weekday::Tue, "Tue"),
    (Weekday::Wed, "Wed"),
    (Weekday::Thu, "Thu"),
    (Weekday::Fri, "Fri"),
    (Weekday::Sat, "Sat"),
    (Weekday::Sun, "Sun"),
];

/// Most bands.
const MOST: usize = 20;

/// A figure of a band.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Of {
    /// Her name for it.
    Name,
    /// From this time.
    From,
    /// Up to this time.
    To,
    /// Money per kWh.
    Price,
}

/// A field.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// Of the band with that key.
    Band(u32, Of),
    /// °C a firing may be set off its plan.
    Heat,
    /// Minutes it may be kept off its plan.
    Minutes,
}

impl Field {
    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        match self {
            Self::Band(key, of) => format!("tariff-{of:?}-{key}").to_lowercase(),
            own => format!("tariff-{own:?}").to_lowercase(),
        }
    }
}

/// What happens.
#[derive(Debug, Clone)]
pub enum Change {
    /// A field was typed in.
    Typed(Field, String),
    /// A band holds on a day, or not: turned round.
    Day(u32, Weekday),
    /// A band more.
    Add,
    /// A band goes.
    Remove(u32),
}

/// A band.
#[derive(Debug, Clone)]
pub(super) struct Band {
    /// Names its fields; from 1, never used again.
    pub(super) key: u32,
    pub(super) days: Vec<Weekday>,
}

/// The tariff as it is edited.
#[derive(Debug, Clone)]
pub(super) struct Tariff {
    pub(super) fields: Fields<Field>,
    pub(super) bands: Vec<Band>,
    next: u32,
    pub(super) tried: bool,
    pub(super) refusal: Option<String>,
}

impl Tariff {
    /// As the book has it.
    pub(super) fn of(rates: &StudioRates, p: &Preferences) -> Self {
        let mut edited = Self { fields: Fields::default(), bands: Vec::new(), next: 1, tried: false, refusal: None };
        for band in &rates.tariff {
            let key = edited.add(band.days.clone());
            for (of, text) in [
                (Of::Name, band.name.clone()),
                (Of::From, band.from.format("%H:%M").to_string()),
                (Of::To, band.to.format("%H:%M").to_string()),
                (Of::Price, edit::edit_money(band.price_per_kwh.amount(), p)),
            ] {
                edited.fields.set(Field::Band(key, of), text);
            }
        }
        edited.fields.set(Field::Heat, edit::edit_temperature_difference(rates.heat_tolerance_c, p));
        edited.fields.set(Field::Minutes, edit::edit_minutes(rates.minutes_tolerance, p));
        edited
    }

    fn add(&mut self, days: Vec<Weekday>) -> u32 {
        let key = self.next;
        self.next = self.next.saturating_add(1);
        self.bands.push(Band { key, days });
        key
    }

    /// Takes note of a change.
    pub(super) fn change(&mut self, change: Change) {
        self.refusal = None;
        match change {
            Change::Typed(field, text) => self.fields.type_in(field, text),
            Change::Day(key, day) => {
                if let Some(band) = self.bands.iter_mut().find(|band| band.key == key) {
                    if band.days.contains(&day) {
                        band.days.retain(|other| *other != day);
                    } else {
                        band.days.push(day);
                        band.days.sort_by_key(Weekday::num_days_from_monday);
                    }
                }
            }
            Change::Add if self.bands.len() < MOST => {
                let _ = self.add(DAYS.iter().map(|(day, _)| *day).collect());
            }
            Change::Add => {}
            Change::Remove(key) => self.bands.retain(|band| band.key != key),
        }
    }

    fn tolerance(&self, field: Field, p: &Preferences) -> Reading<Decimal> {
        let text = self.fields.trimmed(field);
        match field {
            Field::Heat => parse::parse_temperature_difference(text, p).map_err(|problem| problem.to_string()),
            _ => parse::parse_minutes(text, p).map_err(|problem| problem.to_string()),
        }
    }

    /// What is wrong with a field, if anything. What is only missing is told once it was submitted.
    pub(super) fn problem(&self, field: Field, p: &Preferences) -> Option<String> {
        let text = self.fields.trimmed(field);
        if text.is_empty() && !self.tried {
            return None;
        }
        match field {
            Field::Band(_, Of::Name) => text.is_empty().then(|| "it needs a name, such as “night”".to_owned()),
            Field::Band(_, Of::From | Of::To) => fields::time(text).err(),
            Field::Band(_, Of::Price) => parse::parse_money(text, p).err().map(|problem| problem.to_string()),
            own => self.tolerance(own, p).err(),
        }
    }

    /// The first field that cannot be accepted.
    pub(super) fn first_problem(&self, p: &Preferences) -> Option<Field> {
        let parts = [Of::Name, Of::From, Of::To, Of::Price];
        let bands = self.bands.iter().flat_map(|band| parts.map(|of| Field::Band(band.key, of)));
        bands.chain([Field::Heat, Field::Minutes]).find(|field| self.problem(*field, p).is_some())
    }

    /// The studio's rates with this tariff and these tolerances, once every field can be read.
    pub(super) fn rates(&self, rates: &StudioRates, p: &Preferences) -> Reading<StudioRates> {
        let bands = self.bands.iter().map(|band| {
            let text = |of| self.fields.trimmed(Field::Band(band.key, of));
            Ok(TariffBand {
                name: text(Of::Name).to_owned(),
                days: band.days.clone(),
                from: fields::time(text(Of::From))?,
                to: fields::time(text(Of::To))?,
                price_per_kwh: parse::parse_money(text(Of::Price), p).map_err(|problem| problem.to_string())?,
            })
        });
        let bands = bands.collect::<Reading<Vec<TariffBand>>>()?;
        if let Some(problem) = tariff::problems(&bands).first() {
            return Err(problem.to_string());
        }
        Ok(StudioRates {
            tariff: bands,
            heat_tolerance_c: self.tolerance(Field::Heat, p)?,
            minutes_tolerance: self.tolerance(Field::Minutes, p)?,
            ..rates.clone()
        })
    }
}
