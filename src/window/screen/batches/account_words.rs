//! What a batch cost, worded: planned and actual side by side, the four variances, its pieces, its losses.

use super::{story, words};
use crate::book::Snapshot;
use crate::costing::batch::{
    BatchAccount, CostPart, CostParts, LossCount, PieceAccount, PlannedActual, Stage, StepAccount, VarianceLine,
    VarianceOf, Variances,
};
use crate::measure::{Decimal, Money, Preferences, Unit, display};
use crate::studio::{BatchRecord, LossKind, MaterialId, PieceId};
use crate::window::widget::Line;

/// A figure as planned and as it was.
#[derive(Debug, Clone)]
pub(super) struct Pair {
    pub(super) name: String,
    pub(super) planned: String,
    pub(super) actual: String,
    /// What it is made of, when opened.
    pub(super) lines: Vec<Pair>,
}

/// One of the four variances.
#[derive(Debug, Clone)]
pub(super) struct Variance {
    pub(super) name: &'static str,
    pub(super) meaning: &'static str,
    pub(super) amount: String,
    pub(super) lines: Vec<Line>,
}

/// A piece with what it bears.
#[derive(Debug, Clone)]
pub(super) struct PieceLine {
    pub(super) id: PieceId,
    pub(super) name: String,
    pub(super) cost: String,
    /// It has a number: its own page can be opened.
    pub(super) finished: bool,
    pub(super) lines: Vec<Line>,
}

/// The account as it is shown.
#[derive(Debug, Clone)]
pub(super) struct Account {
    /// “12 finished pieces cost 318.40” …
    pub(super) sentence: String,
    pub(super) parts: Vec<Line>,
    pub(super) cost: String,
    pub(super) steps: Vec<Pair>,
    /// What the difference is, and its four parts; empty while pieces are at work.
    pub(super) difference: String,
    pub(super) variances: Vec<Variance>,
    pub(super) pieces: Vec<PieceLine>,
    pub(super) losses: Vec<String>,
}

impl Account {
    pub(super) fn new(
        account: &BatchAccount,
        record: &BatchRecord,
        snapshot: &Snapshot,
        preferences: &Preferences,
    ) -> Self {
        let told = Told { record, snapshot, preferences };
        let (difference, variances) = match &account.stage {
            Stage::SoFar { .. } => (String::new(), Vec::new()),
            Stage::Complete(variances) => (told.difference(variances), told.variances(variances)),
        };
        Self {
            sentence: told.sentence(account),
            parts: told.parts(account),
            cost: told.money(account.cost.amount()),
            steps: account.steps.iter().enumerate().map(|(place, step)| told.step(place, step)).collect(),
            difference,
            variances,
            pieces: account.pieces.iter().map(|piece| told.piece(piece)).collect(),
            losses: told.losses(account),
        }
    }
}

/// What is needed to word any part of it.
struct Told<'a> {
    record: &'a BatchRecord,
    snapshot: &'a Snapshot,
    preferences: &'a Preferences,
}

impl Told<'_> {
    fn money(&self, amount: Decimal) -> String {
        display::money(amount, self.preferences)
    }

    fn number(&self, value: Decimal) -> String {
        display::number(value, 0, 2, self.preferences.numbers)
    }

    /// An amount with its sign, as a difference is read.
    fn signed(&self, amount: Decimal) -> String {
        let money = self.money(amount);
        if amount > Decimal::ZERO { format!("+{money}") } else { money }
    }

    fn sentence(&self, account: &BatchAccount) -> String {
        let good = usize::try_from(account.good).unwrap_or_default();
        let costs = account.pieces.iter().filter(|piece| piece.cost > Money::ZERO).map(|piece| piece.cost);
        let (least, most) = (costs.clone().min(), costs.max());
        let each = match (least.map(|cost| self.money(cost.amount())), most.map(|cost| self.money(cost.amount()))) {
            (Some(least), Some(most)) if least == most => format!(" · {least} each"),
            (Some(least), Some(most)) => format!(" · {least} to {most} each"),
            _ => String::new(),
        };
        match &account.stage {
            Stage::SoFar { at_work } => {
                let at_work = usize::try_from(*at_work).unwrap_or_default();
                format!("So far: {} at work, {good} finished{each}", words::pieces(at_work))
            }
            Stage::Complete(_) => format!("Complete: {} put in, {good} finished{each}", words::pieces(put_in(account))),
        }
    }

    fn parts(&self, account: &BatchAccount) -> Vec<Line> {
        let mut lines = self.cost_parts(&account.spent);
        if !account.abnormal.is_zero() {
            let less = format!("{}{}", display::MINUS, self.money(account.abnormal.amount()));
            lines.push(Line::new("Losses far outside the usual, kept out of the good pieces", less));
        }
        for moved in &account.gave {
            let words = format!("{} went to {}", words::pieces(moved.pieces.len()), self.other(moved.batch));
            lines.push(Line::new(words, format!("{}{}", display::MINUS, self.money(moved.amount.amount()))));
        }
        if !account.unborne.is_zero() {
            lines.push(Line::new("Of it, no piece is left to bear", self.money(account.unborne.amount())));
        }
        lines
    }

    fn other(&self, id: crate::studio::BatchId) -> String {
        self.snapshot.batch(id).map_or_else(|| "another batch".to_owned(), |other| words::numbered(&other.batch))
    }

    fn cost_parts(&self, parts: &CostParts) -> Vec<Line> {
        let named = [
            ("Materials", parts.materials),
            ("Bench time", parts.labour),
            ("Overhead", parts.overhead),
            ("Kiln energy", parts.kiln_energy),
            ("Kiln wear", parts.kiln_wear),
            ("Came with pieces of other batches", parts.came),
        ];
        let mut lines: Vec<Line> = named
            .into_iter()
            .filter(|(_, amount)| !amount.is_zero())
            .map(|(name, amount)| Line::new(name, self.money(amount.amount())))
            .collect();
        if !parts.scrap.is_zero() {
            let less = format!("{}{}", display::MINUS, self.money(parts.scrap.amount()));
            lines.push(Line::new("What lost pieces gave back", less));
        }
        lines
    }

    fn step(&self, place: usize, step: &StepAccount) -> Pair {
        let name = self.record.batch.plan.steps.get(place).map(|step| step.name.clone()).unwrap_or_default();
        let mut of = pair(name, step.cost, |amount| self.money(amount));
        let minutes = |value| words::minutes(value, self.preferences);
        for material in &step.materials {
            let unit = self.unit(&material.material);
            let named = story::name(self.record, &material.material);
            of.lines.push(pair(named.clone(), material.quantity, |quantity| {
                display::quantity(quantity, unit, self.preferences)
            }));
            of.lines.push(pair(format!("{named}, its cost"), material.cost, |amount| self.money(amount)));
        }
        if !is_none(step.minutes) {
            of.lines.push(pair("Hands-on time", step.minutes, minutes));
        }
        for (name, figure) in [("Loads", step.loads), ("Energy, kWh", step.kwh), ("Hot hours", step.hot_hours)] {
            if !is_none(figure) {
                of.lines.push(pair(name, figure, |value| self.number(value)));
            }
        }
        of.lines.push(pair("Pieces that came to it", step.pieces_in, |value| self.number(value)));
        of.lines.push(pair("Pieces that left it good", step.good, |value| self.number(value)));
        of
    }

    fn unit(&self, id: &MaterialId) -> Unit {
        let found = self.record.batch.plan.materials.iter().find(|material| material.id == *id);
        found.map_or(Unit::Each, |material| material.unit)
    }

    fn difference(&self, variances: &Variances) -> String {
        let planned = self.money(variances.planned);
        let signed = self.signed(variances.difference);
        match variances.difference {
            none if none.is_zero() => format!("The good pieces cost what was planned, {planned}"),
            more if more > Decimal::ZERO => format!("{signed} more than the {planned} planned for the good pieces"),
            _ => format!("{signed}: less than the {planned} planned for the good pieces"),
        }
    }

    fn variances(&self, variances: &Variances) -> Vec<Variance> {
        let lines = |amount: fn(&VarianceLine) -> Decimal, wanted: fn(&VarianceOf) -> bool| {
            let own = variances.lines.iter().filter(|line| wanted(&line.of) && !amount(line).is_zero());
            own.map(|line| Line::new(self.variance_of(&line.of), self.signed(amount(line)))).collect()
        };
        let quantity: fn(&VarianceLine) -> Decimal = |line| line.quantity;
        vec![
            Variance {
                name: "Price",
                meaning: "prices, wage and rates were not as planned",
                amount: self.signed(variances.price),
                lines: lines(|line| line.price, |_| true),
            },
            Variance {
                name: "Usage",
                meaning: "more or less material and heat was used",
                amount: self.signed(variances.usage),
                lines: lines(quantity, |of| !is_time(of)),
            },
            Variance {
                name: "Time",
                meaning: "more or fewer hours were worked",
                amount: self.signed(variances.time),
                lines: lines(quantity, is_time),
            },
            Variance {
                name: "Yield",
                meaning: "more or fewer pieces came out good",
                amount: self.signed(variances.yield_loss),
                lines: Vec::new(),
            },
        ]
    }

    fn variance_of(&self, of: &VarianceOf) -> String {
        match of {
            VarianceOf::Step(step, part) => {
                format!("{}: {}", words::place(&self.record.batch.plan, *step), self.part(part))
            }
            VarianceOf::Came => "came with pieces of other batches".to_owned(),
            VarianceOf::Gave => "went with pieces to other batches".to_owned(),
        }
    }

    fn part(&self, part: &CostPart) -> String {
        match part {
            CostPart::Material(id) => story::name(self.record, id),
            CostPart::Labour => "bench time".to_owned(),
            CostPart::Overhead => "overhead".to_owned(),
            CostPart::KilnEnergy => "kiln energy".to_owned(),
            CostPart::KilnWear => "kiln wear".to_owned(),
            CostPart::Came => "came from another batch".to_owned(),
        }
    }

    fn piece(&self, of: &PieceAccount) -> PieceLine {
        let found = self.record.pieces.iter().find(|piece| piece.id == of.piece);
        let mut lines = self.cost_parts(&of.shared);
        for own in &of.own_lines {
            let at = own.step.map(|step| format!(" at {}", words::place(&self.record.batch.plan, step)));
            let words = format!("its own: {}{}", self.part(&own.part), at.unwrap_or_default());
            lines.push(Line::new(words, self.money(own.amount.amount())));
        }
        PieceLine {
            id: of.piece,
            name: found.map_or_else(|| format!("piece {}", of.piece.0), words::piece),
            cost: self.money(of.cost.amount()),
            finished: found.is_some_and(|piece| piece.number.is_some()),
            lines,
        }
    }

    fn losses(&self, account: &BatchAccount) -> Vec<String> {
        let plan = &self.record.batch.plan;
        let at_steps = account
            .steps
            .iter()
            .enumerate()
            .flat_map(|(place, step)| step.lost.iter().map(move |lost| loss(*lost, &words::place(plan, place))));
        at_steps.chain(account.lost_when_done.iter().map(|lost| loss(*lost, "the end of the route"))).collect()
    }
}

/// A figure as planned and as it was, each worded the same way.
fn pair(name: impl Into<String>, of: PlannedActual, word: impl Fn(Decimal) -> String) -> Pair {
    Pair { name: name.into(), planned: word(of.planned), actual: word(of.actual), lines: Vec::new() }
}

fn put_in(account: &BatchAccount) -> usize {
    usize::try_from(account.put_in).unwrap_or_default()
}

fn loss(lost: LossCount, at: &str) -> String {
    let kind = match lost.kind {
        LossKind::Normal => "usual, borne by the good pieces",
        LossKind::Abnormal => "far outside the usual, kept out of their cost",
    };
    format!("{} {} at {at}: {kind}", lost.pieces, lost.cause.words())
}

const fn is_time(of: &VarianceOf) -> bool {
    matches!(of, VarianceOf::Step(_, CostPart::Labour | CostPart::Overhead))
}

const fn is_none(pair: PlannedActual) -> bool {
    pair.planned.is_zero() && pair.actual.is_zero()
}
