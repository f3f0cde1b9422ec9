//! Accepted prices: dated lists, kept for ever.

use super::channel::ChannelId;
use super::code::DesignCode;
use super::design::DesignId;
use crate::measure::{Decimal, Money};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// A price list's row in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct PriceListId(pub i64);

/// A list of accepted tickets. A list holds only what was accepted that day; the ticket in force for a design and
/// channel is the latest list's that names it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PriceList {
    /// Its row.
    pub id: PriceListId,
    /// The day the tickets hold from.
    pub date: NaiveDate,
    /// Her name for it, e.g. `Harbour Fair`.
    pub name: String,
    /// The lines, by design code then channel order.
    pub lines: Vec<PriceLine>,
}

/// One accepted ticket, with the cost it was accepted on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PriceLine {
    /// The design.
    pub design: DesignId,
    /// Its code as it was.
    pub code: DesignCode,
    /// Its name as it was.
    pub name: String,
    /// The channel.
    pub channel: ChannelId,
    /// The channel's name as it was.
    pub channel_name: String,
    /// What the ticket shows.
    pub ticket: Decimal,
    /// Full cost per good piece on that day, to the book's grain.
    pub full_cost: Money,
    /// The ticket is the common ticket of the retail channels.
    pub common: bool,
}
