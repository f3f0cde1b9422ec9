//! What words of her own must keep, so that a paper still says what it has to say.

use super::table;
use crate::studio::Language;
use std::collections::BTreeSet;

/// Most characters of words of her own.
pub const MOST_CHARACTERS: usize = 1_000;

/// Marks between parts, whose blank at the end is a part of them.
const BETWEEN: &str = "list-comma";

/// Why words of her own cannot stand in for a phrase.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum WordsProblem {
    /// There is no such phrase.
    #[error("there is no phrase {0:?} on papers; `words list` shows their names")]
    NoPhrase(String),
    /// What is filled in is left out.
    #[error("the words leave out {}; it is filled in when the paper is printed and must stay", told(.0))]
    Missing(Vec<String>),
    /// Something in braces that nothing is filled into.
    #[error("the words have {{{found}}}, which nothing is filled into; {}", accepted_of(.accepted))]
    Unknown {
        /// What stands in braces.
        found: String,
        /// What would be filled in.
        accepted: Vec<String>,
    },
    /// A brace without its other half.
    #[error("the words have a brace without its other half; braces stand only around what is filled in")]
    HalfBrace,
    /// Control characters.
    #[error("the words have a control character, U+{0:04X}; letters, figures and marks are accepted")]
    Control(u32),
    /// Too long.
    #[error("the words have {0} characters; up to {MOST_CHARACTERS} are accepted")]
    TooLong(usize),
}

/// `{metal} (the metal) and {times} (how often it was fired)`.
fn told(names: &[String]) -> String {
    let each: Vec<String> = names
        .iter()
        .map(|name| meaning(name).map_or_else(|| format!("{{{name}}}"), |words| format!("{{{name}}} ({words})")))
        .collect();
    each.join(" and ")
}

fn accepted_of(accepted: &[String]) -> String {
    if accepted.is_empty() {
        "no braces are accepted here".to_owned()
    } else {
        format!("accepted is {}", told(accepted))
    }
}

/// What is filled into a phrase in the place of a name in braces, in words.
pub fn meaning(name: &str) -> Option<&'static str> {
    Some(match name {
        "metal" => "the metal",
        "times" => "how often it was fired",
        "count" => "how many",
        "bare" => "the sentence about the bare metal",
        "number" => "the number",
        "length" => "the length",
        "name" => "the name",
        "mesh" => "the mesh",
        "range" => "the firing range",
        "lot" => "the lot",
        "mass" => "the weight",
        "thickness" => "the thickness",
        "size" => "the size",
        "shelf" => "the shelf",
        "date" => "the day",
        "price" => "the price",
        "page" => "the page’s number",
        "pages" => "how many pages there are",
        "tax" => "the name of the tax",
        "rate" => "its rate",
        _ => return None,
    })
}

/// The names in braces of a text; none where a brace lacks its other half.
fn names_in(text: &str) -> Option<BTreeSet<&str>> {
    let mut names = BTreeSet::new();
    let mut rest = text;
    while let Some(at) = rest.find(['{', '}']) {
        let (_, from) = rest.split_at(at);
        let inner = from.strip_prefix('{')?;
        let (name, behind) = inner.split_once('}')?;
        if name.contains('{') {
            return None;
        }
        let _ = names.insert(name);
        rest = behind;
    }
    Some(names)
}

/// What is filled into a phrase, in the order it stands there in English; empty for a phrase nothing is filled into.
pub fn filled_into(phrase: &str) -> Vec<&'static str> {
    let Some(text) = table::phrase(Language::English, phrase) else { return Vec::new() };
    let mut names: Vec<&'static str> = Vec::new();
    for part in text.split('{').skip(1) {
        if let Some((name, _)) = part.split_once('}')
            && !names.contains(&name)
        {
            names.push(name);
        }
    }
    names
}

/// Words of her own as they are kept: on one line, without blanks at their ends; none where nothing is left, or where
/// they are the program's own.
///
/// # Errors
/// When there is no such phrase, when something that is filled in is left out or not known, or when they are too long.
pub fn accept(language: Language, phrase: &str, words: &str) -> Result<Option<String>, WordsProblem> {
    let Some(program) = table::phrase(language, phrase) else { return Err(WordsProblem::NoPhrase(phrase.to_owned())) };
    let one_line: Vec<&str> = words.split(['\n', '\r', '\t']).filter(|line| !line.trim().is_empty()).collect();
    let one_line = one_line.join(" ");
    let tidy = if phrase == BETWEEN { one_line.trim_start() } else { one_line.trim() };
    if tidy.trim().is_empty() || tidy == program {
        return Ok(None);
    }
    if let Some(odd) = tidy.chars().find(|letter| letter.is_control()) {
        return Err(WordsProblem::Control(u32::from(odd)));
    }
    let characters = tidy.chars().count();
    if characters > MOST_CHARACTERS {
        return Err(WordsProblem::TooLong(characters));
    }
    let found = names_in(tidy).ok_or(WordsProblem::HalfBrace)?;
    let wanted = filled_into(phrase);
    if let Some(odd) = found.iter().find(|name| !wanted.contains(*name)) {
        let accepted = wanted.into_iter().map(str::to_owned).collect();
        return Err(WordsProblem::Unknown { found: (*odd).to_owned(), accepted });
    }
    let missing: Vec<String> = wanted.into_iter().filter(|name| !found.contains(name)).map(str::to_owned).collect();
    if missing.is_empty() { Ok(Some(tidy.to_owned())) } else { Err(WordsProblem::Missing(missing)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told_of(phrase: &str, words: &str) -> String {
        accept(Language::German, phrase, words).unwrap_err().to_string()
    }

    #[test]
    fn what_is_filled_in_must_stay() {
        let kept = accept(Language::German, "fired-times", " {times} im Feuer\n ").unwrap();
        assert_eq!(kept.as_deref(), Some("{times} im Feuer"));
        assert_eq!(
            told_of("care-made-times", "Glas auf {metal}"),
            "the words leave out {times} (how often it was fired); it is filled in when the paper is printed and must stay"
        );
        assert_eq!(
            told_of("fired-times", "{time} gebrannt"),
            "the words have {time}, which nothing is filled into; accepted is {times} (how often it was fired)"
        );
        assert_eq!(
            told_of("care-title", "Pflege {name}"),
            "the words have {name}, which nothing is filled into; no braces are accepted here"
        );
        for half in ["{times", "times}", "{{times}}", "} {times}", "{ti{times}mes}"] {
            assert!(told_of("fired-times", half).contains("other half"), "{half}");
        }
    }

    #[test]
    fn words_are_tidied_or_refused() {
        assert_eq!(accept(Language::German, "care-title", "So bleibt Ihr Stück schön"), Ok(None));
        assert_eq!(accept(Language::German, "care-title", " \n "), Ok(None));
        assert_eq!(accept(Language::German, "list-comma", "; "), Ok(Some("; ".to_owned())));
        assert_eq!(accept(Language::German, "care-title", "Gute\r\nPflege"), Ok(Some("Gute Pflege".to_owned())));
        assert_eq!(accept(Language::German, "care", "x"), Err(WordsProblem::NoPhrase("care".to_owned())));
        assert!(matches!(accept(Language::German, "care-title", "a\u{7}"), Err(WordsProblem::Control(7))));
        let long = "ü".repeat(MOST_CHARACTERS + 1);
        assert_eq!(accept(Language::German, "care-title", &long), Err(WordsProblem::TooLong(MOST_CHARACTERS + 1)));
    }

    #[test]
    fn everything_that_is_filled_in_has_a_meaning_in_words() {
        for phrase in super::super::phrases() {
            for name in filled_into(phrase) {
                assert!(meaning(name).is_some(), "{name} in {phrase}");
            }
        }
    }

    /// The program's own words of every language pass their own check, wherever they are put.
    #[test]
    fn the_words_of_the_program_pass() {
        for language in Language::ALL {
            for phrase in super::super::phrases() {
                let own = table::phrase(language, phrase).unwrap();
                let changed = format!("{own}x");
                assert_eq!(accept(language, phrase, &changed), Ok(Some(changed)), "{phrase}");
                assert_eq!(accept(language, phrase, own), Ok(None), "{phrase}");
            }
        }
    }
}
