//! What can be asked of the wording of papers from the command line.

use super::arguments::Form;
use super::print_arguments::language;
use crate::paper::language::Purpose;
use crate::studio::Language;
use clap::{Args, Subcommand};

/// `words …`.
#[derive(Debug, Subcommand)]
pub enum WordsTask {
    /// The phrases of papers: the program's words, and yours where you replaced them
    #[command(after_help = "Example: enamelwright words list --language de --for care\nExample: enamelwright words \
                            list --language fr --own --format json")]
    List(WordsList),
    /// Put words of your own in the place of a phrase
    #[command(after_help = "What stands in braces is filled in when a paper is printed and must stay.\nExample: \
                            enamelwright words set care-title \"Looking after your enamel\" --language en")]
    Set(WordsSet),
    /// Take your own words away: the program's hold again
    #[command(after_help = "Example: enamelwright words clear care-title --language en")]
    Clear(WordsClear),
}

/// `words list`.
#[derive(Debug, Args)]
pub struct WordsList {
    /// The language, such as de; without it, the one of Setup
    #[arg(long, value_name = "LANGUAGE", value_parser = language)]
    pub language: Option<Language>,
    /// Only phrases for this: care, cautions, made, metals, headings, tags, jars, signs, columns, selling, consignment or
    /// marks
    #[arg(long = "for", value_name = "WHAT", value_parser = purpose)]
    pub purpose: Option<Purpose>,
    /// Only phrases with these words in them, in that language or in English
    #[arg(long, value_name = "WORDS")]
    pub find: Option<String>,
    /// Only phrases you replaced
    #[arg(long)]
    pub own: bool,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `words set`.
#[derive(Debug, Args)]
pub struct WordsSet {
    /// The phrase's name, as `words list` shows it
    pub phrase: String,
    /// Your words
    pub words: String,
    /// The language, such as de; without it, the one of Setup
    #[arg(long, value_name = "LANGUAGE", value_parser = language)]
    pub language: Option<Language>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `words clear`.
#[derive(Debug, Args)]
pub struct WordsClear {
    /// The phrase's name, as `words list` shows it
    pub phrase: String,
    /// The language, such as de; without it, the one of Setup
    #[arg(long, value_name = "LANGUAGE", value_parser = language)]
    pub language: Option<Language>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

fn purpose(text: &str) -> Result<Purpose, String> {
    Purpose::from_name(&text.to_ascii_lowercase()).ok_or_else(|| {
        let names = Purpose::ALL.map(Purpose::name).join(", ");
        format!("{text:?} is nothing phrases are for; accepted are {names}")
    })
}
