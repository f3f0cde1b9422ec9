//! Marks that carry their meaning in shape and word, never in colour alone.

use crate::window::theme::{self, size, space};
use iced::mouse;
use iced::widget::canvas::{self, Path, Stroke};
use iced::widget::{Canvas, row, text};
use iced::{Alignment, Color, Element, Length, Point, Rectangle, Renderer, Theme};

/// What a mark says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Mark {
    /// All is well: a filled circle.
    Good,
    /// Look before you go on: a triangle.
    Caution,
    /// Do not do this: an octagon with a bar.
    Stop,
    /// Opens: a triangle pointing right.
    Closed,
    /// Is open: a triangle pointing down.
    Open,
    /// Rises down the column: a triangle pointing up.
    Rising,
    /// Falls down the column: a triangle pointing down.
    Falling,
    /// A dot of any colour with a hair line: a swatch.
    Swatch(Color),
}

/// Side of a mark, pixels at 100 %.
const SIDE: f32 = 14.0;

struct Drawing(Mark);

impl<Message> canvas::Program<Message> for Drawing {
    type State = ();

    fn draw(
        &self,
        (): &(),
        renderer: &Renderer,
        theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<canvas::Geometry> {
        let mut frame = canvas::Frame::new(renderer, bounds.size());
        let colors = theme::palette(theme);
        let half = bounds.width / 2.0;
        let center = Point::new(half, bounds.height / 2.0);
        let around = |turns: &[f32], radius: f32| {
            Path::new(|path| {
                for (index, turn) in turns.iter().enumerate() {
                    let angle = turn * std::f32::consts::TAU;
                    let point = Point::new(center.x + radius * angle.cos(), center.y + radius * angle.sin());
                    if index == 0 {
                        path.move_to(point);
                    } else {
                        path.line_to(point);
                    }
                }
                path.close();
            })
        };
        let triangle = |turn: f32, radius: f32| around(&[turn, turn + 1.0 / 3.0, turn + 2.0 / 3.0], radius);
        match self.0 {
            Mark::Good => frame.fill(&Path::circle(center, half * 0.6), colors.accent),
            Mark::Caution => frame.fill(&triangle(-0.25, half * 0.95), colors.caution),
            Mark::Stop => {
                let corners: Vec<f32> = (0u8..8).map(|corner| (f32::from(corner) + 0.5) / 8.0).collect();
                frame.fill(&around(&corners, half * 0.95), colors.stop);
                let bar = Path::line(
                    Point::new(center.x - half * 0.45, center.y),
                    Point::new(center.x + half * 0.45, center.y),
                );
                frame.stroke(&bar, Stroke::default().with_color(colors.sheet).with_width(2.0));
            }
            Mark::Closed => frame.fill(&triangle(0.0, half * 0.7), colors.quiet),
            Mark::Open | Mark::Falling => frame.fill(&triangle(0.25, half * 0.7), colors.quiet),
            Mark::Rising => frame.fill(&triangle(-0.25, half * 0.7), colors.quiet),
            Mark::Swatch(color) => {
                let circle = Path::circle(center, half * 0.85);
                frame.fill(&circle, color);
                frame.stroke(&circle, Stroke::default().with_color(colors.edge).with_width(1.0));
            }
        }
        vec![frame.into_geometry()]
    }
}

/// A mark on its own, where the word stands beside it.
pub fn mark<'a, Message: 'a>(mark: Mark) -> Element<'a, Message> {
    Canvas::new(Drawing(mark)).width(Length::Fixed(SIDE)).height(Length::Fixed(SIDE)).into()
}

/// A mark with its sentence: what the caution is, and under it what to do about it.
pub fn caution_line<'a, Message: 'a>(
    kind: Mark,
    what: impl text::IntoFragment<'a>,
    way_out: Option<String>,
) -> Element<'a, Message> {
    let ink = match kind {
        Mark::Caution => theme::caution,
        Mark::Stop => theme::stop,
        _ => |_: &Theme| text::Style::default(),
    };
    row![
        iced::widget::container(mark(kind)).padding([3.0, 0.0]),
        iced::widget::column![
            text(what).size(size::BODY).font(theme::STRONG).style(ink),
            way_out.map(super::prose::small)
        ]
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Start)
    .into()
}
