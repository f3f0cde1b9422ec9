//! One bar of the cost staircase: it hangs where the bar above it ended.

use iced::advanced::layout::{self, Layout};
use iced::advanced::renderer::{self, Quad};
use iced::advanced::widget::Tree;
use iced::advanced::{Renderer as _, Widget};
use iced::{Background, Border, Color, Element, Length, Rectangle, Size, mouse};

/// A bar from one share of the width to another.
#[derive(Debug, Clone, Copy)]
pub struct Bar {
    from: f32,
    to: f32,
    colour: Color,
    drop: Option<Color>,
    height: f32,
}

impl Bar {
    /// A bar between two shares of the width, 0 to 1, in either order.
    pub fn new(from: f32, to: f32, colour: Color) -> Self {
        Self { from: from.clamp(0.0, 1.0), to: to.clamp(0.0, 1.0), colour, drop: None, height: 36.0 }
    }

    /// Draws the dotted line that leads from its end to the bar below.
    #[must_use]
    pub fn leading_down(mut self, colour: Color) -> Self {
        self.drop = Some(colour);
        self
    }

    /// Height of the row it stands in.
    #[must_use]
    pub fn height(mut self, height: f32) -> Self {
        self.height = height;
        self
    }
}

impl<Message> Widget<Message, iced::Theme, iced::Renderer> for Bar {
    fn size(&self) -> Size<Length> {
        Size::new(Length::Fill, Length::Fixed(self.height))
    }

    fn layout(&mut self, _tree: &mut Tree, _renderer: &iced::Renderer, limits: &layout::Limits) -> layout::Node {
        layout::atomic(limits, Length::Fill, Length::Fixed(self.height))
    }

    fn draw(
        &self,
        _tree: &Tree,
        renderer: &mut iced::Renderer,
        _theme: &iced::Theme,
        _style: &renderer::Style,
        layout: Layout<'_>,
        _cursor: mouse::Cursor,
        _viewport: &Rectangle,
    ) {
        let bounds = layout.bounds();
        let thickness = (bounds.height * 0.6).round();
        let top = bounds.y + ((bounds.height - thickness) / 2.0).round();
        let left = bounds.x + self.from.min(self.to) * bounds.width;
        let width = ((self.to - self.from).abs() * bounds.width).max(2.0);
        renderer.fill_quad(
            Quad {
                bounds: Rectangle { x: left, y: top, width, height: thickness },
                border: Border { radius: 3.0_f32.min(width / 2.0).into(), ..Border::default() },
                ..Quad::default()
            },
            Background::Color(self.colour),
        );
        if let Some(colour) = self.drop {
            let x = (bounds.x + self.to * bounds.width).round();
            let mut y = top + thickness + 1.0;
            // The dots end where the next bar begins, one row further down.
            let end = top + bounds.height;
            while y + 2.0 <= end {
                renderer.fill_quad(
                    Quad { bounds: Rectangle { x: x - 1.0, y, width: 1.0, height: 2.0 }, ..Quad::default() },
                    Background::Color(colour),
                );
                y += 4.0;
            }
        }
    }
}

impl<'a, Message: 'a> From<Bar> for Element<'a, Message> {
    fn from(bar: Bar) -> Self {
        Self::new(bar)
    }
}
