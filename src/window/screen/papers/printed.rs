//! What was printed: the tags that are out of date, and what is kept of a run.

use super::pieces::Piece;
use crate::book::Snapshot;
use crate::measure::{Decimal, Money, Preferences, display};
use crate::paper::page_range::{labels_of, next_label};
use crate::paper::printed::{Outdated, Why, outdated};
use crate::paper::{Document, PageRange};
use crate::studio::{ChannelId, DesignId, PrintedTag, SheetId};
use chrono::NaiveDate;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The tags that are out of date.
#[derive(Debug, Clone, Default)]
pub(super) struct OutOfDate {
    found: Vec<Outdated>,
    /// Those of the chosen channel, by design: what their tags show, none where none was ever printed.
    here: BTreeMap<DesignId, Option<Decimal>>,
    /// Tags of other channels.
    pub(super) elsewhere: usize,
}

impl OutOfDate {
    /// Looks through the book.
    pub(super) fn of(snapshot: &Snapshot, channel: Option<&ChannelId>) -> Self {
        let accepted = |design: DesignId, channel: &ChannelId| snapshot.accepted(design, channel).map(|(_, line)| line);
        let found = outdated(&snapshot.designs, accepted, &snapshot.printed_tags);
        let mut out = Self { found, ..Self::default() };
        out.choose(snapshot, channel);
        out
    }

    /// Another channel; none is the retail ticket.
    pub(super) fn choose(&mut self, snapshot: &Snapshot, channel: Option<&ChannelId>) {
        self.here.clear();
        for tag in &self.found {
            let retail = |id: &ChannelId| {
                let design = snapshot.design(tag.design).map(|book| &book.design);
                design.is_some_and(|design| design.channels.iter().any(|own| own.id == *id && own.retail))
            };
            let common =
                |id: &ChannelId| retail(id) && snapshot.accepted(tag.design, id).is_some_and(|(_, line)| line.common);
            let is_here = match channel {
                None => retail(&tag.channel),
                // Channels with the common ticket share a tag.
                Some(channel) => tag.channel == *channel || (common(&tag.channel) && common(channel)),
            };
            if is_here {
                let shows = if let Why::Shows(ticket) = tag.why { Some(ticket) } else { None };
                let _ = self.here.entry(tag.design).or_insert(shows);
            }
        }
        self.elsewhere = self.found.len().saturating_sub(self.here.len());
    }

    /// Tags of the chosen channel.
    pub(super) fn count(&self) -> usize {
        self.here.len()
    }

    pub(super) fn has(&self, design: DesignId) -> bool {
        self.here.contains_key(&design)
    }

    pub(super) fn designs(&self) -> impl Iterator<Item = DesignId> + '_ {
        self.here.keys().copied()
    }

    /// Why a design's tag is out of date, in words; nothing where it is not.
    pub(super) fn words(&self, piece: &Piece, preferences: &Preferences) -> Option<String> {
        let preferences = Preferences { currency: piece.design.currency, ..*preferences };
        Some(match self.here.get(&piece.id)? {
            Some(shown) => format!("its tag shows {}", display::money(*shown, &preferences)),
            None => "never printed".to_owned(),
        })
    }
}

/// A run of tags on its way out, to be kept once it is out.
#[derive(Debug, Clone)]
pub(in crate::window::screen) struct OnItsWay {
    pub(in crate::window::screen) document: Arc<Document>,
    /// The tags of the run in its order, with one copy each; none where a tag has no ticket.
    pub(in crate::window::screen) tags: Vec<Option<PrintedTag>>,
    /// The sheet, where it is one of the book, with its labels on a page.
    pub(in crate::window::screen) sheet: Option<(SheetId, u32)>,
}

/// Tags that were printed, and a sheet with its next free label.
pub(in crate::window::screen) type Noted = (Vec<PrintedTag>, Option<(SheetId, u32)>);

impl OnItsWay {
    /// What is kept of it when those pages went out so many times; nothing when there is nothing to keep.
    pub(in crate::window::screen) fn noted(&self, pages: Option<&PageRange>, copies: u32) -> Option<Noted> {
        let cut = pages.map(|pages| pages.of(&self.document)).transpose().ok()?;
        let labels = labels_of(cut.as_ref().unwrap_or(&self.document));
        let tags: Vec<PrintedTag> = labels
            .into_iter()
            .filter_map(|(place, labels)| {
                let tag = self.tags.get(place)?.clone()?;
                Some(PrintedTag { copies: labels.saturating_mul(copies), ..tag })
            })
            .collect();
        let sheet = self.sheet.and_then(|(id, labels)| {
            let next = next_label(&self.document, pages, labels).ok()?;
            next.map(|next| (id, next))
        });
        (!tags.is_empty() || sheet.is_some()).then_some((tags, sheet))
    }
}

/// The tag of a piece on a channel, one copy of that day; none without a ticket.
pub(super) fn tag(
    piece: &Piece,
    snapshot: &Snapshot,
    channel: Option<&ChannelId>,
    date: NaiveDate,
) -> Option<PrintedTag> {
    let ticket = piece.ticket(snapshot, channel)?;
    Some(PrintedTag {
        design: piece.id,
        channel: ticket.channel,
        piece: None,
        ticket: Money::rounded(ticket.amount),
        date,
        copies: 1,
    })
}
