//! Work that blocks, on a thread of its own: the window goes on meanwhile.

use iced::Task;
use iced::futures::channel::oneshot;

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
