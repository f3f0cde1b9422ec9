//! The batch in hand, worded.

use super::story::{self, Told};
use super::{lane, words};
use crate::book::Snapshot;
use crate::costing::batch::{BatchNow, Standing, StepCounts};
use crate::measure::Preferences;
use crate::studio::{BatchId, BatchRecord, BatchState, DesignId, PieceId, StepKind, TimerId};
use crate::window::draw::batch_strip::LaneStep;
use crate::window::screen::designs::checks::Check;
use chrono::NaiveDate;

/// A piece that waits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Waiting {
    pub(super) piece: PieceId,
    /// Its place: what stands on its dot.
    pub(super) place: String,
    /// The door is closed on it.
    pub(super) in_kiln: bool,
}

/// A step of the route, or the place after the last.
#[derive(Debug, Clone)]
pub(super) struct Card {
    pub(super) name: String,
    /// `1337 °F · 3:15`; may be empty.
    pub(super) detail: String,
    pub(super) kind: CardKind,
    pub(super) waiting: Vec<Waiting>,
    /// “14 came to it, 9 wait, 4 passed, 1 lost”.
    pub(super) counts: String,
    pub(super) cautions: Vec<Check>,
}

/// What is done at a card.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum CardKind {
    /// By hand.
    Work,
    /// By a load of the kiln.
    Fire,
    /// Pieces get their numbers.
    Finish,
}

/// A timer that runs for the batch.
#[derive(Debug, Clone)]
pub(super) struct Running {
    pub(super) id: TimerId,
    pub(super) words: String,
}

/// The batch as it is shown.
#[derive(Debug, Clone)]
pub(super) struct Page {
    pub(super) id: BatchId,
    pub(super) design: DesignId,
    pub(super) name: String,
    pub(super) title: String,
    pub(super) sentence: String,
    pub(super) note: String,
    pub(super) state: BatchState,
    pub(super) lane: Vec<LaneStep>,
    pub(super) cards: Vec<Card>,
    pub(super) told: Vec<Told>,
    pub(super) timers: Vec<Running>,
    /// The day of its last entry: nothing may be dated before it.
    pub(super) last_day: NaiveDate,
    /// Pieces at work.
    pub(super) at_work: usize,
}

impl Page {
    pub(super) fn new(record: &BatchRecord, snapshot: &Snapshot, preferences: &Preferences, today: NaiveDate) -> Self {
        let now = BatchNow::of(record);
        let hot = lane::in_kiln(snapshot);
        let batch = &record.batch;
        let plan = &batch.plan;
        let waiting = |ids: Vec<PieceId>| -> Vec<Waiting> {
            let found = record.pieces.iter().filter(|piece| ids.contains(&piece.id));
            found
                .map(|piece| Waiting {
                    piece: piece.id,
                    place: piece.place.to_string(),
                    in_kiln: hot.contains(&piece.id),
                })
                .collect()
        };
        let lane = lane::steps(record, &now, &hot, snapshot, preferences);
        let counts = now.counts();
        let mut cards: Vec<Card> = plan
            .steps
            .iter()
            .enumerate()
            .map(|(place, step)| Card {
                name: step.name.clone(),
                detail: lane.get(place).map(|step| step.detail.clone()).unwrap_or_default(),
                kind: if matches!(step.kind, StepKind::Fire(_)) { CardKind::Fire } else { CardKind::Work },
                waiting: waiting(now.waiting(place)),
                counts: counts.get(place).map(counted).unwrap_or_default(),
                cautions: lane::cautions(plan, place, preferences),
            })
            .collect();
        let done = now.done();
        if !done.is_empty() {
            cards.push(Card {
                name: "To finish".to_owned(),
                detail: String::new(),
                kind: CardKind::Finish,
                counts: format!("{} passed every step", words::pieces(done.len())),
                waiting: waiting(done),
                cautions: Vec::new(),
            });
        }
        let at_work = cards.iter().map(|card| card.waiting.len()).sum();
        Self {
            id: record.id,
            design: batch.design,
            name: batch.name.clone(),
            title: batch.name.clone(),
            sentence: sentence(record, &now, at_work, today),
            note: batch.note.trim().to_owned(),
            state: batch.state,
            lane,
            cards,
            told: story::told(record, snapshot, preferences, today),
            timers: timers(record, snapshot, today),
            last_day: record.entries.last().map_or(batch.started, |entry| entry.date),
            at_work,
        }
    }

    /// The first step somebody waits for by hand, else any, else the first.
    pub(super) fn first_card(&self) -> usize {
        let free = |card: &Card| card.waiting.iter().any(|waiting| !waiting.in_kiln);
        self.cards
            .iter()
            .position(|card| card.kind != CardKind::Fire && free(card))
            .or_else(|| self.cards.iter().position(|card| !card.waiting.is_empty()))
            .unwrap_or_default()
    }
}

fn counted(counts: &StepCounts) -> String {
    if counts.entered == 0 {
        return "no piece came to it yet".to_owned();
    }
    let mut told = vec![format!("{} came to it", counts.entered)];
    for (number, what) in [
        (counts.waiting, if counts.waiting == 1 { "waits" } else { "wait" }),
        (counts.passed, "passed"),
        (counts.lost, "lost"),
    ] {
        if number > 0 {
            told.push(format!("{number} {what}"));
        }
    }
    told.join(", ")
}

fn sentence(record: &BatchRecord, now: &BatchNow, at_work: usize, today: NaiveDate) -> String {
    let batch = &record.batch;
    let lost = now.standings().filter(|(_, standing)| matches!(standing, Standing::Lost { .. })).count();
    let finished = record.pieces.iter().filter(|piece| piece.number.is_some()).count();
    let mut told = vec![
        words::numbered(batch),
        batch.plan.code.to_string(),
        format!("begun {}", words::day(batch.started, today)),
        format!("{} begun", batch.plan.pieces),
    ];
    if batch.state != BatchState::Open {
        told.push(words::state(batch.state).to_owned());
    }
    for (number, what) in [(at_work, "at work"), (finished, "finished"), (lost, "lost")] {
        if number > 0 {
            told.push(format!("{number} {what}"));
        }
    }
    told.join(" · ")
}

/// The timers that run for a batch.
fn timers(record: &BatchRecord, snapshot: &Snapshot, today: NaiveDate) -> Vec<Running> {
    let own = snapshot.timers.iter().filter(|(_, timer)| timer.work.iter().any(|work| work.batch == record.id));
    own.map(|(id, timer)| {
        let of: Vec<String> = timer
            .work
            .iter()
            .map(|work| match snapshot.batch(work.batch) {
                Some(other) if other.id != record.id => {
                    format!("{} of {}", words::place(&other.batch.plan, work.step), words::title(&other.batch))
                }
                _ => words::place(&record.batch.plan, work.step),
            })
            .collect();
        Running { id: *id, words: format!("{}, since {}", of.join(", "), since(timer.since, today)) }
    })
    .collect()
}

/// `9:15`, with its day where it is another one.
pub(in crate::window::screen) fn since(at: chrono::NaiveDateTime, today: NaiveDate) -> String {
    let time = at.format("%-H:%M");
    if at.date() == today { time.to_string() } else { format!("{time} on {}", words::day(at.date(), today)) }
}
