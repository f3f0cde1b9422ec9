//! Text in its place: as large as fits, then wrapped, then shortened.

use super::super::page::{Colour, Face, Item, MM_PER_POINT, Rect, TextRun};
use super::super::shaper::{Line, Shaper};
use super::super::stack::{ASCENDERS, CAPITALS, DESCENDERS};
use super::ground::{Ground, mm};
use super::local::{Local, share_across, share_down};
use super::said::Paragraph;
use crate::studio::{TextSet, Turn, Weight};

/// A heading's size against the text's.
const HEADING: f64 = 1.3;
/// Above a paragraph set apart, in parts of the text's size.
const APART: f64 = 0.55;
/// Slack when ink is compared with its place, mm.
const SLACK_MM: f64 = 0.002;

/// How a text came out.
pub(super) enum Laid {
    /// All of it.
    Whole(Vec<Item>),
    /// It ends in an ellipsis.
    Cut(Vec<Item>),
    /// There is no room for any of it.
    None,
}

struct SetLine {
    line: Line,
    size_pt: f64,
    /// From the top of the block.
    baseline: f64,
}

/// Lines one below the other.
struct Block {
    lines: Vec<SetLine>,
    height: f64,
}

struct Text<'a> {
    paragraphs: &'a [Paragraph],
    set: &'a TextSet,
}

fn face(weight: Weight) -> Face {
    match weight {
        Weight::Regular => Face::Regular,
        Weight::Semibold => Face::Semibold,
        Weight::Bold => Face::Bold,
    }
}

/// The faces a text is set in, paragraph by paragraph.
pub(super) fn faces<'a>(paragraphs: &'a [Paragraph], weight: Weight) -> impl Iterator<Item = (Face, &'a str)> + 'a {
    paragraphs.iter().map(move |paragraph| {
        let face = if paragraph.heading { Face::Bold } else { face(weight) };
        (face, paragraph.text.as_str())
    })
}

/// Lays a text into its place.
pub(super) fn lay(
    shaper: &mut Shaper,
    ground: &Ground,
    place: &Rect,
    turn: Turn,
    paragraphs: &[Paragraph],
    set: &TextSet,
    colour: Colour,
) -> Laid {
    let text = Text { paragraphs, set };
    let Some(free) = ground.clear(place) else { return Laid::None };
    let local = Local::of(&free, turn);
    if let Some(items) = text.largest(shaper, ground, &local, colour) {
        return Laid::Whole(items);
    }
    let Some(room) = ground.room(place) else { return Laid::None };
    for inset in [0.0, 0.15, 0.4, 0.8] {
        let room = Rect {
            x_mm: room.x_mm + inset,
            y_mm: room.y_mm + inset,
            width_mm: room.width_mm - 2.0 * inset,
            height_mm: room.height_mm - 2.0 * inset,
        };
        if room.width_mm <= 0.0 || room.height_mm <= 0.0 {
            break;
        }
        let local = Local::of(&room, turn);
        let Some((block, cut)) = text.shortened(shaper, &local) else { continue };
        if let Some(items) = text.placed(shaper, ground, &local, block, colour) {
            return if cut { Laid::Cut(items) } else { Laid::Whole(items) };
        }
    }
    Laid::None
}

impl Text<'_> {
    /// From line to line, in parts of the size: closer for names, wider for what is read.
    fn leading(&self, heading: bool) -> f64 {
        if heading || self.set.weight == Weight::Bold {
            1.12
        } else if self.set.weight == Weight::Semibold {
            1.2
        } else {
            1.32
        }
    }

    fn most_lines(&self) -> usize {
        usize::try_from(self.set.lines).unwrap_or(usize::MAX)
    }

    /// The whole text at the largest size that fits, to a tenth of a point. What fits at a size fits at any smaller
    /// one: the same breaks leave every line shorter.
    fn largest(&self, shaper: &mut Shaper, ground: &Ground, local: &Local, colour: Colour) -> Option<Vec<Item>> {
        let tenths = |size: crate::measure::Decimal| (mm(size) * 10.0).round();
        let (least, most) = (tenths(self.set.least_pt), tenths(self.set.most_pt));
        let mut attempt = |tenths: f64| {
            let block = self.block(shaper, tenths / 10.0, local.width)?;
            if block.height > local.height + SLACK_MM {
                return None;
            }
            self.placed(shaper, ground, local, block, colour)
        };
        if let Some(items) = attempt(most) {
            return Some(items);
        }
        let mut best = attempt(least)?;
        let (mut low, mut high) = (least, most);
        while high - low > 1.0 {
            let middle = f64::midpoint(low, high).floor();
            match attempt(middle) {
                Some(items) => {
                    best = items;
                    low = middle;
                }
                None => high = middle,
            }
        }
        Some(best)
    }

    /// Every line of the text at a size; none where it takes too many, or a word must be broken.
    fn block(&self, shaper: &mut Shaper, size: f64, width: f64) -> Option<Block> {
        let mut builder = Builder::new(size);
        for (paragraph, (face, text)) in self.paragraphs.iter().zip(faces(self.paragraphs, self.set.weight)) {
            let shaped = shaper.shape(face, text);
            if shaped.shortened {
                return None;
            }
            if shaped.text.is_empty() {
                continue;
            }
            let own = if paragraph.heading { size * HEADING } else { size };
            let lines = shaper.lines(face, text, own, width);
            let broken = lines.iter().any(|line| line.breaks_word);
            if lines.is_empty() || broken || builder.lines.len() + lines.len() > self.most_lines() {
                return None;
            }
            builder.add(lines, own, self.leading(paragraph.heading), paragraph.apart);
        }
        builder.finish(shaper)
    }

    /// As much of the text as there is room for at the smallest size, and whether something is gone.
    fn shortened(&self, shaper: &mut Shaper, local: &Local) -> Option<(Block, bool)> {
        let size = mm(self.set.least_pt);
        let mut builder = Builder::new(size);
        let mut before: Option<(Builder, usize)> = None;
        let texts: Vec<(Face, &str)> = faces(self.paragraphs, self.set.weight).collect();
        for (number, (paragraph, (face, text))) in self.paragraphs.iter().zip(&texts).enumerate() {
            let own = if paragraph.heading { size * HEADING } else { size };
            let leading = self.leading(paragraph.heading);
            let room = builder.room(local.height, own, leading, paragraph.apart);
            let room = room.min(self.most_lines().saturating_sub(builder.lines.len()));
            if shaper.shape(*face, text).text.is_empty() {
                continue;
            }
            if room > 0 {
                let fitted = shaper.fit(*face, text, own, local.width, room);
                if !fitted.lines.is_empty() {
                    before = Some((builder.clone(), number));
                    builder.add(fitted.lines, own, leading, paragraph.apart);
                    if fitted.cut {
                        return builder.finish(shaper).map(|block| (block, true));
                    }
                    continue;
                }
            }
            // No room for this one at all: the one before says that there is more.
            let (mut builder, last) = before?;
            let (paragraph, (face, text)) = (self.paragraphs.get(last)?, texts.get(last)?);
            let own = if paragraph.heading { size * HEADING } else { size };
            let leading = self.leading(paragraph.heading);
            let room = builder.room(local.height, own, leading, paragraph.apart);
            let room = room.min(self.most_lines().saturating_sub(builder.lines.len()));
            let fitted = shaper.fit(*face, &format!("{text} …"), own, local.width, room);
            builder.add(fitted.lines, own, leading, paragraph.apart);
            return builder.finish(shaper).map(|block| (block, true));
        }
        builder.finish(shaper).map(|block| (block, false))
    }

    /// The lines at their places; none where one of them would leave its place or the paper.
    fn placed(
        &self,
        shaper: &Shaper,
        ground: &Ground,
        local: &Local,
        block: Block,
        colour: Colour,
    ) -> Option<Vec<Item>> {
        let mut top = (local.height - block.height) * share_down(self.set.down);
        if let ([only], crate::studio::Down::Middle) = (block.lines.as_slice(), self.set.down) {
            // A single line stands in the middle by its capitals and figures, not by descenders it may not have.
            let [_, above, _, below] = shaper.reach(&only.line, only.size_pt);
            let baseline = local.height / 2.0 + only.size_pt * MM_PER_POINT * CAPITALS / 2.0;
            top = baseline.min(local.height - below).max(above) - only.baseline;
        }
        let mut items = Vec::with_capacity(block.lines.len());
        for SetLine { line, size_pt, baseline } in block.lines {
            let [left, above, right, below] = shaper.reach(&line, size_pt);
            if left + right > local.width + SLACK_MM {
                return None;
            }
            let x = ((local.width - line.width_mm) * share_across(self.set.across)).min(local.width - right).max(left);
            let y = top + baseline;
            let ink = Rect { x_mm: x - left, y_mm: y - above, width_mm: left + right, height_mm: above + below };
            let inside = ink.y_mm >= -SLACK_MM && ink.bottom_mm() <= local.height + SLACK_MM;
            if !inside || !ground.holds(&local.rect(&ink)) {
                return None;
            }
            let [x_mm, y_mm] = local.at([x, y]);
            items.push(Item::Text(TextRun {
                x_mm,
                y_mm,
                size_pt,
                colour,
                width_mm: line.width_mm,
                glyphs: line.glyphs,
                turn: local.turn,
            }));
        }
        Some(items)
    }
}

/// Puts lines below one another.
#[derive(Clone)]
struct Builder {
    lines: Vec<(Line, f64, f64)>,
    size: f64,
    /// The last baseline, from the first.
    last: f64,
}

impl Builder {
    fn new(size: f64) -> Self {
        Self { lines: Vec::new(), size, last: 0.0 }
    }

    fn step(&self, own: f64, leading: f64, apart: bool) -> f64 {
        let gap = if apart { APART * self.size } else { 0.0 };
        (own * leading + gap) * MM_PER_POINT
    }

    /// How many more lines a height has room for.
    fn room(&self, height: f64, own: f64, leading: f64, apart: bool) -> usize {
        let first = self.lines.first().map_or(own, |(_, size, _)| *size) * ASCENDERS * MM_PER_POINT;
        let next = if self.lines.is_empty() { 0.0 } else { self.last + self.step(own, leading, apart) };
        let left = height + SLACK_MM - first - next - own * DESCENDERS * MM_PER_POINT;
        // A page has room for a few hundred lines.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let more = (left / (own * leading * MM_PER_POINT) + 1.0).floor().clamp(0.0, 1.0e4) as usize;
        more
    }

    fn add(&mut self, lines: Vec<Line>, own: f64, leading: f64, apart: bool) {
        for (number, line) in lines.into_iter().enumerate() {
            if !self.lines.is_empty() {
                self.last += self.step(own, leading, apart && number == 0);
            }
            self.lines.push((line, own, self.last));
        }
    }

    /// The block with room for capitals above and descenders below, or for more where the ink needs it.
    fn finish(self, shaper: &Shaper) -> Option<Block> {
        let mut above: f64 = 0.0;
        let mut bottom: f64 = 0.0;
        for (number, (line, size, baseline)) in self.lines.iter().enumerate() {
            let [_, ink_above, _, ink_below] = shaper.reach(line, *size);
            let em = size * MM_PER_POINT;
            let ascent = if number == 0 { ink_above.max(em * ASCENDERS) } else { ink_above };
            above = above.max(ascent - baseline);
            bottom = bottom.max(baseline + ink_below.max(em * DESCENDERS));
        }
        if self.lines.is_empty() {
            return None;
        }
        let lines = self
            .lines
            .into_iter()
            .map(|(line, size_pt, baseline)| SetLine { line, size_pt, baseline: above + baseline })
            .collect();
        Some(Block { lines, height: above + bottom })
    }
}
