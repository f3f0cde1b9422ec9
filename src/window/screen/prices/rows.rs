//! The rows of the sheet: sorted, filtered and worded, so that the view only lays them out.

use crate::book::Snapshot;
use crate::costing::price_sheet::{PriceRow, Tickets, deductions, is_under_cost};
use crate::costing::suppose::Supposition;
use crate::costing::{Level, Priced};
use crate::measure::{Decimal, Preferences, TooLarge, display, exact};
use crate::studio::{Channel, ChannelId, DesignId};
use crate::window::widget::Line;
use crate::window::widget::listing::Order;
use std::cmp::Ordering;

/// Which rows are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Show {
    /// All.
    #[default]
    All,
    /// Those whose ticket does not bring back full cost, or that cannot be priced.
    UnderCost,
    /// Those whose ticket differs from the accepted one.
    Changed,
}

/// How the rows are grouped.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Group {
    /// The channels of a design together.
    #[default]
    Design,
    /// The designs of a channel together.
    Channel,
}

/// What is asked of the sheet.
#[derive(Debug, Clone, Default)]
pub(super) struct Filter {
    pub(super) text: String,
    pub(super) channel: Option<ChannelId>,
    pub(super) show: Show,
    pub(super) group: Group,
}

/// Why a row wants a look; the order is that of gravity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Look {
    /// Nothing to see.
    Fine,
    /// A caution.
    Caution,
    /// A stop, or no price at all.
    Stop,
}

/// One design on one channel.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) design: DesignId,
    pub(super) channel: Option<ChannelId>,
    pub(super) code: String,
    pub(super) name: String,
    pub(super) channel_name: String,
    pub(super) full: String,
    pub(super) pocket: String,
    pub(super) ticket: String,
    pub(super) margin: String,
    pub(super) hourly: String,
    pub(super) common: String,
    pub(super) accepted: String,
    pub(super) supposed_full: String,
    pub(super) supposed_ticket: String,
    pub(super) word: String,
    pub(super) look: Look,
    pub(super) under_cost: bool,
    pub(super) changed: bool,
    pub(super) sentence: String,
    pub(super) lines: Vec<Line>,
    keys: Keys,
}

#[derive(Debug, Clone, Copy, Default)]
struct Keys {
    full: Option<Decimal>,
    pocket: Option<Decimal>,
    ticket: Option<Decimal>,
    margin: Option<Decimal>,
    hourly: Option<Decimal>,
    common: Option<Decimal>,
    accepted: Option<Decimal>,
    supposed: Option<Decimal>,
}

/// Costs all designs that are not set aside; with a supposition, under its circumstances.
pub(super) fn cost_all(snapshot: &Snapshot, supposition: &Supposition) -> Result<Vec<PriceRow>, TooLarge> {
    snapshot
        .designs
        .iter()
        .filter(|design| !design.retired)
        .map(|design| {
            let resolved = snapshot.resolved(design)?;
            Ok(match supposition.apply(&resolved) {
                Ok(supposed) => PriceRow::new(design.id, supposed),
                Err(error) => PriceRow { id: design.id, design: resolved, answer: Err(error) },
            })
        })
        .collect()
}

/// Words every row. `supposed` has the same designs in the same order, or is empty.
pub(super) fn word_all(
    today: &[PriceRow],
    supposed: &[PriceRow],
    tickets: Tickets,
    snapshot: &Snapshot,
    preferences: &Preferences,
) -> Vec<Row> {
    let mut rows = Vec::new();
    for (index, priced) in today.iter().enumerate() {
        let beside = supposed.get(index);
        if priced.answer.is_err() || priced.design.channels.is_empty() {
            rows.push(unpriced(priced, preferences));
        }
        for (channel, _) in priced.channels() {
            rows.push(word(priced, beside, channel, tickets, snapshot, preferences));
        }
    }
    rows
}

fn unpriced(row: &PriceRow, preferences: &Preferences) -> Row {
    let (sentence, look, full, pocket) = match &row.answer {
        Ok(costing) => (
            "it is sold nowhere yet".to_owned(),
            Look::Caution,
            Some(costing.cost.full),
            Some(costing.cost.out_of_pocket),
        ),
        Err(error) => (error.to_string(), Look::Stop, None, None),
    };
    let money = |amount: Option<Decimal>| amount.map_or_else(String::new, |amount| display::money(amount, preferences));
    Row {
        design: row.id,
        channel: None,
        code: row.design.code.to_string(),
        name: row.design.name.clone(),
        channel_name: "–".to_owned(),
        full: money(full),
        pocket: money(pocket),
        ticket: String::new(),
        margin: String::new(),
        hourly: String::new(),
        common: String::new(),
        accepted: String::new(),
        supposed_full: String::new(),
        supposed_ticket: String::new(),
        word: if look == Look::Stop { "no cost".to_owned() } else { "no channel".to_owned() },
        look,
        under_cost: look == Look::Stop,
        changed: false,
        sentence,
        lines: Vec::new(),
        keys: Keys { full, pocket, ..Keys::default() },
    }
}

fn word(
    row: &PriceRow,
    beside: Option<&PriceRow>,
    channel: &Channel,
    tickets: Tickets,
    snapshot: &Snapshot,
    preferences: &Preferences,
) -> Row {
    let money = |amount: Decimal| display::money(amount, preferences);
    let share = |share: Decimal| display::share(share, preferences);
    let costing = row.answer.as_ref().ok();
    let offered = row.offered(&channel.id, tickets);
    let common = costing.and_then(|costing| costing.common.as_ref()).filter(|_| channel.retail);
    let accepted = snapshot.accepted(row.id, &channel.id).map(|(list, line)| (list.date, line.ticket));
    let ticket = offered.as_ref().map(|offered| offered.ticket);
    let under_cost = offered.as_ref().is_none_or(is_under_cost);
    let changed = accepted.map(|(_, accepted)| accepted) != ticket;
    let (word, look) = verdict(row, offered.as_ref());
    let supposed =
        beside.and_then(|row| Some((row.offered(&channel.id, tickets)?, row.answer.as_ref().ok()?.cost.full)));
    Row {
        design: row.id,
        channel: Some(channel.id.clone()),
        code: row.design.code.to_string(),
        name: row.design.name.clone(),
        channel_name: channel.name.clone(),
        full: costing.map_or_else(String::new, |costing| money(costing.cost.full)),
        pocket: costing.map_or_else(String::new, |costing| money(costing.cost.out_of_pocket)),
        ticket: ticket.map_or_else(|| "none".to_owned(), money),
        margin: offered.as_ref().and_then(|offered| offered.margin).map_or_else(String::new, share),
        hourly: offered.as_ref().and_then(|offered| offered.earned_per_hour).map_or_else(String::new, money),
        common: common.map_or_else(String::new, |common| money(common.ticket)),
        accepted: accepted.map_or_else(|| "not yet".to_owned(), |(_, ticket)| money(ticket)),
        supposed_full: supposed.as_ref().map_or_else(String::new, |(_, full)| money(*full)),
        supposed_ticket: supposed.as_ref().map_or_else(
            || if beside.is_some() { "none".to_owned() } else { String::new() },
            |(offered, _)| money(offered.ticket),
        ),
        word,
        look,
        under_cost,
        changed,
        sentence: sentence(row, channel, offered.as_ref(), accepted, preferences),
        lines: lines(row, channel, offered.as_ref(), preferences),
        keys: Keys {
            full: costing.map(|costing| costing.cost.full),
            pocket: costing.map(|costing| costing.cost.out_of_pocket),
            ticket,
            margin: offered.as_ref().and_then(|offered| offered.margin),
            hourly: offered.as_ref().and_then(|offered| offered.earned_per_hour),
            common: common.map(|common| common.ticket),
            accepted: accepted.map(|(_, ticket)| ticket),
            supposed: supposed.map(|(offered, _)| offered.ticket),
        },
    }
}

fn verdict(row: &PriceRow, offered: Option<&Priced>) -> (String, Look) {
    let Some(offered) = offered else { return ("no price".to_owned(), Look::Stop) };
    let cautions = row.answer.as_ref().map_or(&[][..], |costing| &costing.cautions);
    if is_under_cost(offered) {
        return ("under cost".to_owned(), Look::Stop);
    }
    if let Some(stop) = cautions.iter().find(|caution| caution.level == Level::Stop) {
        return (format!("stop at step {}", stop.step), Look::Stop);
    }
    let count = cautions.len();
    match count {
        0 => (String::new(), Look::Fine),
        1 => ("1 caution".to_owned(), Look::Caution),
        _ => (format!("{count} cautions"), Look::Caution),
    }
}

fn sentence(
    row: &PriceRow,
    channel: &Channel,
    offered: Option<&Priced>,
    accepted: Option<(chrono::NaiveDate, Decimal)>,
    preferences: &Preferences,
) -> String {
    let Some(offered) = offered else {
        let why = row
            .channels()
            .find(|(terms, _)| terms.id == channel.id)
            .and_then(|(_, price)| price.priced.as_ref().err().map(ToString::to_string));
        return why.unwrap_or_else(|| "it has no price here".to_owned());
    };
    let profit = display::money(offered.profit, preferences);
    let mut words = if is_under_cost(offered) {
        let short = display::money(-offered.profit, preferences);
        format!("A sale here brings back {short} less than the piece costs")
    } else {
        format!("A sale here leaves {profit} after everything")
    };
    match accepted {
        None => words.push_str("; no ticket is accepted yet."),
        Some((date, ticket)) if ticket == offered.ticket => {
            words.push_str(&format!("; this ticket is in force since {date}."));
        }
        Some((date, ticket)) => {
            let ticket = display::money(ticket, preferences);
            words.push_str(&format!("; {ticket} is in force since {date}."));
        }
    }
    words
}

/// How the ticket comes about, line by line: what the buyer pays, what is taken off, what the piece costs.
fn lines(row: &PriceRow, channel: &Channel, offered: Option<&Priced>, preferences: &Preferences) -> Vec<Line> {
    let (Some(offered), Ok(costing)) = (offered, &row.answer) else { return Vec::new() };
    let Ok(taken) = deductions(channel, offered.price_before_tax) else {
        return Vec::new();
    };
    let money = |amount: Decimal| display::money(amount, preferences);
    let share = |share: Decimal| display::share(share, preferences);
    let mut lines = vec![Line::new("Ticket", money(offered.ticket))];
    let mut take = |what: String, amount: Decimal| {
        if !amount.is_zero() {
            lines.push(Line::new(what, money(-amount)));
        }
    };
    if channel.tax_in_price {
        take(format!("tax in the price, {}", share(channel.tax)), taken.tax);
    }
    take(format!("commission, {} of the price before tax", share(channel.commission)), taken.commission);
    take(format!("card fee, {} of what the buyer pays", share(channel.card_fee)), taken.card_fee);
    take("card fee on each sale".to_owned(), channel.card_fee_fixed);
    take("selling cost a piece".to_owned(), channel.selling_cost);
    take("full cost of a good piece".to_owned(), costing.cost.full);
    lines.push(Line::new("Left over", money(offered.profit)));
    if let Some(hourly) = offered.earned_per_hour {
        let hours = display::hours(costing.cost.hours_per_good_piece, preferences);
        lines.push(Line::new(format!("Earned in {hours} of bench time, an hour"), money(hourly)));
    }
    if let Some((_, price)) = row.channels().find(|(terms, _)| terms.id == channel.id) {
        if let Some(floor) = price.floor {
            lines.push(Line::new("Price before tax that just covers full cost", money(exact::round(floor, 8))));
        }
        if let Some(floor) = price.cash_floor {
            lines.push(Line::new("Price before tax that just returns the money spent", money(exact::round(floor, 8))));
        }
    }
    lines
}

/// The rows that are asked for, in order.
pub(super) fn select(rows: &[Row], filter: &Filter, sort: (usize, Order), supposing: bool) -> Vec<Row> {
    let wanted = filter.text.trim().to_lowercase();
    let mut chosen: Vec<Row> = rows
        .iter()
        .filter(|row| {
            (wanted.is_empty()
                || row.code.to_lowercase().contains(&wanted)
                || row.name.to_lowercase().contains(&wanted)
                || row.channel_name.to_lowercase().contains(&wanted))
                && (filter.channel.is_none() || filter.channel == row.channel)
                && match filter.show {
                    Show::All => true,
                    Show::UnderCost => row.under_cost,
                    Show::Changed => row.changed,
                }
        })
        .cloned()
        .collect();
    chosen.sort_by(|a, b| {
        let group = match filter.group {
            Group::Design => Ordering::Equal,
            Group::Channel => a.channel_name.cmp(&b.channel_name),
        };
        group.then_with(|| {
            let order = compare(a, b, sort.0, supposing);
            if sort.1 == Order::Falling { order.reverse() } else { order }
        })
    });
    chosen
}

/// Column numbers are those of the view: with a supposition three more stand after the ticket.
fn compare(a: &Row, b: &Row, column: usize, supposing: bool) -> Ordering {
    let column = match (column, supposing) {
        (6, true) => 100,
        (7, true) => 101,
        (8.., true) => column - 2,
        _ => column,
    };
    match column {
        1 => a.name.to_lowercase().cmp(&b.name.to_lowercase()),
        2 => a.channel_name.cmp(&b.channel_name),
        3 => a.keys.full.cmp(&b.keys.full),
        4 => a.keys.pocket.cmp(&b.keys.pocket),
        5 => a.keys.ticket.cmp(&b.keys.ticket),
        6 => a.keys.margin.cmp(&b.keys.margin),
        7 => a.keys.hourly.cmp(&b.keys.hourly),
        8 => a.keys.common.cmp(&b.keys.common),
        9 => a.keys.accepted.cmp(&b.keys.accepted),
        10 => a.look.cmp(&b.look),
        100 | 101 => a.keys.supposed.cmp(&b.keys.supposed),
        _ => a.code.cmp(&b.code),
    }
}
