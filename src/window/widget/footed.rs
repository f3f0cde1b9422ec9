//! A body over a foot that always stays in sight: the body gets the height the foot leaves it.

use crate::window::theme::space;
use iced::advanced::layout::{Layout, Limits, Node};
use iced::advanced::widget::{Operation, Tree, Widget};
use iced::advanced::{Clipboard, Shell, mouse, overlay, renderer};
use iced::{Element, Event, Length, Point, Rectangle, Renderer, Size, Theme, Vector};

/// Between body and foot, pixels.
const GAP: f32 = space::TWO;

/// A body over a foot, see [`footed`].
struct Footed<'a, Message> {
    /// Body and foot, in the order the focus goes through them.
    parts: [Element<'a, Message>; 2],
}

/// A body over a foot. A column lays its children out from the top, so that a long body would push the foot out of the
/// window; here the foot is laid out first.
pub(super) fn footed<'a, Message: 'a>(
    body: impl Into<Element<'a, Message>>,
    foot: impl Into<Element<'a, Message>>,
) -> Element<'a, Message> {
    Element::new(Footed { parts: [body.into(), foot.into()] })
}

impl<Message> Widget<Message, Theme, Renderer> for Footed<'_, Message> {
    fn children(&self) -> Vec<Tree> {
        self.parts.iter().map(Tree::new).collect()
    }

    fn diff(&self, tree: &mut Tree) {
        tree.diff_children(&self.parts);
    }

    fn size(&self) -> Size<Length> {
        // As wide as the window where one of them is.
        let width =
            self.parts.iter().fold(Length::Shrink, |width, part| width.enclose(part.as_widget().size_hint().width));
        Size::new(width, Length::Shrink)
    }

    fn layout(&mut self, tree: &mut Tree, renderer: &Renderer, limits: &Limits) -> Node {
        let limits = limits.width(self.size().width).height(Length::Shrink).loose();
        let [body, foot] = &mut self.parts;
        let [body_tree, foot_tree] = tree.children.as_mut_slice() else { return Node::new(Size::ZERO) };
        let foot = foot.as_widget_mut().layout(foot_tree, renderer, &limits);
        let under = foot.size().height + GAP;
        let body = body.as_widget_mut().layout(body_tree, renderer, &limits.shrink(Size::new(0.0, under)));
        let size = Size::new(body.size().width.max(foot.size().width), body.size().height + under);
        let foot = foot.move_to(Point::new(0.0, body.size().height + GAP));
        Node::with_children(size, vec![body, foot])
    }

    fn operate(&mut self, tree: &mut Tree, layout: Layout<'_>, renderer: &Renderer, operation: &mut dyn Operation) {
        operation.container(None, layout.bounds());
        operation.traverse(&mut |operation| {
            let parts = self.parts.iter_mut().zip(&mut tree.children).zip(layout.children());
            for ((part, tree), layout) in parts {
                part.as_widget_mut().operate(tree, layout, renderer, operation);
            }
        });
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
        let parts = self.parts.iter_mut().zip(&mut tree.children).zip(layout.children());
        for ((part, tree), layout) in parts {
            part.as_widget_mut().update(tree, event, layout, cursor, renderer, clipboard, shell, viewport);
        }
    }

    fn mouse_interaction(
        &self,
        tree: &Tree,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        viewport: &Rectangle,
        renderer: &Renderer,
    ) -> mouse::Interaction {
        let parts = self.parts.iter().zip(&tree.children).zip(layout.children());
        parts
            .map(|((part, tree), layout)| part.as_widget().mouse_interaction(tree, layout, cursor, viewport, renderer))
            .max()
            .unwrap_or_default()
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
        let parts = self.parts.iter().zip(&tree.children).zip(layout.children());
        for ((part, tree), layout) in parts.filter(|(_, layout)| layout.bounds().intersects(viewport)) {
            part.as_widget().draw(tree, renderer, theme, style, layout, cursor, viewport);
        }
    }

    fn overlay<'b>(
        &'b mut self,
        tree: &'b mut Tree,
        layout: Layout<'b>,
        renderer: &Renderer,
        viewport: &Rectangle,
        translation: Vector,
    ) -> Option<overlay::Element<'b, Message, Theme, Renderer>> {
        overlay::from_children(&mut self.parts, tree, layout, renderer, viewport, translation)
    }
}
