//! The search for a plan, on a thread of its own: how far it is, and how it is stopped.

use super::Message;
use crate::kiln::plan::{self, KilnPlan, PlanAsk, PlanProblem, Progress, USUAL_EFFORT};
use iced::Task;
use iced::futures::channel::mpsc;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// A word is passed on to the window about so many times in a search.
const WORDS: u32 = 50;

/// Something of a search, with its number.
#[derive(Debug, Clone)]
pub enum Event {
    /// It is this far.
    Progress(u64, Progress),
    /// It came to its end.
    Done(u64, Result<Arc<KilnPlan>, PlanProblem>),
}

/// A search under way; dropping it cancels it.
#[derive(Debug)]
pub(super) struct Search {
    pub(super) number: u64,
    progress: Option<Progress>,
    stop: Arc<AtomicBool>,
}

impl Search {
    /// Begins a search; the task brings its [`Event`]s.
    pub(super) fn begin(number: u64, ask: PlanAsk) -> (Self, Task<Message>) {
        let stop = Arc::new(AtomicBool::new(false));
        let (sender, receiver) = mpsc::unbounded();
        let heard = Arc::clone(&stop);
        let spawned = std::thread::Builder::new().name("planning".to_owned()).spawn({
            let sender = sender.clone();
            move || {
                let mut next = 0;
                let mut listen = |progress: Progress| {
                    if progress.tried >= next {
                        next = progress.tried.saturating_add((progress.of / WORDS).max(1));
                        // Nobody listens any longer when the book was closed meanwhile.
                        let _ = sender.unbounded_send(Event::Progress(number, progress));
                    }
                    !heard.load(Ordering::Relaxed)
                };
                let found = plan::plan(&ask, USUAL_EFFORT, &mut listen);
                let _ = sender.unbounded_send(Event::Done(number, found.map(Arc::new)));
            }
        });
        if spawned.is_err() {
            let _ = sender.unbounded_send(Event::Done(number, Err(PlanProblem::Cancelled)));
        }
        (Self { number, progress: None, stop }, Task::run(receiver, Message::Searched))
    }

    /// It is this far.
    pub(super) fn hear(&mut self, progress: Progress) {
        self.progress = Some(progress);
    }

    /// How far it is, 0 to 1, and in words.
    pub(super) fn words(&self) -> (f32, String) {
        let percent = self.progress.map_or(0, |so_far| so_far.tried.saturating_mul(100) / so_far.of.max(1)).min(100);
        let share = f32::from(u8::try_from(percent).unwrap_or(100)) / 100.0;
        (share, format!("Planning: {percent} % of the tries"))
    }
}

impl Drop for Search {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}
