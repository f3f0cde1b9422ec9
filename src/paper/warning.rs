//! What a layout could not do as asked, and why a paper cannot be made at all.

use super::symbol_choice::{SymbolProblem, SymbolWarning};
use std::fmt;

/// A part of a tag or card.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// The name.
    Name,
    /// The ticket.
    Ticket,
    /// The materials line.
    Materials,
    /// The line for a fair or channel.
    Note,
    /// The code in letters.
    Code,
    /// The maker's own words.
    Words,
    /// The studio's name and place.
    Studio,
    /// The care text with its cautions.
    Care,
    /// The cautions: lead, children.
    Cautions,
    /// The mark that it bears lead.
    LeadMark,
    /// The heading of a shelf or supplier.
    Heading,
    /// A quantity, a unit or a pack.
    Quantity,
    /// An amount of money.
    Amount,
    /// Why something is to be bought.
    Reason,
    /// Another thing pinned to a paper, in words.
    Fact(&'static str),
    /// The name and address a paper is for.
    Recipient,
    /// The terms of a paper.
    Terms,
}

impl fmt::Display for Part {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Name => "the name",
            Self::Ticket => "the ticket",
            Self::Materials => "the materials line",
            Self::Note => "the extra line",
            Self::Code => "the code",
            Self::Words => "your own words",
            Self::Studio => "the studio's name and place",
            Self::Care => "the care text",
            Self::Cautions => "the text of the cautions",
            Self::LeadMark => "the lead mark",
            Self::Heading => "the heading",
            Self::Quantity => "the quantity",
            Self::Amount => "the amount",
            Self::Reason => "the reason",
            Self::Fact(words) => words,
            Self::Recipient => "the recipient",
            Self::Terms => "the terms",
        })
    }
}

/// What happened to it.
#[derive(Debug, Clone, PartialEq)]
pub enum WarningKind {
    /// Characters the type has no glyph for; they are left out.
    MissingGlyphs(String),
    /// A text too long for its place; it ends in an ellipsis.
    Cut(Part),
    /// A text there was no room for at all.
    LeftOut(Part),
    /// The symbol's module is smaller than recommended, in millimetres.
    SymbolSmall(f64),
    /// The symbol does not fit at any size that scans.
    SymbolLeftOut,
    /// A fact that is not known here; its place stays empty.
    Unknown(Part),
    /// The symbol may not scan, and why.
    SymbolDoubtful(SymbolWarning),
    /// There is no symbol, and why.
    SymbolRefused(SymbolProblem),
}

/// A warning, with the tag, card or line it is about.
#[derive(Debug, Clone, PartialEq)]
pub struct Warning {
    /// The design's code, or the item's reference.
    pub code: String,
    /// What happened.
    pub kind: WarningKind,
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let code = &self.code;
        match &self.kind {
            WarningKind::MissingGlyphs(characters) => {
                write!(f, "{code}: the type has no glyph for")?;
                for character in characters.chars().take(12) {
                    write!(f, " {character} (U+{:04X})", u32::from(character))?;
                }
                let more = characters.chars().count().saturating_sub(12);
                if more > 0 {
                    write!(f, " and {more} more")?;
                }
                f.write_str("; left out")
            }
            WarningKind::Cut(part) => write!(f, "{code}: {part} is too long for the space and was shortened"),
            WarningKind::LeftOut(part) => write!(f, "{code}: no room for {part}; left out"),
            WarningKind::SymbolSmall(module_mm) => write!(
                f,
                "{code}: the symbol's modules are only {module_mm:.2} mm; print one and try it with your scanner"
            ),
            WarningKind::SymbolLeftOut => {
                write!(f, "{code}: the symbol would be too small to scan on this label; left out")
            }
            WarningKind::Unknown(part) => write!(f, "{code}: {part} is not known; its place stays empty"),
            WarningKind::SymbolDoubtful(why) => write!(f, "{code}: the symbol may not scan: {why}"),
            WarningKind::SymbolRefused(why) => write!(f, "{code}: {why}; left out"),
        }
    }
}

/// Why a paper cannot be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PaperProblem {
    /// Whoever watched broke it off.
    #[error("stopped; nothing was written")]
    Stopped,
    /// Nothing to print.
    #[error("there is nothing to print; choose at least one design and one copy")]
    Nothing,
    /// A list without a line.
    #[error("there is nothing to list; accepted is at least one line")]
    NothingListed,
    /// More lines than a list may have.
    #[error("{asked} lines were asked for; print at most {most} in one go")]
    TooManyLines {
        /// Asked for.
        asked: usize,
        /// Allowed.
        most: usize,
    },
    /// More than fits in one job.
    #[error("{asked} labels were asked for; print at most {most} in one go")]
    TooMany {
        /// Asked for.
        asked: u64,
        /// Allowed.
        most: u64,
    },
    /// The first label is not on the sheet.
    #[error("start at label {start} was asked for; the sheet has labels 1 to {labels}")]
    Start {
        /// Asked for.
        start: u32,
        /// Labels on a sheet.
        labels: u32,
    },
    /// The sheet's measures do not work.
    #[error("sheet {sheet}, {field}: {value} was given; {accepted}")]
    Sheet {
        /// The sheet's name.
        sheet: String,
        /// The measure.
        field: &'static str,
        /// Its value.
        value: String,
        /// What would be accepted.
        accepted: String,
    },
    /// The page is too small for one card.
    #[error("a card of {width_mm} by {height_mm} mm does not fit on the page; choose a larger page")]
    CardTooLarge {
        /// Card width.
        width_mm: f64,
        /// Card height.
        height_mm: f64,
    },
    /// A paper of hers is larger than the labels of a sheet.
    #[error(
        "{paper} is {:.1} by {:.1} mm, the labels of {sheet} are {:.1} by {:.1} mm; choose a larger label or print one a page",
        size_mm[0], size_mm[1], label_mm[0], label_mm[1]
    )]
    PaperTooLarge {
        /// The paper's name.
        paper: String,
        /// Its width and height.
        size_mm: [f64; 2],
        /// The sheet's name.
        sheet: String,
        /// The labels' width and height.
        label_mm: [f64; 2],
    },
    /// A caution has no room for all of its words: a paper is not printed with half of one.
    #[error(
        "{code}: {part} does not fit whole on {paper}, and a caution is not printed in part; choose one language, a larger \
             paper, or give it more room"
    )]
    CautionCut {
        /// The code of what the paper is for.
        code: String,
        /// Which caution.
        part: Part,
        /// The paper's name.
        paper: String,
    },
    /// Two languages do not fit on a card.
    #[error(
        "{code}: a card of this size has no room for both languages with all their cautions; choose one language, \
             or the folded card"
    )]
    LanguagesTooLong {
        /// The design's code.
        code: String,
    },
    /// A language the built-in type has no letters for.
    #[error("papers in Japanese need the type M PLUS 1p, which was not found; put {files} into {places}")]
    NoJapaneseType {
        /// The files that are missing.
        files: String,
        /// Where they are looked for.
        places: String,
    },
    /// A file that is no type, or has no Japanese letters.
    #[error("{0} is not a TrueType font with Japanese letters; accepted is the file MPLUS1p as it was published")]
    NotJapaneseType(String),
    /// The PDF could not be put together.
    #[error("the PDF could not be written: {0}")]
    Pdf(String),
}
