//! A route as a strip of steps: widths are cost, firings glow in their heat, coats wear their enamel.
//!
//! The strip is one widget with one place in the order of Tab. With the keyboard on it: arrows choose, Home and End go
//! to the ends, Alt with an arrow moves the step in hand, Insert adds one after it, Ctrl+D copies it, Delete takes it
//! away, Enter opens or closes it. With the mouse: a click chooses, dragging moves.

use super::slots::{Slot, gap_at, slot_at, slots};
use super::strip_picture::{self, COSTS, GAP, HEIGHT, LEAST};
use crate::window::theme::palette;
use crate::window::widget::Mark;
use iced::advanced::graphics::geometry::Renderer as _;
use iced::advanced::layout::{self, Layout};
use iced::advanced::widget::{Id, Operation, Tree, operation, tree};
use iced::advanced::{Clipboard, Renderer as _, Shell, Widget, renderer};
use iced::keyboard::{self, Key, key::Named};
use iced::widget::canvas::{Cache, Frame, Path};
use iced::{Color, Element, Event, Length, Point, Rectangle, Size, Vector, mouse};
use std::cell::Cell;

/// One step as it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct StripStep {
    /// Its name.
    pub name: String,
    /// The short word used where the name does not fit.
    pub word: String,
    /// A second line, e.g. `1337 °F · 3:15`; may be empty.
    pub detail: String,
    /// Its cost, formatted; may be empty.
    pub cost: String,
    /// Its share of the width: any measure, 0 or more.
    pub weight: f32,
    /// Its colour; none for a neutral step.
    pub colour: Option<Color>,
    /// A caution that concerns it.
    pub mark: Option<Mark>,
}

/// What a person does to a strip.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StripEvent {
    /// Takes a step in hand, by its place from 0.
    Choose(usize),
    /// Opens the step in hand, or closes it.
    Toggle,
    /// Moves a step so that it stands at another place.
    Move {
        /// Where it stands.
        from: usize,
        /// Where it shall stand.
        to: usize,
    },
    /// Adds a step after the one in hand.
    Add,
    /// Copies the step in hand.
    Copy,
    /// Takes the step in hand away.
    Remove,
}

/// The strip.
pub struct RouteStrip<'a, Message> {
    id: Id,
    steps: &'a [StripStep],
    version: u64,
    chosen: Option<usize>,
    on_event: Box<dyn Fn(StripEvent) -> Message + 'a>,
}

#[derive(Default)]
struct State {
    focused: bool,
    modifiers: keyboard::Modifiers,
    pressed: Option<(usize, f32)>,
    dragging: bool,
    cache: Cache,
    drawn: Cell<Option<(u64, bool)>>,
}

impl operation::Focusable for State {
    fn is_focused(&self) -> bool {
        self.focused
    }
    fn focus(&mut self) {
        self.focused = true;
    }
    fn unfocus(&mut self) {
        self.focused = false;
    }
}

impl<'a, Message> RouteStrip<'a, Message> {
    /// A strip of steps. `version` changes whenever the steps do: the picture is drawn anew only then.
    pub fn new(
        id: impl Into<Id>,
        steps: &'a [StripStep],
        version: u64,
        chosen: Option<usize>,
        on_event: impl Fn(StripEvent) -> Message + 'a,
    ) -> Self {
        Self { id: id.into(), steps, version, chosen, on_event: Box::new(on_event) }
    }

    fn slots(&self, width: f32) -> Vec<Slot> {
        let weights: Vec<f32> = self.steps.iter().map(|step| step.weight).collect();
        slots(&weights, width, GAP, LEAST)
    }

    /// What a key means while the strip has the keyboard.
    fn key_event(&self, key: &Key, modifiers: keyboard::Modifiers) -> Option<StripEvent> {
        let last = self.steps.len().checked_sub(1)?;
        let chosen = self.chosen.map(|place| place.min(last));
        let before = chosen.map_or(last, |place| place.saturating_sub(1));
        let after = chosen.map_or(0, |place| (place + 1).min(last));
        match key.as_ref() {
            Key::Named(Named::ArrowLeft) if modifiers.alt() => {
                chosen.filter(|place| *place > 0).map(|from| StripEvent::Move { from, to: from - 1 })
            }
            Key::Named(Named::ArrowRight) if modifiers.alt() => {
                chosen.filter(|place| *place < last).map(|from| StripEvent::Move { from, to: from + 1 })
            }
            Key::Named(Named::ArrowLeft) => Some(StripEvent::Choose(before)),
            Key::Named(Named::ArrowRight) => Some(StripEvent::Choose(after)),
            Key::Named(Named::Home) => Some(StripEvent::Choose(0)),
            Key::Named(Named::End) => Some(StripEvent::Choose(last)),
            Key::Named(Named::Enter | Named::Space) => Some(StripEvent::Toggle),
            Key::Named(Named::Insert) | Key::Character("+") => Some(StripEvent::Add),
            Key::Named(Named::Delete) => chosen.map(|_| StripEvent::Remove),
            Key::Character("d") if modifiers.command() => chosen.map(|_| StripEvent::Copy),
            _ => None,
        }
    }
}

impl<Message> Widget<Message, iced::Theme, iced::Renderer> for RouteStrip<'_, Message> {
    fn tag(&self) -> tree::Tag {
        tree::Tag::of::<State>()
    }

    fn state(&self) -> tree::State {
        tree::State::new(State::default())
    }

    fn size(&self) -> Size<Length> {
        Size::new(Length::Fill, Length::Fixed(HEIGHT + COSTS))
    }

    fn layout(&mut self, _tree: &mut Tree, _renderer: &iced::Renderer, limits: &layout::Limits) -> layout::Node {
        layout::atomic(limits, Length::Fill, Length::Fixed(HEIGHT + COSTS))
    }

    fn operate(
        &mut self,
        tree: &mut Tree,
        layout: Layout<'_>,
        _renderer: &iced::Renderer,
        operation: &mut dyn Operation,
    ) {
        operation.focusable(Some(&self.id), layout.bounds(), tree.state.downcast_mut::<State>());
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
        let state = tree.state.downcast_mut::<State>();
        let bounds = layout.bounds();
        match event {
            Event::Keyboard(keyboard::Event::ModifiersChanged(modifiers)) => state.modifiers = *modifiers,
            Event::Keyboard(keyboard::Event::KeyPressed { key: Key::Named(Named::Escape), .. }) if state.dragging => {
                state.dragging = false;
                state.pressed = None;
                shell.capture_event();
                shell.request_redraw();
            }
            Event::Keyboard(keyboard::Event::KeyPressed { key, modifiers, .. }) if state.focused => {
                if let Some(event) = self.key_event(key, *modifiers) {
                    shell.publish((self.on_event)(event));
                    shell.capture_event();
                }
            }
            Event::Mouse(mouse::Event::ButtonPressed(mouse::Button::Left)) => {
                state.focused = false;
                if let Some(at) = cursor.position_in(bounds)
                    && let Some(place) = slot_at(&self.slots(bounds.width), at.x)
                {
                    state.focused = true;
                    state.pressed = Some((place, at.x));
                    shell.capture_event();
                }
                shell.request_redraw();
            }
            Event::Mouse(mouse::Event::CursorMoved { .. }) => {
                if let (Some((_, from)), Some(at)) = (state.pressed, cursor.position()) {
                    let moved = (at.x - bounds.x - from).abs() > 6.0;
                    if moved || state.dragging {
                        state.dragging = true;
                        shell.request_redraw();
                    }
                }
            }
            Event::Mouse(mouse::Event::ButtonReleased(mouse::Button::Left)) => {
                let Some((from, _)) = state.pressed.take() else { return };
                let dragged = std::mem::take(&mut state.dragging);
                if dragged {
                    shell.request_redraw();
                    if let Some(at) = cursor.position() {
                        let gap = gap_at(&self.slots(bounds.width), at.x - bounds.x);
                        let to = if gap > from { gap - 1 } else { gap };
                        if to != from {
                            shell.publish((self.on_event)(StripEvent::Move { from, to }));
                        }
                    }
                } else {
                    shell.publish((self.on_event)(StripEvent::Choose(from)));
                }
                shell.capture_event();
            }
            _ => {}
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
        if tree.state.downcast_ref::<State>().dragging {
            mouse::Interaction::Grabbing
        } else if cursor.is_over(layout.bounds()) {
            mouse::Interaction::Pointer
        } else {
            mouse::Interaction::default()
        }
    }

    fn draw(
        &self,
        tree: &Tree,
        renderer: &mut iced::Renderer,
        theme: &iced::Theme,
        _style: &renderer::Style,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        _viewport: &Rectangle,
    ) {
        let state = tree.state.downcast_ref::<State>();
        let bounds = layout.bounds();
        if bounds.width < 1.0 || self.steps.is_empty() {
            return;
        }
        let paint = palette(theme);
        let slots = self.slots(bounds.width);
        let drawn = Some((self.version, paint.dark));
        if state.drawn.replace(drawn) != drawn {
            state.cache.clear();
        }
        let picture =
            state.cache.draw(renderer, bounds.size(), |frame| strip_picture::draw(frame, paint, self.steps, &slots));
        let mut over = Frame::new(renderer, bounds.size());
        let chosen = self.chosen.and_then(|place| slots.get(place));
        strip_picture::draw_ring(&mut over, paint, chosen, Size::new(bounds.width, HEIGHT), state.focused);
        if let (true, Some((from, _)), Some(at)) = (state.dragging, state.pressed, cursor.position()) {
            let gap = gap_at(&slots, at.x - bounds.x);
            let x = match slots.get(gap) {
                Some(slot) => slot.x - GAP / 2.0,
                None => bounds.width - 2.0,
            };
            let bar = Path::rounded_rectangle(Point::new(x - 2.0, 0.0), Size::new(4.0, HEIGHT), 2.0.into());
            over.fill(&bar, paint.accent);
            if let Some(slot) = slots.get(from) {
                let ghost = Path::rounded_rectangle(
                    Point::new(at.x - bounds.x - slot.width / 2.0, 6.0),
                    Size::new(slot.width, HEIGHT - 12.0),
                    4.0.into(),
                );
                let colour = self.steps.get(from).and_then(|step| step.colour).unwrap_or(paint.step);
                over.fill(&ghost, Color { a: 0.6, ..colour });
            }
        }
        let over = over.into_geometry();
        renderer.with_translation(Vector::new(bounds.x, bounds.y), |renderer| {
            renderer.draw_geometry(picture);
            renderer.draw_geometry(over);
        });
    }
}

impl<'a, Message: 'a> From<RouteStrip<'a, Message>> for Element<'a, Message> {
    fn from(strip: RouteStrip<'a, Message>) -> Self {
        Self::new(strip)
    }
}
