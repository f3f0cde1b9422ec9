//! Every pinned thing in its place.

use super::super::page::{Colour, Item, Paint, Rect, Shape};
use super::super::picture::Image;
use super::super::shaper::Shaper;
use super::super::warning::WarningKind;
use super::facts::Facts;
use super::ground::{Ground, mm};
use super::said::{Said, part, said};
use super::speech::Speaks;
use super::{picture, symbol, text};
use crate::studio::{Ink, PaperDesign, PictureId, Pinned, What};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use std::sync::Arc;

/// The stored pictures.
pub type Pictures = BTreeMap<PictureId, Arc<Image>>;

/// A laid-out paper, in millimetres from its top left corner.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Panel {
    /// What is on it, back to front.
    pub items: Vec<Item>,
    /// What could not be printed as asked, each thing once.
    pub warnings: Vec<WarningKind>,
    /// Each warning with the pinned thing it is about.
    pub told: Vec<(usize, WarningKind)>,
    /// The items of each pinned thing, in the order of the design.
    pub things: Vec<Range<usize>>,
    /// Why a symbol is drawn the size it is: the pinned thing and the reason, in words.
    pub reasons: Vec<(usize, String)>,
}

/// Lays out a paper: every pinned thing inside its place, on the paper, and clear of its holes. Always succeeds; what
/// does not fit is shortened or left out and named in the warnings. `speeches` are those of the design's languages, in
/// order; symbols are made of whole dots of the printer where it is known.
pub fn lay_out(
    shaper: &mut Shaper,
    design: &PaperDesign,
    facts: &Facts,
    pictures: &Pictures,
    speeches: &[&dyn Speaks],
    dots_per_inch: Option<u32>,
) -> Panel {
    let mut layout = Layout {
        shaper,
        ground: Ground::of(design),
        facts,
        pictures,
        speeches,
        dots_per_inch,
        panel: Panel::default(),
        missing: BTreeSet::new(),
        bands: Vec::new(),
        at: 0,
    };
    for (number, pinned) in design.pinned.iter().enumerate() {
        let first = layout.panel.items.len();
        layout.at = number;
        layout.pin(number, pinned);
        layout.panel.things.push(first..layout.panel.items.len());
    }
    let Layout { mut panel, missing, .. } = layout;
    if !missing.is_empty() {
        panel.warnings.insert(0, WarningKind::MissingGlyphs(missing.into_iter().collect()));
    }
    panel
}

struct Layout<'a> {
    shaper: &'a mut Shaper,
    ground: Ground,
    facts: &'a Facts,
    pictures: &'a Pictures,
    speeches: &'a [&'a dyn Speaks],
    dots_per_inch: Option<u32>,
    panel: Panel,
    missing: BTreeSet<char>,
    /// Bands laid so far, with their colours.
    bands: Vec<(Rect, Colour)>,
    /// The pinned thing in hand.
    at: usize,
}

fn holds(rect: &Rect, [x, y]: [f64; 2]) -> bool {
    (rect.x_mm..=rect.right_mm()).contains(&x) && (rect.y_mm..=rect.bottom_mm()).contains(&y)
}

/// Black reads better on it than white: its relative luminance is above 0.179, where both have a contrast of 4.6
/// (WCAG 2.2, definition of relative luminance and contrast ratio).
fn is_pale(Colour(parts): Colour) -> bool {
    let [red, green, blue] = parts.map(|part| {
        let value = f64::from(part) / 255.0;
        if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
    });
    0.2126 * red + 0.7152 * green + 0.0722 * blue > 0.179
}

/// Where a pinned thing stands.
fn place(pinned: &Pinned) -> Rect {
    Rect {
        x_mm: mm(pinned.x_mm),
        y_mm: mm(pinned.y_mm),
        width_mm: mm(pinned.width_mm),
        height_mm: mm(pinned.height_mm),
    }
}

impl Layout<'_> {
    fn warn(&mut self, kind: WarningKind) {
        self.panel.told.push((self.at, kind.clone()));
        if !self.panel.warnings.contains(&kind) {
            self.panel.warnings.push(kind);
        }
    }

    fn colour(&self, ink: Ink) -> Colour {
        match ink {
            Ink::Black => Colour::BLACK,
            Ink::Grey => Colour::GREY,
            Ink::White => Colour([255; 3]),
            Ink::Piece => Colour(self.facts.colour),
            Ink::Own(colour) => Colour(colour),
        }
    }

    /// The colour of words. White words on a pale band are set in black, or nobody could read them.
    fn readable(&self, ink: Ink, rect: &Rect) -> Colour {
        let middle = [rect.x_mm + rect.width_mm / 2.0, rect.y_mm + rect.height_mm / 2.0];
        match self.bands.iter().rev().find(|(band, _)| holds(band, middle)) {
            Some((_, ground)) if ink == Ink::White && is_pale(*ground) => Colour::BLACK,
            _ => self.colour(ink),
        }
    }

    fn pin(&mut self, number: usize, pinned: &Pinned) {
        let rect = place(pinned);
        match &pinned.what {
            What::Rule | What::Band => {
                let path = self.ground.fill(&rect);
                if path.is_empty() {
                    return self.warn(WarningKind::LeftOut(part(&pinned.what)));
                }
                let colour = self.colour(pinned.set.ink);
                self.bands.push((rect, colour));
                let paint = Paint::Fill(colour);
                self.panel.items.push(Item::Shape(Shape { path, paint }));
            }
            What::Swatch => {
                let items = picture::swatch(&self.ground, &rect, &pinned.set, self.facts.colour);
                if items.is_empty() {
                    return self.warn(WarningKind::LeftOut(part(&pinned.what)));
                }
                self.panel.items.extend(items);
            }
            What::Photo => {
                let image = self.facts.photo.clone();
                self.picture(pinned, &rect, image.as_ref());
            }
            What::Picture(id) => {
                let image = self.pictures.get(id).cloned();
                self.picture(pinned, &rect, image.as_ref());
            }
            What::Symbol { kind, of } => {
                let Some(text) = symbol::text(of, self.facts) else {
                    return self.warn(WarningKind::Unknown(part(&pinned.what)));
                };
                let laid = symbol::lay(
                    self.shaper,
                    &self.ground,
                    &rect,
                    pinned.turn,
                    &pinned.set,
                    *kind,
                    &text,
                    self.dots_per_inch,
                );
                match laid {
                    Ok(laid) => {
                        self.panel.items.extend(laid.items);
                        self.panel.reasons.push((number, laid.choice.why));
                        if let Some(warning) = laid.choice.warning {
                            self.warn(WarningKind::SymbolDoubtful(warning));
                        }
                    }
                    Err(problem) => self.warn(WarningKind::SymbolRefused(problem)),
                }
            }
            _ => self.text(pinned, &rect),
        }
    }

    fn picture(&mut self, pinned: &Pinned, rect: &Rect, image: Option<&Arc<Image>>) {
        let Some(image) = image else { return self.warn(WarningKind::Unknown(part(&pinned.what))) };
        match picture::lay(&self.ground, rect, pinned.turn, &pinned.set, image) {
            Some(item) => self.panel.items.push(item),
            None => self.warn(WarningKind::LeftOut(part(&pinned.what))),
        }
    }

    fn text(&mut self, pinned: &Pinned, rect: &Rect) {
        let paragraphs = match said(&pinned.what, self.facts, self.speeches) {
            Said::Words(paragraphs) => paragraphs,
            Said::Nothing => return,
            Said::Unknown => return self.warn(WarningKind::Unknown(part(&pinned.what))),
        };
        let mut printable = false;
        let mut missing = BTreeSet::new();
        for (face, text) in text::faces(&paragraphs, pinned.set.weight) {
            let shaped = self.shaper.shape(face, text);
            missing.extend(shaped.missing.iter().copied());
            printable |= !shaped.text.is_empty();
        }
        if !missing.is_empty() {
            self.panel.told.push((self.at, WarningKind::MissingGlyphs(missing.iter().collect())));
            self.missing.append(&mut missing);
        }
        if !printable {
            return self.warn(WarningKind::LeftOut(part(&pinned.what)));
        }
        let colour = self.readable(pinned.set.ink, rect);
        match text::lay(self.shaper, &self.ground, rect, pinned.turn, &paragraphs, &pinned.set, colour) {
            text::Laid::Whole(items) => self.panel.items.extend(items),
            text::Laid::Cut(items) => {
                self.panel.items.extend(items);
                self.warn(WarningKind::Cut(part(&pinned.what)));
            }
            text::Laid::None => self.warn(WarningKind::LeftOut(part(&pinned.what))),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn black_is_read_on_pale_bands_and_white_on_dark_ones() {
        // Contrast ratios by the formula of WCAG 2.2: white on #767676 is 4.54, the least grey that passes AA (W3C's own
        // example, from memory); on any paler ground black reads better.
        for (colour, pale) in [
            ([255, 255, 255], true),
            ([0x9c, 0xd0, 0xbf], true),
            ([0x77, 0x77, 0x77], true),
            ([0x60, 0x60, 0x60], false),
            ([0x1d, 0x5f, 0xa8], false),
            ([0, 0, 0], false),
        ] {
            assert_eq!(is_pale(Colour(colour)), pale, "{colour:?}");
        }
    }
}
