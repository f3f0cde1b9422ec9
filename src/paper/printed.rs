//! Which tags are out of date: the ticket in force is not the one printed last.

use crate::measure::Decimal;
use crate::studio::{BookDesign, ChannelId, DesignId, PriceLine, PrintedTag};

/// Why a tag is to be printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// None was ever printed.
    Never,
    /// The one printed last shows this.
    Shows(Decimal),
}

/// A tag that is out of date.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outdated {
    /// The design.
    pub design: DesignId,
    /// The channel whose ticket it is to show; of a ticket that retail channels have in common the first of them.
    pub channel: ChannelId,
    /// The ticket in force.
    pub ticket: Decimal,
    /// Why.
    pub why: Why,
}

/// The tags that are out of date, by design and channel in the order given. A design set aside has none, and neither
/// has a design without a ticket in force. `accepted` gives the ticket in force.
///
/// A ticket that retail channels have in common is one tag: the tag printed last for any of them is the one that counts.
/// Pieces that are sold to shops go out without a tag, so a channel that is not retail counts only once a tag was
/// printed for it. The tags of single pieces do not count.
pub fn outdated<'a>(
    designs: &[BookDesign],
    accepted: impl Fn(DesignId, &ChannelId) -> Option<&'a PriceLine>,
    printed: &[PrintedTag],
) -> Vec<Outdated> {
    let mut found = Vec::new();
    for book in designs.iter().filter(|book| !book.retired) {
        let last = |channel: &ChannelId| {
            let of = |tag: &&PrintedTag| tag.design == book.id && tag.channel == *channel && tag.piece.is_none();
            printed.iter().find(of)
        };
        let in_force: Vec<(&ChannelId, bool, &PriceLine)> = book
            .design
            .channels
            .iter()
            .filter_map(|channel| accepted(book.id, &channel.id).map(|line| (&channel.id, channel.retail, line)))
            .collect();
        let mut common_told = false;
        for (channel, retail, line) in &in_force {
            let common = *retail && line.common;
            if common && std::mem::replace(&mut common_told, true) {
                continue;
            }
            let mut tags: Vec<&PrintedTag> = if common {
                let fellows = in_force.iter().filter(|(_, retail, other)| *retail && other.common);
                fellows.filter_map(|(fellow, ..)| last(fellow)).collect()
            } else {
                last(channel).into_iter().collect()
            };
            // Those of the latest day; of one day it cannot be told which came last.
            let latest = tags.iter().map(|tag| tag.date).max();
            tags.retain(|tag| Some(tag.date) == latest);
            let shown: Vec<Decimal> = tags.iter().map(|tag| tag.ticket.amount()).collect();
            let why = match shown.first() {
                _ if shown.contains(&line.ticket) => continue,
                Some(other) => Why::Shows(*other),
                None if *retail => Why::Never,
                None => continue,
            };
            found.push(Outdated { design: book.id, channel: (*channel).clone(), ticket: line.ticket, why });
        }
    }
    found
}
