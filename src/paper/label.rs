//! One tag in its label: hole, fold, symbol and words, in millimetres from the label's top left corner.

use super::label_shape::Figure;
use super::marks;
use super::page::{Colour, DOT_MM, Face, Item, MM_PER_POINT, PlacedSymbol, Rect, Shape, TextRun};
use super::shaper::Shaper;
use super::stack::{CAPITALS, Field, INK_INSET_MM, Words, one_line, stack};
use super::symbol::{SymbolArt, Symbology, symbol};
use super::tags::TagModel;
use super::warning::{Part, WarningKind};
use super::words::keep_together;
use crate::studio::Turn;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Modules of 0.339 mm, four dots of a 300 dpi printer, scan even when a printer shifts the page by part of a dot.
pub const MODULE_GOOD_MM: f64 = 4.0 * DOT_MM;
/// The smallest module that scans: two dots of a 203 dpi printer.
pub const MODULE_LEAST_MM: f64 = 2.0 * 25.4 / 203.0;
/// Modules tried, largest first: whole dots at 300 dpi, last the least.
const MODULES_MM: [f64; 5] = [6.0 * DOT_MM, 5.0 * DOT_MM, MODULE_GOOD_MM, 3.0 * DOT_MM, MODULE_LEAST_MM];
/// Modules tried for a printer whose dots are so large, mm: whole dots of it, largest first.
fn modules(dot_mm: f64) -> Vec<f64> {
    if (dot_mm - DOT_MM).abs() < 1.0e-9 {
        return MODULES_MM.to_vec();
    }
    let [largest, ..] = MODULES_MM;
    (1..=MOST_DOTS)
        .rev()
        .map(|dots| f64::from(dots) * dot_mm)
        .filter(|module| (MODULE_LEAST_MM - 0.001..=largest.max(dot_mm)).contains(module))
        .collect()
}

/// Dots of the finest printer in the largest module.
const MOST_DOTS: u32 = 100;
/// Text beside a symbol needs this much.
const TEXT_LEAST_MM: f64 = 7.0;
/// Ink may reach beyond a line's advance by this much: the slant and the curves of a large letter, mm.
const OVERHANG_MM: f64 = 0.3;
/// Between a hole and text, mm.
const HOLE_CLEAR_MM: f64 = 1.2;
/// Least margin of an area that lies inside an outline already, mm.
const MARGIN_LEAST_MM: f64 = 0.8;
/// Size of the code by its symbol, in points.
const CODE_SIZES: [f64; 2] = [5.0, 6.5];

/// The label without its place on the page.
#[derive(Debug, Clone, Copy)]
pub(super) struct Frame {
    pub(super) width_mm: f64,
    pub(super) height_mm: f64,
    pub(super) figure: Figure,
    pub(super) folded: bool,
    pub(super) hole: bool,
    pub(super) cut_lines: bool,
    /// How large the printer's dots are.
    pub(super) dot_mm: f64,
}

impl Frame {
    fn size(&self) -> [f64; 2] {
        [self.width_mm, self.height_mm]
    }

    fn margin(&self) -> f64 {
        (self.width_mm.min(self.height_mm) * 0.1).clamp(1.2, 2.5)
    }

    fn hole_radius(&self) -> f64 {
        if self.height_mm >= 14.0 { 1.5 } else { 1.1 }
    }

    /// From the edge or fold to the hole's centre.
    fn hole_inset(&self) -> f64 {
        let asked = self.margin() * 0.75 + self.hole_radius();
        self.figure.hole_inset(self.size(), asked, self.hole_radius(), self.margin() * 0.5)
    }

    /// From the edge or fold to where text may begin.
    fn hole_zone(&self) -> f64 {
        if self.hole { self.hole_inset() + self.hole_radius() + HOLE_CLEAR_MM } else { self.margin() }
    }

    /// The part of the label that is printed on: all of a label with square corners, what lies inside the outline of
    /// another.
    fn area(&self) -> Area {
        let kept = self.figure.keep_in(self.size());
        let margin = (self.margin() - kept.x_mm.min(kept.y_mm)).max(MARGIN_LEAST_MM);
        // A fold is in the middle of both; a hole at the left is as far from the label's edge.
        let zone = self.hole_zone() - if self.folded { 0.0 } else { kept.x_mm };
        Area {
            at: [kept.x_mm, kept.y_mm],
            width_mm: kept.width_mm,
            height_mm: kept.height_mm,
            margin,
            hole: self.hole && zone > margin,
            zone: if self.hole { zone.max(margin) } else { margin },
            centred: self.figure == Figure::Round,
            dot_mm: self.dot_mm,
        }
    }
}

/// A rectangle of the label that is printed on for itself; all that is laid out in it counts from its top left corner.
#[derive(Debug, Clone, Copy)]
struct Area {
    /// Where it stands in the label.
    at: [f64; 2],
    width_mm: f64,
    height_mm: f64,
    margin: f64,
    /// A hole takes room at the left, or at the fold.
    hole: bool,
    /// From the left, or from the fold, to where text may begin.
    zone: f64,
    /// Lines stand in the middle.
    centred: bool,
    /// How large the printer's dots are.
    dot_mm: f64,
}

impl Area {
    /// A flag of a barbell.
    fn flag(rect: &Rect, dot_mm: f64) -> Self {
        let margin = (rect.width_mm.min(rect.height_mm) * 0.1).clamp(1.2, 2.5);
        let Rect { x_mm, y_mm, width_mm, height_mm } = *rect;
        Self { at: [x_mm, y_mm], width_mm, height_mm, margin, hole: false, zone: margin, centred: false, dot_mm }
    }

    /// From so far from the left up to so far, and as high as the margins allow.
    fn field(&self, left: f64, right: f64) -> Field {
        let bottom = self.height_mm - self.margin;
        Field { left, top: self.margin, right, bottom, floor: self.height_mm - INK_INSET_MM }
    }
}

/// A laid-out label.
#[derive(Debug, Clone)]
pub(super) struct Label {
    pub(super) items: Vec<Item>,
    pub(super) warnings: Vec<WarningKind>,
}

/// The symbol at its place with what remains for the words.
struct Block {
    placed: PlacedSymbol,
    /// The code in letters; none when the words must carry it.
    code: Option<TextRun>,
    words: Field,
}

/// Lays out a tag. Always succeeds: what does not fit is left out and named in the warnings.
pub(super) fn lay_out(shaper: &mut Shaper, tag: &TagModel, frame: &Frame, symbology: Symbology) -> Label {
    let mut label = Label { items: Vec::new(), warnings: Vec::new() };
    report_missing(shaper, tag, &mut label.warnings);
    if frame.cut_lines {
        label.items.extend(guides(frame));
    }
    let art = symbol(symbology, &tag.code).map(Arc::new);
    let materials = keep_together(&tag.materials_line);
    let words = Words {
        name: &tag.name,
        materials: &materials,
        note: tag.note_line.as_deref().unwrap_or_default(),
        ticket: tag.ticket.as_deref().unwrap_or_default(),
        code: "",
    };
    let code = Words { code: &tag.code, ..EMPTY };
    // Printed on one side and folded in the middle with the print outside, like the cover of a book: the right half is
    // the front, the left half the back. Turned over like a page, both stand upright.
    if let Some([left, right]) = frame.figure.flags(frame.size()) {
        let (front, back) = (Area::flag(&right, frame.dot_mm), Area::flag(&left, frame.dot_mm));
        let field = |area: &Area| area.field(area.margin, area.width_mm - area.margin);
        label.print(&front, |printed| {
            printed.items = stack(shaper, &words, field(&front), &mut printed.warnings);
        });
        label.print(&back, |printed| {
            let block = art.as_ref().and_then(|art| back_of_fold(shaper, art, &tag.code, &back, field(&back)));
            finish(shaper, block, symbology, &code, &back, field(&back), printed);
        });
        return label;
    }
    let area = frame.area();
    if frame.folded {
        let fold = area.width_mm / 2.0;
        let front = area.field(fold + area.zone, area.width_mm - area.margin);
        let back = area.field(area.margin, fold - area.zone);
        label.print(&area, |printed| {
            printed.items = stack(shaper, &words, front, &mut printed.warnings);
            let block = art.as_ref().and_then(|art| back_of_fold(shaper, art, &tag.code, &area, back));
            finish(shaper, block, symbology, &code, &area, back, printed);
        });
        return label;
    }
    let field = area.field(area.zone, area.width_mm - area.margin);
    label.print(&area, |printed| {
        let block = art.as_ref().and_then(|art| {
            if symbology == Symbology::Code128 {
                bars_below(shaper, art, &tag.code, &area, field)
            } else if area.centred || area.width_mm - area.zone < area.height_mm * 1.1 {
                below(shaper, art, &tag.code, &area, field).or_else(|| beside(shaper, art, &tag.code, &area, field))
            } else {
                beside(shaper, art, &tag.code, &area, field).or_else(|| below(shaper, art, &tag.code, &area, field))
            }
        });
        finish(shaper, block, symbology, &Words { code: &tag.code, ..words }, &area, field, printed);
    });
    label
}

const EMPTY: Words<'static> = Words { name: "", materials: "", note: "", ticket: "", code: "" };

impl Label {
    /// Prints on an area, and puts what is printed where the area is.
    fn print(&mut self, area: &Area, print: impl FnOnce(&mut Self)) {
        let mut printed = Self { items: Vec::new(), warnings: Vec::new() };
        print(&mut printed);
        let [x, y] = area.at;
        self.items.extend(printed.items.iter().map(|item| item.shifted(x, y)));
        self.warnings.append(&mut printed.warnings);
    }
}

/// Puts the symbol and then the words where they belong; without a symbol the words carry the code.
fn finish(
    shaper: &mut Shaper,
    block: Option<Block>,
    symbology: Symbology,
    words: &Words<'_>,
    area: &Area,
    field: Field,
    label: &mut Label,
) {
    let Some(block) = block else {
        if symbology != Symbology::None {
            label.warnings.push(WarningKind::SymbolLeftOut);
        }
        let mut items = stack(shaper, words, field, &mut label.warnings);
        if area.centred {
            centre_lines(&mut items, field);
        }
        label.items.append(&mut items);
        return;
    };
    let by_symbol = block.code.is_some();
    let beside = Words { code: if by_symbol { "" } else { words.code }, ..*words };
    let mut tried = Vec::new();
    let mut items = stack(shaper, &beside, block.words, &mut tried);
    // A ticket or a code in letters is worth more than a symbol.
    if tried.iter().any(|kind| matches!(kind, WarningKind::LeftOut(Part::Ticket | Part::Code))) {
        return finish(shaper, None, symbology, words, area, field, label);
    }
    label.warnings.append(&mut tried);
    if block.placed.module_mm < MODULE_GOOD_MM - 0.001 && symbology != Symbology::Code128 {
        label.warnings.push(WarningKind::SymbolSmall(block.placed.module_mm));
    }
    let mut symbol = vec![Item::Symbol(block.placed)];
    symbol.extend(block.code.map(Item::Text));
    // With the words above it, not at its left.
    if area.centred && block.words.right >= field.right - 0.001 {
        centre_lines(&mut items, block.words);
        centre_together(&mut symbol, field);
    }
    label.items.append(&mut symbol);
    label.items.append(&mut items);
}

/// Brings every text that has its line to itself to the middle of a field.
fn centre_lines(items: &mut [Item], field: Field) {
    let baselines: Vec<f64> =
        items.iter().filter_map(|item| if let Item::Text(run) = item { Some(run.y_mm) } else { None }).collect();
    for item in items {
        let Item::Text(run) = item else { continue };
        if baselines.iter().filter(|y| (**y - run.y_mm).abs() < 0.001).count() == 1 {
            run.x_mm = field.left + (field.width() - run.width_mm) / 2.0;
        }
    }
}

/// Brings a symbol with its code to the middle of a field, where they are narrower than it.
fn centre_together(items: &mut [Item], field: Field) {
    let spans = items.iter().filter_map(|item| match item {
        Item::Symbol(symbol) => Some([symbol.rect().x_mm, symbol.rect().right_mm()]),
        Item::Text(run) => Some([run.x_mm, run.x_mm + run.width_mm]),
        Item::Shape(_) | Item::Picture(_) => None,
    });
    let [left, right] = spans.fold([f64::MAX, f64::MIN], |[left, right], [from, to]| [left.min(from), right.max(to)]);
    let by = (field.width() - (right - left)) / 2.0 - (left - field.left);
    if by > 0.0 {
        for item in items {
            *item = item.shifted(by, 0.0);
        }
    }
}

fn report_missing(shaper: &mut Shaper, tag: &TagModel, warnings: &mut Vec<WarningKind>) {
    let mut missing = BTreeSet::new();
    let mut cut = BTreeSet::new();
    let texts = [
        (Face::Semibold, tag.name.as_str(), Part::Name),
        (Face::Regular, tag.materials_line.as_str(), Part::Materials),
        (Face::Regular, tag.note_line.as_deref().unwrap_or_default(), Part::Note),
        (Face::Bold, tag.ticket.as_deref().unwrap_or_default(), Part::Ticket),
        (Face::Semibold, tag.code.as_str(), Part::Code),
    ];
    for (face, text, part) in texts {
        let shaped = shaper.shape(face, text);
        missing.extend(shaped.missing.iter().copied());
        if shaped.text.is_empty() && !text.trim().is_empty() {
            cut.insert(part);
        }
    }
    if !missing.is_empty() {
        warnings.push(WarningKind::MissingGlyphs(missing.into_iter().collect()));
    }
    warnings.extend(cut.into_iter().map(WarningKind::LeftOut));
}

/// Outline, fold and hole, for cutting by hand.
pub(super) fn guides(frame: &Frame) -> Vec<Item> {
    let Frame { width_mm: width, height_mm: height, .. } = *frame;
    let mut items = marks::outline(frame.figure, frame.size(), frame.folded);
    if frame.hole {
        let inset = frame.hole_inset();
        // The string goes through both halves.
        let middles = if frame.folded { vec![width / 2.0 - inset, width / 2.0 + inset] } else { vec![inset] };
        items.extend(middles.into_iter().map(|x| {
            let circle = Shape::circle([x, height / 2.0], frame.hole_radius(), Colour::CUT, marks::LINE_MM);
            Item::Shape(circle)
        }));
    }
    items
}

/// The code in letters where `place` puts it, given its width and how far it reaches above its baseline; answers the
/// latter too.
fn code_run(
    shaper: &mut Shaper,
    code: &str,
    width_mm: f64,
    place: impl FnOnce(f64, f64) -> [f64; 2],
) -> Option<(TextRun, f64)> {
    let (size_pt, line) = one_line(shaper, Face::Semibold, code, width_mm, CODE_SIZES)?;
    let [above, _] = shaper.ink(&line, size_pt);
    let above = above.max(size_pt * MM_PER_POINT * CAPITALS);
    let [x_mm, y_mm] = place(line.width_mm, above);
    let run = TextRun {
        x_mm,
        y_mm,
        size_pt,
        colour: Colour::BLACK,
        width_mm: line.width_mm,
        glyphs: line.glyphs,
        turn: Turn::None,
    };
    Some((run, above))
}

fn placed(art: &Arc<SymbolArt>, x_mm: f64, y_mm: f64, module_mm: f64) -> PlacedSymbol {
    PlacedSymbol { x_mm, y_mm, module_mm, row_mm: module_mm, art: Arc::clone(art) }
}

/// Symbol at the right, code below it where the label is high enough, words at the left.
fn beside(shaper: &mut Shaper, art: &Arc<SymbolArt>, code: &str, area: &Area, field: Field) -> Option<Block> {
    let [quiet, _] = art.symbology.quiet_modules().map(f64::from);
    let margin = area.margin;
    let room = area.width_mm - field.left;
    modules(area.dot_mm).into_iter().find_map(|module| {
        let (quiet, dark) = (quiet * module, f64::from(art.columns) * module);
        let left = area.width_mm - quiet.max(margin) - dark;
        let words = Field { right: left - quiet.max(1.0) - OVERHANG_MM, ..field };
        let generous = module > MODULE_GOOD_MM + 0.001;
        let least = if generous { room * 0.6 } else { TEXT_LEAST_MM.max(room * 0.36) };
        if words.width() < least || (generous && dark > area.height_mm * 0.42) {
            return None;
        }
        let run = code_run(shaper, code, dark + 2.0 * (quiet - 0.9).clamp(0.0, margin - 0.3), |width, _| {
            [left + (dark - width) / 2.0, field.bottom]
        });
        if let Some((run, capitals)) = run {
            let top = field.bottom - capitals - quiet.max(0.7) - dark;
            if top >= quiet.max(margin) - 0.001 {
                return Some(Block { placed: placed(art, left, top, module), code: Some(run), words });
            }
        }
        let top = (area.height_mm - dark) / 2.0;
        (top >= quiet).then(|| Block { placed: placed(art, left, top, module), code: None, words })
    })
}

/// Symbol at the foot of a narrow label, code beside it or below it, words above.
fn below(shaper: &mut Shaper, art: &Arc<SymbolArt>, code: &str, area: &Area, field: Field) -> Option<Block> {
    let [quiet, _] = art.symbology.quiet_modules().map(f64::from);
    let margin = area.margin;
    modules(area.dot_mm).into_iter().find_map(|module| {
        let (quiet, dark) = (quiet * module, f64::from(art.columns) * module);
        let left = field.left.max(quiet + if area.hole { field.left - HOLE_CLEAR_MM } else { 0.0 });
        if left + dark + quiet > area.width_mm {
            return None;
        }
        let generous = module > MODULE_GOOD_MM + 0.001;
        if generous && dark > field.height().min(field.width()) * 0.4 {
            return None;
        }
        let after = left + dark + quiet.max(1.0) + OVERHANG_MM;
        let foot = area.height_mm - quiet.max(margin);
        let right_of = code_run(shaper, code, field.right - after, |_, _| [after, foot]);
        let (top, code) = match right_of {
            Some((run, _)) => (foot - dark, Some(run)),
            None => {
                let run = code_run(shaper, code, field.width(), |_, _| [field.left, field.bottom]);
                match run {
                    Some((run, capitals)) => (field.bottom - capitals - quiet.max(0.7) - dark, Some(run)),
                    None => (foot - dark, None),
                }
            }
        };
        let words = Field { bottom: top - quiet.max(1.0), floor: top - quiet.max(0.1), ..field };
        let least = 6.0_f64.max(field.height() * 0.4);
        (top >= quiet && words.height() >= least && words.width() >= 4.0).then(|| Block {
            placed: placed(art, left, top, module),
            code,
            words,
        })
    })
}

/// Bars along the foot, code below them, words above.
fn bars_below(shaper: &mut Shaper, art: &Arc<SymbolArt>, code: &str, area: &Area, field: Field) -> Option<Block> {
    let [quiet, _] = art.symbology.quiet_modules().map(f64::from);
    modules(area.dot_mm).into_iter().skip(1).find_map(|module| {
        let (quiet, dark) = (quiet * module, f64::from(art.columns) * module);
        let clear = if area.hole { field.left - HOLE_CLEAR_MM } else { 0.0 };
        let left = field.left.max(clear + quiet);
        if left + dark + quiet > area.width_mm || (module > MODULE_GOOD_MM + 0.001 && dark > field.width() * 0.6) {
            return None;
        }
        let (run, capitals) = code_run(shaper, code, dark, |width, _| [left + (dark - width) / 2.0, field.bottom])?;
        let bars = (area.height_mm * 0.28).clamp(5.0, 12.0);
        let top = field.bottom - capitals - 0.7 - bars;
        let words = Field { bottom: top - 0.8, floor: top - 0.3, ..field };
        let symbol = PlacedSymbol { x_mm: left, y_mm: top, module_mm: module, row_mm: bars, art: Arc::clone(art) };
        (words.height() >= 4.6).then_some(Block { placed: symbol, code: Some(run), words })
    })
}

/// The back of a folded tag: symbol and code, in the middle of it.
fn back_of_fold(shaper: &mut Shaper, art: &Arc<SymbolArt>, code: &str, area: &Area, field: Field) -> Option<Block> {
    let [quiet_x, quiet_y] = art.symbology.quiet_modules().map(f64::from);
    let bars = art.symbology == Symbology::Code128;
    let none = Field { left: 0.0, top: 0.0, right: 0.0, bottom: 0.0, floor: 0.0 };
    // The quiet zone may use the margin, but not the hole.
    let right_limit = field.right + if area.hole { 1.0 } else { area.margin };
    modules(area.dot_mm).into_iter().find_map(|module| {
        let (quiet_x, quiet_y) = (quiet_x * module, quiet_y * module);
        let wide = f64::from(art.columns) * module;
        let high = if bars { (area.height_mm * 0.4).clamp(5.0, 12.0) } else { f64::from(art.rows) * module };
        let generous = module > MODULE_GOOD_MM + 0.001;
        if generous && (wide > field.width() * 0.5 || high > area.height_mm * 0.6) {
            return None;
        }
        let centred = |extra: f64| {
            let least = quiet_x.max(if quiet_x > 0.0 { 0.0 } else { field.left });
            let middle = f64::midpoint(field.left, field.right);
            let left = (middle - (wide + extra) / 2.0).max(least);
            (left + wide + quiet_x + (extra - quiet_x).max(0.0) <= right_limit.max(field.right)).then_some(left)
        };
        let symbol = |x_mm, y_mm| PlacedSymbol {
            x_mm,
            y_mm,
            module_mm: module,
            row_mm: if bars { high } else { module },
            art: Arc::clone(art),
        };
        // Code below, symbol and code in the middle of the height.
        let gap = quiet_y.max(0.7);
        if let Some(left) = centred(0.0)
            && let Some((mut run, capitals)) = code_run(shaper, code, field.width(), |width, capitals| {
                [(left + (wide - width) / 2.0).clamp(field.left, (field.right - width).max(field.left)), capitals]
            })
        {
            let top = (area.height_mm - high - gap - capitals) / 2.0;
            if top >= quiet_y.max(0.8) - 0.001 && top >= area.margin * 0.5 {
                run.y_mm = top + high + gap + capitals;
                return Some(Block { placed: symbol(left, top), code: Some(run), words: none });
            }
        }
        // Code at the right of the symbol.
        let top = (area.height_mm - high) / 2.0;
        let gap = quiet_x.max(0.8) + OVERHANG_MM;
        let room = field.right - field.left.max(quiet_x) - wide - gap;
        let (run, _) = code_run(shaper, code, room, |_, capitals| [0.0, (area.height_mm + capitals) / 2.0])?;
        let left = centred(gap + run.width_mm)?;
        (top >= quiet_y).then(|| Block {
            placed: symbol(left, top),
            code: Some(TextRun { x_mm: left + wide + gap, ..run }),
            words: none,
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn modules_are_whole_dots_of_the_printer() {
        // 203 dots per inch are 8 dots per mm, the usual label printer (common practice, no source).
        let dot = 25.4 / 203.0;
        let dots: Vec<f64> = modules(dot).into_iter().map(|module| (module / dot * 1000.0).round() / 1000.0).collect();
        assert_eq!(dots, [4.0, 3.0, 2.0]);
        let finest = modules(25.4 / 4800.0);
        assert!(finest.iter().all(|module| (MODULE_LEAST_MM - 0.001..=6.0 * DOT_MM).contains(module)));
        assert_eq!(modules(DOT_MM), MODULES_MM);
    }
}
