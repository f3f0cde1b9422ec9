//! The step in hand: which pieces, how long it took, what it used, what was lost in it. `read` makes an action of it.

use super::page::{Card, CardKind, Page};
use super::{lane, words};
use crate::book::Snapshot;
use crate::costing::batch::{BatchNow, planned_minutes, planned_take};
use crate::measure::{Preferences, Unit, display};
use crate::studio::{BatchRecord, LossCause, LossKind, MaterialId, MaterialKind, PieceId};
use crate::window::widget::Entry;
use std::collections::{BTreeMap, BTreeSet};

/// What tapping a piece means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tap {
    /// It is one of those the step is done for, or not.
    Choose,
    /// It was lost in the step, or not.
    Lose,
    /// It is a second, or not.
    Second,
}

/// How the time is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TimeBy {
    /// As the route plans.
    Planned,
    /// Typed.
    Typed,
    /// Timed, or written down before.
    Before,
}

/// How the materials are known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TakenBy {
    /// As the route plans.
    Planned,
    /// Weighed or counted.
    Weighed,
    /// Written down before.
    Before,
}

/// A field of the step in hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Field {
    /// How many pieces.
    Count,
    /// The day.
    Date,
    /// Minutes.
    Minutes,
    /// Of a material, by its place: the jar before; or how many were used.
    Before(usize),
    /// The jar after.
    After(usize),
    /// Of it, what came back.
    Washed(usize),
}

impl Field {
    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        match self {
            Self::Count => "work-count".to_owned(),
            Self::Date => "work-date".to_owned(),
            Self::Minutes => "work-minutes".to_owned(),
            Self::Before(place) => format!("work-before-{}", place.saturating_add(1)),
            Self::After(place) => format!("work-after-{}", place.saturating_add(1)),
            Self::Washed(place) => format!("work-washed-{}", place.saturating_add(1)),
        }
    }
}

/// What happens to the step in hand.
#[derive(Debug, Clone)]
pub enum Change {
    /// A field was typed in.
    Typed(Field, String),
    /// A piece was tapped.
    Piece(PieceId),
    /// All pieces that wait, or none.
    All(bool),
    /// What tapping means from now on.
    Tap(Tap),
    /// How the time is known.
    Time(TimeBy),
    /// How the materials are known.
    Taken(TakenBy),
    /// The cause of what is tapped as lost.
    Cause(LossCause),
    /// Whether that is usual.
    Kind(LossKind),
}

/// A material the step takes.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub(super) material: MaterialId,
    pub(super) name: String,
    pub(super) unit: Unit,
    /// Weighed in its jar before and after; others are counted.
    pub(super) jar: bool,
    /// Enamel can be washed back.
    pub(super) enamel: bool,
    /// What the route plans for the pieces chosen, worded.
    pub(super) planned: String,
    pub(super) before: Entry,
    pub(super) after: Entry,
    pub(super) washed: Entry,
}

/// The step in hand.
#[derive(Debug, Clone)]
pub(super) struct Work {
    pub(super) step: usize,
    pub(super) kind: CardKind,
    /// Pieces that wait and are free, in order.
    pub(super) free: Vec<PieceId>,
    pub(super) chosen: BTreeSet<PieceId>,
    pub(super) lost: BTreeMap<PieceId, (LossCause, LossKind)>,
    pub(super) seconds: BTreeSet<PieceId>,
    pub(super) tap: Tap,
    pub(super) cause: LossCause,
    pub(super) usual: LossKind,
    pub(super) time: TimeBy,
    pub(super) taken: TakenBy,
    pub(super) count: Entry,
    pub(super) date: Entry,
    pub(super) minutes: Entry,
    pub(super) lines: Vec<Line>,
    /// What the route plans for the pieces chosen: time.
    pub(super) planned_time: String,
    /// “Step done for 12 pieces”.
    pub(super) button: String,
    pub(super) tried: bool,
    pub(super) refusal: Option<String>,
}

impl Work {
    pub(super) fn new(page: &Page, step: usize, today: chrono::NaiveDate) -> Self {
        let mut work = Self {
            step,
            kind: CardKind::Work,
            free: Vec::new(),
            chosen: BTreeSet::new(),
            lost: BTreeMap::new(),
            seconds: BTreeSet::new(),
            tap: Tap::Choose,
            cause: LossCause::Cracked,
            usual: LossKind::Normal,
            time: TimeBy::Planned,
            taken: TakenBy::Planned,
            count: Entry::default(),
            date: Entry::new(today.max(page.last_day).to_string()),
            minutes: Entry::default(),
            lines: Vec::new(),
            planned_time: String::new(),
            button: String::new(),
            tried: false,
            refusal: None,
        };
        if let Some(card) = page.cards.get(step) {
            work.free = free(card);
            work.chosen = work.free.iter().copied().collect();
            work.kind = card.kind;
        }
        work.recount();
        work
    }

    /// The book changed: what still waits stays chosen. True where somebody waited and nobody does any more.
    pub(super) fn follow(&mut self, page: &Page) -> bool {
        let Some(card) = page.cards.get(self.step) else { return true };
        let now = free(card);
        let emptied = now.is_empty() && !self.free.is_empty();
        if now != self.free {
            let all = self.chosen.len() == self.free.len();
            self.chosen.retain(|piece| now.contains(piece));
            if all || self.chosen.is_empty() {
                self.chosen = now.iter().copied().collect();
            }
            self.lost.retain(|piece, _| now.contains(piece));
            self.seconds.retain(|piece| now.contains(piece));
            self.free = now;
            self.recount();
        }
        self.kind = card.kind;
        emptied
    }

    /// Words what the route plans for the pieces chosen.
    pub(super) fn word(&mut self, record: &BatchRecord, snapshot: &Snapshot, preferences: &Preferences) {
        let plan = &record.batch.plan;
        let number = self.chosen.len();
        let told = words::pieces(number);
        self.button = match (self.kind, number, self.free.len()) {
            (CardKind::Finish, ..) => format!("Finish {told}"),
            (_, 1, 1) | (_, 0, _) => "Step done".to_owned(),
            (_, some, all) if some == all => format!("Step done: all {all} pieces"),
            (..) => format!("Step done: {told}"),
        };
        let first = !BatchNow::of(record).is_under_way(self.step);
        self.planned_time = planned_minutes(plan, self.step, lane::number(number), first)
            .map(|minutes| words::minutes(minutes, preferences))
            .unwrap_or_default();
        let takes = planned_take(plan, self.step, lane::number(number)).unwrap_or_default();
        let lines = takes.into_iter().filter_map(|take| {
            let material = plan.materials.iter().find(|material| material.id == take.material)?;
            let kept = self.lines.iter().find(|line| line.material == take.material);
            let left = record
                .batch
                .stock
                .get(&take.material)
                .and_then(|item| snapshot.item(*item))
                .map(|row| format!(", {} on hand", display::quantity(row.on_hand.amount(), row.item.unit, preferences)))
                .unwrap_or_else(|| ", not kept in stock".to_owned());
            Some(Line {
                material: take.material.clone(),
                name: material.name.clone(),
                unit: material.unit,
                jar: matches!(material.unit, Unit::Gram | Unit::Millilitre),
                enamel: material.kind == MaterialKind::Enamel,
                planned: format!("{}{left}", display::quantity(take.quantity.amount(), material.unit, preferences)),
                before: kept.map(|line| line.before.clone()).unwrap_or_default(),
                after: kept.map(|line| line.after.clone()).unwrap_or_default(),
                washed: kept.map(|line| line.washed.clone()).unwrap_or_default(),
            })
        });
        self.lines = lines.collect();
    }

    fn recount(&mut self) {
        self.count.set(self.chosen.len().to_string());
    }

    pub(super) fn change(&mut self, change: Change) {
        self.refusal = None;
        match change {
            Change::Typed(Field::Count, text) => {
                if let Ok(number) = text.trim().parse::<usize>()
                    && (1..=self.free.len()).contains(&number)
                {
                    self.chosen = self.free.iter().take(number).copied().collect();
                }
                self.count.type_in(text);
            }
            Change::Typed(field, text) => {
                if let Some(entry) = self.entry(field) {
                    entry.type_in(text);
                }
            }
            Change::Piece(piece) => self.tapped(piece),
            Change::All(all) => {
                self.chosen = if all { self.free.iter().copied().collect() } else { BTreeSet::new() };
                self.recount();
            }
            Change::Tap(tap) => self.tap = tap,
            Change::Time(by) => self.time = by,
            Change::Taken(by) => self.taken = by,
            Change::Cause(cause) => self.cause = cause,
            Change::Kind(kind) => self.usual = kind,
        }
    }

    fn tapped(&mut self, piece: PieceId) {
        if !self.free.contains(&piece) {
            return;
        }
        match self.tap {
            Tap::Choose => {
                if !self.chosen.remove(&piece) {
                    let _ = self.chosen.insert(piece);
                }
                let chosen = &self.chosen;
                self.lost.retain(|piece, _| chosen.contains(piece));
                self.seconds.retain(|piece| chosen.contains(piece));
                self.recount();
            }
            Tap::Lose => {
                if self.lost.remove(&piece).is_none() {
                    let _ = self.lost.insert(piece, (self.cause, self.usual));
                    let _ = self.chosen.insert(piece);
                    self.recount();
                }
            }
            Tap::Second => {
                if !self.seconds.remove(&piece) {
                    let _ = self.seconds.insert(piece);
                    let _ = self.chosen.insert(piece);
                    self.recount();
                }
            }
        }
    }

    fn entry(&mut self, field: Field) -> Option<&mut Entry> {
        Some(match field {
            Field::Count => &mut self.count,
            Field::Date => &mut self.date,
            Field::Minutes => &mut self.minutes,
            Field::Before(place) => &mut self.lines.get_mut(place)?.before,
            Field::After(place) => &mut self.lines.get_mut(place)?.after,
            Field::Washed(place) => &mut self.lines.get_mut(place)?.washed,
        })
    }

    /// What a field holds, as typed.
    pub(super) fn text(&self, field: Field) -> &str {
        let line = |place: usize| self.lines.get(place);
        match field {
            Field::Count => self.count.text(),
            Field::Date => self.date.text(),
            Field::Minutes => self.minutes.text(),
            Field::Before(place) => line(place).map_or("", |line| line.before.text()),
            Field::After(place) => line(place).map_or("", |line| line.after.text()),
            Field::Washed(place) => line(place).map_or("", |line| line.washed.text()),
        }
    }

    /// Gives every field its former text back; true when that changed something.
    pub(super) fn revert(&mut self) -> bool {
        let mut reverted = self.date.revert() | self.minutes.revert();
        for line in &mut self.lines {
            reverted |= line.before.revert() | line.after.revert() | line.washed.revert();
        }
        reverted
    }
}

/// Pieces of a card the door is not closed on.
fn free(card: &Card) -> Vec<PieceId> {
    card.waiting.iter().filter(|waiting| !waiting.in_kiln).map(|waiting| waiting.piece).collect()
}
