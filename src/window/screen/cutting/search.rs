//! The search for a layout, on a thread of its own: how far it is, and how it is stopped.

use super::Message;
use crate::cutting::{self, Aim, CutError, Flow, Layout, Progress, SheetPlan, USUAL_TRIES};
use iced::Task;
use iced::futures::channel::mpsc;
use std::sync::Arc;
use std::sync::atomic::{AtomicU8, Ordering};

/// What the one who waits says, as a number shared with the thread.
const GO_ON: u8 = 0;
const ENOUGH: u8 = 1;
const CANCEL: u8 = 2;

/// A word is passed on to the window about so many times in a search.
const WORDS: u32 = 50;

/// Something of a search, with its number.
#[derive(Debug, Clone)]
pub enum Event {
    /// It is this far.
    Progress(u64, Progress),
    /// It came to its end.
    Done(u64, Result<Arc<Layout>, CutError>),
}

/// A search under way; dropping it cancels it.
#[derive(Debug)]
pub(super) struct Search {
    pub(super) number: u64,
    /// What is being laid out.
    pub(super) plan: SheetPlan,
    pub(super) progress: Option<Progress>,
    /// The best so far was asked for.
    pub(super) enough: bool,
    halt: Arc<AtomicU8>,
}

impl Search {
    /// Begins a search; the task brings its [`Event`]s.
    pub(super) fn begin(number: u64, plan: SheetPlan, aim: Aim) -> (Self, Task<Message>) {
        let halt = Arc::new(AtomicU8::new(GO_ON));
        let (sender, receiver) = mpsc::unbounded();
        let heard = Arc::clone(&halt);
        let spawned = std::thread::Builder::new().name("cutting".to_owned()).spawn({
            let (sender, plan) = (sender.clone(), plan.clone());
            move || {
                let mut next = 0;
                let mut listen = |progress: Progress| {
                    if progress.tried >= next {
                        next = progress.tried.saturating_add((progress.of / WORDS).max(1));
                        // Nobody listens any longer when the book was closed meanwhile.
                        let _ = sender.unbounded_send(Event::Progress(number, progress));
                    }
                    match heard.load(Ordering::Relaxed) {
                        ENOUGH => Flow::Enough,
                        CANCEL => Flow::Cancel,
                        _ => Flow::GoOn,
                    }
                };
                let found = cutting::mix(&plan, &aim, USUAL_TRIES, &mut listen);
                let _ = sender.unbounded_send(Event::Done(number, found.map(Arc::new)));
            }
        });
        if spawned.is_err() {
            let _ = sender.unbounded_send(Event::Done(number, Err(CutError::Cancelled)));
        }
        let task = Task::run(receiver, Message::Searched);
        (Self { number, plan, progress: None, enough: false, halt }, task)
    }

    /// Asks for the best so far.
    pub(super) fn enough(&mut self) {
        self.enough = true;
        self.halt.store(ENOUGH, Ordering::Relaxed);
    }

    /// How far it is, 0 to 1, and in words.
    pub(super) fn words(&self) -> (f32, String) {
        match self.progress {
            None => (0.0, "Laying out …".to_owned()),
            Some(progress) => {
                let percent = progress.tried.saturating_mul(100) / progress.of.max(1);
                let share = f32::from(u8::try_from(percent.min(100)).unwrap_or(100)) / 100.0;
                let blanks = progress.blanks;
                (share, format!("Laying out: {percent} % of the tries, {blanks} blanks on the best so far"))
            }
        }
    }
}

impl Drop for Search {
    fn drop(&mut self) {
        self.halt.store(CANCEL, Ordering::Relaxed);
    }
}
