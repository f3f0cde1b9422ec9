//! The page in words: each rate with the lines it is made of, each channel with what its terms mean.

use super::draft::{ChannelRow, Draft};
use super::field::{ChannelPart, Field, RowKey, StudioPart};
use crate::book::Snapshot;
use crate::costing::points;
use crate::costing::price::obstacle;
use crate::costing::rates::{self, LoadCost, WearParts};
use crate::measure::{Decimal, Preferences, TooLarge, display};
use crate::studio::{BookDesign, Channel, ChannelId, StudioRates, Target};
use crate::window::widget::Line;
use std::collections::BTreeMap;

/// How many designs, those set aside left out, follow what.
#[derive(Debug, Clone, Default)]
pub(super) struct Followers {
    pub(super) designs: usize,
    pub(super) labour: usize,
    pub(super) overhead: usize,
    pub(super) kiln: usize,
    channels: BTreeMap<ChannelId, usize>,
}

/// The designs that count: those that are not set aside.
pub(super) fn designs(snapshot: &Snapshot) -> impl Iterator<Item = &BookDesign> + Clone {
    snapshot.designs.iter().filter(|design| !design.retired)
}

impl Followers {
    pub(super) fn of(snapshot: &Snapshot) -> Self {
        let mut followers = Self::default();
        for design in designs(snapshot) {
            let follows = &design.follows;
            followers.designs += 1;
            followers.labour += usize::from(follows.labour);
            followers.overhead += usize::from(follows.overhead);
            followers.kiln += usize::from(follows.kiln);
            for id in &follows.channels {
                // A design may remember a channel that it no longer sells on.
                if design.design.channels.iter().any(|channel| channel.id == *id) {
                    *followers.channels.entry(id.clone()).or_default() += 1;
                }
            }
        }
        followers
    }

    fn of_channel(&self, id: &ChannelId) -> usize {
        self.channels.get(id).copied().unwrap_or_default()
    }
}

/// `no design follows it`, `1 design follows it`, `12 designs follow it`.
pub(super) fn follow(count: usize, what: &str) -> String {
    match count {
        0 => format!("no design follows {what}"),
        1 => format!("1 design follows {what}"),
        count => format!("{count} designs follow {what}"),
    }
}

/// A rate with what it is made of.
#[derive(Debug, Clone, Default)]
pub(super) struct Derived {
    /// As people say it.
    pub(super) figure: String,
    /// As designs are costed with it.
    pub(super) exact: String,
    pub(super) lines: Vec<Line>,
}

impl Derived {
    /// Words what came out, or says why nothing did.
    fn from(computed: Result<Self, TooLarge>) -> Self {
        computed.unwrap_or_else(|error| Self {
            figure: "–".to_owned(),
            exact: "–".to_owned(),
            lines: vec![Line::new(error.to_string(), "")],
        })
    }
}

/// What a channel's terms mean.
#[derive(Debug, Clone, Default)]
pub(super) struct ChannelWords {
    pub(super) name: String,
    pub(super) terms: String,
    /// Its id, and who follows it.
    pub(super) known_as: String,
    /// What its price points do to the example.
    pub(super) example: String,
    /// Why no price can reach its target.
    pub(super) obstacle: Option<String>,
}

/// All of it.
#[derive(Debug, Clone, Default)]
pub(super) struct Words {
    pub(super) overhead: Derived,
    pub(super) wear: Derived,
    pub(super) load: Derived,
    pub(super) overhead_follow: String,
    pub(super) wage: String,
    pub(super) wage_follow: String,
    pub(super) kiln_follow: String,
    pub(super) margin: String,
    pub(super) channels: BTreeMap<RowKey, ChannelWords>,
    /// Channels of the book that go with the next Keep.
    pub(super) leaving: Vec<String>,
}

impl Words {
    /// Words a draft; `now` is what the book says.
    pub(super) fn of(
        draft: &Draft,
        rates: &StudioRates,
        now: &StudioRates,
        followers: &Followers,
        preferences: &Preferences,
    ) -> Self {
        let minutes = draft.value(Field::Studio(StudioPart::ExampleMinutes));
        Self {
            overhead: Derived::from(overhead(rates, preferences)),
            wear: Derived::from(wear(rates, preferences)),
            load: Derived::from(load(rates, minutes, preferences)),
            overhead_follow: follow(followers.overhead, "the studio’s overhead"),
            wage: display::money_per_hour(rates.labour_per_hour.amount(), preferences),
            wage_follow: follow(followers.labour, "the studio’s wage"),
            kiln_follow: follow(followers.kiln, "the studio’s kiln figures"),
            margin: format!(
                "A new design begins with {}; each design keeps its own.",
                display::temperature_difference(rates.solder_margin_c, preferences)
            ),
            channels: draft
                .channels()
                .iter()
                .zip(&rates.channels)
                .map(|(row, channel)| (row.key, channel_words(draft, row, channel, followers, preferences)))
                .collect(),
            leaving: now
                .channels
                .iter()
                .filter(|channel| rates.channels.iter().all(|kept| kept.id != channel.id))
                .map(|channel| {
                    let follow = match followers.of_channel(&channel.id) {
                        0 => "no design follows it".to_owned(),
                        1 => "1 design follows it and goes on with terms of its own".to_owned(),
                        count => format!("{count} designs follow it and go on with terms of their own"),
                    };
                    format!("{} leaves the studio with the next Keep: {follow}.", channel.name)
                })
                .collect(),
        }
    }
}

fn number(value: Decimal, preferences: &Preferences) -> String {
    display::number(value, 0, 3, preferences.numbers)
}

fn overhead(rates: &StudioRates, preferences: &Preferences) -> Result<Derived, TooLarge> {
    let money = |amount| display::money(amount, preferences);
    let per_hour = rates::overhead_per_hour(rates)?;
    let mut lines: Vec<Line> = rates
        .overhead
        .iter()
        .map(|item| {
            Line::new(
                if item.name.is_empty() { "(no name yet)" } else { item.name.as_str() },
                money(item.per_year.amount()),
            )
        })
        .collect();
    lines.push(Line::new("A year’s overhead, in all", money(rates::overhead_per_year(rates)?)));
    lines.push(Line::new(
        "divided by the normal bench hours of a year",
        format!("{} h", number(rates.normal_hours_per_year, preferences)),
    ));
    let exact = format!("{}/h", display::money_fine(per_hour, preferences));
    lines.push(Line::new("Overhead an hour, to six decimals", exact.clone()));
    Ok(Derived { figure: display::money_per_hour(per_hour, preferences), exact, lines })
}

fn wear(rates: &StudioRates, preferences: &Preferences) -> Result<Derived, TooLarge> {
    let WearParts { elements, thermocouple } = rates::wear_parts(rates)?;
    let per_hour = rates::wear_per_hour(rates)?;
    let part = |what: &str, cost: Decimal, hours: Decimal, per_hour: Decimal| {
        let what =
            format!("{what}: {} over {} hot hours", display::money(cost, preferences), number(hours, preferences));
        Line::new(what, format!("{}/h", display::money_fine(per_hour, preferences)))
    };
    let exact = format!("{}/h", display::money_fine(per_hour, preferences));
    let lines = vec![
        part("A set of elements", rates.elements_cost.amount(), rates.elements_hours, elements),
        part("A thermocouple", rates.thermocouple_cost.amount(), rates.thermocouple_hours, thermocouple),
        Line::new("Wear a hot hour, to six decimals", exact.clone()),
    ];
    Ok(Derived { figure: display::money_per_hour(per_hour, preferences), exact, lines })
}

fn load(rates: &StudioRates, minutes: Decimal, preferences: &Preferences) -> Result<Derived, TooLarge> {
    let LoadCost { energy, kiln_minutes, wear, total } = rates::load_cost(rates, minutes)?;
    let fine = |amount| display::money_fine(amount, preferences);
    let time = |value| display::minutes(value, preferences);
    let lines = vec![
        Line::new(
            format!(
                "Energy: {} kWh at {}",
                number(rates.kwh_per_load, preferences),
                fine(rates.price_per_kwh.amount())
            ),
            fine(energy),
        ),
        Line::new(
            format!(
                "Wear: {} in the heat and {} of recovery, {} in all",
                time(minutes),
                time(rates.recovery_minutes),
                time(kiln_minutes)
            ),
            fine(wear),
        ),
        Line::new("A load", fine(total)),
    ];
    Ok(Derived { figure: display::money(total, preferences), exact: fine(total), lines })
}

fn target(target: Target, preferences: &Preferences) -> String {
    match target {
        Target::Margin(share) => format!("a margin of {}", display::rate(share, preferences)),
        Target::Markup(ratio) => format!("a markup of {} on full cost", display::rate(ratio, preferences)),
        Target::Hourly(money) => format!("{} earned", display::money_per_hour(money, preferences)),
    }
}

fn channel_words(
    draft: &Draft,
    row: &ChannelRow,
    channel: &Channel,
    followers: &Followers,
    preferences: &Preferences,
) -> ChannelWords {
    let mut terms = vec![format!("aims at {}", target(channel.target, preferences))];
    let rate = |value| display::rate(value, preferences);
    let money = |value| display::money(value, preferences);
    if !channel.commission.is_zero() {
        terms.push(format!("commission {}", rate(channel.commission)));
    }
    if !channel.card_fee.is_zero() {
        terms.push(format!("card fee {}", rate(channel.card_fee)));
    }
    if !channel.tax.is_zero() {
        let place = if channel.tax_in_price { "in the ticket" } else { "on top" };
        terms.push(format!("tax {} {place}", rate(channel.tax)));
    }
    if !channel.retail {
        terms.push("outside the common ticket".to_owned());
    }
    let price = draft.value(Field::Channel(row.key, ChannelPart::Example));
    let example = match points::ticket(price, &channel.price_points, preferences.currency.digits()) {
        Ok(ticket) => format!("A price of {} becomes a ticket of {}", money(price), money(ticket)),
        Err(error) => error.to_string(),
    };
    let known = if row.kept.is_some() { "known as" } else { "will be known as" };
    ChannelWords {
        name: if channel.name.is_empty() { "(no name yet)".to_owned() } else { channel.name.clone() },
        terms: terms.join(", "),
        known_as: format!("{known} {}; {}", channel.id, follow(followers.of_channel(&channel.id), "it")),
        example,
        obstacle: obstacle(channel).map(|error| error.to_string()),
    }
}
