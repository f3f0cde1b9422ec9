//! The words of a tag, one above the other: name, materials, a line for the fair, the ticket.
//!
//! Automatic fit: first every size comes down together within limits, then lines go in a fixed order, and only then is
//! a text shortened. The ticket is the largest thing on the tag and is never shortened: half a price is a wrong price.

use super::page::{Colour, Face, Item, MM_PER_POINT, TextRun};
use super::shaper::{Line, Shaper};
use super::warning::{Part, WarningKind};
use crate::studio::Turn;

/// Least sizes of type, in points.
const NAME_LEAST: f64 = 5.5;
const MATERIALS_LEAST: f64 = 5.0;
const CODE_LEAST: f64 = 5.0;
const TICKET_LEAST: f64 = 5.5;
/// How far the ticket comes down for want of height; for want of width it goes to its least size.
const TICKET_SCALE_LEAST: f64 = 0.62;
/// Largest sizes, in points.
const NAME_MOST: f64 = 13.0;
const MATERIALS_MOST: f64 = 9.0;
const CODE_MOST: f64 = 7.5;
/// Height of capitals and figures, of letters with ascenders, and depth of descenders, in parts of the size (Source
/// Sans 3: cap height 0.660, ascender 0.712, descender 0.205).
pub(super) const CAPITALS: f64 = 0.66;
pub(super) const ASCENDERS: f64 = 0.72;
pub(super) const DESCENDERS: f64 = 0.21;
/// The ink of a line stays this far inside its label, in millimetres.
pub(super) const INK_INSET_MM: f64 = 0.25;

/// A box for text in label coordinates, millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Field {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    /// Where the lowest baseline lies.
    pub(super) bottom: f64,
    /// How far down ink may reach: the edge of the label, or the quiet zone of a symbol below.
    pub(super) floor: f64,
}

impl Field {
    pub(super) fn width(&self) -> f64 {
        self.right - self.left
    }

    pub(super) fn height(&self) -> f64 {
        self.bottom - self.top
    }
}

/// What is to be said.
#[derive(Debug, Clone, Copy)]
pub(super) struct Words<'a> {
    pub(super) name: &'a str,
    pub(super) materials: &'a str,
    pub(super) note: &'a str,
    pub(super) ticket: &'a str,
    /// The code, where it does not stand by its symbol.
    pub(super) code: &'a str,
}

/// A line at its size.
struct Set {
    line: Line,
    size_pt: f64,
    baseline: f64,
    left: f64,
}

impl Set {
    fn item(self) -> Item {
        Item::Text(TextRun {
            x_mm: self.left,
            y_mm: self.baseline,
            size_pt: self.size_pt,
            colour: Colour::BLACK,
            width_mm: self.line.width_mm,
            glyphs: self.line.glyphs,
            turn: Turn::None,
        })
    }
}

/// How much may go.
#[derive(Debug, Clone, Copy)]
struct Stage {
    /// Lines of the name; shortened when more would be needed.
    name: usize,
    materials: usize,
    note: usize,
    /// Texts may end in an ellipsis and words may break.
    shorten_name: bool,
    shorten_materials: bool,
    /// Only the least sizes are tried.
    least: bool,
}

/// From everything to the ticket alone.
const STAGES: [Stage; 8] = [
    Stage { name: 2, materials: 2, note: 1, shorten_name: false, shorten_materials: false, least: false },
    Stage { name: 2, materials: 2, note: 0, shorten_name: false, shorten_materials: false, least: false },
    Stage { name: 2, materials: 2, note: 0, shorten_name: false, shorten_materials: true, least: true },
    Stage { name: 2, materials: 1, note: 0, shorten_name: false, shorten_materials: true, least: true },
    Stage { name: 2, materials: 0, note: 0, shorten_name: false, shorten_materials: false, least: false },
    Stage { name: 2, materials: 0, note: 0, shorten_name: true, shorten_materials: false, least: true },
    Stage { name: 1, materials: 0, note: 0, shorten_name: true, shorten_materials: false, least: true },
    Stage { name: 0, materials: 0, note: 0, shorten_name: true, shorten_materials: false, least: true },
];

/// How far sizes come down, step by step.
const SCALES: [f64; 10] = [1.0, 0.94, 0.88, 0.82, 0.76, 0.7, 0.64, 0.58, 0.52, 0.4];

/// One line that fits a width, as large as the limits allow; none when it does not fit at the least size.
pub(super) fn one_line(
    shaper: &mut Shaper,
    face: Face,
    text: &str,
    width_mm: f64,
    [least, most]: [f64; 2],
) -> Option<(f64, Line)> {
    let wide = shaper.width(face, text, most)?;
    let size = if wide <= width_mm { most } else { (most * width_mm / wide * 20.0).floor() / 20.0 };
    if size < least {
        return None;
    }
    let line = shaper.lines(face, text, size, 1.0e5).into_iter().next()?;
    Some((size, line))
}

/// Lays the words into a field of a label. Always succeeds; what there was no room for is named in the warnings.
pub(super) fn stack(
    shaper: &mut Shaper,
    words: &Words<'_>,
    field: Field,
    warnings: &mut Vec<WarningKind>,
) -> Vec<Item> {
    let unit = (field.height() / MM_PER_POINT / if words.ticket.is_empty() { 3.2 } else { 4.7 }).clamp(6.0, NAME_MOST);
    for stage in STAGES {
        for scale in SCALES {
            let scale = if stage.least { 0.0 } else { scale };
            let mut dropped = Vec::new();
            if let Some(sets) = attempt(shaper, words, field, stage, unit, scale, &mut dropped) {
                warnings.append(&mut dropped);
                return sets.into_iter().map(Set::item).collect();
            }
            if stage.least {
                break;
            }
        }
    }
    for (text, part) in [(words.name, Part::Name), (words.ticket, Part::Ticket), (words.code, Part::Code)] {
        if !shaper.shape(Face::Semibold, text).text.is_empty() {
            warnings.push(WarningKind::LeftOut(part));
        }
    }
    Vec::new()
}

/// One try; none when something does not fit.
#[allow(clippy::too_many_arguments)]
fn attempt(
    shaper: &mut Shaper,
    words: &Words<'_>,
    field: Field,
    stage: Stage,
    unit: f64,
    scale: f64,
    dropped: &mut Vec<WarningKind>,
) -> Option<Vec<Set>> {
    let mut sets = Vec::new();
    // The ticket comes down less than the rest: it stays the largest thing on the tag.
    let ticket_size = (unit * scale.max(TICKET_SCALE_LEAST) * 2.35).max(TICKET_LEAST);
    let (ceiling, ticket_size) = foot(shaper, words, field, [unit * scale, ticket_size], &mut sets)?;
    let largest = ticket_size.map_or(NAME_MOST, |size| size * 0.85);
    let name_size = (unit * scale).max(NAME_LEAST).min(largest);
    let materials_size = (unit * scale * 0.68).clamp(MATERIALS_LEAST, MATERIALS_MOST).min(largest);

    let mut cursor = field.top;
    let parts = [
        (Face::Semibold, words.name, name_size, stage.name, stage.shorten_name, Part::Name),
        (Face::Regular, words.materials, materials_size, stage.materials, stage.shorten_materials, Part::Materials),
        (Face::Regular, words.note, materials_size, stage.note, stage.shorten_materials, Part::Note),
    ];
    for (face, text, size, most, shorten, part) in parts {
        if shaper.shape(face, text).text.is_empty() {
            continue;
        }
        if most == 0 {
            dropped.push(WarningKind::LeftOut(part));
            continue;
        }
        let fitted = shaper.fit(face, text, size, field.width(), most);
        if fitted.lines.is_empty() || (!shorten && (fitted.cut || fitted.lines.iter().any(|line| line.breaks_word))) {
            return None;
        }
        if fitted.cut {
            dropped.push(WarningKind::Cut(part));
        }
        let em = size * MM_PER_POINT;
        cursor += if cursor > field.top { em * 0.12 } else { 0.0 };
        for line in fitted.lines {
            let baseline = cursor + em * ASCENDERS;
            let [above, below] = shaper.ink(&line, size);
            if baseline - above < INK_INSET_MM || baseline + below > field.floor {
                return None;
            }
            sets.push(Set { line, size_pt: size, baseline, left: field.left });
            cursor = baseline + em * (1.14 - ASCENDERS);
        }
        // The last line needs room for its descenders only, not for the next line's lead.
        cursor += em * (DESCENDERS - (1.14 - ASCENDERS)).max(0.0);
    }
    (cursor <= ceiling + 0.001).then_some(sets)
}

/// Ticket and code at the foot. Answers the height above which the other words must stay, and the ticket's size.
fn foot(
    shaper: &mut Shaper,
    words: &Words<'_>,
    field: Field,
    [unit, wanted]: [f64; 2],
    sets: &mut Vec<Set>,
) -> Option<(f64, Option<f64>)> {
    let mut baseline = field.bottom;
    let mut ceiling = field.bottom;
    let ticket = if shaper.shape(Face::Bold, words.ticket).text.is_empty() {
        None
    } else {
        Some(one_line(shaper, Face::Bold, words.ticket, field.width(), [TICKET_LEAST, wanted])?)
    };
    if !shaper.shape(Face::Semibold, words.code).text.is_empty() {
        let most = (unit * 0.8).clamp(CODE_LEAST, CODE_MOST);
        let (size, line) = one_line(shaper, Face::Semibold, words.code, field.width(), [CODE_LEAST, most])?;
        let left = field.right - line.width_mm;
        let beside = ticket.as_ref().is_some_and(|(_, ticket)| field.left + ticket.width_mm + 1.5 <= left);
        let em = size * MM_PER_POINT;
        let [_, below] = shaper.ink(&line, size);
        let lowest = baseline.min(field.floor - below);
        if !beside {
            baseline = lowest - em * 0.95;
        }
        ceiling = lowest - em * CAPITALS - 0.4;
        sets.push(Set { line, size_pt: size, baseline: lowest, left: if beside { left } else { field.left } });
    }
    let Some((size, line)) = ticket else { return Some((ceiling, None)) };
    let em = size * MM_PER_POINT;
    let [above, below] = shaper.ink(&line, size);
    let baseline = baseline.min(field.floor - below);
    let top = baseline - above.max(em * CAPITALS);
    if top < INK_INSET_MM {
        return None;
    }
    sets.push(Set { line, size_pt: size, baseline, left: field.left });
    Some((top - (em * 0.08).max(0.35), Some(size)))
}
