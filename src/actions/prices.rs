//! Accepting prices into a dated list.

use super::limits::{self, Range, refuse};
use super::perform::Done;
use super::{Added, Refusal};
use crate::book::{Change, design, price_list};
use crate::studio::PriceLine;
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// Accepts tickets into a new list.
pub(super) fn accept(change: &Change<'_>, date: NaiveDate, name: &str, tickets: &[PriceLine]) -> Result<Done, Refusal> {
    let name = limits::name("Price list", name)?;
    limits::date("Date", date)?;
    if tickets.is_empty() || tickets.len() > 100_000 {
        return Err(refuse("Prices", tickets.len(), "1 to 100,000 prices are accepted"));
    }
    let mut seen = BTreeSet::new();
    for line in tickets {
        let field = format!("Ticket of {}, {}", line.code, line.channel_name);
        limits::money(&field, line.ticket, Range::ZeroOrMore)?;
        // Full cost may be below zero where scrap brings more than a piece costs.
        let cost = line.full_cost.amount();
        limits::money("Full cost", if cost.is_sign_negative() { -cost } else { cost }, Range::ZeroOrMore)?;
        limits::name("Design name", &line.name)?;
        limits::name("Channel id", &line.channel.0)?;
        limits::name("Channel", &line.channel_name)?;
        if !design::exists(change.reader(), line.design)? {
            return Err(super::designs::missing(line.design));
        }
        if !seen.insert((line.design, &line.channel)) {
            return Err(refuse(
                "Prices",
                format!("{} twice for {}", line.code, line.channel_name),
                "one a channel is accepted",
            ));
        }
    }
    let list = price_list::insert(change, date, &name, tickets)?;
    let count = if tickets.len() == 1 { "1 price".to_owned() } else { format!("{} prices", tickets.len()) };
    Ok(Done::adding(format!("Accept {count}: {name}"), Added::PriceList(list)))
}
