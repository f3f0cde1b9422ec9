//! `prices`: every design on every channel; accepting the tickets.

use super::arguments::{Format, Prices};
use super::cost::{caution_line, dash};
use super::designs::{chosen, costed, preferences_of};
use super::failure::Failure;
use super::session::Session;
use super::table::{Align, Table};
use super::words::{counted, fine_money, money, percent};
use crate::actions::{self, Action};
use crate::book::Snapshot;
use crate::costing::price_sheet::Tickets;
use crate::costing::{ChannelPrice, Costing, accept, answer};
use crate::measure::exact;
use crate::studio::{BookDesign, Channel, ChannelId, Design, PriceLine};
use serde_json::json;

/// A design with what it costs, or why it has no cost.
struct Priced<'a> {
    book: &'a BookDesign,
    costed: Result<(Design, Costing), Failure>,
}

/// JSON: `currency`; `designs`: list of the `cost` answer of each design, with `name` and, in each channel, `accepted`
/// (`ticket`, `list`, `date`; null where none was); or `design`, `name` and `error`. With `--accept`: `accepted_list`
/// with `name`, `date`, `tickets` (how many).
pub(super) fn prices(session: &mut Session<'_>, task: Prices) -> Result<(), Failure> {
    let mut book = if task.accept.is_some() { session.open_to_write()? } else { session.open_to_read()? };
    let snapshot = actions::snapshot(&book)?;
    let channel = task.channel.map(ChannelId);
    let priced: Vec<Priced<'_>> = chosen(&snapshot, &task.design)?
        .into_iter()
        .map(|book| Priced { book, costed: costed(&snapshot, book) })
        .collect();
    if let Some(channel) = &channel
        && !priced.iter().any(|one| one.book.design.channels.iter().any(|own| own.id == *channel))
    {
        return Err(Failure::no(format!("there is no channel {channel} in these designs")));
    }
    let accepted = match task.accept {
        None => None,
        Some(name) => {
            let date = task.date.unwrap_or_else(|| session.today());
            let tickets: Vec<PriceLine> = priced.iter().flat_map(|one| lines(one, channel.as_ref())).collect();
            if tickets.is_empty() {
                return Err(Failure::no("no design has a ticket to accept"));
            }
            let count = tickets.len();
            session.perform(&mut book, Action::AcceptPrices { date, name: name.clone(), tickets })?;
            Some((name, date, count))
        }
    };
    if task.form.format == Format::Json {
        let designs: Vec<_> = priced.iter().map(|one| design_json(&snapshot, one, channel.as_ref())).collect();
        let mut answer = json!({ "currency": snapshot.settings.currency.code(), "designs": designs });
        if let (Some((name, date, count)), Some(fields)) = (accepted, answer.as_object_mut()) {
            fields.insert("accepted_list".to_owned(), json!({ "name": name, "date": date, "tickets": count }));
        }
        return session.json(&answer);
    }
    if priced.is_empty() {
        return session.say("No designs yet: `design import FILE` reads one, or open the window to write one down.");
    }
    session.write(table(&snapshot, &priced, channel.as_ref()))?;
    let mut cautions = Vec::new();
    for one in &priced {
        if let Ok((design, costing)) = &one.costed {
            cautions.extend(costing.cautions.iter().map(|each| format!("{}: {}", design.code, caution_line(each))));
        }
    }
    if !cautions.is_empty() {
        session.write("\n")?;
        for caution in cautions {
            session.say(&caution)?;
        }
    }
    match accepted {
        Some((name, date, count)) => {
            let tickets = counted(count, "ticket", "tickets");
            session.write("\n")?;
            session.say(&format!("Accepted {tickets} into “{name}”, held from {date}."))
        }
        None => Ok(()),
    }
}

/// The tickets of a design that can be accepted, on one channel or on all.
fn lines(one: &Priced<'_>, channel: Option<&ChannelId>) -> Vec<PriceLine> {
    let Ok((design, costing)) = &one.costed else { return Vec::new() };
    let mut lines = accept::lines(one.book.id, design, costing, Tickets::Common);
    lines.retain(|line| channel.is_none_or(|channel| line.channel == *channel));
    lines
}

fn design_json(snapshot: &Snapshot, one: &Priced<'_>, channel: Option<&ChannelId>) -> serde_json::Value {
    let own = &one.book.design;
    let (design, costing) = match &one.costed {
        Ok((design, costing)) => (design, costing),
        Err(failure) => return json!({ "design": own.code, "name": own.name, "error": failure.lines().join("; ") }),
    };
    // The answer is the text of `cost`, so that the two can never differ.
    let mut value: serde_json::Value =
        serde_json::from_str(&answer::to_json(design, costing)).unwrap_or(serde_json::Value::Null);
    if let Some(fields) = value.as_object_mut() {
        fields.insert("name".to_owned(), json!(own.name));
        if let Some(channels) = fields.get_mut("channels").and_then(serde_json::Value::as_array_mut) {
            channels.retain(|entry| channel.is_none_or(|channel| entry.get("id").is_some_and(|id| *id == channel.0)));
            for entry in channels {
                let id = entry.get("id").and_then(serde_json::Value::as_str).map(|id| ChannelId(id.to_owned()));
                let accepted = id.and_then(|id| snapshot.accepted(one.book.id, &id)).map(|(list, line)| {
                    json!({ "ticket": exact::answer(line.ticket), "list": list.name, "date": list.date })
                });
                if let Some(entry) = entry.as_object_mut() {
                    entry.insert("accepted".to_owned(), json!(accepted));
                }
            }
        }
    }
    value
}

fn table(snapshot: &Snapshot, priced: &[Priced<'_>], channel: Option<&ChannelId>) -> Table {
    let mut table = Table::new(&[
        ("Code", Align::Left),
        ("Name", Align::Left),
        ("Full cost", Align::Right),
        ("Out of pocket", Align::Right),
        ("Channel", Align::Left),
        ("Ticket", Align::Right),
        ("Margin", Align::Right),
        ("An hour", Align::Right),
        ("Common", Align::Right),
        ("Accepted", Align::Right),
        ("", Align::Left),
    ]);
    for one in priced {
        let own = &one.book.design;
        let mut head = vec![own.code.to_string(), own.name.clone()];
        let (design, costing) = match &one.costed {
            Ok((design, costing)) => (design, costing),
            Err(failure) => {
                head.extend(std::iter::repeat_with(dash).take(8));
                head.push(failure.lines().join("; "));
                table.row(head);
                continue;
            }
        };
        let preferences = preferences_of(snapshot, design);
        head.push(fine_money(costing.cost.full, &preferences));
        head.push(fine_money(costing.cost.out_of_pocket, &preferences));
        let shown: Vec<_> = design
            .channels
            .iter()
            .zip(&costing.channels)
            .filter(|(own, _)| channel.is_none_or(|channel| own.id == *channel))
            .collect();
        if shown.is_empty() {
            head.extend([dash(), dash(), dash(), dash(), dash(), dash(), String::new()]);
            table.row(head);
            continue;
        }
        for (index, (own, price)) in shown.into_iter().enumerate() {
            let mut row = if index == 0 { head.clone() } else { vec![String::new(); 4] };
            row.extend(channel_cells(snapshot, one.book, design, costing, own, price));
            table.row(row);
        }
    }
    table
}

fn channel_cells(
    snapshot: &Snapshot,
    book: &BookDesign,
    design: &Design,
    costing: &Costing,
    channel: &Channel,
    price: &ChannelPrice,
) -> Vec<String> {
    let preferences = &preferences_of(snapshot, design);
    let common = costing.common.as_ref().filter(|_| channel.retail);
    let accepted = snapshot.accepted(book.id, &channel.id).map(|(_, line)| line.ticket);
    let (ticket, margin, hour, remark) = match &price.priced {
        Ok(priced) => (
            money(priced.ticket, preferences),
            priced.margin.map_or_else(dash, |margin| percent(margin, preferences)),
            priced.earned_per_hour.map_or_else(dash, |amount| money(amount, preferences)),
            String::new(),
        ),
        Err(error) => (dash(), dash(), dash(), error.to_string()),
    };
    vec![
        channel.name.clone(),
        ticket,
        margin,
        hour,
        common.map_or_else(String::new, |common| money(common.ticket, preferences)),
        accepted.map_or_else(dash, |ticket| money(ticket, preferences)),
        remark,
    ]
}
