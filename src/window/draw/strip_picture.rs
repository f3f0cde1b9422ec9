//! What a route strip looks like, apart from what is in hand.

use super::slots::Slot;
use super::strip::StripStep;
use crate::window::theme::{self, Palette, ink_on};
use crate::window::widget::Mark;
use iced::advanced::text::{self, Paragraph as _};
use iced::widget::canvas::{Frame, Path, Stroke, Text};
use iced::{Color, Font, Pixels, Point, Radians, Size};

/// Height of the steps.
pub(super) const HEIGHT: f32 = 104.0;
/// Height of the line of costs under them.
pub(super) const COSTS: f32 = 22.0;
/// Between two steps.
pub(super) const GAP: f32 = 3.0;
/// Least width of a step: what a finger or a pointer can hit (WCAG 2.2, 2.5.8).
pub(super) const LEAST: f32 = 24.0;
/// From this width a name runs across.
const WIDE: f32 = 112.0;

/// The width of a text on one line.
pub(super) fn measured(content: &str, size: f32, font: Font) -> f32 {
    type Paragraph = <iced::Renderer as text::Renderer>::Paragraph;
    Paragraph::with_text(text::Text {
        content,
        bounds: Size::new(f32::INFINITY, f32::INFINITY),
        size: Pixels(size),
        line_height: text::LineHeight::default(),
        font,
        align_x: text::Alignment::Left,
        align_y: iced::alignment::Vertical::Top,
        shaping: text::Shaping::Advanced,
        wrapping: text::Wrapping::None,
    })
    .min_width()
}

/// A text cut with an ellipsis to a width.
pub(super) fn fitted(content: &str, size: f32, font: Font, room: f32) -> String {
    if measured(content, size, font) <= room {
        return content.to_owned();
    }
    let letters: Vec<char> = content.chars().collect();
    let (mut low, mut high) = (0, letters.len());
    while low < high {
        let middle = (low + high).div_ceil(2);
        let cut: String = letters.iter().take(middle).chain(['…'].iter()).collect();
        if measured(&cut, size, font) <= room { low = middle } else { high = middle - 1 }
    }
    if low == 0 {
        return String::new();
    }
    let cut: String = letters.into_iter().take(low).collect();
    format!("{}…", cut.trim_end())
}

/// A text of one line at its top left corner.
pub(super) fn words(content: String, at: Point, size: f32, color: Color, font: Font) -> Text {
    Text {
        content,
        position: at,
        max_width: f32::INFINITY,
        color,
        size: Pixels(size),
        font,
        shaping: text::Shaping::Advanced,
        ..Text::default()
    }
}

pub(super) fn draw(frame: &mut Frame, paint: &Palette, steps: &[StripStep], slots: &[Slot]) {
    for (step, slot) in steps.iter().zip(slots) {
        draw_step(frame, paint, step, *slot);
        draw_cost(frame, paint, step, *slot);
    }
}

fn draw_step(frame: &mut Frame, paint: &Palette, step: &StripStep, slot: Slot) {
    let ground = step.colour.unwrap_or(paint.step);
    let ink = if step.colour.is_some() { ink_on(ground) } else { paint.ink };
    let edge = (theme::contrast(ground, paint.ground) < 1.5).then_some(paint.edge);
    draw_block(frame, slot, HEIGHT, ground, edge);
    if slot.width >= WIDE {
        draw_across(frame, step, slot, ink)
    } else {
        draw_upright(frame, step, slot, ink)
    }
    if let Some(mark) = step.mark {
        let size = 12.0;
        let at = Point::new(slot.x + slot.width - size - 4.0, 5.0);
        frame.fill(&mark_path(mark, at, size), ink);
    }
}

/// The ground of a step, with an edge where one is given.
pub(super) fn draw_block(frame: &mut Frame, slot: Slot, height: f32, ground: Color, edge: Option<Color>) {
    let block = Path::rounded_rectangle(Point::new(slot.x, 0.0), Size::new(slot.width, height), 4.0.into());
    frame.fill(&block, ground);
    if let Some(edge) = edge {
        let inner = Path::rounded_rectangle(
            Point::new(slot.x + 0.5, 0.5),
            Size::new(slot.width - 1.0, height - 1.0),
            4.0.into(),
        );
        frame.stroke(&inner, Stroke::default().with_color(edge).with_width(1.0));
    }
}

/// The ring around the step in hand; around the whole strip of a width where there is none and the strip has the keyboard.
pub(super) fn draw_ring(frame: &mut Frame, paint: &Palette, chosen: Option<&Slot>, size: Size, focused: bool) {
    match chosen {
        Some(slot) => {
            let ring = if focused { paint.accent } else { paint.ink };
            let edge = Path::rounded_rectangle(
                Point::new(slot.x + 1.5, 1.5),
                Size::new(slot.width - 3.0, size.height - 3.0),
                4.0.into(),
            );
            frame.stroke(&edge, Stroke::default().with_color(paint.sheet).with_width(5.0));
            frame.stroke(&edge, Stroke::default().with_color(ring).with_width(3.0));
        }
        None if focused => {
            let edge = Path::rectangle(Point::new(1.0, 1.0), Size::new(size.width - 2.0, size.height - 2.0));
            frame.stroke(&edge, Stroke::default().with_color(paint.accent).with_width(2.0));
        }
        None => {}
    }
}

/// A triangle for a caution, an octagon for a stop, in the ink of its step.
pub(super) fn mark_path(mark: Mark, at: Point, size: f32) -> Path {
    let corners: &[(f32, f32)] = match mark {
        Mark::Stop => &[(0.3, 0.0), (0.7, 0.0), (1.0, 0.3), (1.0, 0.7), (0.7, 1.0), (0.3, 1.0), (0.0, 0.7), (0.0, 0.3)],
        _ => &[(0.5, 0.05), (1.0, 0.95), (0.0, 0.95)],
    };
    Path::new(|builder| {
        for (index, &(x, y)) in corners.iter().enumerate() {
            let point = Point::new(at.x + x * size, at.y + y * size);
            if index == 0 { builder.move_to(point) } else { builder.line_to(point) }
        }
        builder.close();
    })
}

fn draw_across(frame: &mut Frame, step: &StripStep, slot: Slot, ink: Color) {
    let room = slot.width - 24.0 - if step.mark.is_some() { 14.0 } else { 0.0 };
    let size = theme::size::SMALL;
    let name = fitted(&step.name, size, theme::STRONG, room);
    frame.fill_text(words(name, Point::new(slot.x + 12.0, 10.0), size, ink, theme::STRONG));
    if !step.detail.is_empty() {
        let detail = fitted(&step.detail, size, theme::REGULAR, slot.width - 24.0);
        frame.fill_text(words(detail, Point::new(slot.x + 12.0, 30.0), size, ink, theme::REGULAR));
    }
}

fn draw_upright(frame: &mut Frame, step: &StripStep, slot: Slot, ink: Color) {
    let room = HEIGHT - 16.0 - if step.mark.is_some() { 12.0 } else { 0.0 };
    let size = theme::size::SMALL;
    let full = measured(&step.name, size, theme::STRONG) <= room;
    let name = fitted(if full { &step.name } else { &step.word }, size, theme::STRONG, room);
    let two = slot.width >= 38.0 && !step.detail.is_empty();
    let left = if two { slot.x + (slot.width - 34.0) / 2.0 } else { slot.x + (slot.width - 16.0) / 2.0 };
    let mut upright = |content: String, x: f32, font: Font| {
        frame.with_save(|frame| {
            frame.translate(iced::Vector::new(x, HEIGHT - 8.0));
            frame.rotate(Radians(-std::f32::consts::FRAC_PI_2));
            frame.fill_text(words(content, Point::ORIGIN, size, ink, font));
        });
    };
    if two {
        let detail = fitted(&step.detail, size, theme::REGULAR, HEIGHT - 16.0);
        upright(name, left, theme::STRONG);
        upright(detail, left + 17.0, theme::REGULAR);
    } else if !step.detail.is_empty() && slot.width < 38.0 {
        // One line only: a firing is known by its colour, so its heat is worth more than its name.
        upright(fitted(&step.detail, size, theme::REGULAR, room), left, theme::REGULAR);
    } else {
        upright(name, left, theme::STRONG);
    }
}

fn draw_cost(frame: &mut Frame, paint: &Palette, step: &StripStep, slot: Slot) {
    let size = 12.0;
    let width = measured(&step.cost, size, theme::REGULAR);
    if step.cost.is_empty() || width > slot.width + GAP - 1.0 {
        return;
    }
    let at = Point::new(slot.x + (slot.width - width) / 2.0, HEIGHT + 5.0);
    frame.fill_text(words(step.cost.clone(), at, size, paint.quiet, theme::REGULAR));
}
