//! What a design page shows, prepared from one costing: texts, widths and heights. Nothing here computes a cost or a
//! price; a view only lays these out.

use super::checks::{self, Check};
use super::looks;
use super::stairs::{self, Stair};
use super::tags::{self, Common, TagView};
use super::words;
use crate::book::Snapshot;
use crate::costing::explain::{self, Breakdown};
use crate::costing::refire::{RefirePoint, fewest_firings, refire_curve};
use crate::costing::{Costing, costing};
use crate::measure::{Decimal, Preferences, display};
use crate::studio::{BookDesign, Design, StepKind};
use crate::window::draw::curve::CurvePoint;
use crate::window::draw::outline::Shape;
use crate::window::draw::strip::StripStep;
use crate::window::widget::Mark;
use rust_decimal::prelude::ToPrimitive;

/// Points of the curve of firings.
const CURVE_POINTS: u32 = 8;

/// A row of the table of firings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RefireRow {
    /// Firings.
    pub count: u32,
    /// Full cost.
    pub cost: String,
    /// Ticket per channel, in the order of the tags; a dash where there is none.
    pub tickets: Vec<String>,
    /// Earned per hour on the first channel; empty where there is none.
    pub earned: String,
}

/// Everything a design page shows of its figures.
#[derive(Debug, Clone)]
pub struct Figures {
    /// Rises with every change, so that pictures know when to be drawn anew.
    pub version: u64,
    /// The design as it was costed.
    pub resolved: Design,
    /// Its costing.
    pub costing: Costing,
    /// `18 gauge copper, domed, soldered loop · 14 to a batch · 12.39 expected good`.
    pub sentence: String,
    /// Full cost and tickets in a line.
    pub summary: String,
    /// Firings on the route.
    pub firings: u32,
    /// The fewest the route allows.
    pub fewest: u32,
    /// The route.
    pub strip: Vec<StripStep>,
    /// Full cost.
    pub full: String,
    /// The staircase.
    pub stairs: Vec<Stair>,
    /// Out of pocket, bench time, losses: one sentence.
    pub foot: String,
    /// A tag per channel.
    pub tags: Vec<TagView>,
    /// One ticket everywhere.
    pub common: Option<Common>,
    /// Cost and ticket against firings.
    pub curve: Vec<CurvePoint>,
    /// The words of the two lines.
    pub curve_words: [String; 2],
    /// The same as a table.
    pub refires: Vec<RefireRow>,
    /// The heads of the table's ticket columns.
    pub refire_heads: Vec<String>,
    /// What to be careful of.
    pub checks: Vec<Check>,
    /// The blank.
    pub shape: Shape,
    /// Colour the blank is drawn in.
    pub shape_colour: [u8; 3],
    /// Areas and mass of the blank.
    pub blank_words: String,
}

/// Costs a design and prepares what is shown of it; a sentence when it cannot be costed.
pub fn figures(
    book: &BookDesign,
    snapshot: &Snapshot,
    preferences: &Preferences,
    version: u64,
) -> Result<Figures, String> {
    let design = snapshot.resolved(book).map_err(|problem| problem.to_string())?;
    let answer = costing(&design).map_err(|problem| problem.to_string())?;
    let apart = explain::breakdown(&design, &answer.cost).map_err(|problem| problem.to_string())?;
    let fewest = fewest_firings(&design);
    let most = fewest.saturating_add(CURVE_POINTS - 1).max(answer.cost.firings.saturating_add(2));
    let curve = refire_curve(&design, most).unwrap_or_default();
    let main = main_channel(&design, &answer);
    let checks = checks::checks(&design, &answer, preferences);
    let tags = tags::tags(&design, &answer, preferences);
    let p = preferences;
    let figures = Figures {
        version,
        sentence: words::sentence(&design, &answer, p),
        summary: summary(&design, &answer, p),
        firings: answer.cost.firings,
        fewest,
        strip: strip(book, &design, &answer, &checks, snapshot, p),
        full: display::money(answer.cost.full, p),
        stairs: stairs::stairs(&design, &answer.cost, &apart, p),
        foot: foot(&answer, &apart, p),
        common: tags::common(book, &design, &answer, snapshot, p),
        curve: curve.iter().map(|point| curve_point(point, main, p)).collect(),
        curve_words: [
            main.and_then(|index| design.channels.get(index))
                .map(|channel| format!("ticket, {}", channel.name))
                .unwrap_or_default(),
            "full cost".to_owned(),
        ],
        refires: curve.iter().map(|point| refire_row(point, main, p)).collect(),
        refire_heads: design.channels.iter().map(|channel| channel.name.clone()).collect(),
        shape: looks::shape(&design.blank),
        shape_colour: looks::front_colour(book, snapshot),
        blank_words: words::blank_measures(&design, &answer.cost, p),
        checks,
        tags,
        costing: answer,
        resolved: design,
    };
    Ok(figures)
}

/// The channel the curve follows: the one that sets the common ticket, else the first that has a price.
fn main_channel(design: &Design, answer: &Costing) -> Option<usize> {
    let set = answer.common.as_ref().map(|common| &common.channel);
    design
        .channels
        .iter()
        .position(|channel| Some(&channel.id) == set)
        .or_else(|| answer.channels.iter().position(|price| price.priced.is_ok()))
}

/// Where something is drawn; pictures need no exact figure.
pub fn drawn(value: Decimal) -> f32 {
    value.to_f32().unwrap_or_default()
}

fn curve_point(point: &RefirePoint, main: Option<usize>, p: &Preferences) -> CurvePoint {
    let priced = main.and_then(|index| point.costing.channels.get(index)).and_then(|price| price.priced.as_ref().ok());
    let full = point.costing.cost.full;
    CurvePoint {
        count: point.firings,
        cost: drawn(full),
        cost_text: words::plain_money(full, p),
        ticket: priced.map(|priced| drawn(priced.ticket)),
        ticket_text: priced.map(|priced| words::short_money(priced.ticket, p)).unwrap_or_default(),
    }
}

fn refire_row(point: &RefirePoint, main: Option<usize>, p: &Preferences) -> RefireRow {
    let channels = &point.costing.channels;
    let earned = main
        .and_then(|index| channels.get(index))
        .and_then(|price| price.priced.as_ref().ok())
        .and_then(|priced| priced.earned_per_hour);
    RefireRow {
        count: point.firings,
        cost: display::money(point.costing.cost.full, p),
        tickets: channels
            .iter()
            .map(|price| match &price.priced {
                Ok(priced) => words::short_money(priced.ticket, p),
                Err(_) => "–".to_owned(),
            })
            .collect(),
        earned: earned.map(|wage| display::money(wage, p)).unwrap_or_default(),
    }
}

fn summary(design: &Design, answer: &Costing, p: &Preferences) -> String {
    let mut text = format!("full cost {}", display::money(answer.cost.full, p));
    for (channel, found) in design.channels.iter().zip(&answer.channels) {
        if let Ok(priced) = &found.priced {
            text.push_str(&format!(" · {} {}", channel.name, words::short_money(priced.ticket, p)));
        }
    }
    text
}

fn foot(answer: &Costing, apart: &Breakdown, p: &Preferences) -> String {
    let cost = &answer.cost;
    format!(
        "Out of pocket {} · {} of bench time a piece · losses {} over the route",
        display::money(cost.out_of_pocket, p),
        words::bench_time(cost.hours_per_good_piece, p),
        display::share(apart.lost_share, p),
    )
}

fn strip(
    book: &BookDesign,
    design: &Design,
    answer: &Costing,
    checks: &[Check],
    snapshot: &Snapshot,
    p: &Preferences,
) -> Vec<StripStep> {
    design
        .steps
        .iter()
        .zip(&answer.cost.steps)
        .enumerate()
        .map(|(place, (step, cost))| {
            let (detail, colour) = match &step.kind {
                StepKind::Fire(firing) => (words::heat(firing, p), Some(looks::heat(firing.celsius))),
                StepKind::Coat(coat) => (String::new(), looks::enamel(book, &coat.material, snapshot)),
                _ => (String::new(), None),
            };
            let marks = checks.iter().filter(|check| check.step == Some(place)).map(|check| check.mark);
            let mark = marks.fold(None, |found, mark| match (found, mark) {
                (Some(Mark::Stop), _) | (_, Mark::Stop) => Some(Mark::Stop),
                (_, Mark::Caution) => Some(Mark::Caution),
                (found, _) => found,
            });
            StripStep {
                name: step.name.clone(),
                word: words::step_word(step),
                detail,
                cost: words::plain_money(cost.total, p),
                weight: drawn(cost.total),
                colour,
                mark,
            }
        })
        .collect()
}
