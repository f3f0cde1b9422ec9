//! What a draft does to prices: by how much full cost moves with each rate, and which tickets.

use super::words::{Followers, designs, follow};
use crate::book::Snapshot;
use crate::costing::effect::{CostMove, cost_move, ticket_moves};
use crate::measure::{Decimal, Preferences, TooLarge, display};
use crate::studio::{ItemId, StudioRates};
use crate::window::widget::Line;
use std::collections::BTreeMap;

/// Costs all designs with the book's figures and with `then`; a line for each rate, for all of them together, and for
/// the tickets.
pub(super) fn lines(
    snapshot: &Snapshot,
    then: &StudioRates,
    followers: &Followers,
    preferences: &Preferences,
) -> Result<Vec<Line>, TooLarge> {
    let now = &*snapshot.rates;
    let prices: BTreeMap<ItemId, Decimal> =
        snapshot.stock.iter().filter_map(|row| Some((row.id, snapshot.unit_price(row.id)?))).collect();
    let unit_price = |id: ItemId| prices.get(&id).copied();
    let labour = StudioRates { labour_per_hour: then.labour_per_hour, ..now.clone() };
    let overhead = StudioRates {
        overhead: then.overhead.clone(),
        normal_hours_per_year: then.normal_hours_per_year,
        ..now.clone()
    };
    let kiln = StudioRates {
        overhead: now.overhead.clone(),
        normal_hours_per_year: now.normal_hours_per_year,
        labour_per_hour: now.labour_per_hour,
        solder_margin_c: now.solder_margin_c,
        channels: now.channels.clone(),
        tariff: now.tariff.clone(),
        ..then.clone()
    };
    let mut lines = Vec::new();
    let of_labour = designs(snapshot).filter(|design| design.follows.labour);
    let moved = cost_move(of_labour, now, &labour, unit_price)?;
    lines.push(line("Wage", &follow(followers.labour, "it"), &moved, preferences));
    let of_overhead = designs(snapshot).filter(|design| design.follows.overhead);
    let moved = cost_move(of_overhead, now, &overhead, unit_price)?;
    lines.push(line("Overhead", &follow(followers.overhead, "it"), &moved, preferences));
    let of_kiln = designs(snapshot).filter(|design| design.follows.kiln);
    let moved = cost_move(of_kiln, now, &kiln, unit_price)?;
    lines.push(line("Kiln", &follow(followers.kiln, "it"), &moved, preferences));
    let moved = cost_move(designs(snapshot), now, then, unit_price)?;
    let count = match followers.designs {
        1 => "1 design".to_owned(),
        count => format!("{count} designs"),
    };
    lines.push(line("All together", &count, &moved, preferences));
    let tickets = ticket_moves(designs(snapshot), now, then, unit_price)?;
    let mut parts = vec![
        format!("{} up", tickets.higher),
        format!("{} down", tickets.lower),
        format!("{} as before", tickets.same),
    ];
    if tickets.other > 0 {
        parts.push(format!("{} gained or lost", tickets.other));
    }
    lines.push(Line::new("Tickets, each channel its own", parts.join(", ")));
    Ok(lines)
}

fn line(what: &str, who: &str, moved: &CostMove, preferences: &Preferences) -> Line {
    let left_out = match moved.left_out {
        0 => String::new(),
        count => format!(" ({count} cannot be costed)"),
    };
    let amount = if moved.designs == 0 {
        "nothing moves".to_owned()
    } else if moved.average.is_zero() {
        "full cost stays".to_owned()
    } else {
        let sign = if moved.average > Decimal::ZERO { "+" } else { "" };
        let share = moved.share.map(|share| format!(" ({sign}{})", display::share(share, preferences)));
        format!(
            "full cost {sign}{} on average{}",
            display::money(moved.average, preferences),
            share.unwrap_or_default()
        )
    };
    Line::new(format!("{what}: {who}{left_out}"), amount)
}
