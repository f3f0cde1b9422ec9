//! `words …`: her own words in place of the phrases of papers.

use super::arguments::Format;
use super::failure::Failure;
use super::session::Session;
use super::table::{Align, Table};
use super::words::counted;
use super::words_arguments::{WordsClear, WordsList, WordsSet, WordsTask};
use crate::actions::{self, Action};
use crate::paper::language::{self, LEGAL, Purpose};
use crate::studio::Language;
use serde_json::json;

/// JSON of `list`: `language`, `words`: list of `phrase`, `for`, `program`, `own` (`null` where the program's hold),
/// `english`, `filled`: names of what is filled in, `legal`: the law has a word in it. Of `set` and `clear`: `phrase`,
/// `language`, `own` (`null` where the program's hold), `program`, `legal`.
pub(super) fn words(session: &mut Session<'_>, task: WordsTask) -> Result<(), Failure> {
    match task {
        WordsTask::List(task) => list(session, &task),
        WordsTask::Set(WordsSet { phrase, words, language, form }) => {
            change(session, &phrase, Some(&words), language, form.format)
        }
        WordsTask::Clear(WordsClear { phrase, language, form }) => {
            change(session, &phrase, None, language, form.format)
        }
    }
}

fn list(session: &mut Session<'_>, task: &WordsList) -> Result<(), Failure> {
    let (_, snapshot) = session.read()?;
    let spoken = task.language.unwrap_or(snapshot.settings.paper_language);
    let find = task.find.as_deref().unwrap_or_default().trim().to_lowercase();
    let found: Vec<(&str, &str, Option<&String>)> = language::phrases()
        .filter(|phrase| task.purpose.is_none_or(|purpose| Purpose::of(phrase) == purpose))
        .filter_map(|phrase| {
            let program = language::program_words(spoken, phrase)?;
            Some((phrase, program, snapshot.own_words.get(&(spoken, phrase.to_owned()))))
        })
        .filter(|(_, _, own)| !task.own || own.is_some())
        .filter(|(phrase, program, own)| {
            let english = language::program_words(Language::English, phrase).unwrap_or_default();
            let hers = own.map_or("", String::as_str);
            [*phrase, program, hers, english].iter().any(|text| text.to_lowercase().contains(&find))
        })
        .collect();
    if task.form.format == Format::Json {
        let rows: Vec<_> = found
            .iter()
            .map(|(phrase, program, own)| {
                json!({
                    "phrase": phrase,
                    "for": Purpose::of(phrase).name(),
                    "program": program,
                    "own": own,
                    "english": language::program_words(Language::English, phrase),
                    "filled": language::filled_into(phrase),
                    "legal": language::is_legal(phrase),
                })
            })
            .collect();
        return session.json(&json!({ "language": spoken.tag(), "words": rows }));
    }
    if found.is_empty() {
        return session.say(&format!("No phrase in {} answers", spoken.name()));
    }
    let mut table =
        Table::new(&[("Phrase", Align::Left), ("For", Align::Left), ("Words", Align::Left), ("Yours", Align::Left)]);
    let mut replaced = 0_usize;
    for (phrase, program, own) in &found {
        replaced += usize::from(own.is_some());
        let own = own.map_or_else(String::new, |own| own.to_owned());
        table.row([(*phrase).to_owned(), Purpose::of(phrase).name().to_owned(), (*program).to_owned(), own]);
    }
    session.write(table)?;
    let phrases = counted(found.len(), "phrase", "phrases");
    session.say(&format!("{phrases} in {}, {replaced} of them replaced", spoken.name()))
}

fn change(
    session: &mut Session<'_>,
    phrase: &str,
    words: Option<&str>,
    spoken: Option<Language>,
    format: Format,
) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let spoken = spoken.unwrap_or(snapshot.settings.paper_language);
    let before = snapshot.own_words.get(&(spoken, phrase.to_owned()));
    // The same check as the book's own, so that what is refused says what would be accepted.
    let accepted = language::accept(spoken, phrase, words.unwrap_or_default());
    if words.is_none() && accepted.is_ok() && before.is_none() {
        return Err(Failure::no(format!("{phrase} has no words of your own in {}", spoken.name())));
    }
    if words.is_some_and(|words| words.trim().is_empty()) {
        return Err(Failure::invalid("the words are empty; `words clear` takes yours away".to_owned()));
    }
    let own = match accepted {
        Ok(own) => own,
        Err(problem @ language::WordsProblem::NoPhrase(_)) => return Err(Failure::no(problem.to_string())),
        Err(problem) => return Err(Failure::invalid(format!("{phrase} in {}: {problem}", spoken.name()))),
    };
    let program = language::program_words(spoken, phrase).unwrap_or_default();
    session.perform(
        &mut book,
        Action::SaveWords { language: spoken, phrase: phrase.to_owned(), words: words.map(str::to_owned) },
    )?;
    let legal = language::is_legal(phrase);
    if format == Format::Json {
        session.json(&json!({
            "phrase": phrase,
            "language": spoken.tag(),
            "own": own,
            "program": program,
            "legal": legal,
        }))?;
    } else {
        session.say(&match &own {
            Some(own) => format!("{phrase} in {}: “{own}”", spoken.name()),
            None => format!("{phrase} in {} is the program's again: “{program}”", spoken.name()),
        })?;
    }
    if legal && own.is_some() {
        session.remark(LEGAL);
    }
    Ok(())
}
