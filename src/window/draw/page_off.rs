//! A page as a printer puts it out: where a frame belongs, and where it comes out, farther off than it is.
#![allow(clippy::cast_possible_truncation)] // millimetres of a page, to be drawn on a screen

use crate::paper::page::Rect;
use crate::paper::put_right::Drawn;
use crate::window::theme::{Palette, palette};
use iced::widget::canvas::{self, Cache, Frame, LineDash, Path, Stroke};
use iced::{Color, Point, Rectangle, Renderer, Size, Theme, mouse};
use std::cell::Cell;

/// Draws a [`Drawn`] in the middle of its bounds.
#[derive(Debug)]
pub struct Picture<'a>(pub &'a Drawn);

/// What is kept between frames.
#[derive(Debug, Default)]
pub struct Kept {
    cache: Cache,
    drawn: Cell<Option<(Drawn, bool)>>,
}

impl Picture<'_> {
    fn draw_all(&self, frame: &mut Frame, paint: &Palette) {
        let [wide, high] = self.0.page_mm.map(|side| (side as f32).max(1.0));
        let scale = ((frame.width() - 2.0) / wide).min((frame.height() - 2.0) / high).max(0.01);
        let corner = Point::new((frame.width() - wide * scale) / 2.0, (frame.height() - high * scale) / 2.0);
        let place = |rect: &Rect| {
            let [x, y, width, height] =
                [rect.x_mm, rect.y_mm, rect.width_mm, rect.height_mm].map(|side| side as f32 * scale);
            (Point::new(corner.x + x, corner.y + y), Size::new(width.max(1.0), height.max(1.0)))
        };
        let line = |color: Color, width: f32| Stroke::default().with_color(color).with_width(width);
        let paper = Path::rectangle(corner, Size::new(wide * scale, high * scale));
        frame.fill(&paper, paint.ground);
        frame.stroke(&paper, line(paint.edge, 1.0));
        let (at, size) = place(&self.0.belongs);
        let dashes = LineDash { segments: &[5.0, 4.0], offset: 0 };
        frame.stroke(&Path::rectangle(at, size), Stroke { line_dash: dashes, ..line(paint.quiet, 1.5) });
        let (at, size) = place(&self.0.comes);
        frame.stroke(&Path::rectangle(at, size), line(paint.accent, 2.0));
        // The middle of each, so that a shift without a stretch is seen at a glance.
        let middle = |(at, size): (Point, Size)| Point::new(at.x + size.width / 2.0, at.y + size.height / 2.0);
        let (belongs, comes) = (middle(place(&self.0.belongs)), middle((at, size)));
        if (belongs.x - comes.x).abs() + (belongs.y - comes.y).abs() > 2.0 {
            frame.stroke(&Path::line(belongs, comes), line(paint.accent, 1.5));
        }
        frame.fill(&Path::circle(belongs, 2.5), paint.quiet);
        frame.fill(&Path::circle(comes, 2.5), paint.accent);
    }
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
        let drawn = Some((*self.0, paint.dark));
        if kept.drawn.replace(drawn) != drawn {
            kept.cache.clear();
        }
        vec![kept.cache.draw(renderer, bounds.size(), |frame| self.draw_all(frame, paint))]
    }
}
