//! A layout with its figures, worded.

use crate::cutting::{self, Estimate, Layout, Scrap, SheetPlan};
use crate::measure::{Decimal, Money, Preferences, display, exact};
use crate::window::Shared;
use crate::window::draw::cut_sheet::{CutSheet, Laid as Blank, Left};
use crate::window::widget::Line;
use std::sync::Arc;

/// One outline of a layout.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Part {
    pub(super) letter: String,
    pub(super) name: String,
    pub(super) count: String,
    pub(super) mass: String,
    pub(super) each: String,
    pub(super) all: String,
    /// How many found no room.
    pub(super) missing: Option<String>,
}

/// A layout, ready to be shown.
#[derive(Debug, Clone)]
pub(super) struct Laid {
    pub(super) layout: Arc<Layout>,
    pub(super) plan: SheetPlan,
    /// The plan has changed since.
    pub(super) stale: bool,
    pub(super) headline: String,
    pub(super) parts: Vec<Part>,
    pub(super) lines: Vec<Line>,
    /// How the costs come about, or why there are none.
    pub(super) costs: String,
    pub(super) picture: CutSheet,
    pub(super) version: u64,
}

/// The letter of an outline, from 0: A to Z, then numbers.
pub(super) fn letter(which: usize) -> String {
    u32::try_from(which)
        .ok()
        .filter(|which| *which < 26)
        .and_then(|which| char::from_u32(u32::from('A') + which))
        .map_or_else(|| (which + 1).to_string(), String::from)
}

impl Laid {
    /// Words a layout. `price` is what one unit of the sheet's item costs with how much of it one sheet is.
    pub(super) fn new(
        layout: Arc<Layout>,
        plan: SheetPlan,
        names: &[String],
        estimate: Option<Estimate>,
        version: u64,
        shared: &Shared,
    ) -> Self {
        let p = &shared.preferences;
        let mut laid = Self {
            headline: headline(&layout, p),
            parts: parts(&layout, &plan, names, estimate.as_ref(), p),
            lines: lines(&layout, &plan, estimate.as_ref(), p),
            costs: costs(estimate.as_ref(), p),
            picture: picture(&layout, &plan, p),
            layout,
            plan,
            stale: false,
            version,
        };
        laid.picture.faint = false;
        laid
    }

    /// The plan has changed: what is shown is of the one before.
    pub(super) fn outdate(&mut self) {
        self.stale = true;
        self.picture.faint = true;
    }
}

fn grams(value: Decimal, p: &Preferences) -> String {
    display::mass(exact::round(value, 2), p)
}

fn headline(layout: &Layout, p: &Preferences) -> String {
    let blanks = layout.placed.len();
    let blanks = if blanks == 1 { "1 blank".to_owned() } else { format!("{blanks} blanks") };
    format!("{blanks} from one sheet, {} of it used", display::share(layout.used_share, p))
}

fn parts(
    layout: &Layout,
    plan: &SheetPlan,
    names: &[String],
    estimate: Option<&Estimate>,
    p: &Preferences,
) -> Vec<Part> {
    let mut parts = Vec::with_capacity(layout.counts.len());
    for (which, count) in layout.counts.iter().enumerate() {
        let each = estimate.and_then(|estimate| estimate.each.get(which).copied().flatten());
        let all = estimate.filter(|_| *count > 0).and_then(|estimate| estimate.parts.blanks.get(which).copied());
        let area = layout.blank_mm2.get(which).copied().unwrap_or_default();
        let mass = cutting::grams(area, plan.thickness, plan.metal).map(|mass| grams(mass, p)).unwrap_or_default();
        let money = |money: Option<Money>, word: fn(Decimal, &Preferences) -> String| {
            money.map_or_else(|| "–".to_owned(), |money| word(money.amount(), p))
        };
        parts.push(Part {
            letter: letter(which),
            name: names.get(which).cloned().unwrap_or_default(),
            count: count.to_string(),
            mass,
            each: money(each.map(fine), display::money_fine),
            all: money(all, display::money),
            missing: layout
                .missing
                .get(which)
                .filter(|missing| **missing > 0)
                .map(|missing| format!("{missing} wanted found no room")),
        });
    }
    parts
}

/// A cost of one blank as it is shown: to four places.
fn fine(money: Money) -> Money {
    Money::rounded(exact::round(money.amount(), 4))
}

fn lines(layout: &Layout, plan: &SheetPlan, estimate: Option<&Estimate>, p: &Preferences) -> Vec<Line> {
    let metal = estimate.map(|estimate| &estimate.metal);
    let money = |money: Option<Money>| {
        money.map_or_else(String::new, |money| format!(" · {}", display::money(money.amount(), p)))
    };
    let sum = |parts: &[Money]| parts.iter().try_fold(Money::ZERO, |sum, part| sum.plus(*part)).ok();
    let masses = &layout.grams;
    let mut lines = vec![
        Line::new("The sheet", grams(masses.sheet, p) + &money(estimate.map(|estimate| estimate.sheet))),
        Line::new("Metal in blanks", grams(masses.blanks, p) + &money(metal.and_then(|metal| sum(&metal.blanks)))),
    ];
    for (number, off_cut) in layout.off_cuts.iter().enumerate() {
        let [x, y] = off_cut.size_mm.map(|side| display::length(side, p));
        let area = layout.areas.off_cuts.get(number).copied().unwrap_or_default();
        let mass = cutting::grams(area, plan.thickness, plan.metal).map(|mass| grams(mass, p)).unwrap_or_default();
        let money = money(metal.and_then(|metal| metal.off_cuts.get(number).copied()));
        lines.push(Line::new(format!("Off-cut {}, {x} × {y}", number + 1), mass + &money));
    }
    lines.push(Line::new("Scrap and saw dust", grams(masses.scrap, p) + &money(metal.map(|metal| metal.scrap))));
    lines
}

fn costs(estimate: Option<&Estimate>, p: &Preferences) -> String {
    match estimate {
        None => "No cost: the sheet is not one of stock, or nothing of it was bought yet.".to_owned(),
        Some(estimate) => format!(
            "The sheet at {}, shared by area over blanks and off-cuts, which bear the scrap; without bench time.",
            display::money(estimate.sheet.amount(), p)
        ),
    }
}

#[allow(clippy::cast_possible_truncation)] // millimetres, to be drawn on a screen
fn picture(layout: &Layout, plan: &SheetPlan, p: &Preferences) -> CutSheet {
    use rust_decimal::prelude::ToPrimitive;
    let point = |[x, y]: [f64; 2]| [x as f32, y as f32];
    let exact = |[x, y]: [Decimal; 2]| [x.to_f32().unwrap_or_default(), y.to_f32().unwrap_or_default()];
    let blanks = layout.placed.iter().map(|placed| Blank {
        which: placed.which,
        letter: letter(placed.which),
        rings: placed.rings_mm.iter().map(|ring| ring.iter().copied().map(point).collect()).collect(),
    });
    let off_cuts = layout.off_cuts.iter().enumerate().map(|(number, off_cut)| {
        let [x, y] = off_cut.size_mm.map(|side| display::length(side, p));
        Left { low: exact(off_cut.low_mm), size: exact(off_cut.size_mm), words: format!("{}: {x} × {y}", number + 1) }
    });
    CutSheet {
        size: point(layout.size_mm),
        margin: plan.margin_mm.to_f32().unwrap_or_default(),
        blanks: blanks.collect(),
        off_cuts: off_cuts.collect(),
        faint: false,
    }
}

/// What a layout would cost, where the sheet is of stock and has a price.
pub(super) fn estimate(
    layout: &Layout,
    plan: &SheetPlan,
    row: Option<&crate::book::StockRow>,
    shared: &Shared,
) -> Option<Estimate> {
    let row = row?;
    let price = shared.snapshot.unit_price(row.id)?;
    let quantity = cutting::of_sheets(1, row.item.unit, layout.areas.sheet, plan.thickness, plan.metal).ok()?;
    cutting::estimate(layout, quantity, price, Scrap::WorthNothing).ok()
}
