//! A paper on the screen, drawn from the same layout as the PDF.
#![allow(clippy::cast_possible_truncation)] // millimetres of a page, to be drawn on a screen

use super::Message;
use super::laid::{Laid, Layer, Outline, Picture};
use crate::paper::page::Rect;
use crate::window::screen::papers::{draw_mark, hatch};
use crate::window::theme::{self, palette};
use iced::widget::canvas::{self, Frame, LineDash, Path, Stroke};
use iced::widget::{Canvas, Stack};
use iced::{Color, Element, Length, Point, Radians, Rectangle, Renderer, Size, Theme, mouse};

/// One layer of a paper; the lowest has the paper itself.
struct Painted<'a> {
    layer: &'a Layer,
    outline: &'a Outline,
    ground: bool,
    scale: f32,
}

fn rounded(outline: &Outline, scale: f32) -> Path {
    let size = Size::new(outline.width * scale, outline.height * scale);
    Path::rounded_rectangle(Point::ORIGIN, size, (outline.corner * scale).into())
}

fn draw_picture(frame: &mut Frame, picture: &Picture, scale: f32) {
    let at = |mm: f64| mm as f32 * scale;
    let [width, height] = picture.upright_mm;
    let centre = Point::new(
        at(picture.rect.x_mm + picture.rect.width_mm / 2.0),
        at(picture.rect.y_mm + picture.rect.height_mm / 2.0),
    );
    let size = Size::new(at(width), at(height));
    let bounds = Rectangle::new(Point::new(centre.x - size.width / 2.0, centre.y - size.height / 2.0), size);
    let turned = Radians(f32::from(picture.quarters) * std::f32::consts::FRAC_PI_2);
    frame.draw_image(bounds, canvas::Image::new(picture.handle.clone()).rotation(turned));
}

impl canvas::Program<Message> for Painted<'_> {
    type State = ();

    fn draw(
        &self,
        (): &(),
        renderer: &Renderer,
        _theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<canvas::Geometry> {
        vec![self.layer.cache.draw(renderer, bounds.size(), |frame| {
            if self.ground {
                // Paper is white in the dark as well.
                frame.fill(&rounded(self.outline, self.scale), Color::WHITE);
            }
            for mark in &self.layer.marks {
                draw_mark(frame, mark, self.scale);
            }
            for picture in &self.layer.pictures {
                draw_picture(frame, picture, self.scale);
            }
        })]
    }
}

/// Outline, fold and holes: seen on the screen, not printed.
struct Guides<'a> {
    outline: &'a Outline,
    scale: f32,
}

impl canvas::Program<Message> for Guides<'_> {
    type State = ();

    fn draw(
        &self,
        (): &(),
        renderer: &Renderer,
        theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<canvas::Geometry> {
        let colors = palette(theme);
        let mut frame = Frame::new(renderer, bounds.size());
        let edge = Stroke::default().with_color(colors.edge).with_width(1.0);
        frame.stroke(&rounded(self.outline, self.scale), edge);
        if let Some([[from_x, from_y], [to_x, to_y]]) = self.outline.fold {
            let line = Path::line(
                Point::new(from_x * self.scale, from_y * self.scale),
                Point::new(to_x * self.scale, to_y * self.scale),
            );
            let dash = LineDash { segments: &[5.0, 4.0], offset: 0 };
            frame.stroke(&line, Stroke { line_dash: dash, ..edge.with_color(theme::LIGHT.edge) });
        }
        for ([x, y], radius) in &self.outline.holes {
            let hole = Path::circle(Point::new(x * self.scale, y * self.scale), radius * self.scale);
            frame.fill(&hole, colors.ground);
            frame.stroke(&hole, edge);
        }
        vec![frame.into_geometry()]
    }
}

fn canvas<'a>(program: impl canvas::Program<Message> + 'a, size: Size) -> Element<'a, Message> {
    Canvas::new(program).width(Length::Fixed(size.width)).height(Length::Fixed(size.height)).into()
}

/// A paper so many pixels to the millimetre, with what lies over it.
pub(super) fn paper<'a>(laid: &'a Laid, scale: f32, over: Option<Element<'a, Message>>) -> Element<'a, Message> {
    layered(&laid.outline, &laid.layers, scale, over)
}

/// Layers on a paper of that outline.
pub(super) fn layered<'a>(
    outline: &'a Outline,
    layers: &'a [Layer],
    scale: f32,
    over: Option<Element<'a, Message>>,
) -> Element<'a, Message> {
    let size = Size::new(outline.width * scale, outline.height * scale);
    let drawn = layers
        .iter()
        .enumerate()
        .map(|(number, layer)| canvas(Painted { layer, outline, ground: number == 0, scale }, size));
    let stack = Stack::with_children(drawn).push(canvas(Guides { outline, scale }, size)).push(over);
    stack.width(Length::Fixed(size.width)).height(Length::Fixed(size.height)).into()
}

/// The largest scale at which a paper fits, with a margin; never so large that a small tag looks like a poster.
pub(super) fn fitting(outline: &Outline, area: Size, most: f32) -> f32 {
    let across = (area.width - 2.0).max(20.0) / outline.width;
    let down = (area.height - 2.0).max(20.0) / outline.height;
    across.min(down).min(most)
}

/// The places of a label sheet over a page: those used up, and the one under the pointer.
pub(super) struct Slots<'a> {
    pub(super) slots: &'a [Rect],
    /// The first label used, from 1.
    pub(super) start: u32,
    /// Labels of the begun sheet that were used before.
    pub(super) used: u32,
    pub(super) scale: f32,
}

impl Slots<'_> {
    fn label_at(&self, bounds: Rectangle, cursor: mouse::Cursor) -> Option<u32> {
        let at = cursor.position_in(bounds)?;
        let (x, y) = (f64::from(at.x / self.scale), f64::from(at.y / self.scale));
        let holds = |rect: &Rect| x >= rect.x_mm && x <= rect.right_mm() && y >= rect.y_mm && y <= rect.bottom_mm();
        u32::try_from(self.slots.iter().position(holds)?).ok()?.checked_add(1)
    }
}

impl canvas::Program<Message> for Slots<'_> {
    type State = Option<u32>;

    fn update(
        &self,
        under: &mut Option<u32>,
        event: &canvas::Event,
        bounds: Rectangle,
        cursor: mouse::Cursor,
    ) -> Option<canvas::Action<Message>> {
        match event {
            canvas::Event::Mouse(mouse::Event::CursorMoved { .. } | mouse::Event::CursorLeft) => {
                let now = self.label_at(bounds, cursor);
                (std::mem::replace(under, now) != now).then(canvas::Action::request_redraw)
            }
            canvas::Event::Mouse(mouse::Event::ButtonPressed(mouse::Button::Left)) => {
                let label = self.label_at(bounds, cursor)?;
                Some(canvas::Action::publish(Message::StartAt(label)).and_capture())
            }
            _ => None,
        }
    }

    fn draw(
        &self,
        under: &Option<u32>,
        renderer: &Renderer,
        _theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<canvas::Geometry> {
        let mut frame = Frame::new(renderer, bounds.size());
        let place = |rect: &Rect| {
            (
                Point::new(rect.x_mm as f32 * self.scale, rect.y_mm as f32 * self.scale),
                Size::new(rect.width_mm as f32 * self.scale, rect.height_mm as f32 * self.scale),
            )
        };
        for (label, rect) in (1_u32..).zip(self.slots) {
            let (corner, size) = place(rect);
            if label < self.start {
                frame.fill_rectangle(corner, size, Color::from_rgba8(0, 0, 0, 0.12));
            }
            if label <= self.used {
                hatch(&mut frame, Rectangle::new(corner, size));
            }
            let (color, width) = if *under == Some(label) {
                (theme::LIGHT.accent, 2.0)
            } else {
                (Color::from_rgba8(0, 0, 0, 0.12), 0.6)
            };
            frame.stroke(&Path::rectangle(corner, size), Stroke::default().with_color(color).with_width(width));
        }
        vec![frame.into_geometry()]
    }

    fn mouse_interaction(&self, under: &Option<u32>, bounds: Rectangle, cursor: mouse::Cursor) -> mouse::Interaction {
        if under.is_some() && self.label_at(bounds, cursor).is_some() {
            mouse::Interaction::Pointer
        } else {
            mouse::Interaction::default()
        }
    }
}

/// The places of a label sheet, over a page of that size.
pub(super) fn slots<'a>(slots: Slots<'a>, outline: &Outline) -> Element<'a, Message> {
    let size = Size::new(outline.width * slots.scale, outline.height * slots.scale);
    canvas(slots, size)
}
