//! The “suppose” form: raw text, parsed on every change, wrong text told under its field.

use crate::costing::suppose::Supposition;
use crate::measure::{Preferences, parse};
use crate::window::widget::Entry;

/// The fields of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Field {
    Labour,
    Metals,
    Enamels,
    Commission,
    CardFee,
}

impl Field {
    /// In reading order.
    pub(super) const ALL: [Self; 5] = [Self::Labour, Self::Metals, Self::Enamels, Self::Commission, Self::CardFee];

    pub(super) const fn label(self) -> &'static str {
        match self {
            Self::Labour => "Bench hour",
            Self::Metals => "Metals",
            Self::Enamels => "Enamels",
            Self::Commission => "Commission",
            Self::CardFee => "Card fee",
        }
    }

    pub(super) const fn example(self) -> &'static str {
        match self {
            Self::Labour => "as now",
            Self::Metals | Self::Enamels => "+10 %",
            Self::Commission => "50 %",
            Self::CardFee => "3 %",
        }
    }
}

/// What the form holds.
#[derive(Debug, Clone, Default)]
pub(super) struct Form {
    entries: [Entry; 5],
    pub(super) more_firings: u32,
}

/// Most firings that can be supposed on top.
pub(super) const MOST_MORE: u32 = 8;

impl Form {
    pub(super) fn entry(&self, field: Field) -> &Entry {
        let [labour, metals, enamels, commission, card_fee] = &self.entries;
        match field {
            Field::Labour => labour,
            Field::Metals => metals,
            Field::Enamels => enamels,
            Field::Commission => commission,
            Field::CardFee => card_fee,
        }
    }

    pub(super) fn entry_mut(&mut self, field: Field) -> &mut Entry {
        let [labour, metals, enamels, commission, card_fee] = &mut self.entries;
        match field {
            Field::Labour => labour,
            Field::Metals => metals,
            Field::Enamels => enamels,
            Field::Commission => commission,
            Field::CardFee => card_fee,
        }
    }

    /// What is wrong with a field.
    pub(super) fn problem(&self, field: Field, preferences: &Preferences) -> Option<String> {
        let text = self.entry(field).trimmed();
        if text.is_empty() {
            return None;
        }
        match field {
            Field::Labour => parse::parse_money(text, preferences).err(),
            Field::Metals | Field::Enamels => parse::parse_change(text, preferences).err(),
            Field::Commission | Field::CardFee => parse::parse_share(text, preferences).err(),
        }
        .map(|problem| problem.to_string())
    }

    /// What is supposed; a field that cannot be read supposes nothing.
    pub(super) fn supposition(&self, preferences: &Preferences) -> Supposition {
        let text = |field| Some(self.entry(field).trimmed()).filter(|text: &&str| !text.is_empty());
        let change =
            |field| text(field).and_then(|text| parse::parse_change(text, preferences).ok()).unwrap_or_default();
        let share = |field| text(field).and_then(|text| parse::parse_share(text, preferences).ok());
        Supposition {
            labour_per_hour: text(Field::Labour)
                .and_then(|text| parse::parse_money(text, preferences).ok())
                .map(crate::measure::Money::amount),
            metals: change(Field::Metals),
            enamels: change(Field::Enamels),
            commission: share(Field::Commission),
            card_fee: share(Field::CardFee),
            more_firings: self.more_firings,
        }
    }

    /// Every field goes back to nothing supposed.
    pub(super) fn clear(&mut self) {
        *self = Self::default();
    }
}
