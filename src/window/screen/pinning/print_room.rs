//! What the room does about printing: of what, on what, and the PDF's way out.

use super::message::Message;
use super::printing::{Printing, Question};
use super::state::{State, Waiting};
use crate::actions;
use crate::paper::{Properties, pdf};
use crate::window::screen::papers::{Target, deliver};
use crate::window::screen::{Action, Notice};
use crate::window::widget::listing::Event;
use crate::window::widget::modal;
use crate::window::widget::path_field::{Wanted, ask, typed_path};
use crate::window::{Shared, work};
use std::path::PathBuf;
use std::sync::Arc;

impl State {
    /// What happens while printing.
    pub(super) fn on_print(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        let count = self.subjects.len();
        let Some(printing) = &mut self.printing else { return Action::None };
        match message {
            Message::List(event) => {
                let ticked = match event {
                    Event::Pressed(place) => {
                        printing.list.select((place < count).then_some(place));
                        true
                    }
                    Event::Enter => true,
                    _ => false,
                };
                if !ticked {
                    let (_, task) = printing.list.update(event, count);
                    return Action::Run(task);
                }
                if let Some(place) = printing.list.selected() {
                    printing.toggle(place);
                }
            }
            Message::All(all) => printing.all(all, count),
            Message::Copies(text) => printing.copies.type_in(text),
            Message::Sheet(name) => printing.choose_sheet(name, &shared.snapshot),
            Message::Start(text) => printing.start.type_in(text),
            Message::StartAt(label) => printing.start.set(label.to_string()),
            Message::Dots(name) => printing.dots = name,
            Message::Page(page) => {
                printing.turn(page, &mut self.tools);
                return Action::None;
            }
            Message::Renew => {}
            Message::Note => {
                printing.note = !printing.note && !shared.read_only();
                return Action::None;
            }
            Message::Laid(turn, done) => {
                if printing.laying != Some(turn) {
                    return Action::None;
                }
                printing.laying = None;
                match done {
                    Ok(Ok(document)) => {
                        let count = document.pages.iter().map(|page| page.places.len()).sum::<usize>();
                        printing.show(document, u64::try_from(count).unwrap_or(u64::MAX), &mut self.tools);
                    }
                    Ok(Err(problem)) => printing.problem = Some(problem.to_string()),
                    Err(reason) => printing.problem = Some(reason),
                }
                return Action::None;
            }
            _ => return self.out(message, shared),
        }
        self.lay_run(shared)
    }

    /// The PDF's way out.
    pub(super) fn out(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        let Some(printing) = &mut self.printing else { return Action::None };
        match message {
            Message::Path(text) => {
                printing.path.type_in(text);
                printing.path_problem = None;
                Action::None
            }
            Message::Browse => {
                Action::Run(ask(Wanted::Save, "Save as PDF", "papers.pdf", "PDF", &["pdf"]).map(Message::Picked))
            }
            Message::Picked(Some(path)) => {
                printing.path.set(path.display().to_string());
                // The dialog has asked about a file that is there already.
                self.make(Target::File(path), None, shared)
            }
            Message::SavePdf => {
                let Some(mut path) = typed_path(printing.path.text()) else {
                    printing.path_problem = Some("type a path, e.g. ~/tags.pdf".to_owned());
                    return Action::None;
                };
                if path.extension().is_none() && !path.is_dir() {
                    let _ = path.set_extension("pdf");
                }
                let replaces = path.is_file().then(|| path.clone());
                self.make(Target::File(path), replaces, shared)
            }
            Message::View => self.make(Target::Viewer, None, shared),
            Message::Printer(name) => {
                printing.printer.type_in(name);
                Action::None
            }
            Message::Send => {
                let target = Target::Printer(printing.printer.trimmed().to_owned());
                self.make(target, None, shared)
            }
            Message::Confirmed(target) => self.send(target, shared),
            Message::Made(made) => self.made(made, shared),
            _ => Action::None,
        }
    }

    fn make(&mut self, target: Target, replaces: Option<PathBuf>, shared: &Shared) -> Action<Message> {
        let Some(printing) = &mut self.printing else { return Action::None };
        if !printing.is_ready() {
            let reason = printing.problem.clone().unwrap_or_else(|| "the pages are not laid out yet".to_owned());
            return Action::Notify(Notice::Trouble(reason));
        }
        let mut stops: Vec<String> = printing
            .ticked()
            .filter_map(|place| self.subjects.get(place))
            .flat_map(|subject| subject.stops.iter().cloned())
            .collect();
        stops.dedup();
        if stops.is_empty() && replaces.is_none() {
            return self.send(target, shared);
        }
        printing.question = Some(Question { target, stops, replaces });
        Action::Run(modal::enter())
    }

    fn send(&mut self, target: Target, shared: &Shared) -> Action<Message> {
        let (Some(printing), Some(draft)) = (&mut self.printing, &self.draft) else { return Action::None };
        printing.question = None;
        let Some(run) = &printing.run else { return Action::None };
        let document = Arc::clone(&run.document);
        let summary = printing.summary(draft.paper.kind);
        let properties = Properties {
            title: draft.paper.name.clone(),
            author: shared.settings().studio_name.clone(),
            created: shared.clock.now(),
            language: draft.paper.languages.first().copied().unwrap_or_default().tag().to_owned(),
        };
        let file_name = format!("{}.pdf", draft.paper.kind.name());
        printing.making = true;
        let work = work::apart(move || {
            let bytes = pdf::write(&document, &properties).map_err(|error| error.to_string())?;
            let size = document.pages.first().map(|page| [page.width_mm, page.height_mm]);
            deliver(&bytes, size, &file_name, &summary, &target)
        });
        Action::Run(work.map(|done| Message::Made(done.and_then(|made| made))))
    }

    fn made(&mut self, made: Result<String, String>, shared: &Shared) -> Action<Message> {
        let (Some(printing), Some(draft)) = (&mut self.printing, &self.draft) else { return Action::None };
        printing.making = false;
        let done = match made {
            Ok(done) => done,
            Err(reason) => return Action::Notify(Notice::Trouble(reason)),
        };
        printing.path.settle();
        let told = Action::Notify(Notice::Done(done));
        let noted = printing.noted(draft.paper.kind, &self.subjects, shared.today, &shared.preferences);
        match noted.filter(|_| printing.note && !shared.read_only()) {
            Some((tags, sheet)) => {
                self.waiting.push_back(Waiting::Other);
                Action::Many(vec![told, Action::Do(actions::Action::NotePrinted { tags, sheet })])
            }
            None => told,
        }
    }

    pub(super) fn open_print(&mut self, shared: &Shared) -> Action<Message> {
        let Some(draft) = &self.draft else { return Action::None };
        let path = Self::proposed(shared, &draft.paper.name, "pdf");
        self.printing = Some(Printing::new(&shared.snapshot, &draft.paper, self.shown, path));
        self.lay_run(shared)
    }
}
