//! A text on one line; where the room is too narrow it ends in “…”, never in the middle of a letter.

use crate::window::theme::{self, size};
use iced::advanced::text::paragraph::{self, Plain};
use iced::advanced::text::{Alignment, LineHeight, Paragraph as _, Renderer as _, Shaping, Text, Wrapping};
use iced::advanced::widget::text::{Format, Style, draw, layout};
use iced::advanced::widget::tree::{self, Tree};
use iced::advanced::widget::{Operation, Widget};
use iced::advanced::{Layout, layout as node, mouse, renderer};
use iced::{Element, Font, Length, Pixels, Rectangle, Renderer, Size, Theme};
use std::borrow::Cow;

/// What a line that was cut ends in.
const ELLIPSIS: char = '…';

/// Words on one line, see [`fitted`].
pub struct Fitted<'a> {
    words: Cow<'a, str>,
    size: Pixels,
    font: Option<Font>,
    style: fn(&Theme) -> Style,
}

/// Words on one line, in the size of running text. What assistive tools and tests read is the whole text.
pub fn fitted<'a>(words: impl Into<Cow<'a, str>>) -> Fitted<'a> {
    Fitted { words: words.into(), size: size::BODY.into(), font: None, style: |_| Style::default() }
}

impl Fitted<'_> {
    /// In small type that stands back.
    #[must_use]
    pub fn small(self) -> Self {
        Self { size: size::SMALL.into(), style: theme::quiet, ..self }
    }

    /// With weight.
    #[must_use]
    pub fn strong(self) -> Self {
        Self { font: Some(theme::STRONG), ..self }
    }

    /// In another colour.
    #[must_use]
    pub fn style(self, style: fn(&Theme) -> Style) -> Self {
        Self { style, ..self }
    }

    fn text<'t>(&self, content: &'t str, renderer: &Renderer) -> Text<&'t str, Font> {
        Text {
            content,
            bounds: Size::INFINITE,
            size: self.size,
            line_height: LineHeight::default(),
            font: self.font.unwrap_or_else(|| renderer.default_font()),
            align_x: Alignment::Default,
            align_y: iced::alignment::Vertical::Top,
            shaping: Shaping::default(),
            wrapping: Wrapping::None,
        }
    }

    /// The longest beginning of the words that fits with an ellipsis.
    fn cut(&self, width: f32, renderer: &Renderer) -> String {
        let fits = |end: usize| {
            let short = shortened(&self.words, end);
            paragraph_of(self.text(&short, renderer)).min_width() <= width
        };
        let ends: Vec<usize> = self.words.char_indices().map(|(at, _)| at).collect();
        let most = ends.partition_point(|end| fits(*end));
        shortened(&self.words, most.checked_sub(1).and_then(|last| ends.get(last)).copied().unwrap_or(0))
    }
}

type Paragraph = <Renderer as iced::advanced::text::Renderer>::Paragraph;

fn paragraph_of(text: Text<&str, Font>) -> Paragraph {
    paragraph::Paragraph::with_text(text)
}

/// The words up to a byte, without spaces at the end, and an ellipsis.
fn shortened(words: &str, end: usize) -> String {
    let mut short = words.get(..end).unwrap_or_default().trim_end().to_owned();
    short.push(ELLIPSIS);
    short
}

/// What is kept between frames: measuring is only done anew when words or room change.
#[derive(Default)]
struct Kept {
    words: String,
    width: f32,
    look: Option<(Pixels, Option<Font>)>,
    fitted: Option<String>,
    paragraph: Plain<Paragraph>,
}

impl<Message> Widget<Message, Theme, Renderer> for Fitted<'_> {
    fn tag(&self) -> tree::Tag {
        tree::Tag::of::<Kept>()
    }

    fn state(&self) -> tree::State {
        tree::State::new(Kept::default())
    }

    fn size(&self) -> Size<Length> {
        Size::new(Length::Shrink, Length::Shrink)
    }

    fn layout(&mut self, tree: &mut Tree, renderer: &Renderer, limits: &node::Limits) -> node::Node {
        let kept = tree.state.downcast_mut::<Kept>();
        let width = limits.max().width;
        let look = Some((self.size, self.font));
        let same = kept.words == *self.words && (kept.width - width).abs() < 0.01 && kept.look == look;
        if !same {
            let whole = paragraph_of(self.text(&self.words, renderer)).min_width();
            kept.fitted = (whole > width).then(|| self.cut(width, renderer));
            kept.words.clear();
            kept.words.push_str(&self.words);
            (kept.width, kept.look) = (width, look);
        }
        let content = kept.fitted.as_deref().unwrap_or(&self.words);
        let format = Format {
            size: Some(self.size),
            font: self.font,
            wrapping: Wrapping::None,
            shaping: Shaping::default(),
            ..Format::default()
        };
        layout(&mut kept.paragraph, renderer, limits, content, format)
    }

    fn draw(
        &self,
        tree: &Tree,
        renderer: &mut Renderer,
        theme: &Theme,
        defaults: &renderer::Style,
        layout: Layout<'_>,
        _cursor: mouse::Cursor,
        viewport: &Rectangle,
    ) {
        let kept = tree.state.downcast_ref::<Kept>();
        draw(renderer, defaults, layout.bounds(), kept.paragraph.raw(), (self.style)(theme), viewport);
    }

    fn operate(&mut self, _tree: &mut Tree, layout: Layout<'_>, _renderer: &Renderer, operation: &mut dyn Operation) {
        operation.text(None, layout.bounds(), &self.words);
    }
}

impl<'a, Message: 'a> From<Fitted<'a>> for Element<'a, Message> {
    fn from(line: Fitted<'a>) -> Self {
        Self::new(line)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cut_line_ends_in_an_ellipsis_without_a_space_before_it() {
        assert_eq!(shortened("Copper disc 30, flat", 12), "Copper disc…");
        assert_eq!(shortened("Émail", 2), "É…");
        assert_eq!(shortened("Émail", 0), "…");
    }
}
