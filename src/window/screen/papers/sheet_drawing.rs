//! A sheet of labels drawn as it is typed: its corner with the measures, and the whole page.
#![allow(clippy::cast_possible_truncation)] // millimetres of a page, to be drawn on a screen

use super::message::Message;
use super::preview::path_of;
use super::sheet_form::{Drawn, SheetForm};
use crate::measure::Decimal;
use crate::paper::page::Paint;
use crate::window::theme::{self, Palette, palette, size, space};
use crate::window::widget;
use iced::widget::canvas::{self, Frame, LineDash, Path, Stroke};
use iced::widget::{Canvas, column};
use iced::{Color, Element, Length, Point, Rectangle, Renderer, Size, Theme, Vector, alignment, mouse, widget::text};
use rust_decimal::prelude::ToPrimitive;

/// Heights of the drawings, pixels.
const CORNER: f32 = 240.0;
const PAGE: f32 = 230.0;
/// Room for the measures at the left and at the top, pixels.
const BAND: Vector = Vector { x: 104.0, y: 52.0 };

/// Both drawings, under each other.
pub(super) fn drawings(form: &SheetForm) -> Element<'_, Message> {
    let canvas = |part, height| Canvas::new(Drawing { form, part }).width(Length::Fill).height(Length::Fixed(height));
    let labels = form.drawn.as_ref().map(|drawn| match drawn.grid.labels() {
        1 => "1 label on the page".to_owned(),
        labels => format!("{labels} labels on the page"),
    });
    column![canvas(Part::Corner, CORNER), canvas(Part::Page, PAGE), labels.map(widget::small)]
        .spacing(space::ONE)
        .width(Length::FillPortion(4))
        .into()
}

/// Which drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Part {
    /// The upper left corner with its measures.
    Corner,
    /// The whole page.
    Page,
}

struct Drawing<'a> {
    form: &'a SheetForm,
    part: Part,
}

impl canvas::Program<Message> for Drawing<'_> {
    type State = ();

    fn draw(
        &self,
        (): &(),
        renderer: &Renderer,
        theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<canvas::Geometry> {
        let Some(drawn) = &self.form.drawn else { return Vec::new() };
        let colors = palette(theme);
        let geometry = match self.part {
            Part::Page => self.form.page.draw(renderer, bounds.size(), |frame| whole(frame, drawn, colors)),
            Part::Corner => self.form.corner.draw(renderer, bounds.size(), |frame| corner(frame, drawn, colors)),
        };
        vec![geometry]
    }
}

fn mm(value: Decimal) -> f32 {
    value.to_f32().unwrap_or_default()
}

/// The whole page with all its labels.
fn whole(frame: &mut Frame, drawn: &Drawn, colors: &Palette) {
    let (sheet, grid) = (&drawn.sheet, &drawn.grid);
    let (width, height) = (grid.page_width_mm.max(1.0) as f32, grid.page_height_mm.max(1.0) as f32);
    // Room for the measures at the right and below.
    let scale = ((frame.width() - 120.0) / width).min((frame.height() - 24.0) / height).max(0.01);
    let page = Size::new(width * scale, height * scale);
    frame.translate(Vector::new((frame.width() - page.width) / 2.0, 1.0));
    frame.fill_rectangle(Point::ORIGIN, page, Color::WHITE);
    frame.stroke(&Path::rectangle(Point::ORIGIN, page), edge(1.0));
    outlines(frame, drawn, scale, 0.7);
    let ink = colors.quiet;
    words(frame, &in_mm(sheet.page_width_mm), Point::new(page.width / 2.0, page.height + 4.0), Across::Middle, ink);
    words(
        frame,
        &in_mm(sheet.page_height_mm),
        Point::new(page.width + 8.0, page.height / 2.0 - 8.0),
        Across::Left,
        ink,
    );
}

/// The upper left corner of the page, large, with its measures.
fn corner(frame: &mut Frame, drawn: &Drawn, colors: &Palette) {
    let (sheet, grid) = (&drawn.sheet, &drawn.grid);
    let first = grid.rect(0);
    let reach = |from: f64, pitch: Decimal, many: u32, side: f64, end: f64| -> f32 {
        let beyond = if many > 1 { from + f64::from(mm(pitch)) + side * 0.3 } else { from + side * 1.15 };
        beyond.min(end) as f32
    };
    let width = reach(first.x_mm, sheet.pitch_x_mm, sheet.columns, first.width_mm, grid.page_width_mm).max(1.0);
    let height = reach(first.y_mm, sheet.pitch_y_mm, sheet.rows, first.height_mm, grid.page_height_mm).max(1.0);
    let room = Size::new((frame.width() - BAND.x - 2.0).max(10.0), (frame.height() - BAND.y - 2.0).max(10.0));
    let scale = (room.width / width).min(room.height / height);
    let [left, top, right, bottom] =
        [first.x_mm, first.y_mm, first.right_mm(), first.bottom_mm()].map(|side| side as f32 * scale);
    let middle = Point::new(f32::midpoint(left, right), f32::midpoint(top, bottom));
    // Margins are measured on the page where there is room for the words, else they are told in the corner.
    let (wide, high) = (left > 56.0, top > 24.0);
    let seen = Rectangle::new(Point::new(BAND.x, BAND.y), Size::new(width * scale, height * scale));
    frame.with_clip(seen, |frame| {
        frame.translate(BAND);
        let page = Size::new(grid.page_width_mm as f32 * scale, grid.page_height_mm as f32 * scale);
        frame.fill_rectangle(Point::ORIGIN, page, Color::WHITE);
        frame.stroke(&Path::rectangle(Point::ORIGIN, page), edge(1.5));
        outlines(frame, drawn, scale, 1.2);
        let ink = theme::LIGHT.quiet;
        if wide {
            measured(frame, Point::new(0.0, middle.y), Point::new(left, middle.y), ink);
            words(frame, &in_mm(sheet.left_mm), Point::new(left / 2.0, middle.y - 18.0), Across::Middle, ink);
        }
        if high {
            measured(frame, Point::new(middle.x, 0.0), Point::new(middle.x, top), ink);
            words(frame, &in_mm(sheet.top_mm), Point::new(middle.x + 6.0, top / 2.0 - 8.0), Across::Left, ink);
        }
    });
    frame.translate(BAND);
    let ink = colors.ink;
    let across = |frame: &mut Frame, y: f32, from: f32, to: f32, measure: Decimal| {
        measured(frame, Point::new(from, y), Point::new(to, y), ink);
        words(frame, &in_mm(measure), Point::new(f32::midpoint(from, to), y - 18.0), Across::Middle, ink);
    };
    across(frame, -6.0, left, right, sheet.label_width_mm);
    if sheet.columns > 1 {
        across(frame, -30.0, left, left + mm(sheet.pitch_x_mm) * scale, sheet.pitch_x_mm);
    }
    let down = |frame: &mut Frame, x: f32, from: f32, to: f32, measure: Decimal| {
        measured(frame, Point::new(x, from), Point::new(x, to), ink);
        words(frame, &in_mm(measure), Point::new(x - 5.0, f32::midpoint(from, to) - 8.0), Across::Right, ink);
    };
    down(frame, -6.0, top, bottom, sheet.label_height_mm);
    if sheet.rows > 1 {
        down(frame, -58.0, top, top + mm(sheet.pitch_y_mm) * scale, sheet.pitch_y_mm);
    }
    if !wide {
        let told = format!("left {}", in_mm(sheet.left_mm));
        words(frame, &told, Point::new(-12.0, -46.0), Across::Right, colors.quiet);
    }
    if !high {
        let told = format!("top {}", in_mm(sheet.top_mm));
        words(frame, &told, Point::new(-12.0, -28.0), Across::Right, colors.quiet);
    }
}

/// Outlines, folds, holes and marks, darker than they are printed.
fn outlines(frame: &mut Frame, drawn: &Drawn, scale: f32, width: f32) {
    for mark in &drawn.marks {
        let dashed = matches!(mark.paint, Paint::Line { dash_mm: Some(_), .. });
        let dash = LineDash { segments: &[4.0, 3.0], offset: 0 };
        let line = Stroke::default().with_color(theme::LIGHT.ink).with_width(width);
        frame.stroke(&path_of(mark, scale), if dashed { Stroke { line_dash: dash, ..line } } else { line });
    }
}

fn edge<'a>(width: f32) -> Stroke<'a> {
    Stroke::default().with_color(theme::LIGHT.edge).with_width(width)
}

/// A measure's line with a stroke across each end.
fn measured(frame: &mut Frame, from: Point, to: Point, ink: Color) {
    let upright = (from.x - to.x).abs() < 0.01;
    let tick = if upright { Vector::new(3.0, 0.0) } else { Vector::new(0.0, 3.0) };
    let lines = Path::new(|path| {
        for (one, other) in [(from, to), (from - tick, from + tick), (to - tick, to + tick)] {
            path.move_to(one);
            path.line_to(other);
        }
    });
    frame.stroke(&lines, Stroke::default().with_color(ink).with_width(1.0));
}

/// Where words stand to their point.
#[derive(Debug, Clone, Copy)]
enum Across {
    Left,
    Middle,
    Right,
}

fn words(frame: &mut Frame, content: &str, position: Point, across: Across, color: Color) {
    frame.fill_text(canvas::Text {
        content: content.to_owned(),
        position,
        color,
        size: size::SMALL.into(),
        font: theme::REGULAR,
        align_x: match across {
            Across::Left => text::Alignment::Left,
            Across::Middle => text::Alignment::Center,
            Across::Right => text::Alignment::Right,
        },
        align_y: alignment::Vertical::Top,
        ..canvas::Text::default()
    });
}

/// A measure in words.
fn in_mm(value: Decimal) -> String {
    format!("{} mm", value.normalize())
}
