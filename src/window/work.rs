//! Work that blocks, on a thread of its own: the window goes on meanwhile.

use crate::paper::Watch;
use iced::Task;
use iced::futures::channel::{mpsc, oneshot};
use std::ops::ControlFlow;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// Runs work on a thread of its own and brings its answer; a sentence when the work was broken off.
pub fn apart<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> Task<Result<T, String>> {
    let (sender, receiver) = oneshot::channel();
    let started = std::thread::Builder::new().name("work".to_owned()).spawn(move || {
        // Nobody waits for the answer any longer when the window was closed meanwhile.
        let _ = sender.send(work());
    });
    Task::future(async move {
        let _ = started.map_err(|error| format!("the work could not be begun: {error}"))?;
        receiver.await.map_err(|_| "the work was broken off".to_owned())
    })
}

/// How far watched work is told about so many times.
const WORDS: u64 = 50;

/// A word of watched work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Word<T> {
    /// It is this far: done, and of how much.
    Come(u64, u64),
    /// It came to its end; a sentence when it was broken off from outside.
    Done(Result<T, String>),
}

/// Watched work under way; dropping it breaks it off.
#[derive(Debug)]
pub struct Underway {
    halt: Arc<AtomicBool>,
}

impl Drop for Underway {
    fn drop(&mut self) {
        self.halt.store(true, Ordering::Relaxed);
    }
}

/// Runs long work on a thread of its own, which tells how far it is and ends early when what is handed back is dropped.
/// The task brings its [`Word`]s.
pub fn watched<T, Message>(
    work: impl FnOnce(&mut dyn Watch) -> T + Send + 'static,
    message: impl Fn(Word<T>) -> Message + Send + 'static,
) -> (Underway, Task<Message>)
where
    T: Send + 'static,
    Message: Send + 'static,
{
    let halt = Arc::new(AtomicBool::new(false));
    let (sender, receiver) = mpsc::unbounded();
    let started = std::thread::Builder::new().name("watched".to_owned()).spawn({
        let (sender, halt) = (sender.clone(), Arc::clone(&halt));
        move || {
            let mut next = 0;
            let mut watch = |done: u64, of: u64| {
                if done >= next {
                    next = done.saturating_add((of / WORDS).max(1));
                    // Nobody listens any longer when the window was closed meanwhile.
                    let _ = sender.unbounded_send(Word::Come(done, of));
                }
                if halt.load(Ordering::Relaxed) { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
            };
            let done = work(&mut watch);
            let _ = sender.unbounded_send(Word::Done(Ok(done)));
        }
    });
    if let Err(error) = started {
        let _ = sender.unbounded_send(Word::Done(Err(format!("the work could not be begun: {error}"))));
    }
    (Underway { halt }, Task::run(receiver, message))
}
