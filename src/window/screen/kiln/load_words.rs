//! What is found about a load before its door closes, in her words and units.

use super::loading::Told;
use crate::costing::cautions::{CautionCode, Level};
use crate::costing::load_check::{Ceiling, CeilingReason, LoadCaution, LoadCheck, LoadPiece};
use crate::measure::{Preferences, display};
use crate::studio::Metal;

/// What all pieces of a load accept.
pub(super) fn accepted(check: &LoadCheck, p: &Preferences) -> String {
    match (check.celsius, check.minutes) {
        (Some(heat), Some(minutes)) => format!(
            "all accept {} to {} for {} to {}",
            display::temperature(heat.from, p),
            display::temperature(heat.to, p),
            display::minutes(minutes.from, p),
            display::minutes(minutes.to, p)
        ),
        _ => "there is no heat and time that all of them accept: fire them in two loads".to_owned(),
    }
}

/// The strictest ceiling with what sets it.
pub(super) fn ceiling(ceiling: &Ceiling, pieces: &[LoadPiece<'_>], p: &Preferences) -> String {
    let heat = display::temperature(ceiling.celsius, p);
    let piece = ceiling.piece.and_then(|id| pieces.iter().find(|piece| piece.piece == id));
    let who = piece.map_or("the kiln", |piece| piece.words.as_str());
    let limit = if ceiling.below { "Stay below" } else { "Up to" };
    match ceiling.reason {
        CeilingReason::Solder => format!("{limit} {heat}: {who} sets it, its solder joint opens above"),
        CeilingReason::Metal => format!("{limit} {heat}: {who} sets it, its metal begins to melt above"),
        CeilingReason::Kiln => format!("{limit} {heat}: the kiln holds no more"),
    }
}

/// A caution in her words and units.
pub(super) fn worded(caution: &LoadCaution, pieces: &[LoadPiece<'_>], p: &Preferences) -> Told {
    let piece = caution.piece.and_then(|id| pieces.iter().find(|piece| piece.piece == id));
    let blank = piece.map(|piece| &piece.plan.blank);
    let flow = blank.and_then(|blank| blank.solder_flow_c).map(|flow| display::temperature(flow, p));
    let flow = flow.unwrap_or_default();
    let metal = blank.map_or(Metal::Copper, |blank| blank.metal);
    let who = match (piece, caution.pieces.len()) {
        (Some(piece), 0 | 1) => piece.words.clone(),
        (Some(piece), many) => format!("{} and {} more", piece.words, many - 1),
        (None, _) => "the kiln".to_owned(),
    };
    let (what, way_out) = match caution.code {
        CautionCode::SolderFlow => (
            format!("At or above the flow of the solder, {flow}: {who}"),
            "The joint opens: fire lower or take it out. Firing all the same needs to be typed.".to_owned(),
        ),
        CautionCode::SolderMargin => {
            (format!("Close under the flow of the solder, {flow}: {who}"), "Fire lower, or watch the clock.".to_owned())
        }
        CautionCode::MetalMelt => (
            format!(
                "Close to where {} melts, {}: {who}",
                metal.words(),
                display::temperature(metal.solidus_celsius(), p)
            ),
            "Fire lower, or take it out.".to_owned(),
        ),
        CautionCode::KilnMax => {
            ("Hotter than this kiln can hold".to_owned(), "Fire lower, or in another kiln.".to_owned())
        }
        CautionCode::SilverCopper => (
            format!("Silver and copper in one piece: {who}"),
            "Where they touch they melt together at this heat: fire lower, or keep them apart.".to_owned(),
        ),
        CautionCode::HardOverSoft => (
            format!("A harder coat over a softer one: {who}"),
            "The soft coat may move or crack through: test first.".to_owned(),
        ),
        CautionCode::NoCounterEnamel => (
            format!("No counter enamel on the back: {who}"),
            "Thin metal warps and the enamel cracks: coat the back first.".to_owned(),
        ),
        CautionCode::UnfiredCoat => (format!("A coat stays unfired: {who}"), "Fire it later in the route.".to_owned()),
        CautionCode::LeadBearing | CautionCode::ChildLead => (String::new(), String::new()),
    };
    Told { stop: caution.level == Level::Stop, what, way_out }
}
