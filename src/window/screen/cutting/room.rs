//! The room: what it keeps and what happens in it.

use super::laid::{self, Laid};
use super::outlines::{self, Trouble};
use super::plan::{Field, Form, From, Mixing, Pick, Source};
use super::sawing::{self, Sawing};
use super::search::{Event, Search};
use super::stencil::{self, Stencil};
use super::{sawing_view, stencil_view, view};
use crate::actions;
use crate::cutting::{CutError, Layout, SheetPlan, Turn};
use crate::measure::parse;
use crate::studio::{ItemDetails, Metal, Outline};
use crate::window::screen::{Action, Destination, Notice, Room};
use crate::window::widget::path_field::{Wanted, ask, typed_path};
use crate::window::widget::{modal, reveal};
use crate::window::work::apart;
use crate::window::{Answer, Command, Request, Shared};
use iced::Element;
use std::path::PathBuf;
use std::sync::Arc;

/// Which half of the room is on screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Blanks from a sheet.
    Sheet,
    /// The open share of a stencil.
    Stencil,
}

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    pub(super) side: Side,
    pub(super) form: Form,
    /// A layout was asked for: what is missing is told from now on.
    pub(super) tried: bool,
    pub(super) search: Option<Search>,
    pub(super) laid: Option<Laid>,
    /// Why there is no layout.
    pub(super) refused: Option<String>,
    /// What is wrong with the outline being added.
    pub(super) adding: Option<Trouble>,
    /// What was not followed of the drawing added last.
    pub(super) remarks: Vec<String>,
    pub(super) reading: bool,
    pub(super) sawing: Option<Sawing>,
    pub(super) stencil: Stencil,
    searches: u64,
}

/// What happens in it.
#[derive(Debug, Clone)]
pub enum Message {
    /// The other half of the room.
    Side(Side),
    /// Where the sheet is from.
    Source(Source),
    /// A sheet of stock.
    Sheet(Pick),
    /// The metal of a typed sheet.
    Metal(Metal),
    /// Typed into a field.
    Typed(Field, String),
    /// How blanks may be turned.
    Turn(Turn),
    /// What is aimed at.
    Mixing(Mixing),
    /// Where the next outline is from.
    From(From),
    /// A blank of stock is wanted.
    Blank(Pick),
    /// The outline in words is wanted.
    AddWords,
    /// Ask the system for a drawing.
    Browse,
    /// A drawing was chosen.
    Picked(Option<PathBuf>),
    /// The drawing whose path is typed is wanted.
    AddDrawing,
    /// A drawing was read: its path, its blanks, what was not followed.
    Drawn(PathBuf, Result<(Vec<Outline>, Vec<String>), Trouble>),
    /// Typed into the quantity of an outline, by its place.
    Quantity(usize, String),
    /// An outline is no longer wanted.
    Remove(usize),
    /// Lay out.
    LayOut,
    /// Something of a search.
    Searched(Event),
    /// The best so far will do.
    Enough,
    /// Stop the search.
    Stop,
    /// Open the sheet that writes the cut down.
    Cut,
    /// In that sheet.
    Sawing(sawing::Change),
    /// Write it down.
    CutNow,
    /// Close it.
    Close,
    /// On the stencil's half.
    Stencil(stencil::Change),
    /// Back to the stock.
    ToStock,
}

impl State {
    /// A search is under way.
    pub fn is_searching(&self) -> bool {
        self.search.is_some()
    }

    /// The sheets of stock that can be chosen.
    pub fn sheets(&self) -> &[Pick] {
        self.form.sheets.options()
    }

    /// The blanks of stock that can be wanted.
    pub fn blanks(&self) -> &[Pick] {
        self.form.blanks.options()
    }

    /// The layout shown, where it is of the plan as it stands.
    pub fn layout(&self) -> Option<&Layout> {
        self.laid.as_ref().filter(|laid| !laid.stale).map(|laid| &*laid.layout)
    }

    /// The plan changed: the search of the one before is cancelled, its layout is shown as old.
    fn changed(&mut self, shared: &Shared) {
        self.search = None;
        self.refused = None;
        if let Some(laid) = &mut self.laid {
            laid.outdate();
        }
        self.form.word(shared);
    }

    fn lay_out(&mut self, shared: &Shared) -> Action<Message> {
        self.tried = true;
        self.refused = None;
        if let Some(field) = self.form.first_problem(shared) {
            return Action::Run(reveal::focus(field.id()));
        }
        let Some((plan, aim)) = self.form.plan(shared) else {
            self.refused = Some(match self.form.missing(shared) {
                Some(missing) => missing.to_owned(),
                None => "A quantity wanted cannot be read: see beside it".to_owned(),
            });
            return Action::None;
        };
        self.searches += 1;
        let (search, task) = Search::begin(self.searches, plan, aim);
        self.search = Some(search);
        Action::Run(task)
    }

    fn heard(&mut self, event: Event, shared: &Shared) -> Action<Message> {
        let (Event::Progress(number, _) | Event::Done(number, _)) = &event;
        // What an earlier plan brings is dropped.
        let Some(search) = self.search.as_mut().filter(|search| search.number == *number) else {
            return Action::None;
        };
        match event {
            Event::Progress(_, progress) => search.progress = Some(progress),
            Event::Done(number, found) => {
                let asked = search.plan.clone();
                self.search = None;
                match found {
                    Ok(layout) if self.form.plan(shared).is_some_and(|(plan, _)| plan == asked) => {
                        self.show(layout, asked, number, shared);
                    }
                    Ok(_) | Err(CutError::Cancelled) => {}
                    Err(error) => self.refused = Some(error.to_string()),
                }
            }
        }
        Action::None
    }

    fn show(&mut self, layout: Arc<Layout>, plan: SheetPlan, version: u64, shared: &Shared) {
        let names: Vec<String> = self.form.wanted.iter().map(|want| want.name.clone()).collect();
        let estimate = laid::estimate(&layout, &plan, self.form.row(shared), shared);
        self.laid = Some(Laid::new(layout, plan, &names, estimate, version, shared));
    }

    fn add(&mut self, name: String, outline: Outline, pick: Option<&Pick>, shared: &Shared) {
        match self.form.add(name, outline, pick.map(|pick| pick.id), shared) {
            Ok(()) => {
                self.adding = None;
                self.changed(shared);
            }
            Err(words) => self.adding = Some(Trouble::new(words)),
        }
    }

    fn add_words(&mut self, shared: &Shared) {
        match outlines::typed(self.form.text(Field::Words)) {
            Ok(outline) => {
                self.add(outlines::named(&outline), outline, None, shared);
                self.form.entry_mut(Field::Words).set("");
            }
            Err(words) => self.adding = Some(Trouble::new(words)),
        }
    }

    fn add_drawing(&mut self, shared: &Shared) -> Action<Message> {
        let Some(path) = typed_path(self.form.text(Field::Drawing)) else {
            self.adding = Some(Trouble::new("nothing is typed: write the path of an SVG file"));
            return Action::None;
        };
        let long = self.form.text(Field::LongSide).trim();
        let long_side = match parse::parse_length_mm(long, &shared.preferences) {
            Ok(length) => Some(length),
            Err(_) if long.is_empty() => None,
            Err(problem) => {
                self.adding = Some(Trouble { no_size: true, words: problem.to_string() });
                return Action::None;
            }
        };
        self.reading = true;
        self.adding = None;
        let work = apart({
            let path = path.clone();
            move || outlines::blanks(&path, long_side)
        });
        Action::Run(
            work.map(move |read| Message::Drawn(path.clone(), read.map_err(Trouble::new).and_then(|inner| inner))),
        )
    }

    fn drawn(
        &mut self,
        path: &std::path::Path,
        read: Result<(Vec<Outline>, Vec<String>), Trouble>,
        shared: &Shared,
    ) -> Action<Message> {
        self.reading = false;
        match read {
            Ok((blanks, remarks)) => {
                let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
                let several = blanks.len() > 1;
                for (number, outline) in blanks.into_iter().enumerate() {
                    let name = if several { format!("{stem} {}", number + 1) } else { stem.clone() };
                    self.add(name, outline, None, shared);
                }
                self.remarks = remarks;
                self.form.entry_mut(Field::Drawing).set("");
                self.form.entry_mut(Field::LongSide).set("");
            }
            Err(trouble) => {
                let asks = trouble.no_size;
                self.adding = Some(trouble);
                if asks {
                    return Action::Run(reveal::focus(Field::LongSide.id()));
                }
            }
        }
        Action::None
    }

    fn begin_cutting(&mut self, shared: &Shared) -> Action<Message> {
        let (Some(laid), Some(row)) = (self.laid.as_ref().filter(|laid| !laid.stale), self.form.row(shared)) else {
            return Action::None;
        };
        let mut sawing = Sawing::new(laid, &self.form.wanted, row, shared);
        sawing.look_ahead(shared);
        let ask = Request::Movements(sawing.sheet);
        self.sawing = Some(sawing);
        Action::Many(vec![Action::Ask(ask), Action::Run(modal::enter())])
    }

    fn cut(&mut self, shared: &Shared) -> Action<Message> {
        let Some(sawing) = self.sawing.as_mut().filter(|_| !shared.read_only()) else { return Action::None };
        sawing.tried = true;
        match sawing.cut(shared) {
            Ok(cut) => Action::Do(actions::Action::Cut(cut)),
            Err(problem) => {
                sawing.refusal = Some(problem);
                Action::None
            }
        }
    }

    fn blank(&mut self, pick: &Pick, shared: &Shared) {
        let Some(row) = shared.snapshot.item(pick.id) else { return };
        if let ItemDetails::Blank { outline, .. } = &row.item.details {
            self.add(row.item.name.clone(), outline.clone(), Some(pick), shared);
        }
    }
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        Self {
            side: Side::Sheet,
            form: Form::new(shared),
            tried: false,
            search: None,
            laid: None,
            refused: None,
            adding: None,
            remarks: Vec::new(),
            reading: false,
            sawing: None,
            stencil: Stencil::new(shared),
            searches: 0,
        }
    }

    fn update(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::Side(side) => self.side = side,
            Message::Source(source) => {
                self.form.source = source;
                self.changed(shared);
            }
            Message::Sheet(pick) => {
                self.form.sheet = Some(pick);
                self.changed(shared);
            }
            Message::Metal(metal) => {
                self.form.metal = metal;
                self.changed(shared);
            }
            Message::Typed(field, text) => {
                self.form.entry_mut(field).type_in(text);
                match field {
                    Field::Words | Field::Drawing | Field::LongSide => self.adding = None,
                    _ => self.changed(shared),
                }
            }
            Message::Turn(turn) => {
                self.form.turn = turn;
                self.changed(shared);
            }
            Message::Mixing(mixing) => {
                self.form.mixing = mixing;
                self.changed(shared);
            }
            Message::From(from) => {
                self.form.from = from;
                self.adding = None;
            }
            Message::Blank(pick) => self.blank(&pick, shared),
            Message::AddWords => self.add_words(shared),
            Message::Browse => {
                let wanted = ask(Wanted::Open, "A drawing of blanks", "", "SVG", &["svg"]);
                return Action::Run(wanted.map(Message::Picked));
            }
            Message::Picked(Some(path)) => {
                self.form.entry_mut(Field::Drawing).type_in(path.display().to_string());
                return self.add_drawing(shared);
            }
            Message::Picked(None) => {}
            Message::AddDrawing => return self.add_drawing(shared),
            Message::Drawn(path, read) => return self.drawn(&path, read, shared),
            Message::Quantity(place, text) => {
                if let Some(want) = self.form.wanted.get_mut(place) {
                    want.quantity.type_in(text);
                }
                self.changed(shared);
            }
            Message::Remove(place) => {
                if place < self.form.wanted.len() {
                    let _ = self.form.wanted.remove(place);
                }
                self.changed(shared);
            }
            Message::LayOut => return self.lay_out(shared),
            Message::Searched(event) => return self.heard(event, shared),
            Message::Enough => {
                if let Some(search) = &mut self.search {
                    search.enough();
                }
            }
            Message::Stop => self.search = None,
            Message::Cut => return self.begin_cutting(shared),
            Message::Sawing(change) => {
                if let Some(sawing) = &mut self.sawing {
                    sawing.change(change, shared);
                }
            }
            Message::CutNow => return self.cut(shared),
            Message::Close => self.sawing = None,
            Message::Stencil(change) => return self.stencil.change(change, shared),
            Message::ToStock => return Action::Open(Destination::Stock),
        }
        Action::None
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        match self.side {
            Side::Sheet => view::page(self, shared),
            Side::Stencil => stencil_view::page(self, shared),
        }
    }

    fn modal<'a>(&'a self, shared: &'a Shared) -> Option<Element<'a, Message>> {
        self.sawing.as_ref().map(|sawing| sawing_view::sheet(sawing, shared))
    }

    fn refresh(&mut self, shared: &Shared) {
        self.form.refresh(shared);
        self.stencil.refresh(shared);
        // Figures follow the book: what the sheet costs may have changed. The layout itself does not.
        match self.laid.take() {
            Some(laid) if !laid.stale => {
                let before = laid.clone();
                match self.form.plan(shared) {
                    Some((plan, _)) if plan == laid.plan => self.show(laid.layout, plan, laid.version, shared),
                    _ => {
                        self.laid = Some(before);
                        self.changed(shared);
                    }
                }
            }
            other => self.laid = other,
        }
    }

    fn answered(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        let Some(sawing) = &mut self.sawing else { return Action::None };
        match answer {
            Answer::Movements(item, movements) if item == sawing.sheet => match movements {
                Ok(movements) => sawing.know(movements, shared),
                Err(error) => sawing.refusal = Some(error.to_string()),
            },
            Answer::Performed(Ok(_)) => self.sawing = None,
            Answer::Performed(Err(refusal)) => sawing.refusal = Some(refusal.to_string()),
            _ => {}
        }
        Action::None
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::Accept if self.sawing.is_some() => self.cut(shared),
            Command::Accept if self.side == Side::Stencil => self.stencil.change(stencil::Change::Read, shared),
            Command::Accept if self.layout().is_some() => self.begin_cutting(shared),
            Command::Accept => self.lay_out(shared),
            Command::New if self.sawing.is_none() && self.side == Side::Sheet => {
                self.form.from = From::Words;
                Action::Run(reveal::focus(Field::Words.id()))
            }
            Command::Back if self.sawing.is_some() => {
                self.sawing = None;
                Action::None
            }
            Command::Back if self.search.is_some() => {
                self.search = None;
                Action::Notify(Notice::Done("Stopped laying out".to_owned()))
            }
            Command::Back if self.side == Side::Stencil => {
                self.side = Side::Sheet;
                Action::None
            }
            Command::Back => Action::Open(Destination::Stock),
            _ => Action::None,
        }
    }

    fn revert(&mut self, shared: &Shared) -> bool {
        if let Some(sawing) = &mut self.sawing {
            return sawing.revert(shared);
        }
        match self.side {
            Side::Sheet => {
                let reverted = self.form.revert();
                if reverted {
                    self.changed(shared);
                }
                reverted
            }
            Side::Stencil => self.stencil.revert(),
        }
    }
}
