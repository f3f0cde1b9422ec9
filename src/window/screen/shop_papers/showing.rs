//! The pages in sight: of the paper in hand, of the one being written, of a price list; and how they go out.

use super::easel::Job;
use super::read::Reader;
use super::rows::kind_words;
use super::{Message, Page, State};
use crate::costing::paper_sums::paper_sums;
use crate::measure::display;
use crate::paper::statement_lines::{comes_to, next_number};
use crate::paper::{Speech, statement_model};
use crate::studio::{NumberedKind, NumberedPaper};
use crate::window::Shared;
use crate::window::screen::Action;
use crate::window::screen::way_out::{self, Going};
use chrono::NaiveDate;
use std::sync::Arc;

/// Earlier recipients offered at once.
const MOST_OFFERED: usize = 4;

/// What the way out wants done, for this room.
pub(super) fn lifted(action: Action<way_out::Message>) -> Action<Message> {
    match action {
        Action::None => Action::None,
        Action::Run(task) => Action::Run(task.map(Message::Out)),
        Action::Do(wanted) => Action::Do(wanted),
        Action::Ask(request) => Action::Ask(request),
        Action::Notify(notice) => Action::Notify(notice),
        Action::Open(destination) => Action::Open(destination),
        Action::Prefer(machine) => Action::Prefer(machine),
        Action::Book(wish) => Action::Book(wish),
        Action::Many(actions) => Action::Many(actions.into_iter().map(lifted).collect()),
    }
}

/// One after the other; nothing where both are nothing.
pub(super) fn both(first: Action<Message>, second: Action<Message>) -> Action<Message> {
    match (first, second) {
        (Action::None, other) | (other, Action::None) => other,
        (first, second) => Action::Many(vec![first, second]),
    }
}

impl State {
    /// Words what stands around the form: the number it will have, earlier recipients like what is typed.
    pub(super) fn word_form(&mut self) {
        let Some(form) = &self.form else { return };
        let issued = self.issued.as_deref().unwrap_or_default();
        self.will_be = format!("{} {}", kind_words(form.kind).to_lowercase(), next_number(form.kind, issued));
        let typed = form.recipient.text();
        let folded = typed.to_lowercase();
        let like = |recipient: &&String| {
            let told = recipient.to_lowercase();
            **recipient != typed && folded.split_whitespace().all(|word| told.contains(word))
        };
        self.earlier = self.recipients.iter().filter(like).take(MOST_OFFERED).cloned().collect();
    }

    /// Shows the page in hand as it is now.
    pub(super) fn show(&mut self, shared: &Shared) -> Action<Message> {
        match self.page {
            Page::Form => self.show_form(shared),
            Page::Fair => self.show_fair(shared),
            Page::List | Page::Paper => self.show_in_hand(shared),
        }
    }

    fn show_in_hand(&mut self, shared: &Shared) -> Action<Message> {
        let Some(of) = self.in_hand().cloned() else {
            self.easel.clear(None);
            return Action::None;
        };
        self.out.propose(shared, &format!("{}-{}.pdf", of.kind.name(), of.number));
        self.lay_paper(of.kind, Some(of.number), of.date, &of.paper, shared)
    }

    fn show_form(&mut self, shared: &Shared) -> Action<Message> {
        self.word_form();
        let Some(form) = &self.form else { return Action::None };
        let reader = Reader::new(form, shared);
        let (paper, kind) = (reader.paper(), form.kind);
        let date = reader.date().unwrap_or(shared.today);
        if paper.lines.is_empty() {
            self.sums.clear();
            self.easel.clear(None);
            return Action::None;
        }
        let sums = paper_sums(&paper, shared.preferences.currency);
        let what = if kind == NumberedKind::Consignment { "to the maker" } else { "to pay" };
        self.sums = match sums.map(|sums| comes_to(kind, &sums)) {
            Ok(Some(amount)) => format!("{} {what}", display::money(amount, &shared.preferences)),
            Ok(None) => String::new(),
            Err(problem) => problem.to_string(),
        };
        self.lay_paper(kind, None, date, &paper, shared)
    }

    fn lay_paper(
        &mut self,
        kind: NumberedKind,
        number: Option<u32>,
        date: NaiveDate,
        paper: &NumberedPaper,
        shared: &Shared,
    ) -> Action<Message> {
        let pictured = statement_model::pictured(kind, paper);
        let wanted = self.certificate_photos.want(pictured, &shared.snapshot);
        let said = statement_model::statement(&statement_model::Asked {
            kind,
            number,
            date,
            paper,
            preferences: &shared.preferences,
            speech: Speech::new(paper.language, &shared.snapshot.own_words),
            size: self.size,
            photo: pictured.and_then(|id| self.certificate_photos.get(id)),
        });
        let laid = match said {
            Ok(said) => self.easel.lay(Job::Paper(Box::new(said))),
            Err(problem) => {
                self.easel.clear(Some(problem.to_string()));
                Action::None
            }
        };
        both(wanted, laid)
    }

    fn show_fair(&mut self, shared: &Shared) -> Action<Message> {
        let Some(fair) = &mut self.fair else { return Action::None };
        let wanted = self.list_photos.want(fair.pictured(&shared.snapshot), &shared.snapshot);
        self.out.propose(shared, "price-list.pdf");
        let laid = match fair.list(&self.list_photos, self.size, shared) {
            Ok(list) if list.pieces.is_empty() => {
                self.easel.clear(None);
                Action::None
            }
            Ok(list) => self.easel.lay(Job::List(Box::new(list))),
            Err(problem) => {
                self.easel.clear(Some(problem));
                Action::None
            }
        };
        both(wanted, laid)
    }

    /// The paper goes out: saved, looked at, printed.
    pub(super) fn send(&mut self, message: way_out::Message, shared: &Shared) -> Action<Message> {
        let going = self.going(shared);
        let (action, _) = self.out.update(message, &|| going.clone(), shared);
        lifted(action)
    }

    /// What goes out, or why it cannot.
    fn going(&self, shared: &Shared) -> Result<Going, String> {
        let nothing = || self.easel.problem.clone().unwrap_or_else(|| "the pages are not laid out yet".to_owned());
        let laid = self.easel.laid.as_ref().filter(|_| !self.easel.at_work).ok_or_else(nothing)?;
        let pages = laid.pages();
        let (summary, file_name) = match (self.page, self.in_hand()) {
            (Page::List | Page::Paper, Some(of)) => {
                let name = format!("{} {}", kind_words(of.kind), of.number).to_lowercase();
                (format!("{name} on {pages}"), format!("{}-{}.pdf", of.kind.name(), of.number))
            }
            _ => (format!("the price list on {pages}"), "price-list.pdf".to_owned()),
        };
        Ok(Going {
            document: Arc::clone(&laid.document),
            title: laid.title.clone(),
            author: shared.settings().studio_name.clone(),
            language: laid.language,
            summary,
            file_name,
            sheet: None,
        })
    }

    /// Pages stand ready to go out.
    pub(super) fn is_ready(&self) -> bool {
        self.easel.laid.is_some() && !self.easel.at_work
    }
}
