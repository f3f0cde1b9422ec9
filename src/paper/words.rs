//! The sentences on tags and cards, from what is in a piece. The usual cautions of the trade; local rules come first.

use crate::measure::{Decimal, Unit, exact};
use crate::studio::{Design, LengthUnit, Material, MaterialKind, Metal, StepKind};
use rust_decimal::prelude::ToPrimitive;
use std::collections::BTreeMap;

/// How much of each material one piece takes: in steps and, as 0 and more, in coats.
fn used(design: &Design) -> Vec<(&Material, Decimal)> {
    let mut quantities: BTreeMap<&str, Decimal> = BTreeMap::new();
    for step in &design.steps {
        if let StepKind::Coat(coat) = &step.kind {
            quantities.entry(coat.material.0.as_str()).or_default();
        }
        for one in &step.uses {
            let sum = quantities.entry(one.material.0.as_str()).or_default();
            *sum = exact::add(*sum, one.quantity).unwrap_or(*sum);
        }
    }
    design
        .materials
        .iter()
        .filter_map(|material| quantities.get(material.id.0.as_str()).map(|quantity| (material, *quantity)))
        .collect()
}

/// True when a material that stays in the piece bears lead.
pub fn bears_lead(design: &Design) -> bool {
    used(design).iter().any(|(material, _)| {
        material.lead_bearing && !matches!(material.kind, MaterialKind::Consumable | MaterialKind::Packaging)
    })
}

/// True when the piece is worn: it has a finding.
pub fn is_worn(design: &Design) -> bool {
    used(design).iter().any(|(material, _)| material.kind == MaterialKind::Finding)
}

/// How often the piece is fired.
pub fn firings(design: &Design) -> usize {
    design.steps.iter().filter(|step| matches!(step.kind, StepKind::Fire(_))).count()
}

/// What the piece is made of: `glass enamel on copper, 45 cm chain`. A chain's length is the millimetres used, or
/// what its name says; findings of another metal are named.
pub fn materials_line(design: &Design, length: LengthUnit) -> String {
    let used = used(design);
    let metal = design.blank.metal;
    let glass = used.iter().any(|(material, _)| material.kind == MaterialKind::Enamel);
    let mut parts = vec![if glass { format!("glass enamel on {}", metal.words()) } else { metal.words().to_owned() }];
    let mut others: Vec<Metal> = Vec::new();
    for (material, quantity) in used.iter().filter(|(material, _)| material.kind == MaterialKind::Finding) {
        let name = material.name.to_lowercase();
        let strung = ["chain", "cord"]
            .into_iter()
            .find(|word| name.split(|c: char| !c.is_alphanumeric()).any(|part| part == *word));
        match strung {
            Some(word) => {
                let long = chain_length(material, *quantity, &name, length);
                let of = material.metal.filter(|of| *of != metal).map(Metal::words);
                parts.push([long.as_deref(), of, Some(word)].into_iter().flatten().collect::<Vec<_>>().join(" "));
            }
            None => others.extend(material.metal.filter(|of| *of != metal && !others.contains(of))),
        }
    }
    parts.extend(others.into_iter().map(|of| format!("{} findings", of.words())));
    parts.join(", ")
}

/// The line with no-break spaces in its short parts, so that `45 cm chain` stays on one line.
pub(super) fn keep_together(line: &str) -> String {
    const SHORT: usize = 16;
    line.split(", ")
        .map(|part| if part.chars().count() <= SHORT { part.replace(' ', "\u{a0}") } else { part.to_owned() })
        .collect::<Vec<_>>()
        .join(", ")
}

/// A chain's length in words, e.g. `45 cm` or `18 in`.
fn chain_length(material: &Material, quantity: Decimal, name: &str, length: LengthUnit) -> Option<String> {
    let millimetres = if material.unit == Unit::Millimetre && !quantity.is_zero() {
        quantity.to_f64()?
    } else {
        let words: Vec<&str> = name.split(|c: char| c.is_whitespace() || c == ',').filter(|w| !w.is_empty()).collect();
        words.windows(2).find_map(|pair| {
            let [number, unit] = pair else { return None };
            let number: f64 = number.parse().ok()?;
            let factor = match *unit {
                "mm" => 1.0,
                "cm" => 10.0,
                "in" | "inch" | "inches" => 25.4,
                _ => return None,
            };
            Some(number * factor)
        })?
    };
    if !(10.0..=10_000.0).contains(&millimetres) {
        return None;
    }
    // Shortest form: whole centimetres or inches where it is one to the tenth.
    let (value, unit) = match length {
        LengthUnit::Millimetre => (millimetres / 10.0, "cm"),
        LengthUnit::Inch => (millimetres / 25.4, "in"),
    };
    let tenths = (value * 10.0).round() / 10.0;
    Some(format!("{tenths} {unit}"))
}

/// What a care card says, sentence by sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CareText {
    /// The heading.
    pub title: &'static str,
    /// What it is, how to treat it, how to clean it.
    pub care: Vec<String>,
    /// Lead, children.
    pub cautions: Vec<String>,
}

/// The facts the care text follows from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CareFacts {
    /// The metal under the glass.
    pub metal: Metal,
    /// How often it was fired.
    pub firings: usize,
    /// It is worn.
    pub worn: bool,
    /// It bears lead.
    pub lead_bearing: bool,
    /// It was made for children.
    pub for_children: bool,
}

/// The care text: common practice of the trade, no source.
pub fn care_text(facts: &CareFacts) -> CareText {
    let metal = facts.metal.words();
    let opening = match times_over(facts.firings) {
        Some(times) => format!("This is glass, fused to {metal} in a kiln, {times}."),
        None => format!("This is glass, fused to {metal} in a kiln."),
    };
    let handling = if facts.worn {
        "It is hard as a window, and as easily chipped: put it on last, take it off first, and keep it from knocks."
    } else {
        "It is hard as a window, and as easily chipped: keep it from knocks and falls."
    };
    let bare = match facts.metal {
        Metal::Copper | Metal::Brass | Metal::Bronze => {
            format!("Bare {metal} darkens with wear; a dry cloth brings it back.")
        }
        Metal::FineSilver | Metal::Sterling => {
            format!("Bare {metal} dulls in the air; a soft dry cloth brings it back.")
        }
        Metal::Steel => "Keep bare steel dry, or it rusts.".to_owned(),
    };
    let cleaning = format!(
        "Wipe it with a soft damp cloth. No acids, no dips, no ultrasonic bath, no chlorine, no scouring. {bare}"
    );
    let mut cautions = Vec::new();
    if facts.lead_bearing {
        cautions.push(
            "Contains lead, bound in the glass. Not for children, and not for food or drink; local rules on lead come \
             first."
                .to_owned(),
        );
    } else if !facts.for_children {
        cautions.push("Not for children: it was not made or tested for them under local rules.".to_owned());
    }
    CareText { title: "Looking after your piece", care: vec![opening, handling.to_owned(), cleaning], cautions }
}

/// `twice over`, `five times over`; none for a single firing.
fn times_over(firings: usize) -> Option<String> {
    const WORDS: [&str; 10] = ["three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    match firings {
        0 | 1 => None,
        2 => Some("twice over".to_owned()),
        more => Some(match WORDS.get(more - 3) {
            Some(word) => format!("{word} times over"),
            None => format!("{more} times over"),
        }),
    }
}
