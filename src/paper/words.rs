//! What tags and cards say of a piece, from what is in it; [`super::language`] puts it into words.

use crate::measure::{Decimal, Unit, exact};
use crate::studio::{Design, Language, LengthUnit, Material, MaterialKind, Metal, StepKind};
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

/// What a piece is made of, before it is put into words.
pub(super) struct Stuff {
    /// There is glass on it.
    pub(super) glass: bool,
    /// The metal under it.
    pub(super) metal: Metal,
    /// What it hangs on.
    pub(super) strung: Vec<Strung>,
    /// Other metals of its findings, each once.
    pub(super) others: Vec<Metal>,
}

/// A chain or cord.
pub(super) struct Strung {
    /// The phrase for it: `chain` or `cord`.
    pub(super) word: &'static str,
    /// How long, in centimetres or inches.
    pub(super) length: Option<Decimal>,
    /// Its metal where it is not that of the piece.
    pub(super) metal: Option<Metal>,
}

impl Stuff {
    /// Read from a design. A chain's length is the millimetres used, or what its name says.
    pub(super) fn of(design: &Design, length: LengthUnit) -> Self {
        let used = used(design);
        let metal = design.blank.metal;
        let glass = used.iter().any(|(material, _)| material.kind == MaterialKind::Enamel);
        let mut stuff = Self { glass, metal, strung: Vec::new(), others: Vec::new() };
        for (material, quantity) in used.iter().filter(|(material, _)| material.kind == MaterialKind::Finding) {
            let name = material.name.to_lowercase();
            let strung = ["chain", "cord"]
                .into_iter()
                .find(|word| name.split(|c: char| !c.is_alphanumeric()).any(|part| part == *word));
            let other = material.metal.filter(|of| *of != metal);
            match strung {
                Some(word) => {
                    let length = chain_length(material, *quantity, &name, length);
                    stuff.strung.push(Strung { word, length, metal: other });
                }
                None => {
                    let new = other.filter(|of| !stuff.others.contains(of));
                    stuff.others.extend(new);
                }
            }
        }
        stuff
    }
}

/// The line with no-break spaces in its short parts, so that `45 cm chain` stays on one line, and in any part behind a
/// figure, so that it keeps its unit.
pub(super) fn keep_together(line: &str) -> String {
    const SHORT: usize = 16;
    let with_units = |part: &str| {
        let mut figure = false;
        let kept = part.chars().map(|letter| {
            let kept = if figure && letter == ' ' { '\u{a0}' } else { letter };
            figure = letter.is_ascii_digit();
            kept
        });
        kept.collect::<String>()
    };
    let whole = |part: &str| if part.chars().count() <= SHORT { part.replace(' ', "\u{a0}") } else { with_units(part) };
    let list = |list: &str| list.split(", ").map(whole).collect::<Vec<_>>().join(", ");
    // One language after the other.
    line.split(" · ").map(list).collect::<Vec<_>>().join(" · ")
}

/// A chain's length in centimetres or inches, to the tenth.
fn chain_length(material: &Material, quantity: Decimal, name: &str, length: LengthUnit) -> Option<Decimal> {
    let inch = Decimal::new(254, 1);
    let millimetres = if material.unit == Unit::Millimetre && !quantity.is_zero() {
        quantity
    } else {
        let words: Vec<&str> = name.split(|c: char| c.is_whitespace() || c == ',').filter(|w| !w.is_empty()).collect();
        words.windows(2).find_map(|pair| {
            let [number, unit] = pair else { return None };
            let number: Decimal = number.parse().ok()?;
            let factor = match *unit {
                "mm" => Decimal::ONE,
                "cm" => Decimal::TEN,
                "in" | "inch" | "inches" => inch,
                _ => return None,
            };
            exact::mul(number, factor).ok()
        })?
    };
    if millimetres < Decimal::TEN || millimetres > Decimal::new(10_000, 0) {
        return None;
    }
    let unit = match length {
        LengthUnit::Millimetre => Decimal::TEN,
        LengthUnit::Inch => inch,
    };
    exact::div(millimetres, unit).ok().map(|value| exact::round_away(value, 1).normalize())
}

/// What a care card says, sentence by sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CareText {
    /// The language it is in.
    pub language: Language,
    /// The heading.
    pub title: String,
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
