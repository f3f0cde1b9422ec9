//! What a pinned thing says.

use super::super::warning::Part;
use super::super::words::keep_together;
use super::facts::Facts;
use super::phrase::{self, Phrase};
use super::speech::Speaks;
use crate::studio::What;

/// A paragraph of a pinned text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Paragraph {
    pub(super) text: String,
    /// A heading: bold and larger.
    pub(super) heading: bool,
    /// Set apart from what stands above it.
    pub(super) apart: bool,
}

impl Paragraph {
    fn plain(text: String) -> Self {
        Self { text, heading: false, apart: false }
    }
}

/// What a pinned thing says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Said {
    /// These paragraphs.
    Words(Vec<Paragraph>),
    /// Nothing, and rightly so: no lead mark where there is no lead.
    Nothing,
    /// The fact is not there.
    Unknown,
}

/// The part a warning names.
pub(super) fn part(what: &What) -> Part {
    match what {
        What::Name => Part::Name,
        What::Code => Part::Code,
        What::Ticket => Part::Ticket,
        What::Materials => Part::Materials,
        What::Words(_) => Part::Words,
        What::Phrase(_) => Part::Fact("a phrase"),
        What::Care => Part::Care,
        What::Studio | What::Place => Part::Studio,
        What::PieceNumber => Part::Fact("the piece’s number"),
        What::Cautions => Part::Cautions,
        What::Story => Part::Fact("the maker’s story"),
        What::Photo => Part::Fact("the photo"),
        What::Picture(_) => Part::Fact("a stored picture"),
        What::Symbol { .. } => Part::Fact("the symbol"),
        What::Rule => Part::Fact("a rule"),
        What::Band => Part::Fact("the band"),
        What::Swatch => Part::Fact("the swatch"),
        What::EnamelKind => Part::Fact("the kind of enamel"),
        What::Mesh => Part::Fact("the mesh"),
        What::Fusing => Part::Fact("the fusing class"),
        What::FiringRange => Part::Fact("the firing range"),
        What::Lot => Part::Fact("the lot"),
        What::Tare => Part::Fact("the tare"),
        What::LeadMark => Part::LeadMark,
        What::Gauge => Part::Fact("the gauge"),
        What::Size => Part::Fact("the size"),
        What::Shelf => Part::Fact("the shelf"),
        What::Firings => Part::Fact("the number of firings"),
        What::Date => Part::Fact("the date"),
    }
}

/// What a pinned text says of these facts; figures in the first language, words in each.
pub(super) fn said(what: &What, facts: &Facts, speeches: &[&dyn Speaks]) -> Said {
    let Some(first) = speeches.first() else { return Said::Unknown };
    let one = |text: Option<String>| match text {
        Some(text) if !text.trim().is_empty() => Said::Words(vec![Paragraph::plain(text)]),
        _ => Said::Unknown,
    };
    let each = |say: &dyn Fn(&dyn Speaks) -> Option<String>| {
        let mut texts: Vec<String> = Vec::new();
        for speech in speeches {
            texts.extend(say(*speech).filter(|text| !text.trim().is_empty() && !texts.contains(text)));
        }
        if texts.is_empty() {
            return Said::Unknown;
        }
        Said::Words(texts.into_iter().map(Paragraph::plain).collect())
    };
    let item = facts.item.as_ref();
    match what {
        What::Name => one(Some(facts.name.clone())),
        What::Code => one(Some(facts.code.clone())),
        What::PieceNumber => one(facts.piece_number.clone()),
        What::Ticket => one(facts.ticket.map(|ticket| first.money(ticket.amount()))),
        What::Materials => each(&|speech| {
            facts.design.as_deref().map(|design| keep_together(&speech.materials(design, facts.studio.length)))
        }),
        What::Words(words) => match lines(words) {
            lines if lines.is_empty() => Said::Nothing,
            lines => Said::Words(lines),
        },
        What::Phrase(name) => match phrase::said(name, facts, speeches) {
            Phrase::Words(text) => Said::Words(vec![Paragraph::plain(text)]),
            Phrase::Nothing => Said::Nothing,
            Phrase::Unknown => Said::Unknown,
        },
        What::Care => care(facts, speeches),
        What::Cautions => cautions(facts, speeches),
        What::Story => match lines(&facts.studio.story) {
            lines if lines.is_empty() => Said::Unknown,
            lines => Said::Words(lines),
        },
        What::Studio => one(Some(facts.studio.name.clone())),
        What::Place => one(Some(facts.studio.place.clone())),
        What::EnamelKind => each(&|speech| item?.enamel.map(|kind| speech.enamel_kind(kind))),
        What::Mesh => each(&|speech| item.filter(|item| !item.mesh.is_empty()).map(|item| speech.mesh(&item.mesh))),
        What::Fusing => each(&|speech| item?.fusing.map(|class| speech.fusing(class))),
        What::FiringRange => one(item.and_then(|item| item.firing_c).map(|range| first.firing_range(range))),
        What::Lot => each(&|speech| item?.lot.as_deref().map(|lot| speech.lot(lot))),
        What::Tare => each(&|speech| item?.tare.map(|grams| speech.tare(grams))),
        What::LeadMark if !facts.bears_lead() => Said::Nothing,
        What::LeadMark => each(&|speech| Some(speech.lead_mark())),
        What::Gauge => one(gauge(facts).map(|gauge| first.thickness(gauge))),
        What::Size => one(size(facts).map(|outline| first.size(outline))),
        What::Shelf => one(item.map(|item| item.shelf.clone())),
        What::Firings => {
            each(&|speech| facts.care().filter(|care| care.firings > 0).map(|care| speech.firings(care.firings)))
        }
        What::Date => one(facts.date.map(|date| first.date(date))),
        What::Photo | What::Picture(_) | What::Symbol { .. } | What::Rule | What::Band | What::Swatch => Said::Nothing,
    }
}

fn gauge(facts: &Facts) -> Option<crate::studio::Thickness> {
    match &facts.item {
        Some(item) => item.gauge,
        None => facts.design.as_deref().map(|design| design.blank.thickness),
    }
}

fn size(facts: &Facts) -> Option<&crate::studio::Outline> {
    match &facts.item {
        Some(item) => item.size.as_ref(),
        None => facts.design.as_deref().map(|design| &design.blank.outline),
    }
}

/// Her own lines; an empty one sets the next apart.
fn lines(words: &str) -> Vec<Paragraph> {
    let mut found: Vec<Paragraph> = Vec::new();
    let mut apart = false;
    for line in words.lines() {
        if line.trim().is_empty() {
            apart = !found.is_empty();
        } else {
            found.push(Paragraph { text: line.to_owned(), heading: false, apart });
            apart = false;
        }
    }
    found
}

fn care(facts: &Facts, speeches: &[&dyn Speaks]) -> Said {
    let Some(care) = facts.care() else { return Said::Unknown };
    let mut found = Vec::new();
    for speech in speeches {
        found.push(Paragraph { text: speech.care_heading(), heading: true, apart: !found.is_empty() });
        found.extend(speech.care(&care).into_iter().map(|text| Paragraph { text, heading: false, apart: true }));
    }
    found.extend(
        lines(&facts.studio.care_words)
            .into_iter()
            .enumerate()
            .map(|(number, line)| Paragraph { apart: line.apart || number == 0, ..line }),
    );
    Said::Words(found)
}

fn cautions(facts: &Facts, speeches: &[&dyn Speaks]) -> Said {
    let Some(care) = facts.care() else { return Said::Unknown };
    let mut found: Vec<Paragraph> = Vec::new();
    for text in speeches.iter().flat_map(|speech| speech.cautions(&care)) {
        found.push(Paragraph { text, heading: false, apart: !found.is_empty() });
    }
    if found.is_empty() { Said::Nothing } else { Said::Words(found) }
}
