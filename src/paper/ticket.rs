//! Which ticket a tag shows: the one she accepted, else the one that stands ready to be accepted.

use super::language::Speech;
use crate::measure::{Decimal, Preferences, display};
use crate::studio::{ChannelId, Design, Language, PriceLine};

/// Where a ticket comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// It was accepted into a price list.
    Accepted,
    /// It is today's, not accepted yet.
    Today,
}

/// A ticket for a tag.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ticket {
    /// The amount.
    pub amount: Decimal,
    /// The channel it is from.
    pub channel: ChannelId,
    /// Accepted, or today's.
    pub source: Source,
}

/// What a tag shows: on a channel the ticket accepted for it, else the one that stands ready (see
/// [`accept::lines`](crate::costing::accept::lines)); without a channel the same of the first retail channel, whose
/// ticket is that of all of them. None where there is neither.
pub fn chosen(
    design: &Design,
    ready: &[PriceLine],
    channel: Option<&ChannelId>,
    accepted: impl Fn(&ChannelId) -> Option<Decimal>,
) -> Option<Ticket> {
    let of = |id: &ChannelId, amount, source| Ticket { amount, channel: id.clone(), source };
    let accepted_on = |id: &ChannelId| accepted(id).map(|amount| of(id, amount, Source::Accepted));
    let ready_on =
        |id: &ChannelId| ready.iter().find(|line| line.channel == *id).map(|line| of(id, line.ticket, Source::Today));
    let wanted: Vec<&ChannelId> = if let Some(id) = channel {
        vec![id]
    } else {
        let retail: Vec<&ChannelId> = design.channels.iter().filter(|own| own.retail).map(|own| &own.id).collect();
        if retail.is_empty() { design.channels.iter().map(|own| &own.id).collect() } else { retail }
    };
    wanted.iter().find_map(|id| accepted_on(id)).or_else(|| wanted.iter().find_map(|id| ready_on(id)))
}

/// A ticket as it is printed: with its currency, and spaces other programs know. In English it is written as numbers
/// are in Setup, in any other language as its readers write money.
pub fn words(amount: Decimal, preferences: &Preferences, speech: Speech<'_>) -> String {
    let words = match speech.language() {
        Language::English => display::money(amount, preferences),
        _ => speech.money(amount, preferences.currency),
    };
    words.replace(['\u{a0}', '\u{202f}', '\u{2009}'], " ")
}
