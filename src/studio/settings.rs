//! What Setup holds.

use super::language::Language;
use super::movement::ValuationMethod;
use crate::measure::{Currency, NumberStyle, Preferences};
use serde::{Deserialize, Serialize};

pub use crate::measure::{LengthUnit, MassUnit, TemperatureUnit, ThicknessUnit};

/// The book's settings. The look (light or dark, text size) belongs to the machine, not to the book, and is kept by
/// the window.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Settings {
    /// The studio's name, printed on papers.
    pub studio_name: String,
    /// Town or address line, printed on care cards.
    pub studio_place: String,
    /// Her own words for care cards; may be empty.
    pub care_words: String,
    /// The maker's story, printed on care cards and certificates that have a place for it; may be empty.
    #[serde(default)]
    pub maker_story: String,
    /// The language papers are written in where they do not say another.
    #[serde(default)]
    pub paper_language: Language,
    /// The book's currency.
    pub currency: Currency,
    /// Decimal comma instead of point.
    pub decimal_comma: bool,
    /// Temperatures.
    pub temperature: TemperatureUnit,
    /// Lengths.
    pub length: LengthUnit,
    /// Masses.
    pub mass: MassUnit,
    /// Thickness.
    pub thickness: ThicknessUnit,
    /// How stock is valued.
    pub valuation: ValuationMethod,
    /// Prices are computed on what the stock on hand cost instead of on the latest purchase.
    pub price_on_book_cost: bool,
    /// The fair shown on the opening page: its name, e.g. `Harbour Fair`; empty for none.
    pub fair_name: String,
    /// The fair's first day.
    pub fair_date: Option<chrono::NaiveDate>,
    /// The last day of the period that is closed: nothing dated on it or before may change stock.
    #[serde(default)]
    pub closed_until: Option<chrono::NaiveDate>,
}

impl From<&Settings> for Preferences {
    fn from(settings: &Settings) -> Self {
        Self {
            currency: settings.currency,
            numbers: if settings.decimal_comma { NumberStyle::Comma } else { NumberStyle::Point },
            temperature: settings.temperature,
            length: settings.length,
            mass: settings.mass,
            thickness: settings.thickness,
        }
    }
}
