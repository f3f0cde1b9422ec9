//! A batch on its route: the steps of the design's strip, lower, with a dot for every piece where it waits.
//!
//! Where a person may choose a step, the strip is one stop of the Tab key: arrows, Home and End choose, a click does too.

use super::slots::{Slot, slot_at, slots};
use super::strip_picture::{GAP, LEAST, draw_block, draw_ring, fitted, mark_path, measured, words};
use crate::window::theme::{self, Palette, ink_on, palette};
use crate::window::widget::Mark;
use iced::advanced::graphics::geometry::Renderer as _;
use iced::advanced::layout::{self, Layout};
use iced::advanced::widget::{Id, Operation, Tree, operation, tree};
use iced::advanced::{Clipboard, Renderer as _, Shell, Widget, renderer};
use iced::keyboard::{self, Key, key::Named};
use iced::widget::canvas::{Frame, Path, Stroke};
use iced::{Color, Element, Event, Length, Point, Radians, Rectangle, Size, Vector, mouse};

/// A step with the pieces that wait for it.
#[derive(Debug, Clone, PartialEq)]
pub struct LaneStep {
    /// Its name.
    pub name: String,
    /// The short word used where the name does not fit.
    pub word: String,
    /// A second line, e.g. `1337 °F · 3:15`; may be empty.
    pub detail: String,
    /// Its share of the width: any measure, 0 or more.
    pub weight: f32,
    /// Its colour; none for a neutral step.
    pub colour: Option<Color>,
    /// A caution that concerns it.
    pub mark: Option<Mark>,
    /// Pieces that wait for it, in order; true for one the kiln's door is closed on.
    pub dots: Vec<bool>,
    /// Not a step of the route: where pieces wait to be numbered.
    pub end: bool,
}

/// The strip of a batch.
pub struct BatchStrip<'a, Message> {
    id: Option<Id>,
    steps: &'a [LaneStep],
    chosen: Option<usize>,
    height: f32,
    dot: f32,
    on_choose: Option<Box<dyn Fn(usize) -> Message + 'a>>,
}

#[derive(Default)]
struct State {
    focused: bool,
    pressed: Option<usize>,
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

impl<'a, Message> BatchStrip<'a, Message> {
    /// A low strip that only shows.
    pub fn new(steps: &'a [LaneStep]) -> Self {
        Self { id: None, steps, chosen: None, height: 48.0, dot: 7.0, on_choose: None }
    }

    /// The high strip of a batch's own page, on which a step is chosen.
    pub fn choosing(
        id: impl Into<Id>,
        steps: &'a [LaneStep],
        chosen: Option<usize>,
        on_choose: impl Fn(usize) -> Message + 'a,
    ) -> Self {
        Self { id: Some(id.into()), steps, chosen, height: 104.0, dot: 10.0, on_choose: Some(Box::new(on_choose)) }
    }

    fn slots(&self, width: f32) -> Vec<Slot> {
        let weights: Vec<f32> = self.steps.iter().map(|step| step.weight).collect();
        slots(&weights, width, GAP, LEAST)
    }

    /// What a key means while the strip has the keyboard.
    fn key(&self, key: &Key) -> Option<usize> {
        let last = self.steps.len().checked_sub(1)?;
        match key.as_ref() {
            Key::Named(Named::ArrowLeft) => Some(self.chosen.map_or(last, |place| place.saturating_sub(1))),
            Key::Named(Named::ArrowRight) => Some(self.chosen.map_or(0, |place| (place + 1).min(last))),
            Key::Named(Named::Home) => Some(0),
            Key::Named(Named::End) => Some(last),
            _ => None,
        }
    }

    fn draw_step(&self, frame: &mut Frame, paint: &Palette, step: &LaneStep, slot: Slot) {
        let ground = match (step.end, step.colour) {
            (true, _) => paint.sheet,
            (false, colour) => colour.unwrap_or(paint.step),
        };
        let ink = if step.end || step.colour.is_none() { paint.ink } else { ink_on(ground) };
        let edge = if step.end {
            Some(paint.accent)
        } else {
            (theme::contrast(ground, paint.ground) < 1.5).then_some(paint.edge)
        };
        draw_block(frame, slot, self.height, ground, edge);
        self.draw_words(frame, step, slot, ink);
        self.draw_dots(frame, step, slot, ink, ground);
        // A low strip has room for pieces; only what says stop is marked on it too.
        let marked = step.mark.filter(|mark| self.height > 80.0 || *mark == Mark::Stop);
        if let Some(mark) = marked {
            frame.fill(&mark_path(mark, Point::new(slot.x + slot.width - 14.0, 5.0), 10.0), ink);
        }
    }

    /// The name across the top, where it fits; in a high strip the detail under it.
    fn draw_words(&self, frame: &mut Frame, step: &LaneStep, slot: Slot, ink: Color) {
        let size = 12.5;
        let room = slot.width - 14.0 - if step.mark.is_some() { 12.0 } else { 0.0 };
        let full = measured(&step.name, size, theme::STRONG) <= room;
        let name = if full { step.name.as_str() } else { step.word.as_str() };
        if measured(name, size, theme::STRONG) <= room || slot.width >= 64.0 {
            let name = fitted(name, size, theme::STRONG, room);
            frame.fill_text(words(name, Point::new(slot.x + 7.0, 5.0), size, ink, theme::STRONG));
        }
        let high = self.height > 80.0;
        if high && step.dots.is_empty() && slot.width < 64.0 && measured(name, size, theme::STRONG) > room {
            // Nobody waits here: the word stands upright in the room for the dots. A firing is known by its colour, so
            // its heat is worth more than its name.
            let content = if step.detail.is_empty() { name } else { step.detail.as_str() };
            let content = fitted(content, size, theme::REGULAR, self.height - 28.0);
            frame.with_save(|frame| {
                frame.translate(Vector::new(slot.x + (slot.width - 17.0) / 2.0, self.height - 8.0));
                frame.rotate(Radians(-std::f32::consts::FRAC_PI_2));
                frame.fill_text(words(content, Point::ORIGIN, size, ink, theme::REGULAR));
            });
            return;
        }
        let detail = high && measured(&step.detail, size, theme::REGULAR) <= slot.width - 14.0;
        if detail {
            frame.fill_text(words(step.detail.clone(), Point::new(slot.x + 7.0, 22.0), size, ink, theme::REGULAR));
        }
    }

    /// A dot a piece, from the bottom up; a number where they do not fit. A piece in the kiln is a ring.
    #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss)] // pixels
    fn draw_dots(&self, frame: &mut Frame, step: &LaneStep, slot: Slot, ink: Color, ground: Color) {
        if step.dots.is_empty() {
            return;
        }
        let pitch = self.dot + 2.0;
        let top = if self.height > 80.0 { 40.0 } else { 22.0 };
        let columns = (((slot.width - 6.0) / pitch).floor() as usize).max(1);
        let rows = (((self.height - top - 4.0) / pitch).floor() as usize).max(1);
        let count = step.dots.len();
        if count > columns * rows {
            let text = count.to_string();
            let size = if self.height > 80.0 && slot.width > 34.0 { 20.0 } else { 15.0 };
            let width = measured(&text, size, theme::STRONG);
            let at = Point::new(slot.x + (slot.width - width) / 2.0, self.height - size * 1.5 - 2.0);
            frame.fill_text(words(text, at, size, ink, theme::STRONG));
            return;
        }
        let used_rows = count.div_ceil(columns);
        let across = count.min(count.div_ceil(used_rows));
        let left = slot.x + (slot.width - across as f32 * pitch + 2.0) / 2.0;
        let low = self.height - 6.0 - used_rows as f32 * pitch + 2.0;
        for (index, in_kiln) in step.dots.iter().enumerate() {
            let centre = Point::new(
                left + (index % across) as f32 * pitch + self.dot / 2.0,
                low + (index / across) as f32 * pitch + self.dot / 2.0,
            );
            let dot = Path::circle(centre, self.dot / 2.0);
            if *in_kiln {
                let ring = Path::circle(centre, self.dot / 2.0 - 1.0);
                frame.fill(&dot, ground);
                frame.stroke(&ring, Stroke::default().with_color(ink).with_width(2.0));
            } else {
                frame.fill(&dot, ink);
            }
        }
    }
}

impl<Message> Widget<Message, iced::Theme, iced::Renderer> for BatchStrip<'_, Message> {
    fn tag(&self) -> tree::Tag {
        tree::Tag::of::<State>()
    }

    fn state(&self) -> tree::State {
        tree::State::new(State::default())
    }

    fn size(&self) -> Size<Length> {
        Size::new(Length::Fill, Length::Fixed(self.height))
    }

    fn layout(&mut self, _tree: &mut Tree, _renderer: &iced::Renderer, limits: &layout::Limits) -> layout::Node {
        layout::atomic(limits, Length::Fill, Length::Fixed(self.height))
    }

    fn operate(
        &mut self,
        tree: &mut Tree,
        layout: Layout<'_>,
        _renderer: &iced::Renderer,
        operation: &mut dyn Operation,
    ) {
        if self.on_choose.is_some() {
            operation.focusable(self.id.as_ref(), layout.bounds(), tree.state.downcast_mut::<State>());
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
        let Some(on_choose) = &self.on_choose else { return };
        let state = tree.state.downcast_mut::<State>();
        let bounds = layout.bounds();
        match event {
            Event::Keyboard(keyboard::Event::KeyPressed { key, .. }) if state.focused => {
                if let Some(place) = self.key(key) {
                    shell.publish(on_choose(place));
                    shell.capture_event();
                }
            }
            Event::Mouse(mouse::Event::ButtonPressed(mouse::Button::Left)) => {
                state.focused = false;
                state.pressed = cursor.position_in(bounds).and_then(|at| slot_at(&self.slots(bounds.width), at.x));
                if state.pressed.is_some() {
                    state.focused = true;
                    shell.capture_event();
                }
                shell.request_redraw();
            }
            Event::Mouse(mouse::Event::ButtonReleased(mouse::Button::Left)) => {
                if let Some(place) = state.pressed.take() {
                    shell.publish(on_choose(place));
                    shell.capture_event();
                }
            }
            _ => {}
        }
    }

    fn mouse_interaction(
        &self,
        _tree: &Tree,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        _viewport: &Rectangle,
        _renderer: &iced::Renderer,
    ) -> mouse::Interaction {
        if self.on_choose.is_some() && cursor.is_over(layout.bounds()) {
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
        _cursor: mouse::Cursor,
        _viewport: &Rectangle,
    ) {
        let state = tree.state.downcast_ref::<State>();
        let bounds = layout.bounds();
        if bounds.width < 1.0 || self.steps.is_empty() {
            return;
        }
        let paint = palette(theme);
        let slots = self.slots(bounds.width);
        let mut frame = Frame::new(renderer, bounds.size());
        for (step, slot) in self.steps.iter().zip(&slots) {
            self.draw_step(&mut frame, paint, step, *slot);
        }
        let chosen = self.chosen.and_then(|place| slots.get(place));
        draw_ring(&mut frame, paint, chosen, Size::new(bounds.width, self.height), state.focused);
        let picture = frame.into_geometry();
        renderer.with_translation(Vector::new(bounds.x, bounds.y), |renderer| renderer.draw_geometry(picture));
    }
}

impl<'a, Message: 'a> From<BatchStrip<'a, Message>> for Element<'a, Message> {
    fn from(strip: BatchStrip<'a, Message>) -> Self {
        Self::new(strip)
    }
}
