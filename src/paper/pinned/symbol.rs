//! A symbol in its place, with its quiet zone; an EAN-13 with its digits beneath.

use super::super::page::{Colour, Face, Glyph, Item, MM_PER_POINT, PlacedSymbol, Rect, TextRun};
use super::super::shaper::Shaper;
use super::super::stack::CAPITALS;
use super::super::symbol::EAN_ROW_MODULES;
use super::super::symbol_choice::{EAN_DIGIT_MODULES, SymbolChoice, SymbolProblem, choose};
use super::facts::Facts;
use super::ground::Ground;
use super::local::Local;
use crate::studio::{SymbolKind, SymbolOf, TextSet, Turn};
use std::sync::Arc;

/// A symbol is put onto whole dots when its paper is placed: it may move by half a dot.
const SNAP_MM: f64 = 0.05;
/// Height of the digits in modules.
const DIGIT_MODULES: f64 = 7.0;

/// A laid symbol.
pub(super) struct Laid {
    pub(super) items: Vec<Item>,
    pub(super) choice: SymbolChoice,
}

/// What the symbol holds.
pub(super) fn text(of: &SymbolOf, facts: &Facts) -> Option<String> {
    match of {
        SymbolOf::Code => Some(facts.code.clone()),
        SymbolOf::PieceNumber => Some(facts.piece_number.clone().unwrap_or_else(|| facts.code.clone())),
        SymbolOf::Number => facts.trade_number.clone(),
        SymbolOf::Text(text) => Some(text.clone()),
    }
}

#[allow(clippy::too_many_arguments)]
pub(super) fn lay(
    shaper: &mut Shaper,
    ground: &Ground,
    place: &Rect,
    turn: Turn,
    set: &TextSet,
    kind: SymbolKind,
    text: &str,
    dots_per_inch: Option<u32>,
) -> Result<Laid, SymbolProblem> {
    let nothing = Rect { x_mm: 0.0, y_mm: 0.0, width_mm: 0.0, height_mm: 0.0 };
    let room = ground.room(place).unwrap_or(nothing);
    let local = Local::of(&room, turn);
    let inner = [local.width - 2.0 * SNAP_MM, local.height - 2.0 * SNAP_MM].map(|side| side.max(0.0));
    let choice = choose(kind, text, inner, dots_per_inch)?;
    let module = choice.module_mm;
    let quiet = choice.art.quiet_zone();
    let digits = if kind == SymbolKind::Ean13 { EAN_DIGIT_MODULES * module } else { 0.0 };
    let dark = [f64::from(choice.art.columns) * module, f64::from(choice.art.rows) * choice.row_mm];
    let [width, height] = dark;
    let around = [
        width + f64::from(quiet.left + quiet.right) * module + 2.0 * SNAP_MM,
        height + f64::from(quiet.above + quiet.below) * module + digits + 2.0 * SNAP_MM,
    ];
    let [x, y] = local.aligned(around, set.across, set.down);
    let left = x + SNAP_MM + f64::from(quiet.left) * module;
    let top = y + SNAP_MM + f64::from(quiet.above) * module;
    let rect = local.rect(&Rect { x_mm: left, y_mm: top, width_mm: width, height_mm: height });
    let upright = matches!(turn, Turn::None | Turn::Half);
    let mut items = vec![Item::Symbol(PlacedSymbol {
        x_mm: rect.x_mm,
        y_mm: rect.y_mm,
        module_mm: if upright { module } else { choice.row_mm },
        row_mm: if upright { choice.row_mm } else { module },
        art: Arc::new(choice.art.turned(turn)),
    })];
    if kind == SymbolKind::Ean13 {
        let baseline = top + height - f64::from(EAN_ROW_MODULES) * module + (DIGIT_MODULES + 1.0) * module;
        items.extend(numbers(shaper, &local, text, [left, baseline], module));
    }
    Ok(Laid { items, choice })
}

/// The digits of an EAN-13: the first at the left, six beneath each half, each below its own bars.
fn numbers(shaper: &mut Shaper, local: &Local, text: &str, [left, baseline]: [f64; 2], module: f64) -> Vec<Item> {
    let size_pt = DIGIT_MODULES * module / CAPITALS / MM_PER_POINT;
    let parts = [(0..1, -9.0), (1..7, 3.0), (7..13, 50.0)];
    parts
        .into_iter()
        .filter_map(|(range, column)| {
            let line = shaper.lines(Face::Regular, text.get(range)?, size_pt, 1.0e5).into_iter().next()?;
            let count = f64::from(u32::try_from(line.glyphs.len()).ok()?.max(1));
            let advance = line.width_mm / count;
            let cells = (0_u32..).map(f64::from);
            let glyphs: Vec<Glyph> = line
                .glyphs
                .iter()
                .zip(cells)
                .map(|(glyph, cell)| Glyph {
                    x_mm: cell * 7.0 * module + (7.0 * module - advance) / 2.0,
                    ..glyph.clone()
                })
                .collect();
            let [x_mm, y_mm] = local.at([left + column * module, baseline]);
            Some(Item::Text(TextRun {
                x_mm,
                y_mm,
                size_pt,
                colour: Colour::BLACK,
                width_mm: count * 7.0 * module,
                glyphs: glyphs.into(),
                turn: local.turn,
            }))
        })
        .collect()
}
