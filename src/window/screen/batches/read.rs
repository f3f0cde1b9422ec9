//! What is typed about the step in hand, read: what is wrong with a field, and the action it makes.

use super::page::{CardKind, Page};
use super::work::{Field, Line, TakenBy, TimeBy, Work};
use crate::actions::{self, MaterialTaken, PieceLost, StepDone, StepMaterials, StepMinutes};
use crate::measure::{Decimal, Preferences, Quantity, display, parse};
use crate::studio::{Measured, PieceId};
use chrono::NaiveDate;

/// A day typed year first.
pub(super) fn day(text: &str) -> Result<NaiveDate, String> {
    match NaiveDate::parse_from_str(text, "%Y-%m-%d") {
        Ok(date) => Ok(date),
        Err(_) if text.is_empty() => Err("nothing is typed: write the day, e.g. 2026-10-14".to_owned()),
        Err(_) => Err(format!("\"{text}\" is not a day: write it year first, e.g. 2026-10-14")),
    }
}

/// Minutes typed, 0 or more.
pub(super) fn minutes(text: &str, preferences: &Preferences) -> Result<Decimal, String> {
    if text.is_empty() {
        return Err("nothing is typed: write minutes, e.g. 40 or 1:15".to_owned());
    }
    parse::parse_minutes(text, preferences).map_err(|problem| problem.to_string())
}

impl Work {
    /// What is wrong with a field, if anything.
    pub(super) fn problem(&self, field: Field, page: &Page, preferences: &Preferences) -> Option<String> {
        match field {
            Field::Count => self.count_problem(),
            Field::Date => self.day(page).err(),
            Field::Minutes if self.time == TimeBy::Typed && (self.tried || !self.minutes.is_empty()) => {
                minutes(self.minutes.trimmed(), preferences).err()
            }
            Field::Before(place) | Field::After(place) | Field::Washed(place) if self.taken == TakenBy::Weighed => {
                let line = self.lines.get(place)?;
                let (wrong, why) = taken(line, preferences).err()?;
                let here = match field {
                    Field::After(_) => Part::After,
                    Field::Washed(_) => Part::Washed,
                    _ => Part::Before,
                };
                (wrong == here).then_some(why)
            }
            _ => None,
        }
    }

    fn count_problem(&self) -> Option<String> {
        let all = self.free.len();
        let text = self.count.trimmed();
        if self.chosen.is_empty() {
            return self.tried.then(|| "no piece is chosen: tap those it is done for".to_owned());
        }
        let fits = text.parse::<usize>().is_ok_and(|number| number == self.chosen.len());
        (!fits && all > 0).then(|| format!("\"{text}\" was given: write a number from 1 to {all}"))
    }

    fn day(&self, page: &Page) -> Result<NaiveDate, String> {
        let date = day(self.date.trimmed())?;
        if date < page.last_day {
            return Err(format!("{date} is before the batch’s last entry: write {} or later", page.last_day));
        }
        Ok(date)
    }

    /// The day, where it can be read.
    pub(super) fn date_of(&self, page: &Page) -> Option<NaiveDate> {
        self.day(page).ok()
    }

    /// Every field of the step in hand, in reading order.
    pub(super) fn fields(&self) -> impl Iterator<Item = Field> + '_ {
        let lines =
            (0..self.lines.len()).flat_map(|place| [Field::Before(place), Field::After(place), Field::Washed(place)]);
        [Field::Count, Field::Date, Field::Minutes].into_iter().chain(lines)
    }

    /// The pieces chosen, in order.
    pub(super) fn pieces(&self) -> Vec<PieceId> {
        self.free.iter().filter(|piece| self.chosen.contains(piece)).copied().collect()
    }

    /// What was tapped as lost.
    pub(super) fn losses(&self) -> Vec<PieceLost> {
        self.lost
            .iter()
            .map(|(piece, (cause, kind))| PieceLost { piece: *piece, cause: *cause, kind: *kind, note: String::new() })
            .collect()
    }

    /// The action of the button, once every field can be read.
    pub(super) fn action(&self, page: &Page, preferences: &Preferences) -> Result<actions::Action, String> {
        let date = self.day(page)?;
        let pieces = self.pieces();
        if self.kind == CardKind::Finish {
            let seconds = self.seconds.iter().copied().collect();
            return Ok(actions::Action::FinishPieces { batch: page.id, pieces, seconds, date });
        }
        Ok(actions::Action::DoStep(StepDone {
            batch: page.id,
            step: self.step,
            pieces,
            date,
            minutes: match self.time {
                TimeBy::Planned => StepMinutes::AsPlanned,
                TimeBy::Typed => StepMinutes::Typed(minutes(self.minutes.trimmed(), preferences)?),
                TimeBy::Before => StepMinutes::WrittenDown,
            },
            materials: match self.taken {
                _ if self.lines.is_empty() => StepMaterials::AsPlanned,
                TakenBy::Planned => StepMaterials::AsPlanned,
                TakenBy::Weighed => StepMaterials::Taken(self.taken_lines(preferences)?),
                TakenBy::Before => StepMaterials::WrittenDown,
            },
            lost: self.losses(),
        }))
    }

    /// The action that takes the weighed materials and leaves the step to be done later.
    pub(super) fn take(&self, page: &Page, preferences: &Preferences) -> Result<actions::Action, String> {
        Ok(actions::Action::TakeMaterials {
            batch: page.id,
            step: self.step,
            pieces: self.pieces(),
            date: self.day(page)?,
            lines: self.taken_lines(preferences)?,
        })
    }

    fn taken_lines(&self, preferences: &Preferences) -> Result<Vec<MaterialTaken>, String> {
        let lines = self.lines.iter();
        lines.map(|line| taken(line, preferences).map_err(|(_, why)| format!("{}: {why}", line.name))).collect()
    }
}

/// What a weighed line comes to, worded; empty until it can be read.
pub(super) fn net(line: &Line, preferences: &Preferences) -> String {
    match taken(line, preferences) {
        Ok(taken) => {
            let used = display::quantity(taken.quantity.amount(), line.unit, preferences);
            let back = taken.washed_back.map(|back| display::quantity(back.amount(), line.unit, preferences));
            match back {
                Some(back) => format!("{used} left the jar, {back} of it came back"),
                None => format!("{used} left the shelf"),
            }
        }
        Err(_) => String::new(),
    }
}

/// A part of a weighed line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    Before,
    After,
    Washed,
}

/// What was taken of a material: before less after where it is weighed, else the number typed; nothing typed is none.
fn taken(line: &Line, preferences: &Preferences) -> Result<MaterialTaken, (Part, String)> {
    let read = |text: &str, part: Part| {
        parse::parse_quantity(text, line.unit, preferences)
            .map(|typed| typed.quantity())
            .map_err(|problem| (part, problem.to_string()))
    };
    let before = line.before.trimmed();
    let mut typed = before.to_owned();
    let mut quantity = if before.is_empty() { Quantity::ZERO } else { read(before, Part::Before)? };
    if line.jar && !line.after.is_empty() {
        let after = read(line.after.trimmed(), Part::After)?;
        if after > quantity {
            let shown = display::quantity(quantity.amount(), line.unit, preferences);
            let typed = line.after.trimmed();
            return Err((
                Part::After,
                format!("\"{typed}\" was given: the jar weighed {shown} before, write that or less"),
            ));
        }
        typed = format!("{before} − {}", line.after.trimmed());
        quantity = quantity.minus(after).map_err(|error| (Part::After, error.to_string()))?;
    }
    let washed_back = if line.washed.is_empty() {
        None
    } else {
        let back = read(line.washed.trimmed(), Part::Washed)?;
        if back > quantity {
            let shown = display::quantity(quantity.amount(), line.unit, preferences);
            let typed = line.washed.trimmed();
            return Err((
                Part::Washed,
                format!("\"{typed}\" was given: only {shown} left the jar, write that or less"),
            ));
        }
        Some(back)
    };
    Ok(MaterialTaken { material: line.material.clone(), quantity, typed, how: Measured::Weighed, washed_back })
}
