//! What the room does with what it keeps: taking a batch and a step in hand, sending actions, hearing the book.

use super::account_words::Account;
use super::ask::{Ask, Kind};
use super::begin::Begin;
use super::learnt_words::Learnt;
use super::page::Page;
use super::work::Work;
use super::{Doing, Message, Section, State, Waits, rows};
use crate::actions::{self, Added, Outcome, Refusal};
use crate::studio::{BatchId, BatchRecord, BatchState, DesignId};
use crate::window::screen::{Action, Notice};
use crate::window::widget::listing::{Event, Reaction};
use crate::window::widget::{modal, reveal};
use crate::window::{Answer, Shared};

impl State {
    /// The batch in hand.
    fn record<'a>(&'a self, shared: &'a Shared) -> Option<&'a BatchRecord> {
        let id = self.chosen?;
        shared.snapshot.batch(id).or_else(|| self.closed.as_ref().filter(|record| record.id == id))
    }

    /// Words everything anew.
    pub(super) fn word(&mut self, shared: &Shared) {
        self.word_list(shared);
        let page =
            self.record(shared).map(|record| Page::new(record, &shared.snapshot, &shared.preferences, shared.today));
        self.page = page;
        match &self.page {
            Some(page) if page.state == BatchState::Open => {
                let step = self.work.as_ref().map(|work| work.step).filter(|step| *step < page.cards.len());
                match (&mut self.work, step) {
                    // Where nobody waits any more, the next step somebody waits for comes to hand.
                    (Some(work), Some(_)) => {
                        if work.follow(page) {
                            self.work = Some(Work::new(page, page.first_card(), shared.today));
                        }
                    }
                    (None, _) => {
                        // It was over, and is at work again.
                        self.work = Some(Work::new(page, page.first_card(), shared.today));
                        self.section = Section::Work;
                    }
                    (Some(_), None) => self.work = Some(Work::new(page, page.first_card(), shared.today)),
                }
            }
            Some(_) => {
                self.work = None;
                if self.section == Section::Work {
                    self.section = Section::Account;
                }
            }
            None => self.work = None,
        }
        self.word_work(shared);
    }

    pub(super) fn word_work(&mut self, shared: &Shared) {
        let id = self.chosen;
        if let (Some(work), Some(record)) = (&mut self.work, id.and_then(|id| shared.snapshot.batch(id))) {
            work.word(record, &shared.snapshot, &shared.preferences);
        }
    }

    pub(super) fn word_list(&mut self, shared: &Shared) {
        let heads = self.heads.as_deref().unwrap_or_default();
        let kept = self.list.selected().and_then(|place| self.rows.get(place)).map(|row| row.id);
        self.rows = rows::word_all(heads, self.shown, self.list.sort(), shared.today);
        self.summary = rows::summary(heads);
        let place = kept.and_then(|id| self.rows.iter().position(|row| row.id == id));
        self.list.select(place.or((!self.rows.is_empty()).then_some(0)));
    }

    pub(super) fn in_list(&mut self, event: Event, shared: &Shared) -> Action<Message> {
        let (reaction, task) = self.list.update(event, self.rows.len());
        let follow = match reaction {
            Reaction::Sort => {
                self.word_list(shared);
                Action::None
            }
            Reaction::Opened(place) => match self.rows.get(place).map(|row| row.id) {
                Some(id) => self.take(id, shared),
                None => Action::None,
            },
            Reaction::Selected(_) | Reaction::None => Action::None,
        };
        Action::Many(vec![Action::Run(task), follow])
    }

    /// Opens the batch of that number; one that is closed is looked for in the book.
    pub(super) fn find_number(&mut self, number: u32, shared: &Shared) -> Action<Message> {
        if let Some(open) = shared.snapshot.batches.iter().find(|record| record.batch.number == number) {
            return self.take(open.id, shared);
        }
        self.sought = Some(number);
        self.ask_all(shared)
    }

    /// Opens the batch of that number from the list, or says that there is none.
    fn take_number(&mut self, number: u32, shared: &Shared) -> Action<Message> {
        match self.heads.iter().flatten().find(|head| head.number == number).map(|head| head.id) {
            Some(id) => self.take(id, shared),
            None => Action::Notify(Notice::Trouble(format!("There is no batch {number} in this book"))),
        }
    }

    /// Opens a batch.
    pub(super) fn take(&mut self, id: BatchId, shared: &Shared) -> Action<Message> {
        if self.chosen != Some(id) {
            self.chosen = Some(id);
            self.closed = None;
            self.work = None;
            self.ask = None;
            self.account = None;
            self.learnt = None;
            self.opened.clear();
            self.section = Section::Work;
        }
        self.begin = None;
        self.word(shared);
        self.ask_all(shared)
    }

    /// Back to the list.
    pub(super) fn leave(&mut self, shared: &Shared) -> Action<Message> {
        self.chosen = None;
        self.closed = None;
        self.page = None;
        self.work = None;
        self.word_list(shared);
        Action::Run(self.list.focus())
    }

    /// Takes a step in hand.
    pub(super) fn take_in_hand(&mut self, step: usize, shared: &Shared) -> Action<Message> {
        let Some(page) = self.page.as_ref().filter(|page| page.state == BatchState::Open) else { return Action::None };
        if step < page.cards.len() && self.work.as_ref().is_none_or(|work| work.step != step) {
            self.work = Some(Work::new(page, step, shared.today));
            self.word_work(shared);
        }
        self.section = Section::Work;
        Action::None
    }

    /// Does the step in hand, or takes its materials.
    pub(super) fn carry_out(&mut self, doing: Doing, shared: &Shared) -> Action<Message> {
        let (Some(work), Some(page)) = (&mut self.work, &self.page) else { return Action::None };
        if self.waiting == Waits::Step || shared.read_only() || work.kind == super::page::CardKind::Fire {
            return Action::None;
        }
        work.tried = true;
        let wrong = work.fields().find(|field| work.problem(*field, page, &shared.preferences).is_some());
        if let Some(field) = wrong {
            return Action::Run(reveal::focus(field.id()));
        }
        let action = match doing {
            Doing::Done => work.action(page, &shared.preferences),
            Doing::Take => work.take(page, &shared.preferences),
        };
        match action {
            Ok(action) => {
                self.waiting = Waits::Step;
                Action::Do(action)
            }
            Err(why) => {
                work.refusal = Some(why);
                Action::None
            }
        }
    }

    /// Asks something about the pieces chosen first.
    pub(super) fn begin_asking(&mut self, kind: Kind, shared: &Shared) -> Action<Message> {
        let Some(page) = self.page.as_ref().filter(|_| !shared.read_only()) else { return Action::None };
        let (step, pieces, date) = match &self.work {
            Some(work) => (work.step, work.pieces(), work.date_of(page)),
            None => (0, Vec::new(), None),
        };
        let date = date.unwrap_or_else(|| shared.today.max(page.last_day));
        self.ask = Some(Ask::new(kind, page, step, pieces, date, &shared.snapshot));
        self.waiting = Waits::Nothing;
        Action::Run(modal::enter())
    }

    pub(super) fn answer(&mut self, shared: &Shared) -> Action<Message> {
        let Some(ask) = &mut self.ask else { return Action::None };
        if self.waiting == Waits::Ask || shared.read_only() {
            return Action::None;
        }
        match ask.action(&shared.preferences) {
            Ok(action) => {
                self.waiting = Waits::Ask;
                Action::Do(action)
            }
            Err(why) => {
                ask.refusal = Some(why);
                Action::None
            }
        }
    }

    /// The form of a new batch.
    pub(super) fn begin_one(&mut self, design: Option<DesignId>, shared: &Shared) -> Action<Message> {
        if shared.read_only() {
            return Action::None;
        }
        let mut begin = Begin::new(design, &shared.snapshot, shared.today);
        begin.word(&shared.snapshot, &shared.preferences);
        self.begin = Some(begin);
        self.waiting = Waits::Nothing;
        Action::Run(reveal::focus(super::begin::Field::Pieces.id()))
    }

    pub(super) fn begin_it(&mut self, shared: &Shared) -> Action<Message> {
        let Some(begin) = &mut self.begin else { return Action::None };
        if self.waiting == Waits::Begin || shared.read_only() {
            return Action::None;
        }
        begin.tried = true;
        match begin.action(&shared.preferences) {
            Ok(action) => {
                self.waiting = Waits::Begin;
                Action::Do(action)
            }
            Err(why) => {
                begin.refusal = Some(why);
                Action::None
            }
        }
    }

    /// A proposal of what batches taught goes into the design.
    pub(super) fn accept(&mut self, place: usize, shared: &Shared) -> Action<Message> {
        let proposal = self.learnt.as_ref().and_then(|learnt| learnt.proposal(place));
        match proposal.filter(|_| !shared.read_only()) {
            Some(proposal) => Action::Do(actions::Action::AcceptProposal(proposal)),
            None => Action::None,
        }
    }

    /// The book answered.
    pub(super) fn hear(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        let trouble = |error: String| Action::Notify(Notice::Trouble(error));
        match answer {
            Answer::BatchHeads(Ok(heads)) => {
                self.heads = Some(heads);
                self.word_list(shared);
                match self.sought.take() {
                    Some(number) => self.take_number(number, shared),
                    None => Action::None,
                }
            }
            Answer::Batch(id, Ok(found)) if self.chosen == Some(id) => {
                self.closed = found.map(|record| *record);
                if self.closed.is_none() && shared.snapshot.batch(id).is_none() {
                    return self.leave(shared);
                }
                self.word(shared);
                self.ask_section(shared.today)
            }
            Answer::BatchAccount(id, Ok(found)) if self.chosen == Some(id) => {
                let record = self.record(shared);
                let account = found
                    .zip(record)
                    .map(|(account, record)| Account::new(&account, record, &shared.snapshot, &shared.preferences));
                self.account = account;
                Action::None
            }
            Answer::Learned(design, Ok(learned)) => {
                if self.page.as_ref().is_some_and(|page| page.design == design) {
                    self.learnt = Some(Learnt::new(design, learned.as_ref(), shared, self.learnt.as_ref()));
                }
                Action::None
            }
            Answer::Losses(Ok(rows)) => {
                if let (Some(learnt), Some(page)) = (&mut self.learnt, &self.page) {
                    learnt.lost(page.design, &rows, &shared.snapshot);
                }
                Action::None
            }
            Answer::BatchHeads(Err(error))
            | Answer::Losses(Err(error))
            | Answer::Batch(_, Err(error))
            | Answer::BatchAccount(_, Err(error))
            | Answer::Learned(_, Err(error)) => trouble(error.to_string()),
            Answer::Performed(outcome) => self.performed(outcome, shared),
            _ => Action::None,
        }
    }

    fn performed(&mut self, outcome: Result<Outcome, Refusal>, shared: &Shared) -> Action<Message> {
        let waited = std::mem::replace(&mut self.waiting, Waits::Nothing);
        match (waited, outcome) {
            (Waits::Step, Ok(_)) => {
                if let (Some(page), Some(work)) = (&self.page, &self.work) {
                    self.work = Some(Work::new(page, work.step, shared.today));
                }
                self.word_work(shared);
                Action::None
            }
            (Waits::Step, Err(refusal)) => {
                if let Some(work) = &mut self.work {
                    work.refusal = Some(refusal.to_string());
                }
                Action::None
            }
            (Waits::Ask, Ok(outcome)) => {
                self.ask = None;
                match outcome.added {
                    Some(Added::Batch(id)) => self.take(id, shared),
                    _ => Action::None,
                }
            }
            (Waits::Ask, Err(refusal)) => {
                if let Some(ask) = &mut self.ask {
                    ask.refusal = Some(refusal.to_string());
                }
                Action::None
            }
            (Waits::Begin, Ok(outcome)) => {
                self.begin = None;
                match outcome.added {
                    Some(Added::Batch(id)) => self.take(id, shared),
                    _ => Action::None,
                }
            }
            (Waits::Begin, Err(refusal)) => {
                if let Some(begin) = &mut self.begin {
                    begin.refusal = Some(refusal.to_string());
                }
                Action::None
            }
            (Waits::Nothing, _) => Action::None,
        }
    }
}
