//! What the room does about what happens in it.

use super::fair::Fair;
use super::form::{self, Change, Field, Form, Part};
use super::photos::For;
use super::read::{self, Reader};
use super::rows;
use super::showing::both;
use super::{Message, Offered, Page, State, offers};
use crate::actions::{self, Added, Outcome, Refusal};
use crate::paper::picture::Image;
use crate::paper::statement_lines::{channels, recipients, sales_terms};
use crate::studio::{BookNumberedPaper, DesignId};
use crate::window::desk::Request;
use crate::window::screen::{Action, Notice};
use crate::window::widget::listing::{Event, Reaction};
use crate::window::widget::reveal;
use crate::window::{Answer, Shared};
use chrono::NaiveDate;
use std::sync::Arc;

impl State {
    /// Takes what the book says of designs, channels and settings.
    pub(super) fn follow(&mut self, shared: &Shared) {
        let snapshot = &shared.snapshot;
        let all = channels(&snapshot.rates, snapshot.designs.iter().map(|book| &book.design));
        self.channels = std::iter::once((None, "Retail".to_owned()))
            .chain(all.into_iter().map(|channel| (Some(channel.id.clone()), channel.name.clone())))
            .collect();
        let certificates = self.certificate_photos.follow(snapshot);
        if self.list_photos.follow(snapshot) || certificates {
            self.easel.forget_photos();
        }
        if self.form.is_some() {
            self.offers = offers::offers(snapshot, &self.pieces);
        }
        if let Some(fair) = &mut self.fair {
            fair.word(shared);
        }
        if let Some(issued) = &self.issued {
            self.all = rows::word_all(issued, &shared.preferences);
        }
        self.word();
    }

    /// Words the rows of the list anew; the paper in hand stays in hand.
    pub(super) fn word(&mut self) {
        self.rows = rows::shown(&self.all, self.wanted.text(), self.list.sort());
        self.summary = rows::summary(self.all.len(), self.rows.len());
        let place = self.rows.iter().position(|row| Some(row.id) == self.chosen);
        self.list.select(place.or((!self.rows.is_empty()).then_some(0)));
        self.chosen = self.list.selected().and_then(|place| self.rows.get(place)).map(|row| row.id);
    }

    /// What the room asks of the book to show it as it is.
    pub(super) fn ask(&self) -> Action<Message> {
        let mut asked = vec![Action::Ask(Request::NumberedPapers)];
        if self.form.is_some() {
            asked.push(Action::Ask(all_pieces()));
        }
        Action::Many(asked)
    }

    /// The paper in hand.
    pub(super) fn in_hand(&self) -> Option<&BookNumberedPaper> {
        let chosen = self.chosen?;
        self.issued.as_deref()?.iter().find(|paper| paper.id == chosen)
    }

    /// Another page comes into sight.
    pub(super) fn go(&mut self, page: Page, shared: &Shared) -> Action<Message> {
        if page == Page::Fair && self.fair.is_none() {
            self.fair = Some(Fair::new(shared));
        }
        self.page = page;
        self.easel.turn(0);
        let shown = self.show(shared);
        let focus = match page {
            Page::List => self.list.focus(),
            Page::Fair => reveal::focus("fair-find"),
            Page::Paper | Page::Form => return shown,
        };
        Action::Many(vec![shown, Action::Run(focus)])
    }

    pub(super) fn listed(&mut self, event: Event, shared: &Shared) -> Action<Message> {
        let (reaction, task) = self.list.update(event, self.rows.len());
        let follow = match reaction {
            Reaction::Sort => {
                self.word();
                Action::None
            }
            Reaction::Selected(place) => {
                self.chosen = self.rows.get(place).map(|row| row.id);
                self.easel.turn(0);
                self.show(shared)
            }
            Reaction::Opened(place) => self.open_row(place, shared),
            Reaction::None => Action::None,
        };
        Action::Many(vec![Action::Run(task), follow])
    }

    pub(super) fn open_row(&mut self, place: usize, shared: &Shared) -> Action<Message> {
        let Some(id) = self.rows.get(place).map(|row| row.id) else { return Action::None };
        self.chosen = Some(id);
        self.list.select(Some(place));
        self.go(Page::Paper, shared)
    }

    pub(super) fn fair_listed(&mut self, event: Event, shared: &Shared) -> Action<Message> {
        let Some(fair) = &mut self.fair else { return Action::None };
        let place = match event {
            Event::Pressed(place) => {
                fair.list.select((place < fair.rows.len()).then_some(place));
                Some(place)
            }
            Event::Enter => fair.list.selected(),
            _ => None,
        };
        if let Some(place) = place {
            fair.toggle(place);
            return self.show(shared);
        }
        let (_, task) = fair.list.update(event, fair.rows.len());
        Action::Run(task)
    }

    /// Begins a paper, or goes on with the one that was begun.
    pub(super) fn begin(&mut self, shared: &Shared) -> Action<Message> {
        if shared.read_only() {
            return Action::None;
        }
        if self.form.is_none() {
            self.form = Some(Form::new(shared.today, shared.settings().paper_language));
        }
        self.offers = offers::offers(&shared.snapshot, &self.pieces);
        let shown = self.go(Page::Form, shared);
        let focus = Action::Run(reveal::focus(Field::Recipient.id()));
        Action::Many(vec![shown, Action::Ask(all_pieces()), focus])
    }

    pub(super) fn changed(&mut self, change: Change, shared: &Shared) -> Action<Message> {
        let Some(form) = &mut self.form else { return Action::None };
        self.waiting = false;
        match change {
            Change::Channel(channel) => {
                form.channel = channel;
                self.take_terms(shared);
            }
            Change::Kind(_) => {
                form.change(change);
                self.take_terms(shared);
            }
            Change::Find(text) => {
                form.refusal = None;
                form.find(text, &self.offers);
                return Action::None;
            }
            Change::Own => {
                let key = form.add_own();
                let shown = self.show(shared);
                return both(shown, Action::Run(reveal::focus(Field::Line(key, Part::Words).id())));
            }
            other => form.change(other),
        }
        self.show(shared)
    }

    /// Fills in what the chosen channel says of tax and commission; without one what was typed stays.
    fn take_terms(&mut self, shared: &Shared) {
        let Some(form) = &mut self.form else { return };
        let Some(id) = &form.channel else { return };
        let snapshot = &shared.snapshot;
        let all = channels(&snapshot.rates, snapshot.designs.iter().map(|book| &book.design));
        let channel = all.into_iter().find(|channel| channel.id == *id);
        form.take_terms(&sales_terms(form.kind, channel), &shared.preferences);
    }

    pub(super) fn add(&mut self, what: Offered, shared: &Shared) -> Action<Message> {
        let Some(form) = &mut self.form else { return Action::None };
        let mut asked = Action::None;
        match what {
            Offered::Design(id) => {
                let Some(book) = shared.snapshot.design(id) else { return Action::None };
                let _ = form.add_design(id, &book.design.name);
            }
            Offered::Piece(id) => {
                let Some(piece) = self.pieces.iter().find(|of| of.piece.id == id) else { return Action::None };
                if form.add_piece(piece).is_none() {
                    return Action::Notify(Notice::Trouble("this piece has a line already".to_owned()));
                }
                asked = Action::Ask(Request::PieceStory(id));
            }
        }
        let shown = self.show(shared);
        Action::Many(vec![shown, asked, Action::Run(reveal::focus(form::FIND))])
    }

    pub(super) fn add_first(&mut self, shared: &Shared) -> Action<Message> {
        let Some(form) = &self.form else { return Action::None };
        match form.found.first().map(|offer| offer.what) {
            Some(what) => self.add(what, shared),
            None if form.trimmed(Field::Add).is_empty() => self.write(shared),
            None => Action::None,
        }
    }

    /// Writes the paper under the next number of its kind.
    pub(super) fn write(&mut self, shared: &Shared) -> Action<Message> {
        if shared.read_only() || self.waiting {
            return Action::None;
        }
        let Some(form) = &mut self.form else { return Action::None };
        form.tried = true;
        form.refusal = None;
        let Some(form) = &self.form else { return Action::None };
        let reader = Reader::new(form, shared);
        if let Some(field) = reader.first_problem() {
            return Action::Run(reveal::focus(field.id()));
        }
        let (Ok(date), paper, kind) = (reader.date(), reader.paper(), form.kind) else { return Action::None };
        // What cannot be laid out takes no number.
        if let Some(problem) = self.easel.problem.clone() {
            if let Some(form) = &mut self.form {
                form.refusal = Some((None, problem));
            }
            return Action::None;
        }
        self.waiting = true;
        Action::Do(actions::Action::IssuePaper { kind, date, paper })
    }

    /// The book's answer to a paper that was to be written.
    fn written(&mut self, outcome: Result<Outcome, Refusal>, shared: &Shared) -> Action<Message> {
        match outcome {
            Ok(outcome) => {
                if let Some(Added::NumberedPaper(id)) = outcome.added {
                    self.chosen = Some(id);
                }
                self.form = None;
                self.wanted.set("");
                self.page = Page::Paper;
                self.easel.clear(None);
                both(self.ask(), self.show(shared))
            }
            Err(refusal) => {
                let Some(form) = &mut self.form else { return Action::None };
                let place = read::place_of(&refusal, form);
                form.refusal = Some((place, refusal.to_string()));
                place.map_or(Action::None, |field| Action::Run(reveal::focus(field.id())))
            }
        }
    }

    pub(super) fn heard(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        let trouble = |error: String| Action::Notify(Notice::Trouble(error));
        match answer {
            Answer::NumberedPapers(Ok(issued)) => {
                let wanted = self.chosen;
                self.all = rows::word_all(&issued, &shared.preferences);
                self.recipients = recipients(&issued).into_iter().map(str::to_owned).collect();
                self.issued = Some(issued);
                self.word();
                self.word_form();
                // The paper that was in hand is gone: it was undone.
                if wanted.is_some() && wanted != self.chosen && self.page == Page::Paper {
                    self.page = Page::List;
                }
                if wanted != self.chosen || self.page != Page::Form {
                    return self.show(shared);
                }
                Action::None
            }
            Answer::FinishedPieces(Ok(pieces)) => {
                self.pieces = pieces;
                self.offers = offers::offers(&shared.snapshot, &self.pieces);
                if let Some(form) = &mut self.form {
                    let typed = form.text(Field::Add).to_owned();
                    form.find(typed, &self.offers);
                }
                Action::None
            }
            Answer::PieceStory(id, Ok(Some(story))) => {
                if let Some(form) = &mut self.form {
                    form.fired(id, story.fired());
                }
                self.show(shared)
            }
            Answer::Photo(id, answer) => {
                let certificate = self.certificate_photos.answered(id, answer.clone());
                let list = self.list_photos.answered(id, answer);
                both(certificate, list)
            }
            Answer::Performed(outcome) if std::mem::take(&mut self.waiting) => self.written(outcome, shared),
            Answer::NumberedPapers(Err(error))
            | Answer::FinishedPieces(Err(error))
            | Answer::PieceStory(_, Err(error)) => trouble(error.to_string()),
            _ => Action::None,
        }
    }

    pub(super) fn photo_read(
        &mut self,
        of: For,
        id: DesignId,
        done: Result<Option<Arc<Image>>, String>,
        shared: &Shared,
    ) -> Action<Message> {
        let (image, told) = match done {
            Ok(image) => (image, Action::None),
            Err(reason) => {
                let code = shared.snapshot.design(id).map(|book| book.design.code.to_string()).unwrap_or_default();
                (None, Action::Notify(Notice::Trouble(format!("the photo of {code}: {reason}"))))
            }
        };
        let photos = match of {
            For::Certificate => &mut self.certificate_photos,
            For::List => &mut self.list_photos,
        };
        // Pages are laid out once all photos are there, not once for each.
        if photos.read(id, image) { both(told, self.show(shared)) } else { told }
    }
}

/// Every finished piece.
fn all_pieces() -> Request {
    let from = NaiveDate::from_ymd_opt(1900, 1, 1).unwrap_or(NaiveDate::MIN);
    let to = NaiveDate::from_ymd_opt(9999, 12, 31).unwrap_or(NaiveDate::MAX);
    Request::FinishedPieces { from, to }
}
