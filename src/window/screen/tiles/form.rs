//! The form of a test tile: what is typed and chosen in it, and the tile it makes.

use super::super::kiln::fields::{self, Fields, Reading};
use super::super::stock::read::swatch;
use crate::measure::{Decimal, Preferences, edit, parse};
use crate::studio::{ItemId, LoadId, Metal, TestTile, TileId, Verdict};
use chrono::NaiveDate;

/// Most firings of a tile.
const MOST_FIRINGS: u32 = 99;

/// A field of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// The day.
    Date,
    /// Kiln temperature.
    Heat,
    /// Minutes in the heat, each firing.
    Minutes,
    /// Firings.
    Firings,
    /// What the colour looks like.
    Words,
    /// The colour.
    Colour,
    /// Anything else.
    Note,
}

impl Field {
    const ALL: [Self; 7] =
        [Self::Date, Self::Heat, Self::Minutes, Self::Firings, Self::Words, Self::Colour, Self::Note];

    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        format!("tile-{self:?}").to_lowercase()
    }
}

/// The form as it stands.
#[derive(Debug, Clone)]
pub(super) struct Form {
    pub(super) id: Option<TileId>,
    pub(super) title: String,
    pub(super) fields: Fields<Field>,
    pub(super) metal: Metal,
    pub(super) verdict: Verdict,
    /// From the metal up.
    pub(super) layers: Vec<ItemId>,
    pub(super) load: Option<LoadId>,
    retired: bool,
    /// It was submitted once: what is missing is told from now on.
    pub(super) tried: bool,
    /// Why it was refused.
    pub(super) refusal: Option<String>,
}

impl Form {
    /// A tile to be written down.
    pub(super) fn new(today: NaiveDate, preferences: &Preferences) -> Self {
        let tile = TestTile {
            date: today,
            metal: Metal::Copper,
            layers: Vec::new(),
            celsius: Decimal::ZERO,
            minutes: Decimal::ZERO,
            firings: 1,
            verdict: Verdict::Open,
            colour_words: String::new(),
            colour: None,
            note: String::new(),
            load: None,
            retired: false,
        };
        let mut form = Self::of(None, &tile, preferences);
        form.fields.set(Field::Heat, "");
        form.fields.set(Field::Minutes, "");
        form
    }

    /// A tile as it is, or as a load begins it.
    pub(super) fn of(id: Option<TileId>, tile: &TestTile, preferences: &Preferences) -> Self {
        let mut fields = Fields::default();
        fields.set(Field::Date, tile.date.to_string());
        fields.set(Field::Heat, edit::edit_temperature(tile.celsius, preferences));
        fields.set(Field::Minutes, edit::edit_minutes(tile.minutes, preferences));
        fields.set(Field::Firings, tile.firings.to_string());
        fields.set(Field::Words, tile.colour_words.clone());
        fields.set(Field::Colour, tile.colour.map(hex).unwrap_or_default());
        fields.set(Field::Note, tile.note.clone());
        Self {
            id,
            title: if id.is_some() { "Test tile" } else { "A new test tile" }.to_owned(),
            fields,
            metal: tile.metal,
            verdict: tile.verdict,
            layers: tile.layers.clone(),
            load: tile.load,
            retired: tile.retired,
            tried: false,
            refusal: None,
        }
    }

    fn colour(&self) -> Reading<Option<[u8; 3]>> {
        match self.fields.trimmed(Field::Colour) {
            "" => Ok(None),
            text => swatch(text).map(Some).ok_or_else(|| {
                format!(
                    "{text:?} is not a colour: write #rrggbb, or red, green and blue from 0 to 255, e.g. 60, 122, 82"
                )
            }),
        }
    }

    /// The colour typed, where it can be read.
    pub(super) fn seen_colour(&self) -> Option<[u8; 3]> {
        self.colour().ok().flatten()
    }

    fn firings(&self, preferences: &Preferences) -> Reading<u32> {
        parse::parse_count(self.fields.trimmed(Field::Firings), 1..=MOST_FIRINGS, preferences)
            .map_err(|problem| problem.to_string())
    }

    /// What is wrong with a field, if anything. What is only missing is told once the form was submitted.
    pub(super) fn problem(&self, field: Field, preferences: &Preferences) -> Option<String> {
        let text = self.fields.trimmed(field);
        if !self.tried && text.is_empty() {
            return None;
        }
        match field {
            Field::Words | Field::Note => None,
            Field::Date => fields::day(text).err(),
            Field::Heat => fields::temperature(text, preferences).err(),
            Field::Minutes => fields::minutes(text, preferences).err(),
            Field::Firings => self.firings(preferences).err(),
            Field::Colour => self.colour().err(),
        }
    }

    /// The first field that cannot be accepted.
    pub(super) fn first_problem(&self, preferences: &Preferences) -> Option<Field> {
        Field::ALL.into_iter().find(|field| self.problem(*field, preferences).is_some())
    }

    /// The tile, once every field can be read and it has a layer.
    pub(super) fn tile(&self, preferences: &Preferences) -> Option<TestTile> {
        if self.layers.is_empty() {
            return None;
        }
        let text = |field| self.fields.trimmed(field);
        Some(TestTile {
            date: fields::day(text(Field::Date)).ok()?,
            metal: self.metal,
            layers: self.layers.clone(),
            celsius: fields::temperature(text(Field::Heat), preferences).ok()?,
            minutes: fields::minutes(text(Field::Minutes), preferences).ok()?,
            firings: self.firings(preferences).ok()?,
            verdict: self.verdict,
            colour_words: text(Field::Words).to_owned(),
            colour: self.colour().ok()?,
            note: text(Field::Note).to_owned(),
            load: self.load,
            retired: self.retired,
        })
    }
}

/// A colour as it is typed.
pub(super) fn hex([red, green, blue]: [u8; 3]) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}
