//! The PDF being made and sent on its way, on a thread of its own: how far it is, and how it is broken off.

use super::going::{Leaving, Target};
use super::state::Message;
use crate::exchange::file_out;
use crate::exchange::print_queue::{self, PrintOrder};
use crate::paper::{Finish, PageRange, PaperProblem, Properties, pdf};
use crate::window::machine;
use chrono::NaiveDateTime;
use iced::Task;
use iced::futures::channel::mpsc;
use std::ops::ControlFlow;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// A word is passed on to the window about so many times in a run.
const WORDS: u64 = 50;

/// What the thread is at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// Laying the pages out.
    Laying,
    /// Writing them.
    Writing,
}

/// Something of a PDF being made, with its number.
#[derive(Debug, Clone)]
pub enum Event {
    /// It is this far.
    Come(u64, Stage, u64, u64),
    /// It came to its end.
    Made(u64, Made),
}

/// How it ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Made {
    /// It is where it should be: what was done, a sentence.
    Out(String),
    /// It was broken off, and nothing was written.
    Stopped,
    /// Why it was not made, a sentence.
    Failed(String),
}

/// How a PDF is made and handed over.
#[derive(Debug, Clone)]
pub(super) struct Order {
    pub(super) target: Target,
    pub(super) finish: Finish,
    /// Which pages, and as typed; none for all.
    pub(super) range: Option<(PageRange, String)>,
    pub(super) copies: u32,
    pub(super) now: NaiveDateTime,
}

/// A PDF being made; dropping it breaks it off.
#[derive(Debug)]
pub(super) struct Making {
    pub(super) number: u64,
    pub(super) order: Order,
    come: Option<(Stage, u64, u64)>,
    pub(super) stopping: bool,
    halt: Arc<AtomicBool>,
}

impl Making {
    /// Begins; the task brings its [`Event`]s.
    pub(super) fn begin(number: u64, leaving: Leaving, order: Order) -> (Self, Task<Message>) {
        let halt = Arc::new(AtomicBool::new(false));
        let (sender, receiver) = mpsc::unbounded();
        let worker = Worker { number, sender: sender.clone(), halt: Arc::clone(&halt), stage: Stage::Laying, next: 0 };
        let spawned = std::thread::Builder::new().name("paper".to_owned()).spawn({
            let (sender, order) = (sender.clone(), order.clone());
            move || {
                // Nobody listens any longer when the book was closed meanwhile.
                let _ = sender.unbounded_send(Event::Made(number, worker.make(leaving, &order)));
            }
        });
        if let Err(error) = spawned {
            let made = Made::Failed(format!("the work could not be begun: {error}"));
            let _ = sender.unbounded_send(Event::Made(number, made));
        }
        (Self { number, order, come: None, stopping: false, halt }, Task::run(receiver, Message::Heard))
    }

    /// It is this far.
    pub(super) fn come(&mut self, stage: Stage, done: u64, of: u64) {
        self.come = Some((stage, done, of));
    }

    /// Breaks it off, where it is not handed over yet.
    pub(super) fn stop(&mut self) {
        self.stopping = true;
        self.halt.store(true, Ordering::Relaxed);
    }

    /// How far it is, 0 to 1, and in words.
    pub(super) fn words(&self) -> (f32, String) {
        let (stage, done, of) = self.come.unwrap_or((Stage::Laying, 0, 1));
        let percent = done.saturating_mul(100) / of.max(1);
        let share = f32::from(u8::try_from(percent.min(100)).unwrap_or(100)) / 100.0;
        let words = match stage {
            _ if self.stopping => "Being broken off …".to_owned(),
            Stage::Laying if done == 0 => "The PDF is being made …".to_owned(),
            Stage::Laying => format!("Laying out: {percent} %"),
            Stage::Writing => format!("Writing page {done} of {of}"),
        };
        (share, words)
    }
}

impl Drop for Making {
    fn drop(&mut self) {
        self.halt.store(true, Ordering::Relaxed);
    }
}

/// What the thread does.
struct Worker {
    number: u64,
    sender: mpsc::UnboundedSender<Event>,
    halt: Arc<AtomicBool>,
    stage: Stage,
    next: u64,
}

impl Worker {
    fn is_stopped(&self) -> bool {
        self.halt.load(Ordering::Relaxed)
    }

    fn begin(&mut self, stage: Stage) {
        self.stage = stage;
        self.next = 0;
    }

    fn come(&mut self, done: u64, of: u64) -> ControlFlow<()> {
        if done >= self.next {
            self.next = done.saturating_add((of / WORDS).max(1));
            let _ = self.sender.unbounded_send(Event::Come(self.number, self.stage, done, of));
        }
        if self.is_stopped() { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    }

    fn make(mut self, leaving: Leaving, order: &Order) -> Made {
        self.begin(Stage::Laying);
        let Leaving { lay, title, author, language, file_name, .. } = leaving;
        let laid = lay(&mut |done, of| self.come(done, of));
        if self.is_stopped() {
            return Made::Stopped;
        }
        let laid = match laid {
            Ok(laid) => laid,
            Err(reason) => return Made::Failed(reason),
        };
        let cut = match order.range.as_ref().map(|(range, _)| range.of(&laid.document)).transpose() {
            Ok(cut) => cut.map(Arc::new),
            Err(problem) => return Made::Failed(problem.to_string()),
        };
        let document = cut.unwrap_or_else(|| Arc::clone(&laid.document));
        let properties = Properties { title, author, created: order.now, language: language.tag().to_owned() };
        self.begin(Stage::Writing);
        let written = pdf::write_for(&document, &properties, &order.finish, &mut |done, of| self.come(done, of));
        if self.is_stopped() {
            return Made::Stopped;
        }
        let bytes = match written {
            Ok(bytes) => bytes,
            Err(PaperProblem::Stopped) => return Made::Stopped,
            Err(problem) => return Made::Failed(problem.to_string()),
        };
        let mut summary = laid.summary;
        if let Some((_, typed)) = &order.range {
            let named = if document.pages.len() == 1 { "page" } else { "pages" };
            summary = format!("{named} {typed} of {summary}");
        }
        let size = document.pages.first().map(|page| [page.width_mm, page.height_mm]);
        match deliver(&bytes, size, &file_name, &summary, order) {
            Ok(done) => Made::Out(format!("{done}{}", laid.remark)),
            Err(reason) => Made::Failed(reason),
        }
    }
}

/// Brings a PDF where it shall go; what was done, or why not, as a sentence. `size_mm` is that of its pages.
fn deliver(
    bytes: &[u8],
    size_mm: Option<[f64; 2]>,
    file_name: &str,
    summary: &str,
    order: &Order,
) -> Result<String, String> {
    match &order.target {
        Target::File(path) => {
            file_out::write(path, bytes).map_err(|error| error.to_string())?;
            Ok(format!("Saved {summary} to {}", path.display()))
        }
        Target::Viewer => {
            let path = kept(file_name, bytes)?;
            open::that_detached(&path)
                .map_err(|error| format!("{} could not be opened in a viewer: {error}", path.display()))?;
            Ok(format!("Opened {}: print it at 100 %", path.display()))
        }
        Target::Printer(printer) => {
            let path = kept(file_name, bytes)?;
            let handed = PrintOrder { printer: printer.clone(), copies: order.copies, size_mm };
            let told = print_queue::print(&path, &handed).map_err(|problem| problem.to_string())?;
            let told = told.lines().next().map_or_else(String::new, |line| format!(": {line}"));
            let copies = if order.copies == 1 { String::new() } else { format!(", {} copies", order.copies) };
            let to = if printer.is_empty() { "the printer" } else { printer.as_str() };
            Ok(format!("Sent {summary}{copies} to {to}{told}"))
        }
    }
}

/// Writes the PDF into the platform's folder for the program's data, where it stays.
fn kept(file_name: &str, bytes: &[u8]) -> Result<PathBuf, String> {
    let folder = machine::papers_folder()
        .ok_or_else(|| "this machine has no home folder to put the PDF in: save it instead".to_owned())?;
    std::fs::create_dir_all(&folder).map_err(|error| format!("{} cannot be made: {error}", folder.display()))?;
    let path = folder.join(file_name);
    file_out::write(&path, bytes).map_err(|error| error.to_string())?;
    Ok(path)
}
