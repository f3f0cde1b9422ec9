//! Moving the keyboard's focus, and scrolling what has it into sight.

use super::modal::MODAL;
use iced::advanced::widget::operation::scrollable::AbsoluteOffset;
use iced::advanced::widget::operation::{Focusable, Operation, Outcome, Scrollable, focusable, scope};
use iced::advanced::widget::{Id, operate};
use iced::{Rectangle, Task, Vector};

/// Where the focus goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Towards {
    /// To the next thing in reading order.
    Next,
    /// To the one before.
    Previous,
}

/// Where the focus may go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Within {
    /// Anywhere in the window.
    Window,
    /// Only in the open modal.
    Modal,
}

/// Moves the focus and scrolls to it.
pub fn step<Message: Send + 'static>(towards: Towards, within: Within) -> Task<Message> {
    let modal = Id::new(MODAL);
    let moved = match (towards, within) {
        (Towards::Next, Within::Window) => operate(focusable::focus_next()),
        (Towards::Previous, Within::Window) => operate(focusable::focus_previous()),
        (Towards::Next, Within::Modal) => operate(scope(modal, focusable::focus_next())),
        (Towards::Previous, Within::Modal) => operate(scope(modal, focusable::focus_previous())),
    };
    moved.chain(reveal())
}

/// Sends the focus to a thing by its name and scrolls to it.
pub fn focus<Message: Send + 'static>(id: impl Into<Id>) -> Task<Message> {
    operate(focusable::focus(id.into())).chain(reveal())
}

/// Scrolls what has the focus into sight.
pub fn reveal<Message: Send + 'static>() -> Task<Message> {
    operate(Find::default())
}

/// A scrollable on the way down to what has the focus.
#[derive(Debug, Clone, Copy)]
struct Frame {
    /// Its number, in the order of the walk.
    number: usize,
    bounds: Rectangle,
    translation: Vector,
}

/// First walk: finds what has the focus and the innermost scrollable around it.
#[derive(Default)]
struct Find {
    count: usize,
    entering: Option<Frame>,
    around: Vec<Frame>,
    found: Option<(Frame, Rectangle)>,
}

impl<T: 'static> Operation<T> for Find {
    fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation<T>)) {
        let entered = self.entering.take();
        self.around.extend(entered);
        operate(self);
        if entered.is_some() {
            let _ = self.around.pop();
        }
    }

    fn scrollable(
        &mut self,
        _id: Option<&Id>,
        bounds: Rectangle,
        _content_bounds: Rectangle,
        translation: Vector,
        _state: &mut dyn Scrollable,
    ) {
        self.entering = Some(Frame { number: self.count, bounds, translation });
        self.count += 1;
    }

    fn focusable(&mut self, _id: Option<&Id>, bounds: Rectangle, state: &mut dyn Focusable) {
        if state.is_focused()
            && let Some(frame) = self.around.last()
        {
            self.found = Some((*frame, bounds));
        }
    }

    fn finish(&self) -> Outcome<T> {
        match self.found.and_then(|(frame, target)| offset_for(&frame, target).map(|to| (frame.number, to))) {
            Some((number, to)) => Outcome::Chain(Box::new(Scroll { count: 0, number, to })),
            None => Outcome::None,
        }
    }
}

/// Room left around what is scrolled to, pixels.
const MARGIN: f32 = 12.0;

/// The offset that brings `target` into the frame; `None` when it is in sight, or as much of it as fits.
fn offset_for(frame: &Frame, target: Rectangle) -> Option<f32> {
    let top = target.y - frame.bounds.y;
    let bottom = top + target.height;
    let (seen_top, seen_bottom) = (frame.translation.y, frame.translation.y + frame.bounds.height);
    if top < seen_top {
        (bottom < seen_bottom).then_some((top - MARGIN).max(0.0))
    } else if bottom > seen_bottom {
        let wanted = bottom + MARGIN - frame.bounds.height;
        Some(wanted.min(top - MARGIN).max(0.0)).filter(|to| (to - seen_top).abs() > 0.5)
    } else {
        None
    }
}

/// Second walk: scrolls that scrollable.
struct Scroll {
    count: usize,
    number: usize,
    to: f32,
}

impl<T: 'static> Operation<T> for Scroll {
    fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation<T>)) {
        operate(self);
    }

    fn scrollable(
        &mut self,
        _id: Option<&Id>,
        _bounds: Rectangle,
        _content_bounds: Rectangle,
        _translation: Vector,
        state: &mut dyn Scrollable,
    ) {
        if self.count == self.number {
            state.scroll_to(AbsoluteOffset { x: None, y: Some(self.to) });
        }
        self.count += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn frame(offset: f32) -> Frame {
        Frame {
            number: 0,
            bounds: Rectangle { x: 0.0, y: 100.0, width: 300.0, height: 400.0 },
            translation: Vector::new(0.0, offset),
        }
    }

    fn at(y: f32, height: f32) -> Rectangle {
        Rectangle { x: 0.0, y: 100.0 + y, width: 100.0, height }
    }

    #[test]
    fn what_is_in_sight_stays_where_it_is() {
        assert_eq!(offset_for(&frame(0.0), at(0.0, 36.0)), None);
        assert_eq!(offset_for(&frame(50.0), at(414.0, 36.0)), None);
    }

    #[test]
    fn what_is_below_or_above_comes_into_sight() {
        assert_eq!(offset_for(&frame(0.0), at(500.0, 36.0)), Some(148.0));
        assert_eq!(offset_for(&frame(600.0), at(500.0, 36.0)), Some(488.0));
        assert_eq!(offset_for(&frame(600.0), at(5.0, 36.0)), Some(0.0));
    }

    #[test]
    fn what_is_taller_than_the_frame_shows_its_head() {
        assert_eq!(offset_for(&frame(0.0), at(300.0, 900.0)), Some(288.0));
        assert_eq!(offset_for(&frame(400.0), at(300.0, 900.0)), None);
    }
}
