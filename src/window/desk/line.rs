//! The thread the book lives on, and the way to it.

use super::{Opened, Reply, Request, answer};
use crate::actions::{self, ActionKey, Order, Refusal};
use crate::book::{Access, Book, BookError, backup};
use chrono::NaiveDateTime;
use iced::futures::channel::oneshot;
use std::future::Future;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::sync::{Arc, mpsc};
use std::thread::JoinHandle;

#[derive(Debug)]
struct Job {
    request: Request,
    at: NaiveDateTime,
    reply: oneshot::Sender<Result<Reply, BookError>>,
}

/// The way to the thread that owns the book. The book is closed, and free for others, when the last copy is dropped.
#[derive(Debug, Clone)]
pub struct Desk {
    line: Arc<Line>,
}

/// The thread and the way to it.
#[derive(Debug)]
struct Line {
    jobs: Option<mpsc::Sender<Job>>,
    thread: Option<JoinHandle<()>>,
}

impl Drop for Line {
    fn drop(&mut self) {
        // Without a sender the thread comes to its end once it has done what is in line; waiting for it makes sure that
        // the book is closed before it is opened again.
        drop(self.jobs.take());
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}

/// What to do about a book before working on it.
#[derive(Debug, Clone, PartialEq)]
pub enum Start {
    /// Open it.
    Open(Access),
    /// Make it new, and carry out these actions in it first.
    Create(Vec<actions::Action>),
}

impl Desk {
    /// Starts the thread and opens or makes the book there.
    pub fn start(
        path: &Path,
        start: Start,
        now: NaiveDateTime,
    ) -> impl Future<Output = Result<Opened, BookError>> + Send + use<> {
        let (jobs, inbox) = mpsc::channel::<Job>();
        let (ready, opened) = oneshot::channel();
        let path = path.to_owned();
        let place = path.clone();
        let spawned = std::thread::Builder::new().name("book".to_owned()).spawn(move || {
            let begun = guarded(|| {
                let book = match start {
                    Start::Open(access) => Book::open(&place, access, now.date())?,
                    Start::Create(first) => begin(&place, first, now)?,
                };
                let snapshot = actions::snapshot(&book)?;
                Ok((book, snapshot))
            });
            match begun {
                Ok((book, snapshot)) => {
                    if ready.send(Ok(Arc::new(snapshot))).is_ok() {
                        serve(book, &inbox);
                    }
                }
                Err(error) => {
                    let _ = ready.send(Err(error));
                }
            }
        });
        async move {
            let thread =
                spawned.map_err(|error| BookError::System { path: path.clone(), detail: error.to_string() })?;
            let line = Arc::new(Line { jobs: Some(jobs), thread: Some(thread) });
            let snapshot = opened.await.map_err(|_| BookError::Stopped)??;
            Ok(Opened { desk: Self { line }, snapshot, path })
        }
    }

    /// Sends a request. It is in line as soon as this returns; the answer comes when the future is awaited.
    pub fn ask(
        &self,
        request: Request,
        at: NaiveDateTime,
    ) -> impl Future<Output = Result<Reply, BookError>> + Send + use<> {
        let (reply, answer) = oneshot::channel();
        let sent = self.line.jobs.as_ref().is_some_and(|jobs| jobs.send(Job { request, at, reply }).is_ok());
        async move {
            if !sent {
                return Err(BookError::Stopped);
            }
            answer.await.map_err(|_| BookError::Stopped)?
        }
    }
}

/// Makes a new book with the folder it lies in, and carries out its first actions.
fn begin(path: &Path, first: Vec<actions::Action>, at: NaiveDateTime) -> Result<Book, BookError> {
    if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        std::fs::create_dir_all(folder)
            .map_err(|error| BookError::System { path: folder.to_owned(), detail: error.to_string() })?;
    }
    let mut book = Book::create(path)?;
    for action in first {
        match actions::perform(&mut book, action, Order { key: ActionKey::fresh(), at }) {
            Ok(_) => {}
            Err(Refusal::Book(error)) => return Err(error),
            Err(refusal) => {
                return Err(BookError::System { path: path.to_owned(), detail: refusal.to_string() });
            }
        }
    }
    Ok(book)
}

/// Puts a backup in the place of a book that is closed, on a thread of its own; a copy of the book as it was is kept.
pub fn restore(
    backup: &Path,
    book: &Path,
    at: NaiveDateTime,
) -> impl Future<Output = Result<(), BookError>> + Send + use<> {
    let (ready, done) = oneshot::channel();
    let (backup, book) = (backup.to_owned(), book.to_owned());
    let spawned = std::thread::Builder::new().name("restore".to_owned()).spawn(move || {
        let _ = ready.send(guarded(|| backup::restore(&book, &backup, at).map(|_| ())));
    });
    async move {
        let _ = spawned.map_err(|_| BookError::Stopped)?;
        done.await.map_err(|_| BookError::Stopped)?
    }
}

/// Runs something that must not bring the thread down.
fn guarded<T>(work: impl FnOnce() -> Result<T, BookError>) -> Result<T, BookError> {
    catch_unwind(AssertUnwindSafe(work)).unwrap_or(Err(BookError::Stopped))
}

fn serve(mut book: Book, inbox: &mpsc::Receiver<Job>) {
    while let Ok(Job { request, at, reply }) = inbox.recv() {
        let answer = guarded(|| answer(&mut book, request, at));
        let broken = matches!(answer, Err(BookError::Stopped));
        let _ = reply.send(answer);
        if broken {
            // The book may be in the middle of something: close it rather than work on. Its last transaction is
            // rolled back by closing.
            return;
        }
    }
}
