//! What lies over the page and wants an answer: a file, a paper that is not saved, a file that would be replaced.

use super::draft::Draft;
use super::message::{Asked, Message};
use super::shelf;
use super::state::{State, Waiting};
use crate::actions;
use crate::exchange::file_out;
use crate::exchange::paper_file::{self, FilePicture, PaperFile};
use crate::studio::{PaperDesignId, PictureId, What};
use crate::window::screen::designs::files;
use crate::window::screen::{Action, Notice};
use crate::window::theme::space;
use crate::window::widget::path_field::{Wanted, ask, typed_path};
use crate::window::widget::{self, Entry, field, modal, path_field, primary, quiet_button};
use crate::window::{Shared, work};
use iced::Element;
use iced::widget::column;
use std::path::{Path, PathBuf};

/// Most bytes of a file that is read at all.
const MOST_BYTES: u64 = 40 * 1024 * 1024;

/// What is done once unsaved changes are let go.
#[derive(Debug, Clone)]
pub(super) enum Next {
    /// A ready-made paper is copied.
    Begin(usize),
    /// A paper of hers is opened.
    Open(PaperDesignId),
    /// A paper of hers is copied.
    Copy(PaperDesignId),
    /// A paper is brought in.
    Bring,
}

/// What is asked.
#[derive(Debug)]
pub(super) enum Asking {
    /// A file.
    File {
        /// What for.
        asked: Asked,
        /// Its path.
        path: Entry,
        /// The picture's name.
        name: Entry,
        /// What is wrong.
        problem: Option<String>,
        /// It is there already and would be replaced.
        replaces: bool,
        /// It is being read or written.
        busy: bool,
    },
    /// Unsaved changes are let go.
    Leaving(Next),
    /// A paper is being brought in: the rows of its pictures so far.
    Bringing(Box<PaperFile>, Vec<PictureId>),
}

impl State {
    /// Does what would take the place of the paper that is being changed; asks first where it is not saved.
    pub(super) fn go_to(&mut self, next: Next, shared: &Shared) -> Action<Message> {
        if self.draft.as_ref().is_some_and(Draft::is_changed) {
            self.asking = Some(Asking::Leaving(next));
            return Action::Run(modal::enter());
        }
        self.go_on_to(next, shared)
    }

    pub(super) fn go_on_to(&mut self, next: Next, shared: &Shared) -> Action<Message> {
        self.asking = None;
        let snapshot = &shared.snapshot;
        let of_book = |id: PaperDesignId| snapshot.paper_designs.iter().find(|book| book.id == id);
        let fresh = match next {
            Next::Begin(place) => self.cards.get(place).map(|card| card.paper.clone()),
            Next::Copy(id) => of_book(id).map(|book| book.design.clone()),
            Next::Open(id) => {
                let Some(book) = of_book(id) else { return Action::None };
                let draft = Draft::of(book, shared.preferences);
                return self.lay_open(draft, shared);
            }
            Next::Bring => {
                self.draft = None;
                return self.ask_file(Asked::BringIn, shared);
            }
        };
        let Some(mut paper) = fresh else { return Action::None };
        paper.name = shelf::free_name(snapshot, &paper.name);
        let draft = Draft::fresh(paper, shared.preferences);
        self.lay_open(draft, shared)
    }

    pub(super) fn ask_file(&mut self, asked: Asked, shared: &Shared) -> Action<Message> {
        let path = match (asked, &self.draft) {
            (Asked::WriteOut, Some(draft)) => Self::proposed(shared, &draft.paper.name, "toml"),
            _ => String::new(),
        };
        self.asking = Some(Asking::File {
            asked,
            path: Entry::new(path),
            name: Entry::default(),
            problem: None,
            replaces: false,
            busy: false,
        });
        Action::Run(modal::enter())
    }

    pub(super) fn browse_file(&self) -> Action<Message> {
        let Some(Asking::File { asked, .. }) = &self.asking else { return Action::None };
        let dialog = match asked {
            Asked::Picture => ask(Wanted::Open, "Choose a picture", "", "Picture", &["png", "jpg", "jpeg"]),
            Asked::BringIn => ask(Wanted::Open, "Choose a paper file", "", "Paper", &["toml"]),
            Asked::WriteOut => ask(Wanted::Save, "Write the paper to a file", "paper.toml", "Paper", &["toml"]),
        };
        Action::Run(dialog.map(Message::FilePicked))
    }

    pub(super) fn file_path(&mut self, text: String) {
        if let Some(Asking::File { path, problem, replaces, name, asked, .. }) = &mut self.asking {
            if *asked == Asked::Picture && !name.is_changed() {
                let stem = Path::new(text.trim()).file_stem().map(|stem| stem.to_string_lossy().into_owned());
                name.set(stem.unwrap_or_default());
            }
            path.type_in(text);
            *problem = None;
            *replaces = false;
        }
    }

    pub(super) fn file_accepted(&mut self, shared: &Shared) -> Action<Message> {
        let taken = |wanted: &str| {
            shared.snapshot.pictures.iter().any(|(_, name)| name.to_lowercase() == wanted.to_lowercase())
        };
        let Some(Asking::File { asked, path, name, problem, replaces, busy }) = &mut self.asking else {
            return Action::None;
        };
        if *busy {
            return Action::None;
        }
        let Some(file) = typed_path(path.text()) else {
            *problem = Some("type the path of a file".to_owned());
            return Action::None;
        };
        match asked {
            Asked::Picture => {
                if name.is_empty() {
                    *problem = Some("give the picture a name".to_owned());
                    return Action::None;
                }
                if taken(name.trimmed()) && !*replaces {
                    *problem = Some(format!("a picture is called {} already", name.trimmed()));
                    *replaces = true;
                    return Action::None;
                }
                *busy = true;
                Action::Run(files::photo(file).map(Message::PictureRead))
            }
            Asked::BringIn => {
                *busy = true;
                let reading = work::apart(move || read_text(&file));
                Action::Run(reading.map(|done| Message::PaperRead(done.and_then(|read| read))))
            }
            Asked::WriteOut => {
                if file.is_file() && !*replaces {
                    *problem = Some(format!("{} is there already", file.display()));
                    *replaces = true;
                    return Action::None;
                }
                let Some(draft) = &self.draft else { return Action::None };
                let pictures: Vec<(PictureId, FilePicture)> = shared
                    .snapshot
                    .pictures
                    .iter()
                    .filter_map(|(id, name)| {
                        let png = self.tools.gallery.files.get(id)?.clone();
                        Some((*id, FilePicture { name: name.clone(), png }))
                    })
                    .collect();
                match paper_file::write(&draft.paper, &pictures) {
                    Ok(text) => {
                        *busy = true;
                        let writing = work::apart(move || {
                            file_out::write(&file, text.as_bytes()).map(|()| file).map_err(|error| error.to_string())
                        });
                        Action::Run(writing.map(|done| Message::PaperWritten(done.and_then(|written| written))))
                    }
                    Err(refused) => {
                        *problem = Some(refused.to_string());
                        Action::None
                    }
                }
            }
        }
    }

    fn file_failed(&mut self, reason: String) -> Action<Message> {
        if let Some(Asking::File { problem, busy, .. }) = &mut self.asking {
            *problem = Some(reason);
            *busy = false;
            return Action::None;
        }
        Action::Notify(Notice::Trouble(reason))
    }

    pub(super) fn picture_read(&mut self, read: Result<Vec<u8>, String>) -> Action<Message> {
        match (read, &self.asking) {
            (Ok(png), Some(Asking::File { name, .. })) => {
                let name = name.trimmed().to_owned();
                self.asking = None;
                self.waiting.push_back(Waiting::Pin);
                Action::Do(actions::Action::SavePicture { name, png })
            }
            (Ok(_), _) => Action::None,
            (Err(reason), _) => self.file_failed(reason),
        }
    }

    pub(super) fn paper_read(&mut self, read: Result<String, String>, shared: &Shared) -> Action<Message> {
        let text = match read {
            Ok(text) => text,
            Err(reason) => return self.file_failed(reason),
        };
        match paper_file::read(&text) {
            Ok(file) => {
                self.asking = Some(Asking::Bringing(Box::new(file), Vec::new()));
                self.bring(shared)
            }
            Err(problems) => {
                let told: Vec<String> = problems.iter().take(5).map(ToString::to_string).collect();
                self.file_failed(told.join("\n"))
            }
        }
    }

    /// Stores the next picture of a paper that is brought in; the paper itself after the last.
    pub(super) fn bring(&mut self, shared: &Shared) -> Action<Message> {
        let Some(Asking::Bringing(file, rows)) = &self.asking else { return Action::None };
        if let Some(picture) = file.pictures.get(rows.len()) {
            // A picture of hers of the same name is not touched.
            let taken = |wanted: &str| {
                shared.snapshot.pictures.iter().any(|(_, name)| name.to_lowercase() == wanted.to_lowercase())
            };
            let name = std::iter::once(picture.name.clone())
                .chain((2_u32..1_000).map(|number| format!("{} {number}", picture.name)))
                .find(|name| !taken(name))
                .unwrap_or_else(|| picture.name.clone());
            self.waiting.push_back(Waiting::Bring);
            return Action::Do(actions::Action::SavePicture { name, png: picture.png.clone() });
        }
        let Some(Asking::Bringing(file, rows)) = self.asking.take() else { return Action::None };
        let mut paper = file.in_book(&rows);
        paper.name = shelf::free_name(&shared.snapshot, &paper.name);
        let draft = Draft::fresh(paper, shared.preferences);
        self.lay_open(draft, shared)
    }

    pub(super) fn paper_written(&mut self, written: Result<PathBuf, String>) -> Action<Message> {
        match written {
            Ok(path) => {
                self.asking = None;
                Action::Notify(Notice::Done(format!("Wrote the paper to {}", path.display())))
            }
            Err(reason) => self.file_failed(reason),
        }
    }

    /// A picture was stored: it is pinned.
    pub(super) fn pin_picture(&mut self, id: PictureId, shared: &Shared) -> Action<Message> {
        if let Some(draft) = &mut self.draft {
            let _ = draft.pin(What::Picture(id));
        }
        self.relay(shared)
    }
}

fn read_text(file: &Path) -> Result<String, String> {
    let told = |error: &std::io::Error| format!("{} cannot be read: {error}", file.display());
    let size = std::fs::metadata(file).map_err(|error| told(&error))?.len();
    if size > MOST_BYTES {
        return Err(format!("{} has {size} bytes; a paper file has at most {MOST_BYTES}", file.display()));
    }
    std::fs::read_to_string(file).map_err(|error| told(&error))
}

/// What lies over the page.
pub(super) fn view<'a>(asking: &'a Asking) -> Element<'a, Message> {
    match asking {
        Asking::Leaving(_) => modal::sheet(
            "Let the changes go?",
            widget::body("The paper you were changing is not saved. Go on with it, or let its changes go."),
            [
                primary("Go on with it").on_press(Message::GoOn).into(),
                widget::danger("Let them go").on_press(Message::LetGo).into(),
            ],
        ),
        Asking::Bringing(..) => modal::sheet("Bringing the paper in", widget::body("Its pictures are stored."), []),
        Asking::File { asked, path, name, problem, replaces, busy } => {
            let (title, hint, yes) = match asked {
                Asked::Picture => (
                    "A picture from a file",
                    "A PNG or JPEG file: a logo, an ornament, a signature. It is kept in the book.",
                    if *replaces { "Put it in its place" } else { "Pin it" },
                ),
                Asked::BringIn => ("Bring a paper in", "A paper file of this program.", "Bring it in"),
                Asked::WriteOut => (
                    "Write the paper to a file",
                    "The paper and its pictures in one file, to be brought into another book.",
                    if *replaces { "Replace it" } else { "Write it" },
                ),
            };
            let named = (*asked == Asked::Picture).then(|| {
                Element::from(
                    field("Name", name.text())
                        .id("pinning-picture-name")
                        .on_input(Message::PictureName)
                        .on_submit(Message::FileAccept),
                )
            });
            let body = column![
                widget::small(hint),
                path_field(
                    "File",
                    path.text(),
                    problem.clone(),
                    Message::FilePath,
                    Some(Message::FileAccept),
                    Some(Message::FileBrowse),
                ),
                named,
            ]
            .spacing(space::ONE);
            modal::sheet(
                title,
                body,
                [
                    quiet_button("Not now").on_press(Message::Close).into(),
                    primary(yes).on_press_maybe((!busy).then_some(Message::FileAccept)).into(),
                ],
            )
        }
    }
}
