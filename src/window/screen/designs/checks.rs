//! Cautions in her words and units: a shape, what it is, and a way out, at the step they concern.

use super::words;
use crate::costing::cautions::{Caution, CautionCode, Level};
use crate::costing::{Costing, price};
use crate::measure::exact::{self, Decimal};
use crate::measure::{Preferences, display};
use crate::studio::{Design, Firing, StepKind};
use crate::window::widget::Mark;
use std::collections::BTreeMap;

/// One thing to look at.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// Its shape.
    pub mark: Mark,
    /// What it is.
    pub what: String,
    /// What to do about it.
    pub way_out: String,
    /// The step it concerns, from 0.
    pub step: Option<usize>,
}

/// Everything to look at, stops first; one line that says so when there is nothing.
pub fn checks(design: &Design, answer: &Costing, p: &Preferences) -> Vec<Check> {
    let mut groups: BTreeMap<(bool, CautionCode), Vec<&Caution>> = BTreeMap::new();
    for caution in &answer.cautions {
        groups.entry((caution.level != Level::Stop, caution.code)).or_default().push(caution);
    }
    let mut checks: Vec<Check> = Vec::new();
    for ((_, code), found) in groups {
        for (index, caution) in found.iter().enumerate() {
            let place = caution.step.checked_sub(1);
            let mark = if caution.level == Level::Stop { Mark::Stop } else { Mark::Caution };
            // The same caution at several steps is one line; its steps are all marked on the route.
            let (what, way_out) =
                if index == 0 { worded(code, place, &found, design, p) } else { (String::new(), String::new()) };
            checks.push(Check { mark, what, way_out, step: place });
        }
    }
    checks.extend(under_cost(design, answer, p));
    if checks.is_empty() {
        checks.push(Check {
            mark: Mark::Good,
            what: "Nothing stands out".to_owned(),
            way_out: "heat, solder, coats and lead were looked at".to_owned(),
            step: None,
        });
    }
    checks
}

/// The stops of a design in a sentence each, for other rooms.
pub fn stops(design: &Design, answer: &Costing, p: &Preferences) -> Vec<String> {
    let stop = |check: &Check| check.mark == Mark::Stop && check.step.is_some() && !check.what.is_empty();
    let told = checks(design, answer, p).into_iter().filter(stop);
    told.map(|check| format!("{}: {}", design.name, check.what)).collect()
}

fn firing(design: &Design, place: Option<usize>) -> Option<&Firing> {
    match &design.steps.get(place?)?.kind {
        StepKind::Fire(firing) => Some(firing),
        _ => None,
    }
}

fn steps_of(found: &[&Caution]) -> String {
    let numbers: Vec<String> = found.iter().map(|caution| caution.step.to_string()).collect();
    match numbers.split_last() {
        Some((last, [])) => format!("Step {last}"),
        Some((last, rest)) => format!("Steps {} and {last}", rest.join(", ")),
        None => String::new(),
    }
}

fn worded(
    code: CautionCode,
    place: Option<usize>,
    found: &[&Caution],
    design: &Design,
    p: &Preferences,
) -> (String, String) {
    let steps = steps_of(found);
    let flow = design.blank.solder_flow_c.map(|celsius| display::temperature(celsius, p)).unwrap_or_default();
    let margin = display::temperature_difference(design.kiln.solder_margin_c, p);
    let name = place.and_then(|place| design.steps.get(place)).map(|step| step.name.as_str()).unwrap_or_default();
    let metal = design.blank.metal;
    let verb = if found.len() == 1 { "fires" } else { "fire" };
    match code {
        CautionCode::SolderFlow => (
            format!("{steps} {verb} at or above the solder’s flow, {flow}"),
            "the joint will open: fire lower, or solder with a harder one".to_owned(),
        ),
        CautionCode::SolderMargin => (
            format!("The solder flows at {flow}"),
            format!("{} within {margin} of it: fire lower, or solder with a harder one", comes(&steps, found.len())),
        ),
        CautionCode::MetalMelt => (
            format!(
                "{steps} {verb} close to where {} melts, {}",
                metal.words(),
                display::temperature(metal.solidus_celsius(), p)
            ),
            "fire lower, or use another metal".to_owned(),
        ),
        CautionCode::KilnMax => {
            (format!("{steps} {verb} hotter than the kiln holds"), "fire lower, or in another kiln".to_owned())
        }
        CautionCode::SilverCopper => {
            let heat = firing(design, place).map(|firing| display::temperature(firing.celsius, p)).unwrap_or_default();
            (
                format!("{steps} {verb} silver and copper together at {heat}"),
                format!(
                    "where they touch they melt from {}: fire below it, or keep them apart",
                    display::temperature(Decimal::new(7791, 1), p)
                ),
            )
        }
        CautionCode::HardOverSoft => (
            format!("{name} is harder than a coat under it"),
            "the soft coat may move or crack through: turn them round, or test first".to_owned(),
        ),
        CautionCode::NoCounterEnamel => (
            format!("{steps} {verb} the front without counter enamel"),
            "thin metal warps and the enamel cracks: coat the back first".to_owned(),
        ),
        CautionCode::LeadBearing => (
            "A material bears lead".to_owned(),
            "it is printed on bench sheet and care card; local rules come first".to_owned(),
        ),
        CautionCode::ChildLead => (
            "Bears lead, and is made for children".to_owned(),
            "use a lead-free enamel; local rules come first".to_owned(),
        ),
        CautionCode::UnfiredCoat => {
            (format!("{name} is never fired"), "add a firing after it, or take the coat out".to_owned())
        }
    }
}

fn comes(steps: &str, count: usize) -> String {
    let steps = steps.replacen("Step", "step", 1);
    if count == 1 { format!("{steps} comes") } else { format!("{steps} come") }
}

/// Channels whose own ticket does not pay the full cost.
fn under_cost(design: &Design, answer: &Costing, p: &Preferences) -> Vec<Check> {
    let mut checks = Vec::new();
    for (channel, found) in design.channels.iter().zip(&answer.channels) {
        let (what, way_out) = match &found.priced {
            Ok(priced) if priced.profit < Decimal::ZERO => {
                let floor = found.floor.and_then(|floor| floor_ticket(floor, channel, design));
                let way = match floor {
                    Some(ticket) => format!("{} covers it; or make it faster", words::short_money(ticket, p)),
                    None => "no price covers it: its fees eat it".to_owned(),
                };
                (format!("{}: the ticket is under full cost", channel.name), way)
            }
            Ok(_) => continue,
            Err(problem) => (format!("{} has no price", channel.name), problem.to_string()),
        };
        checks.push(Check { mark: Mark::Caution, what, way_out, step: None });
    }
    checks
}

/// The lowest allowed ticket that reaches a price before tax.
pub fn floor_ticket(floor: Decimal, channel: &crate::studio::Channel, design: &Design) -> Option<Decimal> {
    let shown =
        if channel.tax_in_price { exact::mul(floor, exact::add(Decimal::ONE, channel.tax).ok()?).ok()? } else { floor };
    crate::costing::points::ticket(shown, &channel.price_points, design.currency.digits()).ok()
}

/// A channel's figures at a ticket that is not its own.
pub fn at(design: &Design, answer: &Costing, index: usize, ticket: Decimal) -> Option<price::Priced> {
    let channel = design.channels.get(index)?;
    price::at_ticket(&answer.cost, channel, ticket).ok()
}
