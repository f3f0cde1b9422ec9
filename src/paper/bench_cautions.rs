//! The cautions of a route in the words of the bench: what to look out for and what to do, in the units of the book.

use super::words::bears_lead;
use crate::costing::cautions::cautions;
use crate::costing::{CautionCode, Level};
use crate::measure::{Decimal, Preferences, display};
use crate::studio::{Design, StepKind};

/// A caution in its box.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BoxedCaution {
    /// Do not go on as planned.
    pub stop: bool,
    /// What it is.
    pub what: String,
    /// What to do.
    pub way: String,
}

/// What stands under every list of cautions.
pub const SHEETS_FIRST: &str = "The maker’s safety data sheet and local rules come first.";

/// Silver and copper in touch melt together from here, °C × 10 (NIST, Ag-Cu system).
const SILVER_COPPER_TENTHS: i64 = 7_791;

/// The cautions of a route, a box a kind, stops first; then, by kind, in the order the program gives them.
pub fn route_cautions(design: &Design, preferences: &Preferences) -> Vec<BoxedCaution> {
    let mut found: Vec<(Level, CautionCode, Vec<usize>)> = Vec::new();
    for caution in cautions(design) {
        match found.iter_mut().find(|(_, code, _)| *code == caution.code) {
            Some((_, _, steps)) => steps.push(caution.step),
            None => found.push((caution.level, caution.code, vec![caution.step])),
        }
    }
    found.sort_by_key(|(level, code, _)| (*level != Level::Stop, *code));
    found
        .into_iter()
        .map(|(level, code, steps)| {
            let (what, way) = worded(code, &steps, design, preferences);
            BoxedCaution { stop: level == Level::Stop, what, way }
        })
        .collect()
}

/// Heat, dust, lead and acid, as far as the route meets them. Common practice of the trade, no source.
pub fn usual_cautions(design: &Design) -> Vec<String> {
    let any = |of: fn(&StepKind) -> bool| design.steps.iter().any(|step| of(&step.kind));
    let mut said = Vec::new();
    if any(|kind| matches!(kind, StepKind::Fire(_))) {
        said.push("Heat: gloves, dark eye shields, a clear way from kiln to rest; nothing that burns nearby.");
    }
    if any(|kind| matches!(kind, StepKind::Coat(_))) {
        said.push("Dust and fumes: mask on to sift and clean up; wipe wet, never sweep dry; air the room as you fire.");
    }
    if bears_lead(design) {
        said.push("Lead: gloves, no food or drink here, wash hands after; keep its waste apart.");
    }
    if any(|kind| matches!(kind, StepKind::Prepare | StepKind::Clean)) {
        said.push("Acid: pickle burns skin and eyes; goggles and gloves, acid into water, rinse well.");
    }
    let mut said: Vec<String> = said.into_iter().map(str::to_owned).collect();
    said.push(SHEETS_FIRST.to_owned());
    said
}

/// `step 3`, `steps 3, 6 and 8`.
fn steps_named(steps: &[usize]) -> String {
    let numbers: Vec<String> = steps.iter().map(usize::to_string).collect();
    match numbers.split_last() {
        Some((last, [])) => format!("step {last}"),
        Some((last, rest)) => format!("steps {} and {last}", rest.join(", ")),
        None => String::new(),
    }
}

fn worded(code: CautionCode, steps: &[usize], design: &Design, preferences: &Preferences) -> (String, String) {
    let named = steps_named(steps);
    let heat = |celsius: Decimal| display::temperature(celsius, preferences);
    let flow = design.blank.solder_flow_c.map(heat).unwrap_or_default();
    let margin = display::temperature_difference(design.kiln.solder_margin_c, preferences);
    let metal = design.blank.metal;
    let (what, way) = match code {
        CautionCode::SolderFlow => (
            format!("Solder flows at {flow}: {named} at or above it"),
            "The joint lets go. Fire lower, or solder with a harder one.".to_owned(),
        ),
        CautionCode::SolderMargin => (
            format!("Solder flows at {flow}: {named} less than {margin} below"),
            "Watch the pyrometer; support the joint, open early.".to_owned(),
        ),
        CautionCode::MetalMelt => (
            format!("{} begins to melt at {}: {named}", capital(metal.words()), heat(metal.solidus_celsius())),
            "Fire lower.".to_owned(),
        ),
        CautionCode::KilnMax => (format!("Hotter than the kiln holds: {named}"), "Fire lower.".to_owned()),
        CautionCode::SilverCopper => (
            format!("Silver on copper melts from {}: {named}", heat(Decimal::new(SILVER_COPPER_TENTHS, 1))),
            "Keep them apart under enamel, or fire below it.".to_owned(),
        ),
        CautionCode::HardOverSoft => (
            format!("Harder enamel over softer: {named}"),
            "The coat below can move or pull through. Test first, fire short.".to_owned(),
        ),
        CautionCode::NoCounterEnamel => (
            format!("No counter enamel on thin metal: {named}"),
            "It can warp and crack. Coat the back first.".to_owned(),
        ),
        CautionCode::LeadBearing => (
            format!("Bears lead, from {named} on"),
            "Keep its dust off hands, food and air; local rules on lead come first.".to_owned(),
        ),
        CautionCode::ChildLead => (
            format!("Bears lead and is for children: {named}"),
            "Use a lead-free material. Local rules come first.".to_owned(),
        ),
        CautionCode::UnfiredCoat => {
            (format!("Coat without a firing after it: {named}"), "Fire it, or leave it out.".to_owned())
        }
    };
    (what, way)
}

pub(super) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}
