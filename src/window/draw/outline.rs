//! The outline of a blank, drawn to fit: its rings, its drilled holes, a hint of the dome.
#![allow(clippy::cast_precision_loss)] // holes and copies are few

use crate::window::theme::{Palette, palette};
use iced::widget::canvas::{self, Cache, Path, Stroke, fill};
use iced::{Color, Point, Rectangle, Theme, mouse};
use std::cell::Cell;

/// The flat shape of a blank in millimetres, ready to draw.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Shape {
    /// Closed rings, outer ones and holes alike, y upward or downward as given.
    pub rings: Vec<Vec<[f32; 2]>>,
    /// Diameters of drilled holes.
    pub holes: Vec<f32>,
    /// It is domed.
    pub domed: bool,
    /// Blanks in one piece; two are drawn side by side.
    pub count: u32,
}

impl Shape {
    fn extent(&self) -> Option<[f32; 4]> {
        let mut points = self.rings.iter().flatten();
        let first = points.next()?;
        let start = [first[0], first[1], first[0], first[1]];
        Some(points.fold(start, |[left, top, right, bottom], point| {
            [left.min(point[0]), top.min(point[1]), right.max(point[0]), bottom.max(point[1])]
        }))
    }
}

/// Draws a [`Shape`] in the middle of its bounds.
#[derive(Debug)]
pub struct Outline<'a> {
    shape: &'a Shape,
    version: u64,
    colour: Color,
}

/// What is kept between frames: the picture, and what it was drawn from.
#[derive(Debug, Default)]
pub struct Kept {
    cache: Cache,
    drawn: Cell<Option<(u64, [u8; 4], bool)>>,
}

impl<'a> Outline<'a> {
    /// The shape filled with a colour (its enamel, or its metal). `version` changes whenever the shape does: the
    /// picture is drawn anew only then.
    pub fn new(shape: &'a Shape, version: u64, colour: Color) -> Self {
        Self { shape, version, colour }
    }

    fn draw_one(&self, frame: &mut canvas::Frame, paint: &Palette, extent: [f32; 4], middle: Point, scale: f32) {
        let [left, top, right, bottom] = extent;
        let place = |point: &[f32; 2]| {
            Point::new(
                middle.x + (point[0] - f32::midpoint(left, right)) * scale,
                middle.y + (point[1] - f32::midpoint(top, bottom)) * scale,
            )
        };
        let path = Path::new(|builder| {
            for ring in &self.shape.rings {
                for (index, point) in ring.iter().enumerate() {
                    if index == 0 {
                        builder.move_to(place(point));
                    } else {
                        builder.line_to(place(point));
                    }
                }
                builder.close();
            }
        });
        frame.fill(&path, canvas::Fill { style: canvas::Style::Solid(self.colour), rule: fill::Rule::EvenOdd });
        frame.stroke(&path, Stroke::default().with_color(paint.quiet).with_width(1.0));
        let height = (bottom - top) * scale;
        if self.shape.domed {
            let glint = Color { a: 0.35, ..Color::WHITE };
            let arc = Path::new(|builder| {
                let reach = ((right - left).min(bottom - top)) * scale * 0.28;
                builder.arc(canvas::path::Arc {
                    center: middle,
                    radius: reach,
                    start_angle: iced::Radians(3.5),
                    end_angle: iced::Radians(4.7),
                });
            });
            frame.stroke(&arc, Stroke::default().with_color(glint).with_width(2.0));
        }
        for (index, hole) in self.shape.holes.iter().enumerate() {
            // Where a hole is drilled is not part of the design: they are drawn from the top down.
            let down = (hole * 0.5 + 2.0 + index as f32 * (hole + 1.5)) * scale;
            let at = Point::new(middle.x, middle.y - height / 2.0 + down.min(height));
            let disc = Path::circle(at, (hole / 2.0 * scale).max(1.0));
            frame.fill(&disc, paint.sheet);
            frame.stroke(&disc, Stroke::default().with_color(paint.quiet).with_width(1.0));
        }
    }
}

impl<Message> canvas::Program<Message> for Outline<'_> {
    type State = Kept;

    fn draw(
        &self,
        state: &Kept,
        renderer: &iced::Renderer,
        theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<canvas::Geometry> {
        let Some(extent) = self.shape.extent() else { return Vec::new() };
        let paint = palette(theme);
        let drawn = Some((self.version, self.colour.into_rgba8(), paint.dark));
        if state.drawn.replace(drawn) != drawn {
            state.cache.clear();
        }
        let geometry = state.cache.draw(renderer, bounds.size(), |frame| {
            let copies = self.shape.count.clamp(1, 2) as f32;
            let (wide, high) = ((extent[2] - extent[0]).max(0.01), (extent[3] - extent[1]).max(0.01));
            let room = bounds.width / copies;
            let scale = ((room - 6.0) / wide).min((bounds.height - 6.0) / high).max(0.01);
            for copy in 0..self.shape.count.clamp(1, 2) {
                let middle = Point::new(room * (copy as f32 + 0.5), bounds.height / 2.0);
                self.draw_one(frame, paint, extent, middle, scale);
            }
        });
        vec![geometry]
    }
}
