//! A sheet with the blanks laid out on it, to scale: blanks with a letter each, off-cuts hatched and labelled, the edge
//! margin as a dashed line.
#![allow(clippy::cast_precision_loss, clippy::cast_possible_truncation)] // millimetres of a sheet, to be drawn on a screen

use crate::window::theme::{self, Palette, palette};
use iced::alignment::Vertical;
use iced::widget::canvas::{self, Cache, Frame, LineDash, Path, Stroke, fill};
use iced::{Color, Point, Rectangle, Renderer, Size, Theme, mouse};
use std::cell::Cell;

/// A blank on the sheet.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Laid {
    /// Which outline, from 0: it gives the tint.
    pub which: usize,
    /// The letter that stands on it.
    pub letter: String,
    /// Closed rings, the outline and its holes, mm.
    pub rings: Vec<Vec<[f32; 2]>>,
}

/// A rectangle that is left.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Left {
    /// Low corner, mm.
    pub low: [f32; 2],
    /// Sides, mm.
    pub size: [f32; 2],
    /// What stands on it.
    pub words: String,
}

/// The sheet, ready to draw; y goes down as on a drawing.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CutSheet {
    /// Its sides, mm.
    pub size: [f32; 2],
    /// The edge margin, mm.
    pub margin: f32,
    /// The blanks.
    pub blanks: Vec<Laid>,
    /// The off-cuts.
    pub off_cuts: Vec<Left>,
    /// It is of an earlier plan: drawn faintly.
    pub faint: bool,
}

/// Draws a [`CutSheet`] in the middle of its bounds. `version` changes whenever the sheet does.
#[derive(Debug)]
pub struct Picture<'a> {
    sheet: &'a CutSheet,
    version: u64,
}

/// What is kept between frames.
#[derive(Debug, Default)]
pub struct Kept {
    cache: Cache,
    drawn: Cell<Option<(u64, bool, bool)>>,
}

impl<'a> Picture<'a> {
    /// The picture of a sheet.
    pub fn new(sheet: &'a CutSheet, version: u64) -> Self {
        Self { sheet, version }
    }

    fn draw_all(&self, frame: &mut Frame, paint: &Palette) {
        let [wide, high] = self.sheet.size.map(|side| side.max(0.01));
        let (room_x, room_y) = (frame.width() - 2.0, frame.height() - 2.0);
        let scale = (room_x / wide).min(room_y / high).max(0.001);
        let corner = Point::new((frame.width() - wide * scale) / 2.0, (frame.height() - high * scale) / 2.0);
        let at = |x: f32, y: f32| Point::new(corner.x + x * scale, corner.y + y * scale);
        let thin = |color: Color| Stroke::default().with_color(color).with_width(1.0);
        let metal = theme::mix(paint.sheet, paint.step, 0.5);
        let strength = if self.sheet.faint { 0.25 } else { 0.7 };
        let whole = Path::rectangle(corner, Size::new(wide * scale, high * scale));
        frame.fill(&whole, metal);
        for left in &self.sheet.off_cuts {
            let (from, size) = (at(left.low[0], left.low[1]), Size::new(left.size[0] * scale, left.size[1] * scale));
            frame.fill(&Path::rectangle(from, size), paint.sheet);
            hatch(frame, from, size, &thin(theme::mix(paint.sheet, paint.edge, 0.55)));
            frame.stroke(&Path::rectangle(from, size), thin(paint.edge));
            label(frame, paint, &left.words, from, size);
        }
        let tints = [paint.accent, paint.caution, paint.quiet, paint.stop];
        for blank in &self.sheet.blanks {
            let tint = tints.get(blank.which % tints.len()).copied().unwrap_or(paint.accent);
            let color = theme::mix(paint.sheet, tint, strength);
            let path = Path::new(|builder| {
                for ring in &blank.rings {
                    for (index, point) in ring.iter().enumerate() {
                        let to = at(point[0], point[1]);
                        if index == 0 { builder.move_to(to) } else { builder.line_to(to) }
                    }
                    builder.close();
                }
            });
            frame.fill(&path, canvas::Fill { style: canvas::Style::Solid(color), rule: fill::Rule::EvenOdd });
            frame.stroke(&path, thin(paint.ink));
            if let Some((middle, reach)) = middle_of(blank)
                && reach * scale >= 14.0
            {
                let text = letter(&blank.letter, at(middle[0], middle[1]), theme::ink_on(color));
                frame.fill_text(text);
            }
        }
        if self.sheet.margin > 0.0 {
            let margin = self.sheet.margin;
            let (x, y) = ((wide - 2.0 * margin).max(0.0) * scale, (high - 2.0 * margin).max(0.0) * scale);
            let dashes = LineDash { segments: &[4.0, 3.0], offset: 0 };
            frame.stroke(
                &Path::rectangle(at(margin, margin), Size::new(x, y)),
                Stroke { line_dash: dashes, ..thin(paint.quiet) },
            );
        }
        frame.stroke(&whole, Stroke::default().with_color(paint.ink).with_width(1.5));
    }
}

/// The middle of a blank's extent and its shorter side, mm.
fn middle_of(blank: &Laid) -> Option<([f32; 2], f32)> {
    let mut points = blank.rings.first()?.iter();
    let first = *points.next()?;
    let (low, high) = points.fold((first, first), |(low, high), point| {
        ([low[0].min(point[0]), low[1].min(point[1])], [high[0].max(point[0]), high[1].max(point[1])])
    });
    let middle = [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0];
    Some((middle, (high[0] - low[0]).min(high[1] - low[1])))
}

fn letter(words: &str, at: Point, color: Color) -> canvas::Text {
    canvas::Text {
        content: words.to_owned(),
        position: at,
        color,
        size: theme::size::SMALL.into(),
        font: theme::STRONG,
        align_x: iced::widget::text::Alignment::Center,
        align_y: Vertical::Center,
        ..canvas::Text::default()
    }
}

/// Slanted lines over a rectangle, none outside of it.
fn hatch(frame: &mut Frame, from: Point, size: Size, stroke: &Stroke<'_>) {
    const STEP: f32 = 8.0;
    let mut along = STEP;
    while along < size.width + size.height {
        // The line x + y = along, from its lower left end to its upper right one.
        let (left, right) = ((along - size.height).max(0.0), along.min(size.width));
        let line = Path::line(
            Point::new(from.x + left, from.y + along - left),
            Point::new(from.x + right, from.y + along - right),
        );
        frame.stroke(&line, *stroke);
        along += STEP;
    }
}

/// Words on a plain ground in the middle of a rectangle, where there is room for them.
fn label(frame: &mut Frame, paint: &Palette, words: &str, from: Point, size: Size) {
    let width = words.chars().count() as f32 * 6.6 + 8.0;
    if size.width < width || size.height < 20.0 {
        return;
    }
    let middle = Point::new(from.x + size.width / 2.0, from.y + size.height / 2.0);
    let ground = Path::rectangle(Point::new(middle.x - width / 2.0, middle.y - 9.0), Size::new(width, 18.0));
    frame.fill(&ground, paint.sheet);
    frame.fill_text(letter(words, middle, paint.ink));
}

impl<Message> canvas::Program<Message> for Picture<'_> {
    type State = Kept;

    fn draw(
        &self,
        kept: &Kept,
        renderer: &Renderer,
        theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<canvas::Geometry> {
        let paint = palette(theme);
        let drawn = Some((self.version, self.sheet.faint, paint.dark));
        if kept.drawn.replace(drawn) != drawn {
            kept.cache.clear();
        }
        vec![kept.cache.draw(renderer, bounds.size(), |frame| self.draw_all(frame, paint))]
    }
}
