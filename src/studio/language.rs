//! The languages papers are written in.

use serde::{Deserialize, Serialize};

/// A language of papers. The window is in English.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, Default)]
#[serde(rename_all = "lowercase")]
pub enum Language {
    /// English.
    #[default]
    English,
    /// German.
    German,
    /// French.
    French,
    /// Spanish.
    Spanish,
    /// Italian.
    Italian,
    /// Dutch.
    Dutch,
    /// Polish.
    Polish,
    /// Swedish.
    Swedish,
    /// Czech.
    Czech,
    /// Greek.
    Greek,
    /// Japanese.
    Japanese,
}

impl Language {
    /// Every language, in the order they are offered.
    pub const ALL: [Self; 11] = [
        Self::English,
        Self::German,
        Self::French,
        Self::Spanish,
        Self::Italian,
        Self::Dutch,
        Self::Polish,
        Self::Swedish,
        Self::Czech,
        Self::Greek,
        Self::Japanese,
    ];

    /// Its tag (ISO 639-1, BCP 47), used in files, on the command line and in PDFs.
    pub const fn tag(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::German => "de",
            Self::French => "fr",
            Self::Spanish => "es",
            Self::Italian => "it",
            Self::Dutch => "nl",
            Self::Polish => "pl",
            Self::Swedish => "sv",
            Self::Czech => "cs",
            Self::Greek => "el",
            Self::Japanese => "ja",
        }
    }

    /// Its own name.
    pub const fn own_name(self) -> &'static str {
        match self {
            Self::English => "English",
            Self::German => "Deutsch",
            Self::French => "français",
            Self::Spanish => "español",
            Self::Italian => "italiano",
            Self::Dutch => "Nederlands",
            Self::Polish => "polski",
            Self::Swedish => "svenska",
            Self::Czech => "čeština",
            Self::Greek => "ελληνικά",
            Self::Japanese => "日本語",
        }
    }

    /// Its English name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::English => "English",
            Self::German => "German",
            Self::French => "French",
            Self::Spanish => "Spanish",
            Self::Italian => "Italian",
            Self::Dutch => "Dutch",
            Self::Polish => "Polish",
            Self::Swedish => "Swedish",
            Self::Czech => "Czech",
            Self::Greek => "Greek",
            Self::Japanese => "Japanese",
        }
    }

    /// The language of that tag.
    pub fn from_tag(tag: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|language| language.tag() == tag)
    }
}
