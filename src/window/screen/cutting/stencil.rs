//! The open share of a stencil, by its drawing or by a photo of it; read and measured on threads of their own.

use super::Message;
use super::outlines::{self, Trouble};
use super::plan::Pick;
use crate::costing::coverage::{self, Lying};
use crate::exchange::outline_file::OutlineFile;
use crate::exchange::stencil_photo::{self, Looking, Open, Photo};
use crate::measure::{Decimal, display, edit, parse};
use crate::studio::{ItemDetails, Outline};
use crate::window::Shared;
use crate::window::screen::{Action, Notice};
use crate::window::widget::Entry;
use crate::window::widget::path_field::{Wanted, ask, typed_path};
use crate::window::work::apart;
use iced::widget::{combo_box, image::Handle};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What the share is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ground {
    /// The whole photo, or the stencil's own edge.
    Whole,
    /// A blank of stock.
    Stock,
    /// A blank in words.
    Words,
}

/// A field of this half.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Typed {
    /// The file.
    Path,
    /// How long the longer side of a drawing is.
    LongSide,
    /// The blank in words.
    Words,
    /// The threshold.
    Level,
}

/// What a file turned out to be.
#[derive(Debug, Clone)]
pub enum Found {
    /// A drawing.
    Drawing(Arc<OutlineFile>),
    /// A photo.
    Photo(Arc<Photo>),
}

/// What was measured.
#[derive(Debug, Clone)]
pub struct Measured {
    share: Decimal,
    remarks: Vec<String>,
    openings: Option<usize>,
    photo: Option<(u8, u8, Handle)>,
}

/// What happens on this half.
#[derive(Debug, Clone)]
pub enum Change {
    /// Typed in.
    Typed(Typed, String),
    /// Ask the system for a file.
    Browse,
    /// A file was chosen.
    Picked(Option<PathBuf>),
    /// Read the file.
    Read,
    /// It was read.
    Was(PathBuf, Result<Found, Trouble>),
    /// What the share is of.
    Ground(Ground),
    /// A blank of stock.
    Blank(Pick),
    /// Another threshold.
    Level(u8),
    /// The threshold proposed.
    Proposed,
    /// Which side of the threshold is open.
    Open(bool),
    /// The share was measured.
    Measured(Result<Measured, String>),
    /// Copy the share.
    Copy,
}

/// The share as it is shown.
#[derive(Debug)]
pub(super) struct Shown {
    pub(super) share: Decimal,
    pub(super) words: String,
    pub(super) how: String,
    pub(super) remarks: Vec<String>,
    pub(super) picture: Option<Handle>,
}

/// What is kept of this half.
#[derive(Debug)]
pub(super) struct Stencil {
    pub(super) path: Entry,
    pub(super) long_side: Entry,
    pub(super) words: Entry,
    pub(super) level_text: Entry,
    pub(super) ground: Ground,
    pub(super) blank: Option<Pick>,
    pub(super) blanks: combo_box::State<Pick>,
    pub(super) dark_is_open: bool,
    /// The threshold set by hand; none takes the proposal.
    pub(super) level: Option<u8>,
    /// The threshold shown.
    pub(super) threshold: u8,
    pub(super) reading: bool,
    pub(super) measuring: bool,
    again: bool,
    pub(super) file: Option<(String, Found)>,
    pub(super) trouble: Option<Trouble>,
    pub(super) shown: Option<Shown>,
}

impl Stencil {
    pub(super) fn new(shared: &Shared) -> Self {
        let mut stencil = Self {
            path: Entry::default(),
            long_side: Entry::default(),
            words: Entry::default(),
            level_text: Entry::default(),
            ground: Ground::Whole,
            blank: None,
            blanks: combo_box::State::new(Vec::new()),
            dark_is_open: false,
            level: None,
            threshold: 0,
            reading: false,
            measuring: false,
            again: false,
            file: None,
            trouble: None,
            shown: None,
        };
        stencil.refresh(shared);
        stencil
    }

    /// The book changed: words the list of blanks anew.
    pub(super) fn refresh(&mut self, shared: &Shared) {
        let blanks = super::plan::blanks(shared);
        let chosen = self.blank.take().map(|pick| pick.id);
        self.blank = chosen.and_then(|id| blanks.iter().find(|pick| pick.id == id).cloned());
        if self.blanks.options() != blanks {
            self.blanks = combo_box::State::new(blanks);
        }
    }

    pub(super) fn is_photo(&self) -> bool {
        matches!(self.file, Some((_, Found::Photo(_))))
    }

    /// Gives every field its former text back; true when that changed something.
    pub(super) fn revert(&mut self) -> bool {
        self.path.revert() | self.long_side.revert() | self.words.revert() | self.level_text.revert()
    }

    /// What is wrong with the threshold typed.
    pub(super) fn level_problem(&self, shared: &Shared) -> Option<String> {
        let text = self.level_text.text();
        parse::parse_count(text, 0..=255, &shared.preferences).err().map(|problem| problem.to_string())
    }

    pub(super) fn change(&mut self, change: Change, shared: &Shared) -> Action<Message> {
        match change {
            Change::Typed(field, text) => return self.typed(field, text, shared),
            Change::Browse => {
                let extensions = &["svg", "jpg", "jpeg", "png"];
                let wanted = ask(Wanted::Open, "A stencil", "", "Drawing or photo", extensions);
                return Action::Run(wanted.map(|path| Message::Stencil(Change::Picked(path))));
            }
            Change::Picked(Some(path)) => {
                self.path.type_in(path.display().to_string());
                return self.read(shared);
            }
            Change::Picked(None) => {}
            Change::Read => return self.read(shared),
            Change::Was(path, found) => return self.was(&path, found, shared),
            Change::Ground(ground) => {
                self.ground = ground;
                return self.measure(shared);
            }
            Change::Blank(pick) => {
                self.blank = Some(pick);
                return self.measure(shared);
            }
            Change::Level(level) => {
                self.level_text.set(level.to_string());
                self.level = Some(level);
                self.threshold = level;
                return self.measure(shared);
            }
            Change::Proposed => {
                self.level = None;
                return self.measure(shared);
            }
            Change::Open(dark) => {
                self.dark_is_open = dark;
                return self.measure(shared);
            }
            Change::Measured(measured) => return self.measured(measured, shared),
            Change::Copy => {
                if let Some(shown) = &self.shown {
                    let text = edit::edit_share(shown.share, &shared.preferences);
                    let notice = Notice::Done(format!("Copied {text}: type it as the coverage of a coat"));
                    return Action::Many(vec![Action::Run(iced::clipboard::write(text)), Action::Notify(notice)]);
                }
            }
        }
        Action::None
    }

    fn typed(&mut self, field: Typed, text: String, shared: &Shared) -> Action<Message> {
        match field {
            Typed::Path => {
                self.path.type_in(text);
                self.trouble = None;
            }
            Typed::LongSide => self.long_side.type_in(text),
            Typed::Words => {
                self.words.type_in(text);
                return self.measure(shared);
            }
            Typed::Level => {
                self.level_text.type_in(text);
                let level = parse::parse_count(self.level_text.text(), 0..=255, &shared.preferences);
                if let Some(level) = level.ok().and_then(|level| u8::try_from(level).ok()) {
                    self.level = Some(level);
                    self.threshold = level;
                    return self.measure(shared);
                }
            }
        }
        Action::None
    }

    fn read(&mut self, shared: &Shared) -> Action<Message> {
        let Some(path) = typed_path(self.path.text()) else {
            self.trouble = Some(Trouble::new("nothing is typed: write the path of an SVG, JPEG or PNG file"));
            return Action::None;
        };
        let long_side = match self.long_side.trimmed() {
            "" => None,
            text => match parse::parse_length_mm(text, &shared.preferences) {
                Ok(length) => Some(length),
                Err(problem) => {
                    self.trouble = Some(Trouble { no_size: true, words: problem.to_string() });
                    return Action::None;
                }
            },
        };
        self.reading = true;
        self.trouble = None;
        let work = apart({
            let path = path.clone();
            move || found(&path, long_side)
        });
        Action::Run(work.map(move |read| {
            let read = read.map_err(Trouble::new).and_then(|inner| inner);
            Message::Stencil(Change::Was(path.clone(), read))
        }))
    }

    fn was(&mut self, path: &Path, found: Result<Found, Trouble>, shared: &Shared) -> Action<Message> {
        self.reading = false;
        match found {
            Ok(found) => {
                let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
                self.file = Some((name, found));
                self.level = None;
                self.shown = None;
                self.measure(shared)
            }
            Err(trouble) => {
                self.trouble = Some(trouble);
                Action::None
            }
        }
    }

    /// The blank the share is of.
    fn blank(&self, shared: &Shared) -> Result<Option<Outline>, String> {
        match self.ground {
            Ground::Whole => Ok(None),
            Ground::Words => outlines::typed(self.words.text()).map(Some),
            Ground::Stock => {
                let row = self.blank.as_ref().and_then(|pick| shared.snapshot.item(pick.id));
                match row.map(|row| &row.item.details) {
                    Some(ItemDetails::Blank { outline, .. }) => Ok(Some(outline.clone())),
                    _ => Err("Choose the blank the stencil lies on".to_owned()),
                }
            }
        }
    }

    /// Measures on a thread of its own; once more after it where something changes meanwhile.
    fn measure(&mut self, shared: &Shared) -> Action<Message> {
        let Some((_, file)) = &self.file else { return Action::None };
        if self.measuring {
            self.again = true;
            return Action::None;
        }
        let blank = match self.blank(shared) {
            Ok(blank) => blank,
            Err(words) => {
                self.shown = None;
                self.trouble = Some(Trouble::new(words));
                return Action::None;
            }
        };
        self.trouble = None;
        self.measuring = true;
        self.again = false;
        let (file, threshold) = (file.clone(), self.level);
        let open = if self.dark_is_open { Open::Dark } else { Open::Light };
        let work = apart(move || match file {
            Found::Drawing(drawing) => of_drawing(&drawing, blank),
            Found::Photo(photo) => of_photo(&photo, &Looking { threshold, open, crop: None, blank }),
        });
        Action::Run(work.map(|done| Message::Stencil(Change::Measured(done.and_then(|inner| inner)))))
    }

    fn measured(&mut self, measured: Result<Measured, String>, shared: &Shared) -> Action<Message> {
        self.measuring = false;
        if self.again {
            return self.measure(shared);
        }
        match measured {
            Ok(measured) => {
                let how = match (&measured.photo, measured.openings) {
                    (Some((now, proposed, _)), _) if now == proposed => {
                        format!("Threshold {now} of 255, as proposed: white is open, black is closed")
                    }
                    (Some((now, proposed, _)), _) => {
                        format!("Threshold {now} of 255 (proposed is {proposed}): white is open, black is closed")
                    }
                    (None, Some(1)) => "1 opening, measured by its drawing".to_owned(),
                    (None, openings) => format!("{} openings, measured by their drawing", openings.unwrap_or(0)),
                };
                if let Some((now, ..)) = &measured.photo {
                    self.threshold = *now;
                    if self.level.is_none() {
                        self.level_text.set(now.to_string());
                    }
                }
                self.shown = Some(Shown {
                    share: measured.share,
                    words: display::share(measured.share, &shared.preferences),
                    how,
                    remarks: measured.remarks,
                    picture: measured.photo.map(|(.., picture)| picture),
                });
            }
            Err(words) => {
                self.shown = None;
                self.trouble = Some(Trouble::new(words));
            }
        }
        Action::None
    }
}

/// Reads a file: a drawing by its ending, a photo otherwise.
fn found(path: &Path, long_side: Option<Decimal>) -> Result<Found, Trouble> {
    let bytes = outlines::bytes(path, stencil_photo::MOST_BYTES)?;
    let is_drawing = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("svg"));
    if is_drawing {
        return outlines::drawing(&bytes, long_side).map(|file| Found::Drawing(Arc::new(file)));
    }
    let photo = stencil_photo::read(&bytes).map_err(|problem| Trouble::new(problem.to_string()))?;
    Ok(Found::Photo(Arc::new(photo)))
}

fn of_drawing(drawing: &OutlineFile, blank: Option<Outline>) -> Result<Measured, String> {
    let stencil = drawing.stencil().map_err(|problem| problem.to_string())?;
    let (ground, lying) = match blank {
        Some(blank) => (blank, Lying::Centred),
        None if stencil.edges.is_empty() => {
            return Err("The drawing shows openings alone: choose the blank they lie on".to_owned());
        }
        None => {
            let svg = |edge: &Outline| match edge {
                Outline::Path { svg } => svg.clone(),
                _ => String::new(),
            };
            (Outline::Path { svg: stencil.edges.iter().map(svg).collect::<Vec<_>>().join(" ") }, Lying::AsDrawn)
        }
    };
    let share = coverage::open_share(&stencil.openings, &ground, lying).map_err(|error| error.to_string())?;
    Ok(Measured {
        share,
        remarks: drawing.remarks.iter().map(ToString::to_string).collect(),
        openings: Some(stencil.openings.len()),
        photo: None,
    })
}

fn of_photo(photo: &Photo, looking: &Looking) -> Result<Measured, String> {
    let reading = photo.reading(looking).map_err(|problem| problem.to_string())?;
    let picture = Handle::from_rgba(reading.width, reading.height, reading.picture);
    Ok(Measured {
        share: reading.share,
        remarks: reading.remarks.iter().map(ToString::to_string).collect(),
        openings: None,
        photo: Some((reading.threshold, reading.proposed, picture)),
    })
}
