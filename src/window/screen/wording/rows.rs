//! The phrases of a language as the rows of a list, group by group.

use crate::paper::language::{self, OwnWords, Purpose};
use crate::studio::Language;
use std::collections::BTreeMap;

/// Words that are typed and not kept yet.
pub(super) type Drafts = BTreeMap<(Language, &'static str), String>;

/// A row: the heading of a group, or a phrase.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Row {
    /// None for a heading.
    pub(super) phrase: Option<&'static str>,
    /// The program's words, or the group's.
    pub(super) words: String,
    /// Hers, where she has some.
    pub(super) own: String,
    /// Hers are typed and not kept yet.
    pub(super) is_draft: bool,
}

/// What is looked for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wanted<'a> {
    pub(super) language: Language,
    pub(super) purpose: Option<Purpose>,
    pub(super) find: &'a str,
    pub(super) only_own: bool,
}

/// The rows that answer, each group under its heading, and how many phrases are among them.
pub(super) fn rows(wanted: Wanted<'_>, own: &OwnWords, drafts: &Drafts) -> (Vec<Row>, usize) {
    let find = wanted.find.trim().to_lowercase();
    let mut found = Vec::new();
    let mut count = 0;
    for purpose in Purpose::ALL.into_iter().filter(|purpose| wanted.purpose.is_none_or(|only| only == *purpose)) {
        let mut group: Vec<Row> = language::phrases()
            .filter(|phrase| Purpose::of(phrase) == purpose)
            .filter_map(|phrase| row(phrase, wanted, &find, own, drafts))
            .collect();
        if group.is_empty() {
            continue;
        }
        count += group.len();
        found.push(Row { phrase: None, words: purpose.words().to_owned(), own: String::new(), is_draft: false });
        found.append(&mut group);
    }
    (found, count)
}

fn row(phrase: &'static str, wanted: Wanted<'_>, find: &str, own: &OwnWords, drafts: &Drafts) -> Option<Row> {
    let words = language::program_words(wanted.language, phrase)?;
    let kept = own.get(&(wanted.language, phrase.to_owned()));
    let draft = drafts.get(&(wanted.language, phrase));
    let hers = draft.or(kept).map_or("", String::as_str);
    if wanted.only_own && kept.is_none() && draft.is_none() {
        return None;
    }
    let english = language::program_words(Language::English, phrase).unwrap_or_default();
    let answers =
        find.is_empty() || [phrase, words, hers, english].iter().any(|text| text.to_lowercase().contains(find));
    answers.then(|| Row {
        phrase: Some(phrase),
        words: words.to_owned(),
        own: hers.to_owned(),
        is_draft: draft.is_some(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(find: &str, purpose: Option<Purpose>, only_own: bool) -> Vec<Row> {
        let own = OwnWords::from([((Language::German, "care-title".to_owned()), "Gute Pflege".to_owned())]);
        let drafts = Drafts::from([((Language::German, "thanks"), "Danke".to_owned())]);
        rows(Wanted { language: Language::German, purpose, find, only_own }, &own, &drafts).0
    }

    #[test]
    fn phrases_are_found_by_any_of_their_words_under_the_heading_of_their_group() {
        // By hers, by the program’s, by the English, by the name.
        for find in ["gute pfl", "STÜCK SCHÖN", "looking after", "care-title"] {
            let rows = found(find, None, false);
            assert_eq!((rows[0].phrase, rows[0].words.as_str()), (None, "Care"), "{find}");
            assert_eq!((rows[1].phrase, rows[1].own.as_str()), (Some("care-title"), "Gute Pflege"), "{find}");
        }
        let own = found("", None, true);
        let phrases: Vec<_> = own.iter().filter_map(|row| row.phrase).collect();
        assert_eq!(phrases, ["care-title", "thanks"]);
        assert!(own.iter().any(|row| row.is_draft) && found("no such words", None, false).is_empty());
        assert!(found("", Some(Purpose::Metals), false).iter().all(|row| row.own.is_empty()));
        assert_eq!(
            found("", None, false).iter().filter(|row| row.phrase.is_some()).count(),
            language::phrases().count()
        );
    }
}
