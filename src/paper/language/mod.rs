//! The words of papers in each language: phrases by name, the maker's own words first, and figures as the reader writes
//! them. The texts are in `assets/words`, one table a language, every name in each.

mod care;
mod figures;
mod own;
mod purpose;
mod table;

pub use own::{MOST_CHARACTERS, WordsProblem, accept, filled_into, meaning};
pub use purpose::{LEGAL, Purpose, is_legal};

use super::words::CareText;
use crate::studio::Language;
use std::borrow::Cow;
use std::collections::BTreeMap;

/// The maker's own words, by language and phrase.
pub type OwnWords = BTreeMap<(Language, String), String>;

static NO_OWN_WORDS: OwnWords = OwnWords::new();

/// There is a phrase of that name.
pub fn is_phrase(name: &str) -> bool {
    table::phrase(Language::English, name).is_some()
}

/// Every phrase's name, in the order of the tables: what belongs together stands together.
pub fn phrases() -> impl Iterator<Item = &'static str> {
    table::names(Language::English)
}

/// The program's own words for a phrase; none where there is no such phrase.
pub fn program_words(language: Language, name: &str) -> Option<&'static str> {
    table::phrase(language, name)
}

/// A language with the words a maker put in place of some of its phrases.
#[derive(Debug, Clone, Copy)]
pub struct Speech<'a> {
    language: Language,
    own: &'a OwnWords,
}

impl Speech<'static> {
    /// The language as it comes.
    pub fn plain(language: Language) -> Self {
        Self { language, own: &NO_OWN_WORDS }
    }
}

impl<'a> Speech<'a> {
    /// The language with words of one's own.
    pub const fn new(language: Language, own: &'a OwnWords) -> Self {
        Self { language, own }
    }

    /// The language.
    pub const fn language(self) -> Language {
        self.language
    }

    /// The phrase of that name: the maker's own words where she has some. A name that [`is_phrase`] does not know is
    /// answered as it is.
    pub fn phrase(self, name: &str) -> Cow<'a, str> {
        let own = if self.own.is_empty() { None } else { self.own.get(&(self.language, name.to_owned())) };
        match own {
            Some(words) => Cow::Borrowed(words.as_str()),
            None => match table::phrase(self.language, name) {
                Some(words) => Cow::Borrowed(words),
                None => Cow::Owned(name.to_owned()),
            },
        }
    }

    /// A phrase with its braces filled: `{metal}` becomes the value of that name. Braces without a value stay, and
    /// braces in a value are not looked at.
    pub fn with(self, name: &str, values: &[(&str, &str)]) -> String {
        fill(&self.phrase(name), values)
    }

    /// A phrase in the form its number asks for, its `{count}` filled: `name-one`, `name-few` or `name-other`.
    pub fn counted(self, name: &str, count: u64) -> String {
        let form = match figures::plural(self.language, count) {
            figures::Plural::One => "one",
            figures::Plural::Few => "few",
            figures::Plural::Other => "other",
        };
        self.with(&format!("{name}-{form}"), &[("count", &self.number(count.into()))])
    }

    /// Parts one after the other, as a list is written: `glass enamel on copper, 45 cm chain`.
    pub fn list(self, parts: &[String]) -> String {
        parts.join(&self.phrase("list-comma"))
    }
}

fn fill(phrase: &str, values: &[(&str, &str)]) -> String {
    let mut text = String::with_capacity(phrase.len() + 32);
    let mut rest = phrase;
    while let Some((before, after)) = rest.split_once('{') {
        text.push_str(before);
        let value = after.split_once('}').and_then(|(name, behind)| {
            values.iter().find(|(known, _)| *known == name).map(|(_, value)| (*value, behind))
        });
        match value {
            Some((value, behind)) => {
                text.push_str(value);
                rest = behind;
            }
            None => {
                text.push('{');
                rest = after;
            }
        }
    }
    text.push_str(rest);
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    fn braces(text: &str) -> BTreeSet<String> {
        text.split('{').skip(1).filter_map(|part| part.split_once('}')).map(|(name, _)| name.to_owned()).collect()
    }

    #[test]
    fn every_language_has_every_phrase_with_the_same_braces_and_a_text() {
        let names: BTreeSet<&str> = phrases().collect();
        assert!(names.len() > 150, "{}", names.len());
        for language in Language::ALL {
            let own: BTreeSet<&str> = table::names(language).collect();
            assert_eq!(own, names, "{}", language.name());
            for name in &names {
                let text = table::phrase(language, name).unwrap();
                // The mark between parts ends with its space.
                let tidy = text.trim() == text || *name == "list-comma";
                assert!(tidy && !text.trim().is_empty(), "{name} in {}", language.name());
                let english = table::phrase(Language::English, name).unwrap();
                assert_eq!(braces(text), braces(english), "{name} in {}", language.name());
                assert_eq!(text.matches('{').count(), text.matches('}').count(), "{name}");
            }
        }
    }

    #[test]
    fn her_own_words_come_first_in_their_language_only() {
        let own = OwnWords::from([((Language::German, "care-title".to_owned()), "Gute Pflege".to_owned())]);
        assert_eq!(Speech::new(Language::German, &own).phrase("care-title"), "Gute Pflege");
        assert_eq!(Speech::new(Language::English, &own).phrase("care-title"), "Looking after your piece");
        assert!(is_phrase("care-title") && !is_phrase("care"));
    }

    #[test]
    fn braces_are_filled_once() {
        assert_eq!(fill("{a} und {b}", &[("a", "{b}"), ("b", "c")]), "{b} und c");
        assert_eq!(fill("{x {a} }", &[("a", "1")]), "{x 1 }");
    }

    /// Plural categories of CLDR 48 for whole numbers; from memory.
    #[test]
    fn numbers_ask_for_their_forms() {
        let polish = Speech::plain(Language::Polish);
        for (count, words) in [(1, "1 sztuka"), (2, "2 sztuki"), (5, "5 sztuk"), (12, "12 sztuk"), (22, "22 sztuki")] {
            assert_eq!(polish.counted("pieces", count), words);
        }
        let czech = Speech::plain(Language::Czech);
        for (count, words) in [(1, "1 kus"), (3, "3 kusy"), (5, "5 kusů"), (22, "22 kusů")] {
            assert_eq!(czech.counted("pieces", count), words);
        }
        assert_eq!(Speech::plain(Language::German).counted("due", 1), "Zahlbar innerhalb von 1 Tag");
        assert_eq!(Speech::plain(Language::French).counted("pieces", 0), "0 pièce");
        assert_eq!(Speech::plain(Language::Japanese).counted("pieces", 3), "3点");
    }
}
