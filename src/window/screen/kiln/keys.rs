//! Keys that mean something on a page as a whole, wherever the focus is: they are heard once nothing on the page has
//! taken them for itself (a field its letters, a button that has the focus its Space).

use iced::advanced::widget::{Operation, Tree, tree};
use iced::advanced::{Clipboard, Layout, Shell, Widget, layout, mouse, overlay, renderer};
use iced::keyboard::{self, Key};
use iced::{Element, Event, Length, Rectangle, Renderer, Size, Theme, Vector};

type Meaning<'a, Message> = Box<dyn Fn(&Key) -> Option<Message> + 'a>;

/// A page with its keys.
pub(in crate::window::screen) struct Keys<'a, Message> {
    page: Element<'a, Message>,
    meaning: Meaning<'a, Message>,
}

/// A page that hears keys without Ctrl, Alt or repeat.
pub(in crate::window::screen) fn keys<'a, Message: 'a>(
    page: impl Into<Element<'a, Message>>,
    meaning: impl Fn(&Key) -> Option<Message> + 'a,
) -> Element<'a, Message> {
    Element::new(Keys { page: page.into(), meaning: Box::new(meaning) })
}

impl<Message> Widget<Message, Theme, Renderer> for Keys<'_, Message> {
    fn tag(&self) -> tree::Tag {
        self.page.as_widget().tag()
    }

    fn state(&self) -> tree::State {
        self.page.as_widget().state()
    }

    fn children(&self) -> Vec<Tree> {
        self.page.as_widget().children()
    }

    fn diff(&self, tree: &mut Tree) {
        self.page.as_widget().diff(tree);
    }

    fn size(&self) -> Size<Length> {
        self.page.as_widget().size()
    }

    fn layout(&mut self, tree: &mut Tree, renderer: &Renderer, limits: &layout::Limits) -> layout::Node {
        self.page.as_widget_mut().layout(tree, renderer, limits)
    }

    fn operate(&mut self, tree: &mut Tree, layout: Layout<'_>, renderer: &Renderer, operation: &mut dyn Operation) {
        self.page.as_widget_mut().operate(tree, layout, renderer, operation);
    }

    fn update(
        &mut self,
        tree: &mut Tree,
        event: &Event,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        renderer: &Renderer,
        clipboard: &mut dyn Clipboard,
        shell: &mut Shell<'_, Message>,
        viewport: &Rectangle,
    ) {
        self.page.as_widget_mut().update(tree, event, layout, cursor, renderer, clipboard, shell, viewport);
        if shell.is_event_captured() {
            return;
        }
        if let Event::Keyboard(keyboard::Event::KeyPressed { key, modifiers, repeat: false, .. }) = event
            && !modifiers.command()
            && !modifiers.alt()
            && let Some(message) = (self.meaning)(key)
        {
            shell.publish(message);
            shell.capture_event();
        }
    }

    fn draw(
        &self,
        tree: &Tree,
        renderer: &mut Renderer,
        theme: &Theme,
        style: &renderer::Style,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        viewport: &Rectangle,
    ) {
        self.page.as_widget().draw(tree, renderer, theme, style, layout, cursor, viewport);
    }

    fn mouse_interaction(
        &self,
        tree: &Tree,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        viewport: &Rectangle,
        renderer: &Renderer,
    ) -> mouse::Interaction {
        self.page.as_widget().mouse_interaction(tree, layout, cursor, viewport, renderer)
    }

    fn overlay<'b>(
        &'b mut self,
        tree: &'b mut Tree,
        layout: Layout<'b>,
        renderer: &Renderer,
        viewport: &Rectangle,
        translation: Vector,
    ) -> Option<overlay::Element<'b, Message, Theme, Renderer>> {
        self.page.as_widget_mut().overlay(tree, layout, renderer, viewport, translation)
    }
}
