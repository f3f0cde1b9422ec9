//! Ready-made papers: one family in three moods, for every use. She takes one and changes what she likes.
//!
//! What they share: one band of the piece's own colour, one family of type, wide margins, and on a tag the ticket larger
//! than anything else. “Quiet” sets everything to the left of a slim band; “kiln” stands on a broad band, in bold type;
//! “garden” is set about the middle, with the band as a short ribbon.

mod cards;
mod labels;
mod make;
mod tags;
mod walls;

use crate::studio::{PaperDesign, PaperKind};

/// A mood.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mood {
    /// Set to the left, with a slim band.
    Quiet,
    /// Bold, on a broad band.
    Kiln,
    /// About the middle, with a ribbon.
    Garden,
}

impl Mood {
    /// Every mood, in the order they are offered.
    pub const ALL: [Self; 3] = [Self::Quiet, Self::Kiln, Self::Garden];

    /// The name on screen and on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Quiet => "quiet",
            Self::Kiln => "kiln",
            Self::Garden => "garden",
        }
    }

    /// The mood of that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|mood| mood.name() == name)
    }

    /// One of three, by mood.
    fn pick<T>(self, quiet: T, kiln: T, garden: T) -> T {
        match self {
            Self::Quiet => quiet,
            Self::Kiln => kiln,
            Self::Garden => garden,
        }
    }
}

/// A ready-made paper.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadyMade {
    /// Its mood.
    pub mood: Mood,
    /// The paper; its name says mood and use, such as “Quiet tag”.
    pub design: PaperDesign,
}

/// Every ready-made paper, kind by kind, mood by mood.
pub fn all() -> Vec<ReadyMade> {
    PaperKind::ALL.into_iter().flat_map(of).collect()
}

/// The ready-made papers of a kind, mood by mood.
pub fn of(kind: PaperKind) -> Vec<ReadyMade> {
    Mood::ALL
        .into_iter()
        .flat_map(|mood| {
            let designs = match kind {
                PaperKind::Tag => vec![tags::single(mood), tags::folded(mood), tags::barbell(mood)],
                PaperKind::Care => vec![cards::flat(mood), cards::folded(mood)],
                PaperKind::Earring => vec![cards::earring(mood)],
                PaperKind::Jar => vec![labels::jar(mood), labels::lid(mood)],
                PaperKind::Drawer => vec![labels::drawer(mood)],
                PaperKind::Certificate => vec![walls::certificate(mood), walls::small_certificate(mood)],
                PaperKind::Sign => vec![walls::sign(mood)],
            };
            designs.into_iter().map(move |design| ReadyMade { mood, design })
        })
        .collect()
}
