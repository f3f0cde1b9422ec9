//! What the batches of a design taught, worded: figures with their intervals, proposals, losses as bars.

use super::words;
use crate::book::Snapshot;
use crate::costing::learning::{Learned, LearnedShare, LearnedValue, LossBar, LossBy, LossOf, LossRow, bars};
use crate::measure::{Decimal, Preferences, display};
use crate::studio::{DesignId, Proposal};
use crate::window::Shared;
use crate::window::screen::designs::figures::drawn;

/// A figure learnt.
#[derive(Debug, Clone)]
pub(super) struct Figure {
    /// “Stencil: good”.
    pub(super) name: String,
    /// “planned 97 %, batches say 91.3 %”.
    pub(super) told: String,
    /// “90 % likely between …, 24 pieces”.
    pub(super) interval: String,
    /// Where a proposal of it stands among all, and its button.
    pub(super) proposal: Option<(usize, String)>,
}

/// A bar of the plot of losses.
#[derive(Debug, Clone)]
pub(super) struct LossLine {
    pub(super) name: String,
    /// Its share of the longest.
    pub(super) share: f32,
    /// “5 pieces: 3 cracked, 2 chipped; 1 not usual”.
    pub(super) told: String,
}

/// All of it.
#[derive(Debug, Clone)]
pub(super) struct Learnt {
    pub(super) sentence: String,
    pub(super) figures: Vec<Figure>,
    pub(super) by: LossBy,
    pub(super) losses: Vec<LossLine>,
    proposals: Vec<Proposal>,
    rows: Vec<LossRow>,
}

impl Learnt {
    pub(super) fn new(design: DesignId, found: Option<&Learned>, shared: &Shared, before: Option<&Self>) -> Self {
        let p = &shared.preferences;
        let mut learnt = Self {
            sentence: "No batch of it is told of yet.".to_owned(),
            figures: Vec::new(),
            by: before.map_or(LossBy::Step, |before| before.by),
            losses: Vec::new(),
            proposals: Vec::new(),
            rows: before.map(|before| before.rows.clone()).unwrap_or_default(),
        };
        if let Some(found) = found {
            let number = usize::try_from(found.batches).unwrap_or_default();
            learnt.sentence = match number {
                0 => learnt.sentence,
                _ => format!("From its last {}. Nothing on the design changes by itself.", batches(number)),
            };
            let steps = shared.snapshot.design(design).map_or(&[][..], |book| book.design.steps.as_slice());
            for (step, of) in steps.iter().zip(&found.steps) {
                learnt.share(&step.name, &of.good, p);
                if let Some(minutes) = &of.minutes {
                    learnt.value(&step.name, "minutes a piece", minutes, "min", p);
                }
                if let Some(coat) = &of.coat {
                    learnt.value(&step.name, "weight of the coat", coat, "mg/cm²", p);
                }
            }
        }
        learnt.plot(&shared.snapshot);
        learnt
    }

    /// The losses of its design.
    pub(super) fn lost(&mut self, design: DesignId, rows: &[LossRow], snapshot: &Snapshot) {
        self.rows = rows.iter().filter(|row| row.design == design).cloned().collect();
        self.plot(snapshot);
    }

    /// Counts the losses another way.
    pub(super) fn count_by(&mut self, by: LossBy, snapshot: &Snapshot) {
        self.by = by;
        self.plot(snapshot);
    }

    /// A proposal by its place.
    pub(super) fn proposal(&self, place: usize) -> Option<Proposal> {
        self.proposals.get(place).cloned()
    }

    fn propose(&mut self, proposal: Option<&Proposal>, words: impl Fn(Decimal) -> String) -> Option<(usize, String)> {
        let proposal = proposal?;
        self.proposals.push(proposal.clone());
        Some((self.proposals.len() - 1, format!("Take {}", words(proposal.proposed))))
    }

    fn share(&mut self, step: &str, of: &LearnedShare, p: &Preferences) {
        if of.share.of == 0 {
            return;
        }
        let share = |value| display::share(value, p);
        let proposal = self.propose(of.proposal.as_ref(), share);
        self.figures.push(Figure {
            name: format!("{step}: good"),
            told: format!("planned {}, batches say {}", share(of.planned), share(of.share.mean)),
            interval: format!(
                "{} of {} pieces; with 90 % likely from {} to {}",
                of.share.good,
                of.share.of,
                share(of.share.low),
                share(of.share.high)
            ),
            proposal,
        });
    }

    fn value(&mut self, step: &str, what: &str, of: &LearnedValue, unit: &str, p: &Preferences) {
        let number = |value: Decimal| format!("{}\u{a0}{unit}", display::number(value, 0, 2, p.numbers));
        let proposal = self.propose(of.proposal.as_ref(), number);
        let told = usize::try_from(of.batches).unwrap_or_default();
        self.figures.push(Figure {
            name: format!("{step}: {what}"),
            told: format!("planned {}, the middle is {}", number(of.planned), number(of.quartiles.median)),
            interval: if told == 1 {
                "one batch says so".to_owned()
            } else {
                let (first, third) = (number(of.quartiles.first), number(of.quartiles.third));
                format!("half of {} lie from {first} to {third}", batches(told))
            },
            proposal,
        });
    }

    fn plot(&mut self, snapshot: &Snapshot) {
        let found = bars(&self.rows, self.by);
        let most = found.iter().map(|bar| bar.pieces).max().unwrap_or_default();
        self.losses = found
            .iter()
            .map(|bar| LossLine {
                name: name(&bar.of, snapshot),
                share: drawn(Decimal::from(bar.pieces)) / drawn(Decimal::from(most.max(1))),
                told: told(bar),
            })
            .collect();
    }
}

fn batches(number: usize) -> String {
    words::counted(number, "batch", "batches")
}

fn name(of: &LossOf, snapshot: &Snapshot) -> String {
    match of {
        LossOf::Design(_, code) => code.clone(),
        LossOf::Step(name) | LossOf::Enamel(name) => name.clone(),
        LossOf::Kiln(id) => snapshot.kiln(*id).map_or_else(|| "a kiln".to_owned(), |kiln| kiln.kiln.name.clone()),
        LossOf::Cause(cause) => cause.words().to_owned(),
        LossOf::None => "none in play".to_owned(),
    }
}

fn told(bar: &LossBar) -> String {
    let causes: Vec<String> = bar.causes.iter().map(|(cause, pieces)| format!("{pieces} {}", cause.words())).collect();
    let unusual = if bar.abnormal > 0 { format!("; {} far outside the usual", bar.abnormal) } else { String::new() };
    format!("{}{unusual}", causes.join(", "))
}
