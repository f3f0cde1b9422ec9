//! The batches on the bench, what waits for the kiln, loads that fire and timers that run: in words.

use crate::costing::batch::BatchNow;
use crate::measure::{Preferences, display};
use crate::studio::StepKind;
use crate::window::Shared;
use crate::window::screen::Destination;
use crate::window::screen::batches::lane::{self, Lane};
use crate::window::screen::batches::{page, words};
use crate::window::screen::designs::looks;
use iced::Color;

/// Most batches shown as strips; the rest is counted.
const MOST: usize = 12;

/// Pieces that wait for one firing.
#[derive(Debug, Clone)]
pub(super) struct Waiting {
    /// `1328 °F`.
    pub(super) heat: String,
    pub(super) colour: Color,
    /// “9 Lantern drop”.
    pub(super) what: String,
    /// “the second firing · 2:15 · batch 4”.
    pub(super) detail: String,
    pub(super) destination: Destination,
}

/// A load that fires, or a timer that runs.
#[derive(Debug, Clone)]
pub(super) struct Running {
    pub(super) what: String,
    pub(super) detail: String,
    pub(super) destination: Destination,
}

/// The bench.
#[derive(Debug, Default)]
pub(super) struct OnBench {
    pub(super) lanes: Vec<Lane>,
    /// “2 more in Batches”.
    pub(super) more: String,
    pub(super) waiting: Vec<Waiting>,
    pub(super) running: Vec<Running>,
    /// What to do first where nothing is on the bench.
    pub(super) advice: &'static str,
    /// A design can be made.
    pub(super) can_start: bool,
}

impl OnBench {
    pub(super) fn of(shared: &Shared) -> Self {
        let batches = &shared.snapshot.batches;
        let p = &shared.preferences;
        let rest = batches.len().saturating_sub(MOST);
        let can_start = shared.snapshot.designs.iter().any(|book| !book.retired);
        Self {
            lanes: batches.iter().take(MOST).map(|record| lane::lane(record, &shared.snapshot, p)).collect(),
            more: if rest > 0 { format!("{rest} more in Batches") } else { String::new() },
            waiting: waiting(shared, p),
            running: running(shared),
            advice: if can_start {
                "Start a batch: some pieces of a design on their way through its route. They are shown here as dots \
                 where they wait."
            } else {
                "Write a design down first, its route, coats and firings; then start a batch of it."
            },
            can_start,
        }
    }
}

/// Pieces that wait for a firing, hottest first.
fn waiting(shared: &Shared, p: &Preferences) -> Vec<Waiting> {
    let hot = lane::in_kiln(&shared.snapshot);
    let mut all = Vec::new();
    for record in shared.snapshot.batches.iter() {
        let now = BatchNow::of(record);
        let plan = &record.batch.plan;
        for (place, step) in plan.steps.iter().enumerate() {
            let StepKind::Fire(firing) = &step.kind else { continue };
            let number = now.waiting(place).into_iter().filter(|piece| !hot.contains(piece)).count();
            if number == 0 {
                continue;
            }
            let time = display::minutes(firing.minutes, p);
            all.push((
                firing.celsius,
                Waiting {
                    heat: display::temperature(firing.celsius, p),
                    colour: looks::heat(firing.celsius),
                    what: format!("{number} {}", record.batch.name),
                    detail: format!("{} · {time} · {}", words::place(plan, place), words::numbered(&record.batch)),
                    destination: Destination::Kiln,
                },
            ));
        }
    }
    all.sort_by_key(|(celsius, _)| std::cmp::Reverse(*celsius));
    all.into_iter().map(|(_, waiting)| waiting).collect()
}

/// Loads the door is closed on, then timers.
fn running(shared: &Shared) -> Vec<Running> {
    let snapshot = &shared.snapshot;
    let loads = snapshot.firing.iter().map(|load| {
        let kiln = snapshot.kiln(load.load.kiln).map_or("", |kiln| kiln.kiln.name.as_str());
        let heat = display::temperature(load.load.set_celsius, &shared.preferences);
        Running {
            what: format!("In the fire: {} in {kiln} at {heat}", words::pieces(load.load.charge.len())),
            detail: format!("since {}", page::since(load.load.closed_at, shared.today)),
            destination: Destination::Kiln,
        }
    });
    let timers = snapshot.timers.iter().map(|(_, timer)| {
        let of: Vec<String> = timer
            .work
            .iter()
            .filter_map(|work| snapshot.batch(work.batch).map(|record| (work, record)))
            .map(|(work, record)| {
                format!("{}, {}", words::place(&record.batch.plan, work.step), words::title(&record.batch))
            })
            .collect();
        Running {
            what: format!("Timer runs: {}", of.join("; ")),
            detail: format!("since {}", page::since(timer.since, shared.today)),
            destination: timer.work.first().map_or(Destination::Batches, |work| Destination::Batch(work.batch)),
        }
    });
    loads.chain(timers).collect()
}
