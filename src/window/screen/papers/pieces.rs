//! The designs as papers see them: what a tag and a card say, and what speaks against printing them.

use super::printed::OutOfDate;
use crate::book::Snapshot;
use crate::costing::price_sheet::Tickets;
use crate::costing::{self, accept};
use crate::measure::Preferences;
use crate::paper::ticket::{self, Source};
use crate::paper::{CareModel, Speech, TagModel, cards, care_model, tag_model};
use crate::studio::{BookDesign, ChannelId, Design, DesignId, ItemDetails, PriceLine};
use crate::window::screen::designs::checks;
use std::collections::{BTreeMap, BTreeSet};

/// A design with all that is printed of it.
#[derive(Debug, Clone)]
pub(in crate::window::screen) struct Piece {
    pub(in crate::window::screen) id: DesignId,
    pub(in crate::window::screen) design: Design,
    pub(super) care: CareModel,
    ready: Vec<PriceLine>,
    /// The colour of its band.
    pub(in crate::window::screen) colour: [u8; 3],
    /// Each stop of its route as a sentence.
    pub(in crate::window::screen) stops: Vec<String>,
    /// Why it cannot be costed today.
    trouble: Option<String>,
}

impl Piece {
    fn new(snapshot: &Snapshot, book: &BookDesign) -> Self {
        let costed = snapshot.resolved(book).map_err(|error| error.to_string()).and_then(|design| {
            costing::costing(&design).map_err(|error| error.to_string()).map(|costing| (design, costing))
        });
        let colour = band(snapshot, book);
        let care = care_model(&book.design, &snapshot.settings, colour, &[speech(snapshot)]);
        match costed {
            Ok((design, costing)) => {
                let stops = checks::stops(&design, &costing, &Preferences::from(&*snapshot.settings));
                Self {
                    id: book.id,
                    ready: accept::lines(book.id, &design, &costing, Tickets::Common),
                    stops,
                    trouble: None,
                    colour,
                    care,
                    design,
                }
            }
            Err(reason) => Self {
                id: book.id,
                ready: Vec::new(),
                stops: Vec::new(),
                trouble: Some(reason),
                colour,
                care,
                design: book.design.clone(),
            },
        }
    }

    pub(super) fn code(&self) -> &str {
        self.design.code.as_str()
    }

    /// Its ticket on a channel, or the retail one.
    pub(in crate::window::screen) fn ticket(
        &self,
        snapshot: &Snapshot,
        channel: Option<&ChannelId>,
    ) -> Option<ticket::Ticket> {
        let accepted = |id: &ChannelId| snapshot.accepted(self.id, id).map(|(_, line)| line.ticket);
        ticket::chosen(&self.design, &self.ready, channel, accepted)
    }

    /// Its tag on a channel (none: the retail ticket), and where the ticket comes from.
    pub(super) fn tag(&self, snapshot: &Snapshot, channel: Option<&ChannelId>) -> (TagModel, String) {
        let ticket = self.ticket(snapshot, channel);
        let preferences = Preferences { currency: self.design.currency, ..Preferences::from(&*snapshot.settings) };
        let from = match &ticket {
            Some(ticket) => match (ticket.source, snapshot.accepted(self.id, &ticket.channel)) {
                (Source::Accepted, Some((list, _))) => list.date.to_string(),
                _ => "not yet: today's".to_owned(),
            },
            None => match (&self.trouble, channel) {
                (Some(reason), _) => format!("no ticket: {reason}"),
                (None, Some(_)) => "not on this channel".to_owned(),
                (None, None) => "no ticket".to_owned(),
            },
        };
        let speech = speech(snapshot);
        let words = ticket.map(|ticket| ticket::words(ticket.amount, &preferences, speech));
        (tag_model(&self.design, words, snapshot.settings.length, speech), from)
    }
}

/// The language of papers, with her own words.
fn speech(snapshot: &Snapshot) -> Speech<'_> {
    Speech::new(snapshot.settings.paper_language, &snapshot.own_words)
}

/// The colour of a card's band, from the linked stock.
fn band(snapshot: &Snapshot, book: &BookDesign) -> [u8; 3] {
    cards::band(&book.design, |material| {
        let item = book.follows.materials.get(material)?;
        match &snapshot.item(*item)?.item.details {
            ItemDetails::Enamel { enamel, swatch, .. } => Some((*enamel, *swatch)),
            _ => None,
        }
    })
}

/// Every design that is not set aside, by code.
pub(in crate::window::screen) fn pieces(snapshot: &Snapshot) -> Vec<Piece> {
    snapshot.designs.iter().filter(|book| !book.retired).map(|book| Piece::new(snapshot, book)).collect()
}

/// The channels a ticket can be printed of: the studio's, then those only designs have.
pub(super) fn channels(snapshot: &Snapshot, pieces: &[Piece]) -> Vec<(Option<ChannelId>, String)> {
    let mut known: Vec<(Option<ChannelId>, String)> = vec![(None, "retail".to_owned())];
    known.extend(snapshot.rates.channels.iter().map(|channel| (Some(channel.id.clone()), channel.name.clone())));
    let mut own: BTreeMap<&ChannelId, &str> = BTreeMap::new();
    for channel in pieces.iter().flat_map(|piece| &piece.design.channels) {
        let _ = own.entry(&channel.id).or_insert(&channel.name);
    }
    for (id, name) in own {
        if !known.iter().any(|(known, _)| known.as_ref() == Some(id)) {
            known.push((Some(id.clone()), name.to_owned()));
        }
    }
    known
}

/// One row of the list of designs.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) id: DesignId,
    pub(super) tick: &'static str,
    pub(super) copies: String,
    pub(super) code: String,
    pub(super) name: String,
    pub(super) ticket: String,
    pub(super) from: String,
    /// Why its tag is out of date; empty where it is not.
    pub(super) outdated: String,
    pub(super) lead: bool,
    pub(super) stop: bool,
}

/// Which designs are printed, and how many of each.
#[derive(Debug, Clone, Default)]
pub(super) struct Chosen {
    pub(super) ticked: BTreeSet<DesignId>,
    copies: BTreeMap<DesignId, u32>,
}

impl Chosen {
    /// Copies of a design, were it ticked; 1 unless said otherwise.
    pub(super) fn copies(&self, id: DesignId) -> u32 {
        self.copies.get(&id).copied().unwrap_or(1)
    }

    pub(super) fn set_copies(&mut self, id: DesignId, copies: u32) {
        let _ = self.copies.insert(id, copies);
    }

    /// Copies that are printed: none of what is not ticked.
    pub(super) fn printed(&self, id: DesignId) -> u32 {
        if self.ticked.contains(&id) { self.copies(id) } else { 0 }
    }

    pub(super) fn toggle(&mut self, id: DesignId) {
        if !self.ticked.remove(&id) {
            let _ = self.ticked.insert(id);
        }
    }
}

/// What the list shows.
#[derive(Debug, Clone, Copy)]
pub(super) struct Filter<'a> {
    /// Typed: in the name or the code.
    pub(super) words: &'a str,
    /// Only tags that are out of date.
    pub(super) outdated_only: bool,
    /// The channel whose ticket is printed.
    pub(super) channel: Option<&'a ChannelId>,
}

/// The rows that answer the filter.
pub(super) fn rows(
    pieces: &[Piece],
    chosen: &Chosen,
    filter: Filter<'_>,
    outdated: &OutOfDate,
    snapshot: &Snapshot,
) -> Vec<Row> {
    let wanted = filter.words.trim().to_lowercase();
    let preferences = Preferences::from(&*snapshot.settings);
    pieces
        .iter()
        .filter(|piece| {
            piece.design.name.to_lowercase().contains(&wanted) || piece.code().to_lowercase().contains(&wanted)
        })
        .filter(|piece| !filter.outdated_only || outdated.has(piece.id))
        .map(|piece| {
            let (tag, from) = piece.tag(snapshot, filter.channel);
            Row {
                id: piece.id,
                tick: if chosen.ticked.contains(&piece.id) { "×" } else { "" },
                copies: chosen.copies(piece.id).to_string(),
                code: tag.code,
                name: tag.name,
                ticket: tag.ticket.unwrap_or_else(|| "–".to_owned()),
                from,
                outdated: outdated.words(piece, &preferences).unwrap_or_default(),
                lead: tag.lead_bearing,
                stop: !piece.stops.is_empty(),
            }
        })
        .collect()
}
