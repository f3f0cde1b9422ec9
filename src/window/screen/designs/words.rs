//! Sentences and short texts about a design, in her units.

use super::show::thickness_entry;
use crate::costing::{Costing, PieceCost};
use crate::measure::exact::{self, Decimal};
use crate::measure::{Preferences, display};
use crate::studio::{Design, Firing, Step, StepKind, Thickness};

/// Money without its sign, for figures under a picture whose currency is plain.
pub fn plain_money(amount: Decimal, p: &Preferences) -> String {
    let digits = p.currency.digits();
    display::number(amount, digits, digits, p.numbers)
}

/// A ticket: without decimals when it is a whole amount.
pub fn short_money(amount: Decimal, p: &Preferences) -> String {
    if amount.fract().is_zero() { display::number(amount, 0, 0, p.numbers) } else { plain_money(amount, p) }
}

/// Hours as she would say them: minutes below two hours.
pub fn bench_time(hours: Decimal, p: &Preferences) -> String {
    if hours < Decimal::TWO {
        let minutes = exact::mul(hours, Decimal::from(60)).unwrap_or(hours);
        let least = if minutes < Decimal::TEN { 1 } else { 0 };
        format!("{}\u{a0}min", display::number(minutes, 0, least, p.numbers))
    } else {
        display::hours(hours, p)
    }
}

/// `1337 °F · 3:15`.
pub fn heat(firing: &Firing, p: &Preferences) -> String {
    format!("{} · {}", display::temperature(firing.celsius, p), display::minutes(firing.minutes, p))
}

/// The short word for a step on a narrow place: its kind, or the first word of its name.
pub fn step_word(step: &Step) -> String {
    match step.kind {
        StepKind::Fire(_) => "Fire".to_owned(),
        _ => step.name.clone(),
    }
}

/// The thickness as she says it in a sentence: `18 gauge`, `0.8 mm`.
fn thickness(thickness: Thickness, p: &Preferences) -> String {
    match (thickness, p.thickness) {
        (Thickness::Gauge(gauge), crate::measure::ThicknessUnit::Gauge) => {
            format!("{} gauge", crate::measure::gauge::number(gauge))
        }
        _ => display::thickness(thickness_entry(thickness), p),
    }
}

/// `18 gauge copper, domed, soldered · 14 to a batch · 12.39 expected good`.
pub fn sentence(design: &Design, answer: &Costing, p: &Preferences) -> String {
    let blank = &design.blank;
    let mut text = format!("{} {}", thickness(blank.thickness, p), blank.metal.words());
    if !blank.dome_height_mm.is_zero() {
        text.push_str(", domed");
    }
    match blank.holes_mm.len() {
        0 => {}
        1 => text.push_str(", drilled"),
        count => text.push_str(&format!(", {count} holes")),
    }
    if blank.solder_flow_c.is_some() {
        text.push_str(", soldered");
    }
    match blank.count {
        1 => {}
        2 => text.push_str(", a pair"),
        count => text.push_str(&format!(", {count} blanks")),
    }
    let good = display::number(answer.cost.good, 0, 2, p.numbers);
    format!("{text} · {} to a batch · {good} expected good", design.pieces)
}

/// What a blank measures: `0.81 mm · front 7.13 cm² · back 7.13 cm² · 5.2 g of metal`.
pub fn blank_measures(design: &Design, cost: &PieceCost, p: &Preferences) -> String {
    let each = if design.blank.count == 1 { "" } else { "each blank: " };
    format!(
        "{each}{} mm thick · front {} · back {} · {} of {}",
        display::number(cost.thickness_mm, 0, 3, p.numbers),
        display::area(cost.front_cm2, p),
        display::area(cost.back_cm2, p),
        display::mass(cost.mass_g, p),
        design.blank.metal.words(),
    )
}
