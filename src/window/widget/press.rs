//! A surface that can be pressed with the mouse, a finger or the keyboard.
//!
//! The toolkit's own button cannot take the keyboard's focus; this one can. Tab reaches it, Enter and Space press it,
//! a ring shows where the focus is. Everything in the window that can be pressed is made of it.

use crate::window::theme::{self, PressStyle};
use iced::advanced::widget::{Id, Operation, Tree, operation, tree};
use iced::advanced::{Clipboard, Layout, Renderer as _, Shell, Widget, layout, mouse, overlay, renderer};
use iced::keyboard::key::Named;
use iced::keyboard::{self, Key};
use iced::widget::button::Status;
use iced::{
    Alignment, Background, Border, Color, Element, Event, Length, Padding, Rectangle, Size, Theme, Vector, touch,
    window,
};

type StyleOf<'a> = Box<dyn Fn(&Theme, Status) -> PressStyle + 'a>;
type KeyOf<'a, Message> = Box<dyn Fn(Named) -> Option<Message> + 'a>;

/// A surface that can be pressed. Without a message it is disabled and the focus passes it by.
pub struct Press<'a, Message> {
    content: Element<'a, Message>,
    id: Option<Id>,
    on_press: Option<Message>,
    on_key: Option<KeyOf<'a, Message>>,
    width: Length,
    height: Length,
    padding: Padding,
    align: Alignment,
    style: StyleOf<'a>,
    mouse: Mouse,
    status: Option<Status>,
}

/// What the pointer may do to a surface.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Mouse {
    /// Press it.
    Presses,
    /// Only give it the focus: what lies on it is pressed instead.
    Focuses,
}

impl<'a, Message> Press<'a, Message> {
    /// A surface with something on it.
    pub fn new(content: impl Into<Element<'a, Message>>) -> Self {
        Self {
            content: content.into(),
            id: None,
            on_press: None,
            on_key: None,
            width: Length::Shrink,
            height: Length::Shrink,
            padding: Padding::from([theme::space::HALF, theme::space::ONE]),
            align: Alignment::Center,
            style: Box::new(theme::quiet_button),
            mouse: Mouse::Presses,
            status: None,
        }
    }

    /// A name the focus can be sent to.
    #[must_use]
    pub fn id(mut self, id: impl Into<Id>) -> Self {
        self.id = Some(id.into());
        self
    }

    /// What pressing it means.
    #[must_use]
    pub fn on_press(mut self, message: Message) -> Self {
        self.on_press = Some(message);
        self
    }

    /// What pressing it means; `None` disables it.
    #[must_use]
    pub fn on_press_maybe(mut self, message: Option<Message>) -> Self {
        self.on_press = message;
        self
    }

    /// What other named keys mean while it has the focus (arrows, Delete …). Enter and Space always press.
    #[must_use]
    pub fn on_key(mut self, meaning: impl Fn(Named) -> Option<Message> + 'a) -> Self {
        self.on_key = Some(Box::new(meaning));
        self
    }

    /// Width.
    #[must_use]
    pub fn width(mut self, width: impl Into<Length>) -> Self {
        self.width = width.into();
        self
    }

    /// Height; at least [`theme::TARGET`] unless it sits in a row that is.
    #[must_use]
    pub fn height(mut self, height: impl Into<Length>) -> Self {
        self.height = height.into();
        self
    }

    /// Room around the content.
    #[must_use]
    pub fn padding(mut self, padding: impl Into<Padding>) -> Self {
        self.padding = padding.into();
        self
    }

    /// Where the content lies across the surface; the middle unless said otherwise.
    #[must_use]
    pub fn align(mut self, align: Alignment) -> Self {
        self.align = align;
        self
    }

    /// Pressed by keys alone; the pointer reaches what lies on it and gives it the focus.
    #[must_use]
    pub fn keyboard_only(mut self) -> Self {
        self.mouse = Mouse::Focuses;
        self
    }

    /// How it looks in each state.
    #[must_use]
    pub fn style(mut self, style: impl Fn(&Theme, Status) -> PressStyle + 'a) -> Self {
        self.style = Box::new(style);
        self
    }
}

/// What a surface remembers between frames.
#[derive(Debug, Default)]
struct State {
    focused: bool,
    /// The focus came by keyboard and shows.
    ring: bool,
    pressed: bool,
}

impl operation::Focusable for State {
    fn is_focused(&self) -> bool {
        self.focused
    }

    fn focus(&mut self) {
        self.focused = true;
        self.ring = true;
    }

    fn unfocus(&mut self) {
        self.focused = false;
        self.ring = false;
    }
}

impl<Message> Press<'_, Message> {
    fn status_of(&self, state: &State, cursor: mouse::Cursor, bounds: Rectangle) -> Status {
        if self.on_press.is_none() {
            Status::Disabled
        } else if self.mouse == Mouse::Presses && cursor.is_over(bounds) {
            if state.pressed { Status::Pressed } else { Status::Hovered }
        } else {
            Status::Active
        }
    }
}

// The tree of a surface has exactly one child, its content: `children` and `diff` below make it so, and `layout`
// gives its node exactly one child.
#[allow(clippy::indexing_slicing)]
impl<Message: Clone> Widget<Message, Theme, iced::Renderer> for Press<'_, Message> {
    fn tag(&self) -> tree::Tag {
        tree::Tag::of::<State>()
    }

    fn state(&self) -> tree::State {
        tree::State::new(State::default())
    }

    fn children(&self) -> Vec<Tree> {
        vec![Tree::new(&self.content)]
    }

    fn diff(&self, tree: &mut Tree) {
        tree.diff_children(std::slice::from_ref(&self.content));
    }

    fn size(&self) -> Size<Length> {
        Size { width: self.width, height: self.height }
    }

    fn layout(&mut self, tree: &mut Tree, renderer: &iced::Renderer, limits: &layout::Limits) -> layout::Node {
        let align = self.align;
        let content = &mut self.content;
        layout::positioned(
            limits,
            self.width,
            self.height,
            self.padding,
            |limits| content.as_widget_mut().layout(&mut tree.children[0], renderer, &limits.loose()),
            |node, size| node.align(align, Alignment::Center, size),
        )
    }

    fn operate(
        &mut self,
        tree: &mut Tree,
        layout: Layout<'_>,
        renderer: &iced::Renderer,
        operation: &mut dyn Operation,
    ) {
        let bounds = layout.bounds();
        operation.container(self.id.as_ref(), bounds);
        if self.on_press.is_some() {
            operation.focusable(self.id.as_ref(), bounds, tree.state.downcast_mut::<State>());
        }
        if let Some(inner) = layout.children().next() {
            operation.traverse(&mut |operation| {
                self.content.as_widget_mut().operate(&mut tree.children[0], inner, renderer, operation);
            });
        }
    }

    fn update(
        &mut self,
        tree: &mut Tree,
        event: &Event,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        renderer: &iced::Renderer,
        clipboard: &mut dyn Clipboard,
        shell: &mut Shell<'_, Message>,
        viewport: &Rectangle,
    ) {
        let bounds = layout.bounds();
        // Pressing elsewhere takes the focus away even when what was pressed keeps the event for itself.
        if let Event::Mouse(mouse::Event::ButtonPressed(_)) | Event::Touch(touch::Event::FingerPressed { .. }) = event {
            let state = tree.state.downcast_mut::<State>();
            if !cursor.is_over(bounds) {
                if state.ring {
                    shell.request_redraw();
                }
                operation::Focusable::unfocus(state);
            } else if self.mouse == Mouse::Focuses && self.on_press.is_some() {
                state.focused = true;
            }
        }
        if let Some(inner) = layout.children().next() {
            self.content.as_widget_mut().update(
                &mut tree.children[0],
                event,
                inner,
                cursor,
                renderer,
                clipboard,
                shell,
                viewport,
            );
        }
        if shell.is_event_captured() {
            return;
        }
        let state = tree.state.downcast_mut::<State>();
        match event {
            Event::Mouse(mouse::Event::ButtonPressed(mouse::Button::Left))
            | Event::Touch(touch::Event::FingerPressed { .. })
                if self.mouse == Mouse::Presses && self.on_press.is_some() && cursor.is_over(bounds) =>
            {
                state.pressed = true;
                state.focused = true;
                state.ring = false;
                shell.capture_event();
            }
            Event::Mouse(mouse::Event::ButtonReleased(mouse::Button::Left))
            | Event::Touch(touch::Event::FingerLifted { .. })
                if state.pressed =>
            {
                state.pressed = false;
                if let Some(message) = &self.on_press
                    && cursor.is_over(bounds)
                {
                    shell.publish(message.clone());
                }
                shell.capture_event();
            }
            Event::Touch(touch::Event::FingerLost { .. }) => state.pressed = false,
            Event::Keyboard(keyboard::Event::KeyPressed { key: Key::Named(key), modifiers, repeat, .. })
                if state.focused && !modifiers.command() && !modifiers.alt() =>
            {
                if matches!(key, Named::Enter | Named::Space) {
                    if let Some(message) = &self.on_press
                        && !repeat
                    {
                        state.ring = true;
                        shell.publish(message.clone());
                    }
                    shell.capture_event();
                } else if let Some(message) = self.on_key.as_ref().and_then(|meaning| meaning(*key)) {
                    state.ring = true;
                    shell.publish(message);
                    shell.capture_event();
                }
            }
            _ => {}
        }
        let status = self.status_of(tree.state.downcast_ref::<State>(), cursor, bounds);
        if let Event::Window(window::Event::RedrawRequested(_)) = event {
            self.status = Some(status);
        } else if self.status.is_some_and(|shown| shown != status) {
            shell.request_redraw();
        }
    }

    fn draw(
        &self,
        tree: &Tree,
        renderer: &mut iced::Renderer,
        theme: &Theme,
        _style: &renderer::Style,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        viewport: &Rectangle,
    ) {
        let bounds = layout.bounds();
        let state = tree.state.downcast_ref::<State>();
        let status = self.status.unwrap_or_else(|| self.status_of(state, mouse::Cursor::Unavailable, bounds));
        let style = (self.style)(theme, status);
        if style.background.is_some() || style.border.width > 0.0 {
            renderer.fill_quad(
                renderer::Quad { bounds, border: style.border, shadow: style.shadow, snap: style.snap },
                style.background.unwrap_or(Background::Color(Color::TRANSPARENT)),
            );
        }
        if let Some(inner) = layout.children().next() {
            self.content.as_widget().draw(
                &tree.children[0],
                renderer,
                theme,
                &renderer::Style { text_color: style.text_color },
                inner,
                cursor,
                viewport,
            );
        }
        if state.focused && state.ring {
            draw_ring(renderer, theme, bounds, style.border, self.mouse);
        }
    }

    fn mouse_interaction(
        &self,
        tree: &Tree,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        viewport: &Rectangle,
        renderer: &iced::Renderer,
    ) -> mouse::Interaction {
        let inner = layout.children().next().map_or(mouse::Interaction::None, |inner| {
            self.content.as_widget().mouse_interaction(&tree.children[0], inner, cursor, viewport, renderer)
        });
        let pressable = self.mouse == Mouse::Presses && self.on_press.is_some();
        if inner == mouse::Interaction::None && pressable && cursor.is_over(layout.bounds()) {
            mouse::Interaction::Pointer
        } else {
            inner
        }
    }

    fn overlay<'b>(
        &'b mut self,
        tree: &'b mut Tree,
        layout: Layout<'b>,
        renderer: &iced::Renderer,
        viewport: &Rectangle,
        translation: Vector,
    ) -> Option<overlay::Element<'b, Message, Theme, iced::Renderer>> {
        let inner = layout.children().next()?;
        self.content.as_widget_mut().overlay(&mut tree.children[0], inner, renderer, viewport, translation)
    }
}

/// The ring that shows the focus: two lines, ink outside and sheet inside, so that it reads on a surface of any colour.
/// Round what only holds other surfaces, a list say, one quieter line is enough.
fn draw_ring(renderer: &mut iced::Renderer, theme: &Theme, bounds: Rectangle, border: Border, mouse: Mouse) {
    let colors = theme::palette(theme);
    let outer = if mouse == Mouse::Focuses { colors.accent } else { colors.ink };
    let inner = Rectangle {
        x: bounds.x + 2.0,
        y: bounds.y + 2.0,
        width: (bounds.width - 4.0).max(0.0),
        height: (bounds.height - 4.0).max(0.0),
    };
    for (bounds, color, width) in [(bounds, outer, 2.0), (inner, colors.sheet, 1.0)] {
        renderer.fill_quad(
            renderer::Quad {
                bounds,
                border: Border { color, width, radius: border.radius },
                ..renderer::Quad::default()
            },
            Background::Color(Color::TRANSPARENT),
        );
    }
}

impl<'a, Message: Clone + 'a> From<Press<'a, Message>> for Element<'a, Message> {
    fn from(press: Press<'a, Message>) -> Self {
        Element::new(press)
    }
}
