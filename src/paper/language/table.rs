//! The tables of phrases, each read when it is first asked for.

use crate::studio::Language;
use std::collections::BTreeMap;
use std::sync::OnceLock;

/// The phrases of a language.
#[derive(Debug, Default)]
struct Table {
    /// Names, as they follow one another in the file.
    order: Vec<String>,
    words: BTreeMap<String, String>,
}

static TABLES: [OnceLock<Table>; Language::ALL.len()] = [const { OnceLock::new() }; Language::ALL.len()];

const fn text(language: Language) -> &'static str {
    match language {
        Language::English => include_str!("../../../assets/words/en.toml"),
        Language::German => include_str!("../../../assets/words/de.toml"),
        Language::French => include_str!("../../../assets/words/fr.toml"),
        Language::Spanish => include_str!("../../../assets/words/es.toml"),
        Language::Italian => include_str!("../../../assets/words/it.toml"),
        Language::Dutch => include_str!("../../../assets/words/nl.toml"),
        Language::Polish => include_str!("../../../assets/words/pl.toml"),
        Language::Swedish => include_str!("../../../assets/words/sv.toml"),
        Language::Czech => include_str!("../../../assets/words/cs.toml"),
        Language::Greek => include_str!("../../../assets/words/el.toml"),
        Language::Japanese => include_str!("../../../assets/words/ja.toml"),
    }
}

fn table(language: Language) -> Option<&'static Table> {
    let place = Language::ALL.into_iter().position(|known| known == language)?;
    Some(TABLES.get(place)?.get_or_init(|| read(text(language))))
}

/// The phrases of a table. That each can be read is proved by the test of all languages.
fn read(text: &str) -> Table {
    let Ok(document) = text.parse::<toml_edit::DocumentMut>() else { return Table::default() };
    let mut table = Table::default();
    for (name, words) in document.iter() {
        if let Some(words) = words.as_str() {
            table.order.push(name.to_owned());
            let _ = table.words.insert(name.to_owned(), words.to_owned());
        }
    }
    table
}

/// The phrase of that name.
pub(super) fn phrase(language: Language, name: &str) -> Option<&'static str> {
    table(language)?.words.get(name).map(String::as_str)
}

/// Every name, in the order of the table.
pub(super) fn names(language: Language) -> impl Iterator<Item = &'static str> {
    table(language).into_iter().flat_map(|table| table.order.iter().map(String::as_str))
}
