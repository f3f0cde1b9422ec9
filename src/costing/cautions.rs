//! Checks on a route (costing method, section 9).

use super::geometry;
use crate::measure::Decimal;
use crate::studio::{Design, Firing, Fusing, Material, MaterialId, Metal, Side, Step, StepKind};
use serde::Serialize;
use std::collections::BTreeMap;

/// What a caution is about, in the order of the method's table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CautionCode {
    /// A firing at or above a solder's flow point.
    SolderFlow,
    /// A firing close below it.
    SolderMargin,
    /// A firing close to the metal's solidus.
    MetalMelt,
    /// A firing hotter than the kiln can hold.
    KilnMax,
    /// Silver and copper that touch, at 779 °C or above.
    SilverCopper,
    /// A harder enamel over a softer one.
    HardOverSoft,
    /// Thin metal fired without counter enamel.
    NoCounterEnamel,
    /// Lead-bearing material in the piece.
    LeadBearing,
    /// Lead-bearing material in a piece for children.
    ChildLead,
    /// A coat with no firing after it.
    UnfiredCoat,
}

/// How grave a caution is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Level {
    /// Look before you go on.
    Caution,
    /// Do not do this.
    Stop,
}

/// One caution at one step. The faces word it from its code; `text` is a plain sentence in °C for files.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Caution {
    /// What it is about.
    pub code: CautionCode,
    /// How grave.
    pub level: Level,
    /// The step, from 1.
    pub step: usize,
    /// A plain sentence.
    pub text: String,
}

/// Silver and copper that touch melt together from 779.1 °C (NIST): the caution begins at this many °C.
const SILVER_COPPER_CELSIUS: u32 = 779;

/// How far below its solidus a metal is safe, °C.
pub(super) const MELT_MARGIN_CELSIUS: u32 = 20;

/// Metal of this thickness (16 gauge) or more is fired without counter enamel, mm.
const THICK_MM: f64 = 1.29;

/// Every caution of a design, by step and within a step in the order of [`CautionCode`].
pub fn cautions(design: &Design) -> Vec<Caution> {
    let mut route = Route::new(design);
    for (index, step) in design.steps.iter().enumerate() {
        route.walk(index + 1, step);
    }
    route.end();
    route.found.sort_by_key(|caution| (caution.step, caution.code));
    route.found
}

/// The cautions of one firing of a piece to which `done` was done before, in that order: what is told at the firing itself,
/// whether or not it was told at an earlier one, a harder coat over a softer one put on since the last firing, and lead
/// in the piece. In the order of [`CautionCode`]; `step` is the number of steps done and one.
pub fn at_firing<'a>(design: &'a Design, done: impl IntoIterator<Item = &'a Step>, firing: &'a Step) -> Vec<Caution> {
    let mut route = Route::new(design);
    let (mut number, mut last_firing) = (0, 0);
    for step in done {
        number += 1;
        route.walk(number, step);
        if matches!(step.kind, StepKind::Fire(_)) {
            last_firing = number;
        }
    }
    route.counter_told = false;
    route.found.retain(|caution| match caution.code {
        CautionCode::LeadBearing => true,
        CautionCode::HardOverSoft => caution.step > last_firing,
        _ => false,
    });
    number += 1;
    route.walk(number, firing);
    // Who a piece is made for is no matter of the kiln.
    route.found.retain(|caution| caution.code != CautionCode::ChildLead);
    for caution in &mut route.found {
        caution.step = number;
    }
    route.found.sort_by_key(|caution| caution.code);
    route.found
}

/// What has happened to a piece so far.
struct Route<'a> {
    design: &'a Design,
    materials: BTreeMap<&'a str, &'a Material>,
    found: Vec<Caution>,
    front: Coats,
    back: Coats,
    /// The first silver used, by name.
    silver: Option<&'a str>,
    counter_told: bool,
    lead_told: bool,
    /// Steps of coats not fired yet.
    unfired: Vec<usize>,
}

/// The coats of one side.
#[derive(Default)]
struct Coats {
    any: bool,
    /// Softest class among coats that have been fired.
    fired: Option<Fusing>,
    /// Softest class among coats put on since.
    waiting: Option<Fusing>,
}

impl Coats {
    fn fire(&mut self) {
        self.fired = softer(self.fired, self.waiting.take());
    }
}

fn softer(a: Option<Fusing>, b: Option<Fusing>) -> Option<Fusing> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (one, other) => one.or(other),
    }
}

impl<'a> Route<'a> {
    fn new(design: &'a Design) -> Self {
        let mut materials = BTreeMap::new();
        for material in &design.materials {
            materials.entry(material.id.0.as_str()).or_insert(material);
        }
        Self {
            design,
            materials,
            found: Vec::new(),
            front: Coats::default(),
            back: Coats::default(),
            silver: None,
            counter_told: false,
            lead_told: false,
            unfired: Vec::new(),
        }
    }

    fn tell(&mut self, code: CautionCode, level: Level, step: usize, text: String) {
        self.found.push(Caution { code, level, step, text });
    }

    fn walk(&mut self, number: usize, step: &'a Step) {
        if let StepKind::Coat(coat) = &step.kind {
            self.use_material(number, &coat.material);
        }
        for used in &step.uses {
            self.use_material(number, &used.material);
        }
        match &step.kind {
            StepKind::Coat(coat) => self.coat(number, coat.side, &coat.material),
            StepKind::Fire(firing) => self.fire(number, firing),
            _ => {}
        }
    }

    fn use_material(&mut self, number: usize, id: &MaterialId) {
        let Some(&material) = self.materials.get(id.0.as_str()) else { return };
        if self.silver.is_none() && material.metal.is_some_and(Metal::is_silver) {
            self.silver = Some(&material.name);
        }
        if material.lead_bearing && !self.lead_told {
            self.lead_told = true;
            let name = &material.name;
            self.tell(
                CautionCode::LeadBearing,
                Level::Caution,
                number,
                format!(
                    "{name} bears lead: keep its dust off hands, food and air, follow the maker's safety data sheet and \
                     the local rules on lead"
                ),
            );
            if self.design.for_children {
                self.tell(
                    CautionCode::ChildLead,
                    Level::Stop,
                    number,
                    format!("{name} bears lead and the piece is made for children: use a lead-free material"),
                );
            }
        }
    }

    fn coat(&mut self, number: usize, side: Side, material: &MaterialId) {
        let coated = self.materials.get(material.0.as_str()).copied();
        let fusing = coated.and_then(|material| material.fusing);
        let coats = match side {
            Side::Front => &mut self.front,
            Side::Back => &mut self.back,
        };
        coats.any = true;
        coats.waiting = softer(coats.waiting, fusing);
        let fired = coats.fired;
        if let (Some(new), Some(below)) = (fusing, fired)
            && new > below
        {
            let side = match side {
                Side::Front => "front",
                Side::Back => "back",
            };
            let name = coated.map_or("", |material| &material.name);
            self.tell(
                CautionCode::HardOverSoft,
                Level::Caution,
                number,
                format!(
                    "{name} is {} fusing and goes over {} fusing enamel already fired on the {side}: the coat below can \
                     move or pull through",
                    new.name(),
                    below.name()
                ),
            );
        }
        self.unfired.push(number);
    }

    fn fire(&mut self, number: usize, firing: &Firing) {
        let celsius = firing.celsius;
        let shown = celsius.normalize();
        self.check_solder(number, celsius);
        self.check_metal(number, celsius);
        let blank = &self.design.blank;
        if self.front.any && !self.back.any && !self.counter_told && geometry::thickness_mm(blank.thickness) < THICK_MM
        {
            self.counter_told = true;
            self.tell(
                CautionCode::NoCounterEnamel,
                Level::Caution,
                number,
                format!(
                    "fired at {shown} °C with enamel on the front and none on the back, on metal thinner than 1.29 mm \
                     (16 gauge): it can warp and the enamel can crack; coat the back first"
                ),
            );
        }
        self.front.fire();
        self.back.fire();
        self.unfired.clear();
    }

    fn check_solder(&mut self, number: usize, celsius: Decimal) {
        let Some(flow) = self.design.blank.solder_flow_c else { return };
        let margin = self.design.kiln.solder_margin_c;
        let (fired, flows) = (celsius.normalize(), flow.normalize());
        if celsius >= flow {
            self.tell(
                CautionCode::SolderFlow,
                Level::Stop,
                number,
                format!("fired at {fired} °C, and the weakest solder joint flows at {flows} °C: the joint can let go"),
            );
        } else if let Some(below) = flow.checked_sub(celsius).filter(|&below| below < margin) {
            self.tell(
                CautionCode::SolderMargin,
                Level::Caution,
                number,
                format!(
                    "fired at {fired} °C, {} °C below the {flows} °C at which the weakest solder joint flows: the margin \
                     wanted is {} °C",
                    below.normalize(),
                    margin.normalize()
                ),
            );
        }
    }

    fn check_metal(&mut self, number: usize, celsius: Decimal) {
        let metal = self.design.blank.metal;
        let solidus = metal.solidus_celsius();
        let fired = celsius.normalize();
        if celsius >= solidus - Decimal::from(MELT_MARGIN_CELSIUS) {
            self.tell(
                CautionCode::MetalMelt,
                Level::Stop,
                number,
                format!("fired at {fired} °C, and {} begins to melt at {solidus} °C", metal.words()),
            );
        }
        if celsius < Decimal::from(SILVER_COPPER_CELSIUS) {
            return;
        }
        let why = if metal == Metal::Sterling {
            "sterling silver holds silver and copper, which".to_owned()
        } else if let (true, Some(name)) = (metal.is_copper_alloy(), self.silver) {
            format!("{name} is silver on {}: where silver and copper touch they", metal.words())
        } else {
            return;
        };
        self.tell(
            CautionCode::SilverCopper,
            Level::Caution,
            number,
            format!("fired at {fired} °C; {why} melt together from 779.1 °C"),
        );
    }

    fn end(&mut self) {
        for number in std::mem::take(&mut self.unfired) {
            let text = "this coat has no firing after it".to_owned();
            self.tell(CautionCode::UnfiredCoat, Level::Caution, number, text);
        }
    }
}

#[cfg(test)]
mod tests;
