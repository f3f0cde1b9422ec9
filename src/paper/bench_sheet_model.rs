//! What a bench sheet says: a batch's route with coats, heats, ceiling and cautions, every figure written out.

use super::batch_words::{batch_symbol, piece_names};
use super::bench_cautions::{BoxedCaution, capital, route_cautions, usual_cautions};
use super::cards::PaperSize;
use crate::costing::{CostError, MaterialLine, piece_cost};
use crate::measure::exact::{mul, sub};
use crate::measure::{Decimal, Preferences, Unit, display};
use crate::studio::{BatchRecord, Coat, Design, Firing, Material, MaterialId, Piece, Side, Step, StepKind};
use rust_decimal::prelude::ToPrimitive;

/// A bench sheet. Every text is printed as it is given.
#[derive(Debug, Clone, PartialEq)]
pub struct BenchSheet {
    /// The studio's name.
    pub studio: String,
    /// `Batch 14`.
    pub batch: String,
    /// What it is called.
    pub name: String,
    /// What is said of it, a label and its text each: design, pieces, metal, solder.
    pub facts: Vec<(String, String)>,
    /// The day it began.
    pub date: String,
    /// Anything else that was written down with it.
    pub note: String,
    /// The hottest it may be fired; none where nothing sets a bound.
    pub ceiling: Option<Ceiling>,
    /// The cautions of its route.
    pub cautions: Vec<BoxedCaution>,
    /// Heat, dust, lead, acid.
    pub usual: Vec<String>,
    /// The route.
    pub steps: Vec<SheetStep>,
    /// The pieces to tick off at each step.
    pub ticks: Vec<String>,
    /// What the symbol holds.
    pub symbol: String,
    /// The page.
    pub paper: PaperSize,
}

/// The hottest a batch may be fired.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ceiling {
    /// The strictest bound.
    pub heat: String,
    /// Every bound with where it comes from, the strictest first.
    pub bounds: Vec<String>,
}

/// A step of the route on the sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetStep {
    /// Its number, from 1.
    pub number: String,
    /// Its name.
    pub name: String,
    /// Hands-on time as planned.
    pub time: String,
    /// A firing's heat, time and load; none for other steps.
    pub heat: Option<Heat>,
    /// Coat and materials.
    pub lines: Vec<SheetLine>,
    /// What is written down by hand, a row each.
    pub rows: Vec<Vec<Blank>>,
}

/// The heat of a firing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Heat {
    /// Temperature.
    pub temperature: String,
    /// Minutes and seconds in the heat.
    pub minutes: String,
    /// `5 a load, 3 loads`.
    pub load: String,
}

/// A line of a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetLine {
    /// The material bears lead.
    pub lead: bool,
    /// What it says.
    pub text: String,
}

/// A line to write on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Blank {
    /// What is written there.
    pub label: &'static str,
    /// The unit after it; may be empty.
    pub unit: &'static str,
    /// Its width against the others of its row.
    pub share: u8,
}

/// What a bench sheet is made from besides the batch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SheetAsked<'a> {
    /// The pieces to print: those of the batch that are still at work.
    pub pieces: &'a [Piece],
    /// The kiln it will be fired in with the hottest it can hold, °C; none where there is none.
    pub kiln: Option<(&'a str, Decimal)>,
    /// The page.
    pub paper: PaperSize,
    /// The studio's name.
    pub studio: &'a str,
}

/// How far below its solidus a metal is safe, °C (costing method, section 9).
const MELT_MARGIN_CELSIUS: i64 = 20;
/// Most rows for loads a firing has; more of them are written on the kiln's own page.
const MOST_LOAD_ROWS: usize = 4;

/// The bench sheet of a batch.
///
/// # Errors
/// [`CostError`] where the plan cannot be measured: its blank is none, or a number grows past 28 digits.
pub fn bench_sheet(
    record: &BatchRecord,
    asked: &SheetAsked<'_>,
    preferences: &Preferences,
) -> Result<BenchSheet, CostError> {
    let batch = &record.batch;
    let plan = &batch.plan;
    let cost = piece_cost(plan)?;
    let gross = piece_cost(&nothing_reclaimed(plan))?;
    let count = asked.pieces.len();
    let pieces = Decimal::from(count);
    let steps = plan
        .steps
        .iter()
        .enumerate()
        .map(|(place, step)| {
            let of_step = |lines: &[MaterialLine]| -> Vec<MaterialLine> {
                lines.iter().filter(|line| line.step == place + 1).cloned().collect()
            };
            let (net, gross) = (of_step(&cost.material_lines), of_step(&gross.material_lines));
            sheet_step(plan, place, step, [&net, &gross], pieces, preferences)
        })
        .collect::<Result<Vec<SheetStep>, CostError>>()?;
    let blank = &plan.blank;
    let area = |value: Decimal| display::area(value, preferences);
    let mut metal = format!(
        "{}, {}, front {}, back {}",
        capital(blank.metal.words()),
        display::thickness(blank.thickness.into(), preferences),
        area(cost.front_cm2),
        area(cost.back_cm2)
    );
    if blank.count > 1 {
        metal = format!("{metal}, {} blanks a piece", blank.count);
    }
    let solder = match blank.solder_flow_c {
        Some(flow) => format!("Flows at {}", display::temperature(flow, preferences)),
        None => "No soldered joint".to_owned(),
    };
    // The names are those of the whole batch, so that a piece keeps its name whatever was lost.
    let names = piece_names(&record.pieces);
    let printed = |id| asked.pieces.iter().any(|piece| piece.id == id);
    Ok(BenchSheet {
        studio: asked.studio.to_owned(),
        batch: format!("Batch {}", batch.number),
        name: batch.name.clone(),
        facts: vec![
            ("Design".to_owned(), format!("{} ({})", plan.name, plan.code)),
            ("Pieces".to_owned(), pieces_words(count, record.pieces.len())),
            ("Blank".to_owned(), metal),
            ("Solder".to_owned(), solder),
        ],
        date: format!("begun {}", batch.started),
        note: batch.note.clone(),
        ceiling: ceiling(plan, asked.kiln, preferences)?,
        cautions: route_cautions(plan, preferences),
        usual: usual_cautions(plan),
        steps,
        ticks: names.into_iter().filter(|(id, _)| printed(*id)).map(|(_, name)| name).collect(),
        symbol: batch_symbol(batch.number),
        paper: asked.paper,
    })
}

fn pieces_words(printed: usize, of: usize) -> String {
    if printed == of { printed.to_string() } else { format!("{printed} of {of}") }
}

/// The plan with all the overspray used up: what has to be in the sifter.
fn nothing_reclaimed(plan: &Design) -> Design {
    let mut gross = plan.clone();
    for step in &mut gross.steps {
        if let StepKind::Coat(coat) = &mut step.kind {
            coat.reclaimed = Decimal::ZERO;
        }
    }
    gross
}

/// Solder less its margin, metal less its own, and the kiln.
fn ceiling(
    plan: &Design,
    kiln: Option<(&str, Decimal)>,
    preferences: &Preferences,
) -> Result<Option<Ceiling>, CostError> {
    let heat = |celsius: Decimal| display::temperature(celsius, preferences);
    let less = |celsius: Decimal| display::temperature_difference(celsius, preferences);
    let mut bounds: Vec<(Decimal, String)> = Vec::new();
    if let Some(flow) = plan.blank.solder_flow_c {
        let margin = plan.kiln.solder_margin_c;
        let bound = sub(flow, margin)?;
        bounds
            .push((bound, format!("{}: solder flows at {}, less {} of margin", heat(bound), heat(flow), less(margin))));
    }
    let metal = plan.blank.metal;
    let (solidus, margin) = (metal.solidus_celsius(), Decimal::from(MELT_MARGIN_CELSIUS));
    let bound = sub(solidus, margin)?;
    let words = metal.words();
    bounds.push((bound, format!("{}: {words} melts at {}, less {}", heat(bound), heat(solidus), less(margin))));
    if let Some((name, hottest)) = kiln {
        bounds.push((hottest, format!("{}: the hottest {name} holds", heat(hottest))));
    }
    bounds.sort_by_key(|(celsius, _)| *celsius);
    Ok(bounds.first().map(|(celsius, _)| Ceiling {
        heat: heat(*celsius),
        bounds: bounds.iter().map(|(_, words)| words.clone()).collect(),
    }))
}

fn sheet_step(
    plan: &Design,
    place: usize,
    step: &Step,
    [net, gross]: [&[MaterialLine]; 2],
    pieces: Decimal,
    preferences: &Preferences,
) -> Result<SheetStep, CostError> {
    let mut lines = Vec::with_capacity(net.len());
    for (place, line) in net.iter().enumerate() {
        let material = material(plan, &line.material);
        // The coat's own enamel is the step's first line.
        let coat = match &step.kind {
            StepKind::Coat(coat) if place == 0 => Some(coat),
            _ => None,
        };
        let all = gross.get(place).map_or(line.quantity, |line| line.quantity);
        lines.push(line_words(material, coat, [mul(line.quantity, pieces)?, mul(all, pieces)?], preferences));
    }
    let (heat, rows) = match &step.kind {
        StepKind::Fire(firing) => {
            let loads = loads(firing, pieces);
            (Some(heat_words(firing, loads, preferences)), load_rows(loads, preferences))
        }
        StepKind::Coat(_) => (None, vec![coat_row(preferences)]),
        _ => (None, vec![HAND_ROW.to_vec()]),
    };
    Ok(SheetStep {
        number: (place + 1).to_string(),
        name: step.name.clone(),
        time: time_words(step, preferences),
        heat,
        lines,
        rows,
    })
}

fn material<'a>(plan: &'a Design, id: &MaterialId) -> Option<&'a Material> {
    plan.materials.iter().find(|material| material.id == *id)
}

/// `Dusk blue, opaque · front, 66 mg/cm² · 11.9 g on the pieces, 13.4 g to sift`.
fn line_words(
    material: Option<&Material>,
    coat: Option<&Coat>,
    [net, gross]: [Decimal; 2],
    preferences: &Preferences,
) -> SheetLine {
    let Some(material) = material else { return SheetLine { lead: false, text: String::new() } };
    let amount = |value: Decimal| display::quantity(value, material.unit, preferences);
    let text = match coat {
        Some(coat) => {
            let side = match coat.side {
                Side::Front => "front",
                Side::Back => "back",
            };
            let part = if coat.coverage < Decimal::ONE {
                format!(", on {} of it", display::share(coat.coverage, preferences))
            } else {
                String::new()
            };
            let weight = display::number(coat.coat_mg_per_cm2, 0, 1, preferences.numbers);
            let used = if net == gross {
                amount(net)
            } else {
                format!("{} used, {} with what goes back", amount(net), amount(gross))
            };
            format!("{} · {side}{part}, {weight}\u{a0}mg/cm² · {used}", material.name)
        }
        None => format!("{} · {}", material.name, amount(net)),
    };
    SheetLine { lead: material.lead_bearing, text }
}

/// The fewest loads that hold the pieces.
fn loads(firing: &Firing, pieces: Decimal) -> usize {
    let per_load = usize::try_from(firing.pieces_per_load).unwrap_or(1).max(1);
    pieces.to_usize().unwrap_or_default().div_ceil(per_load)
}

fn heat_words(firing: &Firing, loads: usize, preferences: &Preferences) -> Heat {
    Heat {
        temperature: display::temperature(firing.celsius, preferences),
        minutes: format!("{}\u{a0}min", display::minutes(firing.minutes, preferences)),
        load: format!("{} a load, {loads} {}", firing.pieces_per_load, if loads == 1 { "load" } else { "loads" }),
    }
}

fn time_words(step: &Step, preferences: &Preferences) -> String {
    let minutes = |value: Decimal| display::minutes(value, preferences);
    let mut parts = Vec::new();
    if !step.setup_minutes.is_zero() {
        parts.push(format!("{} once", minutes(step.setup_minutes)));
    }
    if !step.minutes_per_piece.is_zero() {
        parts.push(format!("{} a piece", minutes(step.minutes_per_piece)));
    }
    if let StepKind::Fire(firing) = &step.kind
        && !firing.attended_minutes_per_load.is_zero()
    {
        parts.push(format!("{} a load", minutes(firing.attended_minutes_per_load)));
    }
    parts.join(", ")
}

const fn blank(label: &'static str, unit: &'static str, share: u8) -> Blank {
    Blank { label, unit, share }
}

/// The jar before and after, and what went back into it.
fn coat_row(preferences: &Preferences) -> Vec<Blank> {
    let unit = display::unit_label(Unit::Gram, preferences);
    vec![
        blank("Jar before", unit, 5),
        blank("Jar after", unit, 5),
        blank("Washed back", unit, 5),
        blank("Minutes", "", 4),
        blank("Lost, why", "", 5),
    ]
}

const HAND_ROW: [Blank; 2] = [blank("Minutes", "", 4), blank("Lost, why", "", 11)];

fn load_rows(loads: usize, preferences: &Preferences) -> Vec<Vec<Blank>> {
    let read = blank("Read", display::temperature_label(preferences), 4);
    let row = vec![blank("Closed", "", 4), blank("Opened", "", 4), read, blank("Lost, why", "", 10)];
    vec![row; loads.clamp(1, MOST_LOAD_ROWS)]
}
