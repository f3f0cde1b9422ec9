//! The ranges of a design (design-file specification, “Ranges”): checked in one place for files, the window and the
//! book. Every problem is found, not just the first.

use super::geometry;
use crate::measure::money::{MONEY_LIMIT, MONEY_PLACES};
use crate::measure::quantity::{QUANTITY_LIMIT, QUANTITY_PLACES};
use crate::measure::{Decimal, Unit};
use crate::studio::{
    Band, Blank, Channel, Coat, Design, Firing, Material, MaterialId, MaterialKind, Outline, Step, StepKind, Target,
    Thickness,
};
use std::collections::{BTreeMap, BTreeSet};

/// Most characters a name or an id may have.
pub const MOST_NAME_CHARACTERS: usize = 200;

/// Most characters SVG path data may have.
pub const MOST_PATH_CHARACTERS: usize = 100_000;

/// One value of a design that is not accepted.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{place}: {reason}")]
pub struct Problem {
    /// The value, by the keys of a design file and positions from 1: `step 3, celsius`.
    pub place: String,
    /// What is wrong and what would be accepted.
    pub reason: String,
}

/// Every problem of a design, in the order of a design file; none means it can be kept.
pub fn validate(design: &Design) -> Vec<Problem> {
    let mut check = Check::default();
    check.name("design, name", &design.name);
    check.count("design, pieces", design.pieces);
    let rates = &design.rates;
    check.money("rates, labour_per_hour", rates.labour_per_hour, Range::FromZero);
    check.money("rates, overhead_per_hour", rates.overhead_per_hour, Range::FromZero);
    check.money("rates, scrap_value", rates.scrap_value, Range::FromZero);
    let kiln = &design.kiln;
    check.other("kiln, kwh_per_load", kiln.kwh_per_load, Range::FromZero);
    check.money("kiln, price_per_kwh", kiln.price_per_kwh, Range::FromZero);
    check.other("kiln, recovery_minutes", kiln.recovery_minutes, Range::FromZero);
    check.money("kiln, wear_per_hour", kiln.wear_per_hour, Range::FromZero);
    check.other("kiln, solder_margin_c", kiln.solder_margin_c, Range::FromZero);
    check.blank(&design.blank);
    let materials = check.materials(&design.materials);
    check.steps(&design.steps, &materials);
    check.channels(&design.channels);
    check.problems
}

/// Problems of a channel's terms by themselves, as Setup edits them; places are those of one channel: `target`.
pub fn validate_channel(channel: &Channel) -> Vec<Problem> {
    let mut check = Check::default();
    check.channel("", channel);
    check.problems
}

/// What a number may be.
#[derive(Debug, Clone, Copy)]
enum Range {
    Any,
    FromZero,
    AboveZero,
    ZeroToOne,
    AboveZeroToOne,
    ZeroToBelowOne,
}

impl Range {
    fn holds(self, value: Decimal) -> bool {
        let (zero, one) = (Decimal::ZERO, Decimal::ONE);
        match self {
            Self::Any => true,
            Self::FromZero => value >= zero,
            Self::AboveZero => value > zero,
            Self::ZeroToOne => value >= zero && value <= one,
            Self::AboveZeroToOne => value > zero && value <= one,
            Self::ZeroToBelowOne => value >= zero && value < one,
        }
    }

    const fn words(self) -> &'static str {
        match self {
            Self::Any => "any number",
            Self::FromZero => "0 or more",
            Self::AboveZero => "above 0",
            Self::ZeroToOne => "0 to 1",
            Self::AboveZeroToOne => "above 0 and at most 1",
            Self::ZeroToBelowOne => "0 to below 1",
        }
    }
}

#[derive(Default)]
struct Check {
    problems: Vec<Problem>,
}

impl Check {
    fn tell(&mut self, place: impl Into<String>, reason: impl Into<String>) {
        self.problems.push(Problem { place: place.into(), reason: reason.into() });
    }

    fn money(&mut self, place: &str, value: Decimal, range: Range) {
        self.number(place, value, range, MONEY_PLACES, MONEY_LIMIT);
    }

    fn other(&mut self, place: &str, value: Decimal, range: Range) {
        self.number(place, value, range, QUANTITY_PLACES, QUANTITY_LIMIT);
    }

    fn number(&mut self, place: &str, value: Decimal, range: Range, places: u32, limit: i64) {
        let shown = value.normalize();
        if !range.holds(value) {
            self.tell(place, format!("{shown} is out of range; accepted is {}", range.words()));
        } else if value.abs() > Decimal::from(limit) {
            self.tell(place, format!("{shown} is too large; accepted is at most {limit}"));
        } else if shown.scale() > places {
            self.tell(place, format!("{shown} has too many decimals; accepted are at most {places}"));
        }
    }

    fn count(&mut self, place: &str, value: u32) {
        if value == 0 || i64::from(value) > QUANTITY_LIMIT {
            self.tell(place, format!("{value} is out of range; accepted is a whole number from 1 to {QUANTITY_LIMIT}"));
        }
    }

    fn name(&mut self, place: &str, name: &str) {
        let length = name.chars().count();
        if name.trim().is_empty() {
            self.tell(place, format!("is empty; accepted are 1 to {MOST_NAME_CHARACTERS} characters"));
        } else if length > MOST_NAME_CHARACTERS {
            self.tell(place, format!("has {length} characters; accepted are 1 to {MOST_NAME_CHARACTERS}"));
        }
        if name.chars().any(char::is_control) {
            self.tell(place, "holds a control character such as a tab or a line break; accepted is text in one line");
        }
    }

    /// An id: a name that no earlier one of its list has.
    fn id<'a>(&mut self, place: &str, id: &'a str, earlier: &mut BTreeSet<&'a str>) {
        self.name(place, id);
        if !earlier.insert(id) {
            self.tell(place, format!("{} is there twice; ids are unique in their list", quoted(id)));
        }
    }

    fn blank(&mut self, blank: &Blank) {
        let before = self.problems.len();
        match blank.thickness {
            Thickness::Gauge(number) if !(-3..=40).contains(&number) => {
                self.tell("blank, gauge", format!("{number} is out of range; accepted is −3 (0000) to 40"));
            }
            Thickness::Gauge(_) => {}
            Thickness::ThicknessMm(value) => self.other("blank, thickness_mm", value, Range::AboveZero),
        }
        self.outline(&blank.outline);
        self.other("blank, dome_height_mm", blank.dome_height_mm, Range::FromZero);
        for (index, &hole) in blank.holes_mm.iter().enumerate() {
            self.other(&format!("blank, holes_mm {}", index + 1), hole, Range::AboveZero);
        }
        if let Some(flow) = blank.solder_flow_c {
            self.other("blank, solder_flow_c", flow, Range::FromZero);
        }
        self.count("blank, count", blank.count);
        if self.problems.len() > before {
            return;
        }
        if let Err(reason) = geometry::outline_area_mm2(&blank.outline) {
            self.tell("blank, outline", reason);
        } else if let Err(error) = geometry::measure(blank) {
            let place = if blank.holes_mm.is_empty() { "blank, outline" } else { "blank, holes_mm" };
            let reason = match error {
                super::CostError::Geometry(reason) => reason,
                other => other.to_string(),
            };
            self.tell(place, reason);
        }
    }

    fn outline(&mut self, outline: &Outline) {
        let mut lengths: Vec<(&str, Decimal)> = Vec::new();
        match outline {
            Outline::Disc { diameter_mm } => lengths.push(("diameter_mm", *diameter_mm)),
            Outline::Ellipse { length_mm, width_mm } => {
                lengths.extend([("length_mm", *length_mm), ("width_mm", *width_mm)]);
            }
            Outline::Rectangle { length_mm, width_mm, corner_mm } => {
                lengths.extend([("length_mm", *length_mm), ("width_mm", *width_mm)]);
                let place = "blank, outline, corner_mm";
                self.other(place, *corner_mm, Range::FromZero);
                let shorter = *length_mm.min(width_mm);
                if shorter > Decimal::ZERO && corner_mm.saturating_add(*corner_mm) > shorter {
                    let corner = corner_mm.normalize();
                    self.tell(place, format!("{corner} is out of range; accepted is 0 to half the shorter side"));
                }
            }
            Outline::Drop { height_mm, width_mm } => {
                lengths.extend([("height_mm", *height_mm), ("width_mm", *width_mm)]);
                if height_mm <= width_mm {
                    let height = height_mm.normalize();
                    let reason = format!("{height} is out of range; accepted is a height greater than the width");
                    self.tell("blank, outline, height_mm", reason);
                }
            }
            Outline::Polygon { points_mm } => {
                if points_mm.len() < 3 {
                    let reason = format!("has {} points; accepted are 3 or more", points_mm.len());
                    self.tell("blank, outline, points_mm", reason);
                }
                for (index, point) in points_mm.iter().enumerate() {
                    let place = format!("blank, outline, points_mm {}", index + 1);
                    for &coordinate in point {
                        self.other(&place, coordinate, Range::Any);
                    }
                }
            }
            Outline::Path { svg } => {
                if svg.len() > MOST_PATH_CHARACTERS {
                    let reason = format!("has {} characters; accepted are {MOST_PATH_CHARACTERS}", svg.len());
                    self.tell("blank, outline, svg", reason);
                }
            }
        }
        for (key, value) in lengths {
            self.other(&format!("blank, outline, {key}"), value, Range::AboveZero);
        }
    }

    fn materials<'a>(&mut self, materials: &'a [Material]) -> BTreeMap<&'a str, &'a Material> {
        if materials.is_empty() {
            self.tell("material", "none is there; accepted is at least one [[material]]");
        }
        let mut ids = BTreeSet::new();
        let mut known = BTreeMap::new();
        for (index, material) in materials.iter().enumerate() {
            let place = format!("material {}", index + 1);
            self.id(&format!("{place}, id"), &material.id.0, &mut ids);
            self.name(&format!("{place}, name"), &material.name);
            self.money(&format!("{place}, price"), material.price, Range::FromZero);
            if material.fusing.is_some() && material.kind != MaterialKind::Enamel {
                self.tell(format!("{place}, fusing"), "is for enamels only; leave it out for other materials");
            }
            known.entry(material.id.0.as_str()).or_insert(material);
        }
        known
    }

    fn steps(&mut self, steps: &[Step], materials: &BTreeMap<&str, &Material>) {
        if steps.is_empty() {
            self.tell("step", "none is there; accepted is at least one [[step]], one of them a firing");
        } else if !steps.iter().any(|step| matches!(step.kind, StepKind::Fire(_))) {
            self.tell("step", "the route has no firing; accepted is at least one step of kind \"fire\"");
        }
        for (index, step) in steps.iter().enumerate() {
            let place = format!("step {}", index + 1);
            self.name(&format!("{place}, name"), &step.name);
            self.other(&format!("{place}, setup_minutes"), step.setup_minutes, Range::FromZero);
            self.other(&format!("{place}, minutes_per_piece"), step.minutes_per_piece, Range::FromZero);
            self.other(&format!("{place}, good"), step.good, Range::AboveZeroToOne);
            match &step.kind {
                StepKind::Coat(coat) => self.coat(&place, coat, materials),
                StepKind::Fire(firing) => self.firing(&place, firing),
                _ => {}
            }
            for (number, used) in step.uses.iter().enumerate() {
                let place = format!("{place}, uses {}", number + 1);
                self.known(&format!("{place}, material"), &used.material, materials);
                self.other(&format!("{place}, quantity"), used.quantity, Range::FromZero);
            }
        }
    }

    fn known<'a>(
        &mut self,
        place: &str,
        id: &MaterialId,
        materials: &BTreeMap<&str, &'a Material>,
    ) -> Option<&'a Material> {
        let found = materials.get(id.0.as_str()).copied();
        if found.is_none() {
            self.tell(place, format!("no material has the id {}; accepted is the id of a [[material]]", quoted(&id.0)));
        }
        found
    }

    fn coat(&mut self, place: &str, coat: &Coat, materials: &BTreeMap<&str, &Material>) {
        let material_place = format!("{place}, material");
        if let Some(material) = self.known(&material_place, &coat.material, materials)
            && (material.kind != MaterialKind::Enamel || material.unit != Unit::Gram)
        {
            let reason = format!(
                "{} is {} in {}; accepted for a coat is an enamel in g",
                quoted(&material.id.0),
                material.kind.name(),
                material.unit
            );
            self.tell(material_place, reason);
        }
        self.other(&format!("{place}, coverage"), coat.coverage, Range::AboveZeroToOne);
        self.other(&format!("{place}, coat_mg_per_cm2"), coat.coat_mg_per_cm2, Range::FromZero);
        self.other(&format!("{place}, overspray"), coat.overspray, Range::FromZero);
        self.other(&format!("{place}, reclaimed"), coat.reclaimed, Range::ZeroToOne);
    }

    fn firing(&mut self, place: &str, firing: &Firing) {
        self.other(&format!("{place}, celsius"), firing.celsius, Range::FromZero);
        self.other(&format!("{place}, minutes"), firing.minutes, Range::FromZero);
        self.count(&format!("{place}, pieces_per_load"), firing.pieces_per_load);
        let attended = firing.attended_minutes_per_load;
        self.other(&format!("{place}, attended_minutes_per_load"), attended, Range::FromZero);
    }

    fn channels(&mut self, channels: &[Channel]) {
        let mut ids = BTreeSet::new();
        for (index, channel) in channels.iter().enumerate() {
            let place = format!("channel {}, ", index + 1);
            self.id(&format!("{place}id"), &channel.id.0, &mut ids);
            self.channel(&place, channel);
        }
    }

    /// All of a channel but the uniqueness of its id; `place` ends in a comma and a space, or is empty.
    fn channel(&mut self, place: &str, channel: &Channel) {
        self.name(&format!("{place}name"), &channel.name);
        self.other(&format!("{place}commission"), channel.commission, Range::ZeroToBelowOne);
        self.other(&format!("{place}card_fee"), channel.card_fee, Range::ZeroToBelowOne);
        self.money(&format!("{place}card_fee_fixed"), channel.card_fee_fixed, Range::FromZero);
        self.other(&format!("{place}tax"), channel.tax, Range::FromZero);
        self.money(&format!("{place}selling_cost"), channel.selling_cost, Range::FromZero);
        match channel.target {
            Target::Margin(value) => self.other(&format!("{place}target, margin"), value, Range::ZeroToBelowOne),
            Target::Markup(value) => self.other(&format!("{place}target, markup"), value, Range::FromZero),
            Target::Hourly(value) => self.money(&format!("{place}target, hourly"), value, Range::FromZero),
        }
        let mut reached: Option<Decimal> = None;
        for (index, band) in channel.price_points.iter().enumerate() {
            let place = format!("{place}price_points {}", index + 1);
            let last = index + 1 == channel.price_points.len();
            self.band(&place, band, last, reached);
            reached = band.up_to.or(reached);
        }
    }

    fn band(&mut self, place: &str, band: &Band, last: bool, reached: Option<Decimal>) {
        let up_to_place = format!("{place}, up_to");
        match band.up_to {
            None if !last => self.tell(up_to_place, "is missing; only the last band has none"),
            Some(_) if last => self.tell(up_to_place, "is there; accepted for the last band is none"),
            Some(up_to) => {
                self.money(&up_to_place, up_to, Range::FromZero);
                if reached.is_some_and(|reached| up_to <= reached) {
                    let reason =
                        format!("{} is not above the band before it; accepted are rising ones", up_to.normalize());
                    self.tell(up_to_place, reason);
                }
            }
            None => {}
        }
        self.money(&format!("{place}, step"), band.step, Range::AboveZero);
        let less = format!("{place}, less");
        self.money(&less, band.less, Range::FromZero);
        if band.step > Decimal::ZERO && band.less >= band.step {
            let shown = band.less.normalize();
            self.tell(less, format!("{shown} is out of range; accepted is 0 to below the step"));
        }
    }
}

/// A text in quotation marks, cut where it is long.
pub(crate) fn quoted(text: &str) -> String {
    const MOST: usize = 40;
    if text.chars().count() > MOST {
        let start: String = text.chars().take(MOST).collect();
        format!("{start:?}…")
    } else {
        format!("{text:?}")
    }
}

#[cfg(test)]
mod tests;
