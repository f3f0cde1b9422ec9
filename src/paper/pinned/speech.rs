//! How the facts are said in a language.

use super::super::language::Speech;
use super::super::words::CareFacts;
use crate::measure::{Decimal, NumberStyle, Preferences, display};
use crate::studio::{Design, EnamelKind, Fusing, Language, LengthUnit, Outline, Thickness};
use chrono::NaiveDate;

/// Says the facts of a paper in a language, numbers and dates as its readers write them.
pub trait Speaks {
    /// The language.
    fn language(&self) -> Language;

    /// Her units.
    fn preferences(&self) -> &Preferences;

    /// What a piece is made of.
    fn materials(&self, design: &Design, length: LengthUnit) -> String;

    /// The heading above the care text.
    fn care_heading(&self) -> String;

    /// How to look after it, sentence by sentence.
    fn care(&self, facts: &CareFacts) -> Vec<String>;

    /// The cautions; may be none.
    fn cautions(&self, facts: &CareFacts) -> Vec<String>;

    /// How an enamel takes light.
    fn enamel_kind(&self, kind: EnamelKind) -> String;

    /// The fusing class.
    fn fusing(&self, class: Fusing) -> String;

    /// The mesh.
    fn mesh(&self, mesh: &str) -> String;

    /// The lot.
    fn lot(&self, lot: &str) -> String;

    /// The empty jar, g.
    fn tare(&self, grams: Decimal) -> String;

    /// A mark that it bears lead.
    fn lead_mark(&self) -> String;

    /// A phrase of papers with its braces filled.
    fn phrase(&self, name: &str, values: &[(&str, &str)]) -> String;

    /// How often it was fired; empty for never.
    fn firings(&self, count: usize) -> String;

    /// A day.
    fn date(&self, date: NaiveDate) -> String;

    /// A ticket, with the spaces other programs know.
    fn money(&self, amount: Decimal) -> String {
        display::money(amount, self.preferences()).replace(['\u{a0}', '\u{202f}', '\u{2009}'], " ")
    }

    /// A range of temperatures, °C.
    fn firing_range(&self, [low, high]: [Decimal; 2]) -> String {
        let most = display::temperature(high, self.preferences());
        if low == high {
            return most;
        }
        let least = display::temperature(low, self.preferences());
        let least = least.split(display::FIXED_SPACE).next().unwrap_or_default();
        format!("{least}–{most}")
    }

    /// A gauge or thickness.
    fn thickness(&self, thickness: Thickness) -> String {
        display::thickness(thickness.into(), self.preferences())
    }

    /// The size of a blank; empty for an outline that no two figures describe.
    fn size(&self, outline: &Outline) -> String {
        let length = |mm: Decimal| display::length(mm, self.preferences());
        match outline {
            Outline::Disc { diameter_mm } => format!("Ø\u{a0}{}", length(*diameter_mm)),
            Outline::Ellipse { length_mm: long, width_mm: wide }
            | Outline::Rectangle { length_mm: long, width_mm: wide, .. }
            | Outline::Drop { height_mm: long, width_mm: wide } => {
                let long = length(*long);
                let long = long.split(display::FIXED_SPACE).next().unwrap_or_default();
                format!("{long}\u{a0}×\u{a0}{}", length(*wide))
            }
            Outline::Polygon { .. } | Outline::Path { .. } => String::new(),
        }
    }
}

/// Any language of papers, with her own words in it.
#[derive(Debug, Clone, Copy)]
pub struct Spoken<'a> {
    speech: Speech<'a>,
    preferences: Preferences,
}

impl<'a> Spoken<'a> {
    /// The language with her units; figures are written as its readers write them.
    pub fn new(speech: Speech<'a>, preferences: Preferences) -> Self {
        let numbers = match speech.language() {
            Language::English | Language::Japanese => NumberStyle::Point,
            _ => NumberStyle::Comma,
        };
        Self { speech, preferences: Preferences { numbers, ..preferences } }
    }
}

impl Speaks for Spoken<'_> {
    fn language(&self) -> Language {
        self.speech.language()
    }

    fn preferences(&self) -> &Preferences {
        &self.preferences
    }

    fn materials(&self, design: &Design, length: LengthUnit) -> String {
        self.speech.materials_line(design, length)
    }

    fn care_heading(&self) -> String {
        self.speech.phrase("care-title").into_owned()
    }

    fn care(&self, facts: &CareFacts) -> Vec<String> {
        self.speech.care_text(facts).care
    }

    fn cautions(&self, facts: &CareFacts) -> Vec<String> {
        self.speech.care_text(facts).cautions
    }

    fn enamel_kind(&self, kind: EnamelKind) -> String {
        self.speech.phrase(&format!("enamel-{}", kind.name())).into_owned()
    }

    fn fusing(&self, class: Fusing) -> String {
        self.speech.phrase(&format!("fusing-{}", class.name())).into_owned()
    }

    fn mesh(&self, mesh: &str) -> String {
        self.speech.with("mesh-of", &[("mesh", mesh)])
    }

    fn lot(&self, lot: &str) -> String {
        self.speech.with("lot-of", &[("lot", lot)])
    }

    fn tare(&self, grams: Decimal) -> String {
        self.speech.with("tare-of", &[("mass", &display::mass(grams, &self.preferences))])
    }

    fn lead_mark(&self) -> String {
        self.speech.phrase("contains-lead").into_owned()
    }

    fn phrase(&self, name: &str, values: &[(&str, &str)]) -> String {
        self.speech.with(name, values)
    }

    fn firings(&self, count: usize) -> String {
        self.speech.fired(count).unwrap_or_default()
    }

    fn date(&self, date: NaiveDate) -> String {
        self.speech.date(date)
    }

    fn money(&self, amount: Decimal) -> String {
        self.speech.money(amount, self.preferences.currency).replace(['\u{a0}', '\u{202f}', '\u{2009}'], " ")
    }
}
