//! The hands on a paper: every pinned thing is a stop of the Tab key, is taken hold of with the pointer and moved by
//! arrow keys. Lies over the drawn paper and draws no more than frames and handles.
#![allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // pixels of a screen to tenths of a millimetre

use super::Message;
use super::hands::{Drag, Focus, Hands};
use super::laid::Thing;
use crate::paper::arrange::{Grip, Side};
use crate::window::theme;
use iced::advanced::widget::{Id, Operation, Tree, tree};
use iced::advanced::{Clipboard, Layout, Renderer as _, Shell, Widget, layout, mouse, renderer};
use iced::keyboard::key::Named;
use iced::keyboard::{self, Key, Modifiers};
use iced::{Background, Border, Color, Element, Event, Length, Point, Rectangle, Size, Theme, touch};

/// Side of a handle, pixels.
const HANDLE: f32 = 9.0;
/// How near to a handle's middle counts as on it, pixels.
const REACH: f32 = 9.0;
/// How near to a line a dragged thing keeps to it, pixels.
const KEEP: f32 = 6.0;

/// The name the focus is sent to.
pub(super) fn id_of(thing: usize) -> String {
    format!("pin-{thing}")
}

/// The hands.
pub(super) struct Pins<'a> {
    things: &'a [Thing],
    /// Lines that what is dragged stands on: from and to, mm.
    lines: &'a [[[f32; 2]; 2]],
    selected: Option<usize>,
    /// Pixels to a millimetre.
    scale: f32,
    /// May only be looked at.
    locked: bool,
}

impl<'a> Pins<'a> {
    pub(super) fn new(things: &'a [Thing], selected: Option<usize>, scale: f32, locked: bool) -> Self {
        Self { things, lines: &[], selected, scale, locked }
    }

    /// With the lines that what is dragged stands on.
    pub(super) fn on_lines(self, lines: &'a [[[f32; 2]; 2]]) -> Self {
        Self { lines, ..self }
    }

    fn place(&self, thing: usize, bounds: Rectangle) -> Option<Rectangle> {
        let [x, y, width, height] = self.things.get(thing)?.place;
        Some(Rectangle {
            x: bounds.x + x * self.scale,
            y: bounds.y + y * self.scale,
            width: width * self.scale,
            height: height * self.scale,
        })
    }

    /// A place with enough around it to be hit.
    fn target(&self, thing: usize, bounds: Rectangle) -> Option<Rectangle> {
        let place = self.place(thing, bounds)?;
        let wanted = |length: f32| ((10.0 - length) / 2.0).max(0.0);
        let (across, down) = (wanted(place.width), wanted(place.height));
        Some(Rectangle {
            x: place.x - across,
            y: place.y - down,
            width: place.width + 2.0 * across,
            height: place.height + 2.0 * down,
        })
    }

    /// The thing drawn last of those under a point.
    fn topmost(&self, at: Point, bounds: Rectangle) -> Option<usize> {
        (0..self.things.len()).rev().find(|thing| self.target(*thing, bounds).is_some_and(|place| place.contains(at)))
    }

    /// The handle of the selected thing under a point.
    fn handle(&self, at: Point, bounds: Rectangle) -> Option<Grip> {
        let place = self.place(self.selected?, bounds)?;
        Grip::EDGES.into_iter().find(|grip| at.distance(middle_of(*grip, place)) <= REACH)
    }
}

/// The middle of a handle.
fn middle_of(grip: Grip, place: Rectangle) -> Point {
    let along = |side: Side, start: f32, length: f32| match side {
        Side::Before => start,
        Side::Neither => start + length / 2.0,
        Side::After => start + length,
    };
    Point::new(along(grip.across, place.x, place.width), along(grip.down, place.y, place.height))
}

impl Pins<'_> {
    fn pressed(&self, hands: &mut Hands, at: Point, bounds: Rectangle, shell: &mut Shell<'_, Message>) {
        let topmost = self.topmost(at, bounds);
        let handle = (!self.locked).then(|| self.handle(at, bounds)).flatten();
        let held = self
            .selected
            .filter(|thing| handle.is_some() || self.target(*thing, bounds).is_some_and(|place| place.contains(at)))
            .or(topmost);
        hands.give(held);
        if held != self.selected {
            shell.publish(Message::Select(held));
        }
        hands.drag = held.filter(|_| !self.locked).map(|thing| Drag {
            thing,
            grip: handle.unwrap_or(Grip::WHOLE),
            from: at,
            under: if handle.is_some() { Some(thing) } else { topmost },
            told: [0, 0],
        });
        shell.capture_event();
    }

    fn dragged(&self, hands: &mut Hands, at: Point, shell: &mut Shell<'_, Message>) {
        let reach = if hands.free { 0 } else { (KEEP / self.scale * 100.0).round() as i32 };
        let Some(drag) = &mut hands.drag else { return };
        let tenths = |pixels: f32| (pixels / self.scale * 10.0).round() as i32;
        let now = [tenths(at.x - drag.from.x), tenths(at.y - drag.from.y)];
        // A hand that only presses is never quite still.
        let still = drag.told == [0, 0] && at.distance(drag.from) < 3.0;
        if now != drag.told && !still {
            drag.told = now;
            let [right, down] = now;
            shell.publish(Message::Dragged { thing: drag.thing, grip: drag.grip, right, down, reach });
        }
        shell.capture_event();
    }

    fn released(hands: &mut Hands, selected: Option<usize>, shell: &mut Shell<'_, Message>) {
        let Some(drag) = hands.drag.take() else { return };
        if drag.told != [0, 0] {
            shell.publish(Message::Dropped);
        } else if drag.under != selected && drag.under.is_some() {
            hands.give(drag.under);
            shell.publish(Message::Select(drag.under));
        }
        shell.capture_event();
    }

    fn meaning(&self, thing: usize, key: &Key, modifiers: Modifiers) -> Option<Message> {
        if modifiers.alt() {
            return None;
        }
        let Key::Named(named) = key else {
            return match key {
                Key::Character(letter) if letter == "r" && !modifiers.command() && !self.locked => {
                    Some(Message::Turn(thing))
                }
                Key::Character(letter) if letter == "d" && modifiers.command() && !self.locked => {
                    Some(Message::Double(thing))
                }
                _ => None,
            };
        };
        if *named == Named::Enter || *named == Named::Space {
            return Some(Message::Details(thing));
        }
        if self.locked {
            return None;
        }
        let step = if modifiers.shift() { 10 } else { 1 };
        let grip = if modifiers.command() { Grip::FAR } else { Grip::WHOLE };
        let nudged = |right: i32, down: i32| Some(Message::Nudged { thing, grip, right, down });
        match named {
            Named::ArrowLeft => nudged(-step, 0),
            Named::ArrowRight => nudged(step, 0),
            Named::ArrowUp => nudged(0, -step),
            Named::ArrowDown => nudged(0, step),
            Named::Delete | Named::Backspace => Some(Message::Remove(thing)),
            Named::PageUp if modifiers.command() => Some(Message::LiftWhole(thing, true)),
            Named::PageDown if modifiers.command() => Some(Message::LiftWhole(thing, false)),
            Named::PageUp => Some(Message::Lift(thing, true)),
            Named::PageDown => Some(Message::Lift(thing, false)),
            _ => None,
        }
    }
}

impl Widget<Message, Theme, iced::Renderer> for Pins<'_> {
    fn tag(&self) -> tree::Tag {
        tree::Tag::of::<Hands>()
    }

    fn state(&self) -> tree::State {
        tree::State::new(Hands { focus: vec![Focus::default(); self.things.len()], ..Hands::default() })
    }

    fn diff(&self, tree: &mut Tree) {
        tree.state.downcast_mut::<Hands>().focus.resize(self.things.len(), Focus::default());
    }

    fn size(&self) -> Size<Length> {
        Size::new(Length::Fill, Length::Fill)
    }

    fn layout(&mut self, _tree: &mut Tree, _renderer: &iced::Renderer, limits: &layout::Limits) -> layout::Node {
        layout::atomic(limits, Length::Fill, Length::Fill)
    }

    fn operate(
        &mut self,
        tree: &mut Tree,
        layout: Layout<'_>,
        _renderer: &iced::Renderer,
        operation: &mut dyn Operation,
    ) {
        let bounds = layout.bounds();
        let hands = tree.state.downcast_mut::<Hands>();
        for (thing, focus) in hands.focus.iter_mut().enumerate() {
            let Some(place) = self.place(thing, bounds) else { continue };
            let id = Id::from(id_of(thing));
            operation.container(Some(&id), place);
            operation.focusable(Some(&id), place, focus);
        }
    }

    fn update(
        &mut self,
        tree: &mut Tree,
        event: &Event,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        _renderer: &iced::Renderer,
        _clipboard: &mut dyn Clipboard,
        shell: &mut Shell<'_, Message>,
        _viewport: &Rectangle,
    ) {
        let bounds = layout.bounds();
        let hands = tree.state.downcast_mut::<Hands>();
        // The Tab key gave the focus to another thing: it is selected.
        let focused = hands.focused();
        if focused != hands.told {
            hands.told = focused;
            if focused.is_some() && focused != self.selected {
                shell.publish(Message::Select(focused));
            }
            shell.request_redraw();
        }
        match event {
            Event::Mouse(mouse::Event::ButtonPressed(mouse::Button::Left))
            | Event::Touch(touch::Event::FingerPressed { .. }) => match cursor.position_over(bounds) {
                Some(at) => self.pressed(hands, at, bounds, shell),
                None => hands.give(None),
            },
            Event::Mouse(mouse::Event::CursorMoved { .. }) | Event::Touch(touch::Event::FingerMoved { .. }) => {
                if let (Some(at), true) = (cursor.position(), hands.drag.is_some()) {
                    self.dragged(hands, at, shell);
                } else {
                    let over = cursor.position_over(bounds).and_then(|at| self.topmost(at, bounds));
                    if std::mem::replace(&mut hands.over, over) != over {
                        shell.request_redraw();
                    }
                }
            }
            Event::Mouse(mouse::Event::ButtonReleased(mouse::Button::Left))
            | Event::Touch(touch::Event::FingerLifted { .. } | touch::Event::FingerLost { .. })
                if hands.drag.is_some() =>
            {
                Self::released(hands, self.selected, shell);
            }
            Event::Keyboard(keyboard::Event::ModifiersChanged(modifiers)) => {
                hands.free = modifiers.alt() || modifiers.command();
            }
            Event::Keyboard(keyboard::Event::KeyPressed { key, modifiers, .. }) => {
                if let Some(thing) = hands.focused()
                    && let Some(message) = self.meaning(thing, key, *modifiers)
                {
                    if matches!(
                        message,
                        Message::Remove(_) | Message::Lift(..) | Message::LiftWhole(..) | Message::Double(_)
                    ) {
                        // Another thing may stand under that number afterwards.
                        hands.give(None);
                    }
                    shell.publish(message);
                    shell.capture_event();
                }
            }
            _ => {}
        }
    }

    fn draw(
        &self,
        tree: &Tree,
        renderer: &mut iced::Renderer,
        _theme: &Theme,
        _style: &renderer::Style,
        layout: Layout<'_>,
        _cursor: mouse::Cursor,
        _viewport: &Rectangle,
    ) {
        let bounds = layout.bounds();
        let hands = tree.state.downcast_ref::<Hands>();
        // The paper is white in both looks, so are these colours the same.
        let colors = &theme::LIGHT;
        for [[left, top], [right, bottom]] in self.lines {
            let line = Rectangle {
                x: bounds.x + left * self.scale - 0.5,
                y: bounds.y + top * self.scale - 0.5,
                width: ((right - left) * self.scale).max(1.0),
                height: ((bottom - top) * self.scale).max(1.0),
            };
            renderer.fill_quad(
                renderer::Quad { bounds: line, ..renderer::Quad::default() },
                Background::Color(colors.stop),
            );
        }
        let mut framed = |bounds: Rectangle, color: Color, width: f32| {
            renderer.fill_quad(
                renderer::Quad {
                    bounds,
                    border: Border { color, width, radius: 0.0.into() },
                    ..renderer::Quad::default()
                },
                Background::Color(Color::TRANSPARENT),
            );
        };
        for (number, thing) in self.things.iter().enumerate() {
            let Some(place) = self.place(number, bounds) else { continue };
            if self.selected == Some(number) {
                continue;
            }
            if hands.over == Some(number) {
                framed(place, colors.accent, 1.0);
            } else if !thing.warnings.is_empty() {
                framed(place, colors.caution, 1.0);
            }
        }
        let Some(place) = self.selected.and_then(|thing| self.place(thing, bounds)) else { return };
        let around =
            Rectangle { x: place.x - 1.0, y: place.y - 1.0, width: place.width + 2.0, height: place.height + 2.0 };
        let focused = hands.focused().is_some();
        framed(around, colors.accent, if focused { 2.5 } else { 1.5 });
        if self.locked {
            return;
        }
        for grip in Grip::EDGES {
            let middle = middle_of(grip, place);
            let square =
                Rectangle { x: middle.x - HANDLE / 2.0, y: middle.y - HANDLE / 2.0, width: HANDLE, height: HANDLE };
            renderer.fill_quad(
                renderer::Quad {
                    bounds: square,
                    border: Border { color: colors.accent, width: 1.5, radius: 2.0.into() },
                    ..renderer::Quad::default()
                },
                Background::Color(colors.sheet),
            );
        }
    }

    fn mouse_interaction(
        &self,
        tree: &Tree,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        _viewport: &Rectangle,
        _renderer: &iced::Renderer,
    ) -> mouse::Interaction {
        let bounds = layout.bounds();
        let hands = tree.state.downcast_ref::<Hands>();
        if hands.drag.is_some() {
            return mouse::Interaction::Grabbing;
        }
        let Some(at) = cursor.position_over(bounds) else { return mouse::Interaction::None };
        match self.handle(at, bounds) {
            Some(Grip { across: Side::Neither, .. }) => mouse::Interaction::ResizingVertically,
            Some(Grip { down: Side::Neither, .. }) => mouse::Interaction::ResizingHorizontally,
            Some(_) => mouse::Interaction::Crosshair,
            None if self.topmost(at, bounds).is_some() => mouse::Interaction::Grab,
            None => mouse::Interaction::None,
        }
    }
}

impl<'a> From<Pins<'a>> for Element<'a, Message> {
    fn from(pins: Pins<'a>) -> Self {
        Element::new(pins)
    }
}
