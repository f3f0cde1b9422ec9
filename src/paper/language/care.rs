//! The sentences of care cards and the line that says what a piece is made of.

use super::{CareText, Speech};
use crate::measure::Decimal;
use crate::paper::words::{CareFacts, Strung, Stuff};
use crate::studio::{Design, LengthUnit, Metal};

impl Speech<'_> {
    /// The care text: common practice of the trade, no source.
    pub fn care_text(self, facts: &CareFacts) -> CareText {
        let metal = self.phrase(&format!("ground-{}", facts.metal.name()));
        let opening = match self.times(facts.firings) {
            Some(times) => self.with("care-made-times", &[("metal", &metal), ("times", &times)]),
            None => self.with("care-made-once", &[("metal", &metal)]),
        };
        let handling = self.phrase(if facts.worn { "care-worn" } else { "care-kept" });
        let bare = self.phrase(&format!("bare-{}", facts.metal.name()));
        let cleaning = self.with("care-clean", &[("bare", &bare)]);
        let mut cautions = Vec::new();
        if facts.lead_bearing {
            cautions.push(self.phrase("caution-lead").into_owned());
        } else if !facts.for_children {
            cautions.push(self.phrase("caution-children").into_owned());
        }
        CareText {
            language: self.language(),
            title: self.phrase("care-title").into_owned(),
            care: vec![opening, handling.into_owned(), cleaning],
            cautions,
        }
    }

    /// `twice`, `five times`; none for a single firing.
    fn times(self, firings: usize) -> Option<String> {
        match firings {
            0 | 1 => None,
            2..=12 => Some(self.phrase(&format!("times-{firings}")).into_owned()),
            more => Some(self.with("times-more", &[("count", &more.to_string())])),
        }
    }

    /// `fired once`, `fired five times`; none for a piece that is not fired.
    pub fn fired(self, firings: usize) -> Option<String> {
        match (firings, self.times(firings)) {
            (0, _) => None,
            (_, Some(times)) => Some(self.with("fired-times", &[("times", &times)])),
            (_, None) => Some(self.phrase("fired-once").into_owned()),
        }
    }

    /// The metal's name.
    pub fn metal(self, metal: Metal) -> String {
        self.phrase(&format!("metal-{}", metal.name())).into_owned()
    }

    /// What the piece is made of: `glass enamel on copper, 45 cm chain`. A chain's length is the millimetres used, or
    /// what its name says; findings of another metal are named.
    pub fn materials_line(self, design: &Design, length: LengthUnit) -> String {
        let stuff = Stuff::of(design, length);
        let mut parts = vec![if stuff.glass {
            self.with("glass-enamel-on", &[("metal", &self.phrase(&format!("ground-{}", stuff.metal.name())))])
        } else {
            self.metal(stuff.metal)
        }];
        parts.extend(stuff.strung.iter().map(|strung| self.strung(strung, length)));
        let of = |metal: &Metal| self.with("findings-of", &[("metal", &self.of(*metal))]);
        parts.extend(stuff.others.iter().map(of));
        self.list(&parts)
    }

    fn of(self, metal: Metal) -> String {
        self.phrase(&format!("of-{}", metal.name())).into_owned()
    }

    fn strung(self, strung: &Strung, unit: LengthUnit) -> String {
        let length = strung.length.map(|length| self.long(length, unit));
        let metal = strung.metal.map(|metal| self.of(metal));
        let word = strung.word;
        match (length, metal) {
            (None, None) => self.phrase(word).into_owned(),
            (Some(length), None) => self.with(&format!("{word}-long"), &[("length", &length)]),
            (None, Some(metal)) => self.with(&format!("{word}-of"), &[("metal", &metal)]),
            (Some(length), Some(metal)) => {
                self.with(&format!("{word}-long-of"), &[("length", &length), ("metal", &metal)])
            }
        }
    }

    /// A length in centimetres or inches.
    fn long(self, length: Decimal, unit: LengthUnit) -> String {
        let name = match unit {
            LengthUnit::Millimetre => "unit-centimetre",
            LengthUnit::Inch => "unit-inch",
        };
        self.with(name, &[("number", &self.number(length))])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::studio::Language;

    fn facts() -> CareFacts {
        CareFacts { metal: Metal::Sterling, firings: 5, worn: true, lead_bearing: false, for_children: false }
    }

    #[test]
    fn the_english_text_is_as_it_always_was() {
        let text = Speech::plain(Language::English).care_text(&facts());
        assert_eq!(text.care[0], "This is glass, fused to sterling silver in a kiln, five times over.");
        assert!(text.care[2].ends_with("Bare sterling silver dulls in the air; a soft dry cloth brings it back."));
        let twice = Speech::plain(Language::English).care_text(&CareFacts { firings: 2, ..facts() });
        assert!(twice.care[0].ends_with("in a kiln, twice over."));
    }

    #[test]
    fn firings_are_told_in_words() {
        let told = |language, firings| Speech::plain(language).fired(firings).unwrap();
        assert_eq!(told(Language::English, 5), "fired five times");
        assert_eq!(told(Language::German, 1), "einmal gebrannt");
        assert_eq!(told(Language::Czech, 20), "páleno 20krát");
        assert_eq!(told(Language::Polish, 5), "wypalono pięć razy");
        assert_eq!(told(Language::Japanese, 5), "焼成5回");
    }

    #[test]
    fn every_language_says_all_of_it_for_every_metal() {
        for language in Language::ALL {
            for metal in Metal::ALL {
                for (firings, worn, lead_bearing) in [(1, true, true), (5, false, false), (20, true, false)] {
                    let facts = CareFacts { metal, firings, worn, lead_bearing, for_children: false };
                    let text = Speech::plain(language).care_text(&facts);
                    assert_eq!((text.care.len(), text.cautions.len()), (3, 1));
                    for sentence in text.care.iter().chain(&text.cautions) {
                        assert!(!sentence.contains(['{', '}']), "{sentence}");
                    }
                }
            }
        }
    }
}
