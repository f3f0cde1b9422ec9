//! What lies over the page and wants an answer first: leave out, send back, lose, split, put together, give up, time.

use super::page::Page;
use super::read;
use super::words;
use crate::actions::{self, PieceLost, TimeSpent};
use crate::book::Snapshot;
use crate::measure::Preferences;
use crate::studio::{BatchId, LossCause, LossKind, PieceId, Timed, TimedWork, TimerId};
use crate::window::widget::Entry;
use chrono::NaiveDate;

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Leave the step in hand out.
    Skip,
    /// Send pieces back to an earlier step.
    SendBack,
    /// Pieces were lost.
    Lose,
    /// Make a batch of its own of some pieces.
    Split,
    /// Put the batch into another of the same route.
    Merge,
    /// Give the batch up.
    Abandon,
    /// Write minutes down, for one batch or several.
    Time,
    /// Start a timer, for one batch or several.
    Start,
    /// Stop a timer.
    Stop(TimerId),
}

/// A field of the question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Field {
    /// Why, a note, or a name.
    Words,
    /// Minutes.
    Minutes,
}

impl Field {
    /// The name the focus is sent to.
    pub(super) const fn id(self) -> &'static str {
        match self {
            Self::Words => "ask-words",
            Self::Minutes => "ask-minutes",
        }
    }
}

/// What happens in it.
#[derive(Debug, Clone)]
pub enum Change {
    /// A field was typed in.
    Typed(Field, String),
    /// A step, batch or line of the list was picked: by its place.
    Pick(usize),
    /// The cause of a loss.
    Cause(LossCause),
    /// Whether that is usual.
    Kind(LossKind),
}

/// Something to pick.
#[derive(Debug, Clone)]
pub(super) struct Choice {
    pub(super) words: String,
    pub(super) picked: bool,
    to: To,
}

/// What is picked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum To {
    Step(usize),
    Batch(BatchId),
    Work(TimedWork),
    Piece(PieceId),
}

/// A question as it stands.
#[derive(Debug, Clone)]
pub(super) struct Ask {
    pub(super) kind: Kind,
    batch: BatchId,
    step: usize,
    pieces: Vec<PieceId>,
    pub(super) date: NaiveDate,
    pub(super) title: String,
    pub(super) advice: String,
    pub(super) button: &'static str,
    /// The label of the words; empty where none are asked for.
    pub(super) label: &'static str,
    pub(super) words: Entry,
    pub(super) minutes: Entry,
    pub(super) choices: Vec<Choice>,
    pub(super) cause: LossCause,
    pub(super) usual: LossKind,
    pub(super) refusal: Option<String>,
}

impl Ask {
    pub(super) fn new(
        kind: Kind,
        page: &Page,
        step: usize,
        pieces: Vec<PieceId>,
        date: NaiveDate,
        snapshot: &Snapshot,
    ) -> Self {
        let number = words::pieces(pieces.len());
        let at = page.cards.get(step).map(|card| card.name.clone()).unwrap_or_default();
        let (title, advice, button, label) = match kind {
            Kind::Skip => {
                (format!("Leave {at} out for {number}"), "They go on to the next step.".to_owned(), "Leave it out", "Why")
            }
            Kind::SendBack => (
                format!("Send {number} back"),
                "They are done again from the step you choose; what was used and worked stays written down.".to_owned(),
                "Send them back",
                "Why",
            ),
            Kind::Lose => (
                format!("Which were lost at {at}?"),
                "Tap them. A usual loss is borne by the good pieces; one far outside the usual is kept out of their cost.".to_owned(),
                "They are lost",
                "Anything else",
            ),
            Kind::Split => (
                format!("Make a batch of its own of {number}"),
                "They keep their steps; what they have cost so far goes with them.".to_owned(),
                "Make it",
                "What it is called",
            ),
            Kind::Merge => (
                format!("Put {} together with another batch", page.name),
                "All its pieces at work go there. Only batches of the same route can be put together.".to_owned(),
                "Put them together",
                "",
            ),
            Kind::Abandon => (
                format!("Give {} up", page.name),
                format!(
                    "{} at work are lost, and what they used is written off as a loss that is not usual. Undo takes it \
                     back.",
                    words::pieces(page.at_work)
                ),
                "Give it up",
                "Why",
            ),
            Kind::Time => (
                "Write minutes down".to_owned(),
                "Where one sitting served several batches, tick them: the minutes are shared by their pieces.".to_owned(),
                "Write them down",
                "",
            ),
            Kind::Start => (
                "Start a timer".to_owned(),
                "It runs on when the program is closed. Where one sitting serves several batches, tick them.".to_owned(),
                "Start it",
                "",
            ),
            Kind::Stop(_) => (
                "Stop the timer".to_owned(),
                "The minutes it ran are written down, unless you write how many they were: after a break, say.".to_owned(),
                "Stop it",
                "",
            ),
        };
        let mut ask = Self {
            kind,
            batch: page.id,
            step,
            pieces,
            date,
            title,
            advice,
            button,
            label,
            words: Entry::default(),
            minutes: Entry::default(),
            choices: Vec::new(),
            cause: LossCause::Cracked,
            usual: LossKind::Normal,
            refusal: None,
        };
        ask.choices = ask.choices_of(page, snapshot);
        ask
    }

    fn choices_of(&self, page: &Page, snapshot: &Snapshot) -> Vec<Choice> {
        match self.kind {
            Kind::SendBack => page
                .cards
                .iter()
                .enumerate()
                .take(self.step)
                .map(|(place, card)| Choice {
                    words: format!("{} {}", place.saturating_add(1), card.name),
                    picked: place.saturating_add(1) == self.step,
                    to: To::Step(place),
                })
                .collect(),
            Kind::Merge => snapshot
                .batches
                .iter()
                .filter(|other| other.id != page.id && other.batch.design == page.design)
                .enumerate()
                .map(|(place, other)| Choice {
                    words: words::title(&other.batch),
                    picked: place == 0,
                    to: To::Batch(other.id),
                })
                .collect(),
            Kind::Time | Kind::Start => self.works(snapshot),
            Kind::Lose => {
                let waiting = page.cards.get(self.step).map_or(&[][..], |card| card.waiting.as_slice());
                let free: Vec<_> = waiting.iter().filter(|waiting| !waiting.in_kiln).collect();
                // All are chosen unless some were tapped: then none is lost before it is said.
                let some = self.pieces.len() < free.len() || free.len() == 1;
                free.iter()
                    .map(|waiting| Choice {
                        words: waiting.place.clone(),
                        picked: some && self.pieces.contains(&waiting.piece),
                        to: To::Piece(waiting.piece),
                    })
                    .collect()
            }
            _ => Vec::new(),
        }
    }

    /// The step in hand, then steps of other batches that somebody waits for.
    fn works(&self, snapshot: &Snapshot) -> Vec<Choice> {
        let mut all = Vec::new();
        for record in snapshot.batches.iter() {
            let now = crate::costing::batch::BatchNow::of(record);
            for (step, of) in record.batch.plan.steps.iter().enumerate() {
                let own = record.id == self.batch && step == self.step;
                if own || !now.waiting(step).is_empty() {
                    all.push(Choice {
                        words: format!("{}: {}", words::title(&record.batch), of.name),
                        picked: own,
                        to: To::Work(TimedWork { batch: record.id, step }),
                    });
                }
            }
        }
        all.sort_by_key(|choice| !choice.picked);
        all
    }

    pub(super) fn change(&mut self, change: Change) {
        self.refusal = None;
        match change {
            Change::Typed(Field::Words, text) => self.words.type_in(text),
            Change::Typed(Field::Minutes, text) => self.minutes.type_in(text),
            Change::Cause(cause) => self.cause = cause,
            Change::Kind(usual) => self.usual = usual,
            Change::Pick(picked) => {
                let several = matches!(self.kind, Kind::Time | Kind::Start | Kind::Lose);
                for (place, choice) in self.choices.iter_mut().enumerate() {
                    choice.picked = match (several, place == picked) {
                        (true, true) => !choice.picked,
                        (true, false) => choice.picked,
                        (false, is) => is,
                    };
                }
            }
        }
    }

    /// Minutes are asked for.
    pub(super) const fn asks_minutes(&self) -> bool {
        matches!(self.kind, Kind::Time | Kind::Stop(_))
    }

    /// What is wrong with the minutes, if anything.
    pub(super) fn minutes_problem(&self, preferences: &Preferences) -> Option<String> {
        let typed = self.asks_minutes() && !self.minutes.is_empty();
        typed.then(|| read::minutes(self.minutes.trimmed(), preferences).err()).flatten()
    }

    /// Gives every field its former text back; true when that changed something.
    pub(super) fn revert(&mut self) -> bool {
        self.words.revert() | self.minutes.revert()
    }

    fn picked(&self) -> impl Iterator<Item = To> + '_ {
        self.choices.iter().filter(|choice| choice.picked).map(|choice| choice.to)
    }

    /// The action, once all is said; why there is none.
    pub(super) fn action(&self, preferences: &Preferences) -> Result<actions::Action, String> {
        let (batch, step, pieces, date) = (self.batch, self.step, self.pieces.clone(), self.date);
        let why = self.words.trimmed().to_owned();
        let work: Vec<TimedWork> = self
            .picked()
            .filter_map(|to| match to {
                To::Work(work) => Some(work),
                _ => None,
            })
            .collect();
        Ok(match self.kind {
            Kind::Skip => actions::Action::SkipStep { batch, step, pieces, date, why },
            Kind::SendBack => match self.picked().next() {
                Some(To::Step(to)) => actions::Action::SendBack { batch, to, pieces, date, why },
                _ => return Err("There is no earlier step to send them to.".to_owned()),
            },
            Kind::Lose => {
                let tapped = self.picked().filter_map(|to| match to {
                    To::Piece(piece) => Some(piece),
                    _ => None,
                });
                let lost: Vec<PieceLost> = tapped
                    .map(|piece| PieceLost { piece, cause: self.cause, kind: self.usual, note: why.clone() })
                    .collect();
                if lost.is_empty() {
                    return Err("No piece is tapped: tap those that were lost.".to_owned());
                }
                actions::Action::LosePieces { batch, lost, date }
            }
            Kind::Split => actions::Action::SplitBatch { batch, pieces, date, name: why },
            Kind::Merge => match self.picked().next() {
                Some(To::Batch(into)) => actions::Action::MergeBatches { from: batch, into, date },
                _ => return Err("There is no other open batch of this design to put it together with.".to_owned()),
            },
            Kind::Abandon => actions::Action::AbandonBatch { batch, date, why },
            Kind::Time | Kind::Start if work.is_empty() => {
                return Err("Nothing is ticked: tick at least one step the time is for.".to_owned());
            }
            Kind::Time => actions::Action::AddTime(TimeSpent {
                work,
                minutes: read::minutes(self.minutes.trimmed(), preferences)?,
                date,
                how: Timed::Typed,
            }),
            Kind::Start => actions::Action::StartTimer(work),
            Kind::Stop(timer) => {
                let typed = self.minutes.trimmed();
                let minutes = if typed.is_empty() { None } else { Some(read::minutes(typed, preferences)?) };
                actions::Action::StopTimer { timer, minutes }
            }
        })
    }
}
