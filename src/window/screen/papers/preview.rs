//! The page on screen, from the same layout as the PDF; a click on a label's place starts there.
#![allow(clippy::cast_possible_truncation)] // millimetres of a page, to be drawn on a screen

use super::Message;
use super::laying::Laid;
use crate::paper::page::{Colour, Paint, Rect, Segment};
use crate::paper::preview::Mark;
use crate::window::theme::palette;
use iced::widget::canvas::{self, Action, Frame, LineDash, Path, Stroke};
use iced::{Color, Element, Length, Point, Rectangle, Renderer, Size, Theme, mouse};

/// Pixels to a millimetre when the page is shown in its own size: 96 to the inch.
pub(super) const PIXELS_PER_MM: f32 = 96.0 / 25.4;

/// A page, drawn to fill its bounds.
struct Preview<'a> {
    laid: &'a Laid,
}

/// The page as large as `scale` pixels to a millimetre make it.
pub(super) fn preview(laid: &Laid, scale: f32) -> Element<'_, Message> {
    let [width, height] = laid.size_mm();
    canvas::Canvas::new(Preview { laid })
        .width(Length::Fixed((width * scale).max(1.0)))
        .height(Length::Fixed((height * scale).max(1.0)))
        .into()
}

impl Preview<'_> {
    fn scale(&self, bounds: Rectangle) -> f32 {
        let [width, _] = self.laid.size_mm();
        bounds.width / width
    }

    /// The label under the pointer, from 1: on the first page of a sheet of labels.
    fn label_at(&self, bounds: Rectangle, cursor: mouse::Cursor) -> Option<u32> {
        if self.laid.page > 0 {
            return None;
        }
        let at = cursor.position_in(bounds)?;
        let scale = self.scale(bounds);
        let (x, y) = (f64::from(at.x / scale), f64::from(at.y / scale));
        let holds = |rect: &Rect| x >= rect.x_mm && x <= rect.right_mm() && y >= rect.y_mm && y <= rect.bottom_mm();
        let place = self.laid.slots.iter().position(holds)?;
        u32::try_from(place).ok()?.checked_add(1)
    }
}

fn colour(Colour([red, green, blue]): Colour) -> Color {
    Color::from_rgb8(red, green, blue)
}

pub(super) fn path_of(mark: &Mark, scale: f32) -> Path {
    let point = |[x, y]: [f64; 2]| Point::new(x as f32 * scale, y as f32 * scale);
    Path::new(|path| {
        for segment in &mark.path {
            match *segment {
                Segment::Move(to) => path.move_to(point(to)),
                Segment::Line(to) => path.line_to(point(to)),
                Segment::Cubic(first, second, to) => path.bezier_curve_to(point(first), point(second), point(to)),
                Segment::Close => path.close(),
            }
        }
    })
}

pub(in crate::window::screen) fn draw_mark(frame: &mut Frame, mark: &Mark, scale: f32) {
    let path = path_of(mark, scale);
    match mark.paint {
        Paint::Fill(fill) => frame.fill(&path, colour(fill)),
        Paint::Line { colour: ink, width_mm, dash_mm } => {
            // A hair line of the printer is still to be seen on a screen.
            let stroke = Stroke::default().with_color(colour(ink)).with_width((width_mm as f32 * scale).max(0.6));
            match dash_mm {
                Some([dash, gap]) => {
                    let segments = [dash as f32 * scale, gap as f32 * scale];
                    frame.stroke(&path, Stroke { line_dash: LineDash { segments: &segments, offset: 0 }, ..stroke });
                }
                None => frame.stroke(&path, stroke),
            }
        }
    }
}

/// A place of a label as a rectangle of the picture.
fn place(rect: &Rect, scale: f32) -> (Point, Size) {
    (
        Point::new(rect.x_mm as f32 * scale, rect.y_mm as f32 * scale),
        Size::new(rect.width_mm as f32 * scale, rect.height_mm as f32 * scale),
    )
}

/// Slanting lines over a place that was used.
pub(in crate::window::screen) fn hatch(frame: &mut Frame, place: Rectangle) {
    const STEP: f32 = 6.0;
    let lines = Path::new(|path| {
        let mut along = STEP;
        while along < place.width + place.height {
            // From the left or lower edge up to the upper or right one.
            let (from_x, from_y) = (place.x + (along - place.height).max(0.0), place.y + along.min(place.height));
            let (to_x, to_y) = (place.x + along.min(place.width), place.y + (along - place.width).max(0.0));
            path.move_to(Point::new(from_x, from_y));
            path.line_to(Point::new(to_x, to_y));
            along += STEP;
        }
    });
    frame.stroke(&lines, Stroke::default().with_color(Color::from_rgba8(0, 0, 0, 0.4)).with_width(0.8));
}

/// The label under the pointer, from 1.
#[derive(Debug, Default)]
struct Pointed(Option<u32>);

impl canvas::Program<Message> for Preview<'_> {
    type State = Pointed;

    fn update(
        &self,
        under: &mut Pointed,
        event: &canvas::Event,
        bounds: Rectangle,
        cursor: mouse::Cursor,
    ) -> Option<Action<Message>> {
        match event {
            canvas::Event::Mouse(mouse::Event::CursorMoved { .. } | mouse::Event::CursorLeft) => {
                let now = self.label_at(bounds, cursor);
                (std::mem::replace(&mut under.0, now) != now).then(Action::request_redraw)
            }
            canvas::Event::Mouse(mouse::Event::ButtonPressed(mouse::Button::Left)) => {
                let label = self.label_at(bounds, cursor)?;
                Some(Action::publish(Message::StartAt(label)).and_capture())
            }
            _ => None,
        }
    }

    fn draw(
        &self,
        under: &Pointed,
        renderer: &Renderer,
        theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<canvas::Geometry> {
        let scale = self.scale(bounds);
        let page = self.laid.cache.draw(renderer, bounds.size(), |frame| {
            // Paper is white in the dark as well.
            frame.fill_rectangle(Point::ORIGIN, bounds.size(), Color::WHITE);
            for mark in &self.laid.marks {
                draw_mark(frame, mark, scale);
            }
        });
        let colors = palette(theme);
        let mut over = Frame::new(renderer, bounds.size());
        let edge = Path::rectangle(Point::ORIGIN, bounds.size());
        over.stroke(&edge, Stroke::default().with_color(colors.edge).with_width(1.0));
        if self.laid.page == 0 {
            let used = usize::try_from(self.laid.used).unwrap_or(0);
            let before = usize::try_from(self.laid.start.saturating_sub(1)).unwrap_or(0);
            for (number, rect) in self.laid.slots.iter().enumerate().take(used.max(before)) {
                let (corner, size) = place(rect, scale);
                if number < before {
                    over.fill_rectangle(corner, size, Color::from_rgba8(0, 0, 0, 0.12));
                }
                if number < used {
                    hatch(&mut over, Rectangle::new(corner, size));
                }
            }
            let pointed = under.0.and_then(|label| usize::try_from(label).ok()?.checked_sub(1));
            if let Some(rect) = pointed.and_then(|place| self.laid.slots.get(place)) {
                let (corner, size) = place(rect, scale);
                let ring = Path::rectangle(corner, size);
                over.stroke(&ring, Stroke::default().with_color(crate::window::theme::LIGHT.accent).with_width(2.0));
            }
        }
        vec![page, over.into_geometry()]
    }

    fn mouse_interaction(&self, _under: &Pointed, bounds: Rectangle, cursor: mouse::Cursor) -> mouse::Interaction {
        if self.label_at(bounds, cursor).is_some() {
            mouse::Interaction::Pointer
        } else {
            mouse::Interaction::default()
        }
    }
}
