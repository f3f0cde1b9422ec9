//! The shape of a swing tag: two corners cut, a hole for the cord.

use crate::window::theme::palette;
use iced::widget::canvas::{self, Path, Stroke};
use iced::{Point, Rectangle, Theme, mouse};

/// A tag as tall and wide as it is given room.
#[derive(Debug, Clone, Copy, Default)]
pub struct Tag {
    chosen: bool,
}

impl Tag {
    /// A plain tag.
    pub const fn new() -> Self {
        Self { chosen: false }
    }

    /// The tag whose computation is open beside it.
    #[must_use]
    pub fn chosen(mut self) -> Self {
        self.chosen = true;
        self
    }
}

impl<Message> canvas::Program<Message> for Tag {
    type State = ();

    fn draw(
        &self,
        _state: &(),
        renderer: &iced::Renderer,
        theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<canvas::Geometry> {
        let paint = palette(theme);
        let mut frame = canvas::Frame::new(renderer, bounds.size());
        let (right, bottom, cut) = (bounds.width - 0.5, bounds.height - 0.5, 18.0);
        let outline = Path::new(|path| {
            path.move_to(Point::new(cut, 0.5));
            path.line_to(Point::new(right - cut, 0.5));
            path.line_to(Point::new(right, cut));
            path.line_to(Point::new(right, bottom));
            path.line_to(Point::new(0.5, bottom));
            path.line_to(Point::new(0.5, cut));
            path.close();
        });
        frame.fill(&outline, paint.sheet);
        let (edge, width) = if self.chosen { (paint.accent, 2.0) } else { (paint.line, 1.0) };
        frame.stroke(&outline, Stroke::default().with_color(edge).with_width(width));
        let hole = Path::circle(Point::new(bounds.width / 2.0, 15.0), 5.0);
        frame.fill(&hole, paint.ground);
        frame.stroke(&hole, Stroke::default().with_color(paint.quiet).with_width(1.0));
        vec![frame.into_geometry()]
    }
}
