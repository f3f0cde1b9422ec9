//! What off-cuts can become, and what a cut will do, in words.

use super::{Kept, OffCutAs, unit_of};
use crate::book::{Snapshot, StockRow};
use crate::costing::cut::Foretold;
use crate::cutting::OffCut;
use crate::measure::{Decimal, Unit, display, exact};
use crate::studio::{Cut, CutItem, ItemDetails, ItemId, Outline};
use crate::window::Shared;
use crate::window::screen::cutting::laid::Laid;
use crate::window::widget::{Entry, Line};

/// Existing items an off-cut can become are shown up to so many.
const MOST_OPTIONS: usize = 4;
/// Sizes that differ by less are the same, mm.
const SAME_SIZE_MM: i64 = 1;

pub(super) fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A blank of stock that is just this outline from just this sheet.
pub(super) fn same_blank(snapshot: &Snapshot, laid: &Laid, outline: &Outline) -> Option<ItemId> {
    let same = |row: &&StockRow| match &row.item.details {
        ItemDetails::Blank { metal, thickness, outline: own, dome_height_mm, holes_mm, .. } => {
            *metal == laid.plan.metal
                && *thickness == laid.plan.thickness
                && own == outline
                && dome_height_mm.is_zero()
                && holes_mm.is_empty()
        }
        _ => false,
    };
    snapshot.stock.iter().filter(|row| !row.item.retired).find(same).map(|row| row.id)
}

pub(super) fn kept(off_cut: &OffCut, area_mm2: Decimal, laid: &Laid, row: &StockRow, shared: &Shared) -> Kept {
    let p = &shared.preferences;
    let [x, y] = off_cut.size_mm.map(|side| display::length(side, p));
    let mut options = vec![(OffCutAs::Scrap, "scrap".to_owned()), (OffCutAs::New, "a new item".to_owned())];
    let mut becomes = OffCutAs::Scrap;
    for other in shared.snapshot.stock.iter().filter(|other| !other.item.retired && other.id != row.id) {
        let ItemDetails::Sheet { metal, thickness, size_mm } = &other.item.details else { continue };
        let alike = *metal == laid.plan.metal && *thickness == laid.plan.thickness;
        let fits = match (other.item.unit, size_mm) {
            (Unit::Gram, _) => true,
            (Unit::Each, Some(size)) => same_size(*size, off_cut.size_mm),
            _ => false,
        };
        if !alike || !fits || options.len() >= MOST_OPTIONS + 2 {
            continue;
        }
        let known = OffCutAs::Known(other.id);
        if other.item.unit == Unit::Each && becomes == OffCutAs::Scrap {
            becomes = known;
        }
        options.push((known, other.item.name.clone()));
    }
    Kept {
        words: format!("{x} × {y}"),
        size_mm: off_cut.size_mm,
        area_mm2,
        becomes,
        options,
        name: Entry::new(format!("Off-cut of {}, {x} × {y}", row.item.name)),
        reference: Entry::default(),
    }
}

pub(super) fn same_size(one: [Decimal; 2], other: [Decimal; 2]) -> bool {
    let near = |a: Decimal, b: Decimal| exact::sub(a, b).is_ok_and(|d| d.abs() <= Decimal::from(SAME_SIZE_MM));
    let [a, b] = other;
    near(one[0], a) && near(one[1], b) || near(one[0], b) && near(one[1], a)
}

/// What a cut will do, line by line.
pub(super) fn lines(cut: &Cut, foretold: &Foretold, sheet: &str, shared: &Shared) -> Vec<Line> {
    let p = &shared.preferences;
    let money = |amount: Decimal| display::money(amount, p);
    let mut lines = vec![Line::new(
        format!(
            "Out: {} of {sheet}; {} left",
            cut.typed,
            display::quantity(foretold.left.amount(), unit_of(cut.sheet, shared), p)
        ),
        money(foretold.metal.amount()),
    )];
    if cut.bench_in_cost && !cut.bench_minutes.is_zero() {
        lines.push(Line::new(
            format!("Bench time, {}, goes into the blanks", display::minutes(cut.bench_minutes, p)),
            money(foretold.bench.amount()),
        ));
    }
    for (line, cost) in cut.lines.iter().zip(&foretold.costs.lines) {
        let (name, unit, new) = match &line.item {
            CutItem::Known(id) => {
                let row = shared.snapshot.item(*id);
                (row.map_or_else(String::new, |row| row.item.name.clone()), unit_of(*id, shared), "")
            }
            CutItem::New(item) => (item.name.clone(), item.unit, ", new"),
        };
        let price = crate::costing::stock::unit_price(*cost, line.quantity)
            .map(|price| format!(" at {}", display::unit_price(exact::round(price, 4), unit, p)))
            .unwrap_or_default();
        lines.push(Line::new(
            format!("In: {} of {name}{new}{price}", display::quantity(line.quantity.amount(), unit, p)),
            money(cost.amount()),
        ));
    }
    lines.push(Line::new(
        format!("Scrap and saw dust: {}", display::mass(exact::round(cut.scrap_g.amount(), 2), p)),
        money(foretold.costs.scrap.amount()),
    ));
    lines
}
