//! One care card, in millimetres from its top left corner.

use super::cards::{CardStyle, CareModel};
use super::page::{Colour, Face, Item, MM_PER_POINT, Rect, Shape, TextRun};
use super::shaper::Shaper;
use super::stack::one_line;
use super::warning::{Part, WarningKind};
use super::words::keep_together;
use crate::studio::Turn;
use std::collections::BTreeSet;

/// Size of the running text, in points: from comfortable to the least that is still read without a glass.
const TEXT_MOST: f64 = 8.6;
const TEXT_LEAST: f64 = 5.6;
/// The least where two languages share a card.
const TEXT_LEAST_OF_TWO: f64 = 5.0;
const TEXT_STEP: f64 = 0.2;
/// From line to line, in parts of the size.
const LEADING: f64 = 1.36;
/// Between paragraphs, in parts of the size.
const PARAGRAPH_GAP: f64 = 0.72;

/// A laid-out card.
#[derive(Debug, Clone, Default)]
pub(super) struct Panel {
    pub(super) items: Vec<Item>,
    pub(super) warnings: Vec<WarningKind>,
}

/// A paragraph before it has a size.
struct Paragraph<'a> {
    face: Face,
    text: &'a str,
    /// Relative to the running text.
    scale: f64,
    colour: Colour,
    /// Above it, in parts of its size.
    gap: f64,
}

/// Where the band of the piece's own colour stands in a card. On a folded card it begins at the fold and shows where
/// that is.
pub(super) fn band(style: CardStyle) -> Rect {
    let [width, height_mm] = style.size_mm();
    match style {
        CardStyle::Flat => Rect { x_mm: 0.0, y_mm: 0.0, width_mm: 6.4, height_mm },
        CardStyle::Folded => Rect { x_mm: width / 2.0, y_mm: 0.0, width_mm: 7.0, height_mm },
    }
}

/// Lays out a card. Always succeeds: what does not fit is shortened and named in the warnings; the cautions never are.
pub(super) fn lay_out(shaper: &mut Shaper, model: &CareModel, style: CardStyle) -> Panel {
    let mut panel = Panel::default();
    report_missing(shaper, model, &mut panel);
    panel.items.push(Item::Shape(Shape::filled(band(style), Colour(model.band))));
    match style {
        CardStyle::Flat => flat(shaper, model, &mut panel),
        CardStyle::Folded => folded(shaper, model, &mut panel),
    }
    panel
}

fn maker(model: &CareModel) -> String {
    [model.studio_name.trim(), model.studio_place.trim()]
        .into_iter()
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>()
        .join(" · ")
}

fn flat(shaper: &mut Shaper, model: &CareModel, panel: &mut Panel) {
    let [width, height] = CardStyle::Flat.size_mm();
    let (left, right) = (11.4, width - 5.6);
    let foot = height - 5.6;
    let size = 7.4;
    let maker = maker(model);
    let gap = if maker.is_empty() { 0.0 } else { 5.0 };
    // A short name of the piece leaves its room to the studio.
    let whole = right - left;
    let name = shaper.width(Face::Regular, &model.name, size).unwrap_or(whole).min(whole * 0.38 - gap);
    let room = whole - name - gap;
    let named = shortened(shaper, panel, Face::Semibold, &maker, size, [left, foot], room, Part::Studio);
    if let Some(run) = named {
        panel.items.push(Item::Text(TextRun { colour: Colour::GREY, ..run }));
    }
    let used =
        panel.items.last().map_or(left, |item| if let Item::Text(run) = item { run.x_mm + run.width_mm } else { left });
    let room = right - used - gap;
    if let Some(run) = shortened(shaper, panel, Face::Regular, &model.name, size, [left, foot], room, Part::Name) {
        panel.items.push(Item::Text(TextRun { x_mm: right - run.width_mm, colour: Colour::GREY, ..run }));
    }
    let area = Rect { x_mm: left, y_mm: 5.4, width_mm: whole, height_mm: foot - 3.8 - 5.4 };
    care(shaper, model, panel, area);
}

fn folded(shaper: &mut Shaper, model: &CareModel, panel: &mut Panel) {
    let [width, height] = CardStyle::Folded.size_mm();
    let half = width / 2.0;
    // The back: all that is to be known.
    care(shaper, model, panel, Rect { x_mm: 6.5, y_mm: 7.5, width_mm: half - 13.0, height_mm: height - 15.0 });
    // The front: what it is, who made it.
    let (left, right) = (half + 7.0 + 6.0, width - 6.0);
    let mut baseline = 21.0;
    for size in [19.0, 17.0, 15.0, 13.0, 11.5, 10.0] {
        let fitted = shaper.fit(Face::Bold, &model.name, size, right - left, 3);
        let broken = fitted.cut || fitted.lines.iter().any(|line| line.breaks_word);
        if broken && size > 10.0 {
            continue;
        }
        if fitted.cut {
            panel.warnings.push(WarningKind::Cut(Part::Name));
        }
        for line in fitted.lines {
            panel.items.push(run_at(line, size, [left, baseline], Colour::BLACK));
            baseline += size * MM_PER_POINT * 1.12;
        }
        break;
    }
    let size = 9.5;
    baseline += size * MM_PER_POINT * 0.35;
    let fitted = shaper.fit(Face::Regular, &keep_together(&model.materials_line), size, right - left, 4);
    if fitted.cut {
        panel.warnings.push(WarningKind::Cut(Part::Materials));
    }
    for line in fitted.lines {
        panel.items.push(run_at(line, size, [left, baseline], Colour::GREY));
        baseline += size * MM_PER_POINT * 1.3;
    }
    let mut foot = height - 8.5;
    for (face, text) in [(Face::Regular, &model.studio_place), (Face::Semibold, &model.studio_name)] {
        if let Some(run) = shortened(shaper, panel, face, text, 9.5, [left, foot], right - left, Part::Studio) {
            panel.items.push(Item::Text(run));
            foot -= 4.4;
        }
    }
}

fn run_at(line: super::shaper::Line, size_pt: f64, [x_mm, y_mm]: [f64; 2], colour: Colour) -> Item {
    Item::Text(TextRun { x_mm, y_mm, size_pt, colour, width_mm: line.width_mm, glyphs: line.glyphs, turn: Turn::None })
}

/// A line that comes down in size a little, then ends in an ellipsis.
#[allow(clippy::too_many_arguments)]
fn shortened(
    shaper: &mut Shaper,
    panel: &mut Panel,
    face: Face,
    text: &str,
    size: f64,
    [x_mm, y_mm]: [f64; 2],
    width_mm: f64,
    part: Part,
) -> Option<TextRun> {
    let least = size * 0.8;
    let (size_pt, line) = match one_line(shaper, face, text, width_mm, [least, size]) {
        Some(found) => found,
        None => {
            let fitted = shaper.fit(face, text, least, width_mm, 1);
            if fitted.cut {
                let lost = if fitted.lines.is_empty() { WarningKind::LeftOut(part) } else { WarningKind::Cut(part) };
                panel.warnings.push(lost);
            }
            (least, fitted.lines.into_iter().next()?)
        }
    };
    Some(TextRun {
        x_mm,
        y_mm,
        size_pt,
        colour: Colour::BLACK,
        width_mm: line.width_mm,
        glyphs: line.glyphs,
        turn: Turn::None,
    })
}

/// Title, care, cautions and the maker's words, as large as fits; her words are shortened before anything else.
fn care(shaper: &mut Shaper, model: &CareModel, panel: &mut Panel, area: Rect) {
    let plain = |text| Paragraph { face: Face::Regular, text, scale: 1.0, colour: Colour::BLACK, gap: PARAGRAPH_GAP };
    let mut paragraphs = Vec::new();
    for (number, text) in model.texts.iter().enumerate() {
        let gap = if number == 0 { 0.0 } else { PARAGRAPH_GAP };
        let title = text.title.as_str();
        paragraphs.push(Paragraph { face: Face::Bold, text: title, scale: 1.5, colour: Colour::BLACK, gap });
        paragraphs.extend(text.care.iter().map(|sentence| plain(sentence.as_str())));
        paragraphs
            .extend(text.cautions.iter().map(|words| Paragraph { face: Face::Semibold, ..plain(words.as_str()) }));
    }
    let words = Paragraph { face: Face::Italic, ..plain(model.words.as_str()) };

    let least = if model.texts.len() > 1 { TEXT_LEAST_OF_TWO } else { TEXT_LEAST };
    let mut size = TEXT_MOST;
    loop {
        let (mut items, bottom) = set(shaper, &paragraphs, area, size);
        let em = size * MM_PER_POINT;
        let room = area.bottom_mm() - bottom - em * PARAGRAPH_GAP;
        // Whole lines only: the number of lines that fit is small.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let most = ((room - em) / (em * LEADING) + 1.0).floor().clamp(0.0, 200.0) as usize;
        let fitted = shaper.fit(words.face, words.text, size, area.width_mm, most);
        let last = size - TEXT_STEP < least;
        if (bottom <= area.bottom_mm() && !fitted.cut) || last {
            if fitted.cut {
                let lost = if fitted.lines.is_empty() {
                    WarningKind::LeftOut(Part::Words)
                } else {
                    WarningKind::Cut(Part::Words)
                };
                panel.warnings.push(lost);
            }
            if bottom > area.bottom_mm() + 0.01 {
                panel.warnings.push(WarningKind::LeftOut(Part::Care));
                items.retain(|item| !matches!(item, Item::Text(run) if run.y_mm > area.bottom_mm()));
            }
            panel.items.append(&mut items);
            let mut baseline = bottom + em * (words.gap + 0.78);
            for line in fitted.lines {
                panel.items.push(run_at(line, size, [area.x_mm, baseline], words.colour));
                baseline += em * LEADING;
            }
            return;
        }
        size -= TEXT_STEP;
    }
}

/// Paragraphs one below the other; answers where the last one ends.
fn set(shaper: &mut Shaper, paragraphs: &[Paragraph<'_>], area: Rect, text_size: f64) -> (Vec<Item>, f64) {
    let mut items = Vec::new();
    let mut cursor = area.y_mm;
    for paragraph in paragraphs {
        let size = text_size * paragraph.scale;
        let em = size * MM_PER_POINT;
        cursor += em * paragraph.gap;
        let leading = if paragraph.scale > 1.0 { 1.15 } else { LEADING };
        let lines = shaper.lines(paragraph.face, paragraph.text, size, area.width_mm);
        let count = lines.len();
        for (number, line) in lines.into_iter().enumerate() {
            let baseline = cursor + em * 0.78;
            items.push(run_at(line, size, [area.x_mm, baseline], paragraph.colour));
            cursor += em * if number + 1 < count { leading } else { 1.0 };
        }
    }
    (items, cursor)
}

fn report_missing(shaper: &mut Shaper, model: &CareModel, panel: &mut Panel) {
    let texts = [
        (Face::Bold, model.name.as_str(), Part::Name),
        (Face::Regular, model.materials_line.as_str(), Part::Materials),
        (Face::Semibold, model.studio_name.as_str(), Part::Studio),
        (Face::Regular, model.studio_place.as_str(), Part::Studio),
        (Face::Italic, model.words.as_str(), Part::Words),
    ];
    let mut missing = BTreeSet::new();
    let mut gone = BTreeSet::new();
    for (face, text, part) in texts {
        let shaped = shaper.shape(face, text);
        missing.extend(shaped.missing.iter().copied());
        if shaped.text.is_empty() && !text.trim().is_empty() {
            gone.insert(part);
        }
    }
    if !missing.is_empty() {
        panel.warnings.push(WarningKind::MissingGlyphs(missing.into_iter().collect()));
    }
    panel.warnings.extend(gone.into_iter().map(WarningKind::LeftOut));
}
