//! Phrases of papers that can be pinned: said in the paper's own language, with the facts that belong in them.

use super::facts::Facts;
use super::speech::Speaks;
use crate::studio::PaperKind;

/// What is filled into a phrase.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Filled {
    /// Nothing.
    No,
    /// The studio's name.
    Studio,
    /// The number of a finished piece.
    Number,
    /// The day a piece was finished.
    Finished,
    /// The ticket.
    Ticket,
    /// Nothing, and it stands only where there is lead.
    OnlyWithLead,
}

/// Every phrase that can be pinned, in the order they are offered.
const PHRASES: [(&str, Filled); 24] = [
    ("by-hand-one-at-a-time", Filled::No),
    ("one-of-a-kind", Filled::No),
    ("made-by-hand", Filled::No),
    ("made-by", Filled::Studio),
    ("earrings", Filled::No),
    ("earrings-pair", Filled::No),
    ("per-pair", Filled::No),
    ("per-piece", Filled::No),
    ("heading-materials", Filled::No),
    ("heading-care", Filled::No),
    ("heading-cautions", Filled::No),
    ("heading-story", Filled::No),
    ("certificate", Filled::No),
    ("certificate-text", Filled::No),
    ("piece-number", Filled::Number),
    ("finished-on", Filled::Finished),
    ("signature", Filled::No),
    ("place-and-date", Filled::No),
    ("sign-enamel", Filled::No),
    ("sign-try-on", Filled::No),
    ("sign-payment", Filled::No),
    ("sign-from", Filled::Ticket),
    ("thanks", Filled::No),
    ("lead-at-work", Filled::OnlyWithLead),
];

fn filled(name: &str) -> Option<Filled> {
    PHRASES.iter().find(|(known, _)| *known == name).map(|(_, filled)| *filled)
}

/// The phrase stands by itself on a paper, filled with the paper's facts where it has braces.
pub fn can_be_pinned(name: &str) -> bool {
    filled(name).is_some()
}

/// The phrases offered for a kind of paper.
pub fn offered(kind: PaperKind) -> impl Iterator<Item = &'static str> {
    let of_stock = matches!(kind, PaperKind::Jar | PaperKind::Drawer);
    PHRASES.iter().filter(move |(_, filled)| of_stock == (*filled == Filled::OnlyWithLead)).map(|(name, _)| *name)
}

/// What a pinned phrase says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Phrase {
    /// These words.
    Words(String),
    /// Nothing, and rightly so.
    Nothing,
    /// The fact that is filled in is not there.
    Unknown,
}

/// A phrase in each language, one after the other on a line.
pub(super) fn said(name: &str, facts: &Facts, speeches: &[&dyn Speaks]) -> Phrase {
    let Some(filled) = filled(name) else { return Phrase::Unknown };
    if filled == Filled::OnlyWithLead && !facts.bears_lead() {
        return Phrase::Nothing;
    }
    let mut texts: Vec<String> = Vec::new();
    for speech in speeches {
        let values: Option<Vec<(&str, String)>> = match filled {
            Filled::No | Filled::OnlyWithLead => Some(Vec::new()),
            Filled::Studio => Some(facts.studio.name.trim().to_owned())
                .filter(|name| !name.is_empty())
                .map(|name| vec![("name", name)]),
            Filled::Number => facts.piece_number.clone().map(|number| vec![("number", number)]),
            Filled::Finished => {
                facts.piece_number.as_ref().and(facts.date).map(|date| vec![("date", speech.date(date))])
            }
            Filled::Ticket => facts.ticket.map(|ticket| vec![("price", speech.money(ticket.amount()))]),
        };
        let Some(values) = values else { return Phrase::Unknown };
        let values: Vec<(&str, &str)> = values.iter().map(|(name, value)| (*name, value.as_str())).collect();
        let text = speech.phrase(name, &values);
        if !text.trim().is_empty() && !texts.contains(&text) {
            texts.push(text);
        }
    }
    if texts.is_empty() { Phrase::Nothing } else { Phrase::Words(texts.join(" · ")) }
}

#[cfg(test)]
mod tests {
    use super::super::super::language::{filled_into, is_phrase};
    use super::*;

    #[test]
    fn every_phrase_offered_is_one_and_nothing_of_it_stays_unfilled() {
        for (name, filled) in PHRASES {
            assert!(is_phrase(name), "{name}");
            let wanted: &[&str] = match filled {
                Filled::No | Filled::OnlyWithLead => &[],
                Filled::Studio => &["name"],
                Filled::Number => &["number"],
                Filled::Finished => &["date"],
                Filled::Ticket => &["price"],
            };
            assert_eq!(filled_into(name), wanted, "{name}");
        }
        assert!(!can_be_pinned("care-clean") && !can_be_pinned("no-such"));
    }

    #[test]
    fn jars_and_drawers_are_offered_what_belongs_on_them() {
        assert_eq!(offered(PaperKind::Jar).collect::<Vec<_>>(), ["lead-at-work"]);
        assert!(offered(PaperKind::Certificate).any(|name| name == "signature"));
        assert!(offered(PaperKind::Certificate).all(|name| name != "lead-at-work"));
    }
}
