//! What the hands on a paper remember between frames: what has the focus, what is dragged.

use crate::paper::arrange::Grip;
use iced::Point;
use iced::advanced::widget::operation::Focusable;

/// The focus of one thing.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Focus(pub(super) bool);

impl Focusable for Focus {
    fn is_focused(&self) -> bool {
        self.0
    }

    fn focus(&mut self) {
        self.0 = true;
    }

    fn unfocus(&mut self) {
        self.0 = false;
    }
}

/// A thing being dragged.
#[derive(Debug, Clone, Copy)]
pub(super) struct Drag {
    pub(super) thing: usize,
    pub(super) grip: Grip,
    pub(super) from: Point,
    /// What is selected when it is let go without having moved.
    pub(super) under: Option<usize>,
    /// The tenths told last.
    pub(super) told: [i32; 2],
}

#[derive(Debug, Default)]
pub(super) struct Hands {
    pub(super) focus: Vec<Focus>,
    /// The focus told last.
    pub(super) told: Option<usize>,
    pub(super) drag: Option<Drag>,
    /// A key is held that lets a dragged thing stand anywhere.
    pub(super) free: bool,
    /// The thing under the pointer.
    pub(super) over: Option<usize>,
}

impl Hands {
    pub(super) fn focused(&self) -> Option<usize> {
        self.focus.iter().position(|focus| focus.0)
    }

    pub(super) fn give(&mut self, thing: Option<usize>) {
        for (number, focus) in self.focus.iter_mut().enumerate() {
            focus.0 = Some(number) == thing;
        }
        self.told = thing;
    }
}
