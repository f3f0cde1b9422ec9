//! A tag per channel, and the one ticket everywhere.

use super::checks::{at, floor_ticket};
use super::words;
use crate::book::Snapshot;
use crate::costing::explain::price_lines;
use crate::costing::price::Priced;
use crate::costing::price_sheet::Tickets;
use crate::costing::{Costing, accept};
use crate::measure::{Decimal, Preferences, display};
use crate::studio::{BookDesign, Channel, Design, PriceLine, Target};
use crate::window::widget::Line;

/// One tag.
#[derive(Debug, Clone, PartialEq)]
pub struct TagView {
    /// The channel's name.
    pub name: String,
    /// The ticket; a dash where there is no price.
    pub ticket: String,
    /// Its tax, e.g. `and 7 % tax`; empty without.
    pub tax: String,
    /// `margin 25.3 %`.
    pub margin: String,
    /// `earns $44.69 an hour`.
    pub earns: String,
    /// The ticket does not pay the full cost.
    pub below: bool,
    /// Why there is no price.
    pub problem: Option<String>,
    /// How the price comes about.
    pub lines: Vec<Line>,
}

/// The ticket of all retail channels.
#[derive(Debug, Clone, PartialEq)]
pub struct Common {
    /// The ticket.
    pub ticket: String,
    /// Who sets it, and what it means for the others.
    pub sentence: String,
    /// Word on the button.
    pub accept: String,
    /// What is accepted, where the button has no room for it.
    pub details: String,
    /// What is in force, a sentence; empty when nothing was accepted yet.
    pub in_force: String,
    /// What would be accepted.
    pub lines: Vec<PriceLine>,
    /// All of it is in force already.
    pub settled: bool,
}

/// Letters that fit on the button that accepts.
const BUTTON_LETTERS: usize = 40;

/// The tags of a costed design, in the order of its channels.
pub fn tags(design: &Design, answer: &Costing, p: &Preferences) -> Vec<TagView> {
    design
        .channels
        .iter()
        .zip(&answer.channels)
        .map(|(channel, found)| {
            let name = channel.name.clone();
            match &found.priced {
                Ok(priced) => TagView {
                    name,
                    ticket: words::short_money(priced.ticket, p),
                    tax: tax(channel, p),
                    margin: margin(channel, priced, p),
                    earns: priced
                        .earned_per_hour
                        .map(|wage| format!("earns {} an hour", display::money(wage, p)))
                        .unwrap_or_default(),
                    below: priced.profit < Decimal::ZERO,
                    problem: None,
                    lines: lines(channel, answer, priced, (found.floor, found.cash_floor), p),
                },
                Err(problem) => TagView {
                    name,
                    ticket: "–".to_owned(),
                    tax: String::new(),
                    margin: String::new(),
                    earns: String::new(),
                    below: false,
                    problem: Some(problem.to_string()),
                    lines: Vec::new(),
                },
            }
        })
        .collect()
}

fn tax(channel: &Channel, p: &Preferences) -> String {
    if channel.tax.is_zero() {
        String::new()
    } else if channel.tax_in_price {
        format!("{} tax in it", display::rate(channel.tax, p))
    } else {
        format!("and {} tax", display::rate(channel.tax, p))
    }
}

fn margin(channel: &Channel, priced: &Priced, p: &Preferences) -> String {
    let margin = priced.margin.map(|margin| format!("margin {}", display::share(margin, p)));
    match channel.target {
        Target::Markup(markup) => format!("markup {} asked", display::share(markup, p)),
        _ => margin.unwrap_or_default(),
    }
}

/// The words of a target.
pub fn target(target: Target, p: &Preferences) -> String {
    match target {
        Target::Margin(share) => format!("a margin of {}", display::share(share, p)),
        Target::Markup(share) => format!("a markup of {}", display::share(share, p)),
        Target::Hourly(wage) => format!("{} an hour", display::money(wage, p)),
    }
}

fn lines(
    channel: &Channel,
    answer: &Costing,
    priced: &Priced,
    floors: (Option<Decimal>, Option<Decimal>),
    p: &Preferences,
) -> Vec<Line> {
    let Ok(parts) = price_lines(&answer.cost, channel, priced) else { return Vec::new() };
    let money = |amount: Decimal| display::money(amount, p);
    let less = |amount: Decimal| format!("− {}", display::money(amount, p));
    let mut lines = vec![
        Line::new(format!("Reaches {} at", target(channel.target, p)), money(priced.exact)),
        Line::new("Raised to the next price point, before tax", money(priced.price_before_tax)),
    ];
    let mut taken = |what: String, amount: Decimal| {
        if !amount.is_zero() {
            lines.push(Line::new(what, less(amount)));
        }
    };
    taken(format!("Commission, {}", display::rate(channel.commission, p)), parts.commission);
    taken(format!("Card fee, {} of {}", display::rate(channel.card_fee, p), money(parts.paid)), parts.card_fee);
    taken("Card fee per sale".to_owned(), parts.card_fee_fixed);
    taken("Packing, booth and other selling cost".to_owned(), parts.selling_cost);
    lines.push(Line::new("Left", money(parts.net)));
    lines.push(Line::new("Full cost", less(answer.cost.full)));
    lines.push(Line::new("Profit", money(priced.profit)));
    lines.push(Line::new("Left after the money spent on it", money(parts.earned)));
    if let Some(wage) = priced.earned_per_hour {
        let time = words::bench_time(answer.cost.hours_per_good_piece, p);
        lines.push(Line::new(format!("Earned an hour, over {time}"), money(wage)));
    }
    if let (Some(floor), Some(cash)) = floors {
        lines.push(Line::new("Full cost is covered from, before tax", money(floor)));
        lines.push(Line::new("Money spent comes back from, before tax", money(cash)));
    }
    lines
}

/// The common ticket with what it means, and what accepting it would write down.
pub fn common(
    book: &BookDesign,
    design: &Design,
    answer: &Costing,
    snapshot: &Snapshot,
    p: &Preferences,
) -> Option<Common> {
    let accepted = accept::lines(book.id, design, answer, Tickets::Common);
    let mut others = Vec::new();
    let mut retail = Vec::new();
    let mut means = Vec::new();
    for (index, (channel, found)) in design.channels.iter().zip(&answer.channels).enumerate() {
        let Ok(own) = &found.priced else { continue };
        let shared = answer.common.as_ref().filter(|_| channel.retail);
        match shared {
            Some(common) => {
                retail.push(channel.name.as_str());
                let at_common = at(design, answer, index, common.ticket);
                if at_common.is_some_and(|priced| priced.profit < Decimal::ZERO)
                    && let Some(ticket) = found.floor.and_then(|floor| floor_ticket(floor, channel, design))
                {
                    means.push(format!("From {} {} covers full cost.", words::short_money(ticket, p), channel.name));
                }
            }
            None => others.push(format!("{} {}", channel.name, words::short_money(own.ticket, p))),
        }
    }
    if accepted.is_empty() {
        return None;
    }
    let setter = answer.common.as_ref().and_then(|common| {
        design.channels.iter().find(|channel| channel.id == common.channel).map(|channel| channel.name.as_str())
    });
    let mut sentence = match setter {
        Some(name) => format!("set by {name}."),
        None => "no retail channel sets one.".to_owned(),
    };
    for words in means {
        sentence.push(' ');
        sentence.push_str(&words);
    }
    let ticket = answer.common.as_ref().map(|common| words::short_money(common.ticket, p)).unwrap_or_default();
    let mut accept = match retail.as_slice() {
        [] => String::new(),
        [one] => format!("{ticket} for {one}"),
        [one, two] => format!("{ticket} for {one} and {two}"),
        many => format!("{ticket} for {} channels", many.len()),
    };
    for other in others {
        if !accept.is_empty() {
            accept.push_str(", ");
        }
        accept.push_str(&other);
    }
    let in_force: Vec<_> = accepted.iter().map(|line| snapshot.accepted(book.id, &line.channel)).collect();
    let settled =
        accepted.iter().zip(&in_force).all(|(line, found)| found.is_some_and(|(_, held)| held.ticket == line.ticket));
    let latest = in_force.iter().flatten().max_by_key(|(list, _)| list.date);
    let in_force = match latest {
        Some((list, _)) if settled => format!("Accepted on {} ({}).", list.date.format("%-d %B %Y"), list.name),
        Some((list, _)) => {
            let held: Vec<String> = accepted
                .iter()
                .zip(&in_force)
                .filter_map(|(line, found)| {
                    found.map(|(_, held)| format!("{} {}", line.channel_name, words::short_money(held.ticket, p)))
                })
                .collect();
            format!("In force since {}: {}.", list.date.format("%-d %B %Y"), held.join(", "))
        }
        None => String::new(),
    };
    let (accept, details) = if accept.chars().count() > BUTTON_LETTERS {
        ("Accept these tickets".to_owned(), accept)
    } else {
        (format!("Accept {accept}"), String::new())
    };
    Some(Common { ticket, sentence, accept, details, in_force, lines: accepted, settled })
}
