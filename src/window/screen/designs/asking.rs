//! Questions of the room and what comes of them: dialogs, files, the book's answers.

use super::dialog::{Dialog, Question};
use super::files::{self, Existing};
use super::page::{Page, Photo};
use super::room::{Message, State};
use super::starter::starter;
use crate::actions::{self, Added, Outcome, Refusal};
use crate::studio::{Design, DesignId, Follows};
use crate::window::Shared;
use crate::window::desk::Answer;
use crate::window::screen::{Action, Notice};
use crate::window::widget::path_field::{Wanted, ask, typed_path};
use std::path::PathBuf;

/// What an answer of the book will be about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Waiting {
    /// The page's draft was saved.
    Save,
    /// A design was added; it is opened.
    Add,
    /// Something that needs no more than the toast.
    Other,
    /// A photo was set; it is asked for.
    Photo(DesignId),
}

pub(super) fn happened(state: &mut State, message: Message, shared: &Shared) -> Action<Message> {
    let snapshot = &shared.snapshot;
    match message {
        Message::AskNew if !shared.read_only() => state.ask(Dialog::new(Question::New)),
        Message::AskImport if !shared.read_only() => state.ask(Dialog::new(Question::Import)),
        Message::AskDuplicate if !shared.read_only() => match state.subject().and_then(|id| snapshot.design(id)) {
            Some(book) => state.ask(Dialog::duplicate(book.id, &book.design, snapshot)),
            None => Action::None,
        },
        Message::AskExport => match state.subject().and_then(|id| snapshot.design(id)) {
            Some(book) => {
                let mut dialog = Dialog::new(Question::Export);
                dialog.path = format!("~/{}.toml", book.design.code.as_str().to_lowercase());
                state.ask(dialog)
            }
            None => Action::None,
        },
        Message::AskPhoto if !shared.read_only() => match state.subject() {
            Some(id) => state.ask(Dialog::new(Question::Photo(id))),
            None => Action::None,
        },
        Message::RemovePhoto if !shared.read_only() => match state.subject() {
            Some(id) => {
                state.waiting.push_back(Waiting::Other);
                Action::Do(actions::Action::SetPhoto { id, png: None })
            }
            None => Action::None,
        },
        Message::Retire(retired) if !shared.read_only() => match state.subject() {
            Some(id) => {
                state.waiting.push_back(Waiting::Other);
                Action::Do(actions::Action::RetireDesign { id, retired })
            }
            None => Action::None,
        },
        Message::DialogTyped(field, text) => {
            if let Some(dialog) = &mut state.dialog {
                dialog.type_in(field, text, snapshot);
            }
            Action::None
        }
        Message::DialogCancel => {
            state.dialog = None;
            Action::None
        }
        Message::DialogAccept => accept(state, shared),
        Message::Browse => browse(state),
        Message::Browsed(path) => {
            if let (Some(dialog), Some(path)) = (&mut state.dialog, path) {
                dialog.path = path.display().to_string();
                dialog.problem = None;
                // The system's dialog has asked already.
                dialog.existing = Existing::Replace;
            }
            Action::None
        }
        Message::Imported(outcome) => imported(state, outcome, shared),
        Message::Exported(outcome) => exported(state, outcome),
        Message::PhotoRead(id, outcome) => photo_read(state, id, outcome),
        _ => Action::None,
    }
}

fn browse(state: &State) -> Action<Message> {
    let (wanted, title, kind, extensions): (_, _, _, &'static [&'static str]) = match state.question() {
        Some(Question::Import) => (Wanted::Open, "Read a design file", "Design file", &["toml"]),
        Some(Question::Export) => (Wanted::Save, "Write a design file", "Design file", &["toml"]),
        Some(Question::Photo(_)) => (Wanted::Open, "Choose a photo", "Picture", &["jpg", "jpeg", "png"]),
        _ => return Action::None,
    };
    let suggested = match (&state.dialog, wanted) {
        (Some(dialog), Wanted::Save) => {
            let path = PathBuf::from(&dialog.path);
            path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default()
        }
        _ => String::new(),
    };
    Action::Run(ask(wanted, title, &suggested, kind, extensions).map(Message::Browsed))
}

fn accept(state: &mut State, shared: &Shared) -> Action<Message> {
    let exported = state.subject().and_then(|id| shared.snapshot.design(id));
    let Some(dialog) = &mut state.dialog else { return Action::None };
    if dialog.busy {
        return Action::None;
    }
    if dialog.asks_name() {
        let Some((name, code)) = dialog.named(&shared.snapshot) else { return Action::None };
        let action = match &dialog.question {
            Question::New => {
                let (design, follows) = starter(code, name, &shared.snapshot);
                save_new(design, follows)
            }
            Question::Duplicate(id) => actions::Action::DuplicateDesign { id: *id, code, name },
            Question::Imported(design) => {
                let design = Design { code, name, ..(**design).clone() };
                save_new(design, Follows::default())
            }
            _ => return Action::None,
        };
        dialog.busy = true;
        state.waiting.push_back(Waiting::Add);
        return Action::Do(action);
    }
    let Some(path) = typed_path(&dialog.path) else {
        dialog.problem = Some("type where the file is, or choose it".to_owned());
        return Action::None;
    };
    match &dialog.question {
        Question::Import => {
            dialog.busy = true;
            Action::Run(files::import(path).map(Message::Imported))
        }
        Question::Export => {
            let resolved = exported.map(|book| shared.snapshot.resolved(book));
            match resolved {
                Some(Ok(design)) => {
                    dialog.busy = true;
                    Action::Run(files::export(path, design, dialog.existing).map(Message::Exported))
                }
                Some(Err(problem)) => {
                    dialog.problem = Some(problem.to_string());
                    Action::None
                }
                None => Action::None,
            }
        }
        Question::Photo(id) => {
            let id = *id;
            dialog.busy = true;
            Action::Run(files::photo(path).map(move |outcome| Message::PhotoRead(id, outcome)))
        }
        _ => Action::None,
    }
}

fn save_new(design: Design, follows: Follows) -> actions::Action {
    actions::Action::SaveDesign { id: None, design, follows, notes: String::new() }
}

fn imported(state: &mut State, outcome: Result<Box<Design>, String>, shared: &Shared) -> Action<Message> {
    let Some(dialog) = &mut state.dialog else { return Action::None };
    dialog.busy = false;
    match outcome {
        Ok(design) if design.currency != shared.settings().currency => {
            let (theirs, ours) = (design.currency, shared.settings().currency);
            dialog.problem =
                Some(format!("its amounts are in {theirs}, this book is in {ours}: change the file first"));
            Action::None
        }
        Ok(design) => {
            let next = Dialog::imported(*design, &shared.snapshot);
            let free = next.code_problem.is_none();
            let opened = state.ask(next);
            // Nothing left to ask: it is taken in at once.
            if free { accept(state, shared) } else { opened }
        }
        Err(problem) => {
            dialog.problem = Some(problem);
            Action::None
        }
    }
}

fn exported(state: &mut State, outcome: Result<PathBuf, String>) -> Action<Message> {
    match outcome {
        Ok(path) => {
            state.dialog = None;
            Action::Notify(Notice::Done(format!("Written to {}", path.display())))
        }
        Err(problem) => {
            if let Some(dialog) = &mut state.dialog {
                dialog.busy = false;
                if problem.ends_with("is there already") {
                    dialog.existing = Existing::Replace;
                    dialog.problem = Some(format!("{problem}: accept again to write over it, or change the path"));
                } else {
                    dialog.problem = Some(problem);
                }
            }
            Action::None
        }
    }
}

fn photo_read(state: &mut State, id: DesignId, outcome: Result<Vec<u8>, String>) -> Action<Message> {
    match outcome {
        Ok(png) => {
            state.dialog = None;
            state.waiting.push_back(Waiting::Photo(id));
            Action::Do(actions::Action::SetPhoto { id, png: Some(png) })
        }
        Err(problem) => {
            if let Some(dialog) = &mut state.dialog {
                dialog.busy = false;
                dialog.problem = Some(problem);
            }
            Action::None
        }
    }
}

pub(super) fn answered(state: &mut State, answer: Answer, shared: &Shared) -> Action<Message> {
    match answer {
        Answer::Performed(outcome) => match state.waiting.pop_front() {
            Some(Waiting::Save) => saved(state, outcome),
            Some(Waiting::Add) => added(state, outcome, shared),
            Some(Waiting::Photo(id)) if outcome.is_ok() => {
                if let Some(page) = state.page.as_mut().filter(|page| page.id() == Some(id)) {
                    page.photo = Photo::Coming;
                }
                Action::Ask(crate::window::desk::Request::Photo(id))
            }
            _ => Action::None,
        },
        Answer::Photo(id, outcome) => {
            let Some(page) = state.page.as_mut().filter(|page| page.id() == Some(id)) else { return Action::None };
            page.photo = match outcome {
                Ok(Some(png)) => match files::shown(&png) {
                    Ok(handle) => Photo::Here(handle),
                    Err(problem) => Photo::Broken(problem),
                },
                Ok(None) => Photo::None,
                Err(problem) => Photo::Broken(problem.to_string()),
            };
            Action::None
        }
        _ => Action::None,
    }
}

fn saved(state: &mut State, outcome: Result<Outcome, Refusal>) -> Action<Message> {
    let Some(page) = &mut state.page else { return Action::None };
    match outcome {
        Ok(_) => Action::None,
        Err(refusal) => {
            page.draft.rejected = page.draft.sent.take();
            let sentence = format!("Not saved: {refusal}");
            page.refused = Some(sentence.clone());
            Action::Notify(Notice::Trouble(sentence))
        }
    }
}

fn added(state: &mut State, outcome: Result<Outcome, Refusal>, shared: &Shared) -> Action<Message> {
    match outcome {
        Ok(Outcome { added: Some(Added::Design(id)), .. }) => {
            state.dialog = None;
            state.open_design(id, shared)
        }
        Ok(_) => {
            state.dialog = None;
            Action::None
        }
        Err(refusal) => {
            if let Some(dialog) = &mut state.dialog {
                dialog.busy = false;
                dialog.problem = Some(refusal.to_string());
            }
            Action::None
        }
    }
}

impl State {
    /// The page that is open.
    pub fn page_design(&self) -> Option<DesignId> {
        self.page.as_ref().and_then(Page::id)
    }
}
