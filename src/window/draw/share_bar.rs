//! How much of a room is used: a bar that turns to the colour of a stop, with its end cut off square and a second line,
//! when it is more than there is.

use crate::window::theme;
use iced::advanced::layout::{self, Layout};
use iced::advanced::renderer::{self, Quad};
use iced::advanced::widget::Tree;
use iced::advanced::{Renderer as _, Widget};
use iced::{Background, Border, Color, Element, Length, Rectangle, Size, mouse};

/// Height, pixels.
const HEIGHT: f32 = 12.0;

/// A bar filled by thousandths; above 1000 it is over-full.
#[derive(Debug, Clone, Copy)]
pub struct ShareBar {
    thousandths: u16,
    colour: Option<Color>,
    height: f32,
}

impl ShareBar {
    /// A bar in the colour of what can be done.
    pub fn new(thousandths: u16) -> Self {
        Self { thousandths, colour: None, height: HEIGHT }
    }

    /// In another colour: that of a heat.
    #[must_use]
    pub fn colour(mut self, colour: Color) -> Self {
        self.colour = Some(colour);
        self
    }

    /// Of another height.
    #[must_use]
    pub fn height(mut self, height: f32) -> Self {
        self.height = height;
        self
    }
}

impl<Message> Widget<Message, iced::Theme, iced::Renderer> for ShareBar {
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
        theme: &iced::Theme,
        _style: &renderer::Style,
        layout: Layout<'_>,
        _cursor: mouse::Cursor,
        _viewport: &Rectangle,
    ) {
        let colors = theme::palette(theme);
        let bounds = layout.bounds();
        let over = self.thousandths > 1000;
        let share = f32::from(self.thousandths.min(1000)) / 1000.0;
        let radius = bounds.height / 2.0;
        let mut fill = |bounds: Rectangle, colour: Color, radius: f32| {
            let border = Border { radius: radius.into(), ..Border::default() };
            renderer.fill_quad(Quad { bounds, border, ..Quad::default() }, Background::Color(colour));
        };
        fill(bounds, colors.step, radius);
        let colour = if over { colors.stop } else { self.colour.unwrap_or(colors.accent) };
        if share > 0.0 {
            let width = (bounds.width * share).max(bounds.height);
            fill(Rectangle { width, ..bounds }, colour, radius);
        }
        if over {
            let mark = Rectangle { x: bounds.x + bounds.width - 10.0, width: 3.0, ..bounds };
            fill(mark, colors.sheet, 0.0);
        }
    }
}

impl<'a, Message: 'a> From<ShareBar> for Element<'a, Message> {
    fn from(bar: ShareBar) -> Self {
        Self::new(bar)
    }
}
